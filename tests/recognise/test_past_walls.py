"""Digits in circles through which the walls of cages run."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks import texts
from recognise.marks.text_ink import Print, Wall, runs_through
from recognise.marks.text_places import in_circle, on_edge
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL = 128
RASTER = Raster(2, 2, CELL, CELL)
PLACE = in_circle((1.0, 1.0), 0.31)
WALL: Wall = ((0.92, 1.07), (0.92, 1.9))


def _print() -> Print:
    """A 7 and an 8 in a circle, and a dash of a wall under the 7."""
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    x, y = 2 * CELL, 2 * CELL
    cv2.circle(picture, (x, y), 40, 0, 2, cv2.LINE_AA)
    for digit, off in (("7", -21), ("8", 3)):
        cv2.putText(picture, digit, (x + off, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 0, 2, cv2.LINE_AA)
    dash = round(RASTER.at(WALL[0][0]))
    cv2.line(picture, (dash, y + 13), (dash, y + 28), 0, 3)
    return print_of_picture(picture)


def print_of_picture(picture: np.ndarray) -> Print:
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    nothing = Pieces(np.zeros(ink.shape, np.int32), (), Tones(1.0, 0.0))
    return Print(ink, np.zeros_like(ink), relative, nothing, RASTER, 0.05)


@pytest.mark.parametrize(("walls", "digits"), [([], "178"), ([WALL], "78")], ids=["unknown", "known"])
def test_a_dash_of_a_wall_in_a_circle_is_no_figure(
    walls: list[Wall], digits: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """To who reads digit by digit; the network of short texts sees that it is one by itself."""
    monkeypatch.setattr(texts, "weighed", lambda glyphs, owners, hard, *_: (glyphs, [*hard.values()]))
    glyphs, _ = read_texts([PLACE], _print(), GlyphReader(), walls)
    assert sorted("".join(glyph.text for glyph in glyphs)) == sorted(digits)


@pytest.mark.parametrize(
    ("walls", "texts"), [([], ["I"]), ([((0.92, 0.06), (0.92, 0.94))], [])], ids=["no wall", "a wall"]
)
def test_a_dash_of_a_wall_beside_a_lattice_line_is_no_number_on_that(walls: list[Wall], texts: list[str]) -> None:
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    dash = round(RASTER.at(0.92))
    cv2.line(picture, (dash, round(RASTER.at(0.42))), (dash, round(RASTER.at(0.58))), 60, 5)
    glyphs, _ = read_texts([on_edge((1.0, 0.5))], print_of_picture(picture), GlyphReader(), walls)
    assert [glyph.text for glyph in glyphs] == texts


def test_a_wall_runs_through_a_circle_or_past_it() -> None:
    assert runs_through(WALL, PLACE)
    assert not runs_through(((0.89, 1.3), (0.89, 1.9)), PLACE)
    assert not runs_through(((1.9, 0.1), (1.9, 1.9)), PLACE)


@pytest.mark.parametrize(("third", "digits"), [("3", "134"), ("", "14")], ids=["a digit", "the corner alone"])
def test_a_digit_that_the_corner_of_a_cage_runs_into_is_read_at_the_size_of_the_others(third: str, digits: str) -> None:
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    x, y = 2 * CELL, 2 * CELL
    cv2.circle(picture, (x, y), 44, 0, 2, cv2.LINE_AA)
    for digit, across, down in (("1", -28, -5), (third, 3, -5), ("4", -10, 27)):
        cv2.putText(picture, digit, (x + across, y + down), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 0, 2, cv2.LINE_AA)
    cv2.line(picture, (x + 16, y - 128), (x + 16, y - 20), 0, 3)
    cv2.line(picture, (x + 16, y - 12), (x + 128, y - 12), 0, 3)
    bend = 1 + 16 / CELL, 1 - 12 / CELL
    place = in_circle((1.0, 1.0), 44 / CELL)
    glyphs, _ = read_texts(
        [place], print_of_picture(picture), GlyphReader(), [((bend[0], 0.0), bend), (bend, (2.0, bend[1]))]
    )
    assert sorted("".join(glyph.text for glyph in glyphs)) == sorted(digits)
