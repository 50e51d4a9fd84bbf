"""Double lines: two thin parallel strokes, one on either side of a lattice line, that are its one thick line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink, near

FARTHEST = 0.1
"""In cells: how far from the lattice line either of them lies."""
ALIKE = 0.02
"""In cells: how exactly they mirror each other, in place, ends and width."""
SHORT_OF = 0.5
"""As a part of their distance from the lattice line: how far from a crossing they may end. The sides of cages, set in
on both sides of a border, end as far from it as they lie."""
RECTANGLE = 5
"""Points of a rectangle that ends where it began."""
SLENDER = 4.0
"""So much longer than it is thick is a filled line."""
LEAST = 0.9
"""In cells: they run along one edge at least."""


@dataclass(frozen=True, slots=True)
class Twin:
    """One of the two: where it runs, in cells, and how thick both and what is between them are together."""

    ink: int
    vertical: bool
    line: int
    start: float
    end: float
    width: float
    off: float


def find_twins(inks: Sequence[Ink], raster: Raster) -> list[Twin]:
    """The strokes of double lines, each with the thickness of the whole."""
    by_line: dict[tuple[bool, int], list[Twin]] = {}
    for index, ink in enumerate(inks):
        for one in _single(index, ink, raster):
            by_line.setdefault((one.vertical, one.line), []).append(one)
    found = {}
    for beside in by_line.values():
        for one, other in combinations(beside, 2):
            if _mirrored(one, other) and near(inks[one.ink].colour, inks[other.ink].colour):
                for each in (one, other):
                    thick = abs(one.off) + abs(other.off) + each.width
                    found[each.ink] = Twin(each.ink, each.vertical, each.line, each.start, each.end, thick, 0.0)
    return list(found.values())


def _single(index: int, ink: Ink, raster: Raster) -> Iterator[Twin]:
    """An ink that is one straight line beside a lattice line and ends at crossings."""
    if len(ink.outlines) != 1 or ink.dashed:
        return
    points = ink.outlines[0]
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    vertical = bool(size[0] < size[1])
    across, along = (0, 1) if vertical else (1, 0)
    if ink.role == "stroke":
        straight, width = len(points) == 2 and size[across] <= ALIKE, ink.width
    else:
        upright = bool((np.minimum(points - low, high - points).max(axis=1) <= 1e-3).all())
        straight, width = upright and len(points) <= RECTANGLE and SLENDER * size[across] < size[along], size[across]
    middle, start, end = float(low[across] + high[across]) / 2, float(low[along]), float(high[along])
    line = round(middle)
    off = middle - line
    lines = raster.columns if vertical else raster.rows
    apart = width / 2 < abs(off) <= FARTHEST
    at_crossings = all(abs(place - round(place)) <= SHORT_OF * abs(off) for place in (start, end))
    if straight and apart and at_crossings and 0 < line < lines and end - start >= LEAST:
        yield Twin(index, vertical, line, start, end, float(width), off)


def _mirrored(one: Twin, other: Twin) -> bool:
    differ = (one.off + other.off, one.start - other.start, one.end - other.end, one.width - other.width)
    return max(map(abs, differ)) <= ALIKE and one.off * other.off < 0
