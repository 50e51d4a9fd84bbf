"""Grids whose lines are lighter than their cells: white gaps between tinted tiles, light lines on a dark ground. They
are found as dark ones are, in a picture that shows thin light things as dark lines."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np

from recognise.grids.candidates import LEAST_SIDE, UNIT, WORK, Frame, Outline, clockwise, too_narrow
from recognise.grids.ink import Grey, Mask, odd
from recognise.grids.warp import Points, project

THIN, STROKE = 1 / 45, 1 / 90
"""As parts of the picture's long side: light lines are thinner than the one; dark strokes, which are taken away before,
than the other."""
FULL = (0.12, 0.6)
"""So much lighter than the ground beside it, light line is shown as black: the palest tiles are a third of the first
darker than the gaps between them; where cells are dark, blur makes lines too broad that are shown so."""
LEVELS = (0.5, 0.25, 0.12)
"""How dark thin light things are shown at least to be lines."""
MOST = 14
"""Largest meshes looked at, per level."""
FINEST, FEWEST = 26, 9
"""Holes of a mesh are no smaller than this part of its side; and how many there are at least."""
BRIDGED = 2.4
"""In cells: the ends of light lines stand one apart along the grid's sides; one of them may be lost under a mark."""
CORNER, NEAR = 1.25, 0.45
"""In cells: so near to a corner no line ends; and so near to straight sides curled ones are."""

SLANT, LEAST_ANGLE = 0.9, 0.5
"""Cosine of the angle by which a side may slant in perspective, and sine of the angle at which two sides meet."""


def light_lines(grey: Grey) -> tuple[list[Grey], float]:
    """Pictures that show what is thin and lighter than the ground on both sides as dark lines on white, whatever
    crosses it taken away, for each of FULL; their scale to the page, WORK pixels their long side at most."""
    scale = min(1.0, WORK / max(grey.shape))
    if too_narrow(grey):
        return [], scale
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey
    small = cv2.GaussianBlur(small, (5, 5), 0)
    length = max(small.shape)
    stroke, thin = odd(STROKE * length), odd(THIN * length)
    bare = cv2.morphologyEx(small, cv2.MORPH_CLOSE, np.ones((stroke, stroke), np.uint8))
    ground = cv2.morphologyEx(bare, cv2.MORPH_OPEN, np.ones((thin, thin), np.uint8)).astype(np.float32)
    lighter = 1 - ground / np.maximum(bare, 1)
    return [np.asarray(255 * (1 - np.clip(lighter / full, 0, 1)), np.uint8) for full in FULL], scale


def light_outlines(shown: Grey) -> Iterator[tuple[Outline, Grey]]:
    """Meshes of dark lines in such a picture, the largest first: their outlines, and the picture with a line along the
    outline, which tiles on paper do not have."""
    found: list[Outline] = []
    for level in LEVELS:
        mask = (shown < 255 * (1 - level)).astype(np.uint8)
        _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
        sides = stats[1:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].min(axis=1)
        large = 1 + np.flatnonzero(sides >= LEAST_SIDE * max(shown.shape))
        for index in large[np.argsort(-sides[large - 1])][:MOST].tolist():
            x, y, width, height = (int(value) for value in stats[index, :4])
            outline = _outline((labels[y : y + height, x : x + width] == index).astype(np.uint8), (x, y))
            if outline is not None and not any(outline.same(other) for other in found):
                found.append(outline)
    for outline in sorted(found, key=lambda outline: -outline.side):
        yield outline, _with_frame(shown, outline)


def _outline(mesh: Mask, at: tuple[int, int]) -> Outline | None:
    """The outline of a mesh, the teeth on its sides joined; None where its holes are few."""
    _, _, stats, _ = cv2.connectedComponentsWithStats(1 - mesh, connectivity=4)
    areas = stats[1:, cv2.CC_STAT_AREA]
    holes = areas[areas >= (max(mesh.shape) / FINEST) ** 2]
    if len(holes) < FEWEST:
        return None
    cell = float(np.sqrt(np.median(holes)))
    reach = odd(BRIDGED * cell)
    whole = cv2.copyMakeBorder(mesh, reach, reach, reach, reach, cv2.BORDER_CONSTANT, value=0)
    whole = cv2.morphologyEx(whole, cv2.MORPH_CLOSE, np.ones((reach, reach), np.uint8))
    contours, _ = cv2.findContours(whole, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    contour = max(contours, key=len)[:, 0, :].astype(np.float64) + np.array(at) - reach
    corners = _corners(contour)
    return None if corners is None else Outline(corners, _with_corners(contour, corners, cell))


def _with_corners(contour: Points, corners: Points, cell: float) -> Points:
    """The contour near the straight sides between the corners, where ends of lines are not lost; with the corner cells,
    on whose outer sides no line ends, made good by straight sides."""
    matrix = cv2.getPerspectiveTransform(corners.astype(np.float32), UNIT).astype(np.float64)
    side = float(np.linalg.norm(corners - np.roll(corners, -1, 0), axis=1).mean())
    inside = np.minimum(unit := project(matrix, contour), 1 - unit) * side / cell
    kept = ~(inside < CORNER).all(axis=1) & (inside.min(axis=1) < NEAR)
    ends = np.concatenate([np.linspace(0, CORNER * cell / side, 40), np.linspace(1 - CORNER * cell / side, 1, 40)])
    sides = [corners[k] + (corners[(k + 1) % 4] - corners[k]) * ends[:, None] for k in range(4)]
    return np.concatenate([contour[kept], *sides])


def _corners(contour: Points) -> Points | None:
    """Where the four sides of an outline without corners meet."""
    hull = cv2.convexHull(contour.astype(np.float32))
    box = cv2.boxPoints(cv2.minAreaRect(hull)).astype(np.float64)
    points = hull[:, 0, :].astype(np.float64)
    starts, ends = points, np.roll(points, -1, axis=0)
    lines = []
    for a, b in zip(box, np.roll(box, -1, axis=0), strict=True):
        side = (b - a) / max(float(np.linalg.norm(b - a)), 1e-6)
        outwards = np.array([side[1], -side[0]])
        if (box.mean(axis=0) - a) @ outwards > 0:
            outwards = -outwards
        edges = ends - starts
        lengths = np.maximum(np.linalg.norm(edges, axis=1), 1e-6)
        along = np.abs(edges @ side) / lengths >= SLANT
        outer = ((starts + ends) / 2 - box.mean(axis=0)) @ outwards > 0
        line = _line(starts[along & outer], ends[along & outer])
        if line is None:
            return None
        lines.append(line)
    corners = [_crossing(one, other) for one, other in zip(lines, (*lines[1:], lines[0]), strict=True)]
    return None if any(corner is None for corner in corners) else clockwise(np.array(corners))


def _line(starts: Points, ends: Points) -> tuple[Points, Points] | None:
    """A point of, and the direction of, the line through pieces of hull, the longer ones counting more."""
    if len(starts) == 0:
        return None
    points = np.concatenate([starts + (ends - starts) * share for share in (0.0, 0.5, 1.0)])
    weight = np.tile(np.linalg.norm(ends - starts, axis=1), 3)
    centre = np.average(points, axis=0, weights=weight)
    off = (points - centre) * np.sqrt(weight)[:, None]
    return centre, np.asarray(np.linalg.svd(off, full_matrices=False)[2][0], np.float64)


def _crossing(one: tuple[Points, Points], other: tuple[Points, Points]) -> Points | None:
    """Where two lines cross; None where they run alike."""
    matrix = np.stack([one[1], -other[1]], axis=1)
    if abs(np.linalg.det(matrix)) < LEAST_ANGLE:
        return None
    return np.asarray(one[0] + one[1] * np.linalg.solve(matrix, other[0] - one[0])[0], np.float64)


def _with_frame(shown: Grey, outline: Outline) -> Grey:
    frame, along = Frame(outline), np.linspace(0, 1, 40)
    ends = np.array([0.0, 1.0])
    down, across = frame.page(ends[None, :], along[:, None]), frame.page(along[None, :], ends[:, None])
    sides = [down[:, 0], down[:, 1], across[0], across[1]]
    framed = shown.copy()
    cv2.polylines(framed, [np.rint(side).astype(np.int32) for side in sides], False, 0, 3)
    return framed
