"""Painted paths around one grid as inks: each fill and each stroke in cells, as an exact mask, as far as it is seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour, Page, Point, VectorPath
from recognise.geometry import extent
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.place import Floats, Placement

Polygon = tuple[Point, ...]

CELL = 64
"""Pixels a cell of the masks."""
MARGIN = 3
"""Cells around the grid that are looked at: clue rings two deep, and a bit."""
_SHIFT = 6
"""Binary places of the sub-pixel coordinates that OpenCV draws with."""
THINNEST = 0.045
"""In cells: a thinner stroke is drawn so wide in its mask, three pixels, to leave no holes."""
GROUND = 6
"""Grey levels by which a colour may differ from the ground and still cover as ground does."""
PANEL = 0.75
"""In cells: a larger white area on tinted paper is a tint."""
DARKEST = 0.4
"""A darker area under the whole grid shows as the lines between cells that are painted on it."""
LINE = 0.45
"""In cells: a filled path that is a line from cell to cell, or between the circles there, is no shorter."""
SPREAD = 1.1
"""In cells: a larger filled path may draw several things at once; a smaller one may be a character such as ÷."""
SAME = 1e-3
"""In cells: points no farther apart are one."""
OFF_MIDDLE = 0.08
"""In cells: how far the corner of a line may lie off the middle of its cell, as the lines of a table lie off even
places."""
AGAIN = 0.04
"""In cells: how much the box of a thing differs at most from that of the same thing drawn again with another pen."""
PASTED, NARROW = 2.5, 0.1
"""In cells: what covers more is pasted over a whole drawing; a narrower ink may be a piece of a lattice line."""
GONE = 0.02
"""As a part of an ink's own area: less of it seen is nothing seen."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A mask on a part of the canvas; `left`, `top` in canvas pixels."""

    left: int
    top: int
    mask: Mask

    @property
    def window(self) -> tuple[slice, slice]:
        """The part of the canvas."""
        rows, columns = self.mask.shape
        return slice(self.top, self.top + rows), slice(self.left, self.left + columns)


@dataclass(frozen=True, slots=True)
class Ink:
    """One fill or one stroke. `outlines` are n x 2 points in cells; `width` and `dash` in cells; `patch` is the whole
    area that is painted, but for what ground covers again. `order` and `part` are the same for fill and stroke of one
    thing; a path that draws several things apart from each other gives an ink for each, `part` telling them apart."""

    role: Literal["fill", "stroke"]
    outlines: tuple[Floats, ...]
    closed: tuple[bool, ...]
    curved: bool
    colour: Colour
    opaque: bool
    width: float
    dash: tuple[float, ...]
    cap: str
    order: int
    part: int
    even_odd: bool
    patch: Patch
    whole: Patch

    @property
    def dashed(self) -> bool:
        """Whether it is a stroke with a dash array."""
        return bool(self.dash)

    box: Box = field(init=False)
    """The upright box around its outlines, in cells, stroke width included."""

    def __post_init__(self) -> None:
        points = np.concatenate(self.outlines)
        (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
        half = self.width / 2
        box = float(left) - half, float(top) - half, float(right) + half, float(bottom) + half
        # Asked for again and again on pages of thousands of inks, hence kept.
        object.__setattr__(self, "box", box)


@dataclass(frozen=True, slots=True)
class Canvas:
    """What was painted last, pixel by pixel: the paint order of the last ground, and order and colour (as one number)
    of the last opaque ink of any colour. `paper` are the fills of the ground's colour, in paint order."""

    raster: Raster
    ground: Colour
    ground_order: npt.NDArray[np.int32]
    top_order: npt.NDArray[np.int32]
    top_colour: npt.NDArray[np.int32]
    paper: tuple[Ink, ...] = ()
    buried: tuple[Ink, ...] = ()
    """Small inks on the grid that something painted over them hides wholly."""

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of pixels."""
        return self.ground_order.shape[0], self.ground_order.shape[1]


def gather_inks(page: Page, placement: Placement) -> tuple[list[Ink], Canvas]:
    """All inks on and around a grid that are seen, in paint order, without those of the ground's colour; and the
    canvas that says what covers what."""
    raster = Raster(placement.rows, placement.columns, CELL, MARGIN * CELL)
    shape = (raster.rows * CELL + 2 * raster.origin, raster.columns * CELL + 2 * raster.origin)
    paths = page.vectors.paths if page.vectors else ()
    clips = _Clips(placement, raster, shape)
    inks = [ink for path in paths for ink in _inks(path, placement, raster, shape, clips)]
    ground = _ground(inks, raster)
    paper = tuple(ink for ink in inks if ink.role == "fill" and _is_paper(ink, ground))
    empty = np.full(shape, -1, np.int32)
    canvas = Canvas(raster, ground, empty, empty.copy(), empty.copy(), paper)
    for ink in inks:
        if ink.opaque:
            window = ink.whole.window
            canvas.top_order[window][ink.whole.mask] = ink.order
            canvas.top_colour[window][ink.whole.mask] = _code(ink.colour)
            if _is_paper(ink, ground):
                canvas.ground_order[window][_surely(ink.whole.mask)] = ink.order
    drawn = [ink for ink in _once(inks) if not _is_paper(ink, ground)]
    seen = [_uncovered(ink, canvas) for ink in drawn]
    buried = [ink for ink, left in zip(drawn, seen, strict=True) if left is None]
    canvas = replace(canvas, buried=tuple(_under_marks(buried, inks, canvas)))
    return [ink for ink in seen if ink is not None], canvas


def _under_marks(buried: Sequence[Ink], inks: Sequence[Ink], canvas: Canvas) -> Iterator[Ink]:
    """Of inks that nothing is seen of those that may be marks: small, on the grid, off its lines, and not under a panel
    that some program pasted over all that it had drawn before."""
    panels = {ink.order for ink in inks if extent(ink.box) > PASTED}
    rows, columns = canvas.raster.rows, canvas.raster.columns
    for ink in buried:
        left, top, right, bottom = ink.box
        narrow = min(right - left, bottom - top) <= NARROW
        on_grid = 0 <= (left + right) / 2 <= columns and 0 <= (top + bottom) / 2 <= rows
        over = canvas.top_order[ink.whole.window][ink.whole.mask]
        if on_grid and not narrow and extent(ink.box) <= PANEL and not panels.intersection(over.tolist()):
            yield ink


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
    return not bool((canvas_part(other.whole, ink.whole)).any())


def canvas_part(patch: Patch, without: Patch) -> Mask:
    """The mask of a patch without what another covers."""
    mask = patch.mask.copy()
    y, x = without.top - patch.top, without.left - patch.left
    rows, columns = without.mask.shape
    inner = mask[max(0, y) : max(0, y + rows), max(0, x) : max(0, x + columns)]
    inner &= ~without.mask[max(0, -y) : max(0, -y) + inner.shape[0], max(0, -x) : max(0, -x) + inner.shape[1]]
    return mask


def _surely(mask: Mask) -> Mask:
    """A mask without its rim: a pixel there is painted only in part, and thin lines between areas shall remain."""
    inner: Mask = cv2.erode(mask.view(np.uint8), np.ones((3, 3), np.uint8), borderValue=0).view(np.bool_)
    return inner


def near(colour: Colour, other: Colour, by: int = GROUND) -> bool:
    """Whether two colours are the same but for rounding."""
    return max(abs(a - b) for a, b in zip(colour, other, strict=True)) <= by


def _is_paper(ink: Ink, ground: Colour) -> bool:
    """Whether an ink shows as ground: it has its colour, or is a small white panel, as under totals on tinted paper."""
    if near(ink.colour, ground):
        return True
    left, top, right, bottom = ink.box
    return ink.role == "fill" and near(ink.colour, (255, 255, 255)) and max(right - left, bottom - top) <= PANEL


def _code(colour: Colour) -> int:
    red, green, blue = colour
    return red << 16 | green << 8 | blue


def darkness(colour: Colour) -> float:
    """0 for white to 1 for black, by the luma of Rec. ITU-R BT.601."""
    red, green, blue = colour
    return 1 - (0.299 * red + 0.587 * green + 0.114 * blue) / 255


def canvas_mask(patch: Patch, shape: tuple[int, int]) -> Mask:
    """A patch on an otherwise empty canvas."""
    mask = np.zeros(shape, dtype=np.bool_)
    mask[patch.window] = patch.mask
    return mask


def _ground(inks: list[Ink], raster: Raster) -> Colour:
    """White, or the light colour that is painted under the whole grid: over what some program drew there before, if
    it did."""
    inside = raster.grid_slices()
    needed = (inside[0].stop - inside[0].start) * (inside[1].stop - inside[1].start)
    ground = (255, 255, 255)
    for ink in inks:
        if ink.role == "fill" and ink.opaque and canvas_size(ink.whole) >= needed and darkness(ink.colour) <= DARKEST:
            left, top, right, bottom = ink.box
            if left <= 0 and top <= 0 and right >= raster.columns and bottom >= raster.rows:
                ground = ink.colour
    return ground


def canvas_size(patch: Patch) -> int:
    """Pixels of a patch that are set."""
    return int(np.count_nonzero(patch.mask))


class _Clips:
    """The masks of clip regions, each drawn once: a whole puzzle often lies in one."""

    def __init__(self, placement: Placement, raster: Raster, shape: tuple[int, int]) -> None:
        self._placement, self._raster, self._shape = placement, raster, shape
        self._masks: dict[Polygon, Mask] = {}

    def cut(self, patch: Patch, polygons: Iterable[Polygon]) -> Patch | None:
        """What all regions leave of a patch; None for nothing."""
        mask = patch.mask
        for polygon in polygons:
            mask = mask & self._mask(polygon)[patch.window]
        return Patch(patch.left, patch.top, mask) if mask.any() else None

    def _mask(self, polygon: Polygon) -> Mask:
        if polygon not in self._masks:
            outline = self._placement.to_cells(np.array(polygon, dtype=np.float64))
            area = canvas_mask(filled((outline,), True, self._raster, self._shape), self._shape)
            self._masks[polygon] = _without_bridges(area)
        return self._masks[polygon]


def _without_bridges(area: Mask) -> Mask:
    """A region without the seams of no width that join its pieces; one that is nowhere wider is what it is."""
    kernel = np.ones((3, 3), np.uint8)
    wide = cv2.dilate(cv2.erode(area.view(np.uint8), kernel), np.ones((5, 5), np.uint8)).view(np.bool_)
    return area & wide if wide.any() else area


def _inks(
    path: VectorPath, placement: Placement, raster: Raster, shape: tuple[int, int], clips: _Clips
) -> Iterator[Ink]:
    outlines = tuple(placement.to_cells(np.array(points, dtype=np.float64)) for points in path.subpaths)
    reach = path.width / placement.cell / 2 + 0.01
    for part in _parts(outlines, path.fill is not None, raster):
        joined = np.concatenate([outlines[number] for number in part])
        if _meets(joined.min(axis=0) - reach, joined.max(axis=0) + reach, raster):
            yield from _painted(path, outlines, part, clips, placement, raster, shape)


def _parts(outlines: tuple[Floats, ...], is_filled: bool, raster: Raster) -> list[list[int]]:
    """The outlines of a path by the things that they draw: each by itself where they are strokes; where they are
    filled, those together whose boxes meet, for one may be a hole in another. Beside the grid a path is one thing,
    such as a line of text."""
    if not is_filled:
        return [[number] for number in range(len(outlines))]
    boxes = [(points.min(axis=0), points.max(axis=0)) for points in outlines]
    first, last = np.min([low for low, _ in boxes], axis=0), np.max([high for _, high in boxes], axis=0)
    beside = (last <= 0).any() or first[0] >= raster.columns or first[1] >= raster.rows
    if beside or (last - first).max() <= SPREAD:
        return [list(range(len(outlines)))]
    parts: list[tuple[list[int], Floats, Floats]] = []
    for number, (low, high) in enumerate(boxes):
        for place in range(len(parts) - 1, -1, -1):
            numbers, its_low, its_high = parts[place]
            if (low < its_high).all() and (high > its_low).all():
                parts[place] = ([*numbers, number], np.minimum(low, its_low), np.maximum(high, its_high))
                break
        else:
            parts.append(([number], low, high))
    return [numbers for numbers, _, _ in parts]


def _painted(
    path: VectorPath,
    outlines: tuple[Floats, ...],
    part: list[int],
    clips: _Clips,
    placement: Placement,
    raster: Raster,
    shape: tuple[int, int],
) -> Iterator[Ink]:
    """Fill and stroke of one part of a path, as far as they are not clipped away."""
    its = tuple(outlines[number] for number in part)
    closed = tuple(path.closed[number] or _meets_itself(outlines[number]) for number in part)
    cell = placement.cell
    width = path.width / cell
    if placement.uneven and path.fill is None and not any(closed) and not any(path.curved):
        its = tuple(_snapped(points, raster) for points in its)
    for role, colour in (("fill", path.fill), ("stroke", path.stroke)):
        if colour is None:
            continue
        if role == "fill":
            area = _with_hairlines(filled(its, path.even_odd, raster, shape), its, raster, shape)
        else:
            area = stroked(its, closed, width, path.cap, raster, shape)
        patch = clips.cut(area, path.clip)
        if patch is not None:
            yield Ink(
                role=role,  # type: ignore[arg-type]
                outlines=its,
                closed=closed,
                curved=any(path.curved[number] for number in part if number < len(path.curved)),
                colour=_blended(colour, path.opacity),
                opaque=path.opacity > 0.98,
                width=width if role == "stroke" else 0.0,
                dash=tuple(length / cell for length in path.dash) if role == "stroke" else (),
                cap=path.cap,
                order=path.order,
                part=part[0],
                even_odd=path.even_odd,
                patch=patch,
                whole=patch,
            )


def _snapped(points: Floats, raster: Raster) -> Floats:
    """A polyline with those of its corners that lie close to the middle of a cell put right there: over a table whose
    rows are not quite equal, lines are drawn as if they were."""
    middles = np.floor(points) + 0.5
    inside = ((points > 0) & (points < (raster.columns, raster.rows))).all(axis=1)
    close = inside & (np.abs(points - middles).max(axis=1) <= OFF_MIDDLE)
    return np.where(close[:, None], middles, points)


def _meets_itself(points: Floats) -> bool:
    """Whether an outline ends where it began, though nothing says that it is closed."""
    return len(points) > 3 and bool(np.abs(points[0] - points[-1]).max() < SAME)


def _blended(colour: Colour, opacity: float) -> Colour:
    """The colour as seen over white."""
    red, green, blue = (round(255 + (part - 255) * opacity) for part in colour)
    return red, green, blue


def _meets(low: Floats, high: Floats, raster: Raster) -> bool:
    size = np.array([raster.columns, raster.rows])
    return bool((high > -MARGIN).all() and (low < size + MARGIN).all())


def _window(
    outlines: tuple[Floats, ...], reach: float, raster: Raster, shape: tuple[int, int]
) -> tuple[int, int, int, int]:
    """Left, top, width and height, in canvas pixels, around outlines grown by `reach` cells."""
    joined = np.concatenate(outlines)
    low = np.floor((joined.min(axis=0) - reach) * CELL + raster.origin).astype(int) - 1
    high = np.ceil((joined.max(axis=0) + reach) * CELL + raster.origin).astype(int) + 2
    left, top = np.clip(low, 0, (shape[1] - 1, shape[0] - 1))
    right, bottom = np.clip(high, (left + 1, top + 1), (shape[1], shape[0]))
    return int(left), int(top), int(right - left), int(bottom - top)


def _fixed(points: Floats, raster: Raster, left: int, top: int) -> npt.NDArray[np.int32]:
    """Points in cells as OpenCV's fixed-point pixels of a window; a pixel's middle has whole coordinates."""
    pixels = points * CELL + raster.origin - (left + 0.5, top + 0.5)
    limit = 2.0**15
    fixed: npt.NDArray[np.int32] = np.round(np.clip(pixels, -limit, limit) * 2**_SHIFT).astype(np.int32)
    return fixed


def filled(outlines: tuple[Floats, ...], even_odd: bool, raster: Raster, shape: tuple[int, int]) -> Patch:
    """The inside of outlines, by the even-odd or the nonzero winding number rule."""
    left, top, width, height = _window(outlines, 0.0, raster, shape)
    polygons = [_fixed(points, raster, left, top) for points in outlines if len(points) > 2]
    mask = np.zeros((height, width), dtype=np.uint8)
    if even_odd or len(polygons) == 1:
        if polygons:
            cv2.fillPoly(mask, polygons, 1, shift=_SHIFT)
        return Patch(left, top, mask.view(np.bool_))
    winding = np.zeros((height, width), dtype=np.int16)
    for points in polygons:
        mask[:] = 0
        cv2.fillPoly(mask, [points], 1, shift=_SHIFT)
        winding += np.int16(1 if cv2.contourArea(points, oriented=True) > 0 else -1) * mask
    return Patch(left, top, winding != 0)


def _with_hairlines(area: Patch, outlines: tuple[Floats, ...], raster: Raster, shape: tuple[int, int]) -> Patch:
    """A filled area; where it is a bent or slanting line thinner than THINNEST, as wide as a stroke would be drawn."""
    points = np.concatenate(outlines)
    steps = np.concatenate([np.roll(each, -1, axis=0) - each for each in outlines])
    around = float(np.hypot(steps[:, 0], steps[:, 1]).sum())
    # A strip's area is its width by half of its outline.
    width = 2 * abs(sum(map(polygon_area, outlines))) / max(around, 1e-6)
    upright = bool((np.abs(steps).min(axis=1) < SAME).all()) and len(outlines) == 1 and len(points) <= 5
    if upright or width >= THINNEST or np.ptp(points, axis=0).max() < LINE:
        return area
    return stroked(outlines, (True,) * len(outlines), THINNEST - width, "butt", raster, shape, area)


def polygon_area(points: Floats) -> float:
    """What a polygon encloses, by the shoelace formula; its sign is that of its turning."""
    (x, y), (next_x, next_y) = points.T, np.roll(points, -1, axis=0).T
    return float((x * next_y - next_x * y).sum()) / 2


def stroked(
    outlines: tuple[Floats, ...],
    closed: tuple[bool, ...],
    width: float,
    cap: str,
    raster: Raster,
    shape: tuple[int, int],
    within: Patch | None = None,
) -> Patch:
    """The area of a stroke: a bar for each piece, round joins, and the ends as `cap` says; with what is `within`."""
    width = width if within else max(width, THINNEST)
    left, top, across, down = _window(outlines, width * 0.71, raster, shape)
    mask = np.zeros((down, across), dtype=np.uint8)
    if within is not None:
        y, x = within.top - top, within.left - left
        mask[y : y + within.mask.shape[0], x : x + within.mask.shape[1]] |= within.mask
    for points, is_closed in zip(outlines, closed, strict=True):
        ring = np.concatenate([points, points[:1]]) if is_closed else points
        joints = ring if is_closed or cap == "round" else ring[1:-1]
        for joint in _fixed(joints, raster, left, top):
            cv2.circle(mask, tuple(map(int, joint)), round(width / 2 * CELL * 2**_SHIFT), 1, -1, shift=_SHIFT)
        extra = width / 2 if cap == "square" else 0.0
        for bar in _bars(ring, width, extra):
            cv2.fillConvexPoly(mask, _fixed(bar, raster, left, top), 1, shift=_SHIFT)
    return Patch(left, top, mask.view(np.bool_))


def _bars(ring: Floats, width: float, extra: float) -> Iterator[Floats]:
    """Each piece of a polyline as a rectangle."""
    steps = np.diff(ring, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    for start, step, length in zip(ring[:-1], steps, lengths, strict=True):
        if length > 0:
            along = step / length
            aside = np.array([-along[1], along[0]]) * width / 2
            first, last = start - along * extra, start + step + along * extra
            yield np.stack([first + aside, last + aside, last - aside, first - aside])


def _uncovered(ink: Ink, canvas: Canvas) -> Ink | None:
    """An ink without what ground covers; None when nothing of it is seen."""
    window, mask = ink.patch.window, ink.patch.mask
    area = np.count_nonzero(mask)
    # What its own colour covers is drawn twice, not hidden.
    shows = (canvas.top_order[window] <= ink.order) | (canvas.top_colour[window] == _code(ink.colour))
    if np.count_nonzero(mask & shows) <= GONE * area:
        return None
    visible = mask & (canvas.ground_order[window] <= ink.order)
    return replace(ink, patch=Patch(ink.patch.left, ink.patch.top, visible)) if visible.any() else None
