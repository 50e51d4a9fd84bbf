"""Boxes of a grid: by thick lines, or by tints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ingest.page import Box
from recognise.evidence import Edges, Tint
from recognise.grids.covered import covered
from recognise.grids.grown import Array, Labels, agglomerated, completed, connected
from schema.cells import Cell

Region = tuple[Cell, ...]
By = Literal["regular", "irregular", "tint", "none"]

SAME_INK = 1.35
"""Thick lines hold at least so many times the ink of thin ones; less is uneven printing."""
MOST_SPLITS = 3
"""So many ways to part thick lines from thin ones are tried: hair lines that a camera lost are a third kind."""
WRONG_AT_MOST = 0.12
"""Share of edges on the wrong side (worn, hidden by marks) that boxes by thickness may have."""
TINT_SHARE = 0.5
"""A cell is tinted when at least this much of it is."""
PAPER = 255.0
"""The colour of untinted cells: tints are measured as on white paper."""
TINT_NOISE = 2.5
"""Difference of colour (RGB distance) that two cells of one tint may have; the palest steps between tints in print are
three times that."""
EITHER_WAY = 0.5
"""How sure boxes are at most which go another way where marks hide the lines."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """The boxes that a grid's looks show: `cells` of each box, row by row; None where it has none. `by` says what
    shows them, `confidence` (0 to 1) how clearly; `alternatives` are other ways to see them, likeliest first."""

    cells: tuple[Region, ...] | None
    by: By
    confidence: float
    alternatives: tuple[tuple[Region, ...] | None, ...] = ()


def boxes_from(edges: Edges, tints: Sequence[Tint] = (), marks: Sequence[Box] = ()) -> Boxes:
    """Boxes by the thickness of the lattice lines, else by tints; boxes have as many cells as the longer side has.
    `marks` are the boxes, in cells, of what may hide lattice lines: nobody knows how thick those are."""
    rows, columns = edges.vertical.shape[0], edges.horizontal.shape[1]
    down, right = (
        np.where(hidden, np.nan, ink)
        for hidden, ink in zip(covered(marks, rows, columns), _inner_ink(edges), strict=True)
    )
    views = (*_views(down, right), *_by_tint(rows, columns, tints))
    found = sorted((view for view in views if view is not None), key=lambda view: -view.confidence)
    if not found and marks:
        # Where signs stand on all lines but those of the boxes, only what is seen beside the signs parts them.
        found = [view for view in _views(*_inner_ink(edges)) if view is not None and view.by == "regular"]
    plain = Boxes(None, "none", _evenness(down, right))
    if not found:
        return plain
    best = found[0]
    rest = [view.cells for view in (*found[1:], plain) if view.cells != best.cells]
    return Boxes(best.cells, best.by, best.confidence, tuple(dict.fromkeys(rest)))


def thick_regions(edges: Edges) -> tuple[Region, ...]:
    """The regions that thick inner lines cut the grid into, of any size: blocks that stand for cages. One region, the
    whole grid, where no line is thicker than others."""
    down, right = _inner_ink(edges)
    limits = [*_splits(np.concatenate([down.ravel(), right.ravel()])), np.inf]
    return _regions(connected(down < limits[0], right < limits[0]))


def _inner_ink(edges: Edges) -> tuple[Array, Array]:
    """Ink (thickness x darkness) between each cell and the one below it, and the one right of it."""
    down = (edges.horizontal * edges.horizontal_darkness)[1:-1]
    right = (edges.vertical * edges.vertical_darkness)[:, 1:-1]
    return down, right


def _splits(ink: Array) -> list[float]:
    """The inks that may part thick lines from thin ones: the widest gaps between values, as a ratio, widest first,
    with at least two edges of either kind; none where all lines are alike."""
    values = np.sort(np.maximum(ink, 1e-4))
    ratios = values[2:-1] / values[1:-2]
    widest = [at for at in np.argsort(-ratios, kind="stable")[:MOST_SPLITS] if ratios[at] >= SAME_INK]
    return [float(np.sqrt(values[at + 1] * values[at + 2])) for at in widest]


def _evenness(down: Array, right: Array) -> float:
    """How sure it is that all inner lines are alike: 1 when the thickest tenth holds no more ink than the rest."""
    ink = _seen(down, right)
    middle, high = np.quantile(ink, [0.5, 0.95])
    return float(np.clip(1 - (high / max(middle, 1e-6) - 1) / 2, 0, 1))


def _seen(down: Array, right: Array) -> Array:
    """The ink of all edges that no mark hides; 0 where there are none."""
    ink = np.concatenate([down.ravel(), right.ravel()])
    return ink[~np.isnan(ink)] if not np.isnan(ink).all() else np.zeros(1)


def _views(down: Array, right: Array) -> Iterator[Boxes | None]:
    """Boxes that what parts neighbouring cells may show: equal rectangles, then any shapes."""
    rows, columns = right.shape[0], down.shape[1]
    size = max(rows, columns)
    if rows * columns % size:
        return
    for labels in _regular(rows, columns, size):
        yield _judged(labels, down, right, "regular")
    yield from _grown(down, right, size)


def _grown(down: Array, right: Array, size: int) -> Iterator[Boxes | None]:
    """Boxes of any shapes; unsure ones where those go another way that the hidden lines allow."""
    ways: list[Labels] = []
    if np.isnan(down).any() or np.isnan(right).any():
        tried = (completed(down, right, limit, size) for limit in _splits(_seen(down, right)))
        ways = next((found for found in tried if found), [])
    grown = agglomerated(down, right, size)
    if not ways and grown is not None:
        ways = [grown]
    for labels in ways:
        view = _judged(labels, down, right, "irregular")
        yield view if view is None or len(ways) == 1 else replace(view, confidence=min(view.confidence, EITHER_WAY))


def _judged(labels: Labels, down: Array, right: Array, by: By) -> Boxes | None:
    """Boxes, if the lines on their borders hold more ink than those inside them."""
    border = np.concatenate([(labels[1:] != labels[:-1]).ravel(), (labels[:, 1:] != labels[:, :-1]).ravel()])
    ink = np.concatenate([down.ravel(), right.ravel()])
    border, ink = border[~np.isnan(ink)], ink[~np.isnan(ink)]
    if not border.any() or border.all():
        return None
    thick, thin = np.median(ink[border]), max(float(np.median(ink[~border])), 1e-4)
    if thick < SAME_INK * thin:
        return None
    limit = np.sqrt(thick * thin)
    wrong = (float((ink[border] < limit).mean()) + float((ink[~border] >= limit).mean())) / 2
    if wrong > WRONG_AT_MOST:
        return None
    contrast = float(np.clip((thick / thin - 1) / (2 * SAME_INK - 2), 0, 1))
    return Boxes(_regions(labels), by, (1 - wrong / WRONG_AT_MOST) * (0.5 + 0.5 * contrast))


def _regular(rows: int, columns: int, size: int) -> Iterator[Labels]:
    """Every way to cut the grid into equal rectangles of `size` cells, other than whole rows or columns."""
    for height in range(2, size):
        width = size // height
        if height * width == size and width > 1 and rows % height == 0 and columns % width == 0:
            row, column = np.indices((rows, columns))
            yield np.asarray(row // height * (columns // width) + column // width, np.intp)


def boxes_by_steps(down: Array, right: Array) -> Boxes | None:
    """The boxes that steps of any sort show between each cell and the one below it, and right of it; None where they
    show none."""
    views = [view for view in _views(down, right) if view is not None]
    return max(views, key=lambda view: view.confidence, default=None)


def _by_tint(rows: int, columns: int, tints: Sequence[Tint]) -> Iterator[Boxes]:
    """Boxes whose tints differ from those of all boxes beside them."""
    colours = np.full((rows, columns, 3), PAPER)
    for tint in tints:
        if tint.share >= TINT_SHARE:
            colours[tint.cell.row - 1, tint.cell.column - 1] = tint.colour
    steps = [np.linalg.norm(np.diff(colours, axis=axis), axis=-1) + TINT_NOISE for axis in (0, 1)]
    for view in _views(*steps):
        if view is not None:
            yield replace(view, by="tint")


def _regions(labels: Labels) -> tuple[Region, ...]:
    """The cells of each label, regions and cells in reading order."""
    regions: dict[int, list[Cell]] = {}
    for (row, column), label in np.ndenumerate(labels):
        regions.setdefault(int(label), []).append(Cell(row + 1, column + 1))
    return tuple(tuple(cells) for cells in regions.values())
