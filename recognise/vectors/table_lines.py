"""The lines of a table's head and stub, beside the grid that is its body: all lattice lines go on there, in one stroke
or in pieces of their own, as far as a line that closes the row or column of places for clues."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import get_args

from ingest.page import Box
from recognise.geometry import seen_from
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink
from schema.grid import Side

THIN = 0.1
"""In cells: lines are no thicker."""
OFF = 0.05
"""In cells: how far a line may lie off its place, and how much the lines of one head differ in how far they go on."""
LEAST, MOST = 0.3, 2.5
"""In cells: how far they go on: a clue has room there, or two of them."""
ALL_ALONG = 0.9
"""The part of a side along which a closing line runs at least."""

LEVEL: tuple[Side, ...] = ("top", "bottom")
"""The sides that clues stand along from left to right."""

Straight = tuple[int, float, float, float, float]
"""Index of an ink; where it lies across a side, outwards, from and to; and where along it, from and to."""


@dataclass(slots=True)
class TableLines:
    """The indices of the inks that draw nothing else, and the boxes, in cells, of what such lines ink."""

    inks: set[int] = field(default_factory=set)
    rails: list[Box] = field(default_factory=list)


def table_lines(inks: Sequence[Ink], raster: Raster) -> TableLines:
    """The lines of heads and stubs on all four sides of a grid."""
    found = TableLines()
    for side in get_args(Side):
        length = raster.columns if side in LEVEL else raster.rows
        lines = list(_straight(inks, side, raster))
        spokes = _spokes(lines, length)
        if not spokes:
            continue
        far = max(line[2] for line in spokes)
        closing = [line for line in lines if _closes(line, length, far)]
        found.inks |= {line[0] for line in (*spokes, *closing) if line[1] >= -OFF}
        found.rails += (_box(line, side, raster) for line in (*spokes, *closing))
    return found


def _straight(inks: Iterable[Ink], side: Side, raster: Raster) -> Iterator[Straight]:
    """The thin upright and level lines, as seen from a side."""
    for index, ink in enumerate(inks):
        left, top, right, bottom = ink.box
        if min(right - left, bottom - top) <= THIN:
            along, away = seen_from(side, ink.box, raster.rows, raster.columns)
            yield (index, *away, *along)


def _spokes(lines: Sequence[Straight], length: int) -> list[Straight]:
    """The lines square to a side that lengthen lattice lines, if all inner ones go on, equally far."""
    on_places = (line for line in lines if _place(line, length) is not None)
    going_on = [line for line in on_places if line[1] <= OFF and LEAST <= line[2] <= MOST]
    for far in sorted({line[2] for line in going_on}):
        level = [line for line in going_on if 0 <= line[2] - far <= OFF]
        if length > 1 and {_place(line, length) for line in level}.issuperset(range(1, length)):
            return level
    return []


def _place(line: Straight, length: int) -> int | None:
    """Which lattice line a thin line square to a side lies on."""
    middle = (line[3] + line[4]) / 2
    place = round(middle)
    on_line = line[4] - line[3] <= THIN and abs(middle - place) <= OFF and 0 <= place <= length
    return place if on_line else None


def _closes(line: Straight, length: int, far: float) -> bool:
    """Whether a line runs along the side, beside the grid, no farther off than others go on."""
    _, near, end, start, stop = line
    along = min(stop, length) - max(start, 0.0)
    return end - near <= THIN and LEAST <= end <= far + OFF and along >= ALL_ALONG * length


def _box(line: Straight, side: Side, raster: Raster) -> Box:
    """What a line inks beside the grid, in cells of the grid."""
    _, near, far, start, stop = line
    near = max(near, 0.0)
    base = {"right": raster.columns, "bottom": raster.rows}.get(side, 0)
    low, high = (base + near, base + far) if base else (-far, -near)
    return (start, low, stop, high) if side in LEVEL else (low, start, high, stop)
