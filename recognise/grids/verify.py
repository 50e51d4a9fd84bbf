"""Is a lattice really there? How well its edges are inked, where it goes on, where it went astray."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.grids.ink import Contrast, Grey, across_columns, across_rows, odd
from recognise.grids.mesh import CELL, refine, step
from recognise.grids.warp import Points, Pyramid, extended, mesh_maps, project

Part = tuple[tuple[float, float], ...]
"""Pieces of an edge, each from and to a share of its length."""
MIDDLE: Part = ((0.15, 0.85),)
ENDS: Part = ((0.08, 0.2), (0.8, 0.92))
"""Next to the crossing lines; no digit reaches there."""
BEGINNING: Part = ((0.08, 0.42),)
"""The part of an edge that shows whether a line goes on past the last one: nothing else begins so near a grid."""
LEAST_CONTRAST = 0.02
"""An edge fainter than this, against the paper beside it, is no edge on any paper."""
BRIDGE = 5
"""Pixels of a flattened edge that a gap between dots may be long: a fifth of a cell."""
FAINT = 0.2
"""An edge this faint, against the grid's thin edges, is still an edge."""
THIN, PALEST = 0.15, 0.2
"""Up to eight edges in ten are frame or border of a block: the faintest of all tell the thin ones, unless they are
missing, being paler than any print makes them, compared with the typical edge."""
BESIDE = 6
"""Pixels from a flattened line to the ground beside it: a quarter of a cell, where few digits reach."""
BARE = 0.3
"""The quantile of what is measured beside the lines that is taken for bare paper."""
STEP = 4
"""Pixels from a flattened line to the tints on both sides of it: beyond the line, and near it."""
MOST, ALMOST_ALL = 0.6, 0.8
"""Share of an edge that must be inked; of the beginning of a line that goes on."""
ALIKE = 0.4
"""A line that goes on is so much as dark as the grid's typical edge."""
GOES_ON = 0.6
"""Lines go on past the last one, or a further line is there, when this share of the edges shows it."""
IN_VIEW = 0.35
"""Share of a further line's edges that the picture must show before the line is believed."""
ASTRAY = 0.35
"""Lattice points further than this, in cells, from where the others put them are found anew."""
BENT = 0.12
"""Points further than this from where the others put them may be a curl of the page, or part of the lattice that caught
hold of the wrong strokes: found anew, the better supported of both is taken."""
CLEARLY = 0.005
"""By so much more support, one edge of a large grid, points stand as they were found."""
MADE_UP = 0.2
"""A line is not printed whose contrast is no more than this part of that of the faintest of the others."""
LARGEST = 25
"""Rows or columns of the largest grid."""


@dataclass(frozen=True, slots=True)
class Support:
    """How inked each edge is, 0 (as bare as the cells) to 1 (clearly there): `rows` of shape (rows + 1, columns) for
    edges that run along the rows, `columns` of shape (rows, columns + 1); nan outside the picture. `beams` and `line`
    say the same, more strictly, for the last column: do the lines along the rows go on into it, is there a line at its
    end. `contrast` is that of the typical edge. `row_steps` and `column_steps` say of each edge how far a step from one
    tint to another shows it: enough for a line to be there, and nothing that makes a lattice more certain."""

    rows: Points
    row_steps: Points
    columns: Points
    column_steps: Points
    beams: Points
    line: Points
    contrast: float

    @property
    def mean(self) -> float:
        """Of all edges."""
        return float(np.nanmean(np.concatenate([self.rows.ravel(), self.columns.ravel()])))

    @property
    def lines(self) -> Points:
        """Of each line of the lattice, those along the rows first."""
        rows, columns = np.maximum(self.rows, self.row_steps), np.maximum(self.columns, self.column_steps)
        return np.concatenate([_line_means(rows), _line_means(columns.T)])

    @property
    def faintest(self) -> float:
        """Of the faintest line of the lattice."""
        return float(self.lines.min())

    @property
    def outermost(self) -> float:
        """Of the faintest of the four outer lines."""
        return float(min(*_line_means(self.rows)[[0, -1]], *_line_means(self.columns.T)[[0, -1]]))


def _line_means(edges: Points) -> Points:
    seen = np.isfinite(edges)
    return np.asarray(np.where(seen, edges, 0).sum(axis=1) / np.maximum(seen.sum(axis=1), 1), np.float64)


def support(pyramid: Pyramid, points: Points) -> Support:
    """Measure every edge of a lattice."""
    along, down = _both_ways(pyramid, points)
    across_ink, down_ink = along.whole(), down.whole().T
    beside = [edges.contrast(MIDDLE, MOST, BESIDE).ravel() for edges in (along, down)]
    bare = float(np.quantile(np.concatenate(beside), BARE))
    thin, typical = np.quantile(np.concatenate([across_ink.ravel(), down_ink.ravel()]), [THIN, 0.5]) - bare
    sure = max(LEAST_CONTRAST, FAINT * max(float(thin), PALEST * float(typical)))
    height, width = pyramid.grey.shape
    low, high = points.min(axis=-1), np.array([width - 0.5, height - 0.5]) - points
    seen = np.asarray((low > -0.5) & (high.min(axis=-1) > 0), np.bool_)
    seen_rows, seen_columns = seen[:, 1:] & seen[:, :-1], seen[1:] & seen[:-1]

    def shown(contrast: Points, in_view: npt.NDArray[np.bool_]) -> Points:
        return np.where(in_view, np.clip((contrast - bare) / sure, 0, 1), np.nan)

    return Support(
        shown(across_ink, seen_rows),
        shown(along.step(), seen_rows),
        shown(down_ink, seen_columns),
        shown(down.step().T, seen_columns),
        np.clip(along.relief(BEGINNING, ALMOST_ALL)[:, -1] / max(sure, ALIKE * typical), 0, 1),
        np.where(seen_columns[:, -1], np.clip(down.relief(MIDDLE, MOST)[-1] / sure, 0, 1), np.nan),
        float(typical),
    )


def without_made_up(pyramid: Pyramid, points: Points) -> Points:
    """The lattice less every second line of one direction, where none of these is printed: digits in all cells of a
    filled grid leave as much ink along the middles of its columns as a faint line would."""
    ways = [edges.darkness() for edges in _both_ways(pyramid, points)]
    for way, other in ((0, 1), (1, 0)):
        printed = min(ways[way][::2].min(), ways[other].min())
        if len(ways[way]) % 2 and ways[way][1::2].max() <= MADE_UP * printed and printed > LEAST_CONTRAST:
            return points[::2] if way == 0 else points[:, ::2]
    return points


def _both_ways(pyramid: Pyramid, points: Points) -> tuple[_Edges, _Edges]:
    """The edges along the rows of a lattice, and those along its columns."""
    rows, columns = points.shape[0] - 1, points.shape[1] - 1
    x, y = mesh_maps(points, CELL, 0.5)
    flat = pyramid.sample(x, y, step(points) / CELL)
    reach = odd(0.45 * CELL)
    down = np.ascontiguousarray(across_columns(flat, reach).T)
    return _Edges(across_rows(flat, reach), flat, rows, columns), _Edges(down, flat.T, columns, rows)


@dataclass(frozen=True, slots=True)
class _Edges:
    """Line ink of a flattened grid (with half a cell around it), and its picture, for edges along the rows."""

    ink: Contrast
    flat: Grey
    lines: int
    cells: int

    def contrast(self, part: Part, share: float, shift: int = 0) -> Points:
        """Contrast of each edge, (lines + 1, cells), `shift` pixels below its place: what `share` of a part of its
        length reaches; gaps of dotted lines are bridged."""
        pad = CELL // 2
        at = pad + CELL * np.arange(self.lines + 1) + shift
        near = np.stack([self.ink[at + offset] for offset in (-2, -1, 0, 1)]).max(axis=0)
        near = cv2.morphologyEx(near, cv2.MORPH_CLOSE, np.ones((1, BRIDGE), np.uint8))
        cells = near[:, pad : pad + self.cells * CELL].reshape(-1, self.cells, CELL)
        piece = np.concatenate([cells[:, :, round(a * CELL) : round(b * CELL)] for a, b in part], axis=2)
        return np.asarray(np.quantile(piece, 1 - share, axis=-1), np.float64)

    def whole(self) -> Points:
        """Contrast of each edge as a line from crossing to crossing: digits and marks ink the middle of an edge, never
        its ends as well."""
        return np.minimum(self.contrast(MIDDLE, MOST), self.contrast(ENDS, MOST))

    def darkness(self) -> Points:
        """The contrast of each line, less that of the ground beside lines."""
        ground = np.quantile(self.contrast(MIDDLE, MOST, BESIDE), BARE)
        return np.asarray(np.median(self.whole(), axis=1) - ground, np.float64)

    def step(self) -> Points:
        """Contrast of the step from one tint to another at each edge, of how much darker one is than the other: a
        hairline between two hardly shows."""
        at = CELL // 2 + CELL * np.arange(self.lines + 1)
        above, below = (self.flat[at + side].astype(np.float32) for side in (-STEP, STEP))
        steps = np.abs(above - below) / np.maximum(np.maximum(above, below), 1)
        cells = steps[:, CELL // 2 : CELL // 2 + self.cells * CELL].reshape(-1, self.cells, CELL)
        first, last = (round(CELL * share) for share in (ENDS[0][0], ENDS[-1][-1]))
        return np.asarray(np.quantile(cells[:, :, first:last], 1 - ALMOST_ALL, axis=-1), np.float64)

    def relief(self, part: Part, share: float) -> Points:
        """How far the contrast of each edge exceeds that of the ground on both sides: text has none."""
        ground = [self.contrast(part, 0.5, shift) for shift in (-BESIDE, BESIDE)]
        return self.contrast(part, share) - np.maximum(*ground)


def repaired(pyramid: Pyramid, points: Points) -> Points:
    """The lattice with points that went astray put where the homography of the others has them, and refined again. A
    page that curls strays from every homography as well: what the printed lines support better stands as it is."""
    found = _found_anew(pyramid, points, ASTRAY)
    other = _found_anew(pyramid, found, BENT)
    if found is points and other is points:
        return points
    first, anew, bent = (support(pyramid, one).mean for one in (points, found, other))
    if found is not points and first > max(anew, bent) + CLEARLY:
        return points
    return other if bent > anew else found


def _found_anew(pyramid: Pyramid, points: Points, limit: float) -> Points:
    """The lattice refined from where the homography of most points has those that stray further than `limit` (cells)
    from it; the same lattice when none do."""
    rows, columns = points.shape[:2]
    flat = np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), -1).reshape(-1, 2).astype(np.float64)
    matrix, _ = cv2.findHomography(points.reshape(-1, 2), flat, cv2.RANSAC, limit, maxIters=300)
    if matrix is None:
        return points
    stray = np.linalg.norm(project(matrix, points.reshape(-1, 2)) - flat, axis=1).reshape(rows, columns)
    if (stray <= limit).all():
        return points
    inverse = np.linalg.inv(matrix)
    return refine(pyramid, np.where((stray > limit)[..., None], project(inverse, flat).reshape(points.shape), points))


def completed(pyramid: Pyramid, points: Points) -> tuple[Points, bool]:
    """The lattice with the further lines that it turns out to have; and whether it is whole: False when its lines run
    on past the last one, at the edge of the picture or into something of other spacing."""
    whole = True
    for turn in range(4):
        points, closed = _to_the_right(pyramid, np.rot90(points, turn))
        points = np.rot90(points, -turn)
        whole = whole and closed
    return np.ascontiguousarray(points), whole


def _to_the_right(pyramid: Pyramid, points: Points) -> tuple[Points, bool]:
    while True:
        longer = extended(points, 1)[1:-1, 1:]
        measured = support(pyramid, longer)
        if measured.beams.mean() < GOES_ON:
            return points, True
        line = measured.line
        seen = np.isfinite(line)
        if points.shape[1] > LARGEST or seen.mean() < IN_VIEW or line[seen].mean() < GOES_ON:
            return points, False
        points = refine(pyramid, longer)
