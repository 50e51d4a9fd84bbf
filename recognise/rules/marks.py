"""Patterns of the marks in and between cells: cages, dots, bars, letters, signs, corner digits, squares, tints."""

from __future__ import annotations

import re

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, Concepts, Fields, Pattern, named, values
from recognise.rules.sheet import MarkHint, Statement

# ------------------------------------------------------------------------------------------------ cages

_CAGE = (
    "CAGE CORNER SMALLNUM CLUE TOTALWORD SUM STYLE OUTSIDE BOUNDED EDGE EQUAL GIVEN REGION "
    "SHADED LINE COLOUR FIRST SOME EXACTLY"
)
_SIGNED = " OPSIGN SIGN PRODUCT QUOTIENT DIFFERENCE SUM ANYORDER MARK BETWEEN ADJACENT"


def _summed(concepts: Concepts) -> Fields | None:
    if (
        {"ADDITIONALLY", "REGION"} <= set(concepts)
        or {"EVEN", "ODD"} & set(concepts)
        or "SUM ONE" in " ".join(c for c in concepts if c != "HOLD")
    ):
        # `one digit is the sum of the others`.
        return None
    repeats = {"NOREPEAT": False, "DIFFER": False, "ONCE": False, "MAYREPEAT": True}
    found = {value for name, value in repeats.items() if name in concepts}
    if len(found) > 1:
        return None
    return {"operation": "sum", **({"repeats": found.pop()} if found else {})}


def _several(concepts: Concepts) -> Fields | None:
    """Operations named in a list: the sign beside the number says which."""
    named_here = {"SUM", "PRODUCT", "DIFFERENCE", "QUOTIENT"} & set(concepts)
    if len(named_here) == 1:
        return None  # `the operation of each cage is subtraction`: the sign does not tell
    signed = {"MARK", "OPSIGN", "SIGN"} & set(concepts)
    return {} if len(named_here) > 1 or signed else None


def _by_sign(concepts: Concepts) -> Fields | None:
    """The operation that a sign stands for, `signed`; several are told apart in print."""
    signs, told = set(values(concepts, "SIGNED")), {c.lower() for c in concepts} & _OPERATIONS
    if not told or not told <= signs:
        return None
    return {"operation": signs.pop(), "signed": True} if len(signs) == 1 else {"operation": "printed"}


_OPERATIONS = bag("sum product difference quotient")


def _two_digits(concepts: Concepts) -> Fields | None:
    return {} if not {"GE", "DIFF", "GAP"} & {named(c) for c in concepts} else None


def _divided(concepts: Concepts) -> Fields | None:
    """Digits are divided, and not the grid into cages."""
    return None if "GRID" in concepts else {}


def _untold(concepts: Concepts) -> Fields | None:
    """`The total of some cages is not told`."""
    return {"untold": True} if "CAGE" in concepts or "SOME" in concepts else {}


CAGES = (
    Pattern("cage", "CAGE SUM|TOTALWORD", _CAGE + " NOREPEAT DIFFER ONCE MAYREPEAT LIMITED", settle=_summed),
    Pattern(
        "cage",
        "CAGE NOREPEAT|DIFFER",
        _CAGE.replace(" SUM", "").replace(" EQUAL", "") + " ONCE DIFFER",
        {"repeats": False},
        settle=lambda c: None if {"ADDITIONALLY", "REGION"} <= set(c) else {},
    ),
    Pattern("cage", "CAGE MAYREPEAT", "CAGE STYLE", {"repeats": True}),
    Pattern("cage", "CAGE PRODUCT", _CAGE.replace(" SUM", ""), {"operation": "product"}),
    Pattern(
        "cage",
        "CAGE DIFFERENCE",
        _CAGE.replace(" SUM", "") + " BETWEEN GREATER LESS NUM",
        {"operation": "difference"},
        settle=_two_digits,
    ),
    Pattern(
        "cage",
        "CAGE QUOTIENT|RATIO",
        _CAGE.replace(" SUM", "") + " SIGN OPSIGN MARK GREATER LESS BETWEEN",
        {"operation": "quotient"},
        settle=_divided,
    ),
    Pattern("cage", "CAGE OPSIGN", _CAGE + _SIGNED, {"operation": "printed"}, settle=_several),
    Pattern(
        "cage",
        "CAGE|OPSIGN SUM|PRODUCT|DIFFERENCE|QUOTIENT MARK|OPSIGN|SIGN|OR",
        _CAGE + _SIGNED,
        {"operation": "printed"},
        settle=_several,
        cost=0.9,
    ),
    Pattern(
        "cage",
        "CAGE SIGNED SUM|PRODUCT|DIFFERENCE|QUOTIENT",
        _CAGE + _SIGNED + " SIGNED GREATER LESS LOWEST HIGHEST BY",
        settle=_by_sign,
    ),
    Pattern("cage", "OPSIGN APPLY|GIVEN", _CAGE + _SIGNED, {"operation": "printed"}),
    # No row, column or box may repeat a digit: what may is a cage by another name.
    Pattern("cage", "MAYREPEAT REGION|BOX", "", {"repeats": True}, gloss=True),
    Pattern("cage", "CAGE NEG|UNMARKED SUM|CLUE|SMALLNUM", _CAGE + " LIMIT", settle=_untold, gloss=True),
    Pattern("cage", "SUM|CLUE UNMARKED|NEG", "CAGE GIVEN", settle=_untold, gloss=True),
    Pattern("cage", "NOTALL CAGE SUM|TOTALWORD|CLUE|SMALLNUM", "CORNER", {"untold": True}, gloss=True),
    Pattern("cage", "NOTALL SUM|TOTALWORD|CLUE GIVEN", "CAGE SMALLNUM", {"untold": True}, gloss=True),
    Pattern("cage", "CAGE CORNER|SMALLNUM CLUE|TOTALWORD|SMALLNUM", "CAGE CORNER SMALLNUM CLUE TOTALWORD", gloss=True),
)


# ------------------------------------------------------------------------------------------------ pairs of cells

_MARKS = "DOT|CIRCLE|BAR|DIAMOND|SQUARE|MARK|LETTER"
_BESIDE = (
    "DOT CIRCLE BAR DIAMOND SQUARE MARK LETTER EDGE SHARESIDE JOIN BETWEEN ADJACENT COLOUR "
    "STYLE SIDE END OUTSIDE APART SHADED"
)


_ROMAN = {"V": 5, "X": 10}


def by_one(concepts: Concepts) -> Fields | None:
    """Nothing more, unless a difference other than 1 is named."""
    other = re.search(r"OR (?:BY |DIFF=)?(?:NUM=)?\d", " ".join(concepts))
    return None if other or any(v != "1" for v in values(concepts, "DIFF")) else {}


def times_of(concepts: Concepts) -> Fields | None:
    """The one ratio that the clause names."""
    if re.search(r"ADJACENT ONE TIMES(?!=\d+ ONE)", " ".join(c for c in concepts if c not in ("HOLD", "DIGIT"))):
        return None
    factors = {int(v) for v in values(concepts, "TIMES")}
    return {"ratio": factors.pop()} if len(factors) == 1 else None


_HELD = re.compile(
    r"(?:DIGIT|SMALLNUM|CLUE) (?:GIVEN )?(?:HOLD|ALONG) (?:ALL |ONE |COLOUR=\w+ )*(?:DOT|CIRCLE|DIAMOND|SQUARE|BAR)\b"
    r"|(?:ALL |COLOUR=\w+ )*(?:DOT|CIRCLE|DIAMOND|SQUARE|BAR) (?:HOLD|GIVEN|MEAN) (?:GIVEN )?(?:DIGIT|SMALLNUM|"
    r"CLUE)\b"
    r"|(?:ALL |COLOUR=\w+ )*(?:DOT|CIRCLE|DIAMOND|SQUARE|BAR) BETWEEN (?:TWO |ADJACENT |ALL )*CELL GIVEN (?:RATIO|"
    r"QUOTIENT)\b"
)
"""A number in a mark, or a mark that shows a number."""


def printed_ratio(concepts: Concepts) -> Fields | None:
    """The number printed in a mark is the ratio, and no other is named."""
    names = {named(c) for c in concepts}
    if values(concepts, "TIMES") or "NUM" in names or not _HELD.match(" ".join(concepts)):
        return None
    times = {"RATIO"} & names or ("TIMES" in names and names & {"MANY", "COUNT"}) or "QUOTIENT" in names
    return {"ratio": "printed"} if times else None


def sum_of_two(concepts: Concepts) -> Fields | None:
    """The one sum that the clause names, or none where it is printed."""
    numbers = {int(v) for v in values(concepts, "NUM")}
    if len(set(values(concepts, "LETTER"))) > 1 or len(numbers) > 1:
        return None
    if numbers:
        return {"value": numbers.pop()}
    return None if values(concepts, "LETTER") or "DOT" in concepts else {}


def _sum_by_look(concepts: Concepts) -> Fields | None:
    """A sum that goes with a mark of some look; a number that stands in the mark is no such sum."""
    text = " ".join(concepts)
    told = re.search(r"(?:SUM|TOTALWORD) (?:TOWARDS |EXACTLY |BY |HOLD |EQUAL |MEAN )*NUM=(\d+)", text)
    return None if told is None or int(told[1]) < LEAST_SUM or _HELD.match(text) else sum_of_two(concepts)


LEAST_SUM = 3
"""What two different digits add up to at the least, where digits start with 1."""


def _roman(concepts: Concepts) -> Fields | None:
    """`X = 10`: the letter's own number, and no other."""
    letters, numbers = set(values(concepts, "LETTER")), {int(v) for v in values(concepts, "NUM")}
    if len(letters) != 1 or len(numbers) != 1 or "NEG" in concepts:
        return None
    value = numbers.pop()
    return {"value": value} if _ROMAN.get(letters.pop()) == value else None


def _number_on_edge(concepts: Concepts) -> Fields | None:
    """A sum printed on the border of two cells: only where the clause says that two cells share it."""
    text, names = " ".join(concepts), set(concepts)
    inside = _IN_DOT.search(text) or _HELD.match(text) or _HOLDS_SUM.match(text)
    if not inside and (names & {"DOT", "SQUARE", "DIAMOND"} or not names & {"EDGE", "JOIN", "BETWEEN", "SMALLNUM"}):
        return None
    if "MARK" in names and not names & {"DIGIT", "SMALLNUM", "CLUE"}:
        return None
    return {} if names & {"TWO", "ADJACENT", "PAIR"} or ("JOIN" in names and names & {"EDGE", "SMALLNUM"}) else None


_HOLDS_SUM = re.compile(r"(?:ALL |COLOUR=\w+ )*(?:DOT|CIRCLE) (?:HOLD|GIVEN) (?:ALL )?SUM ")
_IN_DOT = re.compile(r"(?:DIGIT|SMALLNUM|CLUE) HOLD (?:COLOUR=\w+ )?DOT")


PAIRS = (
    Pattern("consecutive-pair", _MARKS + " CONSECUTIVE", _BESIDE + " NUM EXACTLY", settle=by_one),
    Pattern("consecutive-pair", _MARKS + " DIFF", _BESIDE + " NUM GREATER THAN EXACTLY", settle=by_one),
    Pattern("ratio-pair", _MARKS + " TIMES", _BESIDE + " EXACTLY GREATER LESS RATIO", settle=times_of),
    Pattern(
        "ratio-pair",
        "DOT|CIRCLE|DIAMOND|SQUARE|BAR RATIO|TIMES|QUOTIENT",
        _BESIDE + " RATIO TIMES QUOTIENT MANY COUNT GREATER LESS SMALLNUM CLUE EXACTLY BY",
        settle=printed_ratio,
    ),
    Pattern("sum-pair", "LETTER|MARK SUM|TOTALWORD NUM", _BESIDE + " EXACTLY EQUAL", settle=sum_of_two),
    Pattern(
        "sum-pair",
        "DIAMOND|BAR|SQUARE|DOT|SIGN SUM|TOTALWORD NUM BETWEEN|JOIN|EDGE",
        _BESIDE + " EXACTLY EQUAL",
        settle=_sum_by_look,
    ),
    Pattern("sum-pair", "LETTERWORD SUM|TOTALWORD TWO|ADJACENT|BETWEEN", "EDGE JOIN BETWEEN ADJACENT TWO", gloss=True),
    Pattern("sum-pair", "LETTER NUM", "BETWEEN JOIN MARK EQUAL TWO EDGE", settle=_roman),
    Pattern(
        "sum-pair",
        "SUM|TOTALWORD EDGE|JOIN|BETWEEN|SMALLNUM|OUTSIDE|ADJACENT|DOT",
        "CIRCLE DOT SQUARE DIAMOND MARK EDGE SHARESIDE JOIN BETWEEN ADJACENT CLUE SMALLNUM SIDE COLOUR OUTSIDE BOTH",
        settle=_number_on_edge,
    ),
    Pattern(
        "greater",
        "SIGN|HEAD",
        (
            "SIGN HEAD POINT GREATER LESS LOWEST HIGHEST BETWEEN ADJACENT SIDE COLOUR MARK END JOIN "
            "TALLER SHORTER EDGE OUTSIDE MARK APPLY DIGIT OBEY TIP STANDARD"
        ),
    ),
    Pattern(
        "greater", "MARK POINT|BETWEEN|TIP|EDGE GREATER|LESS|LOWEST|HIGHEST", "ADJACENT SIDE EDGE END OUTSIDE TIP JOIN"
    ),
)


def letter_sums(concepts: Concepts) -> list[Statement] | None:
    """`X and V mean that two cells add up to 10 and 5`: letters and sums in the same order."""
    letters, numbers = values(concepts, "LETTER"), [int(v) for v in values(concepts, "NUM")]
    names = {named(c) for c in concepts} - NEUTRAL - set(_BESIDE.split()) - {"SUM", "NUM", "EXACTLY"}
    if (
        names
        or not {"SUM", "TWO", "BETWEEN"} & set(concepts)
        or len(letters) < 2
        or numbers != [_ROMAN.get(x) for x in letters]
    ):
        return None
    return [
        Statement("sum-pair", {"value": n}, MarkHint("letter", letter=x)) for x, n in zip(letters, numbers, strict=True)
    ]


_WITH_NUMBER = re.compile(r"(?<!\S)(?:DOT|CIRCLE|DIAMOND|SQUARE) (?:HOLD )?NUM=(\d) (?:HOLD |ALONG )*IT(?!\S)")


def numbered_ratio(concepts: Concepts) -> list[Statement] | None:
    """`A disc with a 3 in it: one digit is three times the other`: a case of what the number in a disc means, and no
    rule of all discs."""
    number = _WITH_NUMBER.search(" ".join(concepts))
    names = (
        {named(c) for c in concepts}
        - NEUTRAL
        - {"COLOUR", "STYLE", "NUM", "TIMES", "DOT", "CIRCLE", "DIAMOND", "SQUARE"}
    )
    told = values(concepts, "TIMES")
    return [] if number and not names and told == [number[1]] == values(concepts, "NUM") else None


# ------------------------------------------------------------------------------------------------ corners and cells


_MAY_STAND = re.compile(r"(?<!\S)MAY (?:HOLD |GIVEN |ALL |ATLEASTONCE |IT )*(?:CELL|FOURCELLS|FOUR)(?!\S)")


def _listed(concepts: Concepts) -> Fields | None:
    if _MAY_STAND.search(" ".join(concepts)):
        return None
    number_words = {"SUM", "TOTALWORD", "PRODUCT", "GE", "DIFF"} & {named(c) for c in concepts}
    return None if number_words or any(v != "1" for v in values(concepts, "NUM") if v not in ("1", "4")) else {}


def one_parity(concepts: Concepts) -> Fields | None:
    """Nothing more, where one mark in a cell is named."""
    names = {named(c) for c in concepts}
    if not names & {"SQUARE", "CIRCLE", "SHADED", "DIAMOND", "COLOUR", "DOT"} or "SIZE" in names:
        return None
    return None if "EXACTLY" in concepts or len(set(values(concepts, "COLOUR"))) > 1 else {}


CELL_MARKS = (
    Pattern(
        "corner-digits",
        "FOURCELLS|FOUR|FOURMEET CIRCLE|DOT|SMALLNUM|CORNER|DIGIT|ALLDIGITS|MARK",
        (
            "OUTSIDE FOURCELLS FOUR FOURMEET CIRCLE DOT CORNER ATLEASTONCE ATLEAST NUM ADJACENT COLOUR "
            "EDGE SOME INTERSECT BETWEEN EQUAL INCLUDED POINT SMALLNUM AMONG ORDER ANYORDER MARK CLUE JOIN"
        ),
        settle=_listed,
        cost=0.9,
    ),
    Pattern(
        "corner-digits", "TWICE|MANY|REPEAT HOLD|GIVEN", "TWICE MANY FOURCELLS FOUR CIRCLE SMALLNUM REPEAT", gloss=True
    ),
    Pattern(
        "even",
        "EVEN SQUARE|CIRCLE|SHADED|REGION|DIAMOND|COLOUR|BOX|DOT",
        "SQUARE CIRCLE SHADED COLOUR MARK REGION DIAMOND EXACTLY STYLE ONLY",
        settle=one_parity,
    ),
    Pattern(
        "odd",
        "ODD SQUARE|CIRCLE|SHADED|REGION|DIAMOND|COLOUR|BOX|DOT",
        "SQUARE CIRCLE SHADED COLOUR MARK REGION DIAMOND EXACTLY STYLE ONLY",
        settle=one_parity,
    ),
)
