"""Grids that are quilts: boxes are told apart by their colours, of which there are several, and no cell need be white.

Elsewhere the brightest cells are paper, and each tint is what is darker than they. Here the paper lies around the grid.
A box has one colour: what its cells differ by is noise, and the steps along all its border with another box say best
by what the two differ. So colours count that are too pale to be seen cell by cell."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from recognise.grids.boxes import Boxes, boxes_by_steps
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

PLAIN = 0.75
"""How clearly colours part all cells into boxes where nothing else that they may mean does so."""
NOISE = 0.004
"""Steps of log colour up to this are alike: one level of 255."""
SHADES, APART = 3, 0.04
"""Boxes that are equal rectangles have so many shades, in log colour so far apart: two are the light and dark boxes of
newspapers, among which other cells may be tinted."""


def quilt_boxes(down: Floats, right: Floats) -> Boxes | None:
    """The boxes of a grid that may be a quilt by the steps of log colour from each cell to the one below it and right
    of it (the last axis are the channels); None where it is none."""
    boxes = boxes_by_steps(*(np.abs(steps).max(axis=-1) + NOISE for steps in (down, right)))
    return boxes if boxes is not None and boxes.confidence >= PLAIN else None


def is_quilt(boxes: Boxes, levels: Floats) -> bool:
    """Whether boxes with these levels (log colours) of their cells are those of a quilt."""
    shades: list[Floats] = []
    for level in levels.reshape(-1, 3):
        if all(np.abs(level - shade).max() >= APART for shade in shades):
            shades.append(level)
    return boxes.by == "irregular" or len(shades) >= SHADES


def even_steps(boxes: Sequence[Sequence[Cell]], down: Floats, right: Floats) -> tuple[Floats, Floats]:
    """The steps that quilts of these boxes have: none within a box, and between two boxes the same all along."""
    box_of = np.zeros((right.shape[0], down.shape[1]), np.intp)
    for number, cells in enumerate(boxes):
        for cell in cells:
            box_of[cell.row - 1, cell.column - 1] = number
    borders: dict[tuple[int, int], list[Floats]] = defaultdict(list)
    sides = ((down, box_of[:-1], box_of[1:]), (right, box_of[:, :-1], box_of[:, 1:]))
    for steps, before, after in sides:
        for one, other, step in zip(before.ravel().tolist(), after.ravel().tolist(), steps.reshape(-1, 3), strict=True):
            borders[min(one, other), max(one, other)].append(step if one < other else -step)
    middles = {pair: np.median(steps, axis=0) for pair, steps in borders.items()}
    found = []
    for steps, before, after in sides:
        evened = np.zeros_like(steps)
        for place in np.ndindex(before.shape):
            one, other = int(before[place]), int(after[place])
            if one != other:
                evened[place] = middles[min(one, other), max(one, other)] * (1 if one < other else -1)
        found.append(evened)
    return found[0], found[1]


def of_one_colour_each(boxes: Sequence[Sequence[Cell]], levels: Floats) -> Floats:
    """The levels of the cells of boxes, each with the middle one of its box: steps round about do not quite agree."""
    evened = levels.copy()
    for cells in boxes:
        at = [cell.row - 1 for cell in cells], [cell.column - 1 for cell in cells]
        evened[at] = np.median(levels[at], axis=0)
    return evened


def on_paper(levels: Floats, ground: Floats, inner: tuple[slice, slice]) -> Floats:
    """The levels (log colour) of the cells of a quilt, which are known but for a constant, on the paper around it;
    `ground` is that of all cells of the picture, those of the grid at `inner`."""
    top, left = inner[0].start, inner[1].start
    beside = []
    for row, column in np.ndindex(levels.shape[:2]):
        for y, x in ((row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)):
            outside = not (0 <= y < levels.shape[0] and 0 <= x < levels.shape[1])
            if outside and 0 <= top + y < ground.shape[0] and 0 <= left + x < ground.shape[1]:
                beside.append(ground[top + row, left + column] - levels[row, column] - ground[top + y, left + x])
    lightest = -levels.max(axis=(0, 1))
    return np.asarray(levels + np.minimum(np.median(beside, axis=0), lightest) if beside else levels + lightest)
