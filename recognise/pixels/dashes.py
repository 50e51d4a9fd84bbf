"""Dashes told from characters: they follow one another in line, each as long and as far from the next as the others.

One dash by itself is a 1 or a minus, and the corner of a dashed line with the dash over it is a J or a 7; put together
with a total that stands close to it, it spoils that. So whole rows of dashes, and the corners in which two rows meet,
are set aside before pieces of ink are put together to characters.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from recognise.quantiles import median

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

THIN = 0.07
"""In cells: a dash is no thicker."""
LONGEST = 0.32
"""In cells: and no longer."""
LONG = 0.6
"""Times its thickness that it is long at least: the dots of a dotted line may be a little flat."""
IN_LINE = 0.025
"""In cells: so much off the line of the others its middle may stand."""
ALIKE = 0.3
"""Part by which lengths, and distances, of dashes of one row differ from the usual one at most."""
FURTHEST = 2.6
"""The next dash is no further than so many lengths, from start to start."""
LEAST = 3
"""So many dashes make a row; an 11 has two strokes."""
CORNER = 0.28
"""In cells: the size of the corner of a dashed line at most."""
FAR = 1.6
"""Times the gap between the dashes of a row that a corner stands off its end at most."""
LEFT_OVER = 0.15
"""Part of a corner's ink that may lie off its two arms; of a figure in that place far more does."""


def dashes(labels: npt.NDArray[np.int32], boxes: Ints, chosen: Ints, cell: int) -> Ints:
    """Which of the `chosen` pieces are dashes, or corners of dashed lines. `labels` numbers the pixels of all pieces,
    `boxes` holds x, y, width and height in pixels of each; `cell` is the size of a cell in pixels."""
    own = boxes[chosen]
    found = np.zeros(len(own), dtype=np.bool_)
    ends = []
    for axis in (0, 1):
        rows = list(_rows(own, axis, cell))
        for row in rows:
            found[row] = True
        ends.append(_Ends.of(own, rows, axis, cell))
    small = np.nonzero((own[:, 2:].max(axis=1) <= CORNER * cell) & ~found)[0]
    for index, *rows_of_both in zip(small.tolist(), *(one.at(own[small]) for one in ends), strict=True):
        if min(rows_of_both) >= 0:
            (level, its_half), (upright, half) = (one.line(row) for one, row in zip(ends, rows_of_both, strict=True))
            x, y, width, height = (int(v) for v in own[index])
            mask = labels[y : y + height, x : x + width] == chosen[index]
            mask[np.abs(np.arange(y, y + height) + 0.5 - level) <= its_half] = False
            left = mask[:, np.abs(np.arange(x, x + width) + 0.5 - upright) > half]
            found[index] = left.sum() <= LEFT_OVER * (labels[y : y + height, x : x + width] == chosen[index]).sum()
    return chosen[found]


def _rows(boxes: Ints, axis: int, cell: int) -> Iterator[Ints]:
    """The rows of dashes along an axis (0: x, 1: y), as indices in order."""
    length, thick = boxes[:, 2 + axis], boxes[:, 3 - axis]
    thin = (thick <= max(2, THIN * cell)) & (length <= LONGEST * cell) & (length >= LONG * thick)
    off = boxes[:, 1 - axis] + thick / 2
    left = list(np.nonzero(thin)[0][np.argsort(off[thin], kind="stable")])
    while left:
        first = off[left[0]]
        stop = next((n for n, index in enumerate(left) if off[index] - first > 2 * IN_LINE * cell), len(left))
        line, left = left[:stop], left[stop:]
        yield from _runs(sorted(line, key=lambda index: int(boxes[index, axis])), boxes[:, axis], length)


def _runs(line: Sequence[int], start: Ints, length: Ints) -> Iterator[Ints]:
    """The stretches of a line in which dashes follow one another evenly."""
    if len(line) < LEAST:
        return
    usual = median(length[list(line)])
    members = [index for index in line if abs(length[index] - usual) <= max(1.0, ALIKE * usual)]
    if len(members) < LEAST:
        return
    steps = np.diff(start[members])
    near = steps[steps <= FURTHEST * usual]
    period = median(near) if near.size else 0.0
    even = np.abs(steps - period) <= max(1.0, ALIKE * period)
    run = [members[0]]
    for index, follows in zip(members[1:], even, strict=True):
        if not follows:
            if len(run) >= LEAST:
                yield np.asarray(run, np.int64)
            run = []
        run.append(index)
    if len(run) >= LEAST:
        yield np.asarray(run, np.int64)


@dataclass(frozen=True, slots=True)
class _Ends:
    """Where the rows of dashes along one axis end, one value a row, in pixels: their `middle` and half their width
    (`reach`) across the axis, where they begin and end along it, and how far off an end a corner may stand."""

    axis: int
    middle: Floats
    reach: Floats
    begin: Floats
    end: Floats
    slack: Floats

    @classmethod
    def of(cls, boxes: Ints, rows: Sequence[Ints], axis: int, cell: int) -> _Ends:
        """Of these rows of the pieces with these boxes."""
        across = 1 - axis
        told = np.zeros((len(rows), 5))
        for number, row in enumerate(rows):
            start, length = boxes[row, axis], boxes[row, 2 + axis]
            gap = median(np.diff(start)) - median(length)
            thick = median(boxes[row, 2 + across])
            middle = median(boxes[row, across] + boxes[row, 2 + across] / 2)
            slack = max(FAR * gap, 2.0)
            told[number] = middle, thick / 2 + IN_LINE * cell, start[0], start[-1] + length[-1], slack
        return cls(axis, *told.T)

    def at(self, boxes: Ints) -> Ints:
        """Of each piece the row that ends at it, with one side of the piece in its line; -1 where there is none."""
        if not len(self.middle):
            return np.full(len(boxes), -1)
        x, across = boxes[:, self.axis, None], boxes[:, 1 - self.axis, None]
        sides = np.abs(across - self.middle), np.abs(across + boxes[:, 3 - self.axis, None] - self.middle)
        in_line = np.minimum(*sides) <= self.reach
        off = np.maximum(self.begin - x - boxes[:, 2 + self.axis, None], x - self.end)
        ending = in_line & (off >= -1) & (off <= self.slack)
        return np.where(ending.any(axis=1), ending.argmax(axis=1), -1)

    def line(self, row: int) -> tuple[float, float]:
        """The middle of a row, and half its width."""
        return float(self.middle[row]), float(self.reach[row])
