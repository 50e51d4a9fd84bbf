"""Which way up a page is: the way in which the characters in its grid can be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

import numpy as np

from ingest.page import Page
from recognise.evidence import Evidence, Glyph, Lattice

CLEAR = 0.75
"""From this share of character-like marks that read as a character on, the page is the right way up: of upside-down
figures, only 0, 6, 8, 9 and some 1s read as any."""

SURE = 0.95
"""Characters count from this confidence on."""

BETTER = 1.3
"""By how much another way up must read better to be taken."""

ONE_WAY = frozenset("234579")
"""Figures that on their side look like no figure."""

ENOUGH = 3
"""Of them, to tell."""

EVERY_WAY = frozenset("×X+xO0")
"""What looks the same on its side: read more surely there, it tells nothing of which way up the page is."""


def readable(evidence: Evidence) -> int:
    """How many characters inside the grid that tell which way up it is are surely read."""
    return sum(bool(g.text) and g.confidence > SURE for g in _telling(evidence))


def told(evidence: Evidence) -> bool:
    """Whether enough figures that read one way only stand in the grid to tell which way up it is."""
    found = (g for g in evidence.glyphs if _in_grid(g.centre, evidence) and g.confidence > SURE)
    return sum(g.text in ONE_WAY for g in found) >= ENOUGH


def is_level(evidence: Evidence) -> bool:
    """Whether enough figures that look like none on their side are surely read in the grid and beside it."""
    figures = (figure for g in evidence.glyphs if g.confidence > SURE for figure in g.text)
    return sum(figure in ONE_WAY for figure in figures) >= ENOUGH


def is_clear(evidence: Evidence) -> bool:
    """Whether what stands in the grid reads so well that the page must be the right way up. A PDF whose text layer the
    picture bears out knows it, also by the clues beside the grid."""
    if any(g.how == "vector" and g.confidence > SURE for g in evidence.glyphs):
        return True
    # A tag round a number is no character that nobody could read.
    shapes = [shape for shape in evidence.shapes if shape.name != "outline"]
    marks = len(_telling(evidence)) + len(shapes) + len(evidence.stray)
    return readable(evidence) >= CLEAR * marks


class HasEvidence(Protocol):
    """A grid that was looked at."""

    @property
    def evidence(self) -> Evidence:
        """What was seen."""


G = TypeVar("G", bound=HasEvidence)


def best_turn(page: Page, lattice: Lattice, look: Callable[[Page, Lattice], G], now: Evidence) -> tuple[int, G | None]:
    """The quarter turns clockwise, 0 to 3, after which the characters in a grid read best, with the grid as it was
    looked at then (None for 0); `now` is what is seen in it as it is. Another way up is taken only when it reads
    clearly better. What has figures that look like none on their side stands on its feet or on its head."""
    best, found = 0, None
    most = float(BETTER * readable(now) + 1)
    for quarters in (2,) if is_level(now) else (1, 2, 3):
        after, (other,) = turned(page, [lattice], quarters)
        seen = look(after, other)
        if readable(seen.evidence) > most:
            best, found, most = quarters, seen, readable(seen.evidence)
    return best, found


def turned(page: Page, lattices: Sequence[Lattice], quarters: int) -> tuple[Page, list[Lattice]]:
    """The page turned clockwise, and its lattices with the corner that is then top left first."""
    after = page.turn(quarters)
    moved = [after.to_image(page.to_frame(lattice.points)) for lattice in lattices]
    return after, [
        replace(lattice, points=np.rot90(points, -quarters).copy())
        for points, lattice in zip(moved, lattices, strict=True)
    ]


def _telling(evidence: Evidence) -> list[Glyph]:
    """The characters inside the grid, less those that look the same on their side."""
    return [g for g in evidence.glyphs if _in_grid(g.centre, evidence) and g.text not in EVERY_WAY]


def _in_grid(point: tuple[float, float], evidence: Evidence) -> bool:
    return 0 <= point[0] < evidence.columns and 0 <= point[1] < evidence.rows
