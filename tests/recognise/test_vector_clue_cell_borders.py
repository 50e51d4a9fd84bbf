"""Borders of cells beside a grid of which each side is a line by itself, in PDFs."""

from __future__ import annotations

import pytest

from recognise.evidence import Shape
from recognise.vectors.clue_cell_borders import clue_cell_borders
from tests.recognise.drawn_pages import Sheet

ROWS, COLUMNS, THIN = 6, 8, 0.02
GREY = (120, 120, 120)


def _bar(x0: float, y0: float, x1: float, y1: float) -> Shape:
    half = THIN / 2
    box = (min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half)
    return Shape("bar", box, GREY, "vector", 1.0, ())


def _cell(side: str, place: int, deep: float) -> list[Shape]:
    """The outer side of a cell beside the grid, and the two that lead to it."""
    far = -deep if side in ("left", "top") else (COLUMNS if side == "right" else ROWS) + deep
    near = {"left": 0, "top": 0, "right": COLUMNS, "bottom": ROWS}[side]
    if side in ("left", "right"):
        return [_bar(far, place, far, place + 1), *(_bar(near, y, far, y) for y in (place, place + 1))]
    return [_bar(place, far, place + 1, far), *(_bar(x, near, x, far) for x in (place, place + 1))]


@pytest.mark.parametrize("side", ["left", "top", "right", "bottom"])
@pytest.mark.parametrize("deep", [0.6, 1.0])
def test_lines_round_cells_beside_the_grid_are_no_marks(side: str, deep: float) -> None:
    bars = [*_cell(side, 1, deep), *_cell(side, 4, deep)]
    assert clue_cell_borders(bars, ROWS, COLUMNS) == bars


def test_one_outer_side_of_a_whole_row_of_cells_is_no_mark() -> None:
    top = [_bar(2, -0.8, 5, -0.8), *(_bar(x, 0, x, -0.8) for x in (2, 3, 4, 5))]
    assert clue_cell_borders([*top, *_cell("left", 0, 0.8)], ROWS, COLUMNS) == [*top, *_cell("left", 0, 0.8)]


@pytest.mark.parametrize(
    "bars",
    [
        _cell("left", 2, 0.7),
        [_bar(k, -0.7, k + 1, -0.7) for k in range(4)],
        [_bar(k, 0, k, -0.7) for k in range(4)],
        [*_cell("left", 1, 2.6), *_cell("left", 4, 2.6)],
        [_bar(k + 0.3, -0.5, k + 0.7, -0.5) for k in range(COLUMNS)],
        [_bar(2, 3, 3, 3), _bar(2, 3, 2, 4), _bar(3, 3, 3, 4)],
    ],
    ids=["one cell", "outer sides alone", "no outer sides", "far away", "signs beside the grid", "on the grid"],
)
def test_other_bars_stay(bars: list[Shape]) -> None:
    assert clue_cell_borders(bars, ROWS, COLUMNS) == []


def test_the_reader_of_pdfs_leaves_them_out(sheet: Sheet) -> None:
    sheet.grid()
    for k in (2, 3, 6):
        sheet.line([(9.8, k), (9.8, k + 1)], THIN, "#808080")
        for y in (k, k + 1):
            sheet.line([(9, y), (9.8, y)], THIN, "#808080")
        sheet.text(9.4, k + 0.5, "17", 0.4)
    assert not sheet.evidence().shapes
