"""What the readers see on one grid, before anybody says what it means.

Every coordinate is in cells from the grid's top left corner, x rightwards, y downwards: r1c1 covers [0, 1] x [0, 1].
Both readers (vectors and pixels) produce these types, so that they can be compared and merged.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour, Image, Point
from schema.cells import Cell

How = Literal["vector", "ocr", "shape"]


@dataclass(frozen=True, slots=True)
class Lattice:
    """A grid found on a page: `points[r, c]` is where the lattice lines cross, (x, y) in pixels of `Page.image`;
    shape (rows + 1, columns + 1, 2). `score` is 0 to 1, how sure it is a puzzle grid; of a `broken` one the picture
    does not show every line; the lines of a `light` one are lighter than its cells; those of one whose cells stand
    `apart` are the gaps between them."""

    points: npt.NDArray[np.float64]
    score: float = 1.0
    broken: bool = False
    light: bool = False
    apart: bool = False

    @property
    def rows(self) -> int:
        """Rows of cells."""
        return int(self.points.shape[0]) - 1

    @property
    def columns(self) -> int:
        """Columns of cells."""
        return int(self.points.shape[1]) - 1


@dataclass(frozen=True, slots=True)
class Flat:
    """A grid flattened: `cell` pixels a cell, with `margin` cells of page on every side of the grid. The point (x, y)
    in cells lies at ((x + margin) * cell, (y + margin) * cell) in `image`. Page area that does not exist is white.
    `map_x`, `map_y` give for each pixel the place in `Page.image` that it came from; `beyond` marks the pixels that lie
    beyond the page, None where none do; `screened` those at which a print screen was smoothed away. `page` is that
    image, where a closer look at it can show more than this one."""

    image: Image
    rows: int
    columns: int
    cell: int
    margin: float
    map_x: npt.NDArray[np.float32]
    map_y: npt.NDArray[np.float32]
    beyond: npt.NDArray[np.bool_] | None = None
    screened: npt.NDArray[np.bool_] | None = None
    page: Image | None = None


@dataclass(frozen=True, slots=True)
class Guess:
    """One thing that a glyph or number may be, with its probability."""

    text: str
    probability: float


@dataclass(frozen=True, slots=True)
class Glyph:
    """One or more characters that stand together: a given, an outside clue, a small corner number, a sign. `guesses`
    are best first; probabilities are calibrated and need not add up to 1. `size` is the height of its capitals."""

    box: Box
    guesses: tuple[Guess, ...]
    size: float
    colour: Colour
    how: How
    copies: int = 1
    """How many characters of the grid are drawn by this very outline: they are all right or all wrong."""
    alone: tuple[npt.NDArray[np.uint8], ...] = field(default=(), compare=False, repr=False)
    """Of a text layer: what its characters look like, each alone, dark on light; empty where that is not known."""

    @property
    def text(self) -> str:
        """The likeliest reading; empty when there is none."""
        return self.guesses[0].text if self.guesses else ""

    @property
    def confidence(self) -> float:
        """The probability of the likeliest reading."""
        return self.guesses[0].probability if self.guesses else 0.0

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2

    def less_sure(self, part: float) -> Glyph:
        """The same, of whose readings each is only this part as likely."""
        return replace(self, guesses=tuple(Guess(guess.text, guess.probability * part) for guess in self.guesses))


@dataclass(frozen=True, slots=True)
class Edges:
    """Thickness in cells of the lattice lines between cells, 0 where there is none. `horizontal[r, c]` is the edge
    above row r + 1 in column c + 1, shape (rows + 1, columns); `vertical[r, c]` the edge left of column c + 1 in row
    r + 1, shape (rows, columns + 1). `darkness` has the same two arrays for 0 (white) to 1 (black)."""

    horizontal: npt.NDArray[np.float64]
    vertical: npt.NDArray[np.float64]
    horizontal_darkness: npt.NDArray[np.float64]
    vertical_darkness: npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Tint:
    """A cell whose ground is coloured. `share` is the part of the cell that it fills; `strokes` are the outlines of the
    strokes where it is hatched, or of the steps by which it is shaded; `certain` says that both readers of a picture
    agree on every cell."""

    cell: Cell
    colour: Colour
    share: float
    how: How = "shape"
    strokes: tuple[tuple[Point, ...], ...] = ()
    certain: bool = False


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle: filled, outlined or both; None for what it lacks. A bulb, a dot, a ring, a circle of an arrow."""

    centre: Point
    radius: float
    fill: Colour | None
    outline: Colour | None
    how: How
    confidence: float = 1.0

    @property
    def box(self) -> Box:
        """The box around it, in cells."""
        x, y = self.centre
        return x - self.radius, y - self.radius, x + self.radius, y + self.radius


@dataclass(frozen=True, slots=True)
class Slip:
    """Where a mark may go otherwise than told: a step between two cells that is told as `drawn`, or as none, and the
    chance that it is not so. `first` and `second` are one cell where that may not belong to a set of cells, or where a
    line may go on in another one that ends there."""

    first: Cell
    second: Cell
    drawn: bool
    chance: float


@dataclass(frozen=True, slots=True)
class Trace:
    """A drawn line as a graph snapped to cells: `nodes` are cells, `links` pairs of indices into `nodes` whose cells
    touch. `outlined` says that it is drawn as an outline (a tube), not filled. `discs` are the indices of the nodes on
    which a disc sits that belongs to the line, with its radius; `heads` the nodes that carry an arrow head. `where` is
    its outline or centre line for pictures; `ambiguous` holds words on every spot where the graph could be another."""

    nodes: tuple[Cell, ...]
    links: tuple[tuple[int, int], ...]
    colour: Colour
    width: float
    outlined: bool
    how: How
    discs: tuple[tuple[int, float], ...] = ()
    heads: tuple[int, ...] = ()
    dashed: bool = False
    confidence: float = 1.0
    extent: float | None = None
    """How likely it goes through just these cells, whatever kind of line it is; as likely as it is right where that was
    not told apart."""
    slips: tuple[Slip, ...] = ()
    """Where it may go otherwise."""
    where: tuple[Point, ...] = ()
    ambiguous: tuple[str, ...] = ()
    tips: tuple[tuple[int, float], ...] = ()
    """For the nodes with a head how far, in cells, its tip lies beyond the middle, where that was measured."""
    cored: bool = False
    """Whether a narrower line of another colour runs along it, which is part of its drawing."""
    barbs: tuple[tuple[Point, ...], ...] = ()
    """The triangles that its heads fill, where vectors draw them; in pictures the two sides of each, as measured."""
    sway: float = 0.0
    """In cells: how far a wavy line swings to either side of its way."""

    def before(self, head: int) -> int:
        """The node from which a line comes to the one with its head."""
        return next(a if b == head else b for a, b in self.links if head in (a, b))

    @property
    def ends(self) -> tuple[Cell, ...]:
        """The cells that it goes on from in one way only."""
        degree = Counter(index for link in self.links for index in link)
        return tuple(node for index, node in enumerate(self.nodes) if degree[index] == 1)


FenceStyle = Literal["dashed", "dotted", "solid", "border"]


@dataclass(frozen=True, slots=True)
class Fence:
    """A line around a group of cells, set in from their edges or (`border`) on them: a cage. `cells` are the cells that
    it encloses, `where` its outline; `claims` are polygons that cover its own ink and nothing of the cells inside."""

    cells: tuple[Cell, ...]
    style: FenceStyle
    colour: Colour
    how: How
    confidence: float = 1.0
    where: tuple[Point, ...] = ()
    claims: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """Ink that is none of the above. `name` describes what it looks like in a word or two: `bar`, `diamond`, `square`,
    `capsule` (a rounded outline around two or three cells in line), `sign` (two strokes that meet in a point: less or
    greater), `diagonal` (a line from corner to corner of the grid), `arrow` (a small one, beside the grid), `dashes`,
    `cross`, `plate` (what a number beside the grid stands on), or `mark` when nothing fits. `direction` is where a
    sign's point is (`left`, `right`, `up`, `down`), where an arrow points (the same, or `down-right`, `down-left`,
    `up-right`, `up-left`), or how a diagonal runs read from left to right (`down`, `up`)."""

    name: str
    box: Box
    colour: Colour
    how: How
    confidence: float = 1.0
    where: tuple[Point, ...] = ()
    direction: str = ""
    filled: bool = True
    """False for an outline only."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that one reader saw on one grid. `unexplained` are boxes of ink (or, for vectors, of paths) that the reader
    could make nothing of: the guard "explain all the ink" turns each into a query. `stray` are boxes of ink in a
    picture that is no mark of a kind that print uses: dirt, stains, or something new; each is a query, and no mark."""

    rows: int
    columns: int
    edges: Edges
    glyphs: tuple[Glyph, ...] = ()
    tints: tuple[Tint, ...] = ()
    discs: tuple[Disc, ...] = ()
    traces: tuple[Trace, ...] = ()
    fences: tuple[Fence, ...] = ()
    shapes: tuple[Shape, ...] = ()
    unexplained: tuple[Box, ...] = ()
    stray: tuple[Box, ...] = ()
    patches: tuple[Box, ...] = ()
    """Boxes of bare paper that a PDF paints under marks: lines that run there are hidden."""
    rails: tuple[Box, ...] = ()
    """Boxes of what a PDF's lattice lines ink, edge by edge."""
    grounds: tuple[Colour, ...] = ()
    """Colours of the areas that a PDF paints under the whole grid and beyond."""
    strips: tuple[tuple[Box, Colour], ...] = ()
    """Areas that a PDF paints beside the grid under its clues, cell by cell or all along a side, and their colours."""
    number_tiles: tuple[tuple[Point, ...], ...] = ()
    """Outlines of tiles and small discs that a PDF paints under numbers, and of the walls of tags round small numbers
    in a picture: they mark nothing."""
    phrases: tuple[Box, ...] = ()
    """Boxes of words, with the numbers in them, that a PDF's text layer has beside the grid: no number there is a
    clue."""
    characters: tuple[Glyph, ...] = ()
    """The characters of a PDF, one by one, on the grid and where clues stand: each is in an item or is asked about.
    Those that are drawn as paths have no text."""
    notes: tuple[str, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line of text on the page; `box` in page frame units. `bold`, `italic` only where the source tells."""

    text: str
    box: Box
    size: float
    confidence: float
    how: How
    bold: bool = False
    italic: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """What the page says about one grid: title, setter, and the rules text with the lines it came from, in their places
    on the page as displayed, and for a picture `in_cells`, in cells of the grid."""

    title: str | None = None
    setter: str | None = None
    rules_text: str | None = None
    lines: tuple[TextLine, ...] = ()
    in_cells: tuple[TextLine, ...] = ()
    confidence: float = 1.0
    unread: bool = False
    """Whether there may be text near the grid that nobody read."""
    light_unread: bool = False
    """Whether light text in a dark box near the grid could not be read, beside rules that were."""
    torn: bool = False
    """Whether other words stand between the lines of the rules text: lines of it may be missing."""
