"""Which digits a grid has, and which numbers in its cells are its givens."""

import pytest

from recognise.draft import Given
from recognise.interpret.labels import infer_range, texts_in_range
from recognise.interpret.mark import sureness
from recognise.rules import DigitRange, RuleSheet
from schema.cells import Cell
from tests.recognise.evidence_maker import given, glyph
from tests.recognise.interpreting import BASIC, drafted


@pytest.mark.parametrize(
    ("how", "off", "is_given"), [("vector", 0.02, True), ("vector", 0.15, False), ("shape", 0.02, False)]
)
def test_low_figures_of_small_givens_stand_in_the_very_middle(how: str, off: float, is_given: bool) -> None:
    low = glyph(2.5 + off, 1.5, ("1", 0.999), size=0.2, how=how)
    draft = drafted(RuleSheet(BASIC), glyphs=(glyph(0.5, 0.5, ("4", 0.999), size=0.34, how="vector"), low))
    assert (Cell(2, 3) in draft.givens) == is_given


@pytest.mark.parametrize("how", ["ocr", "shape"])
@pytest.mark.parametrize(("places", "are_givens"), [((1, 3, 5), True), ((1, 3), False)])
def test_low_figures_without_a_text_layer_are_givens_where_several_show_the_fount(
    places: tuple[int, ...], are_givens: bool, how: str
) -> None:
    low = [glyph(x + 0.5, 1.5, (text, 0.999), size=0.19, how=how) for x, text in zip(places, "121", strict=False)]
    draft = drafted(RuleSheet(BASIC), glyphs=(glyph(0.5, 0.5, ("4", 0.999), size=0.29), *low))
    assert all((Cell(2, place + 1) in draft.givens) == are_givens for place in places)


@pytest.mark.parametrize("hangs", [True, False])
def test_a_low_figure_is_a_given_where_others_hang_below_their_line(hangs: bool) -> None:
    below, above = (0.55, 0.46) if hangs else (0.5, 0.5)
    figures = [glyph(0.5, below, ("3", 1.0), size=0.31), glyph(3.5, 3 + below, ("9", 1.0), size=0.31)]
    figures += [glyph(2.5, 2 + above, ("8", 1.0), size=0.3), glyph(5.5, 6.5, ("1", 0.999), size=0.21)]
    assert (Cell(7, 6) in drafted(RuleSheet(BASIC), glyphs=figures).givens) == hangs


def test_ten_is_as_low_as_its_figures_in_an_old_style_fount() -> None:
    places = {Cell(1, 1): ("3", 0.55), Cell(4, 4): ("9", 0.55), Cell(2, 2): ("8", 0.46), Cell(6, 7): ("10", 0.5)}
    figures = [
        glyph(cell.column - 0.5, cell.row - 1 + y, (text, 0.999), size=0.21 if text == "10" else 0.31)
        for cell, (text, y) in places.items()
    ]
    twelve = RuleSheet(BASIC, digits=DigitRange(1, 12))
    assert drafted(twelve, glyphs=figures, rows=12, columns=12).givens.get(Cell(6, 7)) == 10


def test_old_style_figures_without_ascender_are_givens() -> None:
    draft = drafted(glyphs=(given("r1c1", "6", size=0.6), given("r2c2", "7", size=0.6), given("r3c3", "1", size=0.33)))
    assert draft.givens == {Cell(1, 1): 6, Cell(2, 2): 7, Cell(3, 3): 1}


@pytest.mark.parametrize(
    ("size", "texts", "expected", "doubtful"),
    [
        (9, "1 5 9", DigitRange(1, 9), False),
        (9, "0 5 8", DigitRange(0, 8), True),
        (16, "1 9 A G", DigitRange(1, 16, {10: "A", 11: "B", 12: "C", 13: "D", 14: "E", 15: "F", 16: "G"}), False),
        (16, "0 9 A F", DigitRange(0, 15, {10: "A", 11: "B", 12: "C", 13: "D", 14: "E", 15: "F"}), False),
        (16, "1 12 16", DigitRange(1, 16), False),
        (4, "A D", DigitRange(1, 4, {1: "A", 2: "B", 3: "C", 4: "D"}), True),
    ],
)
def test_digits_without_a_rule(size: int, texts: str, expected: DigitRange, doubtful: bool) -> None:
    digits, doubt = infer_range(size, texts.split(), None)
    assert digits == expected
    assert (doubt is not None) == doubtful


def test_letters_that_a_lost_sentence_names_are_those_of_the_grid() -> None:
    stated = DigitRange(10, 16)
    digits, doubt = infer_range(16, ["1", "9", "A", "G"], stated)
    assert (digits.low, digits.high, digits.labels[10]) == (1, 16, "A")
    assert doubt
    assert infer_range(16, ["12", "16"], stated)[0].labels == {}


def test_figures_of_the_grid_above_those_that_the_rules_speak_of_show_that_these_were_misread() -> None:
    digits, doubt = infer_range(9, ["7", "8", "2"], DigitRange(1, 4))
    assert (digits.low, digits.high) == (1, 9)
    assert doubt is not None
    assert infer_range(9, ["7", "2"], DigitRange(1, 4))[0].high == 4, "one may be misread itself"


@pytest.mark.parametrize(("stated", "taken"), [((4, 9), (1, 9)), ((1, 6), (1, 6)), ((0, 8), (0, 8)), ((1, 9), (1, 9))])
def test_the_lowest_digit_of_the_rules_is_one_where_the_highest_is_the_width(stated, taken) -> None:
    digits, doubt = infer_range(9, [], DigitRange(*stated))
    assert (digits.low, digits.high) == taken
    assert (doubt is not None) == (stated[1] - stated[0] != 8)


def test_a_blurred_nine_that_looks_like_a_nought_does_not_change_the_digits_of_the_grid() -> None:
    assert texts_in_range([("0", 0.9), ("9", 0.99), ("9", 0.99), ("3", 1.0)], 9) == {"9", "3"}
    assert texts_in_range([("0", 0.99), ("0", 0.99), ("9", 0.9), ("3", 1.0)], 9) == {"0", "3"}
    nines = (glyph(0.5, 0.5, ("9", 0.999)), glyph(1.5, 4.5, ("9", 0.999)))
    nought = glyph(4.5, 2.5, ("0", 0.88), ("9", 0.11))
    draft = drafted(None, glyphs=(*nines, nought))
    assert draft.grid.digits == tuple(range(1, 10))
    (given,) = (item for item in draft.items if isinstance(item.value, Given) and item.value.cell == Cell(3, 5))
    assert isinstance(given.value, Given)
    assert given.value.digit == 9
    assert given.confidence < 0.2  # it looks like another digit, though there is none such


def test_a_digit_that_the_grid_does_not_have_takes_nothing_from_the_others() -> None:
    eight = glyph(4.5, 2.5, ("8", 0.90), ("0", 0.08), ("6", 0.02))
    draft = drafted(None, glyphs=(glyph(0.5, 0.5, ("9", 0.999)), eight))
    (given,) = (item for item in draft.items if isinstance(item.value, Given) and item.value.cell == Cell(3, 5))
    assert given.confidence == pytest.approx(sureness(glyph(4.5, 2.5, ("8", 0.90 / 0.92))))


def test_no_digit_is_surer_than_sure_where_a_text_layer_and_a_picture_say_different_things() -> None:
    eight = glyph(4.5, 2.5, ("8", 1.0), ("0", 0.0001), how="vector")
    draft = drafted(None, glyphs=(glyph(0.5, 0.5, ("9", 0.999)), eight))
    (given,) = (item for item in draft.items if isinstance(item.value, Given) and item.value.cell == Cell(3, 5))
    assert given.confidence <= 1
