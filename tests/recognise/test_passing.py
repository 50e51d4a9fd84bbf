"""Pale strokes that run on out of the grid are folds or show through; those that end within it may be marks."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from ingest.page import Point
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.passing import Thing, without_passing

RASTER = Raster(rows=6, columns=6, cell=40, origin=60)
SIDE = 6 * 40 + 2 * 60


def level(start: Point, end: Point, ink: float = 0.2) -> Grey:
    """A stroke, its ends in cells."""
    picture = np.zeros((SIDE, SIDE), np.float32)
    ends = [tuple(round(RASTER.at(v)) for v in point) for point in (start, end)]
    cv2.line(picture, ends[0], ends[1], ink, 3)
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), 1), np.float32)


def thing(picture: Grey, box: tuple[float, float, float, float]) -> Thing:
    """What of the ink lies in a box, in cells."""
    rows, columns = RASTER.slices(box)
    return (rows.start, columns.start), picture[rows, columns] > 0.05


def left(picture: Grey, *boxes: tuple[float, float, float, float], free: Mask | None = None) -> int:
    everywhere = np.ones(picture.shape, np.bool_)
    found = [thing(picture, box) for box in boxes]
    return len(without_passing(found, picture, everywhere if free is None else free, RASTER))


MIDDLE = (2.0, 0.0, 3.5, 6.0)
REST = (4.1, 0.0, 4.4, 6.0)


def test_a_fold_and_its_short_rests_are_passed_over() -> None:
    fold = level((-1.4, 2.3), (7.4, 2.7))
    assert left(fold, MIDDLE, REST) == 0


def test_what_stands_on_it_may_hide_parts_of_it() -> None:
    fold = level((-1.4, 2.3), (7.4, 2.7))
    free = np.ones(fold.shape, np.bool_)
    for column in (0, 4):
        fold[RASTER.slices((column, 2, column + 1, 3))] = 0
        free[RASTER.slices((column, 2, column + 1, 3))] = False
    assert left(fold, MIDDLE, free=free) == 0
    assert left(fold, MIDDLE) == 1


@pytest.mark.parametrize("end", [(5.5, 2.6), (6.0, 2.6)])
def test_a_stroke_that_ends_within_the_grid_or_at_its_frame_is_none(end: Point) -> None:
    assert left(level((0.5, 2.4), end), MIDDLE) == 1


def test_a_dark_stroke_is_never_passed_over() -> None:
    assert left(level((-1.4, 2.3), (7.4, 2.7), ink=0.9), MIDDLE) == 1


def test_a_darker_mark_on_a_fold_is_none_of_it() -> None:
    both = np.maximum(level((-1.4, 2.5), (7.4, 2.5), 0.12), level((4.0, 2.5), (5.0, 2.5), 0.42))
    assert left(both, MIDDLE, (4.0, 0.0, 5.0, 6.0)) == 1


def test_a_bend_is_no_fold() -> None:
    bent = np.maximum(level((-1.4, 2.5), (3.0, 2.5)), level((3.0, 2.5), (3.0, 4.5)))
    assert left(bent, (1.0, 0.0, 4.0, 6.0)) == 1


def test_a_stroke_beyond_the_frame_is_none_of_a_fold() -> None:
    beside = level((0.5, -1.2), (5.5, -1.2))
    assert left(beside, (0.0, -1.4, 6.0, -1.0)) == 1
