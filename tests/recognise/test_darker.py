"""Characters that stand on lines of another colour are read in the darkest ink."""

from __future__ import annotations

import cv2
import pytest

from recognise.pixels.blobs import Tones, find_pieces, measure_tones
from recognise.pixels.darker import darker_pieces, darkest
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from tests.recognise.test_pixels import CELL, Drawing


@pytest.mark.parametrize("colour", [(80, 190, 170), (235, 200, 90), (165, 165, 165)])
def test_a_figure_on_a_thin_line_of_another_colour_or_tone_is_read(colour: tuple[int, int, int]) -> None:
    drawing = Drawing()
    cv2.line(drawing.image, drawing.at((2, 2)), drawing.at((2, 5)), colour, round(0.1 * CELL), cv2.LINE_AA)
    cv2.line(drawing.image, drawing.at((4, 2)), drawing.at((6, 4)), colour, round(0.1 * CELL), cv2.LINE_AA)
    for cell, text in (((1, 1), "3"), ((1, 4), "7"), ((3, 6), "5"), ((6, 6), "4"), ((2, 3), "8"), ((5, 3), "2")):
        drawing.text(cell, text)
    assert sorted(glyph.text for glyph in drawing.read().glyphs) == ["2", "3", "4", "5", "7", "8"]


def test_two_other_figures_tell_how_dark_one_on_a_line_is() -> None:
    drawing = Drawing()
    cv2.line(drawing.image, drawing.at((2, 3)), drawing.at((1, 5)), (140, 190, 230), round(0.12 * CELL), cv2.LINE_AA)
    for cell, text in (((1, 1), "6"), ((4, 4), "8"), ((2, 3), "5")):
        drawing.text(cell, text)
    assert sorted(glyph.text for glyph in drawing.read().glyphs) == ["5", "6", "8"]


def test_a_figure_that_a_line_crosses_tells_how_dark_another_on_a_line_is() -> None:
    """One figure alone stands clear of lines. With thin lines taken out an 8 is whole, and a 7 is not."""
    drawing = Drawing()
    for cell, end in (((3, 3), (3, 5)), ((6, 4), (6, 6))):
        cv2.line(drawing.image, drawing.at(cell), drawing.at(end), (190, 215, 205), round(0.07 * CELL), cv2.LINE_AA)
    for cell, text in (((1, 1), "5"), ((3, 3), "8"), ((6, 4), "7")):
        drawing.text(cell, text)
    assert sorted(glyph.text for glyph in drawing.read().glyphs) == ["5", "7", "8"]


def test_a_line_nearly_as_dark_as_figures_gives_none() -> None:
    drawing = Drawing()
    for cell, text in (((1, 1), "3"), ((1, 4), "7"), ((3, 6), "5"), ((6, 6), "4")):
        drawing.text(cell, text)
    flat = drawing.flat()
    ink = measure_ink(flat, measure_ground(flat))
    raster = Raster.of(flat)
    figures = find_pieces(ink.drawn, raster, measure_tones(ink, raster)).blobs
    x, y = drawing.at((4, 3))
    for tone, more in ((0.5, 1), (0.64, 0)):
        dark = darkest(ink)
        dark[y - 20 : y + 200, x : x + 5] = tone
        dark[y : y + 24, x : x + 5] = 0.9
        found = darker_pieces(dark, Tones(1.0, 0.0), raster, figures).blobs
        assert len(found) == len(figures) + more, (
            "a dark stretch of a paler line may be a 1, of a dark one it is a rest"
        )


def test_a_figure_on_a_line_is_read_in_a_cell_with_a_total() -> None:
    drawing = Drawing()
    cv2.line(drawing.image, drawing.at((3, 1)), drawing.at((3, 3)), (130, 130, 130), round(0.12 * CELL))
    for cell, text in (((1, 1), "3"), ((1, 4), "7"), ((3, 6), "5"), ((6, 6), "4"), ((3, 3), "2")):
        drawing.text(cell, text)
    drawing.text((2.66, 2.68), "8", scale=0.5)
    assert sorted(glyph.text for glyph in drawing.read().glyphs) == ["2", "3", "4", "5", "7", "8"]


def test_a_figure_in_a_circle_is_a_piece_of_its_own() -> None:
    drawing = Drawing()
    for cell, text in (((1, 1), "3"), ((1, 4), "7"), ((3, 3), "9")):
        drawing.text(cell, text)
    cv2.circle(drawing.image, drawing.at((3, 3)), round(0.41 * CELL), (0, 0, 0), 2, cv2.LINE_AA)
    flat = drawing.flat()
    ink, raster = measure_ink(flat, measure_ground(flat)), Raster.of(flat)
    heights = [blob.height for blob in find_pieces(ink.drawn, raster, measure_tones(ink, raster)).blobs]
    assert len(heights) == 3
    assert max(heights) < 0.6 * CELL, "the circle is none of them"
