"""Boxes of a grid by thick lines and by tints, also where marks hide lines."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.evidence import Edges, Tint
from recognise.grids import boxes_from, find_grids, flatten, measure_edges
from schema.cells import Cell
from tests.recognise.test_grids import drawn


def test_boxes_are_read_off_thick_lines() -> None:
    page = drawn(9, 9, (3, 3))
    flat = flatten(page, find_grids(page)[0])
    boxes = boxes_from(measure_edges(flat))
    assert boxes.by == "regular"
    assert boxes.cells is not None
    assert [str(cell) for cell in boxes.cells[1][:4]] == ["r1c4", "r1c5", "r1c6", "r2c4"]


def test_a_grid_with_even_lines_has_no_boxes() -> None:
    page = drawn(6, 6, None)
    assert boxes_from(measure_edges(flatten(page, find_grids(page)[0]))).cells is None


def even_edges(rows: int, columns: int) -> Edges:
    across, down = np.full((rows + 1, columns), 0.02), np.full((rows, columns + 1), 0.02)
    return Edges(across, down, np.ones_like(across), np.ones_like(down))


def test_tints_that_differ_between_neighbours_show_boxes() -> None:
    box_of = ["AABB", "ABBC", "ADCC", "DDDC"]
    colours = {"A": (230, 230, 230), "B": (251, 230, 220), "D": (223, 231, 234)}
    tints = [
        Tint(Cell(row + 1, column + 1), colours[box], 1.0)
        for row, line in enumerate(box_of)
        for column, box in enumerate(line)
        if box in colours
    ]
    boxes = boxes_from(even_edges(4, 4), tints)
    assert boxes.by == "tint"
    want = {
        frozenset(f"r{r + 1}c{c + 1}" for r, line in enumerate(box_of) for c, box in enumerate(line) if box == name)
        for name in "ABCD"
    }
    assert {frozenset(map(str, cells)) for cells in boxes.cells or ()} == want


def test_tinted_cells_here_and_there_show_no_boxes() -> None:
    tints = [Tint(Cell(n, 1 + (4 * n) % 9), (220, 220, 220), 1.0) for n in range(1, 10)]
    assert boxes_from(even_edges(9, 9), tints).cells is None


def edges_of(box_of: list[str], bars: list[tuple[float, float, float, float]], ink: float) -> Edges:
    """Edges of a grid with thick lines between boxes; under each bar (a box in cells) nothing but the bar is seen."""
    names = np.array([list(line) for line in box_of])
    edges = even_edges(*names.shape)
    edges.horizontal[1:-1][names[1:] != names[:-1]] = 0.06
    edges.vertical[:, 1:-1][names[:, 1:] != names[:, :-1]] = 0.06
    for x0, y0, x1, y1 in bars:
        if x1 - x0 > y1 - y0:
            edges.horizontal[round(y0 + 0.1), int(x0)] = ink
        else:
            edges.vertical[int(y0), round(x0 + 0.1)] = ink
    return edges


JIGSAW = ["AABB", "ABBC", "ADCC", "DDDC"]
ACROSS = [(c + 0.2, r - 0.1, c + 0.8, r + 0.1) for r, c in ((1, 1), (2, 1), (2, 3))]
BARS = [*ACROSS, (1.9, 0.2, 2.1, 0.8)]


@pytest.mark.parametrize("ink", [0.0, 0.2])
def test_boxes_are_read_where_bars_hide_lines(ink: float) -> None:
    edges = edges_of(JIGSAW, BARS, ink)
    boxes = boxes_from(edges, (), BARS)
    assert boxes.by == "irregular"
    assert boxes.confidence == 1
    want = {
        frozenset(f"r{r + 1}c{c + 1}" for r, line in enumerate(JIGSAW) for c, box in enumerate(line) if box == name)
        for name in "ABCD"
    }
    assert {frozenset(map(str, cells)) for cells in boxes.cells or ()} == want
    assert boxes_from(edges).confidence < 1


def test_hair_lines_that_were_lost_are_thin_ones() -> None:
    edges = edges_of(JIGSAW, BARS, 0.06)
    edges.horizontal[1, 0] = edges.vertical[2, 3] = edges.vertical[3, 2] = 0.0
    boxes = boxes_from(edges, (), BARS)
    assert boxes.cells is not None
    assert boxes.confidence == 1


def test_boxes_that_may_go_two_ways_under_bars_are_unsure() -> None:
    box_of = ["AAAAA", "BBBBB", "CCCCC", "DDDDD", "EEEEE"]
    bars = [(c + 0.2, 0.9, c + 0.8, 1.1) for c in range(5)] + [(1.9, 0.2, 2.1, 0.8), (2.9, 1.2, 3.1, 1.8)]
    boxes = boxes_from(edges_of(box_of, bars, 0.2), (), bars)
    assert boxes.confidence <= 0.5
    assert any(cells is not None for cells in boxes.alternatives)


def test_boxes_show_where_signs_stand_on_all_lines_within_them() -> None:
    edges = edges_of(["AABB", "AABB", "CCDD", "CCDD"], [], 0.0)
    signs = [(c + 0.4, r - 0.1, c + 0.6, r + 0.1) for r in (1, 3) for c in range(4)]
    signs += [(c - 0.1, r + 0.4, c + 0.1, r + 0.6) for c in (1, 3) for r in range(4)]
    boxes = boxes_from(edges, (), signs)
    assert boxes.by == "regular"
    assert boxes.cells is not None
    assert [str(cell) for cell in boxes.cells[1]] == ["r1c3", "r1c4", "r2c3", "r2c4"]
