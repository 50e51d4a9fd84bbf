"""Of several lattices that fit one outline, the whole one comes before what is cut out of another at a frame."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.grids import find
from recognise.grids.candidates import Outline
from recognise.grids.ink import luminance
from recognise.grids.warp import Points, Pyramid
from tests.recognise.test_grids import CELL, PAD, drawn

SIZE = 10


@pytest.mark.parametrize(("fitted", "cells"), [((8, SIZE), SIZE), ((SIZE,), SIZE), ((8,), 8)])
def test_the_border_of_a_box_is_no_frame_where_all_of_the_grid_fits(
    monkeypatch: pytest.MonkeyPatch, fitted: tuple[int, ...], cells: int
) -> None:
    down, right = np.mgrid[: SIZE + 1, : SIZE + 1] * float(CELL) + PAD
    whole = np.stack([right, down], -1)
    inner = {8: whole[2:, 2:], SIZE: whole}
    monkeypatch.setattr(find, "fits", lambda *_, **__: [inner[size] for size in fitted])
    monkeypatch.setattr(find, "completed", lambda _, points: (points, True))
    monkeypatch.setattr(find, "framed", lambda _, points: points if len(points) < SIZE else None)
    corners: Points = whole[[0, 0, -1, -1], [0, -1, -1, 0]]
    lattice = find._lattice(Pyramid(luminance(drawn(SIZE, SIZE, (5, 2)))), Outline(corners, corners))
    assert lattice is not None and (lattice.rows, lattice.columns) == (cells, cells)
