"""Every grid of a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Image
from recognise.evidence import Lattice
from recognise.grids import judge
from recognise.grids.blocks import cells_of_blocks
from recognise.grids.candidates import Outline, outlines
from recognise.grids.fit import BLOCKS, LaidFlat, fits
from recognise.grids.flatten import flatten
from recognise.grids.framed import framed
from recognise.grids.ink import Grey, luminance
from recognise.grids.inked import inked
from recognise.grids.light import light_lines, light_outlines
from recognise.grids.mesh import refine, step
from recognise.grids.set_apart import closed_up, inverse
from recognise.grids.verify import Support, completed, repaired, support, without_made_up
from recognise.grids.warp import Points, Pyramid, extended, mesh_maps

PUZZLE = 0.5
"""Lattices of at least this score are taken for puzzles."""
PROMISING, BARELY = 0.7, 0.2
"""Mean support of a lattice's edges, and that of its faintest line, that are worth a closer look."""
SUPPORTED, FAINTEST = 0.8, 0.4
"""Mean support that makes a lattice; that its faintest line needs."""
ONE_LOST = 8
"""From this many rows and columns on a lattice may lack one line for the rest of its length: the screen of a print can
swallow a dotted or very thin one whole, and the even spacing of all others tells where it was."""
HALF_GAP = 0.15
"""In cells: half the widest gap between tiles, and what a curl adds."""
WITHIN_BLOCKS = 0.4
"""Lines of blocks are sought so near to where they should be, compared with those of cells: text stands a cell away."""
OBLONG = 0.05
"""By so much better supported a lattice of other than as many rows as columns must be, where tiles leave the choice."""
TRACED = 0.08
"""The support that the faintest line of a drawn lattice needs: the vectors say where it runs, and grey dots leave
little of it in the picture; under white paint there is none."""
APART = 0.9
"""Support of the gaps between cells that stand apart: lines of words on texture had 0.8, such grids 0.95 and more."""
CERTAIN = 0.99
"""A lattice so well supported settles what is there: other outlines inside it are its boxes and cells."""
FILLED_SCORE, BLOCKED_SCORE = 0.3, 0.1
"""Most that a filled grid, a grid with black cells can score."""
NEGATIVE = 0.9
"""So much of a grid is black where it is printed light on dark; a word grid has half of its cells black at most."""
SMALL = 0.65
"""Cells of an answer, compared with those of the puzzles beside it, are at most this large."""
LEAST, MOST = 4, 25
"""Rows or columns of a puzzle's grid."""
SQUARISH = 1.35
"""The longer side of a cell by the shorter one; cells of tables are longer."""
RIM = 0.35
"""Cells between a grid and the picture's edge under which it may go on outside."""


def find_grids(image: Image, drawn: Sequence[Lattice] = ()) -> list[Lattice]:
    """The puzzle grids of a page image (height x width x 3, RGB), top to bottom, then left to right. `drawn` are
    lattices that the page's vectors draw, its tables among them: those that the picture shows need no searching.

    Word grids, tables, calendars, filled answers, and grids cut at the edge of the picture are left out; "none" is a
    good answer. Every lattice point lies on the printed lines, on curled paper too."""
    return [lattice for lattice in find_lattices(image, drawn) if lattice.score >= PUZZLE]


def find_lattices(image: Image, drawn: Sequence[Lattice] = ()) -> list[Lattice]:
    """All lattices of 4 x 4 to 25 x 25 squarish cells, in reading order; `score` tells puzzles (from PUZZLE up) from
    filled grids (FILLED_SCORE and less) and blocked ones (BLOCKED_SCORE and less)."""
    grey = luminance(image)
    pyramid = Pyramid(grey)
    found = list(_shown(pyramid, drawn))
    found += _light_lines(grey, [one for one in drawn if not any(one.points is other.points for other in found)])
    found = [one if _is_square(one) else _within_frame(pyramid, one) for one in found]
    around = list(outlines(grey))
    judged = _judged(pyramid, _distinct(_searched(pyramid, around, found)))
    if not any(one.score >= PUZZLE for one in judged):
        judged = _distinct([*judged, *_in_light(image, grey)])
    if not any(one.score >= PUZZLE for one in judged):
        judged = _judged(pyramid, _distinct(_searched(pyramid, around, found, keen=True)))
    if not any(one.score >= PUZZLE for one in judged):
        apart = [one for one in _of_cells_apart(image, grey) if not any(_overlap(one, other) for other in judged)]
        judged = [*judged, *apart]
    return _in_reading_order(judged)


def _searched(
    pyramid: Pyramid, around: Iterable[Outline], found: Sequence[Lattice], *, keen: bool = False
) -> list[Lattice]:
    """What was found before, and the lattices in the outlines that are not covered by it."""
    every = list(found)
    for outline in around:
        middle = outline.corners.mean(axis=0)
        if any(lattice.score >= CERTAIN and _inside(middle, lattice.points) for lattice in every):
            continue
        lattice = _lattice(pyramid, outline, keen=keen)
        if lattice is not None:
            every.append(lattice)
    return every


def _in_light(image: Image, grey: Grey) -> Iterator[Lattice]:
    """The lattices of light lines that the picture alone shows, judged by one that has them dark."""
    found, small, scale = _of_thin_lines(image, grey)
    for one in found:
        lattice = replace(one, points=_with_half_gaps(one.points))
        dark = Pyramid(luminance(inked(small, lattice)))
        for judged in _judged(dark, [lattice]):
            yield replace(judged, points=(lattice.points + 0.5) / scale - 0.5, light=True)


def _of_cells_apart(image: Image, grey: Grey) -> Iterator[Lattice]:
    """The lattices of the gaps between cells that stand apart: thin dark lines, of outlines or of a dark ground. Forms
    and panels of tables have such cells too, in more columns than rows, or fewer. What was found before, and judged to
    be no puzzle, is to be left so."""
    found, small, scale = _of_thin_lines(image, inverse(grey))
    for lattice in (one for one in found if _is_square(one) and one.score >= APART):
        points = _pushed_out(lattice.points)
        flat = closed_up(flatten(small, replace(lattice, points=points), judge.CELL, margin=1))
        held = judge.content(luminance(flat.image)[judge.CELL : -judge.CELL, judge.CELL : -judge.CELL])
        score = min(lattice.score, _most(held, small=False))
        yield replace(lattice, points=(points + 0.5) / scale - 0.5, score=score, apart=True)


def _of_thin_lines(image: Image, grey: Grey) -> tuple[list[Lattice], Image, float]:
    """The lattices of lines lighter than what lies beside them, and the picture in which they are, with its scale."""
    pictures, scale = light_lines(grey)
    found: list[Lattice] = []
    for shown in pictures:
        for outline, with_frame in light_outlines(shown):
            if any(_is_square(one) and _inside(outline.corners.mean(axis=0), one.points) for one in found):
                continue
            lattice = _lattice(Pyramid(with_frame), outline, beside=False)
            if lattice is not None and not lattice.broken:
                found.append(lattice)
    if not found:
        return [], image, scale
    small = cv2.resize(image, pictures[0].shape[::-1], interpolation=cv2.INTER_AREA)
    # The words beside tiles can shift a corner of their outline: then cells come out oblong, and fewer.
    even = [one if _is_square(one) else replace(one, score=one.score - OBLONG) for one in found]
    return _distinct(even), np.asarray(small, np.uint8), scale


def _is_square(lattice: Lattice) -> bool:
    return lattice.rows == lattice.columns


def _with_half_gaps(points: Points) -> Points:
    """The lattice with its outer lines where the inner ones have them: tiles end half a gap before."""
    even = extended(points[1:-1, 1:-1], 1)
    return even if np.linalg.norm(even - points, axis=-1).max() <= HALF_GAP * step(points) else points


def _pushed_out(points: Points) -> Points:
    """The lattice with its outer lines as far out as the inner ones would have them, which are in the middles of gaps:
    the outer cells end half a gap before."""
    even, pushed = extended(points[1:-1, 1:-1], 1), points.copy()
    for net, moved, other in ((points, pushed, even), *((one.swapaxes(0, 1) for one in (points, pushed, even)),)):
        for line, inner in ((0, 1), (-1, -2)):
            way = np.median(net[line] - net[inner], axis=0)
            way /= np.linalg.norm(way)
            off = float(np.median((other[line] - net[line]) @ way))
            moved[line] += float(np.clip(off, 0, HALF_GAP * step(points))) * way
    return pushed


def _shown(pyramid: Pyramid, drawn: Iterable[Lattice]) -> Iterator[Lattice]:
    """The drawn lattices of squarish cells that the picture shows as well, each with its support."""
    for lattice in filter(_is_sized, drawn):
        measured = support(pyramid, lattice.points)
        if measured.mean >= PROMISING and measured.faintest >= TRACED:
            yield Lattice(lattice.points, measured.mean)


def _within_frame(pyramid: Pyramid, lattice: Lattice) -> Lattice:
    """A drawn lattice without the cells beside its frame in which clues stand."""
    within = framed(pyramid, lattice.points)
    return lattice if within is None else replace(lattice, points=within)


def _light_lines(grey: Grey, drawn: Sequence[Lattice]) -> Iterator[Lattice]:
    """The same for white lines upon tints, or light ones upon a dark ground; the outer ones may border on paper as
    light as they are."""
    left = list(filter(_is_sized, drawn))
    if not left:
        return
    negative = Pyramid(np.asarray(255 - grey, np.uint8))
    for lattice in left:
        measured = support(negative, lattice.points)
        across, down = measured.rows[1:-1], measured.columns[:, 1:-1].T
        mean = float(np.nanmean(np.concatenate([across, down], axis=None)))
        if mean >= PROMISING and min(np.nanmean(each, axis=1).min() for each in (across, down)) >= TRACED:
            yield Lattice(lattice.points, mean, light=True)


def _is_sized(lattice: Lattice) -> bool:
    """Whether a drawn lattice has so many rows and columns, and cells so square, as a puzzle has."""
    width, height = np.ptp(lattice.points, axis=(0, 1)) / (lattice.columns, lattice.rows)
    counts = all(LEAST <= count <= MOST for count in (lattice.rows, lattice.columns))
    return bool(counts and max(width, height) <= SQUARISH * min(width, height))


def _lattice(pyramid: Pyramid, outline: Outline, beside: bool = True, *, keen: bool = False) -> Lattice | None:
    """The lattice inside a candidate, its score the support of its edges; boxes may stand `beside` it. One that is
    whole as it stands comes before what is cut out of another: the border of a box passes for a frame, where what lies
    outside it was fitted badly."""
    within_frame: Lattice | None = None
    laid = LaidFlat(pyramid, outline)
    for rough in fits(laid, keen=keen):
        points = repaired(pyramid, refine(pyramid, rough))
        first = support(pyramid, points)
        if not _stands(first, PROMISING, BARELY):
            continue
        more, whole = completed(pyramid, points)
        within = framed(pyramid, more) if beside else None
        points = without_made_up(pyramid, repaired(pyramid, more if within is None else within))
        if min(points.shape[:2]) <= LEAST:
            continue
        measured = support(pyramid, points)
        if not (whole or within is not None) or not _stands(measured, SUPPORTED, FAINTEST) or _cut(pyramid, points):
            continue
        found = Lattice(points, measured.mean, broken=measured.faintest < FAINTEST)
        if within is None and (within_frame is None or _is_larger(found, within_frame)):
            return found
        within_frame = within_frame or found
    return within_frame or _lattice_of_blocks(pyramid, laid)


def _is_larger(lattice: Lattice, other: Lattice) -> bool:
    """Whether a lattice has more rows and columns than another that is no better supported."""
    more = lattice.rows > other.rows and lattice.columns > other.columns
    return more and lattice.score >= other.score


def _lattice_of_blocks(pyramid: Pyramid, laid: LaidFlat) -> Lattice | None:
    """The lattice of a grid whose thin lines are lost."""
    for rough in fits(laid, (BLOCKS,)):
        blocks = repaired(pyramid, refine(pyramid, rough, WITHIN_BLOCKS))
        measured = support(pyramid, blocks)
        if _stands(measured, SUPPORTED, FAINTEST):
            points = cells_of_blocks(pyramid, blocks)
            return None if points is None else Lattice(points, measured.mean, broken=True)
    return None


def _stands(measured: Support, mean: float, faintest: float) -> bool:
    """Whether the edges of a lattice are inked as much as that on the whole, and each of its lines too, but for one
    inside a large grid."""
    faint = [line for line in measured.lines if line < faintest]
    one_lost = len(faint) == 1 and min(measured.rows.shape[1], measured.columns.shape[0]) >= ONE_LOST
    return measured.mean >= mean and (not faint or (one_lost and measured.outermost >= faintest))


def _cut(pyramid: Pyramid, points: Points) -> bool:
    """Whether the picture's edge may have cut the grid: an outer line runs along it, and the grid is not square."""
    if points.shape[0] == points.shape[1]:
        return False
    height, width = pyramid.grey.shape
    room = RIM * step(points)
    x, y = points[..., 0], points[..., 1]
    near = (x < room) | (y < room) | (x > width - 1 - room) | (y > height - 1 - room)
    return bool(near[0].all() or near[-1].all() or near[:, 0].all() or near[:, -1].all())


def _judged(pyramid: Pyramid, lattices: list[Lattice]) -> list[Lattice]:
    """The lattices with scores that tell puzzles from the rest. A filled grid is an answer when it is printed, or much
    smaller than another grid of the page; else it is a puzzle that somebody has filled in by hand."""
    contents = [_content(pyramid, one) for one in lattices]
    largest = max(
        (step(one.points) for one, held in zip(lattices, contents, strict=True) if not held.blocked), default=0
    )
    judged = []
    for one, held in zip(lattices, contents, strict=True):
        small = step(one.points) < SMALL * largest
        judged.append(replace(one, score=min(one.score, _most(held, small=small))))
    return judged


def _most(held: judge.Content, *, small: bool) -> float:
    """The highest score of a lattice that holds this; `small` beside another grid of the page."""
    if held.blocked:
        return BLOCKED_SCORE
    return FILLED_SCORE if held.numbered or (held.filled and (small or not held.by_hand)) else 1.0


def _content(pyramid: Pyramid, lattice: Lattice) -> judge.Content:
    x, y = mesh_maps(lattice.points, judge.CELL, 0)
    grey = pyramid.sample(x, y, step(lattice.points) / judge.CELL)
    held = judge.content(grey)
    # A grid that is black all over is printed in white.
    return judge.content(np.asarray(255 - grey, np.uint8)) if held.black.mean() >= NEGATIVE else held


def _distinct(lattices: list[Lattice]) -> list[Lattice]:
    """Of lattices that overlap, the best supported one; of equally good ones the largest."""
    kept: list[Lattice] = []
    for one in sorted(lattices, key=lambda it: (-round(it.score, 2), -it.rows * it.columns)):
        if not any(_overlap(one, other) for other in kept):
            kept.append(one)
    return kept


def _overlap(one: Lattice, other: Lattice) -> bool:
    """Whether the middle of one of two lattices lies in the other."""
    return _inside(_middle(one), other.points) or _inside(_middle(other), one.points)


def _middle(lattice: Lattice) -> Points:
    return np.asarray(lattice.points.mean(axis=(0, 1)), np.float64)


def _inside(point: Points, points: Points) -> bool:
    corners = np.array([points[0, 0], points[0, -1], points[-1, -1], points[-1, 0]], np.float32)
    return cv2.pointPolygonTest(corners, (float(point[0]), float(point[1])), False) >= 0


def _in_reading_order(lattices: list[Lattice]) -> list[Lattice]:
    """Top to bottom; grids whose heights overlap by half stand beside each other, and are read left to right."""
    rows: list[list[Lattice]] = []
    for one in sorted(lattices, key=lambda lattice: float(_middle(lattice)[1])):
        if rows and _beside(rows[-1][0], one):
            rows[-1].append(one)
        else:
            rows.append([one])
    return [one for row in rows for one in sorted(row, key=lambda lattice: float(_middle(lattice)[0]))]


def _beside(one: Lattice, other: Lattice) -> bool:
    spans = [(float(it.points[..., 1].min()), float(it.points[..., 1].max())) for it in (one, other)]
    shared = min(spans[0][1], spans[1][1]) - max(spans[0][0], spans[1][0])
    return shared >= 0.5 * min(high - low for low, high in spans)
