"""From a clause that was understood to statements: what the mark looks like, what holds for some marks only."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from recognise.rules.allmarked import PAIR_KINDS, says_every_pair
from recognise.rules.pattern import Fields, hint, values
from recognise.rules.sheet import Statement

OUTSIDE_KINDS = frozenset({"sandwich", "skyscraper", "x-sum"})
_LINE_KINDS = frozenset({"palindrome", "gap-line", "run-line", "between-line", "box-sum-line", "sum-line"})
_OWN_SHAPE = {"cage": "cage", "extra-region": "tint", "thermometer": "", "diagonal-sum": "arrow", "arrow": "arrow"}

_PERHAPS = re.compile(
    r"(?<!\S)MAY "
    r"(?:HOLD |GIVEN |MEAN |JOIN |MARK |ALL |ONE |IT |DIGIT |EQUAL |TOWARDS |ATLEASTONCE |AMONG |STYLE=\w+ )*"
    r"(?:DIFFER|FOURCELLS|FOURMEET|FOUR|POINT|CONSECUTIVE|EVEN|ODD|INCREASE|DECREASE|TIMES|PALINDROME|DIFF|GAP|SUM|BETWEEN|DIFFERENCE|PRODUCT|QUOTIENT)\b"
)
_IN_PART = re.compile(
    r"(?<!\S)SOME (?:COLOUR=\w+ |STYLE=\w+ |SHADED |SLOW |GIVEN |TWO |NUM=\d+ |ALL )*"
    r"(?:THERMO|LINE|ARROW|DOT|BAR|DIAGONAL|MAINDIAG|SQUARE|CIRCLE|CAGE|SIGN) "
)


def in_part(concepts: Sequence[str]) -> bool:
    """Whether a clause speaks of some marks and not of all."""
    return _IN_PART.search("".join(f"{c} " for c in concepts)) is not None


def hedged(concepts: Sequence[str]) -> bool:
    """Whether a clause says only what may be (`digits may be consecutive`), or speaks of some marks and not of all."""
    text = " ".join(concepts)
    allowed = {"NEG", "ONLY", "NOTDECREASE"} & set(concepts)
    return bool(_IN_PART.search(text)) or (not allowed and bool(_PERHAPS.search(text)))


def stated(kind: str, fields: Fields, concepts: Sequence[str]) -> Iterator[Statement]:
    """The statements that a clause of reduced concepts makes of a kind, with what it says of the mark's look."""
    outside = kind in OUTSIDE_KINDS or kind == "diagonal-sum"
    if kind in _LINE_KINDS:
        concepts = _without_colours_of(("CIRCLE",), concepts)
    elif not outside and len(set(values(concepts, "COLOUR"))) > 1:
        concepts = _without_colours_of(("DIGIT", "SMALLNUM", "CLUE"), concepts)
    shape = "number" if kind in OUTSIDE_KINDS else _OWN_SHAPE.get(kind, "")
    look = hint(concepts, shape)
    if kind == "sum-pair" and not look.letter:
        own = "value" in fields and look.shape in ("diamond", "bar", "square", "dot", "sign")
        look = replace(look, shape=look.shape if own else "number", place="edge")
    if look.shape == "tube" and kind in _LINE_KINDS:
        look = replace(look, shape="line")
    if look.shape == "cage" and kind == "diagonal":
        look = replace(look, shape="diagonal")  # a `broken line` is drawn from corner to corner as well
    if look.shape == "tint" and kind in PAIR_KINDS:
        look = replace(look, shape="")  # `a black triangle between two cells`: the colour is the mark's
    if outside:
        look = replace(look, place="outside")
    colours = list(dict.fromkeys(values(concepts, "COLOUR")))
    for colour in colours if len(colours) > 1 else [look.colour]:
        yield Statement(kind, fields, replace(look, colour=colour))
    if kind in PAIR_KINDS and says_every_pair(concepts):
        yield Statement("all-marked", {"of": kind}, look)


def _without_colours_of(nouns: Sequence[str], concepts: Sequence[str]) -> list[str]:
    """The concepts without the colours of what is no mark by itself: `a grey line between white circles`, `white
    numbers in a black disc`."""
    after = [*concepts, ""][1:]
    return [c for c, then in zip(concepts, after, strict=True) if then not in nouns or not c.startswith("COLOUR")]
