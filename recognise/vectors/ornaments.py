"""Small dots that mark nothing: those on the bulbs of lines, such as the eyes of a worm, and rows of dots beside the
grid that say how hard the puzzle is."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ingest.page import Point
from recognise.evidence import Disc, Trace
from recognise.geometry import overlap
from recognise.grouping import grouped
from recognise.vectors.inks import near

LARGEST = 0.08
"""In cells: the radius of such a dot at most; dots that mark a cell are larger."""
ASIDE = 0.1
"""In cells: a mark of the cell stands nearer to its middle."""
ALIKE = 0.03
"""In cells: how far the dots of two bulbs lie at most from the same places."""
RIM = 0.01
"""In cells: by how much the pen of its rim makes an empty dot larger than a full one."""
ROW, CLOSE = 3, 0.5
"""So many dots side by side are a row, and in cells, from middle to middle, how near they stand at most: marks of rows
and columns stand a cell apart."""
LEAST_BULBS = 2
"""So many bulbs have the same dots at least: by one alone nobody tells."""


def ornaments(discs: Sequence[Disc], traces: Sequence[Trace]) -> list[Disc]:
    """Those of the discs that are such dots: small, off the middle of their bulb, and in the same places on every bulb
    that is as large and has the same colour."""
    found = []
    looks: list[list[tuple[Trace, int, float]]] = []
    for trace in traces:
        for node, radius in trace.discs:
            same = next((its for its in looks if _is_like(its[0], trace, radius)), None)
            if same is None:
                looks.append(same := [])
            same.append((trace, node, radius))
    for bulbs in looks:
        dots = [_dots_on(trace.nodes[node].centre, radius, discs) for trace, node, radius in bulbs]
        if len(bulbs) >= LEAST_BULBS and dots[0] and all(_same_places(dots[0], its) for its in dots[1:]):
            found += [disc for its in dots for _, disc in its]
    return found


def _is_like(bulb: tuple[Trace, int, float], trace: Trace, radius: float) -> bool:
    return near(bulb[0].colour, trace.colour) and abs(bulb[2] - radius) <= ALIKE


def _dots_on(middle: Point, radius: float, discs: Sequence[Disc]) -> list[tuple[float, Disc]]:
    """The small discs that lie wholly on a bulb, off its middle, by how far they lie from it."""
    away = [(math.dist(disc.centre, middle), disc) for disc in discs if disc.radius <= LARGEST]
    on_it = ((at, disc) for at, disc in away if ASIDE <= at <= radius - disc.radius)
    return sorted(on_it, key=lambda each: each[0])


def _same_places(one: Sequence[tuple[float, Disc]], other: Sequence[tuple[float, Disc]]) -> bool:
    """Whether the dots of two bulbs are as many, and lie as far from their middles: heads look all ways."""
    return len(one) == len(other) and all(abs(a - b) <= ALIKE for (a, _), (b, _) in zip(one, other, strict=True))


def dots_in_rows(discs: Sequence[Disc], rows: int, columns: int) -> list[Disc]:
    """The dots beside a grid of so many rows and columns that stand in a row, all equally large, filled or not."""
    grid = (0.0, 0.0, float(columns), float(rows))
    beside = [disc for disc in discs if disc.radius <= LARGEST and not overlap(disc.box, grid)]
    chains = grouped(sorted(beside, key=lambda disc: disc.centre), lambda chain, other: _goes_on(chain[-1], other))
    return [disc for chain in chains if len(chain) >= ROW for disc in chain]


def _goes_on(one: Disc, other: Disc) -> bool:
    """Whether another dot is the next of a row."""
    across, down = other.centre[0] - one.centre[0], abs(other.centre[1] - one.centre[1])
    return across <= CLOSE and down <= ALIKE and abs(one.radius - other.radius) <= RIM
