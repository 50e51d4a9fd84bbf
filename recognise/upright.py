"""Which way up a page is: the way in which the characters in its grid can be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ingest.page import Page
from recognise.evidence import Evidence, Lattice

CLEAR = 0.75
"""From this share of character-like marks that read as a character on, the page is the right way up: of upside-down
figures, only 0, 6, 8, 9 and some 1s read as any."""

SURE = 0.95
"""Characters count from this confidence on."""

BETTER = 1.3
"""By how much another way up must read better to be taken."""


def readable(evidence: Evidence) -> int:
    """How many characters inside the grid are surely read."""
    return sum(_in_grid(g.centre, evidence) and bool(g.text) and g.confidence > SURE for g in evidence.glyphs)


def is_clear(evidence: Evidence) -> bool:
    """Whether what stands in the grid reads so well that the page must be the right way up."""
    marks = sum(_in_grid(g.centre, evidence) for g in evidence.glyphs) + len(evidence.shapes)
    return readable(evidence) >= CLEAR * marks


def quarters_to_turn(page: Page, lattice: Lattice, read: Callable[[Page, Lattice], Evidence], now: int) -> int:
    """The quarter turns clockwise, 0 to 3, after which the characters in a grid read best; `now` is how many are surely
    read as it is. Another way up is taken only when it reads clearly better."""
    scores = [now]
    for quarters in (1, 2, 3):
        after, (other,) = turned(page, [lattice], quarters)
        scores.append(readable(read(after, other)))
    best = int(np.argmax(scores))
    return best if scores[best] > BETTER * now + 1 else 0


def turned(page: Page, lattices: Sequence[Lattice], quarters: int) -> tuple[Page, list[Lattice]]:
    """The page turned clockwise, and its lattices with the corner that is then top left first."""
    after = page.turn(quarters)
    moved = [after.to_image(page.to_frame(lattice.points)) for lattice in lattices]
    return after, [
        Lattice(np.rot90(points, -quarters).copy(), lattice.score)
        for points, lattice in zip(moved, lattices, strict=True)
    ]


def _in_grid(point: tuple[float, float], evidence: Evidence) -> bool:
    return 0 <= point[0] < evidence.columns and 0 <= point[1] < evidence.rows
