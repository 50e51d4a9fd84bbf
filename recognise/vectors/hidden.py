"""Discs, and marks that lie under others: the file has them, and print does not show them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Colour, Point
from recognise.evidence import Disc, Trace
from recognise.geometry import middle
from recognise.pixels.tracing import painted
from recognise.vectors.broken import DOT
from recognise.vectors.heads import Head, head_at
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.marks import covered, disc, merge_discs, on_paper
from recognise.vectors.strokes import draws_head
from schema.cells import Cell

AT_END = 0.4
"""In cells: how far from the middle of the last cell of a line the middle of its head lies at most."""
CAP = 0.1
"""As a part of a stroke's width, or of a disc's radius: how exactly a disc is the round end of a stroke."""


def take_discs(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> tuple[list[Disc], list[Disc], list[tuple[int, Ink]]]:
    """The discs, those under others at which a person must look, and the other inks. A disc that another hides is one
    of them where it is a mark like others that are seen."""
    told = [(index, ink, disc(ink)) for index, ink in inks]
    filled = [(ink.order, found) for _, ink, found in told if found is not None and found.fill is not None]
    paper = [(ink.order, found) for ink in canvas.paper if (found := disc(ink)) is not None]
    under = [(order, each) for order, each in paper if covered(each, order, filled)]
    paper = [each for each in paper if each not in under]
    buried = [each for order, each in filled if covered(each, order, paper)]
    drawn = [ink for _, ink in inks]
    buried = [each for each in buried if not is_cap(each, drawn)]
    discs, left = [], []
    for index, ink, found in told:
        if found is None:
            left.append((index, ink))
        else:
            discs.append(on_paper(found, ink.order, paper, canvas.ground))
    merged = merge_discs(discs)
    lines = [*((ink, found) for _, ink, found in told), *((ink, disc(ink)) for ink in canvas.buried)]
    rings = [(ink.order, found) for ink, found in lines if found is not None and found.fill is None]
    whole = [(each, _with_rim(each, order, filled, rings)) for order, each in under]
    marks = [(each, full) for each, full in whole if full is not None and _is_mark(full, merged)]
    plain = [each for each, _ in marks] if _most_are_bare([each for _, each in under], merged) else []
    lost = [each for order, each in under if not _is_base(each, order, filled, merged) and each not in plain]
    others = [each for each in (*buried, *_buried_discs(canvas, drawn)) if _is_mark(each, merged)]
    return [*merged, *(full for _, full in marks), *others], [*lost, *buried], left


def _is_mark(hidden: Disc, seen: Sequence[Disc]) -> bool:
    return any(_looks_like(hidden, each) for each in seen)


def _most_are_bare(under: Sequence[Disc], seen: Sequence[Disc]) -> bool:
    """Whether most discs that look like those which lie upon others lie upon none: what these hide is then no ground
    on which such discs are painted, and a mark of its own. Where it is one like others that are seen there is nothing
    to ask: with it the puzzle has one solution or is asked about."""
    above = [each for each in seen if any(_in_place(hidden, each) for hidden in under)]
    alike = [each for each in seen if _is_mark(each, above)]
    return 2 * len(above) < len(alike)


def _is_base(found: Disc, order: int, filled: Sequence[tuple[int, Disc]], seen: Sequence[Disc]) -> bool:
    """Whether a bare disc is the ground on which a bulb was painted: as large as it, in its place, and no mark that is
    seen elsewhere looks so."""
    on_it = any(place > order and _in_place(found, above) for place, above in filled)
    return on_it and not any(_looks_like(found, replace(mark, outline=None)) for mark in seen)


def _buried_discs(canvas: Canvas, drawn: Sequence[Ink]) -> list[Disc]:
    """The discs of which nothing is seen; not the dots of a dotted line, nor the ends of a stroke."""
    found = merge_discs([each for ink in canvas.buried if (each := disc(ink)) is not None and each.radius > DOT])
    return [each for each in found if not is_cap(each, drawn)]


def _with_rim(
    found: Disc, order: int, filled: Sequence[tuple[int, Disc]], rings: Sequence[tuple[int, Disc]]
) -> Disc | None:
    """A disc with the ring that was drawn round it before another was painted over it; None where none was."""
    until = min(place for place, above in filled if covered(found, order, [(place, above)]))
    rim = next((ring for place, ring in rings if order <= place < until and _in_place(found, ring)), None)
    return None if rim is None else replace(found, outline=rim.outline)


def _in_place(one: Disc, other: Disc) -> bool:
    """Whether two discs have one middle and one radius."""
    apart = max(math.dist(one.centre, other.centre), abs(one.radius - other.radius))
    return apart <= CAP * one.radius


def _looks_like(hidden: Disc, seen: Disc) -> bool:
    """Whether a disc that is hidden is the mark that another one is which is seen: as large, and with such a rim. White
    under a mark that only hides the lattice has no rim."""
    as_large = abs(hidden.radius - seen.radius) <= CAP * seen.radius
    return as_large and _alike(hidden.fill, seen.fill) and _alike(hidden.outline, seen.outline)


def _alike(one: Colour | None, other: Colour | None) -> bool:
    return one == other or (one is not None and other is not None and near(one, other))


def hidden_discs(hidden: Sequence[Disc], traces: Sequence[Trace]) -> list[str]:
    """What a person must look at about discs that lie under others; not about one in which a line ends as it does in
    one that is seen at its other end, nor about one of a line's own colour under just such a disc at its end."""
    ends = [
        (trace.nodes[node], radius)
        for trace in traces
        if len(trace.discs) == 2 and {trace.nodes[node] for node, _ in trace.discs} == set(trace.ends)
        for node, (_, radius) in zip((node for node, _ in trace.discs), reversed(trace.discs), strict=True)
    ]
    lost = [d for d in hidden if not any(_cell_of(d) == cell and abs(d.radius - r) <= CAP * r for cell, r in ends)]
    lost = [d for d in lost if not is_under_end(d, traces)]
    return [f"a circle at {_cell_of(each)} lies under another" for each in lost]


def is_under_end(hidden: Disc, traces: Sequence[Trace]) -> bool:
    """Whether a disc is the round end of a line, in its colour, on which print lays another disc as large."""
    own = (trace for trace in traces if _alike(hidden.fill, trace.colour))
    ends = (r for trace in own for node, r in trace.discs if trace.nodes[node] == _cell_of(hidden))
    return any(abs(hidden.radius - r) <= CAP * r for r in ends)


def hidden_marks(buried: Sequence[tuple[Ink, Disc | None]], explained: Sequence[Disc]) -> list[str]:
    """What a person must look at about marks that others hide: the file has them, and print does not show them. The
    discs `explained` are no marks of their own."""
    names = ((_cell_at(middle(ink.box)), "circle" if its else "mark") for ink, its in buried if its not in explained)
    return [f"a {name} at {cell} lies under another" for cell, name in names]


def hidden_heads(traces: Sequence[Trace], buried: Sequence[Ink], canvas: Canvas) -> tuple[tuple[Trace, ...], list[Ink]]:
    """The lines with the heads that a mark at their end hides, and the inks of these heads: where most lines drawn like
    one are arrows, it is an arrow, and print shows that as well."""
    looks = [((trace.colour, trace.width), bool(trace.heads)) for trace in traces]
    found, used = [], []
    for trace in traces:
        like = [headed for look, headed in looks if look == (trace.colour, trace.width)]
        ends = [] if trace.heads or 2 * sum(like) < len(like) else [trace.nodes.index(cell) for cell in trace.ends]
        own = [ink for ink in buried if near(ink.colour, trace.colour)]
        heads = {node: head for ink in own for node in ends if (head := _head_of(ink, trace, node, canvas))}
        found.append(replace(trace, heads=tuple(sorted(heads))) if heads else trace)
        used += [ink for ink in own if heads and draws_head(ink, list(heads.values()), canvas)]
    return tuple(found), used


def _head_of(ink: Ink, trace: Trace, node: int, canvas: Canvas) -> Head | None:
    """The head that an ink makes at one end of a line."""
    end = trace.nodes[node]
    if math.dist(middle(ink.box), end.centre) > AT_END:
        return None
    mask = painted([replace(trace, discs=())], canvas.raster, canvas.shape, 0.0)
    mask[ink.whole.window] |= ink.whole.mask
    return head_at(mask, canvas.raster, trace.nodes[trace.before(node)], end, trace.width / 2)


def is_rim(found: Disc, discs: Sequence[Disc]) -> bool:
    """Whether a ring is the rim of a disc."""
    its = [each for each in discs if each.fill is not None and each.outline is not None and _in_place(found, each)]
    return found.fill is None and any(_alike(found.outline, each.outline) for each in its)


def is_cap(found: Disc, inks: Sequence[Ink]) -> bool:
    """Whether a filled disc is the round end, or the round corner, of a stroke of its colour and width."""
    for ink in inks:
        if ink.role == "stroke" and near(ink.colour, found.fill or ink.colour) and _as_wide(ink, found):
            ends = np.concatenate(ink.outlines)
            if np.hypot(*(ends - found.centre).T).min() <= CAP * found.radius:
                return True
    return False


def _as_wide(ink: Ink, found: Disc) -> bool:
    return abs(ink.width - 2 * found.radius) <= CAP * ink.width


def _cell_of(disc: Disc) -> Cell:
    """The cell of a disc's middle; on a border, the cell before it."""
    return _cell_at(disc.centre)


def _cell_at(point: Point) -> Cell:
    x, y = (max(1, math.ceil(at - 0.05)) for at in point)
    return Cell(y, x)
