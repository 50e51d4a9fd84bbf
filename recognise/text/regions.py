"""Where on a page text stands: blocks of it, found from the places of its letters, without reading anything."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.components import components
from recognise.quantiles import percentile
from recognise.text.baseline import Bend, bend_of
from recognise.text.column_rules import of_rules
from recognise.text.grouping import SLOPE_LETTERS, TALL_TO_SMALL, Line, grouped, whole, with_tails
from recognise.text.next_letters import REACH, next_to_each_other
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
_LEAST_LETTERS = 3
_TANGLED = 24
"""Letters of lines that hang together, at least."""
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
    beyond: tuple[float, float] = (0.0, 0.0)
    """How far its lines reach above and below the box once they are straight, in pixels."""


Lines = list[Line]


def text_regions(grey: Grey, grids: Sequence[Box], seen: Lines | None = None) -> list[Region]:
    """Blocks of text outside the grids (boxes in image pixels), top to bottom; `seen` is what `lines_of` gave, where
    that was asked before."""
    scale = _scale_of(grey)
    found = lines_of(grey, grids) if seen is None else seen
    lines = whole(_text_only([line for line in found if line.letters >= _LEAST_LETTERS]))
    groups = with_tails(grouped(lines), [*lines, *(line for line in found if line.letters < _LEAST_LETTERS)])
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
    long_lines = [line for line in _text_only(lines_of(grey, grids)) if line.letters >= SLOPE_LETTERS]
    return float(np.degrees(np.median([line.slope for line in long_lines]))) if long_lines else 0.0


def _text_only(lines: list[Line]) -> list[Line]:
    """The lines without what is no text: the grain of the table that a page was photographed on has pieces that stand
    on no common base, and few of a size."""
    lines = [line for line in lines if line.letters <= _LEAST_LETTERS or line.base[1] >= _ON_BASE]
    sizes = [line.letter for line in lines if line.letters >= SLOPE_LETTERS]
    least = _LEAST_SIZE * min(sizes, default=0.0)
    return [line for line in lines if line.letters >= SLOPE_LETTERS or line.letter >= least]


def letters_in_line(seen: Lines) -> int:
    """How many letters stand in lines that are level and long; few on a page that lies on its side."""
    found = [line for line in _text_only(seen) if line.letters >= SLOPE_LETTERS]
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


def _text_seen(lines: list[Line]) -> float:
    """How much text there is, in pixels of length: in a blurred picture letters are not to be counted, and in a noisy
    one the grain makes many that are small."""
    long_lines = [line for line in _text_only(lines) if line.letters >= _LONG_ENOUGH]
    return sum(line.box[2] - line.box[0] for line in long_lines)


def _lines_of(dark: npt.NDArray[np.bool_]) -> list[Line]:
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


def _hanging(letters: Numbers, shape: tuple[int, ...]) -> list[Line]:
    found = _in_reach(letters, shape)
    pitch = _pitch(found)
    return found if pitch is None else _in_reach(letters, shape, _TYPED_BLANK * pitch)


def _pitch(lines: Sequence[Line]) -> float | None:
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


def _in_reach(letters: Numbers, shape: tuple[int, ...], blank: float = 0.0) -> list[Line]:
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


def _apart(letters: Numbers) -> list[Line]:
    """Letters that hang together as one line, or as several where they then stand on their bases: on a page that curls,
    below a narrow leading or beside a large figure the lines of a block touch. Each letter goes on with the next one
    that is level with it; what is as tall as two lines belongs to neither."""
    whole = _line(letters)
    if whole.letters < SLOPE_LETTERS or whole.base[1] >= _SURELY_ON_BASE:
        return [whole]
    low = letters[letters[:, 3] <= TALL_TO_SMALL * whole.letter]
    parts = [_line(low[group]) for group in next_to_each_other(low)]
    standing = sum(p.letters for p in parts if p.letters >= SLOPE_LETTERS and p.base[1] >= _SURELY_ON_BASE)
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


def _line(letters: Numbers) -> Line:
    if len(letters) == 1:  # most are: grain and dirt
        ((left, top, width, height),) = letters.tolist()
        feet = np.array([(left + width / 2, top + height)])
        return Line((left, top, left + width, top + height), height, feet)
    left, top = letters[:, 0].min(), letters[:, 1].min()
    right, bottom = (letters[:, 0] + letters[:, 2]).max(), (letters[:, 1] + letters[:, 3]).max()
    height = float(percentile(letters[:, 3], 70))
    feet = np.stack([letters[:, 0] + letters[:, 2] / 2, letters[:, 1] + letters[:, 3]], axis=1)
    return Line((float(left), float(top), float(right), float(bottom)), height, feet)


def _region(group: list[Line], scale: float) -> Region:
    left, top = min(line.box[0] for line in group), min(line.box[1] for line in group)
    right, bottom = max(line.box[2] for line in group), max(line.box[3] for line in group)
    letter = float(np.median([line.letter for line in group]))
    (square, straight), _ = bend_of([line.feet for line in group], letter)
    box = (left / scale, top / scale, right / scale, bottom / scale)
    above, below = _beyond(np.concatenate([line.feet for line in group]), (square, straight), (left + right) / 2)
    opening = _opening(group, letter) / scale
    return Region(box, letter / scale, len(group), opening, (square * scale, straight), (above / scale, below / scale))


def _beyond(feet: Numbers, bend: Bend, middle: float) -> tuple[float, float]:
    """How far letters (feet x, y; n x 2) reach beyond their highest and lowest once they are straight about the middle
    of their block: a short last line at the lower end of a slope comes to stand below all that was seen there."""
    square, straight = bend
    x, y = feet[:, 0], feet[:, 1]
    flat = y - (square * (x * x - middle * middle) + straight * (x - middle))
    return max(0.0, float(y.min() - flat.min())), max(0.0, float(flat.max() - y.max()))


def _opening(group: list[Line], letter: float) -> float:
    """How far down the first lines reach, without those above them in larger type: up to half-way to the next line."""
    ordered = sorted(group, key=lambda line: line.box[1] + line.box[3])
    first = next(n for n, line in enumerate(ordered) if line.letter <= _TITLE * letter)
    above, below = ordered[: first + OPENING], ordered[first + OPENING :]
    lowest = max(line.box[3] for line in above)
    return (lowest + max(lowest, min(line.box[1] for line in below))) / 2 if below else lowest


def _span(low: float, high: float) -> slice:
    return slice(max(0, int(low)), max(0, int(np.ceil(high))))
