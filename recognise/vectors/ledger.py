"""The characters of a text layer for which a puzzle must account, whatever the reader made of them: all on the grid,
and close beside it those that stand as clues do; also such as are painted over, where a part of them, or of their
number, is seen. What the rest is (running text, tables, names of rows, prices, page
numbers) is left to the reader."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from ingest.page import Box
from recognise.evidence import Glyph, Guess, Shape
from recognise.geometry import Beside
from recognise.vectors.beside import CENTRED, LEAST_CLUE, Tables, is_centred, ring_of
from recognise.vectors.letters import TEXT_LAYER, Mark, Number, box_of, in_grid
from recognise.vectors.numbers import as_lines, as_numbers, is_page_number, is_running
from recognise.vectors.place import Placement

CLOSE = 1.5
"""In cells: how far from the grid the middle of a number is that must be accounted for."""
LEAST = 0.12
"""Font size in cells: smaller figures beside a grid are no clues."""
LONG, THIN = 0.5, 0.05
"""In cells: what is longer than this and thinner than that is no character, but a side of a cage whose dashes are one
path."""
ON_LINE, WITHIN = 0.1, 0.7
"""As a part of their size: how far the tops and feet of two figures on one line are apart at most, and how far from
each other they stand in a number, or in a row of digits."""
FEW = 2
"""So many numbers on one side of the grid and as far from it, of which one stands off the middle of its row or column,
are no column of a table."""


def to_account_for(
    marks: Sequence[Mark], apart: Collection[Mark], placement: Placement, buried: Sequence[Mark] = ()
) -> Iterator[Glyph]:
    """The characters on the grid, and the numbers close beside it that stand as clues do. `marks` are all that are
    seen, `apart` those that the reader knows to be of something else, `buried` those that something lies over."""
    seen = [mark for mark in marks if mark.glyph.text.strip()]
    seen += [mark for mark in buried if mark.glyph.text.strip() and _is_half_seen(mark, seen)]
    yield from (_glyph([mark]) for mark in seen if in_grid(mark, placement))
    around = [mark for mark in seen if not in_grid(mark, placement) and mark.size >= LEAST]
    loose = [mark for line in as_lines(around) if not (is_running(line) or is_page_number(line)) for mark in line]
    others = {id(mark.glyph) for mark in apart}
    numbers = as_numbers([m for m in loose if id(m.glyph) not in others and m.glyph.text.isdigit()], placement.columns)
    rings = [ring_of(number, placement) for number in numbers]
    tables = Tables(around, loose, placement)
    for number, ring in zip(numbers, rings, strict=True):
        if ring is None or not _is_like_clue(ring, rings) or tables.hold(number) or _is_at_the_foot(number, seen):
            continue
        yield _glyph(number)


def _is_half_seen(mark: Mark, seen: Iterable[Mark]) -> bool:
    """Whether a part of a character that something lies over is seen, or of the number that it belongs to."""
    return mark.glyph.buried == "part" or any(_are_of_one_number(mark, other) for other in seen)


def _are_of_one_number(one: Mark, other: Mark) -> bool:
    """Whether two characters stand close beside each other on one line, in one fount."""
    (left, top, right, bottom), (start, high, end, low) = one.box, other.box
    apart = max(left, start) - min(right, end)
    on_line = max(abs(top - high), abs(bottom - low)) <= ON_LINE * one.size
    return one.glyph.font == other.glyph.font and on_line and 0 < apart + ON_LINE * one.size <= WITHIN * one.size


def _is_at_the_foot(number: Number, seen: Iterable[Mark]) -> bool:
    """Whether a number, too small for a clue, stands by itself at the very foot of the page: nothing stands beside it
    or lower."""
    top = box_of(number)[1]
    return max(mark.size for mark in number) < LEAST_CLUE and all(mark in number or mark.box[3] <= top for mark in seen)


def without_text(path: Shape) -> Glyph:
    """A character that is drawn as a path."""
    return Glyph(path.box, (), path.box[3] - path.box[1], path.colour, "vector")


def may_be_character(box: Box) -> bool:
    """Whether a path is not far too long for its width to be a character, by its box in cells."""
    thin, long = sorted((box[2] - box[0], box[3] - box[1]))
    return long <= LONG or thin >= THIN


def _is_like_clue(ring: Beside, rings: Sequence[Beside | None]) -> bool:
    """Whether a number stands close to the grid in the middle of a row or column, and not in a column of figures that
    keep another step."""
    peers = [other for other in rings if other and other.side == ring.side and abs(other.away - ring.away) <= CENTRED]
    return ring.away <= CLOSE and is_centred(ring) and (len(peers) <= FEW or all(map(is_centred, peers)))


def _glyph(number: Sequence[Mark]) -> Glyph:
    text, box = "".join(mark.glyph.text for mark in number), box_of(number)
    return Glyph(box, (Guess(text, TEXT_LAYER),), number[0].size, number[0].glyph.colour, "vector")
