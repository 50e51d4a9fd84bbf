"""Lattice lines that bow between the points of the mesh are made straight, and nothing else is moved."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.evidence import Flat, Lattice
from recognise.grids import flatten, straightened
from recognise.pixels.bands import find_lines
from recognise.pixels.frame import Raster

CELL, SIZE = 64, 6


def _page(bow: float, lines: bool = True, cage: bool = False, bar: bool = False) -> Flat:
    """A grid whose fourth line down bows by `bow` cells in its third to fifth column; `lines` says whether that line is
    there at all, `cage` whether dashes of a cage run 0.1 cells below it,
    `bar` whether a white bar stands on it."""
    image = np.full(((SIZE + 2) * CELL,) * 2 + (3,), 255, np.uint8)
    at = CELL * np.arange(1, SIZE + 2)
    xs = np.arange(CELL, (SIZE + 1) * CELL + 1)
    shape = bow * CELL * np.exp(-(((xs - 4 * CELL) / (0.8 * CELL)) ** 2))
    for index, y in enumerate(at):
        cv2.line(image, (int(y), CELL), (int(y), int(at[-1])), (60, 60, 60), 2)
        if index != 3 or lines:
            ys = y + (shape if index == 3 else 0 * shape)
            cv2.polylines(image, [np.stack([xs, ys], -1).round().astype(np.int32)], False, (60, 60, 60), 2)
    if cage:
        for x in range(3 * CELL + 6, 5 * CELL - 6, 9):
            cv2.line(image, (x, int(at[3]) + 7), (x + 5, int(at[3]) + 7), (0, 0, 0), 2)
    if bar:
        corners = (3 * CELL + 12, int(at[3]) - 5), (4 * CELL - 12, int(at[3]) + 5)
        cv2.rectangle(image, *corners, (255, 255, 255), -1)
        cv2.rectangle(image, *corners, (0, 0, 0), 2)
    points = np.stack(np.meshgrid(at, at), -1).astype(np.float64)
    return flatten(image, Lattice(points))


def _line(flat: Flat, column: float) -> float:
    """How far below its place the fourth line is there, in cells."""
    origin = round(flat.margin * flat.cell)
    x, y = round(origin + column * flat.cell), origin + 3 * flat.cell
    strip = 255 - flat.image[y - 14 : y + 15, x - 1 : x + 2].mean(axis=(1, 2))
    return float((strip * np.arange(-14, 15)).sum() / strip.sum() / flat.cell)


def test_a_line_that_bows_is_made_straight() -> None:
    bent = _page(0.12)
    assert _line(bent, 3.2) > 0.09
    assert abs(_line(straightened(bent), 3.2)) < 0.03
    assert abs(_line(straightened(bent), 1.5)) < 0.03


def test_a_grid_that_lies_flat_stays_as_it_is() -> None:
    flat = _page(0.0)
    assert straightened(flat) is flat


def test_dashes_of_a_cage_are_not_taken_for_a_line() -> None:
    for lines in (True, False):
        flat = _page(0.0, lines=lines, cage=True)
        assert straightened(flat) is flat


def test_a_dark_wall_beside_a_pale_line_that_lies_on_its_other_side_is_no_bow_of_it() -> None:
    image = np.full(((SIZE + 2) * CELL,) * 2 + (3,), 255, np.uint8)
    at = CELL * np.arange(1, SIZE + 2)
    for index, y in enumerate(map(int, at)):
        cv2.line(image, (y, CELL), (y, int(at[-1])), (170, 170, 170), 1)
        ways = [(CELL, y), (int(at[-1]), y)]
        if index == 3:  # the mesh is a little off this line in its first cell, towards the wall
            ways = [(CELL, y - 2), (int(at[1]) - 9, y - 2), (int(at[1]) + 9, y), (int(at[-1]), y)]
        cv2.polylines(image, [np.array(ways)], False, (170, 170, 170), 1)
    image[int(at[5]) - 3 : int(at[5]) + 4, int(at[2]) + 8 : int(at[3]) - 8] = 255  # a line with a gap: all are followed
    y = int(at[3]) + 4
    cv2.rectangle(image, (CELL + 3, y), (int(at[1]) - 3, y + CELL - 9), (90, 30, 30), 2)
    flat = flatten(image, Lattice(np.stack(np.meshgrid(at, at), -1).astype(np.float64)))
    assert straightened(flat) is flat


def test_a_line_under_a_white_bar_is_not_taken_to_run_along_one_of_its_sides() -> None:
    flat = _page(0.0, bar=True)
    assert straightened(flat) is flat


def test_a_side_of_a_white_bar_is_not_taken_for_the_band_of_its_line() -> None:
    flat = _page(0.0, bar=True)
    ink = np.asarray(1 - flat.image.min(axis=-1) / np.float32(255), np.float32)
    lines = find_lines(ink, Raster.of(flat), 0.05)
    assert lines.darkness[3, 2] == 0
    assert (np.delete(lines.darkness[1:-1], 2, axis=1) > 0).all()


def test_walls_of_cages_are_not_taken_for_the_band_of_the_paler_line_that_they_run_beside() -> None:
    ink = np.zeros(((SIZE + 2) * CELL,) * 2, np.float32)
    for line in range(SIZE + 1):
        at, end = (line + 1) * CELL, (SIZE + 1) * CELL
        ink[at, CELL:end] = ink[CELL:end, at] = 0.2
    for column, off in ((0, 5), (1, 5), (3, -5), (4, 4)):
        y, x = 4 * CELL + off, (column + 1) * CELL
        ink[y : y + 2, x + 6 : x + CELL - 6] = 0.6
    lines = find_lines(ink, Raster(SIZE, SIZE, CELL, CELL), 0.05)
    assert (lines.first == 0).all() and (lines.last == 0).all()
    assert (lines.darkness > 0).all()


def test_the_wall_of_a_cage_on_the_other_side_of_a_pale_line_makes_no_white_bar_of_it() -> None:
    ink = np.zeros(((SIZE + 2) * CELL,) * 2, np.float32)
    for line in range(SIZE + 1):
        ink[(line + 1) * CELL, CELL : (SIZE + 1) * CELL] = 0.2
    y, x = 4 * CELL, slice(3 * CELL, 4 * CELL)
    ink[y, x], ink[y - 3, x], ink[y + 3 : y + 5, x] = 0.0, 0.2, 0.6
    lines = find_lines(ink, Raster(SIZE, SIZE, CELL, CELL), 0.05)
    assert (lines.first[3, 2], lines.last[3, 2]) == (-3, -3)
    assert lines.darkness[3, 2] > 0


def test_the_bar_of_a_7_on_a_patch_that_cuts_a_line_off_is_no_bow_of_it() -> None:
    image = np.full(((SIZE + 2) * CELL,) * 2 + (3,), 255, np.uint8)
    at = [int(y) for y in CELL * np.arange(1, SIZE + 2)]
    for y in at:
        cv2.line(image, (y, CELL), (y, at[-1]), (60, 60, 60), 2)
        cv2.line(image, (CELL, y), (at[-1], y), (60, 60, 60), 2)
    middle, top = at[2] + CELL // 2, at[3] - 4
    image[at[3] - 10 : at[3] + 11, middle - 10 : middle + 11] = 255
    seven = [(middle - 7, top), (middle + 7, top), (middle - 1, top + 10)]
    cv2.polylines(image, [np.array(seven)], False, (30, 30, 30), 3)
    flat = flatten(image, Lattice(np.stack(np.meshgrid(at, at), -1).astype(np.float64)))
    assert straightened(flat) is flat
