"""Studs: small crosses or dots that some print sets on every lattice point. They belong to the lattice."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.geometry import extent, middle
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink

LARGEST, OFF = 0.25, 0.03
"""In cells: the size of a stud at most, and how far its middle lies off its lattice point; larger marks hold digits."""
ALL = 0.9
"""The part of the lattice points inside the grid that have one: marks of a puzzle stand on some."""


def find_studs(inks: Sequence[Ink], raster: Raster) -> set[int]:
    """The indices of the inks that are studs: of one look, on nearly every lattice point inside the grid."""
    by_look: dict[tuple[object, ...], dict[int, tuple[int, int]]] = {}
    for index, ink in enumerate(inks):
        x, y = middle(ink.box)
        column, row = round(x), round(y)
        inside = 0 < column < raster.columns and 0 < row < raster.rows
        if inside and extent(ink.box) <= LARGEST and max(abs(x - column), abs(y - row)) <= OFF:
            size = round(ink.box[2] - ink.box[0], 2), round(ink.box[3] - ink.box[1], 2)
            by_look.setdefault((ink.role, ink.colour, size), {})[index] = (column, row)
    needed = ALL * (raster.columns - 1) * (raster.rows - 1)
    return {index for places in by_look.values() if len(set(places.values())) >= needed for index in places}
