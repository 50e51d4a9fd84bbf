"""Digits in circles on corners that walls of cages cover, told by those of the page's other circles."""

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks.circles_alike import Told, settled
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import Place, in_circle
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL = 128
RASTER = Raster(4, 4, CELL, CELL)
SLOTS = ((-20, -4), (2, -4), (-9, 22))
WALL: Wall = ((2.08, 0.0), (2.08, 3.0))
SURE = {(1, 1): "123", (3, 1): "456", (1, 3): "789", (3, 3): "358"}


def _page(circles: dict[tuple[int, int], str]) -> tuple[list[Place], Print]:
    """Circles on corners with three digits in each, and the dashes of a wall through those at x = 2."""
    picture = np.full((6 * CELL, 6 * CELL), 255, np.uint8)
    for (x, y), digits in circles.items():
        at = round(RASTER.at(x)), round(RASTER.at(y))
        cv2.circle(picture, at, 40, 0, 2, cv2.LINE_AA)
        for digit, (right, down) in zip(digits, SLOTS, strict=False):
            place = at[0] + right, at[1] + down
            cv2.putText(picture, digit, place, cv2.FONT_HERSHEY_SIMPLEX, 0.75, 0, 2, cv2.LINE_AA)
    wall = round(RASTER.at(WALL[0][0]))
    for top in range(CELL, 4 * CELL, 18):
        cv2.line(picture, (wall, top), (wall, top + 11), 0, 4)
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    nothing = Pieces(np.zeros(ink.shape, np.int32), (), Tones(1.0, 0.0))
    places = [in_circle((float(x), float(y)), 40 / CELL) for x, y in circles]
    return places, Print(ink, np.zeros_like(ink), relative, nothing, RASTER, 0.05)


@pytest.mark.parametrize("covered", ["359", "268", "13"])
def test_digits_that_a_wall_runs_through_are_told_by_those_of_other_circles(covered: str) -> None:
    places, seen = _page({**SURE, (2, 2): covered})
    glyphs, notes = read_texts(places, seen, GlyphReader(), [WALL])
    own = [glyph for glyph in glyphs if abs(glyph.centre[0] - 2) < 0.3]
    assert sorted(glyph.text for glyph in own) == sorted(covered)
    assert min(glyph.confidence for glyph in own) > 0.95
    assert not notes


def test_a_digit_that_no_other_circle_has_is_not_surely_told() -> None:
    places, seen = _page({(1, 1): "123", (3, 1): "123", (2, 2): "182"})
    glyphs, _ = read_texts(places, seen, GlyphReader(), [WALL])
    own = [glyph for glyph in glyphs if abs(glyph.centre[0] - 2) < 0.3]
    assert sorted(glyph.text for glyph in own) == ["1", "2", "8"] or min(glyph.confidence for glyph in own) < 0.9


@pytest.mark.parametrize(
    ("sure", "plain", "ahead", "text", "confidence"),
    [
        (0.99, True, 0.3, "3", 0.99),
        (0.5, True, 0.3, "8", 0.98),
        (0.5, False, 0.05, "8", 0.49),
        (0.5, False, 0.01, "3", 0.5),
    ],
    ids=["surely read", "plain", "likelier", "hardly likelier"],
)
def test_what_others_tell_counts_where_nothing_is_surely_read(
    sure: float, plain: bool, ahead: float, text: str, confidence: float
) -> None:
    read, told = (_glyph(digit, likely) for digit, likely in (("3", sure), ("8", 0.98)))
    (glyph,) = settled([read], Told((told,), ahead, plain))
    assert (glyph.text, glyph.confidence) == (text, pytest.approx(confidence))


def _glyph(text: str, likely: float) -> Glyph:
    return Glyph((0.9, 0.9, 1.0, 1.1), (Guess(text, likely),), 0.2, (0, 0, 0), "ocr")
