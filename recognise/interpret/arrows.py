"""Lines with arrow heads and the circles from which they come."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Shape, Trace
from recognise.geometry import disc_polygon, middle
from recognise.interpret.lines import Tree, as_tree, trace_polygon
from recognise.interpret.mark import Left, Mark
from recognise.interpret.places import cell_around, cell_at
from recognise.interpret.spoken import families_of
from recognise.rules import Statement
from recognise.support import claims as trace_claims
from schema.cells import Cell
from schema.marks import Seen

LEAST_RADIUS = 0.2
"""In cells: smaller discs hold no digit."""

NO_HEAD = "the end of it in {} looks like the head of an arrow, and the rules speak of none"


def tubes_with_crossbars(traces: Sequence[Trace], rules: Sequence[Statement]) -> list[Trace]:
    """The lines of a picture, those with heads as tubes whose ends are drawn so, where the rules speak of tubes and of
    no arrow, and no line looks like a tube but these: setters end the stems of bulbs in crossbars and the like."""
    stated = [rule for rule in rules if not rule.negated]
    families = {family for rule in stated for family in families_of(rule)}
    headed = [trace for trace in traces if trace.heads]
    bulbs = [trace for trace in traces if len(trace.discs) == 1]
    named = any("arrow" in rule.sentence.lower() for rule in stated)
    if "tube" not in families or "arrow" in families or named or not headed or bulbs != headed:
        return list(traces)
    return [_without_heads(trace) if trace.heads and trace.how == "shape" else trace for trace in traces]


def _without_heads(trace: Trace) -> Trace:
    asks = (NO_HEAD.format(trace.nodes[head]) for head in trace.heads)
    return replace(trace, heads=(), tips=(), ambiguous=(*trace.ambiguous, *asks))


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle or capsule in which the sum of an arrow stands."""

    cells: tuple[Cell, ...]
    outline: Polygon
    confidence: float
    source: Disc | Shape


def arrow_marks(left: Left) -> Iterator[Mark]:
    """A mark for each line with heads whose circle is found: a disc of its own, or a circle or capsule in which it
    begins, or else beside which it begins. Circles are taken once all arrows are through, for several may share one."""
    circles = [*_discs(left), *_capsules(left)]
    used: set[int] = set()
    traces, left.traces = left.traces, []
    for trace in traces:
        mark = _arrow(trace, circles, used) if trace.heads else None
        if mark is None:
            left.traces.append(trace)
        else:
            yield mark
    sources = [circles[index].source for index in used]
    left.take_discs(lambda disc: any(disc is source for source in sources))
    left.take_shapes(lambda shape: any(shape is source for source in sources))


def _discs(left: Left) -> Iterator[Circle]:
    for disc in left.discs:
        cell = cell_around(disc.centre, left.size)
        if cell is not None and disc.radius >= LEAST_RADIUS:
            yield Circle((cell,), disc_polygon(disc.centre, disc.radius), disc.confidence, disc)


def _capsules(left: Left) -> Iterator[Circle]:
    for shape in left.shapes:
        cells = capsule_cells(shape, left.size) if shape.name == "capsule" else ()
        if cells:
            yield Circle(cells, shape.where or box_polygon(shape.box), shape.confidence, shape)


def capsule_cells(shape: Shape, size: tuple[int, int]) -> tuple[Cell, ...]:
    """The two or three cells in line that a capsule encloses; none where it does not fit."""
    x0, y0, x1, y1 = shape.box
    x, y = middle(shape.box)
    if x1 - x0 > y1 - y0:
        points = [(column + 0.5, y) for column in range(round(x0), round(x1))]
    else:
        points = [(x, row + 0.5) for row in range(round(y0), round(y1))]
    cells = [cell for point in points if (cell := cell_at(point, size))]
    return tuple(cells) if len(cells) == len(points) and 2 <= len(cells) <= 3 else ()


def _arrow(trace: Trace, circles: Sequence[Circle], used: set[int]) -> Mark | None:
    tree = as_tree(trace)
    if tree is None or len(trace.nodes) < 2:
        return None
    start = _start(trace, tree, circles)
    if start is None:
        return None
    root, index = start
    circle = circles[index] if index is not None else None
    cells = circle.cells if circle else (tree.nodes[root],)
    heads = {tree.nodes[head] for head in trace.heads}
    paths = tuple(tree.paths_from(root))
    shafts = tuple(path for path in paths if path[-1] in heads and set(path) - set(cells))
    if not shafts:
        return None
    if index is not None:
        used.add(index)
    bare = [path for path in paths if path[-1] not in heads]
    return Mark(
        Seen("arrow", cells=cells, paths=shafts),
        f"an arrow from {cells[0]}",
        trace_polygon(trace),
        trace.confidence * (circle.confidence if circle else 1.0),
        trace.how,
        (*trace_claims(trace), *((circle.outline,) if circle else ())),
        paint=trace.colour,
        asks=(*trace.ambiguous, *(f"one end of it, in {path[-1]}, has no head" for path in bare)),
        width=trace.width,
        extent=trace.extent,
        slips=trace.slips,
    )


def _start(trace: Trace, tree: Tree, circles: Sequence[Circle]) -> tuple[int, int | None] | None:
    """The node from which the shafts run, and the circle there; the circle is None where the line has its own disc."""
    if len(trace.discs) > 1:
        return None
    ends = [leaf for leaf in tree.leaves if leaf not in trace.heads]
    own = [node for node, _ in trace.discs]
    # Where every end has a head, several shafts run from a place between them.
    for node in own or ends or range(len(tree.nodes)):
        for index, circle in enumerate(circles):
            if tree.nodes[node] in circle.cells and not (own and isinstance(circle.source, Disc)):
                return node, index
    if own:
        return own[0], None
    beside = [
        (node, index)
        for node in own or ends
        for index, circle in enumerate(circles)
        if any(tree.nodes[node].touches(cell) for cell in circle.cells)
    ]
    return beside[0] if len(beside) == 1 else None
