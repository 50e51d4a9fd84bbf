"""Characters of a text layer around one grid, in cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ingest.page import Box, Page, Point, VectorGlyph
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds, middle, overlap
from recognise.vectors.characters import readings
from recognise.vectors.place import Placement

TEXT_LAYER = 0.995
"""How far a text layer is believed: a subset font may map a glyph to a wrong character."""
STRAIGHT = 6.0
"""Degrees by which a turned character may be off a quarter or an eighth of a turn."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A character, in cells."""

    glyph: VectorGlyph
    box: Box
    size: float
    guesses: tuple[Guess, ...] = ()
    """What it may be by its looks, where the file does not say it."""

    @property
    def middle(self) -> Point:
        """The middle of its box."""
        return middle(self.box)


Number = Sequence[Mark]


def angle_of(mark: Mark, page: Page) -> float:
    """Where its base line runs on the page turned to be read, in degrees clockwise, 0 to 360."""
    return (mark.glyph.angle + 90 * page.turned) % 360


def is_upright(mark: Mark, page: Page) -> bool:
    """Whether it stands upright on the page as it is read."""
    # Where the whole page was turned to be read, the text that reads upright is turned in the file's frame.
    angle = angle_of(mark, page)
    mirrored = page.turned % 4 == 0 and not mark.glyph.upright
    return min(angle, 360 - angle) <= STRAIGHT and not mirrored


def in_grid(mark: Mark, placement: Placement) -> bool:
    """Whether its middle lies in the grid."""
    return holds((0.0, 0.0, float(placement.columns), float(placement.rows)), mark.middle)


def on_grid(marks: Sequence[Mark], placement: Placement) -> list[Mark]:
    """Those in the grid, and those across its frame that go on a text begun in it, as the sign of a long total does."""
    begun = {mark.glyph.order for mark in marks if in_grid(mark, placement)}
    grid = (0.0, 0.0, float(placement.columns), float(placement.rows))
    return [
        mark
        for mark in marks
        if in_grid(mark, placement) or (mark.glyph.order in begun and overlap(mark.box, grid) and mark.glyph.text)
    ]


def _text(number: Number) -> str:
    return "".join(mark.glyph.text for mark in number)


def box_of(number: Number) -> Box:
    """The box round the characters of a number."""
    boxes = [mark.box for mark in number]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def glyph_of(number: Number) -> Glyph:
    """A number as evidence."""
    box, colour = box_of(number), number[0].glyph.colour
    if not any(mark.guesses for mark in number):
        guess = Guess(_text(number), TEXT_LAYER ** len(number))
        return Glyph(box, (guess,), box[3] - box[1], colour, "vector")
    characters = [mark.guesses or (Guess(mark.glyph.text, TEXT_LAYER),) for mark in number]
    return Glyph(box, tuple(readings(characters)), box[3] - box[1], colour, "shape")
