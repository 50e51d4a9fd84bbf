"""Inks that are drawn lines and tubes: traced, put together to drawings, with the discs that belong to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import cv2
import numpy as np

from ingest.page import Box, Colour, Point
from recognise.evidence import Disc, Trace
from recognise.geometry import extent
from recognise.pixels.frame import Raster
from recognise.pixels.tracing import painted
from recognise.vectors.broken import broken_lines
from recognise.vectors.capsules import Capsule
from recognise.vectors.graph import BULGE
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.joining import Line, merged, round_cell, with_own_rings
from recognise.vectors.marks import similar
from recognise.vectors.patches import CELL
from recognise.vectors.rounds import Rounds, cell_under, discs_on_ends, draw_discs, framing
from recognise.vectors.strokes import HEAD_SIZE, SPARE, draw_head, draws_head, each_alone, together
from recognise.vectors.waves import straightened
from schema.cells import Cell

TIP = 0.42
"""In cells: how far a line may go on beyond the middle of its last cell."""
UNEXPLAINED = 0.02
"""In square cells: what stands beside a line as traced and is larger is something else."""
OUTLINE = 0.02
"""In cells: how exactly the outline for pictures follows a line."""
ON_NODE = 0.15
"""In cells: how far a disc's middle may lie off the middle of its cell."""
LEAST_BULB = 0.14
"""Radius in cells of the least disc that belongs to a line: a smaller one is a dot on it."""


COLOURED = 48
"""Levels by which the least and the greatest of red, green and blue differ in a colour that is no grey."""
PALEST, ROUNDED = 0.25, 3
"""The part of a colour that is seen at least where paper shines through it; and the levels that rounding changes."""
THIN = 0.3
"""As a part of the width of a line: the strokes that hatch it are no wider."""
LEAST_RING = 0.2
"""Radius in cells of the least ring at the end of a line that belongs to it in another colour."""


@dataclass(frozen=True, slots=True)
class Lines:
    """All traces, the inks and discs that they explain, and boxes of what stands out of them."""

    traces: tuple[Trace, ...]
    inks: frozenset[int]
    discs: frozenset[int]
    unexplained: tuple[Box, ...]


def find_lines(
    inks: Sequence[tuple[int, Ink]], discs: Sequence[Disc], capsules: Sequence[Capsule], canvas: Canvas
) -> Lines:
    """Trace `inks`, given with their indices. `discs` are circles that may be bulbs or ends of lines, or, as
    `capsules`, what arrows come from."""
    bulbs = [(i, disc) for i, disc in enumerate(discs) if _on_cell(disc, canvas.raster) and disc.radius >= LEAST_BULB]
    on_cells = tuple(disc for _, disc in bulbs)
    rounds = Rounds(on_cells, tuple(capsules), discs_on_ends((ink for _, ink in inks), on_cells))
    waves = {index: straightened(ink, canvas.raster, canvas.shape) for index, ink in inks}
    inks = [(index, waves[index][0]) for index, _ in inks]
    frames = tuple(framing([ink for _, ink in inks], canvas.raster))
    ending = replace(rounds, discs=(*rounds.discs, *frames))
    lines, left = each_alone(inks, ending, canvas)
    lines.extend(together(left, ending, canvas))
    lines = [_without_frames(line, frames, rounds) for line in lines]
    spoken_for = {index for line in lines for index in line.inks}
    broken = broken_lines([each for each in left if each[0] not in spoken_for], discs, rounds, canvas)
    lines.extend(each.line for each in broken)
    drawings = merged(lines, rounds.discs)
    traces, used = [], {number for each in broken for number in each.dots}
    for line in drawings:
        trace, its = _with_discs(line, bulbs, canvas)
        used.update(its, _joints(trace, discs, canvas.raster))
        traces.append(replace(trace, sway=max([trace.sway, *(waves[index][1] for index in line.inks)])))
    traces = with_own_rings(traces)
    unexplained = [
        box
        for line, trace in zip(drawings, traces, strict=True)
        for box in _beside(line, trace, dict(inks), discs, capsules, canvas)
    ]
    drawn = frozenset(index for line in lines for index in line.inks)
    drawn |= frozenset(_outlines_of_heads(left, lines, canvas))
    drawn |= frozenset(_drawn_again([each for each in left if each[0] not in drawn], traces, canvas))
    own = tuple(trace for trace in traces if not any(_is_hatch(trace, other) for other in traces))
    return Lines(own, drawn, frozenset(used), tuple(unexplained))


def _without_frames(line: Line, frames: Sequence[Disc], rounds: Rounds) -> Line:
    """A line without the discs that only stand for frames: whether these are its own says all of the page."""
    framed = {cell_under(each.centre) for each in frames} - {cell_under(each.centre) for each in rounds.discs}
    discs = tuple(each for each in line.trace.discs if line.trace.nodes[each[0]] not in framed)
    return replace(line, trace=replace(line.trace, discs=discs))


def _is_hatch(trace: Trace, other: Trace) -> bool:
    """Whether a line is a stroke of the hatching of another one: of its colour, far thinner, and along a part of it."""
    ways, its = ({frozenset((t.nodes[a], t.nodes[b])) for a, b in t.links} for t in (trace, other))
    bare = not (trace.heads or trace.discs)
    return bare and ways < its and trace.width <= THIN * other.width and similar(trace.colour, other.colour)


def _drawn_again(left: Iterable[tuple[int, Ink]], traces: Sequence[Trace], canvas: Canvas) -> Iterator[int]:
    """The strokes that lie all along upon a line of their colour, as the last bit of an arrow's shaft does that came
    with its head: nothing is seen of them."""
    strokes = [(index, ink) for index, ink in left if ink.role == "stroke" and ink.opaque]
    areas = [(trace, painted([trace], canvas.raster, canvas.shape, SPARE)) for trace in traces] if strokes else []
    for index, ink in strokes:
        upon = (area[ink.whole.window] for trace, area in areas if similar(trace.colour, ink.colour))
        if any(area[ink.whole.mask].all() for area in upon):
            yield index


def _outlines_of_heads(left: Iterable[tuple[int, Ink]], lines: Sequence[Line], canvas: Canvas) -> Iterator[int]:
    """The inks that draw the rims of heads whose areas others draw."""
    heads = [(line.trace.colour, head) for line in lines for head in line.heads]
    for index, ink in left:
        alike = [head for colour, head in heads if similar(colour, ink.colour)]
        if alike and extent(ink.box) < HEAD_SIZE and draws_head(ink, alike, canvas):
            yield index


def _on_cell(disc: Disc, raster: Raster) -> Cell | None:
    """The cell in whose middle a disc sits."""
    cell = raster.cell_of(*disc.centre)
    if cell is None:
        return None
    x, y = cell.centre
    return cell if max(abs(disc.centre[0] - x), abs(disc.centre[1] - y)) <= ON_NODE else None


def _with_discs(line: Line, bulbs: Sequence[tuple[int, Disc]], canvas: Canvas) -> tuple[Trace, list[int]]:
    """The trace with the discs of its colour on its nodes, and the indices of those discs."""
    trace = line.trace
    index = {cell: place for place, cell in enumerate(trace.nodes)}
    radii, used = dict(trace.discs), []
    comes_from = {*radii, *_other_ends(trace, bulbs)}
    for number, disc in bulbs:
        place = index.get(round_cell(disc))
        if place is None or place in trace.heads or not (_is_own(disc, trace) or place in comes_from):
            continue
        used.append(number)
        if disc.radius < BULGE * trace.width / 2:
            # A disc no wider than its line rounds an end or a bend.
            continue
        radii[place] = max(disc.radius, radii.get(place, 0.0))
    whole = replace(trace, discs=tuple(sorted(radii.items())))
    return replace(whole, where=_outline(whole, canvas)), used


def _joints(trace: Trace, discs: Sequence[Disc], raster: Raster) -> Iterator[int]:
    """The indices of small discs of a line's colour that round its bends, no wider than the line."""
    for number, disc in enumerate(discs):
        narrow = disc.radius < LEAST_BULB and disc.radius < BULGE * trace.width / 2
        own = disc.outline is None and similar(disc.fill, trace.colour)
        if narrow and own and _on_cell(disc, raster) in trace.nodes:
            yield number


def _is_own(disc: Disc, trace: Trace) -> bool:
    """Whether a disc has the colour of a line, or the rim of a ring the full colour of one that lets paper through."""
    if similar(disc.fill, trace.colour) or similar(disc.outline, trace.colour):
        return True
    return disc.outline is not None and disc.fill is not None and _is_paler(trace.colour, disc.outline)


def _is_paler(colour: Colour, full: Colour) -> bool:
    """Whether a colour is another one with paper shining through. Of greys nobody could tell."""
    if max(full) - min(full) < COLOURED:
        return False
    shares = [(255 - part) / (255 - its) for part, its in zip(colour, full, strict=True) if 255 - its >= COLOURED]
    share = sum(shares) / len(shares)
    blended = (round(255 + (its - 255) * share) for its in full)
    return PALEST <= share <= 1 and all(abs(a - b) <= ROUNDED for a, b in zip(colour, blended, strict=True))


def _other_ends(trace: Trace, bulbs: Sequence[tuple[int, Disc]]) -> set[int]:
    """The ends without a head of a line that has heads, and both ends of one with rings: the circles there belong to it
    in any colour."""
    ends = [node for link in trace.links for node in link]
    cells = {round_cell(disc) for _, disc in bulbs}
    free = {node for node in ends if ends.count(node) == 1 and node not in trace.heads}
    if not trace.heads and not _are_rings(trace, free, bulbs):
        return set()
    return {node for node in free if trace.nodes[node] in cells}


def _are_rings(trace: Trace, ends: set[int], bulbs: Sequence[tuple[int, Disc]]) -> bool:
    """Whether rings that look the same sit on both ends of a line: they are its own, whatever their colour."""
    its = [disc for _, disc in bulbs if round_cell(disc) in {trace.nodes[node] for node in ends}]
    if len(ends) != 2 or len(its) != 2 or not all(disc.outline and disc.radius >= LEAST_RING for disc in its):
        return False
    same = similar(its[0].outline, its[1].outline) and (its[0].fill is None) == (its[1].fill is None)
    return same and abs(its[0].radius - its[1].radius) <= 0.1 * its[0].radius


def _outline(trace: Trace, canvas: Canvas) -> tuple[Point, ...]:
    """The outline of a trace, in cells."""
    area = painted([trace], canvas.raster, canvas.shape, 0.0)
    contours, _ = cv2.findContours(area.view(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    simple = cv2.approxPolyDP(max(contours, key=len), OUTLINE * CELL, closed=True)[:, 0]
    return tuple((canvas.raster.to_cells(float(x)), canvas.raster.to_cells(float(y))) for x, y in simple)


def _beside(
    line: Line, trace: Trace, inks: dict[int, Ink], discs: Sequence[Disc], capsules: Sequence[Capsule], canvas: Canvas
) -> list[Box]:
    """Boxes of what a line's inks paint beside the line as traced."""
    raster = canvas.raster
    area = painted([trace], raster, canvas.shape, SPARE + trace.sway).view(np.uint8)
    for start, stop in _overshoots(trace):
        first, last = ((round(raster.at(x)), round(raster.at(y))) for x, y in (start, stop))
        cv2.line(area, first, last, 1, raster.px(trace.width + 2 * SPARE))
    explained = area.view(np.bool_)
    draw_discs(explained, discs, raster)
    for head in line.heads:
        draw_head(explained, head, raster)
    for capsule in capsules:
        points = np.round(capsule.outline * CELL + raster.origin).astype(np.int32)
        cv2.fillPoly(area, [points], 1)
    boxes = []
    for index in line.inks:
        patch = inks[index].patch
        rest = (patch.mask & ~explained[patch.window]).astype(np.uint8)
        count, _, stats, _ = cv2.connectedComponentsWithStats(rest, connectivity=8)
        for x, y, width, height, size in stats[1:count].tolist():
            if size >= UNEXPLAINED * CELL * CELL:
                boxes.append(raster.box(x + patch.left, y + patch.top, width, height))
    return boxes


def _overshoots(trace: Trace) -> Iterator[tuple[Point, Point]]:
    """Pieces by which the pen may run on beyond the middle of a cell: at an end, and at a mitred bend, whose tip lies
    half the width times the cotangent of half the angle behind the corner."""
    arms: dict[int, list[Point]] = {}
    for a, b in trace.links:
        for node, other in ((a, b), (b, a)):
            (x, y), (ox, oy) = trace.nodes[node].centre, trace.nodes[other].centre
            length = float(np.hypot(ox - x, oy - y))
            arms.setdefault(node, []).append(((ox - x) / length, (oy - y) / length))
    for node, ways in arms.items():
        reach = TIP
        if len(ways) > 1:
            angle = min(_angle(one, other) for one, other in combinations(ways, 2))
            reach = trace.width / 2 / np.tan(angle / 2)
        x, y = trace.nodes[node].centre
        yield from (((x, y), (x - dx * reach, y - dy * reach)) for dx, dy in ways)


def _angle(one: Point, other: Point) -> float:
    return float(np.arccos(np.clip(one[0] * other[0] + one[1] * other[1], -1, 1)))
