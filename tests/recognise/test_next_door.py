"""Another grid beside the grid is no ring of clues; clues are."""

from collections.abc import Sequence
from typing import cast

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.evidence import Flat
from recognise.pixels.blobs import Blob
from recognise.pixels.ground import measure_ground
from recognise.pixels.next_door import is_next_door
from recognise.pixels.outside import Placed, Ring
from recognise.pixels.read import read_pixels
from schema.grid import Side

CELL, MARGIN = 40, 3.0
FLOOR = 0.05


def _flat(picture: np.ndarray, rows: int = 9, columns: int = 9, beyond: np.ndarray | None = None) -> Flat:
    maps = np.zeros(picture.shape[:2], np.float32)
    return Flat(picture, rows, columns, CELL, MARGIN, maps, maps, beyond)


def _paper(level: int = 240) -> np.ndarray:
    side = round((9 + 2 * MARGIN) * CELL)
    return np.full((side, side, 3), level, np.uint8)


def _lattice(picture: np.ndarray, left: float, columns: int, rows: int = 9) -> None:
    """Grid lines from `left` (cells) on."""
    for n in range(columns + 1):
        cv2.line(picture, _at(left + n, 0), _at(left + n, rows), (20, 20, 20), 2)
    for n in range(rows + 1):
        cv2.line(picture, _at(left, n), _at(left + columns, n), (20, 20, 20), 2)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _ring(side: Side, boxes: dict[int, Box]) -> Ring:
    nothing = cast(Blob, None)
    return Ring(side, tuple((row, (Placed(nothing, box),)) for row, box in boxes.items()), ())


CLUES = _ring("right", {2: (9.9, 1.3, 10.2, 1.7), 4: (9.9, 3.3, 10.2, 3.7), 7: (9.9, 6.3, 10.2, 6.7)})


def _ink(picture: np.ndarray) -> np.ndarray:
    return (1 - picture[..., 0] / 255).astype(np.float32)


def test_the_first_column_of_a_grid_next_door_is_no_ring() -> None:
    picture = _paper()
    beyond = np.zeros(picture.shape[:2], np.bool_)
    beyond[:, _at(11.6, 0)[0] :] = True
    _lattice(picture, 0, 9)
    _lattice(picture, 9.5, 2)
    picture[beyond] = 255
    assert is_next_door(CLUES, _ink(picture), _flat(picture, beyond=beyond), FLOOR)
    left = _ring("left", {row: (9 - x1, y0, 9 - x0, y1) for row, ((_, y0, _, y1), x0, x1) in _boxes(CLUES)})
    mirrored = np.ascontiguousarray(picture[:, ::-1])
    assert is_next_door(left, _ink(mirrored), _flat(mirrored, beyond=beyond[:, ::-1]), FLOOR)


def _wide_lattice(picture: np.ndarray, left: float, ends: float, lines: tuple[float, ...]) -> None:
    """An outer line and lines at right angles to it."""
    cv2.line(picture, _at(left, lines[0]), _at(left, lines[-1]), (20, 20, 20), 2)
    for y in lines:
        cv2.line(picture, _at(left, y), _at(ends, y), (20, 20, 20), 2)


@pytest.mark.parametrize(
    ("lines", "ends", "expected"),
    [
        ((-1.6, 0.4, 2.4, 4.4, 6.4, 8.4), 11.8, True),
        ((0.5, 1.45, 4.5, 6.5, 8.5), 11.8, False),
        ((-1.6, 0.4, 2.4, 4.4, 6.4, 8.4), 10.6, False),
    ],
    ids=["larger cells", "uneven", "boxes"],
)
def test_a_grid_next_door_may_have_cells_of_another_size(lines: tuple[float, ...], ends: float, expected: bool) -> None:
    picture = _paper()
    _lattice(picture, 0, 9)
    _wide_lattice(picture, 9.5, ends, lines)
    assert is_next_door(CLUES, _ink(picture), _flat(picture), FLOOR) == expected


def test_blocks_of_a_word_grid_next_door_are_no_panel() -> None:
    picture = _paper(255)
    _lattice(picture, 0, 9)
    _lattice(picture, 9.5, 3)
    for row, column in ((0, 2), (1, 0), (2, 0), (2, 1), (3, 1), (4, 2), (6, 0), (7, 0), (7, 1), (8, 1)):
        cv2.rectangle(picture, _at(9.5 + column, row), _at(10.5 + column, row + 1), (20, 20, 20), -1)
    assert is_next_door(CLUES, _ink(picture), _flat(picture), FLOOR)


FEW = _ring("right", {row: (9.9, row - 0.7, 10.2, row - 0.3) for row in (1, 3, 5)})


@pytest.mark.parametrize(
    ("ends", "rows", "clues", "expected"),
    [(13.0, 6, FEW, True), (10.6, 6, FEW, False), (13.0, 4, FEW, False), (13.0, 5, CLUES, False)],
    ids=["columns", "boxes", "shorter than its numbers", "numbers past its end"],
)
def test_a_word_grid_may_end_beside_the_grid(ends: float, rows: int, clues: Ring, expected: bool) -> None:
    """Its cells are of another size, and one of its blocks stands in its first column."""
    picture = _paper(255)
    _lattice(picture, 0, 9)
    _wide_lattice(picture, 9.5, ends, tuple(-1.5 + 0.98 * line for line in range(rows + 2)))
    if ends > 12:
        cv2.rectangle(picture, _at(9.5, -1.5 + 0.98 * 5), _at(11.5, -1.5 + 0.98 * 6), (20, 20, 20), -1)
    assert is_next_door(clues, _ink(picture), _flat(picture), FLOOR) == expected


@pytest.mark.parametrize("left", [0, 8, 13])
def test_what_is_dark_on_the_other_side_hides_no_grid_next_door(left: int) -> None:
    picture = _paper()
    _lattice(picture, 0, 9)
    _wide_lattice(picture, 9.5, 13.0, tuple(-1.5 + 0.98 * line for line in range(8)))
    picture[:, left : left + 16] = 30
    assert is_next_door(FEW, _ink(picture), _flat(picture), FLOOR)


def _boxes(ring: Ring) -> list[tuple[int, tuple[Box, float, float]]]:
    return [(row, (m[0].box, m[0].box[0], m[0].box[2])) for row, m in ring.clues]


@pytest.mark.parametrize("paper", [240, 255], ids=["grey", "white"])
@pytest.mark.parametrize("boxed", [(), (1, 3, 6), range(9)], ids=["none", "some", "all"])
def test_clues_are_a_ring_on_bare_paper_and_in_boxes(boxed: Sequence[int], paper: int) -> None:
    picture = _paper(paper)
    _lattice(picture, 0, 9)
    for row in boxed:
        cv2.rectangle(picture, _at(9.7, row + 0.1), _at(10.5, row + 0.9), (20, 20, 20), 1)
    assert not is_next_door(CLUES, _ink(picture), _flat(picture), FLOOR)


def test_a_frame_around_the_puzzle_does_not_hide_its_clues() -> None:
    picture = _paper()
    _lattice(picture, 0, 9)
    cv2.rectangle(picture, _at(-0.4, -0.4), _at(9.4, 9.4), (20, 20, 20), 2)
    assert not is_next_door(CLUES, _ink(picture), _flat(picture), FLOOR)


def test_a_tinted_panel_around_the_grid_does_not_hide_its_clues() -> None:
    picture = _paper(255)
    cv2.rectangle(picture, _at(-1, -1), _at(10.6, 10), (190, 190, 190), -1)
    cv2.rectangle(picture, _at(0, 0), _at(9, 9), (255, 255, 255), -1)
    _lattice(picture, 0, 9)
    for row in (1, 3, 6):
        cv2.circle(picture, _at(10.05, row + 0.5), round(0.35 * CELL), (255, 255, 255), -1)
    assert not is_next_door(CLUES, _ink(picture), _flat(picture), FLOOR)


def test_cells_that_have_more_light_make_no_tints_of_the_others() -> None:
    picture = _paper(200)
    y, x = np.mgrid[: picture.shape[0], : picture.shape[1]]
    light = np.zeros(picture.shape[:2])
    for place in ((4.5, 4.5), (1.5, 1.5), (7.5, 1.5), (1.5, 7.5), (7.5, 7.5), (4.5, 1.5)):
        middle_x, middle_y = _at(*place)
        light += 28 * np.exp(-((x - middle_x) ** 2 + (y - middle_y) ** 2) / (2 * (0.45 * CELL) ** 2))
    picture = np.clip(picture + light[..., None], 0, 255).astype(np.uint8)
    _lattice(picture, 0, 9)
    assert measure_ground(_flat(picture)).tints == ()


def test_the_edge_of_a_shadow_is_no_outer_line_of_a_grid_next_door() -> None:
    picture = _paper()
    for row in (2, 4, 7):
        cv2.putText(picture, "3", _at(9.45, row - 0.35), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (60, 60, 60), 2, cv2.LINE_AA)
    for y in (0.5, 1.1, 2.0, 3.05, 4.02, 5.0, 6.0, 7.0, 8.0):
        cv2.line(picture, _at(10.2, y), _at(12, y), (20, 20, 20), 1)
    _lattice(picture, 0, 9)
    y, x = np.mgrid[: picture.shape[0], : picture.shape[1]]
    shadow = 1 - 0.6 / (1 + np.exp(-(x - _at(9.2, 0)[0]) / (0.08 * CELL)))
    shadow[: _at(0, 2.0)[1]] = 0.5
    picture[:] = (picture * shadow[..., None]).astype(np.uint8)
    evidence = read_pixels(_flat(picture))
    assert [glyph.text for glyph in evidence.glyphs] == ["3", "3", "3"]
