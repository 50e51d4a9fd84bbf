"""Parts of filled marks in cells, which are pale and therefore no ink."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.doubt.half_marks import half_marks
from recognise.draft import Draft
from recognise.evidence import Disc, Evidence, Flat, Shape, Words
from recognise.geometry import box_at
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid

CELL, MARGIN, SIZE, HALF, FILL = 64, 3, 4, 0.35, 0.82
WHOLE = (Cell(1, 1), Cell(2, 3), Cell(4, 2))
ODD = Cell(3, 4)


def _asked(part: float, round_marks: bool, shadow: bool = False) -> list[object]:
    """What is asked on a page with three marks and the upper part of a fourth, or with the edge of a shadow there."""
    side = (SIZE + 2 * MARGIN) * CELL
    page = np.full((side, side, 3), 0.99, np.float32)
    none = np.zeros((1, 1), np.float32)
    flat = Flat((255 * page).astype(np.uint8), SIZE, SIZE, CELL, MARGIN, none, none)
    raster = Raster.of(flat)
    for cell in (*WHOLE, ODD):
        x, y = (int((at + MARGIN) * CELL) for at in cell.centre)
        reach = int(HALF * CELL)
        if round_marks:
            cv2.circle(page, (x, y), reach, (FILL,) * 3, -1)
        else:
            page[y - reach : y + reach, x - reach : x + reach] = FILL
        if cell == ODD:
            page[int(y - reach + 2 * part * reach) : y + reach + 2, x - reach - 2 : x + reach + 2] = 0.99
    if shadow:
        rows, columns = raster.slices((ODD.column - 1.0, ODD.row - 1.0, ODD.column - 0.5, ODD.row + 0.0))
        page[rows, columns] = FILL
    page = cv2.GaussianBlur(page, (0, 0), 1.0) + np.random.default_rng(2).normal(0, 0.01, page.shape)
    discs = tuple(Disc(cell.centre, HALF, (200, 200, 200), (0, 0, 0), "shape", 1.0) for cell in WHOLE)
    squares = tuple(
        Shape("square", box_at(cell.centre, HALF), (200, 200, 200), "shape", 1.0, filled=True) for cell in WHOLE
    )
    seen = Evidence(rows=SIZE, columns=SIZE, edges=None, **({"discs": discs} if round_marks else {"shapes": squares}))  # type: ignore[arg-type]
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4)), (), Words())
    return list(half_marks(draft, seen, page.astype(np.float32), flat))


@pytest.mark.parametrize("round_marks", [False, True])
def test_a_part_of_a_filled_mark_is_asked_about_and_a_shadow_is_not(round_marks: bool) -> None:
    (where,) = _asked(0.5, round_marks)
    assert where[0] > (ODD.column - 1, ODD.row - 1) and where[2] < (ODD.column, ODD.row)  # type: ignore[index]
    assert not _asked(0.0, round_marks)
    assert not _asked(0.0, round_marks, shadow=True)
