"""Patterns of the kinds that are drawn as a line through cells: tubes, arrows, plain lines."""

from __future__ import annotations

import re

from recognise.rules.pattern import Concepts, Fields, Pattern, named, values

_LOOK = "LINE COLOUR STYLE ALONG THIS"


def _upwards(concepts: Concepts) -> Fields | None:
    """Rising away from the bulb is a thermometer; rising towards it is not."""
    rises = "INCREASE" in concepts or "GREATER" in concepts
    if "SLOW" in concepts and rises:
        return None
    if ("TOBULB" in concepts or "FROMTIP" in concepts) and "DECREASE" not in concepts:
        return None
    if "GREATER" in concepts and {"NEXTONE", "ADJACENT"} & set(concepts[concepts.index("GREATER") :]):
        return None
    return {"strict": True}


def _downwards_to_bulb(concepts: Concepts) -> Fields | None:
    return {"strict": True} if "TOBULB" in concepts or "FROMTIP" in concepts else None


_TUBE = _LOOK + (
    " READ THERMO BULB TIP END PREVIOUS NEXTONE ADJACENT APART FORWARD NOTBYONE LOWEST BRANCH "
    "MOVE ANYORDER SHADED CIRCLE FIRST BOTHENDS NOREPEAT TOBULB FROMTIP SEQUENCE UNTIL HEIGHT "
    "FURTHER SHAFT THAN ONCE CIRCLE ONLY"
)

THERMOMETERS = (
    Pattern("thermometer", "THERMO INCREASE", _TUBE + " GREATER ORDER", settle=_upwards),
    Pattern("thermometer", "BULB INCREASE", _TUBE + " GREATER ORDER", settle=_upwards),
    Pattern("thermometer", "THERMO|BULB GREATER PREVIOUS", _TUBE, settle=_upwards),
    Pattern("thermometer", "THERMO BULB START|FROM NEXTONE|ADJACENT GREATER", _TUBE, settle=_upwards),
    Pattern("thermometer", "BULB FURTHER GREATER", _TUBE, {"strict": True}),
    Pattern(
        "thermometer", "THERMO|BULB LESS NEXTONE", _TUBE, settle=lambda c: None if "PREVIOUS" in c else {"strict": True}
    ),
    Pattern("thermometer", "THERMO|BULB|TOBULB DECREASE", _TUBE, settle=_downwards_to_bulb),
    Pattern(
        "thermometer",
        "THERMO|BULB NOTDECREASE",
        _TUBE + " SLOW EQUAL INCREASE GREATER MAYREPEAT SAMEAS MAY THAN",
        settle=lambda c: None if "TOBULB" in c else {"strict": False},
    ),
    Pattern("thermometer", "THERMO|BULB NOTLESS PREVIOUS", _TUBE + " SLOW", {"strict": False}),
    Pattern("thermometer", "THERMO INCREASE MAYREPEAT", _TUBE + " SLOW EQUAL", {"strict": False}),
    Pattern("thermometer", "THERMO|BULB MAYREPEAT", _TUBE + " SLOW EQUAL", {"strict": False}, gloss=True),
    Pattern("thermometer", "BRANCH THERMO|EACH|ALL", _TUBE + " SOME APPLY", gloss=True),
    Pattern("thermometer", "BULB LOWEST", _TUBE, gloss=True),
    Pattern("thermometer", "THERMO NOREPEAT", _TUBE, gloss=True),
)


def pill_of(concepts: Concepts) -> Fields:
    """`pill` where the circle is said to hold several cells."""
    return {"pill": True} if {"PILL", "TWODIGIT"} & set(concepts) else {}


_ARROW = (
    "ARROW SHAFT HEAD CIRCLE PILL TWODIGIT SUM TOTALWORD EQUAL FIRST SOME END START LEFTTORIGHT"
    " READ FORWARD SHADED MAYREPEAT COLOUR STYLE LINE CELL NUM BULB JOIN POINT APART EXACTLY SOLUTION"
)


def _arrow(concepts: Concepts) -> Fields | None:
    return None if {"NUM", "TIMES"} & {named(c) for c in concepts} else pill_of(concepts)


ARROWS = (
    Pattern("arrow", "ARROW|SHAFT SUM|TOTALWORD CIRCLE|PILL|BULB", _ARROW, settle=_arrow),
    Pattern("arrow", "PILL|TWODIGIT READ|TWODIGIT LEFTTORIGHT|TWODIGIT|FORWARD", _ARROW, {"pill": True}, gloss=True),
    Pattern("arrow", "ARROW|SHAFT MAYREPEAT", _ARROW, gloss=True),
)


def gap_of(concepts: Concepts) -> Fields | None:
    """The one gap that the clause names."""
    gaps = values(concepts, "GAP")
    return {"gap": int(gaps[0])} if len(set(gaps)) == 1 else None


_NO_RUN = re.compile(
    r"(?<!\S)NEG (?:HOLD |MAY |ANYORDER |ALL )*(?:NOGAP |RUN |CONSECUTIVE )*(?:SEQUENCE|CONSECUTIVE)(?!\S)"
)


def run_of(concepts: Concepts) -> Fields | None:
    """Nothing more, unless the clause speaks of neighbours on the line, or denies that it is a run: those are other
    rules."""
    if _NO_RUN.search(" ".join(concepts)):
        return None
    return None if {"ADJACENT", "NEXTONE"} & set(concepts) else {}


def _between(concepts: Concepts) -> Fields | None:
    at = [i for i, c in enumerate(concepts) if c == "BETWEEN"]
    return {} if (at and "CIRCLE" in concepts) or "END" in concepts else None


_MAY_EXCEED = re.compile(r"(?<!\S)MAY (?:HOLD |ALL |ONE |IT |DIGIT )*(?:GREATER|LESS|BETWEEN)(?!\S)")


def _both(concepts: Concepts) -> Fields | None:
    if _MAY_EXCEED.search(" ".join(concepts)):
        return None  # `may be higher than one and lower than the other`: what may be need not be
    return {} if "GREATER" in concepts and "LESS" in concepts else None


def _neither_bound(concepts: Concepts) -> Fields | None:
    """`Never as low as the smaller circle or as high as the larger`: one denial for both bounds."""
    text = " ".join(c for c in concepts if c not in ("ALL", "ONE", "IT", "DIGIT", "HOLD", "CIRCLE", "END"))
    denied = re.search(r"(?<!\S)NEG (?:MAY )?(?:ASSMALL LESS OR ASLARGE GREATER|ASLARGE GREATER OR ASSMALL LESS)", text)
    return None if denied is None else {}


def _boxsum(concepts: Concepts) -> Fields | None:
    return None if "NEG" in concepts else {}


def _at_line_end(concepts: Concepts) -> Fields | None:
    """`The number at the end of a line`: a place that may also be the end of a row."""
    at_end = re.match(
        r"(?:DIGIT|SMALLNUM) (?:GIVEN )?OUTSIDE (?:COLOUR=\w+ |STYLE=\w+ |ALL )*LINE ", " ".join(concepts)
    )
    return None if at_end is None else {}


PLAIN_LINES = (
    Pattern("palindrome", "PALINDROME", _LOOK + " THERMO SEQUENCE READ EQUAL BOTHWAYS BOTHENDS END FROM"),
    Pattern(
        "palindrome",
        "LINE|IT READ|EQUAL BOTHWAYS",
        _LOOK + " READ EQUAL END START FORWARD BACKWARD ORDER SEQUENCE",
    ),
    Pattern("palindrome", "THERMO SEQUENCE EQUAL BOTHWAYS", _LOOK + " READ END START FORWARD BACKWARD ORDER"),
    Pattern("palindrome", "LINE EQUAL|SAMEAS BACKWARD|BOTHWAYS", _LOOK + " READ EQUAL SAMEAS SEQUENCE ORDER"),
    Pattern("palindrome", "FIRST EQUAL LAST", _LOOK + " SECOND", gloss=True),
    Pattern("palindrome", "LINE READ EQUAL FORWARD BACKWARD", _LOOK + " SEQUENCE ORDER"),
    Pattern("palindrome", "LINE MIRROR", _LOOK + " EQUAL FIRST LAST SECOND IMAGE PALINDROME"),
    Pattern("palindrome", "PALINDROME|LINE MAYREPEAT", _LOOK + " PALINDROME", gloss=True),
    Pattern(
        "gap-line",
        "LINE ADJACENT|NEXTONE|APART|CONSECUTIVE|MOVE GAP",
        _LOOK + " DIFFER DIFFERENCE BETWEEN JOIN",
        settle=gap_of,
    ),
    Pattern(
        "gap-line",
        "LINE|ALONG ADJACENT|NEXTONE|MOVE GE",
        _LOOK + " BETWEEN DIFFERENCE DIFFER APART",
        settle=lambda c: None if "SUM" in c else {"gap": int(values(c, "GE")[0])},
    ),
    Pattern(
        "run-line",
        "LINE CONSECUTIVE ANYORDER|SEQUENCE|RUN",
        _LOOK + " NOREPEAT DIFFER NOGAP RUN SEQUENCE ANYORDER ONCE",
        settle=run_of,
    ),
    Pattern(
        "run-line",
        "LINE SEQUENCE|RUN|NOGAP NOGAP|ANYORDER",
        _LOOK + " NOREPEAT DIFFER ANYORDER CONSECUTIVE REPEAT NEG ONCE RUN",
        settle=run_of,
    ),
    Pattern("run-line", "LINE CONSECUTIVE NOREPEAT", _LOOK + " SEQUENCE", settle=run_of),
    Pattern(
        "between-line",
        "LINE|ALONG BETWEEN CIRCLE|END",
        _LOOK + " ONLY LOWEST HIGHEST TWO JOIN EXCLUDED START EITHERWAY BOTHWAYS BOTHENDS MARK",
        settle=_between,
    ),
    Pattern(
        "between-line",
        "LINE CIRCLE|END GREATER|LESS LESS|GREATER",
        _LOOK + " SMALLER CIRCLE END BETWEEN JOIN BOTHWAYS BOTHENDS",
        settle=_both,
    ),
    Pattern(
        "between-line",
        "LINE|THERMO|ALONG NEG ASSMALL ASLARGE CIRCLE|END",
        _LOOK + " LESS GREATER CIRCLE END JOIN WRAP IF THERMO BETWEEN BOTHENDS TIP",
        settle=_neither_bound,
    ),
    Pattern(
        "box-sum-line",
        "LINE BOX|REGION SUM|TOTALWORD EQUAL",
        _LOOK + " IRREGULAR BOUNDED SIZE ONLY SEQUENCE SEGMENT QUOTIENT SECTION BETWEEN REGION JOIN EDGE BRANCH IT",
        settle=_boxsum,
    ),
    Pattern(
        "sum-line",
        "LINE SUM|TOTALWORD START|END|FIRST SMALLNUM|CLUE|GIVEN",
        _LOOK + " SMALLNUM CLUE EQUAL END FIRST CELL MAYREPEAT",
        settle=lambda c: None if {"CIRCLE", "NUM"} & {named(x) for x in c} else {},
    ),
    Pattern("sum-line", "LINE OUTSIDE SUM|TOTALWORD", _LOOK + " OUTSIDE SMALLNUM MAYREPEAT", settle=_at_line_end),
    Pattern("sum-line", "LINE MAYREPEAT", _LOOK, gloss=True),
    Pattern("box-sum-line", "LINE DIFFER TOTALWORD|SUM", _LOOK, gloss=True),
    Pattern("run-line", "LINE NOREPEAT", _LOOK, gloss=True),
)
