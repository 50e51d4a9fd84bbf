"""Inks that are a simple shape: circles, tinted cells, and names for what is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Box, Colour, Point
from recognise.colours import colours_apart
from recognise.evidence import Disc, Shape, Tint
from recognise.geometry import extent, middle
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink, darkness
from recognise.vectors.painting import polygon_area
from recognise.vectors.patches import CELL, canvas_size
from recognise.vectors.place import Floats
from schema.cells import Cell

ROUND = 0.04
"""As a part of the radius: how far the points of a circle may lie off it."""
SQUEEZED = 0.08
"""As a part of the radius: how much wider than high a circle may be, in a table's rows that are unequal."""
BY_HAND, SQUEEZED_BY_HAND = 0.12, 0.16
"""The same for areas that curves bound, as a wavering hand draws them; of figures with one outline none is so
round."""
MEETS = 0.15
"""As a part of its width: how far the ends of a ring drawn by hand are apart at most."""
REGULAR = 0.01
"""As a part of their mean distance from the middle: how much those of a regular polygon's corners differ."""
OVAL = 0.45
"""The same for an oval on the border of two cells, which is up to 1.6 times as long as wide: a mark of a pair."""
ON_BORDER, LARGEST_OVAL = 0.06, 0.25
"""In cells: how far the middle of such an oval may lie off that of the border, and its mean radius at most."""
LEAST_POINTS = 8
LARGEST, SMALLEST = 0.75, 0.015
"""Radius of a disc in cells."""
CORNER = 0.15
"""In cells, from both sides of a cell: a tint covers the places there, a line through the cell does not."""
MOSTLY = 0.6
"""The part of a tinted cell that four circles on its corners leave free, each of a third of a cell in radius."""
LEAST_SEEN, WHOLE = 0.15, 0.03
"""The part that must be seen of a tint that is drawn from lattice line to lattice line; in cells, how near to these."""
WHOLLY = 0.95
"""The part of a tint's area that lies in the cells which it fills, or not far beyond their edges."""
BEYOND = 0.06
"""In cells: how far a tint may reach beyond its cells; lattice lines are set on either side of what they part."""
INSET = 0.06
"""In cells: a square set in so far on all sides stands in its cell and is no tint of it."""
OBLONG = 0.5
"""Width by height, or the other way round, below which a rectangle is a bar."""
MID_EDGE, LEAST_BAR = 0.06, 0.25
"""In cells: how far the middle of a bar lies off that of its edge, and how long it is at least; a minus is shorter."""
FULL = 0.88
"""The part of its box that a square with rounded corners fills; a circle fills 0.785."""
ASKEW = 0.75
"""The part of its box that a bar or a square fills at least where it is set askew, as by hand; a diamond fills half."""
LEAST_ROUNDED = 0.6
"""In cells: the least square with round corners that is drawn as a filled outline."""
LEAST_SIGN, EVEN_SIDES = 0.4, 0.95
"""The same out of a fount of signs, and how wide it is as a part of its height: a 0 without a name is narrower."""
THIN_WALL = 0.05
"""In cells: thickness of a tag's outline; strokes of characters as large are thicker."""
NO_BAY = 0.01
"""In square cells: the bays of a figure without any, but for rounding."""
THICKEST_WALL = 0.15
"""In cells: thickness of an outline that is drawn as a filled area."""
GIVEN, IN_MIDDLE = 0.4, 0.2
"""In cells: the height of a given at least, and how far from the middle of its cell it stands at most."""
MOST_CORNERS = 4
"""A filled polygon of more corners and less than a cell may be a figure such as a 1, 4 or 7."""
RIM, THINNEST_RIM = 0.05, 0.01
"""As a part of its radius, and in cells: a disc that is smaller by no more hides one that it is painted upon, and
leaves no rim of it."""
SAME_PATH = 0.01
"""In cells: what rounding leaves between the corners of one path drawn twice."""


def disc(ink: Ink) -> Disc | None:
    """The ink as a disc or ring; None when it is none."""
    if ink.is_point:
        centre = ink.outlines[0][0]
        found = ink.cap == "round" and ink.width > 0
        return Disc(_point(centre), ink.width / 2, ink.colour, None, "vector") if found else None
    is_blob = ink.curved and len(ink.outlines) == 1 and (ink.role == "fill" or ink.closed[0] or _meets(ink.outlines[0]))
    circles = [_circle(points, is_blob) for points in ink.outlines]
    if any(circle is None for circle in circles) or (not all(ink.closed) and ink.role == "stroke" and not ink.curved):
        return None
    largest = max((circle for circle in circles if circle), key=lambda circle: circle[1])
    if len(circles) > 2 or not SMALLEST <= largest[1] <= LARGEST:
        return None
    is_ring = len(circles) == 2 or ink.role == "stroke"
    fill, outline = (None, ink.colour) if is_ring else (ink.colour, None)
    return Disc(largest[0], largest[1], fill, outline, "vector")


def _meets(points: Floats) -> bool:
    """Whether a curve comes back to where it began, as near as a hand draws it."""
    return bool(np.hypot(*(points[-1] - points[0])) <= MEETS * np.ptp(points, axis=0).min())


def on_paper(found: Disc, order: int, paper: Sequence[tuple[int, Disc]], ground: Colour) -> Disc:
    """A disc with the ground's colour in it where that was painted: under a ring, or upon a disc whose rim is left.
    `paper` are discs of the ground's colour with their places in the paint order, `order` is that of the disc."""
    for place, under in paper:
        apart = np.hypot(under.centre[0] - found.centre[0], under.centre[1] - found.centre[1])
        if apart > 0.1 * found.radius or not 0.6 <= under.radius / found.radius <= 1.2:
            continue
        if found.fill is None:
            return replace(found, fill=under.fill or ground)
        if place > order and under.radius < found.radius:
            return replace(found, fill=under.fill or ground, outline=found.fill)
    return found


def covered(paper: Disc, order: int, filled: Sequence[tuple[int, Disc]]) -> bool:
    """Whether a disc of another colour was painted over one of the ground's colour: `filled` are the discs with their
    places in the paint order, `order` is that of `paper`."""
    return any(
        place > order
        and above.radius >= paper.radius - min(RIM * paper.radius, THINNEST_RIM)
        and np.hypot(above.centre[0] - paper.centre[0], above.centre[1] - paper.centre[1]) <= 0.1 * paper.radius
        for place, above in filled
    )


def _is_on_border(point: Floats) -> bool:
    """Whether a point lies in the middle of the border of two cells."""
    off = np.abs(point - np.round(point))
    return bool(off.min() <= ON_BORDER and off.max() >= 0.5 - ON_BORDER)


def _circle(points: Floats, by_hand: bool = False) -> tuple[tuple[float, float], float] | None:
    """Centre and radius of a circle drawn as a polygon of many corners."""
    squeezed, uneven = (SQUEEZED_BY_HAND, BY_HAND) if by_hand else (SQUEEZED, ROUND)
    if len(points) < LEAST_POINTS:
        return None
    low, high = points.min(axis=0), points.max(axis=0)
    centre, radius = (low + high) / 2, float((high - low).mean()) / 2
    if by_hand and _is_on_border(centre) and radius <= LARGEST_OVAL:
        squeezed, uneven = OVAL, ROUND if np.ptp(high - low) > 2 * squeezed * radius else uneven
    if (high <= low).any() or np.ptp(high - low) > 2 * squeezed * radius:
        return None
    away = np.hypot(*((points - centre) / (high - low) * 2 * radius).T)
    if np.ptp(away) <= REGULAR * away.mean():
        # The corners of an octagon stand out of the box round a circle as large.
        radius = float(away.mean())
    off = np.abs(away - radius).max()
    angles = np.sort(np.arctan2(*(points - centre).T))
    gap = float(np.diff(np.append(angles, angles[0] + 2 * np.pi)).max())
    return (_point(centre), radius) if off <= uneven * radius and gap < 1.0 else None


def _point(point: Floats) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def merge_discs(discs: Sequence[Disc]) -> list[Disc]:
    """Discs drawn in several strokes, one upon the other about one middle, as one: the widest gives the radius, the
    last fill the fill, the widest other colour the outline: some programs stroke what they fill, in one colour."""
    merged: list[Disc] = []
    for disc in discs:
        for index, other in enumerate(merged):
            apart = np.hypot(disc.centre[0] - other.centre[0], disc.centre[1] - other.centre[1])
            if apart <= 0.1 * max(disc.radius, other.radius) and 0.6 <= disc.radius / other.radius <= 1.67:
                merged[index] = _one_on_other(other, disc)
                break
        else:
            merged.append(disc)
    return merged


def _one_on_other(below: Disc, above: Disc) -> Disc:
    outline = above.outline or below.outline
    if outline is None and above.fill and below.fill and above.radius < below.radius:
        outline = below.fill
    fill = above.fill or below.fill
    return Disc(below.centre, max(below.radius, above.radius), fill, None if outline == fill else outline, "vector")


def tints(ink: Ink, raster: Raster, inset: float = INSET) -> list[Tint] | None:
    """The cells whose ground a filled ink colours; None when it is something else, such as a square that is so far set
    in."""
    if ink.role != "fill" or (ink.curved and len(ink.outlines) == 1 and extent(ink.box) < 1):
        return None
    cells = list(_filled_cells(ink, raster))
    if not cells or _share_within(ink, cells, raster) < WHOLLY:
        return None
    if len(cells) == 1 and _stands_in(ink.box, cells[0].cell, inset):
        return None
    return cells


def _share_within(ink: Ink, cells: Sequence[Tint], raster: Raster) -> float:
    """The part of an ink that lies within cells grown by a bit."""
    mask, reach = ink.patch.mask, raster.px(BEYOND)
    within = np.zeros_like(mask)
    for tint in cells:
        y = (tint.cell.row - 1) * CELL + raster.origin - ink.patch.top
        x = (tint.cell.column - 1) * CELL + raster.origin - ink.patch.left
        within[max(0, y - reach) : y + CELL + reach, max(0, x - reach) : x + CELL + reach] = True
    return canvas_size(replace(ink.patch, mask=mask & within)) / max(1, canvas_size(ink.patch))


def _filled_cells(ink: Ink, raster: Raster) -> Iterator[Tint]:
    left, top, right, bottom = ink.box
    patch, origin = ink.patch, raster.origin
    spots = np.array([CORNER, 1 - CORNER])
    rows, columns = patch.mask.shape
    least = LEAST_SEEN if _is_whole_cells(ink) else MOSTLY
    for row in range(max(0, int(top)), min(raster.rows, int(np.ceil(bottom)))):
        for column in range(max(0, int(left)), min(raster.columns, int(np.ceil(right)))):
            y0, x0 = row * CELL + origin - patch.top, column * CELL + origin - patch.left
            part = patch.mask[max(0, y0) : max(0, y0 + CELL), max(0, x0) : max(0, x0 + CELL)]
            ys, xs = (y0 + spots * CELL).astype(int), (x0 + spots * CELL).astype(int)
            if ys.min() < 0 or xs.min() < 0 or ys.max() >= rows or xs.max() >= columns:
                continue
            share = float(np.count_nonzero(part)) / (CELL * CELL)
            # Circles of paper may lie on a cell's corners, and a tube of paper's colour on most of a cell.
            on_corners = share >= least and ink.whole.mask[np.ix_(ys, xs)].all()
            if on_corners or patch.mask[np.ix_(ys, xs)].all():
                yield Tint(
                    Cell(row + 1, column + 1), ink.colour, share * ink.painted, "vector", _grain_in(ink, row, column)
                )


def _is_whole_cells(ink: Ink) -> bool:
    """Whether an ink is a rectangle drawn from lattice line to lattice line."""
    on_lines = all(abs(end - round(end)) <= WHOLE for end in ink.box)
    return on_lines and len(ink.outlines) == 1 and _fills_its_box(ink.outlines[0])


def _grain_in(ink: Ink, row: int, column: int) -> tuple[tuple[Point, ...], ...]:
    """What a pattern paints of an ink in a cell."""
    middle_of_cell = np.array([column, row]) + 0.5
    return tuple(
        tuple(map(tuple, points.tolist()))
        for points in ink.grain
        if (np.abs(points.min(axis=0) + points.max(axis=0) - 2 * middle_of_cell) < 1 + np.ptp(points, axis=0)).all()
    )


def _stands_in(box: Box, cell: Cell, inset: float) -> bool:
    left, top = cell.column - 1, cell.row - 1
    inner = (box[0] - left, box[1] - top, left + 1 - box[2], top + 1 - box[3])
    return min(inner) >= inset


def shape(ink: Ink, raster: Raster) -> Shape:
    """A left-over ink under the best name for what it looks like."""
    where = tuple(_point(point) for point in ink.outlines[0]) if len(ink.outlines) == 1 else ()
    return Shape(
        _name(ink, raster),
        ink.box,
        ink.colour,
        "vector",
        where=where,
        filled=ink.role == "fill" and ink.painted == 1 and not (is_frame(ink) or _is_outline(ink) or _shows_rim(ink)),
    )


def _shows_rim(ink: Ink) -> bool:
    """Whether an area of the ground's colour was painted on one that is larger, so that only a rim of it shows."""
    wall = int(THICKEST_WALL * CELL)
    inner = (slice(wall, -wall), slice(wall, -wall))
    shown, painted = ink.patch.mask[inner], ink.whole.mask[inner]
    return ink.patch.mask.shape == ink.whole.mask.shape and bool(painted.any()) and not shown.any()


def without_rims(shapes: Sequence[Shape]) -> list[Shape]:
    """The shapes without the outlines that were drawn again round filled ones, as printers do that fill a path and
    stroke it in two steps."""
    filled = [s for s in shapes if s.filled and s.where]
    return [s for s in shapes if s.filled or not any(_in_one_place(s, other) for other in filled)]


def _in_one_place(one: Shape, other: Shape) -> bool:
    """Whether two shapes of one name are of one path, whose box a pen widens, or of one box, whose path is another."""
    same_path = len(one.where) == len(other.where) and np.allclose(one.where, other.where, rtol=0, atol=SAME_PATH)
    return one.name == other.name and bool(same_path or np.allclose(one.box, other.box, rtol=0, atol=SAME_PATH))


def _name(ink: Ink, raster: Raster) -> str:
    if ink.dashed:
        return "dashes"
    is_area = ink.role == "fill" or (all(ink.closed) and extent(ink.box) < 1)
    if (is_area and is_square(ink)) or (ink.role == "fill" and is_frame(ink)):
        return "square"
    if _is_rounded_bar(ink):
        return "bar"
    if _is_outline(ink) if ink.role == "fill" else _is_tag(ink):
        return "outline"
    if ink.curved or len(ink.outlines) > 1 or len(_corners(ink.outlines[0])) > MOST_CORNERS:
        return "glyph-path" if ink.role == "fill" and extent(ink.box) < 1 else "mark"
    return _filled_name(ink) if ink.role == "fill" else _stroked_name(ink, raster)


def is_frame(ink: Ink) -> bool:
    """Whether a filled ink is the outline of a square: one within another, as far from it on all sides."""
    if len(ink.outlines) != 2:
        return False
    boxes = [np.concatenate([points.min(axis=0), points.max(axis=0)]) for points in ink.outlines]
    walls = np.abs(boxes[0] - boxes[1])
    size = boxes[0][2:] - boxes[0][:2]
    # One with round corners is larger than any 0 that is drawn as a path, or it is a sign as wide as high.
    sharp = all(len(_corners(points)) == 4 for points in ink.outlines)
    least = LEAST_SIGN if ink.is_sign and size.min() >= EVEN_SIDES * size.max() else LEAST_ROUNDED
    if not sharp and (size.min() < least or not all(map(_fills_its_box, ink.outlines))):
        return False
    return bool(np.ptp(walls) <= 0.02 and walls.max() <= THICKEST_WALL and size.min() >= 0.5 * size.max())


def _is_outline(ink: Ink) -> bool:
    """Whether a filled ink is what a pen leaves that goes round a figure of straight sides, such as a tag with a point:
    one ring in another of as many corners, larger than characters beside a grid, and a thin wall between them."""
    corners = [_corners(points) for points in ink.outlines]
    if ink.curved or len(corners) != 2 or len(corners[0]) != len(corners[1]):
        return False
    outer, inner = sorted(corners, key=lambda points: -abs(polygon_area(points)))
    round_it = float(np.hypot(*(outer - np.roll(outer, 1, axis=0)).T).sum())
    wall = (abs(polygon_area(outer)) - abs(polygon_area(inner))) / round_it
    return bool(np.ptp(outer, axis=0).min() >= LEAST_ROUNDED and wall <= THIN_WALL)


def _is_tag(ink: Ink) -> bool:
    """Whether a stroke goes round a figure of straight sides that is larger than characters beside a grid and has no
    bay, as a tag with a point has none, but every figure of a fount that is drawn so."""
    if ink.curved or len(ink.outlines) != 1 or not ink.closed[0]:
        return False
    corners = _corners(ink.outlines[0])
    hull = cv2.convexHull(corners.astype(np.float32))[:, 0]
    bays = abs(polygon_area(hull)) - abs(polygon_area(corners))
    large = np.ptp(corners, axis=0).min() >= LEAST_ROUNDED
    return bool(len(corners) > MOST_CORNERS and large and bays <= NO_BAY)


def is_square(ink: Ink) -> bool:
    """Whether an ink is one upright square, more or less, its corners round or not."""
    left, top, right, bottom = ink.box
    across, down = right - left, bottom - top
    even = min(across, down) >= OBLONG * max(across, down)
    return len(ink.outlines) == 1 and _fills_its_box(ink.outlines[0]) and even


def _is_rounded_bar(ink: Ink) -> bool:
    """Whether an ink is a bar with round corners along the middle of an edge, where no figure stands."""
    left, top, right, bottom = ink.box
    across, down = right - left, bottom - top
    upright = down > across
    on_line, along = ((left + right) / 2, (top + bottom) / 2)[:: 1 if upright else -1]
    in_place = abs(on_line - round(on_line)) <= MID_EDGE and abs(along % 1 - 0.5) <= MID_EDGE
    oblong = min(across, down) < OBLONG * max(across, down) and LEAST_BAR <= max(across, down) <= 1
    return in_place and oblong and ink.curved and len(ink.outlines) == 1 and _fills_its_box(ink.outlines[0])


def _fills_its_box(points: Floats) -> bool:
    """Whether an outline is a rectangle, its corners round or not. By the outline itself: on the canvas, where a cell
    has few pixels, a small figure is fuller than it is."""
    across, down = np.ptp(points, axis=0)
    return bool(abs(polygon_area(points)) >= FULL * across * down)


def _corners(points: Floats) -> Floats:
    """The points of a polygon without its repeated end."""
    closed = len(points) > 1 and np.abs(points[0] - points[-1]).max() < 1e-6
    return points[:-1] if closed else points


def _filled_name(ink: Ink) -> str:
    corners = _corners(ink.outlines[0])
    if len(corners) == 3:
        return "arrow"
    if len(corners) != 4:
        return "mark"
    left, top, right, bottom = ink.box
    return _four_sided(corners, right - left, bottom - top)


def _four_sided(corners: Floats, across: float, down: float) -> str:
    """What a figure of four corners is called that is so large across and down."""
    slants = bool((np.abs(np.diff(corners, axis=0)).min(axis=1) >= 0.01).any())
    if slants and abs(polygon_area(corners)) < ASKEW * across * down:
        return "diamond"
    return "square" if OBLONG < across / max(down, 1e-6) < 1 / OBLONG else "bar"


def _stroked_name(ink: Ink, raster: Raster) -> str:
    corners = _corners(ink.outlines[0])
    if len(corners) == 2:
        ends = sorted(map(_point, corners))
        far = {(0, 0), (raster.columns, raster.rows)}, {(0, raster.rows), (raster.columns, 0)}
        at_corners = {(round(x), round(y)) for x, y in ends if max(abs(x - round(x)), abs(y - round(y))) < CORNER}
        return "diagonal" if at_corners in far else "bar"
    if len(corners) == 3 and not ink.closed[0]:
        # A pen draws a 1 or a 7 so as well.
        return "mark" if _is_like_given(ink.box, raster) else "sign"
    if ink.closed[0] and len(corners) == 4 and extent(ink.box) < 1:
        return _four_sided(corners, *np.ptp(corners, axis=0))
    return "outline" if ink.closed[0] else "mark"


def _is_like_given(box: Box, raster: Raster) -> bool:
    """Whether a thing is as high as a given and stands where one does."""
    x, y = middle(box)
    on_grid = 0 < x < raster.columns and 0 < y < raster.rows
    return on_grid and box[3] - box[1] >= GIVEN and max(abs(x % 1 - 0.5), abs(y % 1 - 0.5)) <= IN_MIDDLE


def similar(one: Colour | None, other: Colour | None) -> bool:
    """Whether two colours are meant as one: equal but for rounding and for print's slight shades."""
    if one is None or other is None:
        return False
    return colours_apart(one, other) <= 40 and abs(darkness(one) - darkness(other)) < 0.12
