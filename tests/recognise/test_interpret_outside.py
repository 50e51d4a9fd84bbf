"""Numbers, letters and frames beside a grid to clues: what each means, and which of them mean nothing."""

from dataclasses import replace

import pytest

from recognise.draft import Draft
from recognise.evidence import Disc, Shape
from recognise.rules import MarkHint, RuleSheet, Statement
from recognise.rules.reader import read_rules
from schema.kinds.sandwich import Sandwich
from schema.kinds.x_sum import XSum
from tests.recognise.evidence_maker import glyph
from tests.recognise.interpreting import BASIC, drafted, of_kind


def test_outside_numbers_mean_what_the_rules_say() -> None:
    sheet = RuleSheet((*BASIC, Statement("sandwich", {"wrap": True}, MarkHint(place="outside"))))
    glyphs = (glyph(2.5, -0.5, ("23", 0.99)), glyph(-0.6, 4.4, ("0", 0.99)), glyph(9.5, 8.5, ("7", 0.99)))
    assert of_kind(drafted(sheet, glyphs=glyphs), Sandwich) == [
        Sandwich(side="top", index=3, value=23, wrap=True),
        Sandwich(side="left", index=5, value=0, wrap=True),
        Sandwich(side="right", index=9, value=7, wrap=True),
    ]


def _ring(x: float, y: float) -> Disc:
    return Disc((x, y), 0.33, (255, 255, 255), (0, 0, 0), "vector")


def test_a_ring_round_an_outside_number_tells_which_rule_it_obeys() -> None:
    told = "Plain numbers outside the grid tell what the digits between the 1 and the 9 add up to. " + (
        "A circled number outside the grid is the sum of the first X digits seen from there, X being the first digit."
    )
    glyphs = (glyph(2.5, -0.5, ("23", 0.99)), glyph(4.5, -0.5, ("11", 0.99)))
    draft = drafted(read_rules(told, digits=(1, 9)), glyphs=glyphs, discs=(_ring(4.5, -0.5),))
    assert of_kind(draft, Sandwich) == [Sandwich(side="top", index=3, value=23)]
    assert of_kind(draft, XSum) == [XSum(side="top", index=5, value=11)]
    assert draft.doubts == ()


def test_a_ring_round_some_outside_numbers_that_the_rules_do_not_explain_is_a_query() -> None:
    sheet = RuleSheet((*BASIC, Statement("sandwich", {}, MarkHint("number", place="outside"))))
    glyphs = (glyph(2.5, -0.5, ("23", 0.99)), glyph(4.5, -0.5, ("11", 0.99)))
    assert any("ring" in doubt.why for doubt in drafted(sheet, glyphs=glyphs, discs=(_ring(4.5, -0.5),)).doubts)
    assert drafted(sheet, glyphs=glyphs, discs=(_ring(4.5, -0.5), _ring(2.5, -0.5))).doubts == ()


def test_outside_numbers_without_a_rule_have_no_meaning_of_their_own() -> None:
    draft = drafted(glyphs=(glyph(2.5, -0.5, ("23", 0.99)),))
    assert of_kind(draft, Sandwich) == []
    assert any("sandwich" in doubt.why and doubt.where for doubt in draft.doubts)


def test_ink_beside_the_grid_is_a_query_without_a_cell() -> None:
    draft = drafted(unexplained=((-1.5, 3.2, -1.1, 3.8),))
    assert draft.doubts[0].where is not None


def _asked_about(draft: Draft, place: str) -> int:
    """How many clues are asked about, one by one or together."""
    together = sum(len(undecided.items) for undecided in draft.undecided)
    return together + sum(place in doubt.why for doubt in draft.doubts)


@pytest.mark.parametrize(("last", "clues"), [("9", 0), ("8", 9)])
def test_numbers_in_order_that_name_the_rows_are_no_clues(last: str, clues: int) -> None:
    numbers = [*map(str, range(1, 9)), last]
    names = [glyph(-0.4, row + 0.5, (text, 0.999), size=0.25) for row, text in enumerate(numbers)]
    draft = drafted(RuleSheet(BASIC), glyphs=tuple(names))
    assert _asked_about(draft, "the left of row") == clues


@pytest.mark.parametrize("framed", [2, 1])
def test_frames_round_all_numbers_beside_the_grid_mean_nothing(framed: int) -> None:
    numbers = [glyph(-0.5, row + 0.5, ("7", 0.999), size=0.3) for row in range(2)]
    frames = [
        Shape("square", (-0.9, row + 0.1, -0.1, row + 0.9), (0, 0, 0), "vector", filled=False) for row in range(2)
    ]
    sheet = RuleSheet((*BASIC, Statement("sandwich")))
    draft = drafted(sheet, glyphs=tuple(numbers), shapes=tuple(frames[:framed]))
    assert sum("a square stands there" in doubt.why for doubt in draft.doubts) == (0 if framed == 2 else 1)


@pytest.mark.parametrize(("texts", "clues"), [("A8C0EF6H1", 0), ("48C0E36H1", 9)])
def test_letters_in_order_that_name_the_columns_are_no_clues(texts: str, clues: int) -> None:
    names = [glyph(column + 0.5, -0.4, (text, 0.999), size=0.25) for column, text in enumerate(texts)]
    draft = drafted(RuleSheet(BASIC), glyphs=tuple(names))
    assert _asked_about(draft, "the top of column") == clues


@pytest.mark.parametrize(("way", "left"), [("right", 0), ("left", 1), ("down", 1)])
def test_a_little_arrow_from_a_number_straight_into_the_grid_only_says_where_it_stands(way: str, left: int) -> None:
    arrow = Shape("arrow", (-0.13, 3.42, -0.03, 3.58), (0, 0, 0), "vector", direction=way)
    sheet = RuleSheet((*BASIC, Statement("sandwich", {}, MarkHint(place="outside"))))
    draft = drafted(sheet, glyphs=(glyph(-0.7, 3.5, ("7", 0.999)),), shapes=(arrow,))
    assert of_kind(draft, Sandwich) == [Sandwich(side="left", index=4, value=7)]
    assert sum("arrow stands there" in doubt.why for doubt in draft.doubts) == left


@pytest.mark.parametrize(("away", "clues"), [(2.6, 2), (1.4, 3)], ids=["the axis of a chart", "beyond arrows"])
def test_numbers_of_a_picture_much_farther_off_than_on_other_sides_are_no_clues(away: float, clues: int) -> None:
    sheet = RuleSheet((*BASIC, Statement("sandwich", {}, MarkHint(place="outside"))))
    near = [replace(glyph(*at, (text, 0.99)), how="ocr") for at, text in (((2.5, -0.6), "23"), ((-0.6, 4.5), "0"))]
    draft = drafted(sheet, glyphs=(*near, replace(glyph(9 + away, 1.5, ("20", 0.99)), how="ocr")))
    assert len(of_kind(draft, Sandwich)) == clues
    assert any("farther off" in doubt.why for doubt in draft.doubts) == (clues == 2)
    drawn = drafted(sheet, glyphs=tuple(replace(g, how="vector") for g in (*near, glyph(9 + away, 1.5, ("20", 0.99)))))
    assert len(of_kind(drawn, Sandwich)) == 3, "what a PDF draws is told from its vectors"
