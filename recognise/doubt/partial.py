"""Areas of fewer cells than there are digits, of which the rules say only that no digit stands in them twice.

In a picture a cell of such an area may have been missed. Had it one cell more, the solution would obey that too, for
what was read leaves one solution: a cell whose digit the area has already is none of it. Any other beside it shows by
its ground whether it is of the area: that of such cells is as plain as that of the plain cells near it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from recognise.draft import Doubt, Draft, Given
from recognise.evidence import Flat
from recognise.interpret.making import lacks_cells
from recognise.pixels.frame import Raster
from recognise.rules import RuleSheet
from schema.cells import Cell
from schema.kinds.extra_region import ExtraRegion

INSIDE = 0.12
"""In cells: how far from its borders the ground of a cell is looked at."""
GROUND = 75
"""Percentile of what stands in a cell that is its ground, in each channel: figures and lines are darker."""
NEAR, ENOUGH = 2, 2
"""How many cells away the grounds are with which one is compared, and how many of each sort there are at least: light
falls off over a page."""
LEAST, PLAIN = 8.0, 0.15
"""Grey levels between area and plain cells at least, and as a part of these how far from plain a plain ground is."""

Grounds = npt.NDArray[np.float64]


def without_partial(
    draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None, tinted: Collection[Cell], flat: Flat
) -> Draft:
    """A draft that has this solution, without what is asked of areas for having few cells, where none can be missing;
    `tinted` are the cells with a tint."""
    if not _may_be_partial(sheet):
        return draft
    grounds = _grounds(flat)
    whole = {place for place in range(len(draft.items)) if _is_whole(draft, place, solution, tinted, grounds)}
    doubts = (doubt for doubt in draft.doubts if not (doubt.item in whole and _is_of_size(doubt, draft)))
    return replace(draft, doubts=tuple(doubts))


def _may_be_partial(sheet: RuleSheet | None) -> bool:
    """Whether all that the rules say of areas is that digits differ in them."""
    stated = [s for s in sheet.statements if s.kind == "extra-region" and not s.negated] if sheet else []
    return bool(stated) and all(s.fields.get("partial") for s in stated)


def _is_of_size(doubt: Doubt, draft: Draft) -> bool:
    cells = _area(draft, doubt.item) if doubt.item is not None else ()
    return doubt.why == lacks_cells(len(cells), len(draft.grid.digits))


def _area(draft: Draft, place: int) -> tuple[Cell, ...]:
    """The cells of an item that is one area."""
    value = draft.items[place].value
    if isinstance(value, Given) or len(value) != 1 or not isinstance(value[0], ExtraRegion):
        return ()
    return tuple(value[0].cells)


def _is_whole(
    draft: Draft, place: int, solution: Mapping[Cell, int], tinted: Collection[Cell], grounds: Grounds
) -> bool:
    """Whether an item is an area, and no cell beside it can be of it."""
    area = _area(draft, place)
    digits = {solution.get(cell) for cell in area}
    of_areas = {cell for other in range(len(draft.items)) for cell in _area(draft, other)}
    beside = {other for cell in area for other in _around(cell, 1, grounds)} - of_areas
    return bool(area) and all(
        solution.get(cell) in digits or (cell not in tinted and _is_plain(cell, area, tinted, grounds))
        for cell in beside
    )


def _around(cell: Cell, reach: int, grounds: Grounds) -> Iterator[Cell]:
    """The other cells so far around a cell."""
    rows, columns = grounds.shape[:2]
    for row in range(max(1, cell.row - reach), min(rows, cell.row + reach) + 1):
        for column in range(max(1, cell.column - reach), min(columns, cell.column + reach) + 1):
            if (row, column) != (cell.row, cell.column):
                yield Cell(row, column)


def _is_plain(cell: Cell, area: Collection[Cell], tinted: Collection[Cell], grounds: Grounds) -> bool:
    """Whether the ground of a cell is that of plain cells near it, and not that of an area."""
    near = list(_around(cell, NEAR, grounds))
    plain = [grounds[other.row - 1, other.column - 1] for other in near if other not in tinted]
    own = [grounds[other.row - 1, other.column - 1] for other in near if other in area]
    if len(plain) < ENOUGH or not own:
        return False
    usual = np.median(plain, axis=0)
    contrast = float(np.abs(np.median(own, axis=0) - usual).max())
    return contrast >= LEAST and bool(np.abs(grounds[cell.row - 1, cell.column - 1] - usual).max() <= PLAIN * contrast)


def _grounds(flat: Flat) -> Grounds:
    """The colour of the ground of each cell."""
    raster = Raster.of(flat)
    return np.array(
        [[_ground(flat, raster, row, column) for column in range(flat.columns)] for row in range(flat.rows)]
    )


def _ground(flat: Flat, raster: Raster, row: int, column: int) -> Grounds:
    inside = raster.slices((column + INSIDE, row + INSIDE, column + 1 - INSIDE, row + 1 - INSIDE))
    return np.asarray(np.percentile(flat.image[inside].reshape(-1, 3), GROUND, axis=0), np.float64)
