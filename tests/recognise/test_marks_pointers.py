"""Little arrows beside the grid."""

from types import SimpleNamespace

import pytest

from fixtures.training.lattice_labels import Labels, Pointer
from ingest.page import Box
from recognise.evidence import Glyph, Guess, Shape
from recognise.geometry import box_at
from recognise.glyphs import GlyphReader
from recognise.marks.pointers import POINTER, POINTERS, is_pointer, pointers, where_drawn
from recognise.pixels.frame import Raster
from tests.recognise.chances_maker import Sheet, changed, looked_at, sure

BLACK = (0, 0, 0)


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def test_a_little_arrow_in_doubt_is_asked_about_where_numbers_stand_beside_the_grid() -> None:
    chances = changed(sure(Labels.empty(6, 6)), "pointer", (0, 0, 0, 2), 0.2)
    assert any("row 0, column 2" in note for note in pointers(chances, numbers=True).notes)
    assert pointers(chances, numbers=False).notes == ()
    # A clue says the same with an arrow straight into its column as without one.
    straight = changed(sure(Labels.empty(6, 6)), "pointer", (0, list(POINTERS).index("S"), 0, 2), 0.2)
    assert pointers(straight, numbers=True).notes == ()


def test_a_little_arrow_in_doubt_is_one_where_the_rules_know_no_number_without() -> None:
    chances = changed(sure(Labels.empty(6, 6)), "pointer", (0, list(POINTERS).index("SW"), 0, 2), 0.2)
    (arrow,) = pointers(chances, numbers=True, all_pointed=True).shapes
    assert arrow.direction == "down-left"
    assert any("row 0, column 2" in note for note in pointers(chances, numbers=True, all_pointed=True).notes)
    two_ways = changed(chances, "pointer", (0, list(POINTERS).index("SE"), 0, 2), 0.2)
    assert pointers(two_ways, numbers=True, all_pointed=True).shapes == ()


@pytest.mark.parametrize(
    ("plain", "ink", "shown", "asked"), [(3, 0.02, False, False), (3, 0.12, False, True), (2, 0.02, True, True)]
)
def test_a_little_arrow_without_ink_shows_through_where_others_are_plain(
    plain: int, ink: float, shown: bool, asked: bool
) -> None:
    labels = Labels.empty(6, 6)
    for column in range(1, plain + 1):
        labels.pointer[0, column] = Pointer.SE
    chances = changed(sure(labels), "pointer", (0, list(POINTERS).index("SE"), 0, 5), 0.9)
    spots = pointers(chances, numbers=True, as_print=lambda box: ink if box[0] > 4 else 1.0)
    assert len(spots.shapes) == plain + shown
    assert bool(spots.notes) == asked


def test_a_little_arrow_stands_where_it_is_drawn(glyphs) -> None:
    """Not in the middle of its place: numbers find their arrows by nearness."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    labels.pointer[0, 2] = Pointer.SE
    sheet.line((1.7, -0.35), (1.9, -0.12), BLACK, 0.05)
    sheet.line((1.9, -0.12), (1.76, -0.13), BLACK, 0.05)
    sheet.line((1.9, -0.12), (1.89, -0.26), BLACK, 0.05)
    (arrow,) = [shape for shape in looked_at(sheet, sure(labels), glyphs).shapes if shape.name == "arrow"]
    assert arrow.box == pytest.approx((1.7, -0.35, 1.9, -0.12), abs=0.08)


TEXT, TOUCHING = (1.03, -1.05, 1.45, -0.89), (1.05, -0.47, 1.45, -0.07)
"""A piece of the text above, on the next diagonal, and a little arrow that reaches into the corner of its number."""


@pytest.mark.parametrize(("drawn", "found"), [((TEXT,), None), ((TEXT, TOUCHING), TOUCHING)])
def test_a_little_arrow_stands_on_its_diagonal_though_it_touches_its_number(
    drawn: tuple[Box, ...], found: Box | None
) -> None:
    place = Shape("arrow", box_at((1.5, -0.5), POINTER), BLACK, "shape", 1.0, direction="down-left")
    number = Glyph((1.43, -0.63, 1.84, -0.43), (Guess("33", 1.0),), 0.2, BLACK, "ocr")
    to_its_corner = (1.0, place.box[1], place.box[2], 0.0)  # where it touches its number it is no piece by itself
    pieces = SimpleNamespace(blobs=[SimpleNamespace(box=lambda _, box=box: box) for box in (*drawn, number.box)])
    assert where_drawn(place, [number], pieces, Raster(6, 6, 64, 64)).box == (found or to_its_corner)


def test_two_little_arrows_may_share_a_place(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    labels.pointer[0, 2] = Pointer.SE | Pointer.SW
    for way in (-1, 1):
        tip = (1.5 + way * 0.42, -0.14)
        for tail in ((tip[0] - way * 0.22, -0.36), (tip[0] - way * 0.14, -0.15), (tip[0] - way * 0.01, -0.28)):
            sheet.line(tail, tip, BLACK, 0.05)
    arrows = [shape for shape in looked_at(sheet, sure(labels), glyphs).shapes if shape.name == "arrow"]
    boxes = {arrow.direction: arrow.box for arrow in arrows}
    assert boxes["down-left"] == pytest.approx((1.08, -0.36, 1.3, -0.14), abs=0.08)
    assert boxes["down-right"] == pytest.approx((1.7, -0.36, 1.92, -0.14), abs=0.08)


def test_what_was_hard_to_read_at_the_tip_of_a_little_arrow_is_the_arrow() -> None:
    arrow = Shape("arrow", (9.15, 5.49, 9.51, 5.85), BLACK, "shape", 0.95, direction="down-left")
    tail, number = (9.1, 5.78, 9.34, 5.99), (9.52, 5.66, 9.73, 5.85)
    assert is_pointer(_read("2", tail, 0.27), arrow)
    assert not is_pointer(_read("2", tail, 0.8), arrow)
    assert not is_pointer(_read("15", number, 0.27), arrow)


def _read(text: str, box: Box, confidence: float) -> Glyph:
    return Glyph(box, (Guess(text, confidence),), box[3] - box[1], BLACK, "shape")
