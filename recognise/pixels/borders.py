"""Whether a dark part of a grid ends on lattice lines: a tint does, all along its border, and light does not.

Where one reader sees a tint and the other bare paper, this is the third look. The ground is compared on both sides of
each stretch of the border, less what it changes by within the two cells anyhow: light that fades goes on fading.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour
from recognise.evidence import Flat
from recognise.pixels.frame import Raster
from recognise.pixels.ground import BLUR, PALE, STRIP, bright
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

STRETCHES = 3
"""Of each edge: the border of a shadow crosses an edge, that of a tint goes along it."""
ALONG = 0.8
"""Share of the stretches at which a tint's border is seen at least; smudges and tubes cover some of it."""
WAYS = ((0, 1), (1, 0), (0, -1), (-1, 0))


@dataclass(frozen=True, slots=True)
class Border:
    """How the ground changes at the border of some cells, inwards, in log colour: the median `step` (3 channels), its
    darkest channel `level`, and the share of the border at which a step is seen."""

    step: Floats
    level: float
    seen: float

    @property
    def is_tint(self) -> bool:
        """Whether it can only be print: a step as deep as the palest tint, all along."""
        return not self.is_light and self.seen >= ALONG

    @property
    def is_light(self) -> bool:
        """Whether nothing ends there: light, or a shadow that takes no notice of the lattice."""
        return self.level > -PALE

    @property
    def colour(self) -> Colour:
        """The tint on white paper."""
        red, green, blue = (round(255 * float(np.exp(min(0.0, value)))) for value in self.step)
        return red, green, blue


class Borders:
    """Looks at the ground on both sides of lattice lines."""

    def __init__(self, flat: Flat) -> None:
        self._raster = Raster.of(flat)
        self._image = np.asarray(cv2.GaussianBlur(flat.image, (0, 0), BLUR * flat.cell), np.uint8)
        self._known: dict[tuple[int, int, tuple[int, int]], list[tuple[Floats, Floats]]] = {}

    def around(self, cells: Collection[Cell], *, frame: bool, among: Collection[Cell] | None = None) -> Border | None:
        """The border of some cells; with `frame` the frame of the grid counts too, with `among` only where one of those
        cells lies on the other side. A page may be tinted around its grid, but a shadow does not stop at the frame.
        None for cells that have no border."""
        steps = np.array(list(self._steps(frozenset(cells), frame, among)))
        if not len(steps):
            return None
        deepest = steps.min(axis=1)
        step = np.median(steps, axis=0)
        return Border(step, float(np.median(deepest)), float((deepest < -PALE / 2).mean()))

    def best(self, cells: Iterable[Cell], perhaps: Collection[Cell]) -> frozenset[Cell]:
        """Cells with those of `perhaps` beside them with which they end better on lattice lines than without."""
        found = frozenset(cells)
        left = set(perhaps) - found
        while near := sorted(cell for cell in left if any(cell.beside(other) for other in found)):
            left.difference_update(near)
            for cell in near:
                now, wider = self.around(found, frame=False), self.around(found | {cell}, frame=False)
                if now is not None and wider is not None and wider.seen > now.seen:
                    found |= {cell}
        return found

    def _steps(self, cells: frozenset[Cell], frame: bool, among: Collection[Cell] | None) -> Iterator[Floats]:
        for cell in sorted(cells):
            for down, right in WAYS:
                row, column = cell.row + down, cell.column + right
                inside = 1 <= row <= self._raster.rows and 1 <= column <= self._raster.columns
                if (inside and Cell(row, column) in cells) or not (inside or frame):
                    continue
                if inside and among is not None and Cell(row, column) not in among:
                    continue
                own = self._grounds(cell.row, cell.column, (down, right))
                other = self._grounds(row, column, (-down, -right))
                yield from (_step(*pair) for pair in zip(own, other, strict=True))

    def _grounds(self, row: int, column: int, way: tuple[int, int]) -> list[tuple[Floats, Floats]]:
        """Of each stretch of one side of a cell the ground beside it and that at the opposite side; cells are looked at
        again and again as parts of different groups."""
        key = row, column, way
        if key not in self._known:
            self._known[key] = list(self._measured(row, column, way))
        return self._known[key]

    def _measured(self, row: int, column: int, way: tuple[int, int]) -> Iterator[tuple[Floats, Floats]]:
        size, start = self._raster.cell, self._raster.origin
        top, left = start + (row - 1) * size, start + (column - 1) * size
        own = self._image[top : top + size, left : left + size]
        if way[1]:
            own = own.swapaxes(0, 1)
        if sum(way) < 0:
            own = own[::-1]
        near, far = (round(share * size) for share in STRIP)
        for part in np.array_split(np.arange(near, size - near), STRETCHES):
            beside, opposite = own[size - far : size - near, part], own[near:far, part]
            yield bright(beside.reshape(-1, 3)), bright(opposite.reshape(-1, 3))


def _step(own: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Floats:
    """From the ground outside to that inside, less what both cells change by over such a distance by themselves."""
    across = sum(STRIP) / (1 - sum(STRIP))
    fading = ((own[0] - own[1]) - (other[0] - other[1])) / 2 * across
    return np.asarray(own[0] - other[0] + fading, np.float64)
