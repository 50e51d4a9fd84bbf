"""Boxes of a grid: by thick lines, or by tints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from recognise.evidence import Edges, Tint
from schema.cells import Cell

Array = npt.NDArray[np.float64]
Labels = npt.NDArray[np.intp]
"""The box that each cell is in, (rows, columns)."""
Region = tuple[Cell, ...]
By = Literal["regular", "irregular", "tint", "none"]

SAME_INK = 1.35
"""Thick lines hold at least so many times the ink of thin ones; less is uneven printing."""
WRONG_AT_MOST = 0.12
"""Share of edges on the wrong side (worn, hidden by marks) that boxes by thickness may have."""
TINT_SHARE = 0.5
"""A cell is tinted when at least this much of it is."""
PAPER = 255.0
"""The colour of untinted cells: tints are measured as on white paper."""
TINT_NOISE = 2.5
"""Difference of colour (RGB distance) that two cells of one tint may have; the palest steps between tints in print are
three times that."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """The boxes that a grid's looks show: `cells` of each box, row by row; None where it has none. `by` says what
    shows them, `confidence` (0 to 1) how clearly; `alternatives` are other ways to see them, likeliest first."""

    cells: tuple[Region, ...] | None
    by: By
    confidence: float
    alternatives: tuple[tuple[Region, ...] | None, ...] = ()


def boxes_from(edges: Edges, tints: Sequence[Tint] = ()) -> Boxes:
    """Boxes by the thickness of the lattice lines, else by tints; boxes have as many cells as the longer side has."""
    rows, columns = edges.vertical.shape[0], edges.horizontal.shape[1]
    down, right = _inner_ink(edges)
    views = (*_views(down, right), *_by_tint(rows, columns, tints))
    found = sorted((view for view in views if view is not None), key=lambda view: -view.confidence)
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
    limit = _split(np.concatenate([down.ravel(), right.ravel()]))
    return _regions(_connected(down < limit, right < limit))


def _inner_ink(edges: Edges) -> tuple[Array, Array]:
    """Ink (thickness x darkness) between each cell and the one below it, and the one right of it."""
    down = (edges.horizontal * edges.horizontal_darkness)[1:-1]
    right = (edges.vertical * edges.vertical_darkness)[:, 1:-1]
    return down, right


def _split(ink: Array) -> float:
    """The ink that best parts thick lines from thin ones: the widest gap between values, as a ratio, with at least
    two edges of either kind; infinite where all lines are alike."""
    values = np.sort(np.maximum(ink, 1e-4))
    if len(values) < 4:
        return float("inf")
    ratios = values[2:-1] / values[1:-2]
    at = int(ratios.argmax())
    return float(np.sqrt(values[at + 1] * values[at + 2])) if ratios[at] >= SAME_INK else float("inf")


def _evenness(down: Array, right: Array) -> float:
    """How sure it is that all inner lines are alike: 1 when the thickest tenth holds no more ink than the rest."""
    ink = np.concatenate([down.ravel(), right.ravel()])
    middle, high = np.quantile(ink, [0.5, 0.95])
    return float(np.clip(1 - (high / max(middle, 1e-6) - 1) / 2, 0, 1))


def _views(down: Array, right: Array) -> Iterator[Boxes | None]:
    """Boxes that what parts neighbouring cells may show: equal rectangles, then any shapes."""
    rows, columns = right.shape[0], down.shape[1]
    size = max(rows, columns)
    if rows * columns % size:
        return
    for labels in _regular(rows, columns, size):
        yield _judged(labels, down, right, "regular")
    grown = _agglomerated(down, right, size)
    if grown is not None:
        yield _judged(grown, down, right, "irregular")


def _judged(labels: Labels, down: Array, right: Array, by: By) -> Boxes | None:
    """Boxes, if the lines on their borders hold more ink than those inside them."""
    border = np.concatenate([(labels[1:] != labels[:-1]).ravel(), (labels[:, 1:] != labels[:, :-1]).ravel()])
    ink = np.concatenate([down.ravel(), right.ravel()])
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


def _agglomerated(down: Array, right: Array, size: int) -> Labels | None:
    """Boxes of `size` cells grown by joining, again and again, the two neighbours that the least ink on average parts
    (average linkage), never beyond `size`: one worn edge does not open a box. None where cells are left over."""
    rows, columns = right.shape[0], down.shape[1]
    labels = np.arange(rows * columns).reshape(rows, columns)
    ink: dict[tuple[int, int], tuple[float, int]] = {}
    for value, one, other in _neighbours(down, right, labels):
        ink[min(one, other), max(one, other)] = (value, 1)
    counts = dict.fromkeys(range(rows * columns), 1)
    while ink:
        pair = min(ink, key=lambda key: (ink[key][0] / ink[key][1], key))
        del ink[pair]
        if counts[pair[0]] + counts[pair[1]] > size:
            continue
        _join(pair, ink, counts, labels)
    return labels if set(counts.values()) == {size} else None


def _join(
    pair: tuple[int, int], ink: dict[tuple[int, int], tuple[float, int]], counts: dict[int, int], labels: Labels
) -> None:
    kept, gone = pair
    counts[kept] += counts.pop(gone)
    labels[labels == gone] = kept
    for key in [key for key in ink if gone in key]:
        other = key[0] if key[1] == gone else key[1]
        total, edges = ink.pop(key)
        new = min(kept, other), max(kept, other)
        before = ink.get(new, (0.0, 0))
        ink[new] = (before[0] + total, before[1] + edges)


def _neighbours(down: Array, right: Array, labels: Labels) -> Iterator[tuple[float, int, int]]:
    for (row, column), value in np.ndenumerate(down):
        yield float(value), int(labels[row, column]), int(labels[row + 1, column])
    for (row, column), value in np.ndenumerate(right):
        yield float(value), int(labels[row, column]), int(labels[row, column + 1])


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


def _connected(down: npt.NDArray[np.bool_], right: npt.NDArray[np.bool_]) -> Labels:
    """Labels of the cells that open edges join."""
    labels = np.arange(right.shape[0] * down.shape[1]).reshape(right.shape[0], down.shape[1])
    before = None
    while before is None or (before != labels).any():
        before = labels.copy()
        for one, other, is_open in (
            (labels[:-1], labels[1:], down),
            (labels[:, :-1], labels[:, 1:], right),
        ):
            least = np.minimum(one, other)
            one[is_open] = least[is_open]
            other[is_open] = np.minimum(one, other)[is_open]
    return np.asarray(labels, np.intp)


def _regions(labels: Labels) -> tuple[Region, ...]:
    """The cells of each label, regions and cells in reading order."""
    regions: dict[int, list[Cell]] = {}
    for (row, column), label in np.ndenumerate(labels):
        regions.setdefault(int(label), []).append(Cell(row + 1, column + 1))
    return tuple(tuple(cells) for cells in regions.values())
