"""Boxes round clues that stand against a grid's frame: lines all along a side of it that the lattice does not need."""

from __future__ import annotations

from itertools import product

import numpy as np

from recognise.vectors.place import Floats
from recognise.vectors.runs import Lines, gaps

BESIDE = 0.1
"""As a part of a cell: how far from its place a piece of a lattice line may lie."""
LACKS, WHOLE = 0.9, 0.6
"""In cells: so much lacks of the outer line of boxes of which one is missing, at a corner or where no clue stands; and
no more lacks of a frame, whose corners may be round."""
LEAST = 3
"""Rows or columns that are left."""

Ends = tuple[int, int]
"""How many lines are dropped at the start and at the end of one direction: none or one each."""


def without_clue_boxes(across: Lines, down: Lines, ys: Floats, xs: Floats) -> tuple[Floats, Floats]:
    """Where the lines of a lattice run, along x and along y, without those that only boxes beside its frame draw: such
    a line breaks off where a box is missing, and a frame never does."""
    if _lacking(across, down, ys, xs) < LACKS:
        return ys, xs
    ends = list(product((0, 1), (0, 1)))
    for rows, columns in sorted(product(ends, ends), key=lambda way: _unlikely(across, down, ys, xs, *way)):
        less_ys, less_xs = _without(ys, rows), _without(xs, columns)
        if min(len(less_ys), len(less_xs)) > LEAST and _lacking(across, down, less_ys, less_xs) <= WHOLE:
            return less_ys, less_xs
    return ys, xs


def _unlikely(across: Lines, down: Lines, ys: Floats, xs: Floats, rows: Ends, columns: Ends) -> tuple[int, int, int]:
    """The squarest lattice comes first, then the largest, then the one without the lines of which some lacks."""
    drop = [(across, ys, xs, 0, rows[0]), (across, ys, xs, -1, rows[1])]
    drop += [(down, xs, ys, 0, columns[0]), (down, xs, ys, -1, columns[1])]
    whole = sum(_gap(lines, at[end], along) <= WHOLE for lines, at, along, end, dropped in drop if dropped)
    return _shape(ys, xs, rows, columns), sum(rows) + sum(columns), whole


def _shape(ys: Floats, xs: Floats, rows: Ends, columns: Ends) -> int:
    """By how many cells the lattice that is left is longer one way than the other."""
    return abs((len(ys) - sum(rows)) - (len(xs) - sum(columns)))


def _without(places: Floats, ends: Ends) -> Floats:
    return places[ends[0] : len(places) - ends[1]]


def _lacking(across: Lines, down: Lines, ys: Floats, xs: Floats) -> float:
    """How much lacks of the one of four outer lines of which most does, in cells."""
    return max(
        _gap(lines, at[end], other) for lines, at, other in ((across, ys, xs), (down, xs, ys)) for end in (0, -1)
    )


def _gap(lines: Lines, at: float, along: Floats) -> float:
    """How much of its way, from the first to the last of the lines that it crosses, lacks of the line at a place: its
    longest gap, for where boxes of several cells meet their round corners leave one each; where every cell has a piece
    of its own, all gaps together."""
    first, last = float(along[0]), float(along[-1])
    count = len(along) - 1
    here = np.abs(lines.at - at) <= BESIDE * (last - first) / count
    lacking = gaps(lines.start[here], lines.end[here], first, last)
    each_cell = len(lacking) >= count - 1
    return (sum(lacking) if each_cell else max(lacking, default=0.0)) * count / (last - first)
