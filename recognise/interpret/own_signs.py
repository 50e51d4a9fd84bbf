"""Signs of a publication's own in cells, folded corners and paw prints: shapes for which no reader has a name, alike in
several cells. They are what the one sentence speaks of of whose marks none was found; without one they stay unread."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from ingest.page import Box
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

LEAST, LEAST_SEEN = 2, 3
"""So many cells with a sign show that it is no chance; in a picture, where specks may be alike."""
SMALLEST = 0.15
"""In cells: specks in a picture are smaller than any sign."""
SEEN, UNKNOWN = 0.99, (128, 128, 128)
"""How sure it is of ink that stands in several cells alike that it is a sign; a colour that nobody has measured."""
WITHIN = 0.06
"""In cells: how far a sign in a cell reaches beyond it."""
ALIKE = 0.08
"""In cells: how much copies of a sign differ in size, and in where in their cell they stand."""
TOO_LARGE = 0.9
"""In cells: what is as large as its cell is its ground."""


def take_own_signs(making: Making, left: Left, stray: Sequence[Box] = ()) -> list[Box]:
    """Take what is left in cells for what a sentence speaks of, or leave open what it means where a sentence that may
    say so is not understood, or no rules are printed. `stray` are boxes of ink of a picture of which nobody knows
    more; those that are not taken are given back."""
    named = [shape for shape in left.shapes if shape.name not in CHARACTERS]
    large = [box for box in stray if min(box[2] - box[0], box[3] - box[1]) >= SMALLEST]
    nameless = [Shape("mark", box, UNKNOWN, "shape", SEEN) for box in large]
    taken: list[Shape] = []
    for shapes in (named, nameless):
        for mark, alike in _own_signs(shapes, left):
            pairs = paired({looks_of(mark): [mark]}, statements_alone(making.sheet, making.used, left), making.sheet)
            if pairs:
                take_paired(making, [mark], pairs[looks_of(mark)])
            elif making.is_open:
                leave_open(making, looks_of(mark), [mark])
            taken += alike if pairs or making.is_open else ()
    left.take_shapes(lambda shape: any(shape is one for one in taken))
    return [box for box in stray if not any(box is one.box for one in taken)]


def _own_signs(shapes: Iterable[Shape], left: Left) -> Iterator[tuple[Mark, Sequence[Shape]]]:
    """Each sign that stands in several cells, with the shapes that are its copies."""
    shapes = [shape for shape in shapes if _is_in_its_cell(shape, left)]
    while shapes:
        alike = [shape for shape in shapes if _is_copy(shape, shapes[0])]
        shapes = [shape for shape in shapes if not any(shape is one for one in alike)]
        cells = [cell for shape in alike if (cell := cell_at(middle(shape.box), left.size)) is not None]
        least = LEAST if alike[0].how == "vector" else LEAST_SEEN
        if len(set(cells)) == len(alike) >= least:
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
