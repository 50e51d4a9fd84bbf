"""Characters put together to lines of text and to numbers."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

import numpy as np

from ingest.page import Box
from recognise.geometry import middle
from recognise.vectors.letters import Mark, Number, box_of

TIGHT = 0.5
"""As a part of the font size: the widest gap of ink between characters of one number, as between the ones of "11" in
a font of equally wide figures; a space adds about 0.25."""
LOOSE = 1.4
"""As a part of the font size: the widest gap in a line of running text, as justified lines have."""
SAME_LINE = 0.3
"""The part of the lower character's height that two characters of one line share; a comma stands lower than most."""
ABREAST = 0.6
"""The same for characters of one number."""
SPACE = 0.5
"""As a part of the font size: the widest space between words that are not set to fill a line."""
LETTERS = 3
"""A line with a word of so many letters is running text; labels of large grids are single letters."""
BESIDE_ARROW = 0.75
"""In cells, from middle to middle: how near a number stands to the little arrow that goes with it."""
TIGHT_ON_EDGE = 0.3
"""As a part of the font size: the widest gap in a number that stands across the edge of two columns."""
ONE_SIZE = 0.85
"""As a part of the larger: the least size of another figure of one number."""
LAST = 3
"""So many of the last characters of a line the next may follow: a comma or an accent may stand between."""
DASHES = "-\u2010\u2012\u2013\u2014\u2212"
"""What stands on both sides of a page number."""
SPLIT = 0.15
"""As a part of the font size: the gap between two numbers that stand side by side, each set by itself."""


def _chained(marks: Iterable[Mark], follows: Callable[[Mark, Mark], bool]) -> list[list[Mark]]:
    """Characters put together from left to right, each to the first chain one of whose last members it follows: one
    that shares some of its height."""
    finished: list[_Chain] = []
    open_ones: list[_Chain] = []
    for mark in sorted(marks, key=lambda mark: mark.box[0]):
        _, top, _, bottom = mark.box
        for chain in open_ones:
            # Asked for each character and each line of the page's text, hence without arithmetic or a call.
            if chain.top < bottom and top < chain.bottom and chain.goes_on(mark, follows):
                chain.take(mark)
                break
        else:
            # Chains that end too far to the left for anything that still comes.
            finished += [chain for chain in open_ones if _is_behind(chain.marks[-1], mark)]
            open_ones = [chain for chain in open_ones if not _is_behind(chain.marks[-1], mark)]
            open_ones.append(_Chain(mark))
    return [chain.marks for chain in finished + open_ones]


class _Chain:
    """Characters put together so far; `top` and `bottom` of the last ones, which others may follow."""

    __slots__ = ("bottom", "marks", "top")

    def __init__(self, first: Mark) -> None:
        self.marks = [first]
        _, self.top, _, self.bottom = first.box

    def goes_on(self, mark: Mark, follows: Callable[[Mark, Mark], bool]) -> bool:
        """Whether a character follows one of the last ones that shares some of its height."""
        return any(
            one.box[1] < mark.box[3] and mark.box[1] < one.box[3] and follows(one, mark) for one in self.marks[-LAST:]
        )

    def take(self, mark: Mark) -> None:
        """Go on with a character."""
        self.marks.append(mark)
        last = self.marks[-LAST:]
        self.top, self.bottom = min(one.box[1] for one in last), max(one.box[3] for one in last)


def _is_behind(last: Mark, mark: Mark) -> bool:
    return mark.box[0] - last.box[2] > 2 * LOOSE * max(last.size, mark.size)


def as_lines(marks: Iterable[Mark]) -> list[list[Mark]]:
    """Characters as lines of text."""
    return _chained(marks, lambda one, other: _follows(one, other, LOOSE, SAME_LINE))


def phrases(marks: Iterable[Mark]) -> list[list[Mark]]:
    """Words that stand a space apart, set in one fount and size, with the numbers among them."""

    def follows(one: Mark, other: Mark) -> bool:
        alike = one.glyph.font == other.glyph.font and one.size == other.size
        return alike and _follows(one, other, SPACE, SAME_LINE)

    return [chain for chain in _chained(marks, follows) if is_running(chain)]


def as_numbers(marks: Iterable[Mark], columns: int) -> list[Number]:
    """Characters that stand close together, within the width of a cell and in one font, as numbers or signs."""

    def follows(one: Mark, other: Mark) -> bool:
        x, other_x = one.middle[0], other.middle[0]
        # Beside the grid there are no columns that could keep two numbers apart.
        one_column = int(x // 1) == int(other_x // 1) or x < 0 or other_x > columns
        narrow = other.box[2] - one.box[0] <= 1.0 and one.glyph.font == other.glyph.font
        # Figures of one number are of one size; the sign behind them may be smaller.
        figures = one.glyph.text.isdigit() and other.glyph.text.isdigit()
        if figures and min(one.size, other.size) < ONE_SIZE * max(one.size, other.size):
            return False
        return narrow and _follows(one, other, TIGHT if one_column else TIGHT_ON_EDGE, ABREAST)

    return [number for chain in _chained(marks, follows) for number in _split(chain)]


def _split(chain: Number) -> Iterator[Number]:
    """Two numbers side by side, each written as one text of its own, that stand so close that they look like one."""
    texts = [mark.glyph.order for mark in chain]
    start = 0
    for place in range(1, len(chain)):
        one, other = chain[place - 1], chain[place]
        apart = other.box[0] - one.box[2] >= SPLIT * max(one.size, other.size)
        lengths = [texts.count(text) for text in texts[place - 1 : place + 1]]
        # Two texts of several characters each are two numbers, however near; a number may be set figure by figure.
        if texts[place] != texts[place - 1] and ((apart and max(lengths) > 1) or min(lengths) > 1):
            yield chain[start:place]
            start = place
    yield chain[start:]


def by_arrow(number: Number, arrows: Sequence[Box], numbers: Iterable[Number]) -> list[Number]:
    """Two numbers that touch, each a text of its own beside a little arrow of its own, which is that of no other of the
    `numbers`: some programs set each figure by itself."""
    texts = [list(part) for _, part in groupby(number, key=lambda mark: mark.glyph.order)]
    if len(texts) < 2:
        # Nearly all are: the arrows of all others need not be looked for.
        return [number]
    taken = {_arrow_of(other, arrows) for other in numbers if other is not number}
    own = [_arrow_of(part, arrows) for part in texts]
    several = len(set(own)) == len(texts) and not taken.union({None}).intersection(own)
    return list(texts) if several else [number]


def _arrow_of(number: Number, arrows: Sequence[Box]) -> int | None:
    """Which of the little arrows a number stands at."""
    at = middle(box_of(number))
    away = [math.dist(at, middle(arrow)) for arrow in arrows]
    nearest = min(range(len(away)), key=away.__getitem__, default=None)
    return nearest if nearest is not None and away[nearest] <= BESIDE_ARROW else None


def is_beside_arrow(number: Number, arrows: Iterable[Box]) -> bool:
    """Whether a number stands at one of the little arrows."""
    x, y = middle(box_of(number))
    return any(np.hypot(x - hx, y - hy) <= BESIDE_ARROW for hx, hy in map(middle, arrows))


def _follows(one: Mark, other: Mark, gap: float, share: float) -> bool:
    """Whether `other` stands abreast of `one`, at most `gap` font sizes to the right of it."""
    size = max(one.size, other.size)
    shared = min(one.box[3], other.box[3]) - max(one.box[1], other.box[1])
    lower = min(one.box[3] - one.box[1], other.box[3] - other.box[1])
    near = -0.5 * size <= other.box[0] - one.box[2] <= gap * size
    return near and shared >= share * lower and min(one.size, other.size) >= 0.6 * size


def is_running(line: Sequence[Mark]) -> bool:
    """Whether a line holds a word: several letters close together, or two, the second a small one ("No.")."""
    run = 0
    for before, mark in zip((None, *line), line, strict=False):
        joined = before is not None and _follows(before, mark, TIGHT, SAME_LINE)
        # A character that nothing could read is a small letter, which grids do not hold.
        letter = mark.glyph.text.isalpha() or not mark.glyph.text
        run = (run + 1 if joined else 1) if letter else 0
        if run >= LETTERS or (run > 1 and mark.glyph.text.islower()):
            return True
    return False


def is_page_number(line: Sequence[Mark]) -> bool:
    """Whether a line is a number between two dashes, as the foot of a page has it."""
    texts = [mark.glyph.text for mark in line if mark.glyph.text.strip()]
    return len(texts) > 2 and texts[0] in DASHES and texts[-1] in DASHES and all(map(str.isdigit, texts[1:-1]))
