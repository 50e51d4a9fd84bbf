"""Which numbers beside a grid are clues, and which are tables or running text."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from string import ascii_uppercase

from ingest.page import Box, Point
from recognise.geometry import Beside, beside, middle, side_of
from recognise.pixels.glyphs import LOOK_ALIKE
from recognise.vectors.letters import Mark, Number, box_of
from recognise.vectors.numbers import ABREAST, as_numbers, is_beside_arrow
from recognise.vectors.place import Placement
from schema.grid import Side

RING = 2.4
"""Cells around the grid in which clues stand: rings two deep."""
LEAST_CLUE = 0.22
"""Font size in cells: smaller characters beside a grid are running text or a table."""
CENTRED = 0.27
"""In cells: how far a clue's middle may lie off the middle of its row or column."""
SAME_RING = 0.3
"""In cells: clues whose distances from the grid differ by less are of one ring."""
IN_STEP = 0.7
"""The part of a ring that stands in the middle of rows or columns; the lines of a table seldom keep a grid's step."""
LONE = 1.7
"""In cells: a number farther from the grid than this, with none before it, is any number of the page: clues begin near
the grid, and the days of a calendar stand in step with its columns by chance."""
DEEPEST = 2
"""Rings of clues around a grid; more numbers one behind the other are a table."""
LEAST_NAMES = 3
"""So many letters in the order of the alphabet stand beside a grid by no chance."""
IN_LINE = 0.15
"""In cells: so far lie clues of one ring off the middles of their rows or columns at most, one as compared with the
others; the figures of one fount differ in height, and numbers in length."""


def is_centred(ring: Beside) -> bool:
    """Whether in the middle of a row or column."""
    return abs(ring.off) <= CENTRED


def clues_among(numbers: Sequence[Number], placement: Placement, arrows: Sequence[Box]) -> list[Number]:
    """The numbers beside a grid that are clues: in step with its rows or columns, or beside a little arrow."""
    near = [number for number in numbers if _may_be_clue(number, placement)]
    placed = [(number, ring_of(number, placement)) for number in near]
    clues = []
    for number, ring in placed:
        peers = [other for _, other in placed if ring and other and _same_ring(ring, other)]
        in_step = ring is not None and is_centred(ring) and _keep_step(peers)
        others = [other for n, other in placed if n is not number]
        lone = ring is not None and ring.away > LONE and not any(_is_before(other, ring) for other in others)
        if is_beside_arrow(number, arrows) or (in_step and not lone):
            clues.append(number)
    return clues


def is_behind_words(number: Number, words: Sequence[Box], numbers: Sequence[Number], placement: Placement) -> bool:
    """Whether a number stands beside a grid with words between the two, as the number of a page does below a setter's
    name. `words` are boxes of lines of running text; one of several `numbers` in a ring is a clue."""
    ring = ring_of(number, placement)
    if ring is None or any(
        other is not number and (its := ring_of(other, placement)) and _same_ring(ring, its) for other in numbers
    ):
        return False
    axis = 1 if ring.side in ("top", "bottom") else 0
    near, size = box_of(number), (placement.columns, placement.rows)[axis]
    begin, end = (near[axis + 2], 0.0) if ring.side in ("top", "left") else (float(size), near[axis])
    along = middle(near)[1 - axis]
    return any(
        begin <= word[axis] and word[axis + 2] <= end and word[1 - axis] <= along <= word[3 - axis] for word in words
    )


def _keep_step(ring: Sequence[Beside]) -> bool:
    """Whether numbers of one ring keep the step of the grid's rows or columns: most stand in the middle of one, each as
    near to it as the others."""
    usual = median(number.off for number in ring)
    in_line = sum(is_centred(number) and abs(number.off - usual) <= IN_LINE for number in ring)
    return in_line >= IN_STEP * len(ring)


def _may_be_clue(number: Number, placement: Placement) -> bool:
    x, y = middle(box_of(number))
    in_reach = -RING <= x <= placement.columns + RING and -RING <= y <= placement.rows + RING
    # A character that the file gives no meaning is left to the pixels, but not dropped.
    figures = any(not mark.glyph.text or mark.glyph.text.isdigit() for mark in number)
    return in_reach and figures and max(mark.size for mark in number) >= LEAST_CLUE


class Tables:
    """The tables beside a grid, for all that may be its clues: numbers are put together once for each size of type."""

    def __init__(self, around: Sequence[Mark], loose: Sequence[Mark], placement: Placement) -> None:
        """`around` are all characters beside the grid, `loose` those of them that are no running text."""
        self._around, self._loose, self._placement = around, loose, placement
        self._numbers: dict[tuple[bool, float], list[tuple[Side | None, Point]]] = {}

    def hold(self, clue: Number) -> bool:
        """Whether a number stands in a table: behind others of its size, or in a row that a word of its font begins.
        Above and below a grid the figures of running text do not count: its lines lie across."""
        ring = ring_of(clue, self._placement)
        if ring is None:
            return False
        across = ring.side in ("top", "bottom")
        axis = 0 if across else 1
        place = middle(box_of(clue))[axis]
        behind = sum(
            side == ring.side and abs(at[axis] - place) <= SAME_RING for side, at in self._peers(across, clue[0])
        )
        return behind > DEEPEST or (not across and any(_words(clue[0], mark, ring.side) for mark in self._around))

    def _peers(self, across: bool, first: Mark) -> list[tuple[Side | None, Point]]:
        """The numbers that are as large as a character: their sides of the grid, and their middles."""
        if (across, first.size) not in self._numbers:
            marks = self._loose if across else self._around
            peers = [mark for mark in marks if mark.glyph.text.isdigit() and _same_size(first, mark)]
            numbers = as_numbers(peers, self._placement.columns)
            rings = ((ring_of(number, self._placement), middle(box_of(number))) for number in numbers)
            self._numbers[across, first.size] = [(ring.side if ring else None, at) for ring, at in rings]
        return self._numbers[across, first.size]


def names_of_lines(marks: Sequence[Mark], placement: Placement) -> list[Number]:
    """The letters beside a grid that name its rows or its columns: A to the last in order, one at each."""
    rings: dict[tuple[Side, int], dict[int, Number]] = {}
    for mark in marks:
        ring = ring_of([mark], placement) if mark.glyph.text.isalnum() else None
        if ring is not None and is_centred(ring) and ring.away <= RING:
            at = int(mark.middle[0 if ring.side in ("top", "bottom") else 1])
            rings.setdefault((ring.side, round(ring.away / SAME_RING)), {})[at] = [mark]
    named = []
    for (side, _), by_place in rings.items():
        length = placement.columns if side in ("top", "bottom") else placement.rows
        texts = [by_place[at][0].glyph.text for at in sorted(by_place)]
        if length == len(by_place) and are_names(texts):
            named += list(by_place.values())
    return named


def name_at(mark: Mark, placement: Placement) -> str:
    """The letter that names the row or column beside which a mark stands: an I is often no more than a 1 is."""
    across = side_of(mark.middle, placement.rows, placement.columns) in ("top", "bottom")
    return ascii_uppercase[int(mark.middle[0 if across else 1])]


def are_names(texts: Sequence[str]) -> bool:
    """Whether characters are the letters of the alphabet in order; by their looks alone some are taken for figures."""
    wanted = ascii_uppercase[: len(texts)]
    alike = all(text in (letter, LOOK_ALIKE.get(letter)) for text, letter in zip(texts, wanted, strict=False))
    hits = sum(map(str.__eq__, texts, wanted))
    return LEAST_NAMES <= len(texts) == len(wanted) and alike and 2 * hits > len(texts)


def _same_size(one: Mark, other: Mark) -> bool:
    return abs(one.size - other.size) <= 0.1 * one.size


def _words(first: Mark, mark: Mark, side: Side) -> bool:
    """Whether `mark` is a letter on the line of `first`, in its font and on the same side of the grid."""
    alike = mark.glyph.font == first.glyph.font and _same_size(first, mark)
    gap = first.box[0] - mark.box[2] if mark.box[2] <= first.box[0] else mark.box[0] - first.box[2]
    beyond = (mark.box[0] < 0) == (side == "left")
    shared = min(first.box[3], mark.box[3]) - max(first.box[1], mark.box[1])
    abreast = shared >= ABREAST * min(first.box[3] - first.box[1], mark.box[3] - mark.box[1])
    return alike and beyond and abreast and mark.glyph.text.isalpha() and mark.glyph.text.islower() and gap < RING


def ring_of(number: Number, placement: Placement) -> Beside | None:
    """The ring in which a number stands; None for one on the grid or off its corners."""
    return beside(middle(box_of(number)), placement.rows, placement.columns)


def _is_before(one: Beside | None, other: Beside) -> bool:
    """Whether a ring is of the same side as another and nearer to the grid."""
    return one is not None and one.side == other.side and one.away < other.away and not _same_ring(one, other)


def _same_ring(one: Beside, other: Beside) -> bool:
    return one.side == other.side and abs(one.away - other.away) <= SAME_RING
