"""Lattice lines of two strokes, and what only looks like one."""

import cv2
import numpy as np
import pytest

from recognise.pixels.bands import Lines, find_lines
from recognise.pixels.double_lines import with_second_strokes
from recognise.pixels.frame import Raster

CELL, FLOOR, ROWS = 64, 0.05, 4
RASTER = Raster(ROWS, ROWS, CELL, CELL)


def _at(x: float, y: float) -> tuple[int, int]:
    return round(RASTER.at(x)), round(RASTER.at(y))


def _grid(*strokes: float) -> np.ndarray:
    """The ink of a grid that has strokes so far beside its middle lines."""
    level = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for line in range(ROWS + 1):
        for off in strokes if line == ROWS / 2 else (0.0,):
            cv2.line(level, _at(line + off, 0), _at(line + off, ROWS), 0.6, 2)
            cv2.line(level, _at(0, line + off), _at(ROWS, line + off), 0.6, 2)
    return level


def _lines(level: np.ndarray) -> tuple[Lines, Lines]:
    level = cv2.GaussianBlur(level, (0, 0), 0.7)
    return with_second_strokes(
        find_lines(level, RASTER, FLOOR), find_lines(level.T, RASTER, FLOOR), level, RASTER, FLOOR
    )


@pytest.mark.parametrize("strokes", [(-0.04, 0.04), (0.0, 0.09)])
def test_a_line_of_two_strokes_takes_up_both_where_marks_hide_them_too(strokes: tuple[float, float]) -> None:
    level = _grid(*strokes)
    cv2.circle(level, _at(2, 1.5), 16, 1.0, -1)
    for lines in _lines(level):
        for edge in range(ROWS):
            assert lines.first[2, edge] <= round(strokes[0] * CELL)
            assert lines.last[2, edge] >= round(strokes[1] * CELL)
        assert (lines.width[[0, 1, 3, 4]] <= 5).all()


def test_walls_of_cages_beside_a_line_are_no_second_stroke() -> None:
    level = _grid(0.0)
    cv2.rectangle(level, _at(0.1, 0.1), _at(3.9, 1.9), 0.6, 2)
    cv2.rectangle(level, _at(0.1, 2.1), _at(1.9, 3.9), 0.6, 2)
    for lines in _lines(level):
        assert (lines.width <= 5).all()


def test_a_wall_along_one_way_alone_is_no_second_stroke() -> None:
    level = _grid(0.0)
    cv2.rectangle(level, _at(0.1, 0.1), _at(3.9, 1.9), 0.6, 2)
    for lines in _lines(level):
        assert (lines.width <= 5).all()
