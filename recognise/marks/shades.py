"""The colours inside of marks, where neither digits in them nor their outlines hide it."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ingest.page import Point
from recognise.evidence import Disc
from recognise.marks.looking import Looking

DARK = 110
"""Mean of red, green and blue below which nobody prints in black on it."""
GROUND, TURNED, AROUND = 0.7, np.radians(35), 15
"""As a part of its radius: so far from its middle a filled circle shows its ground, short of its outline; up to how far
from straight to the left and right, for digits are taller than wide; and at how many places on each side."""


def ground(place: Point, radius: float, looking: Looking) -> tuple[int, int, int]:
    """The colour inside of a circle, beside the digit that may stand in it."""
    turns = np.linspace(-TURNED, TURNED, AROUND)
    off = [(side * np.cos(turn), np.sin(turn)) for side in (-1, 1) for turn in turns]
    return _middling([(place[0] + GROUND * radius * x, place[1] + GROUND * radius * y) for x, y in off], looking)


def ink_of(disc: Disc) -> float:
    """How dark a circle is where it is darkest, inside of it or on its outline, 0 to 1."""
    return 1 - min((sum(colour) for colour in (disc.fill, disc.outline) if colour), default=765) / 765


BESIDE_DIGIT = 0.2
"""In cells: so far to the sides of the middle of a cell the inside of its square shows, and no digit."""
IN_DIAMOND = 0.05
"""In cells: so far to the sides of the middle of a diamond or square its inside shows, and no lattice line that runs
under it."""
IN_BAR = 0.015
"""In cells: so near to its middle also the slimmest bar shows its inside."""
LIGHT_INSIDE = 128
"""Grey level, paper being 255, from which on the inside of a diamond or square is paper."""


def shade_at(place: Point, apart: float, looking: Looking) -> tuple[int, int, int]:
    """The middling colour at the four corners of a square about a place, so many cells to each side of it."""
    x, y = place
    return _middling([(x + dx * apart, y + dy * apart) for dx in (-1, 1) for dy in (-1, 1)], looking)


def _middling(places: Iterable[Point], looking: Looking) -> tuple[int, int, int]:
    """The middling colour of some places, in cells."""
    at = looking.raster.at
    red, green, blue = (
        round(255 * float(v))
        for v in np.median([looking.relative[round(at(y)), round(at(x))] for x, y in places], axis=0)
    )
    return red, green, blue
