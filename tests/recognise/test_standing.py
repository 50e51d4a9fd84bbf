"""Where the network is in doubt, ink must stand out from the paper of the page."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels
from recognise.evidence import Flat, Glyph, Guess
from recognise.marks.cages import find_cages
from recognise.marks.network import BY_NAME
from recognise.marks.standing import Standing
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import Ink, measure_ink
from schema.cells import Cell
from tests.recognise.chances_maker import changed, sure

SIZE, CELL, MARGIN = 6, 64, 1.0


def _at(value: float) -> int:
    return round((value + MARGIN) * CELL)


def _seen(*marks, known: tuple[Glyph, ...] = ()) -> tuple[Standing, Ink, Raster]:
    """A grid on grainy paper with marks drawn by functions of the picture."""
    side = round((SIZE + 2 * MARGIN) * CELL)
    picture = np.full((side, side), 225, np.uint8)
    for line in range(SIZE + 1):
        cv2.line(picture, (_at(line), _at(0)), (_at(line), _at(SIZE)), 60, 2)
        cv2.line(picture, (_at(0), _at(line)), (_at(SIZE), _at(line)), 60, 2)
    for mark in marks:
        mark(picture)
    grainy = cv2.GaussianBlur(picture, (0, 0), 0.8) + np.random.default_rng(2).normal(0, 2.5, picture.shape)
    image = np.repeat(np.clip(grainy, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    maps = np.zeros((side, side), np.float32)
    flat = Flat(image, SIZE, SIZE, CELL, MARGIN, maps, maps)
    ink, raster = measure_ink(flat, measure_ground(flat)), Raster.of(flat)
    return Standing(ink, raster, known), ink, raster


def _line(x0: float, y0: float, x1: float, y1: float, grey: int, width: int):
    return lambda picture: cv2.line(picture, (_at(x0), _at(y0)), (_at(x1), _at(y1)), grey, width)


def _dot(x: float, y: float, radius: float, grey: int):
    return lambda picture: cv2.circle(picture, (_at(x), _at(y)), round(radius * CELL), grey, -1)


@pytest.mark.parametrize("width", [2, 18], ids=["a thin line", "a tube"])
def test_a_pale_line_stands_out_between_its_cells_and_not_beside_them(width: int) -> None:
    standing, _, _ = _seen(_line(1.5, 1.5, 2.5, 2.5, 185, width))
    assert standing.between(Cell(2, 2), Cell(3, 3))
    assert not standing.between(Cell(2, 3), Cell(2, 4))
    assert not standing.between(Cell(5, 5), Cell(5, 6))


def test_a_small_dot_stands_out_on_an_edge() -> None:
    standing, _, _ = _seen(_dot(3.0, 2.5, 0.08, 120))
    assert standing.within((2.75, 2.25, 3.25, 2.75))
    assert not standing.within((2.75, 3.25, 3.25, 3.75))


def test_a_known_character_is_no_mark() -> None:
    glyph = Glyph((2.3, 2.2, 2.7, 2.8), (Guess("8", 1.0),), 0.6, (0, 0, 0), "shape")
    blot = _dot(2.5, 2.5, 0.2, 60)
    assert _seen(blot)[0].within((2.05, 2.05, 2.95, 2.95))
    assert not _seen(blot, known=(glyph,))[0].within((2.05, 2.05, 2.95, 2.95))


def _asked(*marks) -> bool:
    """Whether a doubtful cage around r2c2 and r2c3 is asked about."""
    standing, ink, raster = _seen(*marks)
    chances = sure(Labels.empty(SIZE, SIZE))
    names = BY_NAME["side"].classes
    for column, sides in ((2, ("TOP", "LEFT", "BOTTOM")), (3, ("TOP", "RIGHT", "BOTTOM"))):
        for side in sides:
            chances = changed(chances, "side", (0, names.index(side), 2, column), 0.2)
    return bool(find_cages(chances, ink.drawn, ink.relative, raster, ink.floor, standing.along).notes)


def test_walls_in_doubt_are_asked_about_where_there_is_ink() -> None:
    top = _line(1.1, 1.1, 2.9, 1.1, 150, 2)
    assert _asked(top)
    assert not _asked()


def test_the_blur_of_a_digit_is_no_wall() -> None:
    assert not _asked(_line(1.2, 1.25, 1.8, 1.25, 60, 12))


def test_a_speck_in_the_corner_of_a_cell_is_no_character() -> None:
    standing, _, _ = _seen(_dot(1.2, 1.2, 0.03, 20), _line(3.15, 3.1, 3.15, 3.3, 20, 3))
    corners = (1.0, 1.0, 1.92, 1.42), (3.0, 3.0, 3.92, 3.42)
    assert all(standing.within(box) for box in corners)
    assert [standing.holds_characters(box) for box in corners] == [False, True]
