"""Inks that are drawn lines and tubes, each traced by itself, then put together to traces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import cv2
import numpy as np

from ingest.page import Box, Colour, Point
from recognise.evidence import Disc, Trace
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.tracing import painted
from recognise.vectors.graph import BULGE, Graph, graphs, loops
from recognise.vectors.inks import CELL, Canvas, Ink, Patch, canvas_mask, filled
from recognise.vectors.marks import similar
from schema.cells import Cell

SURE, UNSURE = 0.999, 0.6
"""Confidence of a trace whose ink is wholly explained by it, and of one with something in doubt."""
SPARE = 0.08
"""In cells: how far ink may stand beside a line as traced: mitred bends, square ends, curves at a bulb."""
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


@dataclass(frozen=True, slots=True)
class Line:
    """A trace with the inks that drew it; `pieces` is how many links its longest ink drew at once."""

    trace: Trace
    inks: tuple[int, ...]
    pieces: int


@dataclass(frozen=True, slots=True)
class Lines:
    """All traces, the inks and discs that they explain, and boxes of what stands out of them."""

    traces: tuple[Trace, ...]
    inks: frozenset[int]
    discs: frozenset[int]
    unexplained: tuple[Box, ...]


def find_lines(inks: Sequence[tuple[int, Ink]], discs: Sequence[Disc], canvas: Canvas) -> Lines:
    """Trace `inks`, given with their indices. `discs` are circles that may be bulbs or ends of lines."""
    bulbs = [(i, disc) for i, disc in enumerate(discs) if _on_cell(disc, canvas.raster) and disc.radius >= LEAST_BULB]
    lines, left = _each_alone(inks, [disc for _, disc in bulbs], canvas)
    lines.extend(_together(left, [disc for _, disc in bulbs], canvas))
    merged = _merged(lines, [disc for _, disc in bulbs])
    traces, used = [], set()
    for line in merged:
        trace, its = _with_discs(line, bulbs, canvas)
        used.update(its)
        traces.append(trace)
    unexplained = [box for line in merged for box in _beside(line, dict(inks), discs, canvas)]
    drawn = frozenset(index for line in lines for index in line.inks)
    return Lines(tuple(traces), drawn, frozenset(used), tuple(unexplained))


def _on_cell(disc: Disc, raster: Raster) -> Cell | None:
    """The cell in whose middle a disc sits."""
    cell = raster.cell_of(*disc.centre)
    if cell is None:
        return None
    x, y = cell.centre
    return cell if max(abs(disc.centre[0] - x), abs(disc.centre[1] - y)) <= ON_NODE else None


def _each_alone(
    inks: Sequence[tuple[int, Ink]], bulbs: Sequence[Disc], canvas: Canvas
) -> tuple[list[Line], list[tuple[int, Ink]]]:
    """Every ink that is a line by itself, and the other inks."""
    lines: list[Line] = []
    left = []
    for index, ink in inks:
        found = _trace(index, ink, bulbs, canvas)
        lines.extend(found)
        if not found:
            left.append((index, ink))
    return lines, left


def _trace(index: int, ink: Ink, bulbs: Sequence[Disc], canvas: Canvas) -> list[Line]:
    """The lines that one ink draws: as its own area, or as the area within its outline."""
    found = _traced(ink.whole, ink, _touching(ink, bulbs), canvas)
    if found:
        hollow = _is_hollow(found, ink, canvas)
        return [_line(replace(trace, outlined=hollow), (index,)) for trace in found]
    if ink.role == "stroke" and all(ink.closed) and ink.width <= CELL:
        inside = filled(ink.outlines, ink.even_odd, canvas.raster, canvas.shape)
        found = _traced(inside, ink, (), canvas)
    elif ink.role == "fill" and len(ink.outlines) > 1:
        found = _traced(_within(ink.whole), ink, (), canvas)
    return [_line(replace(trace, outlined=True), (index,)) for trace in found]


def _line(trace: Trace, inks: tuple[int, ...]) -> Line:
    return Line(trace, inks, len(trace.links))


def _touching(ink: Ink, bulbs: Sequence[Disc]) -> tuple[Disc, ...]:
    """The discs of a line's own colour, which carry it on to the middle of their cell."""
    left, top, right, bottom = ink.box
    return tuple(
        disc
        for disc in bulbs
        if left - disc.radius <= disc.centre[0] <= right + disc.radius
        and top - disc.radius <= disc.centre[1] <= bottom + disc.radius
        and (similar(disc.fill, ink.colour) or similar(disc.outline, ink.colour))
    )


def _traced(patch: Patch, ink: Ink, bulbs: Sequence[Disc], canvas: Canvas) -> list[Trace]:
    """The traces on a patch, with the discs of the line's own that carry it on."""
    mask = canvas_mask(patch, canvas.shape)
    _draw_discs(mask, bulbs, canvas.raster)
    return [_trace_of(graph, ink) for graph in graphs(mask, canvas.raster)]


def _trace_of(graph: Graph, ink: Ink) -> Trace:
    nodes = graph.cells
    index = {cell: place for place, cell in enumerate(nodes)}
    width = float(np.median([step.width for step in graph.steps]))
    notes = (*graph.notes, *loops(graph))
    return Trace(
        nodes=nodes,
        links=tuple(sorted((index[step.first], index[step.second]) for step in graph.steps)),
        colour=ink.colour,
        # The width of an open stroke is known; of anything else it is measured.
        width=ink.width if ink.role == "stroke" and not any(ink.closed) else width,
        outlined=False,
        how="vector",
        discs=tuple(sorted((index[cell], radius) for cell, radius in graph.discs.items())),
        dashed=ink.dashed,
        confidence=UNSURE if notes else SURE,
        ambiguous=notes,
    )


def _draw_discs(mask: Mask, discs: Iterable[Disc], raster: Raster) -> None:
    for disc in discs:
        centre = (round(raster.at(disc.centre[0])), round(raster.at(disc.centre[1])))
        cv2.circle(mask.view(np.uint8), centre, round(disc.radius * CELL), 1, -1)


def _is_hollow(traces: Sequence[Trace], ink: Ink, canvas: Canvas) -> bool:
    """Whether ground was painted along the middle of a line: a wide dark stroke with a white one upon it."""
    spots = []
    for trace in traces:
        for a, b in trace.links:
            (x0, y0), (x1, y1) = trace.nodes[a].centre, trace.nodes[b].centre
            spots += [(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t) for t in (0.3, 0.5, 0.7)]
    pixels = np.round(np.array(spots) * CELL + canvas.raster.origin).astype(int)
    return bool((canvas.ground_order[pixels[:, 1], pixels[:, 0]] > ink.order).mean() > 0.5)


def _joined_patches(one: Patch, other: Patch) -> Patch:
    left, top = min(one.left, other.left), min(one.top, other.top)
    right = max(one.left + one.mask.shape[1], other.left + other.mask.shape[1])
    bottom = max(one.top + one.mask.shape[0], other.top + other.mask.shape[0])
    mask = np.zeros((bottom - top, right - left), dtype=np.bool_)
    for patch in (one, other):
        y, x = patch.top - top, patch.left - left
        mask[y : y + patch.mask.shape[0], x : x + patch.mask.shape[1]] |= patch.mask
    return Patch(left, top, mask)


def _within(patch: Patch) -> Patch:
    """A wall with what it encloses: the ways in from outside cross one wall, those out to a hole of a looped tube
    cross another."""
    contours, hierarchy = cv2.findContours(patch.mask.view(np.uint8), cv2.RETR_TREE, cv2.CHAIN_APPROX_NONE)
    inside = np.zeros(patch.mask.shape, dtype=np.uint8)
    depths: dict[int, int] = {}
    for index in range(len(contours)):
        parent = int(hierarchy[0][index][3])
        depths[index] = 0 if parent < 0 else depths[parent] + 1
        if depths[index] % 4 in (0, 3):
            cv2.drawContours(inside, contours, index, 1 if depths[index] % 4 == 0 else 0, cv2.FILLED)
    return Patch(patch.left, patch.top, inside.view(np.bool_) | patch.mask)


def _together(left: Sequence[tuple[int, Ink]], bulbs: Sequence[Disc], canvas: Canvas) -> list[Line]:
    """Lines put together from inks of one colour, none of which is a line by itself."""
    groups: dict[tuple[str, Colour, bool], list[tuple[int, Ink]]] = {}
    for index, ink in left:
        groups.setdefault((ink.role, ink.colour, ink.dashed), []).append((index, ink))
    lines = []
    for group in groups.values():
        if len(group) < 2:
            continue
        patch = group[0][1].whole
        for _, ink in group[1:]:
            patch = _joined_patches(patch, ink.whole)
        ink = group[0][1]
        found = _traced(patch, ink, [disc for _, other in group for disc in _touching(other, bulbs)], canvas)
        hollow = not found
        if hollow and ink.role == "stroke":
            found = _traced(_within(patch), replace(ink, closed=(True,)), (), canvas)
        for trace in found:
            its = tuple(index for index, other in group if _meets_trace(other, trace, canvas))
            lines.append(_line(replace(trace, outlined=hollow), its))
    return lines


def _meets_trace(ink: Ink, trace: Trace, canvas: Canvas) -> bool:
    area = painted([trace], canvas.raster, canvas.shape, SPARE)[ink.whole.window]
    return bool(np.count_nonzero(area & ink.whole.mask) > 0.8 * np.count_nonzero(ink.whole.mask))


def _merged(lines: Sequence[Line], bulbs: Sequence[Disc]) -> list[Line]:
    """Lines of one colour that are one drawing: drawn twice, branching off at a bulb, or drawn step by step."""
    merged: list[Line] = []
    for line in lines:
        current = line
        while True:
            partner = next((other for other in merged if _one_drawing(other, current, bulbs)), None)
            if partner is None:
                break
            merged.remove(partner)
            current = _united(partner, current)
        merged.append(current)
    return merged


def _one_drawing(one: Line, other: Line, bulbs: Sequence[Disc]) -> bool:
    a, b = one.trace, other.trace
    shared = set(a.nodes) & set(b.nodes)
    if _cell_links(a) == _cell_links(b):
        return True
    at_end = [cell for cell in shared if cell in _ends(a) or cell in _ends(b)]
    if not at_end or not _alike(a, b):
        return False
    if one.pieces == 1 or other.pieces == 1:
        return True
    bulb_cells = {_round_cell(disc) for disc in bulbs if similar(disc.fill or disc.outline, a.colour)}
    bulbed = [any(cell in bulb_cells for cell in t.nodes) or bool(t.discs) for t in (a, b)]
    # Two lines with a bulb each are two; a line without one that starts on another's is a branch of it.
    return bool(bulbed[0] != bulbed[1] or any(cell in bulb_cells for cell in at_end))


def _alike(one: Trace, other: Trace) -> bool:
    """Whether two traces are drawn with one pen."""
    same_width = abs(one.width - other.width) <= 0.25 * max(one.width, other.width)
    same_style = one.outlined == other.outlined and one.dashed == other.dashed
    return same_width and same_style and similar(one.colour, other.colour)


def _round_cell(disc: Disc) -> Cell:
    return Cell(int(disc.centre[1]) + 1, int(disc.centre[0]) + 1)


def _ends(trace: Trace) -> set[Cell]:
    degree = [0] * len(trace.nodes)
    for a, b in trace.links:
        degree[a] += 1
        degree[b] += 1
    return {cell for cell, count in zip(trace.nodes, degree, strict=True) if count == 1}


def _cell_links(trace: Trace) -> frozenset[frozenset[Cell]]:
    return frozenset(frozenset((trace.nodes[a], trace.nodes[b])) for a, b in trace.links)


def _united(one: Line, other: Line) -> Line:
    a, b = one.trace, other.trace
    nodes = tuple(sorted({*a.nodes, *b.nodes}))
    index = {cell: place for place, cell in enumerate(nodes)}
    pairs = {tuple(sorted(map(index.__getitem__, link))) for link in _cell_links(a) | _cell_links(b)}
    radii: dict[int, float] = {}
    for trace in (a, b):
        for node, radius in trace.discs:
            radii[index[trace.nodes[node]]] = max(radius, radii.get(index[trace.nodes[node]], 0.0))
    same = _cell_links(a) == _cell_links(b)
    upper = b if same else a
    trace = replace(
        upper,
        nodes=nodes,
        links=tuple(sorted((pair[0], pair[1]) for pair in pairs)),
        width=max(a.width, b.width),
        discs=tuple(sorted(radii.items())),
        confidence=min(a.confidence, b.confidence),
        ambiguous=(*a.ambiguous, *(note for note in b.ambiguous if note not in a.ambiguous)),
    )
    return Line(trace, (*one.inks, *other.inks), max(one.pieces, other.pieces))


def _with_discs(line: Line, bulbs: Sequence[tuple[int, Disc]], canvas: Canvas) -> tuple[Trace, list[int]]:
    """The trace with the discs of its colour on its nodes, and the indices of those discs."""
    trace = line.trace
    index = {cell: place for place, cell in enumerate(trace.nodes)}
    radii, used = dict(trace.discs), []
    for number, disc in bulbs:
        place = index.get(_round_cell(disc))
        own = similar(disc.fill, trace.colour) or similar(disc.outline, trace.colour)
        if place is None or not own:
            continue
        used.append(number)
        if disc.radius < BULGE * trace.width / 2:
            # A disc no wider than its line rounds an end or a bend.
            continue
        radii[place] = max(disc.radius, radii.get(place, 0.0))
    whole = replace(trace, discs=tuple(sorted(radii.items())))
    return replace(whole, where=_outline(whole, canvas)), used


def _outline(trace: Trace, canvas: Canvas) -> tuple[Point, ...]:
    """The outline of a trace, in cells."""
    area = painted([trace], canvas.raster, canvas.shape, 0.0)
    contours, _ = cv2.findContours(area.view(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    simple = cv2.approxPolyDP(max(contours, key=len), OUTLINE * CELL, closed=True)[:, 0]
    return tuple((canvas.raster.to_cells(float(x)), canvas.raster.to_cells(float(y))) for x, y in simple)


def _beside(line: Line, inks: dict[int, Ink], discs: Sequence[Disc], canvas: Canvas) -> list[Box]:
    """Boxes of what a line's inks paint beside the line as traced."""
    raster, trace = canvas.raster, line.trace
    area = painted([trace], raster, canvas.shape, SPARE).view(np.uint8)
    for start, stop in _overshoots(trace):
        first, last = ((round(raster.at(x)), round(raster.at(y))) for x, y in (start, stop))
        cv2.line(area, first, last, 1, raster.px(trace.width + 2 * SPARE))
    explained = area.view(np.bool_)
    _draw_discs(explained, discs, raster)
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
