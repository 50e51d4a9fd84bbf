"""Where on a page text stands: blocks of it, found from the places of its letters, without reading anything."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import median

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.components import components
from recognise.quantiles import percentile
from recognise.text.baseline import Bend, bend_of
from recognise.text.column_rules import of_rules
from recognise.text.next_letters import LEVEL, REACH, next_to_each_other
from recognise.text.paper import Grey, shade

Numbers = npt.NDArray[np.float64]

_WORK_SIDE = 1800
"""Pixels on the long side on which blocks are looked for; letters of 6 pt are then still 6 px high on A4."""
_INK = 0.8
"""Ink is darker than this part of the paper around it."""
_LONG_ENOUGH = 6
"""Pieces of ink of a line that tells how much text is seen."""
_FAINT = 0.6
"""Ink that is usually lighter than this part of the paper is faint: thin letters of it get lost."""
_FAINT_INK, _SMOOTH = 0.86, 0.7
"""The part of the paper that faint ink is darker than, after a blur of so many work pixels that takes noise off."""
_LETTER = (4, 70)
"""Height in work pixels of what may be a letter."""
_FRAME = 0.01
"""Part of a grid's side by which half of its frame stands out: frames are a tenth of a cell thick."""
_SPECK = 0.35
"""What is lower than this part of a usual letter is a dot, a comma or dirt, and tells nothing."""
_NARROW = 1.5
"""Width of a single letter in its height, at most."""
_MUCH_SMALLER = 0.55
"""Size of the many pieces, in that of the ink's, below which they may be text beside much larger things."""
_FAR_MORE = 2.0
"""How many times as much text the smaller pieces show, where they are text and no grain."""
_TYPED_BLANK, _TYPED_LETTERS = 2.2, 60
"""In steps of a typewriter, how far a letter looks for the next: over one blank; steps that tell that it was one."""
_WORD_STEP, _SAME_STEP, _TYPED = 1.6, 0.12, 0.52
"""Steps up to so many usual ones are within a word; how far these differ in what a typewriter wrote, and the part of
them that differ no more: 0.56 to 0.70 of its pages, of those in other founts 0.15 to 0.45."""
_LEADING = 1.3
"""White between lines of one block, in letters' heights, at most."""
_ALIKE = 1.4
"""How much larger letters of one line may be than those of another in the same block."""
_TALL_TO_SMALL = 1.6
"""Height of tall letters in that of small ones, at most: lines that start level may differ by it."""
_LEAST_LETTERS = 3
_SLOPE_LETTERS, _TANGLED = 12, 24
"""Letters that a line has at least, to be text and to tell how askew the page is; and lines that hang together."""
_ON_BASE = 0.5
"""Part of the letters of a line that stand on its base, at least; those with a tail below it are left over."""
_SURELY_ON_BASE = 0.7
"""The same of what is surely one line: of running text a fifth of the letters and stops hang below, of two lines that
touch the letters of one."""
_MOSTLY = 0.6
"""Part of the letters of lines that touch which stand on the bases of long lines, once these are taken apart; grain has
no such lines."""
_LEAST_SIZE = 0.45
"""Size of the letters of a short line in those of the smallest long one, at least."""
_TAIL_LETTERS = 12
"""Pieces of ink up to which a line may be the short last one of a paragraph; in a blurred picture a word is one."""
_NEIGHBOURS = 6
"""Letters of a line that show how low it reaches near them."""
_TAIL_HEIGHT = (0.5, 1.4)
"""Height of such a line's letters, in those of its paragraph: `once` has no tall ones."""
_TAIL_INDENT = 0.8
"""How far such a line may start from where its paragraph starts, or its middle stand from that of a centred paragraph,
in letters' heights."""

OPENING, _TITLE = 3, 1.2
"""Lines of a block that tell rules from running text; a title above them is larger than their letters."""
_HIGHEST = 3.0
"""Letters' heights that a line is high at most, askew as it may be."""


@dataclass(frozen=True, slots=True)
class Region:
    """A block of text: its box in pixels of the image, the usual height of its letters, and its lines; `opening` is how
    far down the first of them reach that may tell what it is."""

    box: Box
    letter: float
    lines: int
    opening: float
    bend: Bend = (0.0, 0.0)


@dataclass(frozen=True, eq=False)
class _Line:
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


Lines = list[_Line]


def text_regions(grey: Grey, grids: Sequence[Box], seen: Lines | None = None) -> list[Region]:
    """Blocks of text outside the grids (boxes in image pixels), top to bottom; `seen` is what `lines_of` gave, where
    that was asked before."""
    scale = _scale_of(grey)
    found = lines_of(grey, grids) if seen is None else seen
    lines = _whole(_text_only([line for line in found if line.letters >= _LEAST_LETTERS]))
    groups = _with_tails(_grouped(lines), [*lines, *(line for line in found if line.letters < _LEAST_LETTERS)])
    return sorted((_region(group, scale) for group in groups), key=lambda r: (r.box[1], r.box[0]))


def tangles(grey: Grey, seen: Lines) -> list[Box]:
    """Where much ink hangs together as a line and is none: lines that run into each other, as such that lean do, or no
    text. Boxes in pixels of the picture in which `lines_of` saw that."""
    scale = _scale_of(grey)
    return [
        (line.box[0] / scale, line.box[1] / scale, line.box[2] / scale, line.box[3] / scale)
        for line in seen
        if line.letters >= _TANGLED and line.base[1] < _ON_BASE and line.box[3] - line.box[1] > _HIGHEST * line.letter
    ]


def text_slope(grey: Grey, grids: Sequence[Box]) -> float:
    """How far lines of text fall (positive) or rise from left to right, in degrees; 0 where no long line stands."""
    long_lines = [line for line in _text_only(lines_of(grey, grids)) if line.letters >= _SLOPE_LETTERS]
    return float(np.degrees(np.median([line.slope for line in long_lines]))) if long_lines else 0.0


def _text_only(lines: list[_Line]) -> list[_Line]:
    """The lines without what is no text: the grain of the table that a page was photographed on has pieces that stand
    on no common base, and few of a size."""
    lines = [line for line in lines if line.letters <= _LEAST_LETTERS or line.base[1] >= _ON_BASE]
    sizes = [line.letter for line in lines if line.letters >= _SLOPE_LETTERS]
    least = _LEAST_SIZE * min(sizes, default=0.0)
    return [line for line in lines if line.letters >= _SLOPE_LETTERS or line.letter >= least]


def letters_in_line(seen: Lines) -> int:
    """How many letters stand in lines that are level and long; few on a page that lies on its side."""
    found = [line for line in _text_only(seen) if line.letters >= _SLOPE_LETTERS]
    return sum(line.letters for line in found if line.box[3] - line.box[1] <= _HIGHEST * line.letter)


def _scale_of(grey: Grey) -> float:
    return float(min(1.0, _WORK_SIDE / max(grey.shape)))


def lines_of(grey: Grey, grids: Sequence[Box]) -> Lines:
    """What hangs together as lines outside the grids (boxes in image pixels), text or not."""
    scale = _scale_of(grey)
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey
    shades = shade(np.asarray(small, dtype=np.uint8))
    for left, top, right, bottom in grids:
        by = _FRAME * max(right - left, bottom - top)
        shades[_span((top - by) * scale, (bottom + by) * scale), _span((left - by) * scale, (right + by) * scale)] = 1.0
    dark = shades < _INK
    found = _lines_of(dark)
    if not dark.any() or float(np.median(shades[dark])) < _FAINT:
        return found
    fainter = _lines_of(cv2.GaussianBlur(shades, (0, 0), _SMOOTH) < _FAINT_INK)
    return max(found, fainter, key=_text_seen)


def _text_seen(lines: list[_Line]) -> float:
    """How much text there is, in pixels of length: in a blurred picture letters are not to be counted, and in a noisy
    one the grain makes many that are small."""
    long_lines = [line for line in _text_only(lines) if line.letters >= _LONG_ENOUGH]
    return sum(line.box[2] - line.box[0] for line in long_lines)


def _lines_of(dark: npt.NDArray[np.bool_]) -> list[_Line]:
    """Letters that hang together as lines. Where most ink is in pieces much larger than others (a dark table under the
    page, a word grid in large letters beside small print), the small ones may be the text: the size that shows more of
    it is taken."""
    pieces = _pieces(dark)
    if not len(pieces):
        return []
    heights = pieces[:, 3]
    usual = _usual(heights, pieces[:, 2] * heights)
    narrow = pieces[:, 2] < _NARROW * heights
    many = float(np.median(heights[narrow])) if narrow.any() else usual
    counted = heights >= _SPECK * usual
    found = _hanging(pieces[counted], dark.shape)
    if many > _MUCH_SMALLER * usual:
        # The grain of a picture hangs together here and there: small print is far more.
        smaller = _hanging(pieces[heights >= _SPECK * _MUCH_SMALLER * usual], dark.shape)
        return smaller if _text_seen(smaller) > _FAR_MORE * _text_seen(found) else found
    others = heights >= _SPECK * many
    return found if (others == counted).all() else max(found, _hanging(pieces[others], dark.shape), key=_text_seen)


def _hanging(letters: Numbers, shape: tuple[int, ...]) -> list[_Line]:
    found = _in_reach(letters, shape)
    pitch = _pitch(found)
    return found if pitch is None else _in_reach(letters, shape, _TYPED_BLANK * pitch)


def _pitch(lines: Sequence[_Line]) -> float | None:
    """How far apart the letters of typewritten text stand; None where letters are as wide as they are."""
    steps = [np.diff(np.sort(line.feet[:, 0])) for line in lines if line.letters >= _LEAST_LETTERS]
    found = np.concatenate(steps) if steps else np.zeros(0)
    if len(found) < _TYPED_LETTERS:
        return None
    pitch = float(np.median(found))
    if pitch < _LETTER[0]:  # pieces of pictures, one over the other
        return None
    within = found[found < _WORD_STEP * pitch]
    alike = float((np.abs(within - pitch) <= _SAME_STEP * pitch).mean())
    return pitch if alike >= _TYPED else None


def _in_reach(letters: Numbers, shape: tuple[int, ...], blank: float = 0.0) -> list[_Line]:
    # Every letter is painted with its reach to the right: what then hangs together is a line.
    canvas = np.zeros(shape, dtype=np.uint8)
    for x, y, w, h in letters.astype(int):
        cv2.rectangle(canvas, (x, y), (x + w + int(max(REACH * h, blank)), y + h - 1), 255, -1)
    _, labels = cv2.connectedComponents(canvas, connectivity=4)
    middles = (letters[:, :2] + letters[:, 2:] / 2).astype(int)
    owner = labels[middles[:, 1], np.minimum(middles[:, 0], labels.shape[1] - 1)]
    order = np.argsort(owner, kind="stable")
    groups = np.split(order, np.flatnonzero(np.diff(owner[order])) + 1)
    return [line for group in groups if len(group) for line in _apart(letters[group])]


def _apart(letters: Numbers) -> list[_Line]:
    """Letters that hang together as one line, or as several where they then stand on their bases: on a page that curls,
    below a narrow leading or beside a large figure the lines of a block touch. Each letter goes on with the next one
    that is level with it; what is as tall as two lines belongs to neither."""
    whole = _line(letters)
    if whole.letters < _SLOPE_LETTERS or whole.base[1] >= _SURELY_ON_BASE:
        return [whole]
    low = letters[letters[:, 3] <= _TALL_TO_SMALL * whole.letter]
    parts = [_line(low[group]) for group in next_to_each_other(low)]
    standing = sum(p.letters for p in parts if p.letters >= _SLOPE_LETTERS and p.base[1] >= _SURELY_ON_BASE)
    return parts if standing >= _MOSTLY * whole.letters else [whole]


def _pieces(dark: npt.NDArray[np.bool_]) -> Numbers:
    """Boxes (x, y, width, height) of ink that may be letters or specks."""
    _, stats = components(dark)
    found: Numbers = stats[1:, :4].astype(np.float64)
    widths, heights = found[:, 2], found[:, 3]
    keep = (heights >= _LETTER[0]) & (heights <= _LETTER[1]) & (widths <= 8 * heights) & (widths <= 4 * _LETTER[1])
    letters: Numbers = found[keep]
    if not len(letters):
        return letters
    rules = of_rules(found, _usual(letters[:, 3], letters[:, 2] * letters[:, 3]))
    kept: Numbers = found[keep & ~rules]
    return kept


def _usual(heights: Numbers, weights: Numbers) -> float:
    """The median height, large pieces counting for more: dust is many, but small."""
    order = np.argsort(heights)
    total = np.cumsum(weights[order])
    return float(heights[order][np.searchsorted(total, total[-1] / 2)])


def _line(letters: Numbers) -> _Line:
    if len(letters) == 1:  # most are: grain and dirt
        ((left, top, width, height),) = letters.tolist()
        feet = np.array([(left + width / 2, top + height)])
        return _Line((left, top, left + width, top + height), height, feet)
    left, top = letters[:, 0].min(), letters[:, 1].min()
    right, bottom = (letters[:, 0] + letters[:, 2]).max(), (letters[:, 1] + letters[:, 3]).max()
    height = float(percentile(letters[:, 3], 70))
    feet = np.stack([letters[:, 0] + letters[:, 2] / 2, letters[:, 1] + letters[:, 3]], axis=1)
    return _Line((float(left), float(top), float(right), float(bottom)), height, feet)


def _whole(pieces: list[_Line]) -> list[_Line]:
    """Pieces of one line put together. A letter looks for the next in its own height; after a small one, such as the
    comma before a wide blank, that is too near."""
    found: list[_Line] = []
    for piece in sorted(pieces, key=lambda item: item.box[0]):
        before = next((line for line in found if _goes_on(line, piece)), None)
        if before is None:
            found.append(piece)
            continue
        a, b = before.box, piece.box
        box = (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))
        longer = max(before, piece, key=lambda item: item.letters)
        found[found.index(before)] = _Line(box, longer.letter, np.concatenate([before.feet, piece.feet]))
    return found


def _goes_on(line: _Line, piece: _Line) -> bool:
    small, large = sorted((line.letter, piece.letter))
    shared = min(line.box[3], piece.box[3]) - max(line.box[1], piece.box[1])
    lower = min(line.box[3] - line.box[1], piece.box[3] - piece.box[1])
    near = 0 <= piece.box[0] - line.box[2] < REACH * large
    # A word may have small letters only, and the next a tall one.
    return near and large <= _TALL_TO_SMALL * small and shared > LEVEL * lower


def _grouped(lines: list[_Line]) -> list[list[_Line]]:
    groups: list[list[_Line]] = []
    for line in sorted(lines, key=lambda item: item.box[1]):
        fits = [g for g in groups if any(_one_block(member, line) for member in g)]
        merged = [line, *(member for group in fits for member in group)]
        groups = [g for g in groups if g not in fits] + [merged]
    return groups


def _with_tails(groups: list[list[_Line]], lines: Sequence[_Line]) -> list[list[_Line]]:
    """The groups with short last lines put to them, which stood alone or were too short to be told from dirt."""
    short = sorted((line for line in lines if line.letters <= _TAIL_LETTERS), key=lambda line: line.box[1])
    for line in short:
        own = next((group for group in groups if line in group), None)
        if own is not None and len(own) > 1:
            continue
        over = next((group for group in groups if group is not own and _ends_with(group, line)), None)
        if over is not None:
            over.append(line)
            groups = [group for group in groups if group is not own]
    return groups


def _ends_with(group: Sequence[_Line], line: _Line) -> bool:
    """Whether a line is the last of a paragraph: right below it, and level with its left side or its middle."""
    letter = median(member.letter for member in group)
    if not _TAIL_HEIGHT[0] * letter <= line.letter <= _TAIL_HEIGHT[1] * letter:
        return False
    last = max(group, key=lambda member: member.box[3])
    left = min(member.box[0] for member in group)
    askew = abs(line.box[0] + line.box[2] - last.box[0] - last.box[2]) / 2
    level = min(abs(line.box[0] - left), abs(line.box[0] - last.box[0]), askew) < _TAIL_INDENT * letter
    if not level or line.box[2] > last.box[2] + letter:
        return False
    white = line.box[1] - last.foot_near((line.box[0] + line.box[2]) / 2)
    return -0.2 * letter < white < (_LEADING + 0.3) * letter


def _one_block(a: _Line, b: _Line) -> bool:
    small, large = sorted((a.letter, b.letter))
    # Where a third of the letters are tall, the usual one is a tall letter here and a small one there.
    both_long = min(a.letters, b.letters) >= _SLOPE_LETTERS and abs(a.box[0] - b.box[0]) < large
    if large > (_TALL_TO_SMALL if both_long else _ALIKE) * small:
        return False
    white = max(a.box[1], b.box[1]) - min(a.box[3], b.box[3])
    apart = max(a.box[0], b.box[0]) - min(a.box[2], b.box[2])
    return white < _LEADING * small and apart < 0


def _region(group: list[_Line], scale: float) -> Region:
    left, top = min(line.box[0] for line in group), min(line.box[1] for line in group)
    right, bottom = max(line.box[2] for line in group), max(line.box[3] for line in group)
    letter = float(np.median([line.letter for line in group]))
    (square, straight), _ = bend_of([line.feet for line in group], letter)
    box = (left / scale, top / scale, right / scale, bottom / scale)
    return Region(box, letter / scale, len(group), _opening(group, letter) / scale, (square * scale, straight))


def _opening(group: list[_Line], letter: float) -> float:
    """How far down the first lines reach, without those above them in larger type: up to half-way to the next line."""
    ordered = sorted(group, key=lambda line: line.box[1] + line.box[3])
    first = next(n for n, line in enumerate(ordered) if line.letter <= _TITLE * letter)
    above, below = ordered[: first + OPENING], ordered[first + OPENING :]
    lowest = max(line.box[3] for line in above)
    return (lowest + max(lowest, min(line.box[1] for line in below))) / 2 if below else lowest


def _span(low: float, high: float) -> slice:
    return slice(max(0, int(low)), max(0, int(np.ceil(high))))
