"""Numbers of lines in tags that stand on them: a frame in the colour of the line, on the step between two of its
cells, or a circle in the cell in which it ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from ingest.page import Colour, Point
from recognise.evidence import Disc, Glyph, Shape, Trace
from recognise.geometry import holds, middle
from recognise.interpret.colours import SAME, apart
from recognise.interpret.lines import line_seen
from recognise.interpret.mark import Left, Tag
from recognise.interpret.places import cell_at

ON_STEP = 0.1
"""In cells: how far from the middle of a step a tag stands at most."""
LEAST_CIRCLE = 0.15
"""In cells: the radius of the smallest circle that a number stands in."""
LEAST_LINES = 2
"""So many lines with a tag each show that it is no chance: a frame on the edge that a line crosses may be a mark of two
cells."""


def take_tags(left: Left) -> dict[Trace, Tag]:
    """The tag of each plain line, with its number, taken from what is left; none where a line of their colour has none
    or two, or a frame with a number stands in that colour where no line runs."""
    framed = [(shape, number) for shape in left.shapes if shape.name == "square" and (number := _number(shape, left))]
    found: dict[Trace, Tag] = {}
    for colour, lines in _by_colour(left):
        own = [tag for tag in framed if apart(tag[0].colour, colour) <= SAME]
        tags = [[tag for tag in own if _is_on(tag[0], line)] for line in lines]
        plain = all((seen := line_seen(line)) is not None and seen.family == "line" for line in lines)
        if len(lines) >= LEAST_LINES and len(own) == len(lines) and plain and all(len(its) == 1 for its in tags):
            found |= {line: Tag(*its[0]) for line, its in zip(lines, tags, strict=True)}
    return _taken(found, left)


def take_circled(left: Left) -> dict[Trace, Tag]:
    """The numbers in circles at one end of each line, taken from what is left with the circles; none where a line of
    their colour has no such circle, or no number there is too large for a digit of the grid."""
    found: dict[Trace, Tag] = {}
    for _, lines in _by_colour(left):
        tags = [_circled(line, left) for line in lines]
        whole = [(line, tag) for line, tag in zip(lines, tags, strict=True) if tag is not None]
        large = [tag for _, tag in whole if int("".join(glyph.text for glyph in tag.number)) > max(left.size)]
        if len(whole) == len(lines) >= LEAST_LINES and 2 * len(large) >= len(whole):
            found |= {replace(line, discs=()): tag for line, tag in whole}
            left.traces = [replace(trace, discs=()) if trace in lines else trace for trace in left.traces]
    return _taken(found, left)


def _by_colour(left: Left) -> Iterator[tuple[Colour, list[Trace]]]:
    """The lines that are left, for each colour those that have it."""
    for colour in dict.fromkeys(trace.colour for trace in left.traces):
        yield colour, [trace for trace in left.traces if apart(trace.colour, colour) <= SAME]


def _taken(found: dict[Trace, Tag], left: Left) -> dict[Trace, Tag]:
    """The tags that were found, their frames and numbers taken from what is left."""
    left.take_shapes(lambda shape: any(shape is tag.frame for tag in found.values()))
    left.take_discs(lambda disc: any(disc is tag.frame for tag in found.values()))
    left.take_glyphs(lambda glyph: any(glyph is one for tag in found.values() for one in tag.number))
    return found


def _circled(line: Trace, left: Left) -> Tag | None:
    """The circle with a number in which a line ends at one end alone; its own, or one that stands there."""
    if line.heads or len(line.ends) != 2 or not {line.nodes[node] for node, _ in line.discs} <= set(line.ends):
        return None
    own = [Disc(line.nodes[node].centre, size, None, line.colour, line.how) for node, size in line.discs]
    alone = [disc for disc in left.discs if any(math.dist(disc.centre, end.centre) <= ON_STEP for end in line.ends)]
    circles = [disc for disc in (*own, *alone) if disc.radius >= LEAST_CIRCLE]
    ends = {cell_at(disc.centre, left.size) for disc in circles}
    if len(ends) != 1:
        return None
    inside = tuple(glyph for glyph in left.glyphs if holds(circles[0].box, glyph.centre))
    figures = inside and all(glyph.text.isdecimal() for glyph in inside)
    return Tag(circles[-1], inside, ends.pop()) if figures else None


def _number(frame: Shape, left: Left) -> tuple[Glyph, ...]:
    """The figures in a frame that stands between cells; none where anything else is in it."""
    x, y = middle(frame.box)
    cell = cell_at((x, y), left.size)
    inside = [glyph for glyph in left.glyphs if holds(frame.box, glyph.centre)]
    if frame.filled or (cell is not None and math.dist(cell.centre, (x, y)) <= ON_STEP):
        return ()
    return tuple(inside) if all(glyph.text.isdecimal() for glyph in inside) else ()


def _is_on(frame: Shape, line: Trace) -> bool:
    return any(math.dist(middle(frame.box), place) <= ON_STEP for place in _steps(line))


def _steps(line: Trace) -> Iterator[Point]:
    """The middles of a line's steps."""
    for a, b in line.links:
        (x, y), (other_x, other_y) = line.nodes[a].centre, line.nodes[b].centre
        yield (x + other_x) / 2, (y + other_y) / 2
