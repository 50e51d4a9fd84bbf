"""What of a page belongs to one grid: not the lattices, tables and strips of boxes beside it."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from ingest.page import Box, Page
from recognise.geometry import middle
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink
from recognise.vectors.lattices import line_groups
from recognise.vectors.patches import CELL, canvas_size
from recognise.vectors.place import Placement, image_to_frame
from recognise.vectors.runs import Lines

BESIDE, LARGEST_BESIDE = 0.9, 1.15
"""In cells: a mark outside the grid belongs to it up to this distance, and up to this size: that of a frame round a
number."""
OTHER_GRID = 0.2
"""In cells: how far another lattice may overlap this grid and still be another."""
OWN = 0.05
"""In cells: what reaches into the grid by less does not stand on it; a frame around it may touch it."""
RINGS, CLUE_BOX = 2, 0.1
"""So many rows of boxes beside the grid may be for its clues, and in cells: how far their lines are from where those
of the next cell are."""
SIDES = 2
"""Places of a cell in which the lines of such boxes stand: one where they share their sides."""
RIM = 0.02
"""In cells: what stands no farther outside another lattice is a line of its frame."""
FULL = 0.95
"""The part of a place of the lattice that its tint covers at least; a tag with a point covers less."""
WHOLE = 0.9
"""The part of the grid that a picture on which all of it stands covers at least."""


def other_figures(page: Page, placement: Placement) -> list[Box]:
    """The boxes, in cells, of lattices, tables and strips of boxes beside the grid; not of a strip whose boxes are as
    wide as its cells, for clues may stand in those. What lies within the grid is a mark or a character (the halo of a
    1 is drawn with upright lines too)."""
    boxes = []
    for across, down in line_groups(page):
        (left, right), (top, bottom) = across.reach, down.reach
        corners = np.array([(left, top), (right, bottom)]) * page.scale
        (left, top), (right, bottom) = placement.to_cells(image_to_frame(page, corners)).tolist()
        shared = min(min(right, placement.columns) - max(left, 0), min(bottom, placement.rows) - max(top, 0))
        within = left >= 0 and top >= 0 and right <= placement.columns and bottom <= placement.rows
        if shared <= OTHER_GRID and not within and not _for_clues(page, placement, across, down):
            boxes.append((left, top, right, bottom))
    return boxes


def _for_clues(page: Page, placement: Placement, across: Lines, down: Lines) -> bool:
    """Whether lines are those of boxes or tags for clues, one to a cell or so: there are few rows of them, and they
    repeat from cell to cell."""
    if min(len(across.at), len(down.at)) - 1 > RINGS:
        return False
    if len(down.at) >= len(across.at):
        points, axis = [(float(x), across.reach[0]) for x in down.at], 0
    else:
        points, axis = [(down.reach[0], float(y)) for y in across.at], 1
    places = placement.to_cells(image_to_frame(page, np.array(points) * page.scale))[:, axis]
    return float(np.ptp(places)) >= 1 - CLUE_BOX and _turns(places) <= SIDES


def _turns(places: NDArray[np.float64]) -> int:
    """In how many places of a cell lines stand."""
    parts = np.sort(places % 1)
    apart = np.diff(np.append(parts, parts[0] + 1)) > CLUE_BOX
    return max(1, int(apart.sum()))


def in_any(box: Box, others: Iterable[Box]) -> bool:
    """Whether a box stands in one of the others, or on its rim: their own outermost lines do."""
    x, y = middle(box)
    return any(left - RIM <= x <= right + RIM and top - RIM <= y <= bottom + RIM for left, top, right, bottom in others)


def belongs(ink: Ink, raster: Raster) -> bool:
    """Whether an ink stands on the grid, or is a small mark beside it; a place beside it that a table's program tinted
    is none, as little as several of them are."""
    rows, columns = raster.grid_slices(-raster.px(OWN))
    patch = ink.patch
    inside = patch.mask[
        max(0, rows.start - patch.top) : max(0, rows.stop - patch.top),
        max(0, columns.start - patch.left) : max(0, columns.stop - patch.left),
    ]
    if inside.any():
        return True
    left, top, right, bottom = ink.box
    away = max(-right, -bottom, left - raster.columns, top - raster.rows)
    return away <= BESIDE and max(right - left, bottom - top) <= LARGEST_BESIDE and not _is_tinted_place(ink)


def _is_tinted_place(ink: Ink) -> bool:
    """Whether an ink fills a place of the lattice, as this would go on beside the grid."""
    off = max(abs(at - round(at)) for at in ink.box)
    return ink.role == "fill" and off <= RIM and canvas_size(ink.whole) >= FULL * CELL**2


def pictures_on(page: Page, placement: Placement) -> list[Box]:
    """The parts of raster pictures that lie on the grid, in cells."""
    found = []
    for picture in page.vectors.pictures if page.vectors else ():
        left, top, right, bottom = placement.box(picture)
        box = (max(left, 0.0), max(top, 0.0), min(right, float(placement.columns)), min(bottom, float(placement.rows)))
        if box[2] - box[0] > OWN and box[3] - box[1] > OWN:
            found.append(box)
    return found


def covers(box: Box, placement: Placement) -> bool:
    """Whether a box, in cells, is the ground of the whole grid."""
    return (box[2] - box[0]) * (box[3] - box[1]) >= WHOLE * placement.rows * placement.columns
