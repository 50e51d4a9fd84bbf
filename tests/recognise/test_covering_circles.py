"""Circles on corners under which the walls of cages are not seen."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.covering import crossing
from recognise.marks.text_ink import Wall
from recognise.marks.text_places import Place, in_circle
from recognise.marks.texts import read_texts
from tests.recognise.test_past_walls import CELL, RASTER, print_of_picture

RADIUS = 44
CENTRES = ((1.0, 1.0), (2.0, 1.0))
PLACES = [in_circle(centre, RADIUS / CELL) for centre in CENTRES]
WALLS: list[Wall] = [((0.1, 1.06), (2.9, 1.06)), ((1.06, 1.06), (1.06, 1.94))]
DIGITS = (("3", -30, -4), ("5", 6, -4), ("6", -30, 26), ("8", 6, 26))


def _picture(*, over: bool) -> np.ndarray:
    """Two circles with four digits each; the walls run through them, or these are printed `over` all else."""
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)

    def walls() -> None:
        for ends in WALLS:
            a, b = ((round(RASTER.at(x)), round(RASTER.at(y))) for x, y in ends)
            cv2.line(picture, a, b, 0, 3)

    if over:
        walls()
    for centre in CENTRES:
        x, y = (round(RASTER.at(v)) for v in centre)
        cv2.circle(picture, (x, y), RADIUS, 255, -1)
        cv2.circle(picture, (x, y), RADIUS, 0, 2, cv2.LINE_AA)
        for digit, across, down in DIGITS:
            cv2.putText(picture, digit, (x + across, y + down), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 0, 2, cv2.LINE_AA)
    if not over:
        walls()
    return picture


@pytest.mark.parametrize("over", [True, False], ids=["over all else", "under walls"])
def test_it_is_told_whether_walls_run_on_in_circles(over: bool) -> None:
    assert list(crossing(WALLS, PLACES, print_of_picture(_picture(over=over)))) == ([] if over else WALLS)


def test_one_circle_is_too_little_to_tell() -> None:
    seen = print_of_picture(_picture(over=True))
    assert list(crossing([WALLS[1]], PLACES[:1], seen)) == [WALLS[1]]


def test_walls_on_lattice_lines_are_not_told() -> None:
    on_line: list[Wall] = [((0.1, 1.0), (2.9, 1.0))]
    assert list(crossing(on_line, PLACES, print_of_picture(_picture(over=True)))) == on_line


def test_digits_in_circles_over_walls_are_read_whole() -> None:
    glyphs, notes = read_texts(PLACES, print_of_picture(_picture(over=True)), GlyphReader(), WALLS)

    def digits(place: Place) -> list[str]:
        return sorted(glyph.text for glyph in glyphs if abs(glyph.centre[0] - place.middle[0]) < 0.5)

    assert [digits(place) for place in PLACES] == [["3", "5", "6", "8"]] * 2
    assert not notes
    assert min(glyph.confidence for glyph in glyphs) > 0.9
