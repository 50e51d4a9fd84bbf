"""All inks around one grid as far as they are seen: without the ground, what is drawn twice and what others hide."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Page
from recognise.geometry import extent
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.gradients import as_one
from recognise.vectors.hollow import without_cores
from recognise.vectors.inks import Canvas, Ink, darkness, near
from recognise.vectors.painting import SAME
from recognise.vectors.patches import CELL, Patch, canvas_part, canvas_size
from recognise.vectors.paths import MARGIN, Clips, inks_of
from recognise.vectors.place import Placement
from recognise.vectors.rings import rings_joined

PANEL = 0.75
"""In cells: a larger white area on tinted paper is a tint."""
PLATE = 1.25, 0.4
"""In cells: how wide and how high the white under a total is at most: one of four figures and a sign reaches over the
edge of its cell."""
DARKEST = 0.4
"""A darker area under the whole grid shows as the lines between cells that are painted on it."""
AGAIN = 0.04
"""In cells: how much the box of a thing differs at most from that of the same thing drawn again with another pen."""
MUCH_LARGER, THICK = 2.0, 7
"""So many times the area of thick lines has a thin lattice all over them; and, in pixels, the width of thick lines."""
PASTED, NARROW = 2.5, 0.1
"""In cells: what covers more is pasted over a whole drawing; a narrower ink may be a piece of a lattice line."""
GONE = 0.02
"""As a part of an ink's own area: less of it seen is nothing seen, but for a strip of a large area, such as the shadow
that a grid casts."""


def gather_inks(page: Page, placement: Placement) -> tuple[list[Ink], Canvas]:
    """All inks on and around a grid that are seen, in paint order, without those of the ground's colour; and the
    canvas that says what covers what."""
    raster = Raster(placement.rows, placement.columns, CELL, MARGIN * CELL)
    shape = (raster.rows * CELL + 2 * raster.origin, raster.columns * CELL + 2 * raster.origin)
    paths = rings_joined(page.vectors.paths, placement.cell) if page.vectors else ()
    clips = Clips(placement, raster, shape)
    inks = as_one([ink for path in paths for ink in inks_of(path, placement, raster, shape, clips)])
    ground = _ground(inks, raster)
    inks = without_cores(inks, lambda ink: _is_paper(ink, ground) or darkness(ink.colour) < darkness(ground))
    paper = tuple(ink for ink in inks if (ink.role == "fill" or _is_dot(ink)) and _is_paper(ink, ground))
    empty = np.full(shape, -1, np.int32)
    light = tuple(ink for ink in inks if ink.role == "stroke" and _is_paper(ink, ground))
    canvas = Canvas(raster, ground, empty, empty.copy(), empty.copy(), paper, light)
    for ink in inks:
        if ink.opaque:
            window = ink.whole.window
            canvas.top_order[window][ink.whole.mask] = ink.order
            canvas.top_colour[window][ink.whole.mask] = _code(ink.colour)
            if _is_paper(ink, ground):
                canvas.ground_order[window][_surely(ink.whole.mask)] = ink.order
    drawn = [ink for ink in _once(inks) if not _is_paper(ink, ground)]
    under_all = any(_is_under_all(ink, raster) for ink in drawn)
    inner = _inner_order(inks, canvas) if under_all else canvas.ground_order
    seen = [_uncovered(ink, canvas, inner if _is_under_all(ink, raster) else canvas.ground_order) for ink in drawn]
    buried = [ink for ink, left in zip(drawn, seen, strict=True) if left is None]
    canvas = replace(canvas, buried=tuple(_under_marks(buried, inks, canvas)))
    return [ink for ink in seen if ink is not None], canvas


def _ground(inks: list[Ink], raster: Raster) -> Colour:
    """White, or the light colour that is painted under the whole grid: over what some program drew there before, if
    it did."""
    inside = raster.grid_slices()
    needed = (inside[0].stop - inside[0].start) * (inside[1].stop - inside[1].start)
    ground = (255, 255, 255)
    for ink in inks:
        if ink.role == "fill" and ink.opaque and canvas_size(ink.whole) >= needed and darkness(ink.colour) <= DARKEST:
            left, top, right, bottom = ink.box
            if max(left, top, raster.columns - right, raster.rows - bottom) <= SAME:
                ground = ink.colour
    return ground


def _is_paper(ink: Ink, ground: Colour) -> bool:
    """Whether an ink shows as ground: it has its colour, or is a small white panel, as under totals on tinted paper."""
    if near(ink.colour, ground):
        return True
    left, top, right, bottom = ink.box
    is_plate = bottom - top <= PLATE[1] and right - left <= PLATE[0]
    return ink.role == "fill" and near(ink.colour, (255, 255, 255)) and (extent(ink.box) <= PANEL or is_plate)


def _is_dot(ink: Ink) -> bool:
    return ink.is_point and ink.cap == "round"


def _once(inks: Sequence[Ink]) -> Iterator[Ink]:
    """The inks without those that paint the same thing in the same colour again, within the first or around it: of a
    line that is drawn twice, the wider."""
    by_place: dict[tuple[object, ...], list[Ink]] = {}
    # The masks of thin strokes are all alike, and only their widths tell which is the wider.
    for ink in sorted(inks, key=lambda ink: (-ink.width, -canvas_size(ink.whole))):
        left, top, right, bottom = ink.box
        place = ink.role, ink.colour, ink.opaque, round((left + right) / AGAIN), round((top + bottom) / AGAIN)
        by_place.setdefault(place, []).append(ink)
    again = {id(ink) for its in by_place.values() for n, ink in enumerate(its) if any(_holds(o, ink) for o in its[:n])}
    return (ink for ink in inks if id(ink) not in again)


def _holds(ink: Ink, other: Ink) -> bool:
    """Whether an opaque ink covers another all over, and is hardly larger."""
    apart = max(abs(a - b) for a, b in zip(ink.box, other.box, strict=True))
    if not ink.opaque or other.order == ink.order or apart > AGAIN:
        return False
    if canvas_part(other.whole, ink.whole).any():
        return False
    return canvas_size(ink.whole) <= MUCH_LARGER * canvas_size(other.whole) or not _is_thin(other)


def _is_thin(ink: Ink) -> bool:
    """Whether an ink is nowhere wider than a thick line: its mask does not tell how wide it is."""
    return not cv2.erode(ink.whole.mask.view(np.uint8), np.ones((THICK, THICK), np.uint8), borderValue=0).any()


def _inner_order(inks: Iterable[Ink], canvas: Canvas) -> npt.NDArray[np.int32]:
    """The paint order of the last opaque ink that paints a pixel wholly, of whatever colour."""
    order = canvas.ground_order.copy()
    for ink in inks:
        if ink.opaque:
            order[ink.whole.window][_surely(ink.whole.mask)] = ink.order
    return order


def _uncovered(ink: Ink, canvas: Canvas, over: npt.NDArray[np.int32]) -> Ink | None:
    """An ink without what covers it, by the order in which that was painted; None when nothing of it is seen."""
    window, mask = ink.patch.window, ink.patch.mask
    area = np.count_nonzero(mask)
    # What its own colour covers is drawn twice, not hidden.
    shows = (canvas.top_order[window] <= ink.order) | (canvas.top_colour[window] == _code(ink.colour))
    if np.count_nonzero(mask & shows) <= GONE * area and not (extent(ink.box) > PASTED and _surely(mask & shows).any()):
        return None
    visible = mask & (over[window] <= ink.order)
    return replace(ink, patch=Patch(ink.patch.left, ink.patch.top, visible)) if visible.any() else None


def _is_under_all(ink: Ink, raster: Raster) -> bool:
    """Whether an ink is a dark area under the whole grid: where cells are painted on it, whatever their colour, it is
    no tint of theirs."""
    left, top, right, bottom = ink.box
    dark = ink.role == "fill" and darkness(ink.colour) > DARKEST
    return dark and left <= AGAIN and top <= AGAIN and right >= raster.columns - AGAIN and bottom >= raster.rows - AGAIN


def _under_marks(buried: Sequence[Ink], inks: Sequence[Ink], canvas: Canvas) -> Iterator[Ink]:
    """Of inks that nothing is seen of those that may be marks: small, on the grid, off its lines, and not under a panel
    that some program pasted over all that it had drawn before."""
    panels = {ink.order for ink in inks if extent(ink.box) > PASTED}
    rows, columns = canvas.raster.rows, canvas.raster.columns
    for ink in buried:
        left, top, right, bottom = ink.box
        # A dash across a lattice line is no piece of it.
        thin = [side for side in ((left, right), (top, bottom)) if side[1] - side[0] <= NARROW]
        on_line = any(_off_line(*side) <= NARROW for side in thin)
        on_grid = 0 <= (left + right) / 2 <= columns and 0 <= (top + bottom) / 2 <= rows
        over = canvas.top_order[ink.whole.window][ink.whole.mask]
        if on_grid and not on_line and extent(ink.box) <= PANEL and not panels.intersection(over.tolist()):
            yield ink


def is_narrow(ink: Ink) -> bool:
    """Whether an ink is as narrow as lattice lines and thin dashes are."""
    left, top, right, bottom = ink.box
    return min(right - left, bottom - top) <= NARROW


def _off_line(low: float, high: float) -> float:
    """How far from a lattice line the middle of a stretch lies, in cells."""
    return abs((low + high) / 2 - round((low + high) / 2))


def _surely(mask: Mask) -> Mask:
    """A mask without its rim: a pixel there is painted only in part, and thin lines between areas shall remain."""
    inner: Mask = cv2.erode(mask.view(np.uint8), np.ones((3, 3), np.uint8), borderValue=0).view(np.bool_)
    return inner


def _code(colour: Colour) -> int:
    red, green, blue = colour
    return red << 16 | green << 8 | blue
