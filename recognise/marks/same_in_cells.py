"""Marks in cells held against each other, as `recognise.marks.same_look` does with those on edges. A set of them states
one rule, and the doubts of all of them add up, so that each is looked at that is not beyond doubt.

A digit may stand in the middle of one and not of another, and dots, bars and lines of other rules run over their rims:
neither is compared. How like a mark other cells of the page are that hold none says what likeness is worth here: on
noisy paper marks are less alike, next to heavy lattice lines empty cells are more so."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Mapping, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.marks.darker_ground import Grounds, with_shapes_open
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.same_look import ENOUGH, SHIFT, SURE
from recognise.pixels.frame import Grey
from schema.cells import Cell

COMPARED = ("CIRCLE", "SQUARE", "DIAMOND")
"""The marks in cells that are drawn alike on one page."""
LIKELY, MANY, ASKED = 0.7, 5, 0.9
"""From here on a mark is likely, and so many likely ones show what those of a page look like where none is sure; how
sure one is at most that is told by them: a person looks at it."""
DOUBTFUL = 0.9999
"""Up to here a mark is held against the others of its page."""
CELL, HALF = 32, 14
"""Pixels: the side of a cell in the picture that is compared, coarse enough to leave out the grain of paper, and half
the side of the window in it that holds a mark."""
WITHIN = 0.55
"""Part of the window, about its middle, that is not compared."""
STRIP = 0.25
"""Part of the window at one of its sides, of which two may be left out."""
WHOLE, IN_PART = (0.6, 0.98), (0.9, 0.99)
"""Correlation from which on likeness tells, and that which is as good as the very same; with and without strips left
out. A circle and a square of one size reach 0.83 and 0.91."""
POWER = 2.0
"""The doubt falls with this power of what a correlation leaves unexplained."""
OWN = 10.0
"""Percentile of what is compared of a mark that tells how dark it is: rings cover a tenth of it and more."""
OTHERS = 12
"""So many other cells at most are held against the marks."""
TYPICAL, ROOM = 5, 0.5
"""So many sure marks tell how like each other those of a page are at most; the part of what likeness may span (from
where it tells up to the very same) that has to be between them and the other cells."""

Floats = npt.NDArray[np.float32]


def _masks() -> list[npt.NDArray[np.bool_]]:
    """What of a window is compared: its rim, and the same without one or two of its sides."""
    side = 2 * HALF
    rim = np.ones((side, side), np.bool_)
    low, high = round(side * (1 - WITHIN) / 2), round(side * (1 + WITHIN) / 2)
    rim[low:high, low:high] = False
    deep = round(STRIP * side)
    sides = [np.s_[:deep, :], np.s_[-deep:, :], np.s_[:, :deep], np.s_[:, -deep:]]
    masks = []
    for left_out in itertools.chain.from_iterable(itertools.combinations(sides, count) for count in range(3)):
        mask = rim.copy()
        for part in left_out:
            mask[part] = False
        masks.append(mask.ravel())
    return masks


_MASKS = _masks()


def surer_in_cells(
    told: Mapping[Cell, Mapping[str, float]], own: set[Cell], looking: Looking, unspoken: Collection[str] = ()
) -> dict[Cell, dict[str, float]]:
    """The chances of marks in cells, the doubtful ones weighed by how much they look like the sure ones of their class;
    what hardly seems to be one is, where it looks just like them, or like many likely ones, and is none where its
    ground is bare and theirs is not. `own` have a circle that belongs to a line; of the classes that are `unspoken`
    rules understood to the last do not speak: what hardly seems to be one of these may be one that they speak of."""
    found = {cell: dict(look) for cell, look in told.items()}
    bare = [cell for cell, look in told.items() if max(look.values()) < MIDDLING[0]]
    hardly = [cell for cell in told if is_hardly(max(told[cell].get(name, 0.0) for name in COMPARED))]
    filled: list[Grounds] = []
    for name in COMPARED:
        chances = {
            cell: look[name] for cell, look in told.items() if look.get(name, 0.0) > MIDDLING[0] and cell not in own
        }
        grounds = Grounds.of(chances | {cell: told[cell].get(name, 0.0) for cell in hardly}, bare, looking)
        filled += [grounds] if grounds else []
        for cell, chance in _by_likeness(chances, bare, looking).items():
            others = [told[cell].get(other, 0.0) for other in COMPARED if other not in (name, *unspoken)]
            found[cell][name] = _by_ground(cell, chances[cell], chance, grounds, others)
    _rule_out_unspoken(found, told, unspoken, filled)
    return found


def _by_likeness(chances: Mapping[Cell, float], bare: Sequence[Cell], looking: Looking) -> dict[Cell, float]:
    """The chances of marks of one class, weighed by the sure ones, or else by many likely ones."""
    weighed = _weighed(chances, bare, looking)
    return weighed if weighed != chances else _by_likely_ones(chances, bare, looking)


def _by_ground(cell: Cell, told: float, chance: float, grounds: Grounds | None, others: Sequence[float]) -> float:
    """How likely a mark stands in a cell, by its ground too: `told` before it was weighed by its likeness, `chance`
    after that; `others` are the chances of the other shapes that may stand there."""
    if told > DRAWN:
        return 1 - with_shapes_open(1 - chance, grounds.left(cell) if grounds else 1.0, others)
    if chance >= ASKED:
        return chance
    return MIDDLING[0] if grounds and grounds.is_bare(cell) else told


def _rule_out_unspoken(
    found: Mapping[Cell, dict[str, float]],
    told: Mapping[Cell, Mapping[str, float]],
    unspoken: Collection[str],
    filled: Sequence[Grounds],
) -> None:
    """Take for none what hardly seems to be a mark of which no rule speaks, in `found`, where it is settled what stands
    in its cell."""
    for cell, name in itertools.product(found, unspoken):
        if is_hardly(told[cell].get(name, 0.0)) and _is_settled(cell, found[cell], unspoken, filled):
            found[cell][name] = min(found[cell][name], MIDDLING[0])


def is_hardly(chance: float) -> bool:
    """Whether what seems to be a mark rather is none, and is asked about."""
    return MIDDLING[0] < chance <= DRAWN


def _is_settled(cell: Cell, look: Mapping[str, float], unspoken: Collection[str], filled: Iterable[Grounds]) -> bool:
    """Whether a mark of which rules speak surely stands in a cell, or surely none: its ground is bare where those of
    the page have one."""
    most = max((chance for name, chance in look.items() if name in COMPARED and name not in unspoken), default=0.0)
    return most >= MIDDLING[1] or (most <= MIDDLING[0] and any(grounds.is_bare(cell) for grounds in filled))


def _weighed(chances: Mapping[Cell, float], bare: Sequence[Cell], looking: Looking) -> dict[Cell, float]:
    weighed = in_cells_alike(list(chances), list(chances.values()), bare, looking)
    return dict(zip(chances, weighed, strict=True))


def _by_likely_ones(chances: Mapping[Cell, float], bare: Sequence[Cell], looking: Looking) -> dict[Cell, float]:
    """The chances, those of marks that hardly seem to be one held against the likely ones, where there are many. What
    is likely gains nothing: all of them may be wrong together."""
    taken = {
        cell: 1.0 if chance > LIKELY else chance for cell, chance in chances.items() if not DRAWN < chance <= LIKELY
    }
    if sum(chance == 1.0 for chance in taken.values()) < MANY:
        return dict(chances)
    weighed = _weighed(taken, bare, looking)
    alike = {cell for cell, chance in weighed.items() if chances[cell] <= DRAWN and chance > ASKED}
    return {cell: ASKED if cell in alike else chance for cell, chance in chances.items()}


def in_cells_alike(cells: Sequence[Cell], told: Sequence[float], bare: Iterable[Cell], looking: Looking) -> list[float]:
    """The chance of each mark of one class, of which `told` is what is said so far: the doubtful ones as far as they
    look like the sure ones. `bare` are cells in which there is no such mark."""
    sure = [cell for cell, chance in zip(cells, told, strict=True) if chance >= SURE]
    if len(sure) < ENOUGH or min(told) >= DOUBTFUL:
        return list(told)
    picture = _no_darker(_coarse(looking), sure, looking)
    patterns = {cell: window for cell in sure if (window := _window(picture, cell.centre, looking)) is not None}
    spread = list(bare)
    others = [_fits(cell, patterns, picture, looking) for cell in spread[:: -(-len(spread) // OTHERS) or 1]]
    fits = {cell: _fits(cell, patterns, picture, looking) for cell in cells}
    unlike = np.max(others, axis=0) if others else np.zeros(2, np.float32)
    alike = np.median([fits[cell] for cell in sure], axis=0) if len(sure) >= TYPICAL else np.ones(2, np.float32)
    return [
        1 - (1 - chance) * _left(fits[cell], unlike, alike) if chance < DOUBTFUL else chance
        for cell, chance in zip(cells, told, strict=True)
    ]


def _left(fits: Floats, unlike: Floats, alike: Floats) -> float:
    """The part of a mark's doubt that its likeness leaves, where cells without one are like them as `unlike` says, and
    the sure ones like each other as `alike` does."""
    left = 1.0
    for fit, none, some, (least, most) in zip(fits, unlike, alike, (WHOLE, IN_PART), strict=True):
        base = max(least, float(none))
        top = min(1.0, 1 - most + float(some))
        if top - base > ROOM * (1 - least):
            off = max(top - max(float(fit), base), 1 - most)
            left = min(left, (off / (top - base)) ** POWER)
    return left


def _fits(cell: Cell, patterns: dict[Cell, Floats], picture: Grey, looking: Looking) -> Floats:
    """How like the patterns a cell is, over the whole rim and over that with sides left out. Of the patterns the second
    best tells: that one of many fits may be chance."""
    shift = max(1, round(SHIFT * CELL))
    around = _window(picture, cell.centre, looking, shift)
    own = [pattern.ravel() for other, pattern in patterns.items() if other != cell]
    if around is None or len(own) < ENOUGH:
        return np.zeros(2, np.float32)
    side = 2 * HALF
    windows = np.lib.stride_tricks.sliding_window_view(around, (side, side)).reshape(-1, side * side)
    best = np.stack([_correlations(windows[:, mask], np.array(own)[:, mask]) for mask in _MASKS])
    return np.array([np.sort(best[0])[-ENOUGH], np.sort(best.max(axis=0))[-ENOUGH]], np.float32)


def _correlations(windows: Floats, patterns: Floats) -> Floats:
    """The largest correlation of each pattern with any of the windows."""
    one, other = (part - part.mean(axis=1, keepdims=True) for part in (windows, patterns))
    sizes = np.linalg.norm(one, axis=1)[:, None] * np.linalg.norm(other, axis=1)[None]
    found: Floats = (one @ other.T / np.maximum(sizes, 1e-9)).max(axis=0)
    return found


def _coarse(looking: Looking) -> Grey:
    """The picture with cells of `CELL` pixels."""
    grey = looking.grey
    part = CELL / looking.raster.cell
    return np.asarray(cv2.resize(grey, None, fx=part, fy=part, interpolation=cv2.INTER_AREA), np.float32)


def _no_darker(picture: Grey, sure: Sequence[Cell], looking: Looking) -> Grey:
    """The picture without what is darker than the sure marks of a class: a pale disc with a dot on its rim looks more
    like a cell with such a dot than like another disc, and digits are larger than what is left out in the middle."""
    windows = [window for cell in sure if (window := _window(picture, cell.centre, looking)) is not None]
    if not windows:
        return picture
    own = float(np.median([np.percentile(window.ravel()[_MASKS[0]], OWN) for window in windows]))
    return np.asarray(np.maximum(picture, own), np.float32)


def _window(picture: Grey, place: Point, looking: Looking, more: int = 0) -> Floats | None:
    """The part of the picture about a place; None where it does not hold all of it."""
    part = CELL / looking.raster.cell
    x, y = (round(looking.raster.at(value) * part) for value in place)
    half = HALF + more
    window = picture[max(0, y - half) : y + half, max(0, x - half) : x + half]
    return window if window.shape == (2 * half, 2 * half) else None
