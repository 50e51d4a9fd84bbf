"""What stands beside the grid as its numbers do, and was not read as such: whether it is asked about, and where.

The reader of numbers knows no rules. Letters of a puzzle next door and a line of print that happens to keep step with
the columns stand as numbers do; where all rules are understood and speak of none, these are no question. Nor is what
stands out of line, as numbers with little arrows do, where items account for all its ink. Where the
rules speak of such numbers and none was read, ink in the middles of rows or columns is one, however it is broken; where
some were read, so is ink as tall as these."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import get_args

from ingest.page import Box
from recognise.draft import Doubt, Draft, box_polygon
from recognise.geometry import bounds, box_of_all, middle, overlap, side_of
from recognise.marks.spoken import Spoken
from recognise.pixels.outside import OFF_CENTRE, STRAY, beside_words, not_in_line
from schema.grid import Side

DEPTH = 1.1
"""In cells: how far from the grid the first ring of its numbers reaches; lines of text begin farther off."""
SMALL, TALL, WIDE = 0.03, 0.7, 0.8
"""In cells: the least piece that is looked at, and how high and wide a number is at most, with all its pieces."""
SEVERAL = 2
"""Numbers that make a side one on which they stand."""
LOWEST, TALLEST = 0.7, 1.4
"""Parts of the heights of the numbers that were read: within them lies any other of the page."""
REACH = 0.1
"""In cells: how far beyond the items of a side what they account for reaches."""


def with_sides(draft: Draft, unsettled: Mapping[Side, Sequence[Box]], spoken: Spoken) -> Draft:
    """The draft with the place of each question about what is `unsettled` on a side, and without those that the rules
    answer."""
    about = {not_in_line(side): side for side in unsettled}
    silent = spoken.whole and not (spoken.bare or spoken.arrowed)
    told = _sides_of_items(draft)
    doubts: list[Doubt] = []
    for doubt in draft.doubts:
        side = about.get(doubt.why)
        if side is None:
            doubts.append(doubt)
        elif side in told or not silent:
            doubts.append(replace(doubt, where=box_polygon(box_of_all(unsettled[side]))))
    return replace(draft, doubts=tuple(doubts))


def without_accounted(
    draft: Draft, unsettled: Mapping[Side, Sequence[Box]], ink_doubts: Callable[[Draft], Iterable[Doubt]]
) -> Draft:
    """The draft without the questions about what is `unsettled` on a side where items lie on all of it and account for
    all its ink: `ink_doubts` says of a draft what ink is left, as deep beside the grid as its items reach."""
    about = {not_in_line(side): boxes for side, boxes in unsettled.items()}
    taken = [bounds(polygon) for item in draft.items for polygon in item.claimed]
    on_items = {
        why: boxes
        for why, boxes in about.items()
        if any(doubt.why == why for doubt in draft.doubts) and all(_is_on(box, taken, draft) for box in boxes)
    }
    if not on_items:
        return draft
    without = replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in on_items))
    left = [bounds(doubt.where) for doubt in ink_doubts(without) if doubt.where is not None]
    open_ones = {why for why, boxes in on_items.items() if any(overlap(box, ink) for box in boxes for ink in left)}
    return replace(draft, doubts=tuple(d for d in draft.doubts if d.why not in on_items or d.why in open_ones))


def _is_on(box: Box, taken: Sequence[Box], draft: Draft) -> bool:
    """Whether a box beside the grid has the claim of an item on it, and reaches no farther out than those beside it."""
    side = side_of(middle(box), draft.grid.rows, draft.grid.columns)
    own = [other for other in taken if side_of(middle(other), draft.grid.rows, draft.grid.columns) == side]
    if side is None or not any(overlap(box, other) for other in own):
        return False
    end, sign = {"top": (1, -1), "bottom": (3, 1), "left": (0, -1), "right": (2, 1)}[side]
    return sign * box[end] <= max(sign * other[end] for other in own) + REACH


def unread_beside(draft: Draft, pieces: Iterable[Box], spoken: Spoken) -> Iterator[Doubt]:
    """A doubt for each side on which numbers may stand, where the rules speak of such and none was read, and for each
    single number that was not, where others were. `pieces` are the boxes, in cells, of the ink beside the grid."""
    if not (spoken.bare or spoken.arrowed):
        return
    taken = [bounds(polygon) for item in draft.items for polygon in item.claimed]
    taken += [bounds(doubt.where) for doubt in draft.doubts if doubt.where is not None]
    heights = list(_heights(draft))
    boxes = [box for box in pieces if SMALL <= max(box[2] - box[0], box[3] - box[1]) <= WIDE]
    for side in get_args(Side):
        numbers = _numbers(side, boxes, draft.grid.rows, draft.grid.columns)
        numbers = [number for number in numbers if not any(overlap(number, box) for box in taken)]
        if not heights and len(numbers) >= SEVERAL:
            why = f"numbers may stand {beside_words(side)}, and none was read"
            yield Doubt(why, where=box_polygon(box_of_all(numbers)))
        elif heights and spoken.bare:
            # Numbers of arrows are measured with these.
            for number in numbers:
                if LOWEST * min(heights) <= number[3] - number[1] <= TALLEST * max(heights):
                    why = f"a number may stand here {beside_words(side)}, and was not read"
                    yield Doubt(why, where=box_polygon(number))


def _heights(draft: Draft) -> Iterator[float]:
    """How tall, in cells, the items are that stand beside the grid."""
    for box in (bounds(item.where) for item in draft.items if item.where is not None):
        if side_of(middle(box), draft.grid.rows, draft.grid.columns) is not None:
            yield box[3] - box[1]


def _sides_of_items(draft: Draft) -> set[Side | None]:
    """The sides on which items stand; None for the grid."""
    boxes = (bounds(item.where) for item in draft.items if item.where is not None)
    return {None, *(side_of(middle(box), draft.grid.rows, draft.grid.columns) for box in boxes)}


def _numbers(side: Side, boxes: Iterable[Box], rows: int, columns: int) -> list[Box]:
    """What stands close to one side of the grid, each in the middle of its row or column; nothing where more than a
    little stands otherwise."""
    axis = 1 if side in ("left", "right") else 0
    found: dict[int, list[Box]] = defaultdict(list)
    for box in boxes:
        off = {"top": -box[1], "bottom": box[3] - rows, "left": -box[0], "right": box[2] - columns}[side]
        if side_of(middle(box), rows, columns) == side and off <= DEPTH:
            found[int(middle(box)[axis])].append(box)
    whole = {place: box_of_all(pieces) for place, pieces in found.items()}
    numbers = [box for place, box in whole.items() if _is_number(box, place + 0.5, axis)]
    return numbers if len(whole) - len(numbers) <= STRAY * len(whole) else []


def _is_number(box: Box, centre: float, axis: int) -> bool:
    low = box[2] - box[0] <= WIDE and box[3] - box[1] <= TALL
    return low and abs(middle(box)[axis] - centre) <= OFF_CENTRE
