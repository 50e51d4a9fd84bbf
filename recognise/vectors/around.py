"""Marks in several pieces round the middle of a cell: brackets or triangles in its corners, a frame with gaps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import box_of_all, middle
from recognise.pixels.frame import Raster
from recognise.vectors.inks import near
from recognise.vectors.patches import CELL
from recognise.vectors.signs import Compound
from schema.cells import Cell

LEAST, EVEN = 0.5, 0.05
"""In cells: the side of the box round all pieces, and how much its sides differ at most; it has the middle of its
cell."""
MIRRORED = 0.03
"""In cells: how exactly a piece has its like across the middle."""
FREE = 0.5
"""The part of the box about the middle that is free: figures side by side leave none there."""
AT_CORNER = 0.12
"""As a part of the box: how near to each of its corners there is ink."""
SAME, SHARP = 0.01, 0.018
"""In cells: how exactly all outlines have their like across both middle lines, and how near they come to the corners of
their own box: four figures, drawn as paths, have no such likeness, and what is round stays away from the corners."""

Points = npt.NDArray[np.float64]


def take_around(marks: Sequence[Compound], raster: Raster) -> tuple[list[Shape], list[Compound]]:
    """The cells' frames in several pieces, as squares, and the other marks."""
    by_cell: dict[Cell, list[Compound]] = {}
    for mark in marks:
        cell = raster.cell_of(*middle(mark.box))
        if cell is not None and _is_beside_middle(mark.box, cell):
            by_cell.setdefault(cell, []).append(mark)
    found: list[Shape] = []
    taken: set[int] = set()
    for cell, pieces in by_cell.items():
        for colour in dict.fromkeys(piece.inks[0].colour for piece in pieces):
            alike = [piece for piece in pieces if near(piece.inks[0].colour, colour) and id(piece) not in taken]
            its = [piece for piece in alike if any(_is_across(piece.box, other.box, cell) for other in alike)]
            box = box_of_all(piece.box for piece in its) if its else None
            if box is not None and _is_square(box) and _are_around(its, box, raster) and _is_frame(its):
                found.append(Shape("square", box, colour, "vector", filled=False))
                taken |= {id(piece) for piece in its}
    return found, [mark for mark in marks if id(mark) not in taken]


def _is_beside_middle(box: Box, cell: Cell) -> bool:
    """Whether a box lies within a cell and not on its middle."""
    (x, y), half = cell.centre, LEAST * FREE / 2
    inside = x - 0.5 <= box[0] and y - 0.5 <= box[1] and box[2] <= x + 0.5 and box[3] <= y + 0.5
    return inside and (box[2] <= x - half or box[0] >= x + half or box[3] <= y - half or box[1] >= y + half)


def _is_across(one: Box, other: Box, cell: Cell) -> bool:
    """Whether one box is where the other comes when turned half round the middle of their cell."""
    (x, y) = cell.centre
    turned = 2 * x - other[2], 2 * y - other[3], 2 * x - other[0], 2 * y - other[1]
    return max(abs(a - b) for a, b in zip(one, turned, strict=True)) <= MIRRORED


def _is_square(box: Box) -> bool:
    across, down = box[2] - box[0], box[3] - box[1]
    return min(across, down) >= LEAST and abs(across - down) <= EVEN


def _are_around(pieces: Sequence[Compound], box: Box, raster: Raster) -> bool:
    """Whether there is ink at each corner of the box, and none about its middle."""
    left, top = raster.at(box[0]), raster.at(box[1])
    side = round(max(box[2] - box[0], box[3] - box[1]) * CELL)
    canvas = np.zeros((side + 1, side + 1), np.bool_)
    for piece in pieces:
        ys, xs = np.nonzero(piece.patch.mask)
        ys, xs = ys + piece.patch.top - round(top), xs + piece.patch.left - round(left)
        inside = (ys >= 0) & (xs >= 0) & (ys <= side) & (xs <= side)
        canvas[ys[inside], xs[inside]] = True
    near_by, free = max(2, round(AT_CORNER * side)), slice(round((1 - FREE) / 2 * side), round((1 + FREE) / 2 * side))
    ends = slice(None, near_by), slice(-near_by, None)
    return all(canvas[down, across].any() for down in ends for across in ends) and not canvas[free, free].any()


def _is_frame(pieces: Sequence[Compound]) -> bool:
    """Whether the outlines of all pieces together are the same from left and right, and from above and below, and have
    corners."""
    points = np.concatenate([outline for piece in pieces for ink in piece.inks for outline in ink.outlines])
    ends = np.array([points.min(axis=0), points.max(axis=0)])
    corners = np.array([(x, y) for x in ends[:, 0] for y in ends[:, 1]])
    mirrored = [np.where(axis, ends.sum(axis=0) - points, points) for axis in ((True, False), (False, True))]
    if max(_farthest(each, points) for each in mirrored) > SAME:
        return False
    return _farthest(corners, points) <= SHARP


def _farthest(points: Points, others: Points) -> float:
    """How far from the nearest of some points that one is which is farthest from them."""
    return float(max(np.hypot(*(others - point).T).min() for point in points))
