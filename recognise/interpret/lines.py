"""Traced lines to marks: what is a tube with its bulb, a plain line, a line with ringed ends."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from ingest.page import Box
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Glyph, Trace
from recognise.interpret.colours import SAME, apart
from recognise.interpret.hints import BEADED
from recognise.interpret.line_ends import DOT, claim, take_dots, take_ends, with_reservoirs
from recognise.interpret.mark import Left, Mark, joined
from recognise.interpret.places import cell_at
from recognise.support import claims as trace_claims
from schema.cells import Cell
from schema.marks import Family, Seen
from schema.words import with_article

SMALL = 0.4
"""In cells: a number at the start of a line is smaller than this."""
LEFT, UPPER = 0.4, 0.42
"""In cells: its middle stands left of this and above that; a small given that is set high stands in the middle of the
width of its cell."""
OVERHANG = 0.3
"""In cells: so far to the left of its cell it may begin, across the lattice line."""
LEAST_BEADS, ALIKE = 3, 0.15
"""So many cells at least has a line with a bead in each; and as a part of their radius, how much beads differ."""


HARD_TO_READ = "the number at its start was hard to read"


@dataclass(frozen=True, slots=True)
class Tree:
    """A trace as a tree: the neighbours of each node, by index."""

    nodes: tuple[Cell, ...]
    neighbours: tuple[tuple[int, ...], ...]

    @property
    def leaves(self) -> tuple[int, ...]:
        """Nodes at which the line ends."""
        return tuple(i for i, others in enumerate(self.neighbours) if len(others) == 1)

    def paths_from(self, root: int) -> Iterator[tuple[Cell, ...]]:
        """One path from `root` to each other leaf, in the order of the cells."""
        stack: list[tuple[int, tuple[int, ...]]] = [(root, (root,))]
        while stack:
            node, path = stack.pop()
            onward = sorted(
                (n for n in self.neighbours[node] if n not in path), key=lambda n: self.nodes[n], reverse=True
            )
            stack.extend((n, (*path, n)) for n in onward)
            if not onward and len(path) > 1:
                yield tuple(self.nodes[i] for i in path)


def as_tree(trace: Trace) -> Tree | None:
    """The trace as a tree, or None where its links form a loop or leave a node out."""
    neighbours: list[list[int]] = [[] for _ in trace.nodes]
    for a, b in trace.links:
        neighbours[a].append(b)
        neighbours[b].append(a)
    reached = {0} if trace.nodes else set()
    frontier = list(reached)
    while frontier:
        fresh = [n for n in neighbours[frontier.pop()] if n not in reached]
        reached.update(fresh)
        frontier.extend(fresh)
    whole = len(reached) == len(trace.nodes) and len(trace.links) == len(trace.nodes) - 1
    return Tree(trace.nodes, tuple(map(tuple, neighbours))) if whole else None


def line_seen(trace: Trace, beaded: bool = False) -> Seen | None:
    """What kind of line a trace is, arrows aside; None when it is no simple line or tree (a loop, a lone disc). Of a
    `beaded` one the discs say nothing."""
    tree = as_tree(trace)
    if tree is None or len(trace.nodes) < 2 or trace.heads:
        return None
    discs = () if beaded else tuple(node for node, _ in trace.discs)
    if len(discs) == 1:
        return Seen("tube", paths=tuple(tree.paths_from(discs[0])), shape=line_shape(trace))
    if len(tree.leaves) != 2:
        return None
    start, end = sorted(tree.leaves, key=lambda i: tree.nodes[i])
    if discs and set(discs) != {start, end}:
        return None
    family: Family = "ringed-line" if discs else "line"
    return Seen(family, paths=(next(tree.paths_from(start)),), shape=BEADED if beaded else line_shape(trace))


def line_marks(left: Left) -> Iterator[Mark]:
    """A mark for each line without an arrow head, with the frames or circles in which it ends. What is no line or tree
    stays, and nobody takes it."""
    traces, left.traces = with_reservoirs(left.traces, left), []
    strings = [trace for trace in traces if len(trace.nodes) >= LEAST_BEADS and _has_beads(trace)]
    framed, dotted = take_ends(traces, left), take_dots(traces, left)
    ringed = {*framed, *(dotted if _are_some(dotted, traces) else ())}
    for at, trace in enumerate(traces):
        # Two beads alone could be the rings of ends, but for longer strings that look the same.
        beaded = _has_beads(trace) and any(other is trace or _like(trace, other) for other in strings)
        seen = line_seen(trace, beaded)
        if seen is None:
            left.traces.append(trace)
            continue
        if at in ringed:
            seen = replace(seen, family="ringed-line")
        glyphs = list(left.tags[trace].number) if trace in left.tags else _number(seen, left)
        asks = () if glyphs else (HARD_TO_READ,)
        glyphs = glyphs or _number(seen, left, unsure=True)
        _, likely, others = joined(glyphs)
        # That a frame was taken for a circle as well says nothing against the line.
        sure = trace.extent if at in framed and trace.discs and trace.extent is not None else trace.confidence
        seen, boxes = _with_number(seen, trace, glyphs, left)
        boxes += [dot.box for dot in dotted.get(at, ())]
        yield Mark(
            seen,
            f"{with_article(NAMES[seen.family])} from {seen.paths[0][0]} to {seen.paths[0][-1]}",
            trace_polygon(trace),
            sure * likely,
            trace.how,
            (*trace_claims(trace), *map(claim, framed.get(at, ())), *map(box_polygon, boxes)),
            paint=trace.colour,
            texts=others,
            asks=(*trace.ambiguous, *(asks if glyphs else ()), *_loops(seen, trace)),
            width=trace.width,
            extent=trace.extent,
            slips=trace.slips,
        )


def _with_number(seen: Seen, trace: Trace, glyphs: list[Glyph], left: Left) -> tuple[Seen, list[Box]]:
    """A line with its number, from the end that has it, and the boxes of what stands there: the number, its tag, the
    dot at the start."""
    if not glyphs:
        return seen, []
    seen, boxes = replace(seen, text=joined(glyphs)[0]), [glyph.box for glyph in glyphs]
    if trace in left.tags:
        tag = left.tags[trace]
        return _from(tag.end, seen), [*boxes, tag.frame.box]
    seen = _from_its_number(seen, glyphs[0], left)
    return seen, [*boxes, *(disc.box for disc in _start(seen, trace, left))]


def _are_some(dotted: Collection[int], traces: Sequence[Trace]) -> bool:
    """Whether other lines have no dots at their ends: those at the ends of all say nothing of one."""
    return any(len(trace.ends) == 2 and not trace.discs for at, trace in enumerate(traces) if at not in dotted)


def _loops(seen: Seen, trace: Trace) -> tuple[str, ...]:
    """A question about a line of a picture that crosses itself between four cells: setters seldom draw one so, and two
    lines that end in one cell look the same."""
    if trace.how == "vector" or seen.family == "tube":
        return ()
    steps = [pair for path in seen.paths for pair in pairwise(path)]
    crosses = any(_cross(one, other) for one, other in combinations(steps, 2))
    return ("it crosses itself: is it one line, or two that meet in a cell?",) if crosses else ()


def _cross(one: tuple[Cell, Cell], other: tuple[Cell, Cell]) -> bool:
    """Whether two steps are the two diagonals of one square of cells."""
    slanting = all(a.row != b.row and a.column != b.column for a, b in (one, other))
    return slanting and _corner(one) == _corner(other) and {*one} != {*other}


def _corner(step: tuple[Cell, Cell]) -> tuple[int, int]:
    """The least row and column of a step."""
    return min(cell.row for cell in step), min(cell.column for cell in step)


def _has_beads(trace: Trace) -> bool:
    """Whether a disc of one size sits in each cell of a line."""
    radii = [radius for _, radius in trace.discs]
    return len(radii) == len(trace.nodes) and max(radii, default=0) <= (1 + ALIKE) * min(radii, default=0)


def _like(trace: Trace, other: Trace) -> bool:
    """Whether a line has the beads and the colour of another."""
    one, its = trace.discs[0][1], other.discs[0][1]
    return trace.colour == other.colour and max(one, its) <= (1 + ALIKE) * min(one, its)


def _number(seen: Seen, left: Left, *, unsure: bool = False) -> list[Glyph]:
    """The small number in one of the two end cells of a plain line, taken; none where both have one. An `unsure` one
    is rather taken for nothing, and may be a number."""
    if seen.family != "line":
        return []
    ends = {seen.paths[0][0], seen.paths[0][-1]}
    wanted = _unread if unsure else _is_number
    cells = {cell for glyph in left.glyphs if wanted(glyph) and (cell := _numbered(glyph, left)) in ends}
    if len(cells) != 1:
        return []
    return left.take_glyphs(lambda glyph: wanted(glyph) and _numbered(glyph, left) in cells)


def _start(seen: Seen, trace: Trace, left: Left) -> list[Disc]:
    """The dot in the colour of a line where it starts, taken: with the number there it says no more."""
    x, y = seen.paths[0][0].centre

    def is_start(disc: Disc) -> bool:
        own = disc.fill is not None and apart(disc.fill, trace.colour) <= SAME and disc.radius <= DOT
        return own and math.dist(disc.centre, (x, y)) <= DOT

    return left.take_discs(is_start)


def _is_number(glyph: Glyph) -> bool:
    return glyph.text.isdecimal()


def _unread(glyph: Glyph) -> bool:
    """Whether nobody could read a character, and the likeliest that it may be is a figure."""
    return not glyph.text and len(glyph.guesses) > 1 and glyph.guesses[1].text.isdecimal()


def _numbered(glyph: Glyph, left: Left) -> Cell | None:
    """The cell in whose upper left a number stands that is too small for a given, beside a line that starts there; what
    the text of a PDF says may stand in its upper right as well."""
    x0, _, x1, _ = glyph.box
    cell = cell_at((x1, glyph.centre[1]), left.size)
    if cell is None or glyph.size > SMALL:
        return None
    (x, y), start = glyph.centre, x0 - (cell.column - 1)
    aside = min(x - (cell.column - 1), cell.column - x) if glyph.how == "vector" else x - (cell.column - 1)
    is_corner = aside <= LEFT and y - (cell.row - 1) <= UPPER
    return cell if start >= -OVERHANG and is_corner else None


def _from_its_number(seen: Seen, glyph: Glyph, left: Left) -> Seen:
    """The line from the end that has the number."""
    return _from(_numbered(glyph, left), seen)


def _from(end: Cell | None, seen: Seen) -> Seen:
    """A line from one of its ends; as it is where none is known."""
    path = seen.paths[0]
    return seen if end in (None, path[0]) else replace(seen, paths=(path[::-1],))


NAMES = {"tube": "line with a bulb", "line": "line", "ringed-line": "line with ringed ends"}


def line_shape(trace: Trace) -> str:
    """How a line is drawn, in a word; empty where that is nothing special."""
    return "outline" if trace.outlined else "dashed" if trace.dashed else ""


def trace_polygon(trace: Trace) -> Polygon:
    """A polygon around a trace: its own outline where the reader gave one, else a box around its cells."""
    if len(trace.where) >= 3:
        return trace.where
    xs = [cell.centre[0] for cell in trace.nodes]
    ys = [cell.centre[1] for cell in trace.nodes]
    half = max(trace.width / 2, 0.1)
    x0, x1, y0, y1 = min(xs) - half, max(xs) + half, min(ys) - half, max(ys) + half
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)
