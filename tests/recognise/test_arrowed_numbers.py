"""Numbers with little arrows of which one figure was read, the shaft touching the other: they are read once more."""

from __future__ import annotations

import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.characters import _has_more, _may_be_more
from recognise.marks.text_places import beside

PLACE, TWO = beside((-0.5, 3.5), ((1, -1),)), beside((-0.5, 3.5), ((1, -1), (1, 1)))
BARE = beside((-0.5, 3.5), ())


def _glyph(text: str, x: float = -0.6) -> Glyph:
    return Glyph((x - 0.07, 3.5, x + 0.07, 3.75), (Guess(text, 0.99),), 0.25, (0, 0, 0), "ocr")


@pytest.mark.parametrize(
    ("place", "known", "expected"),
    [
        (PLACE, [_glyph("2")], True),
        (PLACE, [_glyph("4"), _glyph("3", -0.4)], True),
        (PLACE, [_glyph("24")], False),
        (PLACE, [_glyph("2", -1.6)], False),
        (TWO, [_glyph("2")], False),
        (BARE, [_glyph("2")], False),
    ],
    ids=["one figure", "two by themselves", "a number", "elsewhere", "two numbers", "no arrow"],
)
def test_single_figures_with_an_arrow_may_be_parts_of_a_number(place, known, expected) -> None:
    assert _may_be_more(place, known) == expected


@pytest.mark.parametrize(("now", "more"), [("24", True), ("2", False), ("74", False)])
def test_the_second_look_counts_where_it_has_all_that_the_first_had(now: str, more: bool) -> None:
    assert _has_more(PLACE, [_glyph(now)], [_glyph("2")]) == more
    assert not _has_more(PLACE, [_glyph("24")], [_glyph("2"), _glyph("3", -0.4)])
