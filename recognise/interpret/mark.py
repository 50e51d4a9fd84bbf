"""A mark on its way to a meaning, and the evidence that no mark has taken yet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from ingest.page import Colour, Point
from recognise.colours import colours_apart
from recognise.doubt.calibration import calibrated
from recognise.draft import Polygon
from recognise.evidence import Disc, Evidence, Fence, Glyph, Guess, How, Shape, Slip, Tint, Trace
from recognise.interpret.places import Size
from schema.cells import Cell
from schema.marks import Seen

ROUND = ("0", "O", "o")
"""What a circle is read as."""
ARCS = ("C", "c", "D", "G", "Q", "U")
"""What is left of one that is worn looks like."""
ON_RING, AS_WIDE, AS_LARGE = 0.1, 0.1, 0.25
"""In cells how far the middle of a circle is from that of its cell; as parts of its height and of its radius how much
wider or larger the character is that is the circle itself."""
ONE_COLOUR = 25
"""Of 255, in any channel: a circle is printed in the colour of its line."""
THREE_SIDES = 3
"""Sides of a circle's box that a piece of the circle reaches; a figure in it reaches two at most, for it is narrow."""
WRITTEN = 0.05
"""How likely a character is anything but a nought, at most, that is a circle."""
CHARACTERS = ("glyph-path", "glyph")
"""Shapes by which a reader says that a character stands there which it cannot read."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark of a grid as a kind would be built from it. `name` says in a few words what it looks like; `paint` and
    `rim` are the colours of its ground and of its outline, from which `seen.colour` is settled once all marks are
    known; `texts` are readings of its text that are less likely than `seen.text`; `asks` is what a person must look at
    whatever it means, `unsaid` what he must look at because nothing says what it means."""

    seen: Seen
    name: str
    where: Polygon
    confidence: float
    how: How
    claims: tuple[Polygon, ...] | None = None
    paint: Colour | None = None
    rim: Colour | None = None
    texts: tuple[Guess, ...] = ()
    asks: tuple[str, ...] = ()
    unsaid: tuple[str, ...] = ()
    width: float = 0.0
    """How wide a line is, in cells."""
    extent: float | None = None
    """How likely it is on just its cells, whatever it is; None where that was not told apart."""
    slips: tuple[Slip, ...] = ()
    """Where it may go otherwise."""
    certain: bool = False
    """Whether no part of it can have been missed, though a picture shows it."""


@dataclass(frozen=True, slots=True)
class Tag:
    """A frame on a line, or a circle in the cell in which it ends, with the line's number in it."""

    frame: Shape | Disc
    number: tuple[Glyph, ...]
    end: Cell | None = None


@dataclass
class Left:
    """The evidence on one grid that nothing has taken yet. Whatever is in it at the end is a query."""

    size: Size
    glyphs: list[Glyph]
    discs: list[Disc]
    shapes: list[Shape]
    traces: list[Trace]
    fences: list[Fence]
    tints: list[Tint] = field(default_factory=list)
    tags: dict[Trace, Tag] = field(default_factory=dict)
    """The tags that stand on lines, taken already."""

    @classmethod
    def of(cls, evidence: Evidence) -> Left:
        """All of it."""
        return cls(
            (evidence.rows, evidence.columns),
            [glyph for glyph in evidence.glyphs if not _is_ring(glyph, evidence.traces, evidence.discs)],
            list(evidence.discs),
            list(evidence.shapes),
            list(evidence.traces),
            list(evidence.fences),
            list(evidence.tints),
        )

    def take_glyphs(self, wanted: Callable[[Glyph], bool]) -> list[Glyph]:
        """Take the characters that are wanted, in reading order."""
        taken = [glyph for glyph in self.glyphs if wanted(glyph)]
        self.glyphs = [glyph for glyph in self.glyphs if not any(glyph is one for one in taken)]
        return in_reading_order(taken)

    def take_shapes(self, wanted: Callable[[Shape], bool]) -> list[Shape]:
        """Take the shapes that are wanted."""
        taken = [shape for shape in self.shapes if wanted(shape)]
        self.shapes = [shape for shape in self.shapes if not any(shape is one for one in taken)]
        return taken

    def take_discs(self, wanted: Callable[[Disc], bool]) -> list[Disc]:
        """Take the discs that are wanted."""
        taken = [disc for disc in self.discs if wanted(disc)]
        self.discs = [disc for disc in self.discs if not any(disc is one for one in taken)]
        return taken


def _is_ring(glyph: Glyph, traces: Iterable[Trace], discs: Iterable[Disc]) -> bool:
    """Whether what a picture's reader took for a nought, or for nothing else, is the circle in which a line ends or one
    in a cell: as wide as it is tall, or so large that it holds the circle, with a piece of the line perhaps. A nought
    is narrow: one that stands in a circle leaves it free to both sides."""
    if glyph.how == "vector":
        return False
    ends = [(trace.nodes[node].centre, radius, trace.colour) for trace in traces for node, radius in trace.discs]
    circles = [*((middle, radius) for middle, radius, _ in ends), *((disc.centre, disc.radius) for disc in discs)]
    written = sum(guess.probability for guess in glyph.guesses if guess.text not in (*ROUND, *ARCS, ""))
    if written <= WRITTEN and any(_holds_circle(glyph, *circle) or _is_arc(glyph, *circle) for circle in circles):
        return True
    wide, tall = glyph.box[2] - glyph.box[0], glyph.box[3] - glyph.box[1]
    is_round = glyph.text in ROUND and abs(wide - tall) <= AS_WIDE * tall
    return is_round and any(
        math.dist(middle, glyph.centre) <= ON_RING
        and (abs(tall / 2 - radius) <= AS_LARGE * radius or colours_apart(glyph.colour, colour) <= ONE_COLOUR)
        for middle, radius, colour in ends
    )


def _holds_circle(glyph: Glyph, middle: Point, radius: float) -> bool:
    """Whether a circle lies within the box of a character, up to what its radius may be off."""
    x0, y0, x1, y1 = glyph.box
    least = (1 - AS_LARGE) * radius
    return min(middle[0] - x0, x1 - middle[0], middle[1] - y0, y1 - middle[1]) >= least


def _is_arc(glyph: Glyph, middle: Point, radius: float) -> bool:
    """Whether a character reaches from side to side of a circle and up to a third side: a piece of it."""
    x, y = middle
    off = [abs(a - b) for a, b in zip(glyph.box, (x - radius, y - radius, x + radius, y + radius), strict=True)]
    return sum(side <= AS_LARGE * radius for side in off) >= THREE_SIDES


def sureness(glyph: Glyph) -> float:
    """How likely a character's first reading is right. Copies of one outline share its doubt, which whoever adds up
    the doubts of a page shall meet once."""
    if glyph.how == "vector":
        return glyph.confidence
    return 1 - (1 - calibrated(glyph.confidence)) / glyph.copies


def in_reading_order(glyphs: Iterable[Glyph]) -> list[Glyph]:
    """Characters line by line: those that overlap in height by half stand on one line."""
    lines: list[list[Glyph]] = []
    for glyph in sorted(glyphs, key=lambda g: g.centre[1]):
        line = next((line for line in lines if _on_one_line(line[0], glyph)), None)
        if line is None:
            lines.append([glyph])
        else:
            line.append(glyph)
    return [glyph for line in lines for glyph in sorted(line, key=lambda g: g.box[0])]


def _on_one_line(one: Glyph, other: Glyph) -> bool:
    shared = min(one.box[3], other.box[3]) - max(one.box[1], other.box[1])
    return shared > 0.5 * min(one.box[3] - one.box[1], other.box[3] - other.box[1])


def joined(glyphs: Iterable[Glyph], between: str = "") -> tuple[str, float, tuple[Guess, ...]]:
    """Characters as one text: how likely it is, and what else it may be, one character read otherwise."""
    glyphs = list(glyphs)
    likely = math.prod(sureness(glyph) for glyph in glyphs)
    others = []
    for index, glyph in enumerate(glyphs):
        texts = [g.text for g in glyphs]
        for guess in glyph.guesses[1:]:
            texts[index] = guess.text
            chance = guess.probability * likely / max(glyph.confidence, 1e-9)
            others.append(Guess(between.join(texts), chance))
    return between.join(g.text for g in glyphs), likely, tuple(sorted(others, key=lambda g: -g.probability))
