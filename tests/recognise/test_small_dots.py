"""Small dark dots between cells: what is written on them, how dark they are, and what touches them."""

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Edge, Labels
from recognise.evidence import Disc
from recognise.glyphs import GlyphReader
from recognise.marks.looking import Looking
from recognise.marks.places import _dot as _edge_dot
from recognise.marks.sizes import uncovered
from recognise.pixels.frame import Raster
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, looked_at, sure

BLACK, BROWN, FINE = (20, 20, 20), (150, 90, 30), 8


def _write(sheet: Sheet, x: float, y: float, height: float) -> None:
    """A light 3 so tall, in cells, about a place."""
    left, top = sheet._at((x - 0.15, y - 0.15))
    right, bottom = sheet._at((x + 0.15, y + 0.15))
    fine = cv2.resize(sheet.image[top:bottom, left:right], None, fx=FINE, fy=FINE, interpolation=cv2.INTER_NEAREST)
    scale = height * len(fine) / 0.3 / 21
    (wide, high), _ = cv2.getTextSize("3", cv2.FONT_HERSHEY_SIMPLEX, scale, 10)
    at = (fine.shape[1] - wide) // 2, (len(fine) + high) // 2
    cv2.putText(fine, "3", at, cv2.FONT_HERSHEY_SIMPLEX, scale, (255, 255, 255), 10, cv2.LINE_AA)
    size = right - left, bottom - top
    sheet.image[top:bottom, left:right] = cv2.resize(fine, size, interpolation=cv2.INTER_AREA)


def test_a_number_is_read_that_nearly_fills_a_small_dark_dot() -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for column in (2, 4):
        sheet.circle((column, 2.5), 0.1, (255, 255, 255), 0)
        sheet.circle((column, 2.5), 0.08, BLACK, 0)
        labels.edge[0, 3, column] = Edge.DARK_DOT
    _write(sheet, 2, 2.5, 0.13)
    labels.edge_text[0, 3, 2] = 1
    seen = looked_at(sheet, sure(labels), GlyphReader())
    assert [glyph.text for glyph in seen.glyphs] == ["3"]
    assert seen.notes == ()


def _dot(fill: tuple[int, int, int], radius: float = 0.07) -> Disc:
    return Disc((1.0, 0.5), radius, fill, None, "shape")


@pytest.mark.parametrize(
    ("fill", "radius", "found"),
    [
        ((115, 114, 121), 0.08, BLACK),
        ((170, 170, 170), 0.08, (170, 170, 170)),
        ((115, 114, 121), 0.12, (115, 114, 121)),
    ],
    ids=["mostly covered", "lighter than half-way to paper", "of another size"],
)
def test_a_dot_that_its_number_covers_is_as_dark_as_those_without(
    fill: tuple[int, int, int], radius: float, found: tuple[int, int, int]
) -> None:
    written = _dot(fill, radius)
    plain = [_dot(BLACK) for _ in range(3)]
    assert uncovered([*plain, written], [written])[-1].fill == found
    assert uncovered([*plain[:2], written], [written])[-1].fill == fill, "too few to tell"


def test_a_rimmed_dot_that_touches_a_circle_is_as_black_as_the_others() -> None:
    """The circle draws the middle of what is measured off, and then the dot is brown half-way out."""
    sheet = Sheet()
    for colour, width in (((213, 213, 213), 0), ((0, 0, 0), 0.03)):
        sheet.circle((1.5, 1.5), 0.37, colour, width)
    places = (1.5, 2.0), (3.5, 2.0)
    for place in places:
        sheet.circle(place, 0.12, BROWN, 0)
        sheet.circle(place, 0.08, BLACK, 0)
    relative = np.asarray(cv2.GaussianBlur(sheet.image, (0, 0), 0.6) / 255, np.float32)
    ink = 1 - relative.mean(axis=2)
    raster = Raster(6, 6, CELL, MARGIN * CELL)
    looking = Looking(ink, ink, relative, raster, 0.05, None)  # type: ignore[arg-type]
    fills = [_edge_dot(place, "DARK_DOT", 1.0, looking).fill for place in places]
    assert np.ptp(np.array(fills), axis=0).max() < 60
