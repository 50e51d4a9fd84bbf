"""Grids as a PDF draws them: evenly spaced straight lines that cross. Points are exact, unlike those from pixels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product

import numpy as np
import numpy.typing as npt

from ingest.page import Page, VectorPath
from recognise.evidence import Lattice
from recognise.vectors.apart import gap_lattice
from recognise.vectors.clue_boxes import without_clue_boxes
from recognise.vectors.panels import not_behind, panels_of
from recognise.vectors.place import Floats, frame_to_image
from recognise.vectors.runs import Lines, union

LEAST, MOST = 3, 40
"""Rows or columns of a lattice."""
STRAIGHT = 0.3
"""Points by which a line may slope or a filled bar's side be off: what rounding of coordinates leaves."""
WOBBLE, FAR = 2.0, 20.0
"""Points by which a line drawn as by hand wavers, and times that, how long it is at least: print does it on purpose,
and a wave that marks cells swings wider."""
LEVEL, NEXT = 0.05, 0.3
"""Points: how exactly pieces of one line lie on it, and how far apart they follow each other: the sides of cages stand
further apart."""
WIDEST_GAP, LEAST_DASHES = 1.5, 8
"""Times its length, the gap behind a dash; and so many dashes that are drawn one by one are a line: fewer are the sides
of a row of small boxes."""
THIN = 12.0
"""Points: a filled bar wider than this is no line."""
LONG = 3.0
"""A bar is so much longer than it is thick."""
MOST_SIDES = 2000
"""A filled area with more sides is no frame."""
SHORTEST = 9.0
"""Points: a filled area that is smaller all round is a character, not the side of a cell."""
TOUCH = 2.0
"""Points by which crossing lines may miss each other: half the width of a thick frame."""
UNEVEN, TABLE_UNEVEN = 0.04, 0.07
"""As a part of the spacing: how far a line may lie off its even place; in a table, whose rows differ by the width of
its borders, it may be more."""
TABLE_STRAIGHT = 1.0
"""Points between thin and thick pieces of one line of a table: half the difference of their widths."""
SQUARE = 1.1
"""So many times as long as wide the cells are at most of a grid that is the body of a table."""
WHOLE = 0.7
"""As a part of the lattice's side: what a lattice line must cover; cage and box pieces cover less."""
LENGTHENED = 0.8
"""As a part of the longest line of a lattice: its side is no shorter."""
ALL_ALONG = 0.98
"""As a part of its side: what every line covers of a lattice of which some lines are longer."""
DOUBLE, LEAST_DOUBLE = 0.12, 2
"""As a part of the spacing, how far apart the two lines of a double one are at most; and so many of the inner lines of
a lattice are double if any are."""
MOST_LINES = 6000
"""A page with more straight lines is a drawing, and the pairs would take long."""
MOST_SIDES_WITH_CLUES = 2
"""So many rows of cells, or columns, that hold clues go along a grid at most: one on either side."""
SAME_PLACE = 0.1
"""As a part of a cell: how far two lattices of one grid may differ anywhere."""


@lru_cache(maxsize=1)
def lattices_from_vectors(page: Page) -> tuple[Lattice, ...]:
    """Every lattice that the page's lines draw, with `points` in pixels of the page's image; largest first. Tables and
    word grids are among them: `score` is 1 for each, for it tells nothing about what a lattice is for. Asked for again
    with each grid of a page, hence kept."""
    lattices = [
        lattice for across, down in line_groups(page) if (lattice := _lattice(across, down, page.scale)) is not None
    ]
    apart = gap_lattice(page)
    if apart is not None and not any(_holds_middle(lattice, apart, page.scale) for lattice in lattices):
        lattices.append(Lattice(np.stack(np.meshgrid(*apart), axis=-1) * page.scale))
    return tuple(sorted(lattices, key=lambda lattice: -float(np.ptp(lattice.points[..., 0]))))


def _holds_middle(lattice: Lattice, lines: tuple[Floats, Floats], scale: float) -> bool:
    """Whether the middle of a grid, by where its lines run, lies within a lattice as large."""
    middle = np.array([each.mean() for each in lines]) * scale
    low, high = lattice.points.min(axis=(0, 1)), lattice.points.max(axis=(0, 1))
    return bool(
        (low < middle).all() and (middle < high).all() and lattice.points.size >= 2 * lines[0].size * lines[1].size
    )


def line_groups(page: Page) -> list[tuple[Lines, Lines]]:
    """Straight lines that hang together by crossing or touching: those along x and those along y of each group, in
    frame units of the upright page. A group is a lattice, a table, or another figure of crossing lines; a strip of
    boxes has two lines one way and several the other."""
    panels = panels_of(page)
    segments = [
        not_behind(part, path.order, panels)
        for path in (page.vectors.paths if page.vectors else ())
        for part in _segments(page, path)
    ]
    ends = np.concatenate(segments) if segments else np.empty((0, 2, 2))
    if not len(ends):
        return []
    across, down = _run_on(_directed(ends, 0)), _run_on(_directed(ends, 1))
    if max(len(across.at), len(down.at)) > MOST_LINES:
        return []
    return _groups(across, down)


def exact(lattice: Lattice, drawn: Iterable[Lattice]) -> Lattice:
    """The drawn lattice, or that part of one, that is the same grid as `lattice`; `lattice` itself if there is none."""
    cell = float(np.linalg.norm(lattice.points[0, 1] - lattice.points[0, 0]))
    for points in (part for other in drawn for part in _parts(other.points, lattice.points.shape)):
        if np.abs(points - lattice.points).max() <= SAME_PLACE * cell:
            return replace(lattice, points=points, broken=False)
    return lattice


def _parts(points: Floats, shape: tuple[int, ...]) -> Iterator[Floats]:
    """The parts of a lattice that have so many rows and columns of points: itself, or what is left without clues that
    stand in cells of their own along its sides."""
    rows, columns = points.shape[0] - shape[0], points.shape[1] - shape[1]
    if 0 <= rows <= MOST_SIDES_WITH_CLUES and 0 <= columns <= MOST_SIDES_WITH_CLUES:
        for top, left in product(range(rows + 1), range(columns + 1)):
            yield points[top : top + shape[0], left : left + shape[1]]


def _segments(page: Page, path: VectorPath) -> list[Floats]:
    """The straight pieces of a path, n x 2 x 2, in frame units of the upright page; of filled bars their middle
    lines."""
    ends = np.cumsum([len(points) for points in path.subpaths])[:-1]
    every = frame_to_image(page, np.array([at for points in path.subpaths for at in points], np.float64)) / page.scale
    if path.stroke is None and (len(every) > MOST_SIDES or np.ptp(every, axis=0).max() < SHORTEST):
        return []
    rings = []
    for points, closed in zip(np.split(every, ends), path.closed, strict=True):
        ring = np.concatenate([points, points[:1]]) if closed or path.stroke is None else _steadied(points)
        rings.append(np.stack([ring[:-1], ring[1:]], axis=1))
    sides = np.concatenate(rings)
    if path.stroke is not None:
        return [sides]
    bars = [_middle_lines(sides, along) for along in (0, 1)]
    return [_carried_on(*bars[along], *bars[1 - along], along) for along in (0, 1)]


def _steadied(line: Floats) -> Floats:
    """A line (n x 2) without its wavering, from end to end at its middle, if it is drawn as by hand along x or y."""
    for along in (0, 1):
        steps, across = np.diff(line[:, along]), line[:, 1 - along]
        wavers = STRAIGHT < np.ptp(across) <= WOBBLE and abs(steps.sum()) >= FAR * np.ptp(across)
        if len(line) > 2 and wavers and (np.sign(steps) == np.sign(steps.sum())).all():
            ends = line[[0, -1]].copy()
            ends[:, 1 - along] = (across.min() + across.max()) / 2
            return ends
    return line


def _carried_on(lines: Floats, halves: Floats, bars: Floats, bar_halves: Floats, along: int) -> Floats:
    """Lines along x (0) or y (1), those that end in a bar the other way carried on to the middle of that: between the
    cells that are cut out of one area they end where its thick frame begins. `halves` are half the thicknesses."""
    across = 1 - along
    carried = lines.copy()
    for bar, half in zip(bars, bar_halves, strict=True):
        middle, (low, high) = bar[0, along], np.sort(bar[:, across])
        spare = halves + STRAIGHT
        meets = (lines[:, 0, across] >= low - spare) & (lines[:, 0, across] <= high + spare)
        ends_in = meets[:, None] & (np.abs(lines[..., along] - middle) <= half + STRAIGHT)
        carried[..., along] = np.where(ends_in, middle, carried[..., along])
    return carried


def _middle_lines(sides: Floats, along: int) -> tuple[Floats, Floats]:
    """The middle lines of thin bars between sides of a filled area that run along x (0) or y (1), and half their
    thicknesses: lines drawn as areas, one by one or, as outlines of strokes, in rings."""
    across = 1 - along
    level = np.abs(sides[:, 0, across] - sides[:, 1, across]) <= STRAIGHT
    chosen = sides[level & (np.ptp(sides[..., along], axis=1) > 1)]
    at = chosen[..., across].mean(axis=1)
    start, end = chosen[..., along].min(axis=1), chosen[..., along].max(axis=1)
    apart = at[None, :] - at[:, None]
    shared = np.minimum(end[:, None], end) - np.maximum(start[:, None], start)
    facing = (apart > 0) & (apart <= THIN) & (shared >= LONG * apart)
    middles, halves = [], []
    nearest = np.where(facing, apart, np.inf)
    # One side of a frame faces the inner sides of all that it holds.
    for one, other in np.argwhere(facing & (nearest <= nearest.min(axis=1, keepdims=True, initial=np.inf) + STRAIGHT)):
        ends = np.empty((2, 2))
        ends[:, across] = (at[one] + at[other]) / 2
        ends[:, along] = max(start[one], start[other]), min(end[one], end[other])
        middles.append(ends)
        halves.append(apart[one, other] / 2)
    return np.array(middles).reshape(-1, 2, 2), np.array(halves)


def _directed(ends: Floats, along: int) -> Lines:
    """The lines that run along x (0) or y (1)."""
    across = 1 - along
    chosen = ends[
        (np.abs(ends[:, 0, across] - ends[:, 1, across]) <= STRAIGHT) & (np.ptp(ends[..., along], axis=1) > 1)
    ]
    return Lines(chosen[..., across].mean(axis=1), chosen[..., along].min(axis=1), chosen[..., along].max(axis=1))


def _run_on(lines: Lines) -> Lines:
    """Lines whose pieces follow each other, as some programs draw them, as whole ones."""
    across = np.argsort(lines.at, kind="stable")
    level = np.empty(len(across), dtype=np.int64)
    level[across] = np.cumsum(np.diff(lines.at[across], prepend=lines.at[across[:1]]) > LEVEL)
    whole: list[list[float]] = []
    before = -1
    for place in np.lexsort((lines.start, level)).tolist():
        at, start, end = float(lines.at[place]), float(lines.start[place]), float(lines.end[place])
        if level[place] == before and start <= whole[-1][2] + NEXT:
            whole[-1][2] = max(whole[-1][2], end)
        else:
            whole.append([at, start, end])
        before = level[place]
    found = np.array(_dashes_joined(whole)).reshape(-1, 3)
    return Lines(found[:, 0], found[:, 1], found[:, 2])


def _dashes_joined(pieces: Sequence[Sequence[float]]) -> list[Sequence[float]]:
    """Pieces (at, start, end), in order, those that are dashes of one line, each drawn by itself, as that line."""
    joined: list[Sequence[float]] = []
    run: list[Sequence[float]] = []
    for piece in pieces:
        if run and not _is_next_dash(run, piece):
            joined += _as_line(run)
            run = []
        run.append(piece)
    return joined + _as_line(run)


def _is_next_dash(run: Sequence[Sequence[float]], piece: Sequence[float]) -> bool:
    """Whether a piece follows those of a run as a dash does: as long as the first, and as far on as the second was."""
    (at, start, end), length, gap = run[0], piece[2] - piece[1], piece[1] - run[-1][2]
    even = len(run) < 2 or abs(gap - (run[1][1] - run[0][2])) <= STRAIGHT
    alike = abs(length - (end - start)) <= STRAIGHT and abs(piece[0] - at) <= LEVEL
    return alike and even and 0 < gap <= WIDEST_GAP * length


def _as_line(run: Sequence[Sequence[float]]) -> list[Sequence[float]]:
    return [(run[0][0], run[0][1], run[-1][2])] if len(run) >= LEAST_DASHES else list(run)


def _groups(across: Lines, down: Lines) -> list[tuple[Lines, Lines]]:
    """Lines that hang together by crossing or touching."""
    meet = (
        (across.start[:, None] <= down.at + TOUCH)
        & (across.end[:, None] >= down.at - TOUCH)
        & (down.start <= across.at[:, None] + TOUCH)
        & (down.end >= across.at[:, None] - TOUCH)
    )
    left: npt.NDArray[np.bool_] = np.ones(len(across.at), dtype=bool)
    groups = []
    while left.any():
        rows = np.asarray(np.zeros(len(across.at), dtype=bool))
        rows[int(np.argmax(left))] = True
        while True:
            columns = np.asarray(meet[rows].any(axis=0))
            grown = np.asarray(meet[:, columns].any(axis=1) | rows)
            if (grown == rows).all():
                break
            rows = grown
        left &= ~rows
        fewer, more = sorted((rows.sum(), columns.sum()))
        if fewer > 1 and more > LEAST:
            groups.append((_pick(across, rows), _pick(down, columns)))
    return groups


def _pick(lines: Lines, chosen: npt.NDArray[np.bool_]) -> Lines:
    return Lines(lines.at[chosen], lines.start[chosen], lines.end[chosen])


def _lattice(across: Lines, down: Lines, scale: float) -> Lattice | None:
    found = _crossing(across, down, lengthened=False)
    larger = _crossing(across, down, lengthened=True)
    if larger is not None and (found is None or _count(larger) > _count(found)):
        ys, xs = larger
        if _run_along(across, ys, xs) and _run_along(down, xs, ys):
            found = larger
    found = _beside_head(across, down) if found is None else without_clue_boxes(across, down, *found)
    return None if found is None else Lattice(np.stack(np.meshgrid(found[1], found[0]), axis=-1) * scale)


def _crossing(across: Lines, down: Lines, lengthened: bool) -> tuple[Floats, Floats] | None:
    """Where the lines of a lattice run, along x and along y; see `_even`."""
    ys, xs = _even(across, lengthened), _even(down, lengthened)
    return None if ys is None or xs is None else (ys, xs)


def _beside_head(across: Lines, down: Lines) -> tuple[Floats, Floats] | None:
    """Where the lines of a lattice of square cells run of which the first or the last row, the first or the last
    column, or one of each is narrower or wider than all others, as the head and the stub of a table are; see `_even`.
    The rows of a table of text are no squares."""
    found = _even(across, lengthened=False), _even(down, lengthened=False)
    ys, xs = (_even_but_one(lines) if even is None else even for lines, even in zip((across, down), found, strict=True))
    if ys is None or xs is None:
        return None
    height, width = (float(at[-1] - at[0]) / (len(at) - 1) for at in (ys, xs))
    return (ys, xs) if max(height, width) <= SQUARE * min(height, width) else None


def _even_but_one(lines: Lines) -> Floats | None:
    """Evenly spaced positions at which lines run all the way, without the first or the last; None where others are
    left."""
    places, covered = _positions(lines)
    whole = places[covered >= WHOLE * float(lines.end.max() - lines.start.min())]
    if len(whole) <= LEAST + 1:
        return None
    off, chosen = min(
        (_unevenness(part, float(part[0]), float(part[-1]), len(part) - 1) for part in (whole[1:], whole[:-1])),
        key=lambda each: each[0],
    )
    return chosen if off <= UNEVEN else None


def _count(lines: tuple[Floats, Floats]) -> int:
    return len(lines[0]) + len(lines[1])


def _run_along(lines: Lines, at: Floats, across: Floats) -> bool:
    """Whether lines run all along from the first to the last of those `across`, at each position."""
    places, covered = _positions(lines)
    return all(covered[int(np.abs(places - each).argmin())] >= ALL_ALONG * (across[-1] - across[0]) for each in at)


def _even(lines: Lines, lengthened: bool) -> Floats | None:
    """The largest set of evenly spaced positions at which lines run (nearly) all the way; `lengthened` says that boxes
    for clues may make some of them longer than the lattice."""
    exactly = _even_within(lines, STRAIGHT, UNEVEN, lengthened)
    nearly = _even_within(lines, TABLE_STRAIGHT, TABLE_UNEVEN, lengthened)
    if exactly is None or (nearly is not None and len(nearly) > len(exactly)):
        return nearly
    return exactly


def _even_within(lines: Lines, straight: float, uneven: float, lengthened: bool) -> Floats | None:
    places, covered = _positions(lines, straight)
    if len(places) <= LEAST:
        return None
    side = float(lines.end.max() - lines.start.min())
    if lengthened:
        side = max(float(np.sort(covered)[-LEAST - 1]), LENGTHENED * float(covered.max()))
    covered, places = covered[covered >= WHOLE * side], places[covered >= WHOLE * side]
    if len(places) <= LEAST:
        return None
    for count in range(min(MOST, len(places) - 1), LEAST - 1, -1):
        off, chosen = min(
            (_unevenness(places, *ends, count) for ends in _ends(places, count)), key=lambda each: each[0]
        )
        if off <= uneven:
            # Of two strokes each runs as far as the other; the edges of tints and of a gradient's steps do not.
            least = covered[np.isin(places, chosen)].min()
            return _between_doubles(chosen, places[covered >= ALL_ALONG * least])
    return None


def _ends(places: Floats, count: int) -> list[tuple[float, float]]:
    """Where so many rows or columns may begin and end: a frame may be drawn as two lines, and the lattice reach one of
    them."""
    near = DOUBLE * (places[-1] - places[0]) / count
    firsts = [float(place) for place in places[:2] if place - places[0] <= near]
    lasts = [float(place) for place in places[-2:] if places[-1] - place <= near]
    return list(product(firsts, reversed(lasts)))


def _unevenness(places: Floats, first: float, last: float, count: int) -> tuple[float, Floats]:
    """How far the lines nearest to even places lie off them at most, as a part of the spacing; and those lines."""
    even = np.linspace(first, last, count + 1)
    off = np.abs(even[:, None] - places)
    return float(off.min(axis=1).max()) * count / (last - first), places[off.argmin(axis=1)]


def _between_doubles(lines: Floats, places: Floats) -> Floats:
    """The lattice lines, those that are drawn as two thin ones in their middle: two of the inner ones at least, equally
    far apart; then the outer ones too."""
    spacing = (lines[-1] - lines[0]) / (len(lines) - 1)
    lines = np.array([_middle_of_three(line, places, DOUBLE * spacing) for line in lines])
    apart = places - lines[:, None]
    near = np.where((np.abs(apart) > STRAIGHT) & (np.abs(apart) <= DOUBLE * spacing), apart, np.inf)
    # Where two lie beside a line, it is in their middle already.
    other = np.where(
        np.isfinite(near).sum(axis=1) == 1, near[np.arange(len(lines)), np.abs(near).argmin(axis=1)], np.inf
    )
    inner = np.abs(other[1:-1][np.isfinite(other[1:-1])])
    if len(inner) < LEAST_DOUBLE or np.ptp(inner) > STRAIGHT:
        return lines
    double = np.isfinite(other) & (np.abs(np.abs(other) - inner.mean()) <= STRAIGHT)
    middles: Floats = np.where(double, lines + np.where(double, other, 0.0) / 2, lines)
    return middles


def _middle_of_three(line: float, places: Floats, reach: float) -> float:
    """Of a line between the frames of two boxes, with which it makes three, the middle one."""
    near = places[np.abs(places - line) <= reach]
    is_even = len(near) == 3 and abs(near[0] + near[2] - 2 * near[1]) <= 2 * LEVEL
    return float(near[1]) if is_even else line


def _positions(lines: Lines, straight: float = STRAIGHT) -> tuple[Floats, Floats]:
    """Positions across at which there are lines, those put together that are not `straight` apart, and the length that
    they cover together."""
    order = np.argsort(lines.at)
    breaks = np.nonzero(np.diff(lines.at[order]) > straight)[0] + 1
    places, covered = [], []
    for group in np.split(order, breaks):
        lengths = lines.end[group] - lines.start[group]
        places.append(float(np.average(lines.at[group], weights=lengths)))
        covered.append(union(lines.start[group], lines.end[group]))
    return np.array(places), np.array(covered)
