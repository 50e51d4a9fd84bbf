"""Dirt: small stray ink where no mark would stand, in a puzzle that needs none.

A speck, a crease or a crumb on the paper is ink, and the guard that explains all the ink asks about each. A person
tells dirt by its place: print sets its marks in the middles of cells and of their borders and on their corners, and
characters where the other characters of the page stand. What stands nowhere of these, is small, is drawn neither as a
dot nor as a stroke, and is nearly alone on its page is dirt, where no rule speaks of marks, none was seen, and the
givens alone leave exactly one solution: a setter's mark would have been superfluous.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box
from recognise.doubt.ways import LIKELIER
from recognise.draft import Alternative, Doubt, Draft, Given, Item
from recognise.geometry import bounds, holds, middle, overlap, within
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell
from schema.kinds.unread_mark import UnreadMark

FEW = 2
"""So many pieces of dirt may lie on a grid: the remains of a mark that has faded are more."""
COMPACT = 0.4
"""In cells: what is longer may be a piece of a line or of a wall."""
STROKE = 0.22
"""In cells: what is dark over more than this, or slim, may be a bar, or what is left of a character."""
SLIM = 0.35
"""As a part of its length: what is as slim may be a pale stroke."""
DOT, ROUND = 0.12, 0.75
"""In cells: what is dark and at least so wide both ways, and as a part of its longer side so wide the other way, may be
a dot."""
DARK = 0.6
"""Part of the contrast of the page's characters from which on ink is as dark as print."""
BLUR, FAINT = 0.04, 0.03
"""In cells: blur around a dark speck; ink (0 to 1) that is on average no more than paper: the palest line has twice as
much."""
PLACED = 0.08
"""In cells: how far from its place print sets the middle of a mark, the error of the lattice included."""
TINY = 0.1
"""In cells: a dark speck so small, with bare paper around it, is no part of a figure: strokes are longer."""
CORNER, SMALLEST = 0.35, 0.11
"""In cells: how far from two borders of its cell the middle of a small number may be, and how high one is at least."""
AROUND = 0.05
"""In cells: paper around the characters of a page in which a part of one may stand."""
ENOUGH = 8
"""Givens that tell where on this page characters stand."""
STRAYS = (5, 95)
"""Percentiles of the sides of the givens that count as the sides of their place: one in ten may stand on a fold."""


@dataclass(frozen=True, slots=True)
class _Print:
    """What the givens of a page have in common: their place in a cell and the contrast of their ink."""

    place: Box
    contrast: float


def without_dirt(draft: Draft, level: Grey, raster: Raster, written: Iterable[Cell] = ()) -> Draft:
    """The draft without doubts about dirt, where all ink that is asked about is dirt; else the draft itself. What lies
    on a given puts that in doubt instead: it may be a part of another digit. The draft is one of which exactly one
    solution was proved and whose rules speak of no marks. `level` is ink from 0 to 1 without shade and lattice lines;
    in the cells `written` somebody has written."""
    asked = [doubt for doubt in draft.doubts if _stray_of(doubt, draft) is not None]
    things = list(_apart(_stray_of(doubt, draft) or (0, 0, 0, 0) for doubt in asked))
    loose = {doubt.item for doubt in asked if doubt.item is not None}
    rest = {index: item for index, item in enumerate(draft.items) if index not in loose}
    if not things or not all(_is_given_or_rule(item) for item in rest.values()):
        return draft
    givens = {
        index: bounds(item.where)
        for index, item in rest.items()
        if isinstance(item.value, Given) and item.where is not None
    }
    if len(givens) < ENOUGH:
        return draft
    printed = _print_of(list(givens.values()), level, raster)
    under = {thing: index for thing in things for index, box in givens.items() if _is_on(thing, box, printed)}
    beside = [thing for thing in things if thing not in under]
    holding = {*written, *(cell for box in givens.values() if (cell := raster.cell_of(*middle(box))) is not None)}
    if len(beside) > FEW or not all(_is_dirt(thing, printed, level, raster, holding) for thing in beside):
        return draft
    items = (
        replace(item, value=(), how="inferred")
        if index in loose
        else _in_doubt(item, draft)
        if index in under.values()
        else item
        for index, item in enumerate(draft.items)
    )
    return replace(draft, items=tuple(items), doubts=tuple(doubt for doubt in draft.doubts if doubt not in asked))


def _is_on(thing: Box, given: Box, printed: _Print) -> bool:
    """Whether ink is that of a given: it lies on it, and not beyond the place of figures."""
    left, top = int(middle(given)[0]), int(middle(given)[1])
    x0, y0, x1, y1 = printed.place
    return overlap(thing, given) and within(thing, (left + x0, top + y0, left + x1, top + y1))


def _in_doubt(item: Item, draft: Draft) -> Item:
    """A given that may be any other digit of the grid."""
    if not isinstance(item.value, Given):
        return item
    others = [digit for digit in draft.grid.digits if digit != item.value.digit]
    sure = min(item.confidence, LIKELIER)
    alternatives = (Alternative(Given(item.value.cell, digit), (1 - sure) / len(others)) for digit in others)
    return replace(item, confidence=sure, alternatives=tuple(alternatives))


def _stray_of(doubt: Doubt, draft: Draft) -> Box | None:
    """Where the ink stands that a doubt asks about: stray ink, or a small character that belongs to nothing."""
    if doubt.item is None:
        return bounds(doubt.where) if doubt.stray and doubt.where is not None else None
    item = draft.items[doubt.item]
    if isinstance(item.value, Given) or item.where is None:
        return None
    small = [mark for mark in item.value if isinstance(mark, UnreadMark) and mark.shape == "small character"]
    return bounds(item.where) if small else None


def _apart(boxes: Iterable[Box]) -> Iterable[Box]:
    """Boxes without those that lie in others: both guards see the same ink."""
    kept: list[Box] = []
    for box in sorted(set(boxes), key=lambda b: (b[0] - b[2]) * (b[3] - b[1])):
        if not any(within(box, other) or holds(other, middle(box)) for other in kept):
            kept.append(box)
    return kept


def _is_given_or_rule(item: Item) -> bool:
    """Whether an item is no mark that a puzzle needs: a given, or a rule that holds for the grid as a whole."""
    return isinstance(item.value, Given) or all(constraint.marks == ("rule",) for constraint in item.value)


def _print_of(givens: Sequence[Box], level: Grey, raster: Raster) -> _Print:
    inside = np.array([(box[0] % 1, box[1] % 1, box[2] % 1, box[3] % 1) for box in givens])
    low, high = np.percentile(inside, STRAYS, axis=0)
    contrasts = [float(np.percentile(level[raster.slices(box)], 95)) for box in givens]
    place = (low[0] - AROUND, low[1] - AROUND, high[2] + AROUND, high[3] + AROUND)
    return _Print((float(place[0]), float(place[1]), float(place[2]), float(place[3])), float(np.median(contrasts)))


def _is_dirt(box: Box, printed: _Print, level: Grey, raster: Raster, holding: Collection[Cell]) -> bool:
    """Whether ink is too small for a mark and stands where none would. `holding` are the cells that hold characters."""
    core = _core(box, printed, level, raster)
    if core is not None and _is_drawn(core):
        return False
    if core is not None and _is_alone(core, box, level, raster):
        box = core
    short, long = sorted((box[2] - box[0], box[3] - box[1]))
    if long > COMPACT or (long > STROKE and short <= SLIM * long):
        return False
    x, y = middle(core or box)
    if abs(2 * x - round(2 * x)) <= 2 * PLACED and abs(2 * y - round(2 * y)) <= 2 * PLACED:
        return False
    cell = raster.cell_of(x, y)
    own = core or box
    in_corner = max(abs(x - round(x)), abs(y - round(y))) <= CORNER and not _crosses_a_line(own)
    if cell is None or (in_corner and own[3] - own[1] >= SMALLEST):
        return False
    left, top, right, bottom = printed.place
    tiny = core is not None and max(core[2] - core[0], core[3] - core[1]) < TINY and _is_alone(core, box, level, raster)
    return tiny or cell in holding or not (left <= x % 1 <= right and top <= y % 1 <= bottom)


def _crosses_a_line(box: Box) -> bool:
    """Whether a box lies on both sides of a lattice line."""
    return any(math.floor(low) != math.floor(high) for low, high in zip(box[:2], box[2:], strict=True))


def _is_alone(core: Box, box: Box, level: Grey, raster: Raster) -> bool:
    """Whether there is nothing but paper around the dark ink in a box: a filter for thin lines smears a speck."""
    (rows, columns), (own_rows, own_columns) = raster.slices(box), raster.slices(core, raster.px(BLUR))
    around = np.ones(level.shape, np.bool_)
    around[own_rows, own_columns] = False
    rest = level[rows, columns][around[rows, columns]]
    return not rest.size or float(rest.mean()) < FAINT


def _core(box: Box, printed: _Print, level: Grey, raster: Raster) -> Box | None:
    """The box of the ink in a box that is as dark as print; None where none is."""
    rows, columns = raster.slices(box)
    dark = np.argwhere(level[rows, columns] >= DARK * printed.contrast)
    if not len(dark):
        return None
    (top, left), (bottom, right) = dark.min(axis=0), dark.max(axis=0) + 1
    return raster.box(columns.start + int(left), rows.start + int(top), int(right - left), int(bottom - top))


def _is_drawn(core: Box) -> bool:
    """Whether dark ink may be a stroke or a dot."""
    short, long = sorted((core[2] - core[0], core[3] - core[1]))
    return long > STROKE or (short >= DOT and short >= ROUND * long)
