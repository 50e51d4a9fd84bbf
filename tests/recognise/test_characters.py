"""Characters that are hard to part from what stands beside them, or paler or more blurred than others."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat
from recognise.glyphs import GlyphReader
from recognise.marks.texts import SMALL_TALLEST, Place, Print, on_edge, read_texts
from recognise.pixels import read_pixels
from recognise.pixels.blobs import find_pieces, measure_tones
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

RASTER = Raster(6, 6, CELL, MARGIN * CELL)


def ring(numbers: list[str], colour: int = 0, apart: int = 0) -> Flat:
    """A grid with a few givens and a row of numbers below; digits of one number stand `apart` pixels more than set."""
    drawing = Drawing()
    for cell in ((1, 1), (2, 4), (3, 3), (5, 6), (6, 2)):
        drawing.text(cell, "5")
    for column, number in enumerate(numbers, start=1):
        x, y = drawing.at((7, column))
        x -= 10 * len(number)
        for digit in number:
            (width, _), _ = cv2.getTextSize(digit, cv2.FONT_HERSHEY_SIMPLEX, 0.8, 3)
            cv2.putText(drawing.image, digit, (x, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.8, (colour,) * 3, 3, cv2.LINE_AA)
            x += width + apart
    return drawing.flat()


def clues(flat: Flat) -> list[str]:
    found = [glyph for glyph in read_pixels(flat).glyphs if glyph.centre[1] > flat.rows]
    return [glyph.text for glyph in sorted(found, key=lambda glyph: glyph.centre[0])]


def test_clues_paler_than_givens_are_read() -> None:
    assert clues(ring(["7", "14", "22", "9", "35", "4"], colour=170)) == ["7", "14", "22", "9", "35", "4"]


def test_digits_of_a_clue_that_touch_are_parted() -> None:
    numbers = ["24", "7", "35", "22", "9", "43"]
    flat = ring(numbers, apart=-4)
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    assert sum(blob.y > raster.at(6) for blob in pieces.blobs) == len(numbers)  # each number is one piece
    assert clues(flat) == numbers


def test_givens_out_of_focus_are_read() -> None:
    drawing = Drawing()
    cells = [(1, 1), (2, 4), (3, 3), (5, 6), (6, 2)]
    for cell, digit in zip(cells, "56792", strict=True):
        drawing.text(cell, digit)
    flat = drawing.flat()
    pale = 255 - (255 - flat.image.astype(np.float32)) * 0.5
    blurred = replace(flat, image=np.asarray(cv2.GaussianBlur(pale, (0, 0), 4.0), np.uint8))
    glyphs = [glyph for glyph in read_pixels(blurred).glyphs if glyph.text]
    assert {glyph.text for glyph in glyphs} == set("56792")


@pytest.mark.parametrize("number", ["14", "27", "9"])
def test_a_total_above_the_dashes_of_its_cage_keeps_its_digits(number: str) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    for at in range(19, 60, 9):
        cv2.line(drawing.image, (x + 7, y + at), (x + 7, y + at + 5), (0, 0, 0), 2)
        cv2.line(drawing.image, (x + at + 16, y + 7), (x + at + 21, y + 7), (0, 0, 0), 2)
    cv2.putText(drawing.image, number, (x + 5, y + 17), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    place = Place((1.0, 1.0, 1.62, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False)
    assert texts_at(place, drawing.flat()) == [number]


def texts_at(place: Place, flat: Flat) -> list[str]:
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, RASTER, measure_tones(ink, RASTER))
    seen = Print(ink.all, ink.drawn, ink.relative, pieces, RASTER, ink.floor)
    return [glyph.text for glyph in read_texts([place], seen, GlyphReader())[0]]


@pytest.mark.parametrize(("fill", "text"), [(0, 255), (60, 255), (255, 0)])
def test_a_number_on_a_dot_is_read_whatever_the_dot_s_colour(fill: int, text: int) -> None:
    flat = Drawing().flat()  # with its lattice, which the dot covers
    middle = ((MARGIN + 2) * CELL, MARGIN * CELL + CELL * 3 // 2)
    cv2.circle(flat.image, middle, CELL // 4, (fill,) * 3, -1, cv2.LINE_AA)
    cv2.circle(flat.image, middle, CELL // 4, (0, 0, 0), 1, cv2.LINE_AA)
    corner = middle[0] - 5, middle[1] + 7
    cv2.putText(flat.image, "3", corner, cv2.FONT_HERSHEY_SIMPLEX, 0.6, (text,) * 3, 2, cv2.LINE_AA)
    assert texts_at(on_edge((2.0, 1.5), 0.25, dark=fill < 128), flat) == ["3"]
