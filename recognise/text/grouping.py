"""Lines of letters, as they are found by their places, put together to blocks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import median

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.text.baseline import Bend, bend_of
from recognise.text.next_letters import LEVEL, REACH

Numbers = npt.NDArray[np.float64]

SLOPE_LETTERS = 12
"""Letters that a line has at least, to be text and to tell how askew the page is."""
TALL_TO_SMALL = 1.6
"""Height of tall letters in that of small ones, at most: lines that start level may differ by it."""
_LEADING = 1.3
"""White between lines of one block, in letters' heights, at most."""
_ALIKE = 1.4
"""How much larger letters of one line may be than those of another in the same block."""
_TAIL_LETTERS = 12
"""Pieces of ink up to which a line may be the short last one of a paragraph; in a blurred picture a word is one."""
_NEIGHBOURS = 6
"""Letters of a line that show how low it reaches near them."""
_TAIL_HEIGHT = (0.5, 1.4)
"""Height of such a line's letters, in those of its paragraph: `once` has no tall ones."""
_TAIL_INDENT = 0.8
"""How far such a line may start from where its paragraph starts, or its middle stand from that of a centred paragraph,
in letters' heights."""


@dataclass(frozen=True, eq=False)
class Line:
    """What hangs together as a line: its box, the usual height of its letters, and their feet (x, y; n x 2), in work
    pixels."""

    box: Box
    letter: float
    feet: Numbers

    @property
    def letters(self) -> int:
        """How many pieces of ink it has."""
        return len(self.feet)

    @cached_property
    def base(self) -> tuple[Bend, float]:
        """How it bends, and the share of its letters that stand on its base."""
        return bend_of([self.feet], self.letter)

    def foot_near(self, x: float) -> float:
        """How low its letters reach near a place: a line that falls reaches lower at its other end."""
        near = np.argsort(np.abs(self.feet[:, 0] - x))[:_NEIGHBOURS]
        return float(self.feet[near, 1].max())

    @property
    def slope(self) -> float:
        """How much it falls in all, in its length."""
        (square, straight), _ = self.base
        return square * (self.box[0] + self.box[2]) + straight


def whole(pieces: list[Line]) -> list[Line]:
    """Pieces of one line put together. A letter looks for the next in its own height; after a small one, such as the
    comma before a wide blank, that is too near."""
    found: list[Line] = []
    for piece in sorted(pieces, key=lambda item: item.box[0]):
        before = next((line for line in found if _goes_on(line, piece)), None)
        if before is None:
            found.append(piece)
            continue
        a, b = before.box, piece.box
        box = (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))
        longer = max(before, piece, key=lambda item: item.letters)
        found[found.index(before)] = Line(box, longer.letter, np.concatenate([before.feet, piece.feet]))
    return found


def _goes_on(line: Line, piece: Line) -> bool:
    small, large = sorted((line.letter, piece.letter))
    if not 0 <= piece.box[0] - line.box[2] < REACH * large:
        return False
    shared = min(line.box[3], piece.box[3]) - max(line.box[1], piece.box[1])
    lower = min(line.box[3] - line.box[1], piece.box[3] - piece.box[1])
    # A word may have small letters only, and the next a tall one.
    return large <= TALL_TO_SMALL * small and shared > LEVEL * lower


def grouped(lines: list[Line]) -> list[list[Line]]:
    """The lines of each block, which stand under each other, near, and in letters of like height."""
    groups: list[tuple[list[Line], float]] = []  # with how far down each reaches
    for line in sorted(lines, key=lambda item: item.box[1]):
        # What ends farther above than any leading is not gone through line by line: grain has thousands.
        high = line.box[1] - _LEADING * line.letter
        fits = [g for g in groups if g[1] > high and any(_one_block(member, line) for member in g[0])]
        merged = [line, *(member for group, _ in fits for member in group)]
        if fits:
            groups = [g for g in groups if all(g is not fit for fit in fits)]
        groups.append((merged, max(line.box[3], *(low for _, low in fits), 0.0)))
    return [group for group, _ in groups]


def with_tails(groups: list[list[Line]], lines: Sequence[Line]) -> list[list[Line]]:
    """The groups with short last lines put to them, which stood alone or were too short to be told from dirt."""
    short = sorted((line for line in lines if line.letters <= _TAIL_LETTERS), key=lambda line: line.box[1])
    own_of = {line: group for group in groups for line in group}
    endings = [_Ending.of(group) for group in groups]
    for line in short:
        own = own_of.get(line)
        if own is not None and len(own) > 1:
            continue
        over = next((n for n, end in enumerate(endings) if end.group is not own and end.goes_on_with(line)), None)
        if over is not None:
            endings[over] = _Ending.of([*endings[over].group, line])
            own_of |= dict.fromkeys(endings[over].group, endings[over].group)
            endings = [end for end in endings if end.group is not own]
    return [end.group for end in endings]


@dataclass(frozen=True, slots=True)
class _Ending:
    """A group of lines, and what tells whether another is its last: its usual letter, the place of its left side, and
    its lowest line."""

    group: list[Line]
    letter: float
    left: float
    last: Line

    @classmethod
    def of(cls, group: list[Line]) -> _Ending:
        """The ending of a group."""
        letter = median(member.letter for member in group)
        left = min(member.box[0] for member in group)
        return cls(group, letter, left, max(group, key=lambda member: member.box[3]))

    def goes_on_with(self, line: Line) -> bool:
        """Whether a line is the last of the paragraph: right below it, and level with its left side or its middle."""
        letter, last = self.letter, self.last
        if not _TAIL_HEIGHT[0] * letter <= line.letter <= _TAIL_HEIGHT[1] * letter:
            return False
        askew = abs(line.box[0] + line.box[2] - last.box[0] - last.box[2]) / 2
        level = min(abs(line.box[0] - self.left), abs(line.box[0] - last.box[0]), askew) < _TAIL_INDENT * letter
        if not level or line.box[2] > last.box[2] + letter:
            return False
        white = line.box[1] - last.foot_near((line.box[0] + line.box[2]) / 2)
        return -0.2 * letter < white < (_LEADING + 0.3) * letter


def _one_block(a: Line, b: Line) -> bool:
    small, large = sorted((a.letter, b.letter))
    # Where a third of the letters are tall, the usual one is a tall letter here and a small one there.
    both_long = min(a.letters, b.letters) >= SLOPE_LETTERS and abs(a.box[0] - b.box[0]) < large
    if large > (TALL_TO_SMALL if both_long else _ALIKE) * small:
        return False
    white = max(a.box[1], b.box[1]) - min(a.box[3], b.box[3])
    apart = max(a.box[0], b.box[0]) - min(a.box[2], b.box[2])
    return white < _LEADING * small and apart < 0
