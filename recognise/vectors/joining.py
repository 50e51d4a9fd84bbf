"""Traces that are one drawing, put together: drawn twice, step by step, or branching off at a circle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from recognise.evidence import Disc, Trace
from recognise.vectors.heads import Head
from recognise.vectors.marks import similar
from schema.cells import Cell


@dataclass(frozen=True, slots=True)
class Line:
    """A trace with the inks that drew it and its arrow heads; `pieces` is how many links its longest ink drew."""

    trace: Trace
    inks: tuple[int, ...]
    pieces: int
    heads: tuple[Head, ...] = ()


def merged(lines: Sequence[Line], bulbs: Sequence[Disc]) -> list[Line]:
    """Lines of one colour that are one drawing: drawn twice, branching off at a bulb, or drawn step by step."""
    done: list[Line] = []
    for line in lines:
        current = line
        while True:
            partner = next((other for other in done if _one_drawing(other, current, bulbs)), None)
            if partner is None:
                break
            done.remove(partner)
            current = _united(partner, current)
        done.append(current)
    return done


def _one_drawing(one: Line, other: Line, bulbs: Sequence[Disc]) -> bool:
    a, b = one.trace, other.trace
    shared = set(a.nodes) & set(b.nodes)
    if _cell_links(a) == _cell_links(b):
        return True
    at_end = [cell for cell in shared if cell in _ends(a) or cell in _ends(b)]
    # Where an arrow's head is, the line is at its end.
    at_end = [cell for cell in at_end if not any(cell in _headed(trace) for trace in (a, b))]
    if not at_end or not _alike(a, b) or _only_passes(a, b):
        return False
    if any(cell in _with_disc(a) and cell in _with_disc(b) for cell in at_end):
        return True
    if one.pieces == 1 or other.pieces == 1:
        return True
    bulb_cells = {
        round_cell(disc)
        for disc in bulbs
        if similar(disc.fill or disc.outline, a.colour) or similar(disc.outline, a.colour)
    }
    bulbed = [any(cell in bulb_cells for cell in t.nodes) or bool(t.discs) for t in (a, b)]
    # Two lines with a bulb each are two; a line without one that starts on another's is a branch of it.
    return bool(bulbed[0] != bulbed[1] or any(cell in bulb_cells for cell in at_end))


def with_own_rings(traces: Sequence[Trace]) -> list[Trace]:
    """The lines, those that end in circles without the circles that they run through and in which another of these
    ends."""
    ringed = [trace for trace in traces if _is_ringed(trace)]

    def own(trace: Trace) -> Trace:
        others = {cell for other in ringed if other is not trace and _alike(trace, other) for cell in _ends(other)}
        passed = others - _ends(trace)
        return replace(trace, discs=tuple(disc for disc in trace.discs if trace.nodes[disc[0]] not in passed))

    return [own(trace) if trace in ringed else trace for trace in traces]


def _only_passes(one: Trace, other: Trace) -> bool:
    """Whether of two lines with a circle at each end one runs through circles of the other and ends in none of them."""
    return _is_ringed(one) and _is_ringed(other) and not _ends(one) & _ends(other)


def _is_ringed(trace: Trace) -> bool:
    """Whether a line ends in a circle at both of its ends."""
    return len(_ends(trace)) == 2 and _ends(trace) <= _with_disc(trace)


def _headed(trace: Trace) -> set[Cell]:
    return {trace.nodes[node] for node in trace.heads}


def _with_disc(trace: Trace) -> set[Cell]:
    return {trace.nodes[node] for node, _ in trace.discs}


def _alike(one: Trace, other: Trace) -> bool:
    """Whether two traces are drawn with one pen."""
    same_width = abs(one.width - other.width) <= 0.25 * max(one.width, other.width)
    same_style = one.outlined == other.outlined and one.dashed == other.dashed
    return same_width and same_style and similar(one.colour, other.colour)


def round_cell(disc: Disc) -> Cell:
    """The cell that the middle of a disc lies in."""
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
        cored=a.cored or b.cored or (same and not similar(a.colour, b.colour)),
        discs=tuple(sorted(radii.items())),
        heads=tuple(sorted({index[cell] for trace in (a, b) for cell in _headed(trace)})),
        confidence=min(a.confidence, b.confidence),
        ambiguous=(*a.ambiguous, *(note for note in b.ambiguous if note not in a.ambiguous)),
    )
    return Line(trace, (*one.inks, *other.inks), max(one.pieces, other.pieces), (*one.heads, *other.heads))
