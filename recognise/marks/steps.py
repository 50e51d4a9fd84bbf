"""A drawn link between two cells: what it may be, how it looks, and whether another can be of one line with it."""

from __future__ import annotations

from dataclasses import dataclass

from recognise.marks.strokes import Stroke
from schema.cells import Cell

KINDS = ("LINE", "SHAFT", "TUBE")
"""The classes of links that are drawn lines; a capsule is an outline."""
SAME_COLOUR = 0.16
"""Strokes whose colours differ by less (of full scale, in any channel) may be of one line: thin strokes mix with the
paper beside them, and more so the thinner they are."""
SURELY_OTHER = 0.9
"""Links are of two kinds when each is of its own with at least this probability: far from a bulb or a head the two
look alike, and only the whole line tells."""
OTHER_WIDTH = 1.8
"""Strokes whose widths differ by more than this factor are of two lines."""
WIDER = 0.04
"""In cells: and by more than this, for widths are measured in pixels, of which thin lines have one or two."""
CROSSED, ALIKE, BOUNDED = 0.03, 1.15, 0.6
"""Two strokes that differ by less in colour, and across which ink goes on as far (to this factor), are of one width all
the same; where it goes on farther than the last, in cells, they may lie on a tint."""
ONE_WIDTH = 1.5
"""Steps are of one width where one is no more than so many times as wide as the other."""
GAP = 0.25
"""In cells: dashes and dots of one line stand nearer to each other, and so do the rests of a line beside digits."""


@dataclass(frozen=True, slots=True)
class Step:
    """A drawn link: what it may be, and how it looks; `look` counts the looks of the page's lines, where it plainly has
    several (`recognise.marks.line_looks`)."""

    first: Cell
    second: Cell
    chance: dict[str, float]
    stroke: Stroke
    look: int | None = None

    @property
    def kind(self) -> str:
        """The likeliest class."""
        return max(KINDS, key=lambda name: self.chance[name])

    @property
    def drawn(self) -> float:
        """The probability that a line is drawn here, of whatever kind."""
        return sum(self.chance[name] for name in KINDS)

    @property
    def is_dotted(self) -> bool:
        """Whether dots or dashes stand on it as near to each other as those of one line."""
        return self.stroke.dashed and self.stroke.gap < GAP

    def clashes(self, step: Step) -> bool:
        """Whether two steps are surely of two kinds, or of two widths or looks, or a line and a tube."""
        other_drawn = self.is_other_look(step) or other_width(self.stroke, step.stroke)
        return other_drawn or self.is_other_kind(step) or self.is_tube_beside(step)

    def is_other_look(self, step: Step) -> bool:
        """Whether the lines of the page tell that two steps are of two looks."""
        return self.look is not None and step.look is not None and self.look != step.look

    def is_tube_beside(self, step: Step) -> bool:
        """Whether one of two steps is told and drawn as a tube, and the other drawn as a line much narrower than that,
        and not surely told as a tube: where a line goes on into a tube the network sees none end, and takes the last
        steps before it for either."""
        tube, line = (self, step) if self.stroke.outlined else (step, self)
        hollow = tube.kind == "TUBE" and tube.stroke.outlined and not line.stroke.outlined
        told = line.chance["TUBE"] <= SURELY_OTHER
        return hollow and told and tube.stroke.width > OTHER_WIDTH * line.stroke.width > 0

    def is_other_kind(self, step: Step) -> bool:
        """Whether two steps are surely of two kinds."""
        return self.kind != step.kind and min(self.chance[self.kind], step.chance[step.kind]) > SURELY_OTHER

    def is_of_one_colour(self, step: Step) -> bool:
        """Whether nothing in their colours parts two steps. Of a tube whose walls were not met, as at sharp bends and
        where it branches, only the ground was seen, be it tinted or paper: that says nothing beside the colour of
        walls."""
        tubes = self.kind == step.kind == "TUBE"
        grounds = tubes and self.stroke.outlined != step.stroke.outlined
        unseen = any(one.kind == "TUBE" and one.stroke.inked == 0 for one in (self, step))
        return unseen or grounds or self.stroke.differs(step.stroke) < SAME_COLOUR

    def looks_like(self, step: Step) -> bool:
        """Whether two steps are of one colour and width."""
        narrow, wide = sorted((self.stroke.width, step.stroke.width))
        one_colour = self.stroke.differs(step.stroke) < SAME_COLOUR and not self.is_other_look(step)
        return one_colour and wide < ONE_WIDTH * narrow

    def other(self, cell: Cell) -> Cell:
        """Its other end."""
        return self.second if cell == self.first else self.first


def other_width(one: Stroke, other: Stroke) -> bool:
    """Whether two strokes are clearly of two widths; outlines are measured too badly to say, as is what other marks
    hide, and where a darker line crosses a pale wide one, it is as wide as its ink goes on."""
    narrow, wide = sorted((one.width, other.width))
    hollow = one.outlined or other.outlined
    as_far = sorted((one.spread, other.spread))
    crossed = one.differs(other) < CROSSED and wide <= ALIKE * as_far[0] and as_far[1] < min(ALIKE * as_far[0], BOUNDED)
    dashes = one.dashed and other.dashed  # of which lattice lines cut corners off
    told = one.seen and other.seen and not hollow and not dashes
    return told and narrow > 0 and wide > max(OTHER_WIDTH * narrow, narrow + WIDER) and not crossed
