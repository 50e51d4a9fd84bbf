"""Signs of a publication's own in cells, folded corners and paw prints: shapes for which no reader has a name, alike in
several cells. They are what the one sentence speaks of of whose marks none was found; without one they stay unread."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from recognise.draft import box_polygon
from recognise.evidence import Shape
from recognise.geometry import middle
from recognise.interpret.cellmarks import cell_mark
from recognise.interpret.colours import SAME, apart
from recognise.interpret.making import Making
from recognise.interpret.mark import CHARACTERS, Left, Mark
from recognise.interpret.paired import paired, statements_alone
from recognise.interpret.places import cell_at
from recognise.interpret.undecided import leave_open, looks_of, take_paired

LEAST = 2
"""So many cells with a sign show that it is no chance."""
WITHIN = 0.04
"""In cells: how far a sign in a cell reaches beyond it."""
ALIKE = 0.08
"""In cells: how much copies of a sign differ in size, and in where in their cell they stand."""
TOO_LARGE = 0.9
"""In cells: what is as large as its cell is its ground."""


def take_own_signs(making: Making, left: Left) -> None:
    """Take what is left in cells for what a sentence speaks of, or leave open what it means where a sentence that may
    say so is not understood, or no rules are printed."""
    for mark, shapes in _own_signs(left):
        pairs = paired({looks_of(mark): [mark]}, statements_alone(making.sheet, making.used, left), making.sheet)
        if not pairs and not making.is_open:
            continue
        left.shapes = [shape for shape in left.shapes if not any(shape is one for one in shapes)]
        if pairs:
            take_paired(making, [mark], pairs[looks_of(mark)])
        else:
            leave_open(making, looks_of(mark), [mark])


def _own_signs(left: Left) -> Iterator[tuple[Mark, Sequence[Shape]]]:
    """Each sign that stands in several cells, with the shapes that are its copies."""
    shapes = [shape for shape in left.shapes if shape.name not in CHARACTERS and _is_in_its_cell(shape, left)]
    while shapes:
        alike = [shape for shape in shapes if _is_copy(shape, shapes[0])]
        shapes = [shape for shape in shapes if not any(shape is one for one in alike)]
        cells = [cell for shape in alike if (cell := cell_at(middle(shape.box), left.size)) is not None]
        if len(set(cells)) == len(alike) >= LEAST:
            look = (alike[0].colour, None)
            places = [
                (cell, shape.where or box_polygon(shape.box), shape.confidence)
                for cell, shape in zip(cells, alike, strict=True)
            ]
            yield cell_mark("mark", look, places, alike), alike


def _is_in_its_cell(shape: Shape, left: Left) -> bool:
    x0, y0, x1, y1 = shape.box
    cell = cell_at(middle(shape.box), left.size)
    if cell is None or max(x1 - x0, y1 - y0) > TOO_LARGE:
        return False
    inner = x0 - cell.column + 1, y0 - cell.row + 1, cell.column - x1, cell.row - y1
    return min(inner) >= -WITHIN


def _is_copy(shape: Shape, other: Shape) -> bool:
    offsets = [v - math.floor(v) for one in (shape, other) for v in middle(one.box)]
    sizes = [(one.box[2] - one.box[0], one.box[3] - one.box[1]) for one in (shape, other)]
    near = math.dist(offsets[:2], offsets[2:]) <= ALIKE and math.dist(*sizes) <= ALIKE
    return near and shape.name == other.name and apart(shape.colour, other.colour) <= SAME
