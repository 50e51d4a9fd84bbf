"""Paper that curls: how far the lines of a levelled grid stray from straight ones, carried on over the page around.

Lines of text above and below a grid bend as its own lines do. Each lattice line that runs across is followed by a
cubic, which carries on straight beyond its ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]
Map = npt.NDArray[np.float32]

_FLAT = 0.06
"""In cells: lattice lines that stray less are straight; grids are found to three hundredths."""
_BENDS = 3
"""Degree in which a line is followed: a page that curls and lies in perspective bends like a cubic at most."""
_ROWS = 32
"""Rows of a page that are worked out together."""


@dataclass(frozen=True, slots=True)
class Curl:
    """`falls` (lines x degree + 1, highest power first) says how many pixels each lattice line lies lower than a
    straight one, by the place along it from 0 to 1; `box` is the grid's own, in pixels of the levelled page."""

    falls: Numbers
    box: tuple[float, float, float, float]

    @classmethod
    def of(cls, points: Numbers) -> Curl:
        """The curl of a page by the lattice points ((rows + 1) x (columns + 1) x 2) of its levelled grid."""
        rows, columns = points.shape[0] - 1, points.shape[1] - 1
        (left, right), (top, bottom) = points[:, [0, -1], 0].mean(axis=0), points[[0, -1], :, 1].mean(axis=1)
        straight = np.linspace(top, bottom, rows + 1)[:, None]
        along = np.linspace(0.0, 1.0, columns + 1)
        falls = np.polyfit(along, (points[..., 1] - straight).T, min(_BENDS, columns)).T
        return cls(falls, (float(left), float(top), float(right), float(bottom)))

    @property
    def is_flat(self) -> bool:
        """Whether all lattice lines are as good as straight."""
        cell = (self.box[3] - self.box[1]) / max(1, len(self.falls) - 1)
        return float(np.abs(self._along(np.linspace(0.0, 1.0, 10))).max()) < _FLAT * cell

    def places(self, size: tuple[int, int], back: Numbers) -> tuple[Map, Map]:
        """For each pixel of the levelled page, `size` wide and high, its place on the page as photographed; `back` is
        the homography (3 x 3) that leads there where the paper is flat."""
        x, y = np.arange(size[0], dtype=np.float64), np.arange(size[1], dtype=np.float64)
        fallen = y[:, None] + self._by_line(y) @ self._along(self._place(x))
        found: tuple[Map, Map] = np.empty(fallen.shape, np.float32), np.empty(fallen.shape, np.float32)
        # Few rows at a time: what is worked out of a whole page does not fit where the processor has it at hand.
        for first in range(0, len(fallen), _ROWS):
            rows = slice(first, first + _ROWS)
            down = back[2, 0] * x + back[2, 1] * fallen[rows] + back[2, 2]
            for place, row in zip(found, back, strict=False):
                place[rows] = (row[0] * x + row[1] * fallen[rows] + row[2]) / down
        return found

    def flattened(self, points: Numbers) -> Numbers:
        """Where points (n x 2) of the page that a homography made level lie once the curl is out as well."""
        fall = np.einsum("nl,ln->n", self._by_line(points[:, 1]), self._along(self._place(points[:, 0])))
        return np.stack([points[:, 0], points[:, 1] - fall], axis=1)

    def _place(self, x: Numbers) -> Numbers:
        """Pixels across the page as places along the lattice lines."""
        return np.asarray((x - self.box[0]) / (self.box[2] - self.box[0]), np.float64)

    def _along(self, place: Numbers) -> Numbers:
        """How much lower each line (first axis) lies at some places along it (second axis)."""
        inside = np.clip(place, 0.0, 1.0)
        found = [
            np.polyval(fall, inside) + np.polyval(np.polyder(fall), inside) * (place - inside) for fall in self.falls
        ]
        return np.asarray(found, np.float64)

    def _by_line(self, y: Numbers) -> Numbers:
        """How much each line (second axis) counts at some heights of the page (first axis); beyond the grid the nearest
        one alone."""
        count = len(self.falls)
        at = np.clip((y - self.box[1]) / (self.box[3] - self.box[1]), 0.0, 1.0) * (count - 1)
        return np.asarray(np.maximum(0.0, 1.0 - np.abs(at[:, None] - np.arange(count))), np.float64)
