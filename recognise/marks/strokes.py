"""What a drawn step between two cells looks like: its width, its colour, whether it is hollow or dashed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Colours, Grey, Raster
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

STATIONS, ENOUGH = 41, 10
"""Places along a step at which it is looked at, and so many of them that no mark hides show what it looks like."""
ACROSS = 0.33
"""In cells: how far to both sides a stroke is looked for; the widest tube is 0.62 wide."""
NEAR = 0.08
"""In cells: a line's darkest part lies no farther from the straight way between the middles."""
EDGE = 0.5
"""A stroke ends where its ink has fallen to this part of its peak."""
HOLLOW = 0.45
"""A stroke whose middle has less than this part of the ink of its sides is drawn as an outline."""
LEAST_HOLLOW = 0.12
"""In cells: what is narrower is no outline, whatever its middle."""
BROKEN = 0.4
"""Where a stroke has less than this part of its usual ink it is broken."""
TIP = 0.42
"""In cells: so far before and behind the middle of a cell the tip of an arrow lies at most."""
CLEAR = 2.0
"""Ink of so many times what noise reaches is no fold and no shade."""
DASHED = 0.12
"""The part of a dashed line that is gaps, at least."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One step as drawn. `width` in cells; `shade` its colour relative to paper, 0 to 1; `ink` how much stands on its
    way, 0 to 1, and `strong` that this is clear of noise; `inked` the part of the way where some does, and `open` the
    same of what no other mark hides; `gap` is its longest stretch without any, in cells; `walled` the part of the way
    that has ink clear of noise on it or to its sides, as far as the walls of the widest tube; `spread` how far across
    it ink goes on without a gap, of any shade, on half of its way at least; `seen` that no mark hides too much of it to
    tell its look."""

    width: float
    shade: tuple[float, float, float]
    ink: float
    inked: float
    outlined: bool
    dashed: bool
    gap: float = 0.0
    strong: bool = True
    open: float = 1.0
    walled: float = 1.0
    spread: float = 0.0
    seen: bool = True

    def differs(self, other: Stroke) -> float:
        """How far the colours are apart, in the channel where they are most."""
        return max(abs(a - b) for a, b in zip(self.shade, other.shade, strict=True))


def measure(
    ends: tuple[Cell, Cell],
    part: tuple[float, float],
    drawn: Grey,
    relative: Colours,
    raster: Raster,
    floor: float,
    hidden: float = 0.0,
    *,
    evened: int = 1,
) -> Stroke:
    """The stroke from the middle of one cell to that of another, looked at on a part of its way (0 to 1): away from
    digits, circles and heads. `drawn` is the ink without the lattice, `floor` the least that counts, `hidden` how far,
    in cells, a mark on the middle of the way hides it to both sides; over so many stations along the way ink is
    `evened` out."""
    places = _places(ends, part, raster)
    ink = np.asarray(cv2.blur(_sampled(drawn, places), (1, evened), borderType=cv2.BORDER_REPLICATE), np.float64)
    reach = ink.shape[1] // 2
    near = max(1, raster.px(NEAR))
    middle = ink[:, reach - near : reach + near + 1].max(axis=1)
    bare = _bare(_far(ends), part, hidden)
    shown = bare if np.count_nonzero(bare) >= ENOUGH else np.ones(STATIONS, np.bool_)
    look = _look(ink[shown], _sampled_colours(relative, places[shown]), floor, near, raster)
    some = (ink.max(axis=1) if look.outlined else middle) > floor
    return Stroke(
        look.width,
        look.shade,
        look.ink,
        float(some.mean()),
        look.outlined,
        look.dashed,
        _longest(~some) / (STATIONS - 1) * _far(ends) * (part[1] - part[0]),
        look.ink >= CLEAR * floor,
        float(some[bare].mean()) if bare.any() else 1.0,
        float((ink.max(axis=1) > CLEAR * floor)[shown].mean()),
        _spread(ink[shown] > floor, near, 1 / raster.cell),
        bool(shown is bare),
    )


def _spread(inked: npt.NDArray[np.bool_], near: int, pixel: float) -> float:
    """How far ink goes on to both sides of where a line's darkest part lies, in cells."""
    reach = inked.shape[1] // 2
    middle = inked[:, reach - near : reach + near + 1]
    left = np.logical_and.accumulate(inked[:, reach - near - 1 :: -1], axis=1).sum(axis=1)
    right = np.logical_and.accumulate(inked[:, reach + near + 1 :], axis=1).sum(axis=1)
    return float(np.median(np.where(middle.any(axis=1), middle.sum(axis=1) + left + right, 0))) * pixel


@dataclass(frozen=True, slots=True)
class _Look:
    """What is seen of a stroke where no mark hides it; see `Stroke`."""

    width: float
    shade: tuple[float, float, float]
    ink: float
    outlined: bool
    dashed: bool


def _look(ink: Floats, colours: Floats, floor: float, near: int, raster: Raster) -> _Look:
    """The look of a stroke of its profiles (stations, across) and their colours (stations, across, 3)."""
    reach = ink.shape[1] // 2
    middle = ink[:, reach - near : reach + near + 1].max(axis=1)
    peak = float(np.median(middle))
    widths, hollow = [], []
    for row in ink:
        width, is_hollow = _across(row, floor, near, 1 / raster.cell)
        widths.append(width)
        hollow.append(is_hollow)
    outlined = float(np.mean(hollow)) > 0.5
    usual = float(np.median([w for w in widths if w > 0] or [0.0]))
    whole = middle >= BROKEN * float(np.percentile(middle, 90))
    dashed = not outlined and float((~whole).mean()) >= DASHED
    if dashed:  # its gaps say nothing of its colour
        ink, colours, peak = ink[whole], colours[whole], float(np.median(middle[whole]))
    most = float(np.median(ink.max(axis=1))) if outlined else peak
    return _Look(usual, _shade(ink, colours, near, outlined), most, outlined, dashed)


def _far(ends: tuple[Cell, Cell]) -> float:
    return math.dist(ends[0].centre, ends[1].centre)


def _longest(holds: npt.NDArray[np.bool_]) -> int:
    """The length of the longest run of True."""
    runs = (sum(1 for _ in run) for value, run in groupby(holds.tolist()) if value)
    return max(runs, default=0)


def _bare(length: float, part: tuple[float, float], hidden: float) -> npt.NDArray[np.bool_]:
    """The stations of a way that a mark on its middle leaves bare."""
    return np.asarray(np.abs(np.linspace(*part, STATIONS) - 0.5) * length > hidden)


def tip_beyond(before: Cell, last: Cell, drawn: Grey, raster: Raster, floor: float) -> float:
    """How far, in cells, a line from one cell into the next runs on beyond the middle of that, as far as its ink goes
    on without a gap; less than 0 where it ends before."""
    start, end = np.array(before.centre), np.array(last.centre)
    way = (end - start) / np.hypot(*(end - start))
    off = np.arange(-TIP, TIP, 1 / raster.cell)
    places = end + off[:, None] * way
    x, y = (((places[:, k] * raster.cell + raster.origin) - 0.5).astype(np.float32)[None] for k in (0, 1))
    shows = cv2.remap(drawn, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)[0] > floor
    gaps = np.flatnonzero(~shows)
    return float(off[gaps[0]]) if len(gaps) else TIP


def inked(ends: tuple[Cell, Cell], part: tuple[float, float], drawn: Grey, raster: Raster, floor: float) -> float:
    """On how much of a part of its way (0 to 1) a line between two cells has ink, whatever stands to its sides."""
    ink = _sampled(drawn, _places(ends, part, raster))
    reach, near = ink.shape[1] // 2, max(1, raster.px(NEAR))
    return float((ink[:, reach - near : reach + near + 1].max(axis=1) > floor).mean())


def _places(ends: tuple[Cell, Cell], part: tuple[float, float], raster: Raster) -> Floats:
    """Pixel places (stations, across, 2) along a step and to both sides of it."""
    start, end = (np.array([raster.at(v) for v in cell.centre]) for cell in ends)
    way = end - start
    normal = np.array([-way[1], way[0]]) / np.hypot(*way)
    along = start + np.linspace(*part, STATIONS)[:, None] * way
    reach = raster.px(ACROSS)
    places: Floats = along[:, None] + np.arange(-reach, reach + 1)[None, :, None] * normal - 0.5
    return places


def _sampled(picture: Grey, places: Floats) -> Floats:
    x, y = places[..., 0].astype(np.float32), places[..., 1].astype(np.float32)
    return np.asarray(cv2.remap(picture, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.float64)


def _sampled_colours(picture: Colours, places: Floats) -> Floats:
    return _sampled(picture, places)


def _across(row: Floats, floor: float, near: int, pixel: float) -> tuple[float, bool]:
    """The width of the stroke that a profile crosses near its middle, in cells, and whether it is hollow."""
    reach = len(row) // 2
    inner = row[reach - near : reach + near + 1]
    peak, centre = float(row.max()), float(inner.max())
    if peak <= floor:
        return 0.0, False
    above = row > EDGE * peak
    rails = _rails(row, reach, near, EDGE * peak)
    if rails is None and centre >= HOLLOW * peak:
        return _from_within(row, reach - near + int(inner.argmax()), near, peak, pixel)
    if rails is not None:
        return _between_walls(above, *rails, pixel)
    sides = np.nonzero(above[:reach])[0], np.nonzero(above[reach:])[0]
    if not len(sides[0]) or not len(sides[1]):
        return 0.0, False
    if centre > CLEAR * floor and _stands_alone(row, reach, near, (int(sides[0][-1]), reach + int(sides[1][0]))):
        # Circles and lines to both sides of a thin stroke are no walls of its own: there is paper between.
        own = np.where(np.abs(np.arange(len(row)) - reach) <= near, row, 0.0)
        return float(np.count_nonzero(own > EDGE * centre)) * pixel, False
    # The nearest wall on each side, from its outer edge.
    return _between_walls(above, int(sides[0][-1]), reach + int(sides[1][0]), pixel)


def _rails(row: Floats, reach: int, near: int, least: float) -> tuple[int, int] | None:
    """The places of both walls of an outline so narrow that they stand where a line's darkest part is looked for: one
    to each side of the way's middle, with next to no ink between; None where there are no two."""
    left = reach - near + int(row[reach - near : reach + 1].argmax())
    right = reach + int(row[reach : reach + near + 1].argmax())
    lesser = min(row[left], row[right])
    return (left, right) if lesser > least and min(row[left : right + 1]) < HOLLOW * lesser else None


def _from_within(row: Floats, top: int, near: int, peak: float, pixel: float) -> tuple[float, bool]:
    """The width of the stroke about its darkest place near the way, which may be a wall of an outline."""
    low = EDGE * float(row[top])
    left = right = top
    while left > 0 and row[left - 1] > low:
        left -= 1
    while right < len(row) - 1 and row[right + 1] > low:
        right += 1
    above = row > EDGE * peak
    walls = _wall_beyond(above, left, right, near)
    if walls is None or row[walls[0] : walls[1]].min() >= HOLLOW * peak:
        return (right - left + 1) * pixel, False
    return _between_walls(above, *walls, pixel)


def _wall_beyond(above: npt.NDArray[np.bool_], left: int, right: int, near: int) -> tuple[int, int] | None:
    """The inner edges of a stroke that lies to one side of the way's middle and of the next to the other side, where
    both may be the walls of one outline: its middle is no farther from that of the way than a line's."""
    reach = len(above) // 2
    if left <= reach <= right:
        return None
    own = left if left > reach else right
    side = np.flatnonzero(above[:reach])[-1:] if own > reach else reach + 1 + np.flatnonzero(above[reach + 1 :])[:1]
    if not len(side) or abs(int(side[0]) + own - 2 * reach) > 2 * near:
        return None
    return min(int(side[0]), own), max(int(side[0]), own)


def _between_walls(above: npt.NDArray[np.bool_], left: int, right: int, pixel: float) -> tuple[float, bool]:
    """The width of an outline between the outer edges of its walls, in cells, and whether it is wide enough for one."""
    while left > 0 and above[left - 1]:
        left -= 1
    while right < len(above) - 1 and above[right + 1]:
        right += 1
    width = (right - left + 1) * pixel
    return width, width >= LEAST_HOLLOW


def _stands_alone(row: Floats, reach: int, near: int, walls: tuple[int, int]) -> bool:
    """Whether a profile has a peak of its own in its middle, with next to no ink between that and the next to both
    sides: what fills an outline reaches its walls."""
    top = reach - near + int(row[reach - near : reach + near + 1].argmax())
    low = EDGE * float(row[top])
    return walls[0] < top < walls[1] and min(row[walls[0] : top]) < low > min(row[top : walls[1] + 1])


def _shade(ink: Floats, colours: Floats, near: int, outlined: bool) -> tuple[float, float, float]:
    """The colour where the stroke is darkest, the median over its stations."""
    reach = ink.shape[1] // 2
    part = slice(0, ink.shape[1]) if outlined else slice(reach - near, reach + near + 1)
    darkest = ink[:, part].argmax(axis=1)
    picked = colours[:, part][np.arange(len(ink)), darkest]
    red, green, blue = (float(v) for v in np.median(picked, axis=0))
    return red, green, blue
