"""Walls inside cells put together to cages: a cage is a group of cells walled off all around, from the inside."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.evidence import Fence, FenceStyle
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.frame import Colours, Grey, Raster
from schema.cells import Cell
from schema.kinds._outline import inset_outline

SIDES: tuple[tuple[str, tuple[int, int], str], ...] = (
    ("TOP", (-1, 0), "BOTTOM"),
    ("LEFT", (0, -1), "RIGHT"),
    ("BOTTOM", (1, 0), "TOP"),
    ("RIGHT", (0, 1), "LEFT"),
)
"""Each side of a cell, the way to the neighbour there (rows, columns), and the neighbour's side."""
POSSIBLE = 0.01
"""A wall less likely than this is none, and one likelier than all but this is one."""
MOST_TRIED = 24
"""So many walls in doubt are taken otherwise to see whether cages close; more mean that the picture is too bad."""
FEWEST = 2
"""A wall by itself, sure or in doubt, is none: the least cage has four, and on poor print half of them are seen."""
SHARED = 0.5
"""Walls of one cage are seen well or badly together: the product of their chances is taken to this power."""
DEEPEST = 0.22
"""In cells: walls stand no farther inside of their cells."""
SHALLOWEST = 0.02
PAST = 0.3
"""In cells: from the ends of a wall's way, where walls of other cells and totals stand."""
GAPS = 0.12
"""The part of a broken wall that is gaps, at least."""
DOTTED = 0.09
"""In cells: the period of dots and of dashes on either side of this."""
CLEAR, HALF = 2.0, 0.5
"""Ink of so many times what noise reaches is a wall's; print of the other side is paler, and has it on less than half
of its walls, where marks of this side cross them."""
SEVERAL, AS_DARK = 3, 0.8
"""So many sure cages tell how dark those of their page are; the part of that which another one has at least."""
PALEST, BARE = 5, 0.25
"""The percentile of the inks of a page's sure walls that all but freaks have, as where the ground of a total cuts one
off; the part of it that every wall has at least. Where dots and dashes leave it at 0 no wall has less."""
SEEN_ALL_THE_SAME = 0.8
"""How sure the network is at least of a cage with hardly any ink that a person is asked about, where the page has no
other. Hairlines in dashes of a thirtieth of a cell made it 0.87."""
INSET = 0.09
"""In cells: where a wall stands that nobody could measure."""


@dataclass(frozen=True, slots=True)
class Cages:
    """Closed cages, and words on walls that close nothing or are in doubt."""

    fences: tuple[Fence, ...]
    notes: tuple[str, ...]


def find_cages(
    chances: Chances,
    drawn: Grey,
    relative: Colours,
    raster: Raster,
    floor: float,
    stands: Callable[[Cell, str], bool],
    *,
    unspoken: bool = False,
    whole: bool = False,
) -> Cages:
    """The cages that the walls close, and words on what does not close. `stands` says whether ink stands out from the
    paper along the inside of one side of a cell; `unspoken` that rules are printed and speak of no cage. Those that are
    as pale as print of the other side are that, unless the sure ones of the page are as pale. Where the rules are
    understood to the last (`whole`) besides, and nothing closes, walls in doubt are rims of other marks."""

    def inked(cell: Cell, side: str) -> bool:
        return _is_ridge(cell, side, drawn, raster, floor) and stands(cell, side)

    told = {(cell, side): chances.side(cell, side) for cell in chances.cells() for side, _, _ in SIDES}
    told |= {place: 1 - told[place] for place in _bare_walls(told, drawn, raster)}
    walls, flipped = _closed_up(told, chances, inked)

    fences: list[Fence] = []
    pale: list[Fence] = []
    ink: dict[Fence, float] = {}
    notes: list[str] = []
    for part in _parts(chances, walls):
        state = _state(part, walls, chances)
        if state.faults == 0 and not state.bare:
            fence = _fence(part, chances, drawn, relative, raster, floor)
            inks = _wall_inks(part, chances, drawn, raster)
            walled = float(np.mean(inks > CLEAR * floor))
            shows_through = walled < HALF and (unspoken or fence.confidence < MIDDLING[1])
            (pale if shows_through else fences).append(fence)
            ink[fence] = float(inks.max())  # texture of paper hides walls of dots, here and there
        elif state.faults > 0:
            marked = sorted({cell for cell, _ in walls if cell in part})
            notes.append(f"walls at {', '.join(map(str, marked[:4]))} do not close a cage")
    if not fences:
        # Dashes of hairlines leave as little ink: what the network is so sure of is not passed over in silence.
        ghosts = [fence for fence in pale if fence.confidence >= SEEN_ALL_THE_SAME]
        notes += [f"perhaps a pale cage is drawn at {min(fence.cells)}" for fence in ghosts]
    if len(fences) >= SEVERAL and not unspoken:
        usual = float(np.median([ink[fence] for fence in fences]))
        fences += [fence for fence in pale if ink[fence] >= AS_DARK * usual]
    unsure = tuple(_unsure(chances, inked))
    doubtful = (*flipped, *unsure) if len(walls) + len(unsure) >= FEWEST else flipped
    if not (unspoken and whole and not fences):
        notes = [*(f"whether a cage has a wall in {cell} was hard to tell" for cell in doubtful), *notes]
    return Cages(tuple(fences), tuple(dict.fromkeys(notes)))


Walls = frozenset[tuple[Cell, str]]
"""Walls by cell and side."""


def _bare_walls(told: Mapping[tuple[Cell, str], float], drawn: Grey, raster: Raster) -> Walls:
    """The walls in doubt that have next to no ink, where all that the network is sure of are plainly drawn: those of a
    cage on the other side of the paper, which may share a wall with one on this side. They are rather none."""
    sure = [_wall_ink(*place, drawn, raster) for place, chance in told.items() if chance > 1 - POSSIBLE]
    palest = BARE * float(np.percentile(sure, PALEST)) if len(sure) >= SEVERAL * len(SIDES) else 0.0
    doubtful = (place for place, chance in told.items() if DRAWN < chance < 1 - POSSIBLE)
    return frozenset(place for place in doubtful if _wall_ink(*place, drawn, raster) < palest)


def _closed_up(
    told: Mapping[tuple[Cell, str], float], chances: Chances, inked: Callable[[Cell, str], bool]
) -> tuple[Walls, tuple[Cell, ...]]:
    """The walls that are likelier than not, some that are in doubt taken otherwise where that closes cages; the cells
    of those, but for walls taken for none where there is no ink. Each exchange mends more than one before it, so that
    there are few. `told` is the chance of each wall."""
    walls = frozenset(place for place, chance in told.items() if chance > DRAWN)
    doubtful = [place for place, chance in told.items() if POSSIBLE < chance < 1 - POSSIBLE]
    doubtful.sort(key=lambda place: abs(told[place] - DRAWN))
    flipped: list[Cell] = []
    faults = _faults(walls, chances)
    for place in doubtful[:MOST_TRIED]:
        if faults == 0:
            break
        other = walls ^ {place}
        after = _faults(other, chances)
        if after < faults:
            walls, faults = other, after
            if place in other or inked(*place):
                flipped.append(place[0])
    return walls, tuple(flipped)


def _faults(walls: Walls, chances: Chances) -> int:
    return sum(_state(part, walls, chances).faults for part in _parts(chances, walls))


def _neighbour(cell: Cell, way: tuple[int, int], chances: Chances) -> Cell | None:
    row, column = cell.row + way[0], cell.column + way[1]
    return Cell(row, column) if 1 <= row <= chances.rows and 1 <= column <= chances.columns else None


def _parts(chances: Chances, walls: Walls) -> Iterator[frozenset[Cell]]:
    """Groups of cells with no wall between them."""
    left = set(chances.cells())
    while left:
        frontier = [left.pop()]
        part = set(frontier)
        while frontier:
            cell = frontier.pop()
            for side, way, opposite in SIDES:
                other = _neighbour(cell, way, chances)
                if other in left and (cell, side) not in walls and other and (other, opposite) not in walls:
                    left.remove(other)
                    part.add(other)
                    frontier.append(other)
        yield frozenset(part)


@dataclass(frozen=True, slots=True)
class _State:
    """Whether a group of cells has no wall at all or next to none, and how many walls are wrong for what it is."""

    bare: bool
    faults: int


def _state(part: frozenset[Cell], walls: Walls, chances: Chances) -> _State:
    """A cage has its own wall on every side of its rim and none within; other groups have none."""
    rim: list[bool] = []
    inner: list[bool] = []
    for cell in part:
        for side, way, _ in SIDES:
            (inner if _neighbour(cell, way, chances) in part else rim).append((cell, side) in walls)
    own = sum(rim) + sum(inner)
    wrong = len(rim) - sum(rim) + sum(inner)
    return _State(own < wrong, min(own, wrong))


def _unsure(chances: Chances, inked: Callable[[Cell, str], bool]) -> Iterator[Cell]:
    """The cell of each wall in doubt that could be of a cage: there is ink, and it goes on at both of its ends."""
    for cell in chances.cells():
        doubtful = [side for side, _, _ in SIDES if MIDDLING[0] < chances.side(cell, side) < MIDDLING[1]]
        yield from (cell for side in doubtful if inked(cell, side) and _goes_on(cell, side, chances))


def _goes_on(cell: Cell, side: str, chances: Chances) -> bool:
    """Whether at both ends of a wall another may follow: around the corner, straight on, or back around a corner of
    another cell."""
    ways = {name: way for name, way, _ in SIDES}
    out = ways[side]
    ends = ("LEFT", "RIGHT") if side in ("TOP", "BOTTOM") else ("TOP", "BOTTOM")
    opposite = {name: other for name, _, other in SIDES}
    for end in ends:
        along = ways[end]
        straight = _neighbour(cell, along, chances)
        beyond = _neighbour(cell, (along[0] + out[0], along[1] + out[1]), chances)
        following = [chances.side(cell, end)]
        following += [chances.side(straight, side)] if straight else []
        following += [chances.side(beyond, opposite[end])] if beyond else []
        if max(following) < POSSIBLE:
            return False
    return True


def _fence(
    part: frozenset[Cell], chances: Chances, drawn: Grey, relative: Colours, raster: Raster, floor: float
) -> Fence:
    cells = tuple(sorted(part))
    looks = [
        look
        for cell in cells
        for side, way, _ in SIDES
        if _neighbour(cell, way, chances) not in part
        for look in [_look(cell, side, drawn, relative, raster, floor)]
        if look is not None
    ]
    inset = float(np.median([look[0] for look in looks])) if looks else INSET
    style: FenceStyle = _style([look[2] for look in looks], [look[3] for look in looks])
    return Fence(
        cells, style, _colour([look[1] for look in looks]), "shape", _sure(part, chances), _where(cells, inset)
    )


def _wall_inks(part: frozenset[Cell], chances: Chances, drawn: Grey, raster: Raster) -> npt.NDArray[np.float64]:
    """The ink of each of a cage's walls, 0 to 1."""
    walls = [
        _wall_ink(cell, side, drawn, raster)
        for cell in part
        for side, way, _ in SIDES
        if _neighbour(cell, way, chances) not in part
    ]
    return np.array(walls, np.float64)


def _wall_ink(cell: Cell, side: str, drawn: Grey, raster: Raster) -> float:
    """The ink along the inside of one side of a cell, 0 to 1, where it is darkest."""
    return float(np.percentile(_strip(cell, side, drawn, raster), 75, axis=1).max())


def _sure(part: frozenset[Cell], chances: Chances) -> float:
    chances_of = []
    for cell in part:
        for side, way, opposite in SIDES:
            other = _neighbour(cell, way, chances)
            wall = chances.side(cell, side)
            chances_of.append(1 - wall if other in part else wall)
            if other is not None and other in part:
                chances_of.append(1 - chances.side(other, opposite))
    return float(math.exp(SHARED * sum(math.log(max(chance, 1e-6)) for chance in chances_of)))


Look = tuple[float, tuple[float, float, float], float, float]
"""Of one wall: how far inside it stands (cells), its colour, the part of it that is gaps, the period of its gaps."""


def _look(cell: Cell, side: str, drawn: Grey, relative: Colours, raster: Raster, floor: float) -> Look | None:
    """How a wall along one side of a cell is drawn; None where too little ink is there to say."""
    strip, colours = _strip(cell, side, drawn, raster), _strip(cell, side, relative, raster)
    profile = np.percentile(strip, 75, axis=1)
    depth = int(profile.argmax())
    if profile[depth] <= floor:
        return None
    line = strip[max(0, depth - 1) : depth + 2].max(axis=0)
    inked = line > 0.5 * np.percentile(line, 90)
    starts = int(np.count_nonzero(inked[1:] & ~inked[:-1]))
    shade = colours[depth][line >= np.median(line)]
    red, green, blue = (float(v) for v in np.median(shade, axis=0))
    inside = raster.px(SHALLOWEST) + depth
    period = (1 - 2 * PAST) / max(1, starts)
    return inside / raster.cell, (red, green, blue), float(1 - inked.mean()), period


def _is_ridge(cell: Cell, side: str, drawn: Grey, raster: Raster, floor: float) -> bool:
    """Whether ink along the inside of a side has paper on both sides of it: blur of the lattice line and of a digit
    falls off from where it comes from."""
    profile = np.percentile(_strip(cell, side, drawn, raster), 75, axis=1)
    depth = int(profile.argmax())
    return bool(profile[depth] - max(profile[: depth + 1].min(), profile[depth:].min()) > floor)


def _strip(cell: Cell, side: str, picture: Grey, raster: Raster) -> Grey:
    """What lies along the inside of one side of a cell, depth first, the nearest to the side at 0."""
    x, y = round(raster.at(cell.column - 1)), round(raster.at(cell.row - 1))
    own = picture[y : y + raster.cell, x : x + raster.cell]
    if side in ("LEFT", "RIGHT"):
        own = own.swapaxes(0, 1)
    if side in ("BOTTOM", "RIGHT"):
        own = own[::-1]
    past = raster.px(PAST)
    return own[raster.px(SHALLOWEST) : raster.px(DEEPEST) + 1, past : raster.cell - past]


def _style(gaps: Sequence[float], periods: Sequence[float]) -> FenceStyle:
    if not gaps or float(np.median(gaps)) < GAPS:
        return "solid"
    return "dotted" if float(np.median(periods)) < DOTTED else "dashed"


def _colour(shades: Sequence[tuple[float, float, float]]) -> Colour:
    if not shades:
        return 0, 0, 0
    red, green, blue = (round(255 * float(v)) for v in np.median(shades, axis=0))
    return red, green, blue


def _where(cells: tuple[Cell, ...], inset: float) -> tuple[Point, ...]:
    """The outline: the longest loop, which goes around outside."""
    longest = max(inset_outline(cells, inset), key=len)
    return tuple(longest)
