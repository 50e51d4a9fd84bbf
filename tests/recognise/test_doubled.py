"""Frames of two lines, and what only looks like one."""

import cv2
import numpy as np
import pytest

from recognise.pixels.doubled import doubled_strips
from recognise.pixels.frame import Raster

CELL, FLOOR, ROWS = 64, 0.05, 4
RASTER = Raster(ROWS, ROWS, CELL, CELL)


def _at(x: float, y: float) -> tuple[int, int]:
    return round(RASTER.at(x)), round(RASTER.at(y))


def _grid(*frames: float, thick: int = 2, ink: float = 0.8) -> np.ndarray:
    """The ink of a grid whose frame has a line so far inside (below 0: outside) of its outline for each of `frames`."""
    level = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for line in range(ROWS + 1):
        cv2.line(level, _at(line, 0), _at(line, ROWS), 0.4, 1)
        cv2.line(level, _at(0, line), _at(ROWS, line), 0.4, 1)
    for inset in frames:
        cv2.rectangle(level, _at(inset, inset), _at(ROWS - inset, ROWS - inset), ink, thick)
    return cv2.GaussianBlur(level, (0, 0), 0.7)


@pytest.mark.parametrize("frames", [(0.0, 0.08), (0.0, -0.09), (0.01, 0.13)])
def test_both_lines_of_a_frame_are_its_own(frames: tuple[float, ...]) -> None:
    level = _grid(*frames)
    mask = np.zeros(level.shape, np.bool_)
    for rows, columns, _ in doubled_strips(level, RASTER, FLOOR):
        mask[rows, columns] = True
    for inset in frames:
        for x, y in ((inset, 2.3), (2.3, inset), (ROWS - inset, 2.3), (2.3, ROWS - inset)):
            assert mask[_at(x, y)[::-1]]
    assert not mask[_at(0.25, 0.25)[::-1]]
    assert not mask[_at(-0.25, 2)[::-1]]


def test_a_frame_of_one_line_has_no_other() -> None:
    assert doubled_strips(_grid(0.0, thick=6), RASTER, FLOOR) == []


def test_walls_of_cages_along_the_frame_are_no_second_line() -> None:
    level = _grid(0.0, thick=4)
    for x0, y0, x1, y1 in ((0, 0, 4, 1), (0, 1, 1, 4), (2, 3, 4, 4)):
        cv2.rectangle(level, _at(x0 + 0.1, y0 + 0.1), _at(x1 - 0.1, y1 - 0.1), 0.8, 2)
    assert doubled_strips(level, RASTER, FLOOR) == []


@pytest.mark.parametrize(("pale", "doubled"), [(0.3, 4), (0.08, 3)])
def test_a_second_line_that_a_scan_leaves_paler_along_one_side_is_of_the_frame(pale: float, doubled: int) -> None:
    level = _grid(0.0)
    for ends in (((0.1, 0.1), (3.9, 0.1)), ((0.1, 0.1), (0.1, 3.9)), ((0.1, 3.9), (3.9, 3.9))):
        cv2.line(level, _at(*ends[0]), _at(*ends[1]), 0.7, 2)
    cv2.line(level, _at(3.9, 0.1), _at(3.9, 3.9), pale * 0.7, 2)
    assert len(doubled_strips(level, RASTER, FLOOR)) == doubled


def test_rings_of_clues_beside_a_frame_are_no_third_line() -> None:
    level = _grid(0.0, -0.08)
    for place in np.arange(0.5, ROWS):
        for centre in ((place, -0.48), (-0.48, place)):
            cv2.circle(level, _at(*centre), round(0.34 * CELL), 0.8, 2)
    assert len(doubled_strips(level, RASTER, FLOOR)) == 4


def test_walls_of_cages_beside_a_frame_of_two_lines_are_no_third_one() -> None:
    level = _grid(0.0, -0.1)
    for x0, y0, x1, y1 in ((0, 0, 2, 1), (0, 1, 1, 2), (2, 3, 4, 4)):
        cv2.rectangle(level, _at(x0 + 0.09, y0 + 0.09), _at(x1 - 0.09, y1 - 0.09), 0.8, 2)
    assert len(doubled_strips(level, RASTER, FLOOR)) == 4


@pytest.mark.parametrize(("one", "doubled"), [(0.35, 4), (0.6, 0)])
def test_blur_may_make_one_line_of_two_in_places_where_there_are_two_all_round(one: float, doubled: int) -> None:
    level = _grid(0.0, -0.08)
    between = round(one * ROWS * CELL)
    for _ in ("above", "to the left"):
        level[CELL - 8 : CELL + 3, CELL : CELL + between] = 0.8
        level = np.ascontiguousarray(level.T)
    assert len(doubled_strips(level, RASTER, FLOOR)) == doubled
