"""Patterns of the rules about the whole grid: rows, columns, boxes, diagonals, regions, chess moves, neighbours."""

from __future__ import annotations

import re
from itertools import pairwise

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, Concepts, Fields, Pattern, hint, named, values
from recognise.rules.sheet import Statement

_EVERY_DIGIT = {"ONCE", "ALLDIGITS", "NOREPEAT", "RANGE", "LETTERS", "DIFFER"}
_UNITS = {"ROW": "rows", "COLUMN": "columns", "BOX": "boxes"}
_OUTLINE = {"SIZE", "BOUNDED", "STYLE", "IRREGULAR", "SQUARE"}
_AROUND = (
    NEUTRAL
    | _OUTLINE
    | _EVERY_DIGIT
    | {"LETTERWORD", "LETTERS", "INSTEAD", "FOUR", "ONLY", "NUM", "EXACTLY", "EQUAL", "LINE", "TOWER", "HEIGHT"}
)

_OUTLINED = {"BOX", "REGION", "SQUARE", "SIZE", "CELL", "SHADED", "COLOUR", "DIAGONAL", "MAINDIAG"}
_ALSO = {"REGION", "SHADED", "COLOUR", "DIAGONAL", "MAINDIAG", "BOTHWAYS", "CORNER", "WAY"}


def _without_repeats(concepts: Concepts) -> bool:
    """Whether a clause says that nothing is repeated, or all is different."""
    repeats_denied = ("NEG", "REPEAT") in pairwise(concepts)
    return repeats_denied or not {"NOREPEAT", "DIFFER"}.isdisjoint(named(c) for c in concepts)


def units(concepts: Concepts) -> list[Statement] | None:
    """Rows, columns, boxes (and diagonals or tinted regions named with them) that hold every digit once."""
    names = {named(c) for c in concepts}
    if (concepts[-2:-1] == ("OR",) and named(concepts[-1]) == "NUM") or _colours_a_line(names):
        return None  # `the digits 1 to 9 or 2`: an alternative that no kind has
    may_differ = _MAY_DIFFER.search(" ".join(concepts))
    if "MAY" in names and (may_differ or not names & {"ONCE", "NOREPEAT", "DIFFER", "ONLY"}):
        return None  # `the grey cells may hold all the digits`: what may be need not be
    if _adds_a_region(names):
        partial = _without_repeats(concepts)
        return [Statement("extra-region", {"partial": True} if partial else {}, hint(concepts, "tint"))]
    if not _speaks_of_units(names) and not _as_many_cells_as_digits(concepts, names):
        return None
    if names & {"BOUNDED", "IRREGULAR"} and not names & _OUTLINED:
        return None  # what is outlined is a unit of its own, and it was not understood which
    if "LINE" in names and "COLUMN" in names:
        names.add("ROW")  # `no line, column or box`: what is no column is a row
    found = [Statement(kind) for unit, kind in _UNITS.items() if unit in names]
    tinted = _tints_a_region(concepts)
    if {"DIAGONAL", "MAINDIAG"} & names and "ROW" not in names:
        names.discard("REGION")  # `the diagonal is a region of nine different digits`
    if tinted:
        # `shaded boxes` are no boxes of the grid, unless they are named beside its rows.
        found = [s for s in found if s.kind != "boxes" or "ROW" in names]
        partial = _without_repeats(concepts) and not names & {"ALLDIGITS", "RANGE", "LETTERS", "ONCE", "ROW"}
        found.append(Statement("extra-region", {"partial": True} if partial else {}, hint(concepts, "tint")))
    elif "REGION" in names:
        found.append(Statement("boxes", {"irregular": True} if "IRREGULAR" in names else {}))
    elif "SQUARE" in names and names & {"SIZE", "BOUNDED"} and "BOX" not in names:
        found.append(Statement("boxes"))
    if {"DIAGONAL", "MAINDIAG"} & names:
        found.append(Statement("diagonal", direction_of(concepts)))
    return _single(found) or None


_MAY_DIFFER = re.compile(r"(?<!\S)MAY (?:HOLD |ALL )*DIFFER(?!\S)")


def _colours_a_line(names: set[str]) -> bool:
    """`... 1 to 9 once. Blue lines pass through several boxes`: marks, and no unit."""
    return {"LINE", "COLOUR"} <= names and not names & {"DIAGONAL", "MAINDIAG"}


def _adds_a_region(names: set[str]) -> bool:
    """`Additional regions: no digit twice`, with or without a word of how they look; what is tinted is one by name."""
    looks = names & {"SHADED", "COLOUR"}
    return (
        {"ADDITIONALLY", "REGION"} <= names
        and bool(names & (_EVERY_DIGIT - {"LETTERS"}) or (looks and names & {"COUNT", "MEAN", "HOLD"}))
        and not names - _AROUND - {"REGION", "SHADED", "COLOUR", "CELL", "MARK", "COUNT"}
    )


_TINTED_DIAGONAL = re.compile(r"(?<!\S)(?:(?:SHADED|COLOUR|STYLE) )+(?=(?:NUM |TWO )?(?:DIAGONAL|MAINDIAG)(?!\S))")
"""`The cells on the gold diagonal`: the colour is the diagonal's."""


_TINTED_REGION = re.compile(r"(?<!\S)(?:SHADED|COLOUR) (?:NUM )?REGION(?!\S)")
"""`Rows, columns, grey regions and diagonals`: the colour is the region's, whatever else is named beside it."""


def _tints_a_region(concepts: Concepts) -> bool:
    """Whether a tint or a colour belongs to cells or regions, and not to a diagonal or a line."""
    elsewhere = _TINTED_DIAGONAL.sub(" ", " ".join(map(named, concepts))).split()
    if not {"SHADED", "COLOUR"} & set(elsewhere):
        return False
    order = [
        named(c) for c in concepts if named(c) not in ("BOUNDED", "STYLE", "SIZE", "FOUR", "NUM", "SHADED", "COLOUR")
    ]
    if "ONE CELL" in " ".join(order):
        return False
    if _TINTED_REGION.search(" ".join(map(named, concepts))):
        return True
    return not {"DIAGONAL", "MAINDIAG"} & set(order) or bool({"REGION", "CELL"} & set(order) and "ROW" not in order)


def _as_many_cells_as_digits(concepts: Concepts, names: set[str]) -> bool:
    """`The nine grey cells contain the digits 1 to 9`: each of them once, then."""
    ranges = values(concepts, "RANGE")
    if len(ranges) != 1 or not names & {"SHADED", "COLOUR"} or "CELL" not in names:
        return False
    low, _, high = ranges[0].partition("-")
    return values(concepts, "NUM") == [str(int(high) - int(low) + 1)] and not names - _AROUND - _ALSO - {"REGION"}


def _speaks_of_units(names: set[str]) -> bool:
    """Whether every concept is accounted for, and it is clear which cells hold every digit once."""
    if "SOME" in names and "CELL" in names:
        return False
    if not names & _EVERY_DIGIT or names - _AROUND - set(_UNITS) - _ALSO or {"DIFFER", "LINE"} <= names:
        return False
    if {"SHADED", "COLOUR"} & names:
        if not names & (_EVERY_DIGIT - {"ONCE"}):
            return False
        areas = bool(names & {"REGION", "SQUARE"} or (names & {"DIAGONAL", "MAINDIAG"} and "CELL" not in names))
        return areas or bool(
            {"CELL", "BOX"} & names
            and (names & (_EVERY_DIGIT - {"RANGE", "LETTERS"}) or {"BOX", "ADDITIONALLY"} <= names)
        )
    if "REGION" in names and "BOX" not in names:
        return bool(names & (_OUTLINE - {"SQUARE"}) or {"ROW", "COLUMN"} & names)
    return bool(names & (set(_UNITS) | {"REGION", "DIAGONAL", "MAINDIAG"}) or {"SQUARE", "SIZE"} <= names)


def _single(found: list[Statement]) -> list[Statement]:
    kinds: dict[str, Statement] = {}
    for statement in found:
        kinds.setdefault(statement.kind, statement)
    return list(kinds.values())


def direction_of(concepts: Concepts) -> Fields:
    """Which of the long diagonals is named; nothing where both or none are."""
    ways = set(values(concepts, "WAY")) or {
        _WAY_OF[corner] for corner in values(concepts, "CORNER") if corner in _WAY_OF
    }
    return {"direction": ways.pop()} if len(ways) == 1 else {}


_WAY_OF = {"tl": "down", "br": "down", "bl": "up", "tr": "up"}
"""Which long diagonal a corner lies on."""


def plainly(concepts: Concepts) -> list[Statement] | None:
    """Rows, columns and boxes named together as usual: `rows, columns and boxes behave as in any sudoku`."""
    names = {named(c) for c in concepts}
    if not {"ROW", "COLUMN"} <= names or names - _AROUND - set(_UNITS) - {"STANDARD", "SUDOKU", "REST", "RULE"}:
        return None
    if not names & {"STANDARD", "SUDOKU", "REST"} or {"REGION", "ONLY", "INSTEAD"} & names:
        return None
    return [Statement(kind) for unit, kind in _UNITS.items() if unit in names]


def standard(concepts: Concepts) -> list[Statement] | None:
    """`Normal rules apply`: rows, columns and boxes, or only rows and columns for a Latin square."""
    names = {named(c) for c in concepts}
    latin = "LATIN" in names
    if not (
        latin
        or {"SUDOKU", "RULE"} <= names
        or ("STANDARD" in names and names & {"RULE", "SUDOKU", "APPLY", "HOLD"})
        or ("SUDOKU" in names and names & {"REST", "ADDITIONALLY", "RANGE"})
        or names in ({"STANDARD"}, {"STANDARD", "REST"}, {"SUDOKU"})
    ):
        return None
    if (
        names
        - NEUTRAL
        - _OUTLINE
        - {"STANDARD", "SUDOKU", "LATIN", "RANGE", "LETTERS", "LETTERWORD", "SIZE", "NEXTONE", "LIMIT"}
        - ({"BOX"} if {"STANDARD", "RULE", "SIZE"} <= names else set())  # `usual rules, 2x3 boxes`
    ):
        return None
    kinds = ["rows", "columns"] if latin else ["rows", "columns", "boxes"]
    return [Statement(k, {"irregular": True} if k == "boxes" and "IRREGULAR" in names else {}) for k in kinds]


_CALLED_OFF = bag(
    "NEG NEEDNOT EXCEPT INSTEAD OTHER SOME NOTALL EXCLUDED FORBIDDEN UNMARKED MISSING ONLY THAN ASLARGE EITHERWAY"
)


def said_to_be_usual(concepts: Concepts) -> list[Statement] | None:
    """`Apart from that it is a bog standard sudoku`: the usual rules in words of which some are unknown. `concepts`
    are as printed, with UNKNOWN for each such word; nothing else that tells may stand beside them."""
    names = {named(c) for c in concepts}
    unknown = sum(c == "UNKNOWN" for c in concepts)
    if names & _CALLED_OFF or names - NEUTRAL - _BESIDE_USUAL or unknown > _UNKNOWN_BESIDE_USUAL:
        return None
    usual = (
        {"STANDARD", "SUDOKU"} <= names
        or {"SUDOKU", "RULE"} <= names
        or ({"STANDARD", "RULE"} <= names and unknown < _UNKNOWN_BESIDE_USUAL)
        or _GRID_IS_SUDOKU.search(" ".join(concepts)) is not None
    )
    return [Statement("rows"), Statement("columns"), Statement("boxes")] if usual else None


_BESIDE_USUAL = bag("STANDARD SUDOKU RULE RANGE LETTERS UNKNOWN EDGE FLAVOUR GRID HOLD SIZE")
_UNKNOWN_BESIDE_USUAL = 4
"""Words that nobody foresaw beside `normal sudoku`; with more the sentence is about something else."""
_GRID_IS_SUDOKU = re.compile(
    r"(?:REST |^)(?:IT |GRID )*SUDOKU (?:ALL ONE )?$|GRID SUDOKU$|HOLD (?:GRID |IT )?(?:UNKNOWN )?ALL SUDOKU$"
)


def no_boxes(concepts: Concepts) -> list[Statement] | None:
    """`There are no boxes`."""
    names = {named(c) for c in concepts}
    none = {"NEG", "UNMARKED"} & names
    if (
        "BOX" in names
        and none
        and not names - NEUTRAL - {"BOX", "NEG", "UNMARKED", "SUDOKU", "SIZE", "IRREGULAR", "REST"}
    ):
        return [Statement("boxes", negated=True)]
    if {"REGION"} | none == names - NEUTRAL and none:
        return [Statement("boxes", negated=True)]
    return None


def both_moves(concepts: Concepts) -> list[Statement] | None:
    """`No digit repeats at a knight's or a king's move`: two rules in one."""
    names = {named(c) for c in concepts}
    if not {"KNIGHT", "KING"} <= names or names - NEUTRAL - set(_APART.split()) - {"KNIGHT", "KING", "CHESS"}:
        return None
    first, last = sorted((list(concepts).index("KNIGHT"), list(concepts).index("KING")))
    if "NEG" in concepts[first:last]:  # the one move, but not the other
        return None
    return None if _distinct(concepts) is None else [Statement("knight-apart"), Statement("king-apart")]


_IDLE = NEUTRAL - {"POSSIBLE", "ALLOWED", "GIVEN", "PAIR", "MAY", "ONE", "RULE"}
"""Concepts that a clause may consist of and still say nothing."""


def digits_only(concepts: Concepts) -> list[Statement] | None:
    """A clause that names the digits, or talks of filling the grid, and states nothing else."""
    names = {named(c) for c in concepts}
    if {"SOME", "CELL"} <= names:
        return None
    fills = names & {"RANGE", "LETTERS", "LETTERWORD"} or (names & {"HOLD", "DIGIT"} and names <= _IDLE)
    return [] if fills and not names - NEUTRAL - {"RANGE", "LETTERS", "LETTERWORD", "EXACTLY", "ONLY", "SIZE"} else None


_HEADINGS = bag("THERMO SANDWICHNAME XSUMNAME CAGE ARROW DIAGONAL TOWER LITTLEKILLER PALINDROME WRAP")


def heading(concepts: Concepts) -> list[Statement] | None:
    """`Sudoku with thermometers`: a puzzle's kind by name; what its marks mean is said elsewhere."""
    names = {named(c) for c in concepts}
    return (
        []
        if "SUDOKU" in names and names & _HEADINGS and not names - _HEADINGS - {"SUDOKU", "AND", "ALL", "HOLD"}
        else None
    )


def talk(concepts: Concepts) -> list[Statement] | None:
    """`There is no arithmetic involved`, `the solution is unique`: said beside rules, and none."""
    names = {named(c) for c in concepts}
    chat = {"FLAVOUR", "UNIQUE", "SOLUTION"}
    return [] if names & chat and not names - chat - NEUTRAL - {"NEG", "NEEDNOT"} else None


_APART = "UNTIL SAMEAS SELF JOIN MOVE CHESS APART EQUAL NOREPEAT DIFFER BETWEEN NEG ONE NUM TWO ADJACENT PREVIOUS"


_NOT_APART = re.compile(
    r"(?<!\S)NEG (?:MAY |HOLD |ALL |ADJACENT |KNIGHT |KING )*(?:DIFFER|NOREPEAT|NEG)(?!\S)|"
    r"(?<!\S)CELL NEG (?:KNIGHT|KING|ADJACENT) (?:\S+ )*?(?:NOREPEAT|DIFFER)(?!\S)"
)
"""`They do not differ`, `cells that are not a knight's move apart do not repeat a digit`."""


def _distinct(concepts: Concepts) -> Fields | None:
    if _NOT_APART.search(" ".join(concepts)):
        return None
    told_apart = {"NOREPEAT", "DIFFER"} & set(concepts) or (
        "NEG" in concepts and {"EQUAL", "SELF", "SAMEAS"} & set(concepts)
    )
    return {} if told_apart else None


def _next_differ(concepts: Concepts) -> Fields | None:
    """Neighbours that are not consecutive, or differ by two or more."""
    if "GAP=2" in concepts and "NEG" in concepts:
        return None  # `neighbours do not differ by at least 2`
    if "NONCONSECUTIVE" in concepts or "GAP=2" in concepts:
        return {}
    if "NEG" not in concepts:
        return None
    return {} if "CONSECUTIVE" in concepts or "DIFF=1" in concepts else None


def _dotted(concepts: Concepts) -> Fields | None:
    return {"partial": True} if values(concepts, "STYLE") == ["dotted"] else None


WHOLE = (
    Pattern("knight-apart", "KNIGHT NOREPEAT|DIFFER|NEG", _APART + " KNIGHT", settle=_distinct),
    Pattern("king-apart", "KING NOREPEAT|DIFFER|NEG", _APART + " KING EVENDIAGONALLY", settle=_distinct),
    Pattern("king-apart", "ADJACENT EVENDIAGONALLY NOREPEAT|DIFFER", _APART + " CORNER NEG", settle=_distinct),
    Pattern(
        "neighbours-not-consecutive",
        "ADJACENT|SHARESIDE CONSECUTIVE|NONCONSECUTIVE|DIFF|GAP",
        "ADJACENT SHARESIDE NEG CELL EXACTLY BETWEEN ROW COLUMN",
        settle=_next_differ,
    ),
    # Cells with a pattern of dots in them.
    Pattern("extra-region", "STYLE CELL|SQUARE NOREPEAT|DIFFER|ALLDIGITS", "EQUAL", settle=_dotted),
    # Areas with a border of dots that are more regions, and no cages.
    Pattern("extra-region", "CAGE ADDITIONALLY REGION NOREPEAT|DIFFER", "STYLE ONCE", {"partial": True}),
    Pattern("extra-region", "CAGE ADDITIONALLY REGION ALLDIGITS|RANGE|ONCE", "STYLE ONCE NOREPEAT"),
    Pattern("boxes", "REGION|BOX QUOTIENT", "GRID IRREGULAR STYLE LINE BOUNDED SIZE EDGE ROW COLUMN", gloss=True),
    Pattern("knight-apart", "ANTIKNIGHT", "RULE"),
    Pattern("king-apart", "ANTIKING", "RULE"),
    Pattern("knight-apart", "KNIGHT", "KNIGHT RULE", gloss=True),
    Pattern("king-apart", "KING", "KING RULE", gloss=True),
    Pattern("neighbours-not-consecutive", "NONCONSECUTIVE", "", gloss=True),
    Pattern("diagonal", "DIAGONAL|MAINDIAG GIVEN", "WAY CORNER", gloss=True),
)
