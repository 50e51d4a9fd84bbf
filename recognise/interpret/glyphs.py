"""Characters to givens and outside clues: where each stands says what it is."""

from __future__ import annotations

import math
import statistics
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from string import ascii_uppercase

from ingest.page import Point
from recognise.draft import Alternative, Given, Item, box_polygon
from recognise.evidence import Disc, Glyph, Guess, Shape
from recognise.geometry import disc_polygon, extent, middle
from recognise.interpret.hints import RINGED, UNRINGED
from recognise.interpret.mark import Left, Mark, joined, sureness
from recognise.interpret.places import Size, cell_at
from recognise.pixels.glyphs import LOOK_ALIKE, LOW_FIGURES
from recognise.rules import MarkHint
from schema.cells import Cell
from schema.grid import Grid, Side
from schema.marks import Seen

SMALL = 0.62
"""A character less than this part of the givens' usual height is no given: cage totals and the like are set at half
the size or less, while capitals and figures of one fount differ by a tenth."""

LEAST_GIVEN = 0.22
"""In cells: print never sets a given smaller than this, or it could not be told from a total."""

LEAST_LOW, EXACT = 0.15, 0.08
"""In cells: old-style 0, 1 and 2 of small givens are lower than that, but print sets them in the very middle, which
pixels tell as well as paths where several agree."""

OLD_STYLE = 0.42
"""Of the usual height: old-style figures without ascender (0, 1 and 2) are this small, and stand in the middle."""

HANGING, TALL, HANGS = ("3", "4", "5", "7", "9"), ("6", "8"), 0.05
"""Old-style figures that reach below their line, and those that rise above the low ones: where the former all stand
lower in their cells than the latter, by so much of a cell, the fount is one of such."""

AGREED = 3
"""So many of them, low and in the very middle of their cells, show a fount of such figures if no other is there."""

MIDDLE = 0.24
"""In cells: how far a given may stand from the middle of its cell; totals and candidates stand in corners."""

LARGEST_RING = 0.6
"""In cells: the radius of the largest ring round a clue; a larger one would reach the next clue's."""

OFF_CENTRE = 0.5
"""In radii: how far from a ring's middle its number may stand."""

FARTHER = 1.2
"""In cells: by no more than this do the distances differ at which clues stand on the sides of one grid: a row of little
arrows or a second ring is nearer."""

INTO = {"top": "down", "bottom": "up", "left": "right", "right": "left"}
"""Which way an arrow on a side of the grid points into it."""

IN_LINE = 0.2
"""In cells: how far a little arrow and its number may lie off the middle of their row or column."""

SHORTEST_NAMES = 3
"""So many numbers in order might be clues."""

FOREIGN = 0.5
"""A character that is so likely a digit which the grid does not have is not taken for one that it has."""

WORTH_NAMING = 1e-4
"""Alternatives less likely than this are left out of the reading."""


@dataclass(frozen=True, slots=True)
class Sorted:
    """The glyphs of a grid by where they stand: one list of glyphs for each cell, outside clues, the rest, and those
    that stand too far off for clues."""

    in_cells: dict[Cell, tuple[Glyph, ...]]
    outside: tuple[tuple[Seen, Glyph], ...]
    rest: tuple[Glyph, ...]
    far: tuple[Glyph, ...] = ()


def sort_glyphs(glyphs: Sequence[Glyph], size: Size) -> Sorted:
    """Tell givens, outside clues and other characters apart by place and size."""
    inside = [g for g in glyphs if cell_at(g.centre, size) is not None]
    usual = statistics.median(g.size for g in inside) if inside else 0.0
    # Many small totals may outnumber a few givens: the larger half decides what is usual.
    large = [g.size for g in inside if g.size >= usual]
    least = max(LEAST_GIVEN, SMALL * statistics.median(large)) if large else LEAST_GIVEN
    low_fount = _are_old_style(inside, size, least)
    in_cells: dict[Cell, tuple[Glyph, ...]] = {}
    rest: list[Glyph] = []
    for glyph in inside:
        cell = cell_at(glyph.centre, size)
        if cell is not None and (glyph.size >= least or _small_given(glyph, cell, least, low_fount)):
            in_cells[cell] = (*in_cells.get(cell, ()), glyph)
        else:
            rest.append(glyph)
    outside = []
    for glyph in glyphs:
        if cell_at(glyph.centre, size) is None:
            seen = _beside(glyph, size)
            if seen is None:
                rest.append(glyph)
            else:
                outside.append((seen, glyph))
    near = without_far(outside, size)
    far = tuple(glyph for _, glyph in outside if not any(glyph is one for _, one in near))
    return Sorted(in_cells, without_names(_with_rings(near, size), size), tuple(rest), far)


def without_far(clues: Sequence[tuple[Seen, Glyph]], size: Size) -> Sequence[tuple[Seen, Glyph]]:
    """The clues of a picture without the sides on which even the nearest stands much farther off than on another: print
    sets clues at one distance, and what stands beside a grid has numbers too, such as the axis of a chart."""
    away: dict[Side | None, float] = {}
    for seen, glyph in clues:
        beyond = _beyond(glyph.centre, seen.side, size)
        away[seen.side] = min(beyond, away.get(seen.side, beyond))
    usual = min(away.values(), default=0.0)
    return [(seen, g) for seen, g in clues if g.how == "vector" or away[seen.side] <= usual + FARTHER]


def _are_old_style(glyphs: Sequence[Glyph], size: Size, least: float) -> bool:
    """Whether the figures in cells show that the fount has low ones: several 0, 1 and 2, or where others stand."""
    if _hang([g for g in glyphs if g.size >= least], size):
        return True
    low = [g for g in glyphs if _is_low(g.text)]
    exact = (cell is not None and _off_middle(g, cell) <= EXACT for g in low for cell in [cell_at(g.centre, size)])
    return len(low) >= AGREED and all(exact) and all(g.size < least for g in low)


def _is_low(text: str) -> bool:
    """Whether a number has none but figures that are low in old-style founts, as 10, 11 and 12 have."""
    return bool(text) and set(text) <= set(LOW_FIGURES)


def _hang(glyphs: Sequence[Glyph], size: Size) -> bool:
    """Whether some figures reach below the line of the others, as in old-style founts."""

    def heights(texts: Sequence[str]) -> list[float]:
        return [g.centre[1] - cell.centre[1] for g in glyphs if g.text in texts and (cell := cell_at(g.centre, size))]

    hanging, tall = heights(HANGING), heights(TALL)
    return bool(hanging and tall) and len(hanging) + len(tall) >= AGREED and min(hanging) - max(tall) >= HANGS


def _off_middle(glyph: Glyph, cell: Cell) -> float:
    return max(abs(glyph.centre[0] - cell.centre[0]), abs(glyph.centre[1] - cell.centre[1]))


def _small_given(glyph: Glyph, cell: Cell, least: float, low_fount: bool) -> bool:
    """`low_fount`: whether the page shows a fount of low figures; without, only a PDF tells places exactly enough to
    believe in one."""
    off = _off_middle(glyph, cell)
    if off <= EXACT and (glyph.how == "vector" or (low_fount and _is_low(glyph.text))):
        return glyph.size >= max(LEAST_LOW, least * OLD_STYLE / SMALL)
    return off <= MIDDLE and glyph.size >= max(LEAST_GIVEN, least * OLD_STYLE / SMALL)


def _beside(glyph: Glyph, size: Size) -> Seen | None:
    x, y = glyph.centre
    across, down = 0 <= x < size[1], 0 <= y < size[0]
    if across == down:
        return None
    side: Side = ("top" if y < 0 else "bottom") if across else ("left" if x < 0 else "right")
    return Seen("outside", text=glyph.text, side=side, index=int(x if across else y) + 1)


def _with_rings(clues: Sequence[tuple[Seen, Glyph]], size: Size) -> tuple[tuple[Seen, Glyph], ...]:
    """Number the clues that stand one behind the other, counted outwards from the grid."""
    ringed: list[tuple[Seen, Glyph]] = []
    for seen, glyph in clues:
        away = _beyond(glyph.centre, seen.side, size)
        nearer = sum(
            other.side == seen.side and other.index == seen.index and _beyond(o.centre, other.side, size) < away
            for other, o in clues
        )
        ringed.append((Seen("outside", text=seen.text, side=seen.side, index=seen.index, ring=nearer + 1), glyph))
    return tuple(ringed)


def without_names(clues: Sequence[tuple[Seen, Glyph]], size: Size) -> tuple[tuple[Seen, Glyph], ...]:
    """The clues without the numbers that name rows or columns: in one ring 1 to the last in order, one at each. No
    clues are such, and where they were, the rules would speak of marks that are not found."""
    rings: dict[tuple[Side | None, int | None], list[tuple[Seen, Glyph]]] = {}
    for clue in clues:
        rings.setdefault((clue[0].side, clue[0].ring), []).append(clue)
    return tuple(clue for ring in rings.values() if not _are_names(ring, size) for clue in ring)


def names_beside(glyphs: Sequence[Glyph], size: Size) -> list[Glyph]:
    """The characters beside a grid that name its rows or columns."""
    beside = [(seen, g) for g in glyphs if cell_at(g.centre, size) is None and (seen := _beside(g, size)) is not None]
    clues = [glyph for _, glyph in without_names(_with_rings(beside, size), size)]
    return [glyph for _, glyph in beside if not any(glyph is clue for clue in clues)]


def _are_names(ring: Sequence[tuple[Seen, Glyph]], size: Size) -> bool:
    length = size[1] if ring[0][0].side in ("top", "bottom") else size[0]
    if _are_letters(ring, length):
        return True
    texts = [glyph.text for _, glyph in sorted(ring, key=lambda clue: clue[0].index or 0)]
    names = [str(number) for number in range(1, length + 1)]
    return len(names) > SHORTEST_NAMES and texts in (names, names[::-1])


def _are_letters(ring: Sequence[tuple[Seen, Glyph]], length: int) -> bool:
    """Whether most rows or columns have a letter, in the order of the alphabet; a picture's reader takes some of them
    for figures."""
    hits = 0
    for seen, glyph in ring:
        letter = ascii_uppercase[(seen.index or 1) - 1]
        if glyph.text not in (letter, LOOK_ALIKE.get(letter), ""):
            return False
        hits += glyph.text == letter
    return hits >= SHORTEST_NAMES and 2 * len(ring) > length


def clue_marks(clues: Sequence[tuple[Seen, Glyph]], left: Left, hints: Sequence[MarkHint]) -> list[Mark]:
    """Numbers beside the grid as marks; a ring round one is how it looks, and is taken with it. Where only some are
    ringed and no sentence (`hints`) says what that means, a person has to look. A frame round every one is how the
    page sets such numbers, and means nothing."""
    frames = _frames(clues, left)
    rings = [_ring(glyph, left) for _, glyph in clues]
    told = any(hint.style in (RINGED, UNRINGED) for hint in hints) or all(rings)
    unsaid = () if told else ("a ring round it, and the rules do not say why",)
    marks = [_clue(seen, glyph, ring, unsaid) for (seen, glyph), ring in zip(clues, rings, strict=True)]
    marks = [_framed(mark, frame) for mark, frame in zip(marks, frames, strict=True)] if frames else marks
    return [_pointed(mark, glyph, left) for mark, (_, glyph) in zip(marks, clues, strict=True)]


def _frames(clues: Sequence[tuple[Seen, Glyph]], left: Left) -> list[Shape]:
    """The shapes round the numbers, one for each of them and alike, taken from what is left; none where not all have
    one."""
    found: list[Shape] = []
    for _, glyph in clues:
        around = [shape for shape in left.shapes if _is_round(shape, glyph)]
        if len(around) != 1 or around[0].name != (found or around)[0].name:
            return []
        found += around
    left.take_shapes(lambda shape: any(shape is one for one in found))
    return found


def _pointed(mark: Mark, glyph: Glyph, left: Left) -> Mark:
    """A clue with the little arrow that points from it along its row or column into the grid, taken from what is left:
    it says no more than where the clue stands."""
    side, along = mark.seen.side, (mark.seen.index or 0) - 0.5
    across = 0 if side in ("top", "bottom") else 1
    for shape in left.shapes:
        at, depth = middle(shape.box), _beyond(middle(shape.box), side, left.size)
        between = 0 <= depth < _beyond(glyph.centre, side, left.size)
        in_line = max(abs(at[across] - along), abs(at[across] - glyph.centre[across])) <= IN_LINE
        if shape.name == "arrow" and shape.direction == INTO.get(side or "") and between and in_line:
            left.take_shapes(lambda one: one is shape)  # noqa: B023 - called at once
            return _framed(mark, shape)
    return mark


def _beyond(point: Point, side: Side | None, size: Size) -> float:
    """How far beyond its side of the grid a point lies."""
    (x, y), (rows, columns) = point, size
    return {"top": -y, "left": -x, "bottom": y - rows, "right": x - columns}[side or "top"]


def _is_round(shape: Shape, glyph: Glyph) -> bool:
    x0, y0, x1, y1 = shape.box
    about = math.dist(middle(shape.box), glyph.centre) <= OFF_CENTRE * LARGEST_RING
    inside = x0 < glyph.box[0] and glyph.box[2] < x1 and y0 < glyph.box[1] and glyph.box[3] < y1
    return about and inside and extent(shape.box) <= 2 * LARGEST_RING


def _framed(mark: Mark, frame: Shape) -> Mark:
    return replace(mark, claims=(*(mark.claims or (mark.where,)), box_polygon(frame.box)))


def _ring(glyph: Glyph, left: Left) -> Disc | None:
    """The circle round a number beside the grid, taken from what is left."""
    around = left.take_discs(
        lambda d: d.radius <= LARGEST_RING and math.dist(d.centre, glyph.centre) <= OFF_CENTRE * d.radius
    )
    left.discs += around[1:]
    return around[0] if around else None


def _clue(seen: Seen, glyph: Glyph, ring: Disc | None, unsaid: tuple[str, ...]) -> Mark:
    text, likely, others = joined([glyph])
    place = f"{seen.side} of {'column' if seen.side in ('top', 'bottom') else 'row'} {seen.index}"
    where = box_polygon(glyph.box)
    seen, name = replace(seen, shape="number"), f"“{text}” at the {place}"
    if ring is None:
        return Mark(seen, name, where, likely, glyph.how, texts=others)
    circle = disc_polygon(ring.centre, ring.radius)
    sure = likely * ring.confidence
    return Mark(
        replace(seen, shape=RINGED), name, circle, sure, glyph.how, (where, circle), texts=others, unsaid=unsaid
    )


def read_given(cell: Cell, glyph: Glyph, grid: Grid) -> Item | None:
    """A glyph in a cell as a given; None when nothing that it may be is a digit of the grid."""
    digits = {grid.label(d): d for d in grid.digits}
    glyph = _without_foreign(glyph, digits)
    readings = [(digits[g.text], g.probability) for g in glyph.guesses if g.text in digits]
    if not readings:
        return None
    (digit, raw), *others = readings
    probability = sureness(replace(glyph, guesses=(Guess(glyph.text, raw),)))
    alternatives = tuple(Alternative(Given(cell, d), p) for d, p in others if p > WORTH_NAMING)
    nothing = sum(g.probability for g in glyph.guesses if not g.text)
    if nothing > WORTH_NAMING:
        alternatives += (Alternative((), nothing),)
    how = glyph.how
    return Item(Given(cell, digit), box_polygon(glyph.box), probability, how, alternatives)


def _without_foreign(glyph: Glyph, digits: Collection[str]) -> Glyph:
    """A glyph without the digits that the grid does not have, their probability shared among the others: a blurred 8
    may be a 0 by its looks, and in a grid of 1 to 9 it is none. One that most likely is foreign stays as it is."""
    foreign = sum(g.probability for g in glyph.guesses if g.text.isdecimal() and g.text not in digits)
    if not 0 < foreign < FOREIGN:
        return glyph
    kept = [g for g in glyph.guesses if not g.text.isdecimal() or g.text in digits]
    # A text layer and a picture that say different things have more than 1 together.
    return replace(glyph, guesses=tuple(Guess(g.text, min(1.0, g.probability / (1 - foreign))) for g in kept))
