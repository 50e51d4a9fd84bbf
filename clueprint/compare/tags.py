"""Where the numbers at frames stand: inside the page, and not on one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ingest.page import Box, Point
from recognise.geometry import overlap


@dataclass
class Tags:
    """Tags of one page of this width; lengths in the page's unit."""

    width: float
    taken: list[Box] = field(default_factory=list)

    def place(self, frame: Sequence[Point], wide: float, high: float) -> Box:
        """The box of a tag on top of a frame, from its left; where one stands there already, beside that one, or below
        it where the page ends."""
        start = left = max(0.0, min(*(x for x, _ in frame), self.width - wide))
        foot = max(min(y for _, y in frame), high)
        while True:
            box = (left, foot - high, left + wide, foot)
            other = next((tag for tag in self.taken if overlap(tag, box)), None)
            if other is None:
                break
            left = other[2]
            if left + wide > self.width:
                left, foot = start, foot + high
        self.taken.append(box)
        return box
