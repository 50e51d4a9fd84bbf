"""Numbers beside the grid: told from titles, rules and other text by how they stand to the lattice.

Outside clues stand in rings around the grid, each under or beside the middle of its column or row, and nothing else
stands in the ring. Text takes no notice of the columns. So a ring is taken as a whole or not at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from ingest.page import Box
from recognise.geometry import box_of_all
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from schema.grid import Side

OFF_CENTRE = 0.2
"""In cells: how far the middle of a clue may lie from the middle of its row or column."""
OVER = 0.06
"""In cells: how far a clue may reach over into the next column."""
WIDEST = 1.3
"""In cells: no ring at the left or right is wider; text is."""
FARTHEST = 2.9
"""In cells: two rings and a gap; what is farther off belongs to the page."""
LONE = 1.7
"""In cells: a ring must begin nearer than this or stand behind another, or it may be any numbers of the page: the days
of a calendar stand in step with the columns by chance."""
LONE_SIZE = 0.24
"""In cells: such a number is at least this tall."""
ENOUGH, ODD_SIZE = 3, 0.15
"""So many numbers in rings of several tell how tall numbers are on this page; the part of that by which one is odd."""
SMALLEST = 0.16
"""In cells: no clue is lower, or it could not be read beside its grid; old-style figures of it may be."""
SHARED = 0.5
"""Pieces on one line of print share this part of the smaller height."""
MOST_CHARACTERS = 3
"""No clue has more."""
STRAY = 0.2
"""A ring stays one while no more than this part of what stands in it is out of line."""
HEAD, ALIKE = 0.6, 0.06
"""As a part of the height of its number, what is lower and stands between it and the grid is a little arrow head; in
cells, how far from one line such heads stand."""
LOOSE, STEP = 0.6, 0.9
"""Characters of one number stand closer than this part of their height, or their middles closer than that: figures of
one width leave much paper between two narrow ones."""


UNEVEN, OUT_OF_STEP = 0.2, 0.15
"""In cells: how far off even steps numbers of a table stand, some of whose figures reach below their line; and by how
much its steps differ from whole cells."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece of ink and its box in cells."""

    blob: Blob
    box: Box

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the box."""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2

    @property
    def height(self) -> float:
        """In cells."""
        return self.box[3] - self.box[1]


@dataclass(frozen=True, slots=True)
class Ring:
    """What stands in one ring on one side: `clues` are the pieces of each number in line, by row or column from 1;
    `strays` what is out of line."""

    side: Side
    clues: tuple[tuple[int, tuple[Placed, ...]], ...]
    strays: tuple[Placed, ...]


def find_rings(blobs: Iterable[Blob], raster: Raster) -> list[Ring]:
    """The rings of numbers around a grid, judged by place alone."""
    placed = [Placed(blob, blob.box(raster)) for blob in blobs]
    across = [p for p in placed if 0 <= p.middle[0] <= raster.columns]
    along = [p for p in placed if 0 <= p.middle[1] <= raster.rows]
    sides: tuple[tuple[Side, list[Placed]], ...] = (
        ("top", [p for p in across if p.box[3] <= 0]),
        ("bottom", [p for p in across if p.box[1] >= raster.rows]),
        ("left", [p for p in along if p.box[2] <= 0]),
        ("right", [p for p in along if p.box[0] >= raster.columns]),
    )
    bands = [
        (side, band)
        for side, members in sides
        for band in (_lines(members) if side in ("top", "bottom") else _stacks(members))
    ]
    rings = [ring for side, band in bands if (ring := _ring(side, band, raster)) is not None]
    usual = _usual_height(rings) or _height_of_lone(bands, raster)
    if usual is None:
        return rings
    return [ring for side, band in bands if (ring := _ring(side, band, raster, usual)) is not None]


def _usual_height(rings: Iterable[Ring]) -> float | None:
    """How tall the numbers beside a grid are, where enough of them stand in rings that can be nothing else."""
    heights = [
        max(piece.height for piece in members) for ring in rings if len(ring.clues) > 1 for _, members in ring.clues
    ]
    return float(np.median(heights)) if len(heights) >= ENOUGH else None


def _height_of_lone(bands: Iterable[tuple[Side, Sequence[Placed]]], raster: Raster) -> float | None:
    """The same where one number stands at each of several sides: as far from the grid and as tall as the others, which
    text on all sides would not be."""
    alone: dict[Side, tuple[float, float]] = {}
    for side, band in bands:
        tall, off = max(piece.height for piece in band), nearest(side, band, raster)
        ring = _ring(side, band, raster, tall) if 0 <= off <= LONE else None
        if ring is not None and len(ring.clues) == 1 and off < alone.get(side, (LONE, 0.0))[0]:
            alone[side] = off, tall
    if len(alone) < ENOUGH:
        return None
    offs, heights = zip(*alone.values(), strict=True)
    alike = max(offs) - min(offs) <= ALIKE and max(heights) <= (1 + ODD_SIZE) * min(heights)
    return float(np.median(heights)) if alike else None


def goes_on_as_text(ring: Ring, blobs: Iterable[Blob], raster: Raster) -> bool:
    """Whether the only number of a ring goes on past the corner of the grid, as a word does that is set upright or runs
    along a side. `blobs` are all pieces of ink beside the grid, also those that the edge of the picture cuts off."""
    if len(ring.clues) != 1:
        return False
    axis, length = (1, raster.rows) if ring.side in ("left", "right") else (0, raster.columns)
    number = [piece.box for _, members in ring.clues for piece in members]
    low, high = min(box[axis] for box in number), max(box[axis + 2] for box in number)
    near = LOOSE * max(max(box[2] - box[0], box[3] - box[1]) for box in number)
    for box in (blob.box(raster) for blob in blobs):
        past = (box[axis] + box[axis + 2]) / 2 > length and -near <= box[axis] - high <= near
        before = (box[axis] + box[axis + 2]) / 2 < 0 and -near <= low - box[axis + 2] <= near
        if (past or before) and any(_shares(box, one, 1 - axis) for one in number):
            return True
    return False


def is_of_a_table(ring: Ring, blobs: Iterable[Blob], raster: Raster) -> bool:
    """Whether the numbers of a ring stand in a column (or row) of others, as the days of a calendar do: in even steps
    that are not those of the grid, with two more such steps on past a corner of it."""
    axis, length = (1, raster.rows) if ring.side in ("left", "right") else (0, raster.columns)
    boxes = [box_of_all(piece.box for piece in members) for _, members in sorted(ring.clues, key=lambda clue: clue[0])]
    places = [(box[axis] + box[axis + 2]) / 2 for box in boxes]
    steps = np.diff(places)
    if not len(steps) or np.ptp(steps) > UNEVEN or abs(steps[0] - round(float(steps[0]))) < OUT_OF_STEP:
        return False
    others = [box for box in (blob.box(raster) for blob in blobs) if any(_shares(box, own, 1 - axis) for own in boxes)]
    middles = np.array([(box[axis] + box[axis + 2]) / 2 for box in others])
    step = float(steps.mean())
    for first, way in ((places[0], -step), (places[-1], step)):
        on = [first + way, first + 2 * way]
        if not 0 <= on[1] <= length and all(
            (np.abs(middles - at) <= far).any() for at, far in zip(on, (UNEVEN, 1.5 * UNEVEN), strict=True)
        ):
            return True
    return False


def not_in_line(side: Side) -> str:
    """What a person is told where something in a ring is out of line or no number."""
    return f"not everything {beside_words(side)} stands in line or is a number"


def beside_words(side: Side) -> str:
    """Where a side's numbers stand."""
    return {"top": "above the grid", "bottom": "below the grid"}.get(side, f"{side} of the grid")


def _lines(placed: Sequence[Placed]) -> list[list[Placed]]:
    """Pieces on one line of print each."""
    lines: list[list[Placed]] = []
    for piece in sorted(placed, key=lambda p: -p.height):
        line = next((members for members in lines if _level(members[0], piece)), None)
        if line is None:
            lines.append([piece])
        else:
            line.append(piece)
    return lines


def _level(one: Placed, other: Placed) -> bool:
    return _shares(one.box, other.box, 1)


def _shares(one: Box, other: Box, axis: int) -> bool:
    """Whether two boxes are level along an axis."""
    shared = min(one[axis + 2], other[axis + 2]) - max(one[axis], other[axis])
    return shared >= SHARED * min(one[axis + 2] - one[axis], other[axis + 2] - other[axis])


def _stacks(placed: Sequence[Placed]) -> list[list[Placed]]:
    """Pieces whose widths overlap, directly or through others: one stack each. Characters of one number count as one
    width, whatever stands in other rows between where they begin."""
    stacks: list[tuple[list[Placed], float]] = []  # each with where it ends on the right
    for piece in sorted(placed, key=lambda p: p.box[0]):
        joined, end, others = [], piece.box[2], []
        for stack, right in stacks:
            if piece.box[0] <= right or _continues(piece, stack):
                joined += stack
                end = max(end, right)
            else:
                others.append((stack, right))
        stacks = [*others, ([*joined, piece], end)]
    return [stack for stack, _ in stacks]


def _continues(piece: Placed, stack: Sequence[Placed]) -> bool:
    """Whether a piece to the right of a stack is of it."""
    return any(_level(other, piece) and _is_close(other, piece, piece.height) for other in stack)


def _is_close(one: Placed, other: Placed, tall: float) -> bool:
    """Whether two pieces on one line may be characters of one number, the other to the right of the one."""
    return other.box[0] - one.box[2] < LOOSE * tall or other.middle[0] - one.middle[0] < STEP * tall


def _ring(side: Side, band: Sequence[Placed], raster: Raster, usual: float | None = None) -> Ring | None:
    """The ring that a band of pieces is; None where it is text. `usual` is the height of the numbers on other sides."""
    upright = side in ("left", "right")
    band = _without_heads(side, band, raster) if upright else band
    if not nearest(side, band, raster) <= _farthest(side, band, raster) < FARTHEST:
        return None
    if upright and max(p.box[2] for p in band) - min(p.box[0] for p in band) > WIDEST:
        return None
    axis = 1 if upright else 0
    clues: list[tuple[int, tuple[Placed, ...]]] = []
    strays: list[Placed] = []
    ordered = sorted(band, key=lambda p: int(p.middle[axis]))
    for index, group in groupby(ordered, key=lambda p: int(p.middle[axis])):
        members = tuple(sorted(group, key=lambda p: p.box[0]))
        if _in_line(members, index, axis):
            clues.append((index + 1, members))
        else:
            strays.extend(members)
    if not clues or len(strays) > STRAY * (len(clues) + len(strays)):
        return None
    sizes = [max(piece.height for piece in members) for _, members in clues]
    if min(sizes) < SMALLEST or (len(clues) == 1 and not _may_stand_alone(side, band, raster, usual)):
        return None
    return Ring(side, tuple(clues), tuple(strays))


def _without_heads(side: Side, band: Sequence[Placed], raster: Raster) -> Sequence[Placed]:
    """The pieces left or right of a grid without little arrow heads, of which one stands before each number."""
    ordered = sorted(band, key=lambda p: int(p.middle[1]))
    by_row = [list(group) for _, group in groupby(ordered, key=lambda p: int(p.middle[1]))]
    heads = [min(row, key=lambda p: nearest(side, [p], raster)) for row in by_row]
    low = [head.height < HEAD * max(p.height for p in row) for head, row in zip(heads, by_row, strict=True)]
    off = [nearest(side, [head], raster) for head in heads]
    if not all(low) or max(off) - min(off) > ALIKE:
        return band
    return [piece for piece in band if not any(piece is head for head in heads)]


def _in_line(members: Sequence[Placed], index: int, axis: int) -> bool:
    """Whether the pieces in one row or column make one number in its middle."""
    if len(members) > MOST_CHARACTERS:
        return False
    if not all(_level(members[0], member) for member in members):
        return False
    tall = max(member.height for member in members)
    if not all(_is_close(one, other, tall) for one, other in pairwise(members)):
        return False
    low, high = min(m.box[axis] for m in members), max(m.box[axis + 2] for m in members)
    centred = abs((low + high) / 2 - (index + 0.5)) <= OFF_CENTRE
    return centred and low >= index - OVER and high <= index + 1 + OVER


def _may_stand_alone(side: Side, band: Sequence[Placed], raster: Raster, usual: float | None) -> bool:
    """Whether a single number may be a clue: near, and as tall as those on other sides, or not as small as a page
    number."""
    tall = max(piece.height for piece in band)
    alike = usual is not None and abs(tall - usual) <= ODD_SIZE * usual
    return nearest(side, band, raster) <= LONE and (tall >= LONE_SIZE or alike)


def has_low_pieces(ring: Ring) -> bool:
    """Whether a piece is lower than any clue: an old-style figure of a taller number, or no figure at all."""
    return any(piece.height < SMALLEST for _, members in ring.clues for piece in members)


def begins_far(ring: Ring, others: Iterable[Ring], raster: Raster) -> bool:
    """Whether a ring stands farther from the grid than clues begin, with no other before it."""
    near = min(nearest_of(other, raster) for other in (ring, *others) if other.side == ring.side)
    return near > LONE


def nearest_of(ring: Ring, raster: Raster) -> float:
    """How far from the grid the numbers of a ring begin, in cells."""
    return nearest(ring.side, [piece for _, members in ring.clues for piece in members], raster)


def nearest(side: Side, band: Sequence[Placed], raster: Raster) -> float:
    """How far from the grid a band begins, in cells."""
    return {
        "top": -max(p.box[3] for p in band),
        "bottom": min(p.box[1] for p in band) - raster.rows,
        "left": -max(p.box[2] for p in band),
        "right": min(p.box[0] for p in band) - raster.columns,
    }[side]


def _farthest(side: Side, band: Sequence[Placed], raster: Raster) -> float:
    """How far from the grid a band ends, in cells; what goes on to the edge of the picture is cut off there."""
    return {
        "top": -min(p.box[1] for p in band),
        "bottom": max(p.box[3] for p in band) - raster.rows,
        "left": -min(p.box[0] for p in band),
        "right": max(p.box[2] for p in band) - raster.columns,
    }[side]
