"""Small things that mark nothing: dots on the bulbs of lines, such as the eyes of a worm, bars across the ends of
lines, and what pages print beside a grid: rows of dots or stars that say how hard the puzzle is, bullets, short
rules."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise

from ingest.page import Box, Point
from recognise.evidence import Disc, Shape, Trace
from recognise.geometry import beside, extent, holds, middle, overlap
from recognise.grouping import grouped
from recognise.vectors.beside import LEAST_CLUE, is_centred
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
HOLE, TAG = 0.05, 6.0
"""In cells: the radius of the hole in a tag at most; and so many times that is the tag's longer side at least."""
AT_END, LONGEST_BAR = 0.12, 0.6
"""In cells: how far the middle of a bar across a line's end lies from that of its cell, and how long it is at most."""
ACROSS = 0.35
"""Cosine of the angle between such a bar and its line at most."""
CAP, OFF_NODE = 1.1, 0.05
"""A square cap is so many times as wide as its line at most, and in cells: so far it stands from the middle of its
cell."""
LEAST_BULBS = 2
"""So many bulbs have the same dots at least: by one alone nobody tells."""

BESIDE = frozenset(("bar", "square", "diamond"))
"""Names of what pages print for ornament, too slight for a clue to stand in it. Clues beside a grid are characters, in
frames or not, and arrows."""
NAMELESS, AS_WIDE = frozenset(("mark", "glyph-path")), 0.85
"""What the stars of a rating are called, and as a part of the longer side the shorter one of what is no figure."""
NEXT, SIZED, LEVEL = 1.2, 0.1, 0.1
"""In cells: how far apart two of a row of ornaments stand at most, from middle to middle, and by how much they differ
in size and height."""
BY_FIGURE = 0.3
"""In cells: a bar that stands no farther from a figure may be its sign."""


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


def holes_of_tags(discs: Sequence[Disc], shapes: Sequence[Shape], written: Sequence[Box]) -> list[Disc]:
    """The small discs in open shapes that hold something written as well: by a hole in it one hangs up a tag."""
    tags = [s for s in shapes if not s.filled and any(holds(s.box, middle(box)) for box in written)]
    return [
        disc
        for disc in discs
        if disc.radius <= HOLE
        and any(holds(tag.box, disc.centre) and extent(tag.box) >= TAG * disc.radius for tag in tags)
        and not any(overlap(disc.box, box) for box in written)
    ]


def crossbars(shapes: Sequence[Shape], traces: Sequence[Trace]) -> list[Shape]:
    """The bars across the ends of lines, in their colour: every line of that colour has one at each end where it has no
    disc, so that none tells two kinds of lines apart."""
    found: list[Shape] = []
    for colour in dict.fromkeys(trace.colour for trace in traces):
        bars = [s for s in shapes if s.name == "bar" and near(s.colour, colour) and extent(s.box) <= LONGEST_BAR]
        ends = [end for trace in traces if near(trace.colour, colour) for end in _bare_ends(trace)]
        at_ends = [[bar for bar in bars if _is_across(bar, *end)] for end in ends]
        if all(at_ends):
            found += [bar for its in at_ends for bar in its]
    return found


def square_caps(shapes: Sequence[Shape], traces: Sequence[Trace]) -> list[Shape]:
    """The squares in the colour of a line, no wider than it, that cap its ends or its bends."""
    return [
        shape
        for shape in shapes
        if shape.name == "square" and shape.filled and any(_is_cap(shape, trace) for trace in traces)
    ]


def _is_cap(shape: Shape, trace: Trace) -> bool:
    own = near(shape.colour, trace.colour) and extent(shape.box) <= CAP * trace.width
    return own and any(math.dist(middle(shape.box), node.centre) <= OFF_NODE for node in trace.nodes)


def _bare_ends(trace: Trace) -> Iterator[tuple[Point, Point]]:
    """The middles of a line's last cells that hold no disc, each with that of the cell before it."""
    discs = {node for node, _ in trace.discs}
    nodes = [node for link in trace.links for node in link]
    for a, b in trace.links:
        for end, before in ((a, b), (b, a)):
            if nodes.count(end) == 1 and end not in discs:
                yield trace.nodes[end].centre, trace.nodes[before].centre


def _is_across(bar: Shape, end: Point, before: Point) -> bool:
    """Whether a bar lies across the end of a line."""
    if math.dist(middle(bar.box), end) > AT_END or len(bar.where) < 2:
        return False
    one, other = max(combinations(bar.where, 2), key=lambda pair: math.dist(*pair))
    (x, y), (along, down) = ((b[0] - a[0], b[1] - a[1]) for a, b in ((one, other), (before, end)))
    return abs(x * along + y * down) <= ACROSS * math.hypot(x, y) * math.hypot(along, down)


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


def ornaments_beside(shapes: Iterable[Shape], rows: int, columns: int, written: Sequence[Box]) -> list[Shape]:
    """The ornaments beside a grid of so many rows and columns: those off the middle of any row or column, where a clue
    would stand, and those that stand in a row with such; without a name, only such a row. What holds something
    `written` is a frame, and a bar beside that may be a sign."""
    grid = (0.0, 0.0, float(columns), float(rows))
    named = [shape for shape in shapes if shape.name in BESIDE | NAMELESS and not overlap(shape.box, grid)]
    beside = [shape for shape in named if _may_be_ornament(shape) and not _is_of(shape, written)]
    chains = grouped(sorted(beside, key=lambda shape: shape.box), lambda chain, other: _is_next(chain[-1], other))
    found = []
    for chain in chains:
        places = sorted(middle(shape.box) for shape in chain)
        length = 1 + sum(after[0] - before[0] > LEVEL for before, after in pairwise(places))
        if any(_is_off(place, rows, columns) for place in places) and (_is_named(chain[0]) or length >= ROW):
            found += chain
    return found


def _may_be_ornament(shape: Shape) -> bool:
    left, top, right, bottom = shape.box
    shorter = min(right - left, bottom - top)
    return shorter < LEAST_CLUE if _is_named(shape) else shorter >= AS_WIDE * extent(shape.box)


def _is_named(shape: Shape) -> bool:
    return shape.name in BESIDE


def _is_of(shape: Shape, written: Iterable[Box]) -> bool:
    """Whether a shape is a frame round something that is written, or its sign."""
    left, top, right, bottom = shape.box
    reach = BY_FIGURE if shape.name == "bar" else 0.0
    return any(overlap((left - reach, top, right + reach, bottom), box) for box in written)


def _is_next(one: Shape, other: Shape) -> bool:
    """Whether another ornament is the next of a row, or the rim of the same one."""
    (x, y), (other_x, other_y) = middle(one.box), middle(other.box)
    named = one.name == other.name if _is_named(one) else not _is_named(other)
    alike = named and abs(extent(one.box) - extent(other.box)) <= SIZED
    return alike and other_x - x <= NEXT and abs(other_y - y) <= LEVEL


def _is_off(place: Point, rows: int, columns: int) -> bool:
    at = beside(place, rows, columns)
    return at is None or not is_centred(at)
