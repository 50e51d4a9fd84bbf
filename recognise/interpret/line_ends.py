"""Lines that end in diamonds, squares or dots, as others do in circles, and tubes that begin at such frames."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Shape, Trace
from recognise.geometry import extent, middle
from recognise.interpret.colours import SAME, apart
from recognise.interpret.mark import Left
from recognise.interpret.places import cell_at
from schema.cells import Cell

FRAMES = ("diamond", "square")
"""What may stand in place of a circle."""
IN_MIDDLE = 0.15
"""In cells: how far from the middle of its cell such a frame stands at most."""
RIM = 0.05
"""In cells: how far the pen that draws a rim, with its blur, reaches beyond a frame, at the tips of a diamond."""
DOT = 0.12
"""In cells: the radius of a dot at the end of a line, at most; a bulb is larger."""
LEAST_LINES = 2
"""So many lines that end so show that it is no chance: marks of cells may stand where a line ends."""
WIDER = 1.3
"""So many times as wide as its line a reservoir is at least."""


def with_reservoirs(lines: Sequence[Trace], left: Left) -> list[Trace]:
    """The lines, each that begins at a frame as with the bulb that this is, if every frame of that look, filled with
    the colour of the line, or open as that is, and wider than it, stands at one end of such a line, every line of that
    colour has one, and there are several: then they are no marks of cells. The frames are taken from what is left."""
    lines = list(lines)
    for name in FRAMES:
        frames = {cell: shape for shape in left.shapes if shape.name == name and (cell := _cell(shape, left))}
        begun = {at: start for at, line in enumerate(lines) if (start := _start_of(line, frames)) is not None}
        looks = [lines[at].colour for at in begun]
        alike = [line for line in lines if any(apart(line.colour, look) <= SAME for look in looks)]
        own = [frames[lines[at].nodes[node]] for at, node in begun.items() if lines[at].nodes[node] in frames]
        if len(own) < max(LEAST_LINES, len(frames)) or len(alike) > len(begun):
            continue
        for at, node in begun.items():
            frame = frames.get(lines[at].nodes[node])
            if frame is not None:
                lines[at] = replace(lines[at], discs=((node, extent(frame.box) / 2),))
        left.shapes = [shape for shape in left.shapes if not any(shape is one for one in own)]
    return lines


def _start_of(line: Trace, frames: Mapping[Cell, Shape]) -> int | None:
    """The end of a line, as a node, at which a frame of its colour stands, or a circle was told: the only one."""
    circled = {line.nodes[node] for node, _ in line.discs}
    starts = {cell for cell in line.ends if cell in frames and _is_reservoir(frames[cell], line)} | circled
    if line.heads or len(starts) != 1 or not starts <= set(line.ends):
        return None
    return line.nodes.index(starts.pop())


def _is_reservoir(frame: Shape, line: Trace) -> bool:
    own = (frame.filled or line.outlined) and apart(frame.colour, line.colour) <= SAME
    return own and extent(frame.box) >= WIDER * line.width


def take_ends(lines: Sequence[Trace], left: Left) -> dict[int, tuple[Shape, ...]]:
    """The frames of each line (by its index) that has one at each end, its ground and its rim by themselves where they
    are drawn so, taken from what is left; none where a frame of their look stands elsewhere, for then they are marks of
    cells."""
    taken: dict[int, tuple[Shape, ...]] = {}
    for name in FRAMES:
        frames: dict[Cell, list[Shape]] = {}
        for shape in left.shapes:
            if shape.name == name and (cell := _cell(shape, left)):
                frames.setdefault(cell, []).append(shape)
        ends = {at: pair for at, line in enumerate(lines) if len(pair := _ends(line)) == 2 and set(pair) <= set(frames)}
        standing = {cell for pair in ends.values() for cell in pair}
        if len(ends) >= LEAST_LINES and standing == set(frames):
            taken |= {at: tuple(shape for cell in pair for shape in frames[cell]) for at, pair in ends.items()}
    own = [shape for pair in taken.values() for shape in pair]
    left.take_shapes(lambda shape: any(shape is one for one in own))
    return taken


def take_dots(lines: Sequence[Trace], left: Left) -> dict[int, tuple[Disc, ...]]:
    """The dots of each line (by its index) that has one in its colour at each end, taken from what is left; none where
    a dot of their look stands elsewhere."""
    dots = {cell: disc for disc in left.discs if disc.radius <= DOT and (cell := _cell_of(disc, left))}
    ends = {
        at: tuple(dots[cell] for cell in line.ends)
        for at, line in enumerate(lines)
        if len(line.ends) == 2 and not line.heads and not line.discs and set(line.ends) <= set(dots)
    }
    own = {at: pair for at, pair in ends.items() if all(_is_of(dot, lines[at]) for dot in pair)}
    standing = {id(dot) for pair in own.values() for dot in pair}
    others = [disc for disc in left.discs if disc.radius <= DOT and id(disc) not in standing]
    looks = [disc.fill for pair in own.values() for disc in pair if disc.fill]
    alike = [disc for disc in others if disc.fill and any(apart(disc.fill, look) <= SAME for look in looks)]
    if len(own) < LEAST_LINES or any(_cell_of(disc, left) for disc in alike):
        return {}
    left.take_discs(lambda disc: id(disc) in standing)
    return own


def _is_of(dot: Disc, line: Trace) -> bool:
    return dot.fill is not None and apart(dot.fill, line.colour) <= SAME


def _cell_of(disc: Disc, left: Left) -> Cell | None:
    """The cell in whose middle a dot stands."""
    cell = cell_at(disc.centre, left.size)
    return cell if cell is not None and math.dist(cell.centre, disc.centre) <= IN_MIDDLE else None


def claim(frame: Shape) -> Polygon:
    """A polygon round a frame and its rim: a diamond has no ink in the corners of its box, and its sides run through
    the box as a character does."""
    left, top, right, bottom = frame.box
    if frame.name != "diamond":
        return box_polygon(frame.box)
    x, y = middle(frame.box)
    return (x, top - RIM), (right + RIM, y), (x, bottom + RIM), (left - RIM, y)


def _cell(shape: Shape, left: Left) -> Cell | None:
    """The cell in whose middle a shape stands."""
    cell = cell_at(middle(shape.box), left.size)
    near = cell is not None and all(
        abs(a - b) <= IN_MIDDLE for a, b in zip(middle(shape.box), cell.centre, strict=True)
    )
    return cell if near else None


def _ends(line: Trace) -> tuple[Cell, ...]:
    """The cells in which a line without heads ends, if it has no circles elsewhere: one that was told at an end is the
    frame that stands there."""
    circled = {line.nodes[node] for node, _ in line.discs}
    return () if line.heads or not circled <= set(line.ends) else tuple(line.ends)
