"""Faint marks keep clear of the thick lines of a page: chance, or hidden."""

from itertools import product

import numpy as np
import pytest

from recognise.doubt.under_lines import HIDDEN, under_lines
from recognise.draft import Draft, Item, box_polygon
from recognise.evidence import Edges, Words
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.greater import Greater

RASTER = Raster(9, 9, 20, 20)
GRID = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
WITHIN = [c for c in range(1, 9) if c % 3]


def _edges() -> Edges:
    widths = np.where(np.arange(10) % 3, 0.03, 0.08)
    level, upright = np.repeat(widths[:, None], 9, axis=1), np.repeat(widths[None], 9, axis=0)
    return Edges(level, upright, np.ones_like(level), np.ones_like(upright))


def _signs(places: list[tuple[int, int]]) -> Draft:
    """A sign right of each cell (row, column)."""
    items = [
        Item(
            (Greater(greater=Cell(r, c), less=Cell(r, c + 1)),),
            box_polygon((c - 0.2, r - 0.7, c + 0.2, r - 0.3)),
            1,
            "shape",
        )
        for r, c in places
    ]
    return Draft(GRID, tuple(items), Words())


def _asked(places: list[tuple[int, int]], ink: float) -> bool:
    level = np.full((220, 220), ink, np.float32)
    return [d.why for d in under_lines(_signs(places), _edges(), level, RASTER)] == [HIDDEN]


@pytest.mark.parametrize(
    ("count", "ink", "others", "asked"),
    [(20, 0.1, [], True), (20, 0.8, [], False), (20, 0.1, [(4, 3)], False), (8, 0.1, [], False)],
)
def test_faint_signs_on_thin_lines_only(count: int, ink: float, others: list[tuple[int, int]], asked: bool) -> None:
    """Dark ones would show, one on a thick line shows that they do, and a few may be chance."""
    places = list(product(range(1, 10), WITHIN))[::2][:count]
    assert _asked(places + others, ink) == asked


def test_all_pairs_within_boxes_are_an_order() -> None:
    edges = _edges()
    upright = [
        Item(
            (Greater(greater=Cell(r, c), less=Cell(r + 1, c)),),
            box_polygon((c - 0.7, r - 0.2, c - 0.3, r + 0.2)),
            1,
            "shape",
        )
        for r, c in product(WITHIN, range(1, 10))
    ]
    draft = _signs(list(product(range(1, 10), WITHIN)))
    whole = Draft(GRID, (*draft.items, *upright), Words())
    assert under_lines(whole, edges, np.full((220, 220), 0.1, np.float32), RASTER) == ()
