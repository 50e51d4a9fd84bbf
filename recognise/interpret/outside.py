"""What stands beside the grid, and the lines from corner to corner of it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
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
"""In cells: so near to the tail of its arrow is the middle of a number at the nearest; nearer, they would touch."""
ASKEW = 2.0
"""How much more than its distance it counts that a number is farther beside the tail of its arrow than behind it."""
STRAIGHT, EXACTLY = 0.1, 0.05
"""In cells: as if so much nearer is a number on the line of its arrow, and how exactly: ink is seldom in the very
middle of where a number was set."""
USUAL, AS_USUAL = 0.5, 0.1
"""In cells: as if so much nearer is a number that stands as others do to their arrows, and how exactly; another number
is some three times as far."""
CLEARLY = 0.4
"""In cells: by so much less, taken together, would the numbers of two arrows stand right if they were swapped. Two that
stand exactly in line with each other's arrows, at the tails of their own, are hard to tell."""
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
    apart = _apart(arrows, numbers)
    pairs = sorted((far, a, n) for (a, n), far in apart.items())
    partner: dict[int, int] = {}
    for _, a, n in pairs:
        if a not in partner and n not in partner.values():
            partner[a] = n
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


def _apart(arrows: Sequence[Shape], numbers: Sequence[Glyph]) -> dict[tuple[int, int], float]:
    """How far numbers are from where those of arrows should be, for each arrow (by its index) and number near it.

    A printer puts numbers where it usually does: where it is known from the arrows that have one number near them and
    that no other, what stands so is an arrow's own. Else a number belongs near the tail, rather behind than beside it.
    """
    places = {
        (a, n): _behind_tail(arrow, number)
        for a, arrow in enumerate(arrows)
        for n, number in enumerate(numbers)
        if math.dist(middle(arrow.box), number.centre) <= REACH
    }
    of_arrow, of_number = Counter(a for a, _ in places), Counter(n for _, n in places)
    usual = [place for (a, n), place in places.items() if of_arrow[a] == of_number[n] == 1]
    return {
        (a, n): _unlikely(place)
        + IN_LINE * _is_in_line(numbers[n])
        - USUAL * any(math.dist(place, one) <= AS_USUAL for one in usual)
        for (a, n), place in places.items()
    }


def _behind_tail(arrow: Shape, number: Glyph) -> Point:
    """Where a number is seen from the tail of an arrow; both coordinates grow against the way that it points."""
    (x, y), (right, down) = middle(arrow.box), WAYS[arrow.direction][1]
    tail = x - right * (arrow.box[2] - arrow.box[0]) / 2, y - down * (arrow.box[3] - arrow.box[1]) / 2
    return right * (tail[0] - number.centre[0]), down * (tail[1] - number.centre[1])


def _unlikely(place: Point) -> float:
    """How far a place seen from a tail is from a likely one.

    Of two clues in one place beside the grid the numbers stand beside each other, each at the tail of its arrow, or,
    where these cross, each behind the other's; a number as far beside a tail as behind it may well be its arrow's.
    """
    behind, beside = (place[0] + place[1]) / math.sqrt(2), abs(place[0] - place[1]) / math.sqrt(2)
    in_line = STRAIGHT * (beside <= EXACTLY)
    return abs(math.hypot(*place) - BEHIND) + ASKEW * max(0.0, beside - behind) - in_line


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
        extent=arrow.confidence,
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
