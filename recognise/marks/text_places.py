"""The places in which characters stand with marks: on edges, in circles on corners, in the corners of cells."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Glyph
from recognise.geometry import box_at, extent, holds
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.glyphs import DIGITS, LETTERS, OPERATIONS
from recognise.place_words import place_words
from schema.cells import Cell

EDGE_TALLEST, SMALL_TALLEST = 0.5, 0.4
"""In cells: characters on edges and in the corners of cells are smaller."""
IN_CIRCLE, ON_DARK = 1.45, 1.65
"""As a part of its radius: characters in a circle are smaller; what is larger is the circle. On a dark disc, of which
nothing but its rim is light beside them, they may fill all that is looked at."""
SHORTEST, LOW_FIGURE = 0.09, 0.07
"""In cells: digits in a circle with three others are no smaller; old-style figures that are as low as small letters
are, where no dash of a wall can be taken for a 1."""
LEAST_CIRCLE, LEAST_DARK = 0.14, 0.06
"""In cells: radius of the smallest circle, and of the smallest dark dot, that holds characters."""
CORNER = (0.92, 0.42)
"""In cells: the part of a cell, from its top left, in which the total of a cage stands."""
BEGUN = 0.6
"""In cells: how far from the left the rest of a number ends whose first figures were read; a circle on the next corner
has digits of its own."""
OVER = 0.25
"""As a part of its height: what reaches so far up over the lattice line stands on that, and is no total of the cell
below."""
EDGE_TEXT = 0.36
"""In cells: half the side of the place in which characters on an edge stand."""
ALONG = 0.3
"""In cells: how far along their lattice line from the middle of an edge the middle of such characters lies at most."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where characters stand, which they may be, and how tall (and wide) each is at most, in cells. `radius` is that of
    the circle around them, if one is, which is a `dark` disc or an outline; `on_lattice` says that lattice lines run
    into them, `in_corner` that it is the top left corner of a cell; `numbers` is how many of them stand there, and
    `arrows` which way the little arrows point that stand with them, as steps (x and y) to the next cell; `shortest` is
    the least height of a character, `perhaps` that none may stand there, `patched` that a patch of paper cuts
    the lattice line off there all the same, `signed` that a sign seems to stand there, of which no rule speaks;
    `frame` is the inside of the rectangular frame around them, if one is."""

    box: Box
    allowed: str
    tallest: float
    radius: float = 0.0
    on_lattice: bool = True
    dark: bool = False
    in_corner: bool = False
    numbers: int = 1
    arrows: tuple[tuple[int, int], ...] = ()
    shortest: float = SHORTEST
    perhaps: bool = False
    patched: bool = False
    signed: bool = False
    frame: Box | None = None

    @property
    def middle(self) -> Point:
        """The middle of the box."""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2

    def is_of(self, glyph: Glyph) -> bool:
        """Whether a character may be of what stands here; what is bare on a lattice line stands on it, and not in the
        corner of a cell beside its end."""
        (x, y), (cx, cy) = self.middle, glyph.centre
        along = abs(cy - y) if abs(x - round(x)) < abs(y - round(y)) else abs(cx - x)
        bare = self.on_lattice and not self.radius and self.frame is None
        return holds(self.box, glyph.centre) and not (bare and along > ALONG)


def on_edge(middle: Point, radius: float = 0.0, *, dark: bool = False) -> Place:
    """Numbers and letters on the edge between two cells, in a dot of some radius or in none."""
    holds_them = radius >= (LEAST_DARK if dark else LEAST_CIRCLE)
    tallest = _tallest(radius, dark=dark) if holds_them else EDGE_TALLEST
    circle = radius if holds_them else 0.0
    return Place(box_at(middle, max(radius, EDGE_TEXT)), DIGITS + LETTERS, tallest, circle, dark=dark)


def in_circle(middle: Point, radius: float, *, dark: bool = False) -> Place:
    """Digits in a circle or on a dark disc on a corner, or close around it."""
    x, y = middle
    box = x - radius, y - radius, x + radius, y + radius
    return Place(box, DIGITS, _tallest(radius, dark=dark), radius, dark=dark)


def in_frame(box: Box, inside: Box) -> Place:
    """Digits in a rectangular frame on a corner, of which its own box and the box of its inside are given."""
    x0, y0, x1, y1 = inside
    return Place(inside, DIGITS, max(x1 - x0, y1 - y0), extent(box) / 2, frame=inside)


def _tallest(radius: float, *, dark: bool) -> float:
    """How tall the characters in a circle or on a dark disc are at most."""
    return (ON_DARK if dark else IN_CIRCLE) * radius


def beside(middle: Point, arrows: tuple[tuple[int, int], ...]) -> Place:
    """Numbers beside the grid, each with a little arrow, in the place of a cell."""
    x, y = middle
    box = x - 0.5, y - 0.5, x + 0.5, y + 0.5
    return Place(box, DIGITS, EDGE_TALLEST, on_lattice=False, numbers=len(arrows), arrows=arrows)


def small_places(
    chances: Chances,
    known: Iterable[Glyph],
    inked: Callable[[Box], bool],
    first: Iterable[Cell] = (),
    lines: Sequence[Sequence[tuple[Cell, ...]]] = (),
    marked: Sequence[Place] = (),
) -> tuple[list[Place], list[Cell]]:
    """The corners of cells in which the network sees small characters, and the cells of those where it is in doubt, ink
    stands, and nobody has read any. What was read of small characters may be a part of a number: it is read again.
    Where most cages have a number in their `first` cell, it is looked for in all of them; where half the `lines` of one
    look, by the cells of their ends, have one in one of these that is no cage's, at both ends of each that has none; no
    sign stands behind the numbers of lines. At
    an end at which a figure was read that the network does not see, and that is of no `marked` place, others of its
    number may be lost."""
    first = set(first)
    numbered = sum(chances.node(cell, "SMALL") > DRAWN for cell in first)
    expected = first if 2 * numbered > len(first) else set()
    known = list(known)
    alone = (glyph for glyph in known if not any(place.is_of(glyph) for place in marked))
    centres, figures = (_centres(glyphs) for glyphs in (known, filter(_is_small_figure, alone)))
    begun = {cell for alike in lines for ends in alike for cell in ends if _within(figures, corner_of(cell)).any()}
    seen = {cell for cell in chances.cells() if chances.node(cell, "SMALL") > DRAWN} | begun
    again: set[Cell] = set()
    for alike in lines:
        bare = [line for line in alike if not seen.intersection(line)]
        own = [line for line in alike if seen.intersection(line).difference(first)]
        if len(own) >= max(1, len(bare)):
            again |= {cell for line in bare for cell in line if inked(corner_of(cell))}
    ended = {cell for alike in lines for ends in alike for cell in ends}.difference(first)
    places: list[Place] = []
    doubtful: list[Cell] = []
    for cell in chances.cells():
        chance = chances.node(cell, "SMALL")
        box = corner_of(cell)
        read = bool(_within(centres, box).any())
        if cell in seen or cell in again or (cell in expected and not read and inked(box)):
            perhaps = cell in again
            allowed = DIGITS if cell in ended else DIGITS + OPERATIONS
            box = (*box[:2], box[0] + BEGUN, box[3]) if cell in begun and chance <= DRAWN else box
            places.append(Place(box, allowed, SMALL_TALLEST, on_lattice=False, in_corner=True, perhaps=perhaps))
        elif MIDDLING[0] < chance < MIDDLING[1] and not read and inked(box) and not _is_covered(cell, marked):
            doubtful.append(cell)
    return places, doubtful


def _is_covered(cell: Cell, marked: Iterable[Place]) -> bool:
    """Whether a circle with digits of its own covers the upper left corner of a cell: that they are seen from there is
    no doubt."""
    corner = float(cell.column - 1), float(cell.row - 1)
    return any(place.radius >= LEAST_CIRCLE and math.dist(place.middle, corner) < place.radius for place in marked)


def _centres(glyphs: Iterable[Glyph]) -> np.ndarray:
    return np.array([glyph.centre for glyph in glyphs]).reshape(-1, 2)


def _is_small_figure(glyph: Glyph) -> bool:
    return glyph.text.isdecimal() and glyph.size <= SMALL_TALLEST and glyph.confidence >= MIDDLING[1]


def corner_of(cell: Cell) -> Box:
    """Where small characters stand in a cell."""
    left, top = float(cell.column - 1), float(cell.row - 1)
    return left, top, left + CORNER[0], top + CORNER[1]


def on_line_above(corner: Place, box: Box) -> bool:
    """Whether characters with this box in the corner of a cell stand on the lattice line over it."""
    return corner.box[1] - box[1] > OVER * (box[3] - box[1])


def perhaps_small(cell: Cell) -> str:
    """What a person is told where small characters may stand in a cell."""
    return f"perhaps small characters stand in {cell}"


def hard_to_read(place: Place, size: tuple[int, int]) -> str:
    """What a person is told where characters stand that were not read, on a grid of so many rows and columns."""
    if place.in_corner:
        return hard_in_corner(Cell(int(place.box[1]) + 1, int(place.box[0]) + 1))
    return f"characters {place_words(place.box, size)} were hard to read"


def hard_in_corner(cell: Cell) -> str:
    """The same of small characters in the corner of a cell, in words that are said of no other place in it."""
    return f"characters at the upper left of {cell} were hard to read"


def _within(points: np.ndarray, box: Box) -> np.ndarray:
    x, y = points[:, 0], points[:, 1]
    return np.asarray((box[0] <= x) & (x <= box[2]) & (box[1] <= y) & (y <= box[3]))
