"""Lattice lines that are drawn as two strokes with paper between them, as boxes often are.

One of the two passes for the line, and the other for ink that nobody explains. It is told by what no mark beside a line
does: it runs all along several lines of the grid, upright and lying, always as far from the first and as dark."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from recognise.pixels.bands import Lines
from recognise.pixels.frame import Grey, Raster

REACH = 0.16
"""In cells: how far from the lattice line both strokes lie at most."""
DENSE = 30
"""Percentile along an edge at which a stroke shows its ink: marks on the line hide it in less than that part."""
ALIKE = 0.5
"""Part of the darker stroke's ink that the other has at least."""
FAINT = 0.3
"""The same part of it that is none of a stroke: paper, and blur in the gap between two."""
ALL_ALONG = 0.7
"""Part of the edges along a lattice line on which two strokes are told apart: marks hide some."""
STEADY = 2
"""Pixels by which the width over both strokes differs from edge to edge at most."""


@dataclass(frozen=True, slots=True)
class _Double:
    """The two strokes along one lattice line: for each edge the offsets of their outer faces from it (0 where they are
    not told apart), and on which they are told apart."""

    line: int
    first: npt.NDArray[np.int64]
    last: npt.NDArray[np.int64]
    told: npt.NDArray[np.bool_]

    @property
    def width(self) -> float:
        """The usual width over both strokes, in pixels."""
        return float(np.median((self.last - self.first + 1)[self.told]))


def with_second_strokes(
    horizontal: Lines, vertical: Lines, ink: Grey, raster: Raster, floor: float
) -> tuple[Lines, Lines]:
    """The lines of a grid with the bands of double ones over both strokes, where inner ones are double both ways and
    all are equally wide. `ink` is ink from 0 to 1 with the lattice, `floor` what paper and noise reach at least."""
    lying, upright = (list(_double_lines(*seen, floor)) for seen in ((ink, raster), (ink.T, raster.turned)))
    widths = [double.width for double in (*lying, *upright)]
    if not lying or not upright or max(widths) - min(widths) > STEADY:
        return horizontal, vertical
    return _over_both(horizontal, lying), _over_both(vertical, upright)


def _over_both(lines: Lines, doubles: list[_Double]) -> Lines:
    """Lines with the bands of double ones over both strokes; where these are not told apart, as most of them lie."""
    first, last = lines.first.copy(), lines.last.copy()
    for double in doubles:
        usual = [int(np.median(faces[double.told])) for faces in (double.first, double.last)]
        first[double.line] = np.where(double.told, double.first, usual[0])
        last[double.line] = np.where(double.told, double.last, usual[1])
    return replace(lines, first=first, last=last)


def _double_lines(ink: Grey, raster: Raster, floor: float) -> Iterator[_Double]:
    """The lying inner lines that are two strokes."""
    reach, columns = raster.px(REACH), raster.grid_slices()[1]
    for line in range(1, raster.rows):
        y = raster.origin + line * raster.cell
        band = ink[y - reach : y + reach + 1, columns].reshape(2 * reach + 1, raster.columns, raster.cell)
        faces = [_faces(profile, floor) for profile in np.percentile(band, DENSE, axis=-1).T]
        told = np.array([face is not None for face in faces])
        if told.mean() < ALL_ALONG:
            continue
        first, last = (np.array([face[end] - reach if face else 0 for face in faces]) for end in (0, 1))
        found = _Double(line, first, last, told)
        steady = np.abs(last - first + 1 - found.width) <= STEADY
        if (told & steady).mean() >= ALL_ALONG:
            yield replace(found, told=told & steady)


def _faces(profile: npt.NDArray[np.floating], floor: float) -> tuple[int, int] | None:
    """The first and last index of two strokes that are alike, in a profile across an edge; None where there are not
    just two."""
    inked = profile > max(floor, FAINT * float(profile.max()))
    ends = np.flatnonzero(np.diff(np.concatenate([[0], inked.astype(np.int8), [0]])))
    strokes = [(int(begin), int(end)) for begin, end in zip(ends[::2], ends[1::2], strict=True)]
    if len(strokes) != 2 or strokes[0][0] == 0 or strokes[1][1] == len(profile):
        return None
    peaks = [float(profile[begin:end].max()) for begin, end in strokes]
    return (strokes[0][0], strokes[1][1] - 1) if min(peaks) >= ALIKE * max(peaks) else None
