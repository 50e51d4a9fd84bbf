"""Arrow heads in pictures, as large as they are drawn."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Trace
from recognise.marks.barbs import barbs, with_barbs
from recognise.marks.line_questions import HEAD_UNSEEN
from recognise.pixels.frame import Raster
from schema.cells import Cell

CELL = 64
RASTER = Raster(3, 3, CELL, CELL)
BEFORE, LAST = Cell(2, 1), Cell(2, 2)
UP, DOWN = (1.2, 1.2), (1.2, 1.8)
"""Where the barbs of a large head reach."""


def _pixel(place: tuple[float, float]) -> list[int]:
    return [round(RASTER.at(v)) for v in place]


def _arrow(*ends: tuple[float, float]) -> np.ndarray:
    """A shaft to the right, and what goes from its tip to each of some places."""
    ink = np.zeros((5 * CELL, 5 * CELL), np.float32)
    cv2.line(ink, _pixel((0.5, 1.5)), _pixel((1.5, 1.5)), 0.7, 6)
    for end in ends:
        corners = [(1.58, 1.5), end, (1.35, 1.5)]
        cv2.fillPoly(ink, [np.array([_pixel(corner) for corner in corners], np.int32)], 0.7)
    return ink


def _explains(ink: np.ndarray, place: tuple[float, float]) -> bool:
    sides = barbs(BEFORE, LAST, 0.08, ink, RASTER, 0.05)
    return any(cv2.pointPolygonTest(np.array(side, np.float32), place, False) >= 0 for side in sides)


def test_barbs_that_are_swept_back_are_of_their_head() -> None:
    assert _explains(_arrow(UP, DOWN), UP)
    assert _explains(_arrow(UP, DOWN), DOWN)
    assert not _explains(_arrow(UP, DOWN), (1.2, 1.1))


def test_what_has_no_counterpart_on_the_other_side_is_none() -> None:
    assert barbs(BEFORE, LAST, 0.08, _arrow(UP), RASTER, 0.05) == ()


@pytest.mark.parametrize("digit", ["3", "8", "0"])
def test_a_digit_on_a_shaft_is_no_head(digit: str) -> None:
    ink, letters = _arrow(), np.zeros((5 * CELL, 5 * CELL), np.uint8)
    x, y = _pixel((1.5, 1.5))
    (width, height), _ = cv2.getTextSize(digit, cv2.FONT_HERSHEY_SIMPLEX, 1.2, 4)
    cv2.putText(letters, digit, (x - width // 2, y + height // 2), cv2.FONT_HERSHEY_SIMPLEX, 1.2, 255, 4)
    ink[letters > 0] = 0.7
    assert barbs(BEFORE, LAST, 0.08, ink, RASTER, 0.05) == ()
    assert barbs(BEFORE, LAST, 0.2, ink, RASTER, 0.05) == ()


@pytest.mark.parametrize(("ends", "asked"), [((UP, DOWN), False), ((UP,), True), ((), True)])
def test_a_head_whose_barbs_are_measured_is_seen(ends: tuple[tuple[float, float], ...], asked: bool) -> None:
    why = HEAD_UNSEEN, "what kind of line it is was hard to tell"
    grey = (80, 80, 80)
    line = Trace((BEFORE, LAST), ((0, 1),), grey, 0.1, False, "shape", heads=(1,), tips=((1, 0.08),), ambiguous=why)
    assert with_barbs(line, _arrow(*ends), RASTER, 0.05).ambiguous == (why if asked else why[1:])


def test_a_head_has_ink_on_both_sides_up_to_where_it_is_widest() -> None:
    """One side begins before the other, as strokes of a digit do that stands on the tip."""
    ink = np.zeros((5 * CELL, 5 * CELL), np.float32)
    (left, middle), (tip, _) = _pixel((0.5, 1.5)), _pixel((1.58, 1.5))
    ink[middle - 10 : middle, tip - 3 : tip - 1] = 0.7
    ink[middle : middle + 7, tip - 5 : tip - 3] = 0.7
    ink[middle - 3 : middle + 3, left : tip - 3] = 0.7
    assert barbs(BEFORE, LAST, 0.08, ink, RASTER, 0.05) == ()
