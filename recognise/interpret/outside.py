"""What stands beside the grid, and the lines from corner to corner of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from ingest.page import Point
from recognise.draft import box_polygon
from recognise.evidence import Glyph, Shape
from recognise.geometry import band, middle
from recognise.interpret.mark import Left, Mark, joined
from recognise.interpret.places import cell_at
from schema.cells import Cell
from schema.marks import Direction, Seen

WAYS: dict[str, tuple[Direction, tuple[int, int]]] = {
    "down-right": ("down-right", (1, 1)),
    "down-left": ("down-left", (-1, 1)),
    "up-right": ("up-right", (1, -1)),
    "up-left": ("up-left", (-1, -1)),
}
"""Directions as steps, x and y."""
SET = {"↘": "down-right", "↙": "down-left", "↗": "up-right", "↖": "up-left"}
"""Arrows that are characters of a fount."""
REACH = 1.1
"""In cells: how far from its number the middle of a little arrow stands at most."""
BEHIND = 0.2
"""In cells: about so far behind the tail of its arrow is the middle of a number."""
STRAIGHT = 2.0
"""How much more it counts that a number stands beside its arrow's line than how far along it."""
CLEARLY = 0.1
"""In cells: by so much less would the numbers of two arrows stand right if they were swapped."""
IN_LINE, MIDDLE = 0.25, 0.06
"""In cells: as if so much farther away is a number for an arrow that stands in the middle of a row or column, and how
exactly."""
SWAPPED = "another number stands as near to its arrow"
OFF = 0.3
"""In cells: how far beside its diagonal a little arrow may stand; half a cell is as near to the next."""
NEAR_GRID = 2.5
"""In cells: arrows farther from the grid belong to something else."""
THIN = 0.06
"""In cells: half the band that a line from corner to corner takes up."""


def diagonal_sums(left: Left) -> Iterator[Mark]:
    """Little arrows beside the grid, each with the number nearest to it. Arrows without a number stay."""
    arrows = left.take_shapes(lambda s: s.name == "arrow" and s.direction in WAYS and _is_outside(middle(s.box), left))
    arrows += map(_set, left.take_glyphs(lambda glyph: glyph.text in SET))
    numbers = [glyph for glyph in left.glyphs if _is_outside(glyph.centre, left)]
    pairs = sorted(
        (_apart(arrow, number) + IN_LINE * _is_in_line(number), a, n)
        for a, arrow in enumerate(arrows)
        for n, number in enumerate(numbers)
        if math.dist(middle(arrow.box), number.centre) <= REACH
    )
    partner: dict[int, int] = {}
    for _, a, n in pairs:
        if a not in partner and n not in partner.values():
            partner[a] = n
    apart = {(a, n): far for far, a, n in pairs}
    for a, arrow in enumerate(arrows):
        start = _start(arrow, left) if a in partner else None
        if start is None:
            left.shapes.append(arrow)
            continue
        number = numbers[partner[a]]
        left.take_glyphs(lambda glyph: glyph is number)  # noqa: B023 - called at once
        mark = _sum(arrow, number, *start)
        unclear = _may_be_swapped(a, partner, apart) or _may_be_another(a, partner, apart)
        yield replace(mark, asks=(*mark.asks, SWAPPED)) if unclear else mark


def _may_be_swapped(arrow: int, partner: dict[int, int], apart: dict[tuple[int, int], float]) -> bool:
    """Whether two arrows could as well have each other's numbers."""
    number = partner[arrow]
    for other, its in partner.items():
        if other != arrow and (arrow, its) in apart and (other, number) in apart:
            as_they_are = apart[arrow, number] + apart[other, its]
            if apart[arrow, its] + apart[other, number] < as_they_are + CLEARLY:
                return True
    return False


def _may_be_another(arrow: int, partner: dict[int, int], apart: dict[tuple[int, int], float]) -> bool:
    """Whether a number without an arrow stands nearly as well."""
    free = [far for (a, n), far in apart.items() if a == arrow and n not in partner.values()]
    return any(far < apart[arrow, partner[arrow]] + IN_LINE for far in free)


def _is_in_line(number: Glyph) -> bool:
    """Whether a number stands in the middle of its row or column, as clues without arrows do."""
    return any(abs(at % 1 - 0.5) <= MIDDLE for at in number.centre)


def _set(glyph: Glyph) -> Shape:
    """An arrow that is set as a character, as the shape that it looks like."""
    return Shape("arrow", glyph.box, glyph.colour, glyph.how, glyph.confidence, direction=SET[glyph.text])


def _apart(arrow: Shape, number: Glyph) -> float:
    """How far a number is from where that of an arrow should be: on the arrow's line, a bit behind its tail; two clues
    may stand side by side with their arrows crossing."""
    (x, y), (right, down) = middle(arrow.box), WAYS[arrow.direction][1]
    dx, dy = number.centre[0] - x, number.centre[1] - y
    half = math.hypot(arrow.box[2] - arrow.box[0], arrow.box[3] - arrow.box[1]) / 2
    behind = -(dx * right + dy * down) / math.sqrt(2)
    beside = abs(dx * down - dy * right) / math.sqrt(2)
    return abs(behind - half - BEHIND) + STRAIGHT * beside


def _sum(arrow: Shape, number: Glyph, start: Cell, off: float) -> Mark:
    text, likely, others = joined([number])
    boxes = (arrow.box, number.box)
    around = (
        min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes),
    )  # fmt: skip
    way = WAYS[arrow.direction][0]
    return Mark(
        Seen("outside-diagonal", cells=(start,), text=text, direction=way, shape="number"),
        f"“{text}” with an arrow into {start}",
        box_polygon(around),
        arrow.confidence * likely,
        number.how,
        tuple(map(box_polygon, boxes)),
        texts=others,
        asks=("its arrow stands between two diagonals",) if off > OFF else (),
    )


def _is_outside(point: Point, left: Left) -> bool:
    x, y = point
    rows, columns = left.size
    beside = max(-x, x - columns, -y, y - rows)
    return 0 <= beside <= NEAR_GRID


def _start(arrow: Shape, left: Left) -> tuple[Cell, float] | None:
    """The first cell of the diagonal on which an arrow points into the grid, and how far off that diagonal it is."""
    right, down = WAYS[arrow.direction][1]
    x, y = middle(arrow.box)
    rows, columns = left.size
    # How far to go until both coordinates are within the grid.
    to_x = max(-x if right > 0 else x - columns, 0.0)
    to_y = max(-y if down > 0 else y - rows, 0.0)
    steps = max(to_x, to_y)
    entry = (x + right * steps, y + down * steps)
    # A diagonal through cells runs through lattice points, so it enters the grid at one.
    corner = (round(entry[0]), round(entry[1]))
    start = cell_at((corner[0] + right / 2, corner[1] + down / 2), left.size)
    return None if start is None else (start, math.dist(entry, corner))


def long_diagonals(left: Left) -> Iterator[Mark]:
    """Lines from corner to corner of the grid."""
    rows, columns = left.size
    for shape in left.take_shapes(lambda s: s.name == "diagonal" and s.direction in ("down", "up")):
        falls = shape.direction == "down"
        ends = ((0.0, 0.0), (float(columns), float(rows))) if falls else ((0.0, float(rows)), (float(columns), 0.0))
        strip = band(*ends, THIN)
        yield Mark(
            Seen("diagonal", direction="down" if falls else "up", shape="line"),
            "a line from corner to corner",
            strip,
            shape.confidence,
            shape.how,
            (strip,),
            paint=shape.colour,
        )
