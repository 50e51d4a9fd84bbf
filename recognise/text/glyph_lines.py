"""Lines of text from a PDF's text layer.

Glyphs come in the order in which the file paints them, which keeps columns apart; where an engine paints letter by
letter in an order of its own, runs that stand on one base line and nearly touch are joined afterwards.
"""

from __future__ import annotations

import itertools
import math
import re
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ingest.page import VectorGlyph
from recognise.evidence import TextLine
from recognise.geometry import box_of_all
from recognise.text.holes import HOLE, filled
from recognise.text.justified import Run, with_words_joined

_LIGATURES = str.maketrans({"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"})
_LINE_END_HYPHEN = str.maketrans({"\x02": "-", "\ufffe": "-"})
"""PDFium's own characters for a hyphen that stands at a line's end."""
_SOFT_HYPHEN = "\u00ad"

_RUN_GAP = 1.5
"""Font sizes that may part two glyphs painted one after the other in the same line; columns stand further apart or are
painted apart."""
_JOIN_GAP = 0.8
"""The same for runs that were painted apart."""
_LEAST_SPACE = 0.16
"""Font sizes of white between the ink of two letters that make a space: spaces are 0.2 to 0.35 em and add the letters'
side bearings, which alone seldom reach 0.12 em."""
_LEAST_BLANK = -0.3
"""The same where the file has a blank: slanted letters lean over it."""
_SURE_SPACE = 0.45
"""White that parts words even where the file has blanks, but none here."""
_TRACKING = 0.13
"""What a space adds, at least, to the usual gap of letters set wide."""
_WORD_GAP, _WORD_WHITE = 0.06, 0.1
"""What parts words that a file shows one by one: font sizes by which the white between two is wider than that between
their letters, and how wide it is at least. Condensed faces have narrow spaces."""
_FEWEST_BLANKS, _WELL_APART = 3, 0.2
"""So many blanks of a line tell how wide they are, and by so many font sizes they are wider than what parts letters."""
_FEWEST_LETTERS = 8
"""So many characters of a line tell whether its blanks are such."""
_HARDLY = 0.15
"""The share of that by which white may lie off the usual."""
_LETTER, _DOT = 0.6, 0.14
"""Font sizes that a letter is high, and a full stop or what of a comma stands on the base line."""
_ON_BASE_LINE = frozenset(".,‚„…")
_LEAST_INK = 0.1
"""Font sizes that a glyph without a name is wide and high, if it is not a blank."""
_ALL = 0.9
"""The part of a line's characters that are bold where it is a line in bold."""
_SAME_SIZE = 0.25
"""Relative difference of font sizes within one line."""


def glyph_lines(glyphs: Iterable[VectorGlyph]) -> list[TextLine]:
    """The visible upright text of a page as lines, each a stretch with no wide gap in it, in painting order."""
    upright = [g for g in glyphs if g.visible and g.upright and g.text != _SOFT_HYPHEN]
    seen = [g for g in upright if g.text.strip() or _is_unnamed(g)]
    lines = [_line(run) for run in with_words_joined(_joined(_runs(seen))) if any(g.text.strip() for g in run)]
    return [line for line in lines if line.text]


def _is_unnamed(glyph: VectorGlyph) -> bool:
    """Whether a glyph has ink and the file does not say which character it is."""
    left, top, right, bottom = glyph.box
    return not glyph.text and not glyph.as_path and min(right - left, bottom - top) > _LEAST_INK * glyph.size


def _runs(glyphs: Sequence[VectorGlyph]) -> list[Run]:
    runs: list[Run] = []
    for glyph in glyphs:
        if runs and _goes_on(runs[-1], glyph):
            runs[-1].append(glyph)
        else:
            runs.append([glyph])
    return runs


def _goes_on(run: Run, glyph: VectorGlyph) -> bool:
    last = run[-1]
    if glyph.box == last.box:
        # The letters of a ligature share its box.
        return True
    gap = glyph.box[0] - last.box[2]
    size = max(last.size, glyph.size)
    return -0.5 * size < gap < _RUN_GAP * size and _same_size(last, glyph) and _level(_reach(run[-8:]), _reach([glyph]))


def _same_size(a: VectorGlyph, b: VectorGlyph) -> bool:
    return abs(a.size - b.size) <= _SAME_SIZE * max(a.size, b.size)


def _reach(run: Sequence[VectorGlyph]) -> tuple[float, float]:
    """The height that a run's letters take up; marks such as hyphens and quotes are given a letter's height, around
    them or, for commas, from the base line up: a figure that begins a line shares no height with its comma."""
    tops, bottoms = [], []
    for glyph in run:
        high, height = glyph.box[3] - glyph.box[1], _LETTER * glyph.size
        hangs = glyph.text in _ON_BASE_LINE and high < height
        bottom = glyph.box[1] + _DOT * glyph.size if hangs else glyph.box[3] + max(height - high, 0) / 2
        height = max(high, height)
        tops.append(bottom - height)
        bottoms.append(bottom)
    return min(tops), max(bottoms)


def _level(a: tuple[float, float], b: tuple[float, float]) -> bool:
    """Whether two reaches stand on one line: the smaller lies by more than half in the other."""
    overlap = min(a[1], b[1]) - max(a[0], b[0])
    return overlap > 0.5 * min(a[1] - a[0], b[1] - b[0])


def _joined(runs: list[Run]) -> list[Run]:
    """Join runs of one line that nearly touch, whatever the order in which they were painted."""
    open_runs = sorted(runs, key=lambda run: run[0].box[0])
    reaches = [_reach(run) for run in open_runs]
    taken = [False] * len(open_runs)
    found: list[tuple[int, Run]] = []
    places = {id(run): at for at, run in enumerate(runs)}
    for i, run in enumerate(open_runs):
        if taken[i]:
            continue
        first, reach = places[id(run)], reaches[i]
        whole = list(run)
        for j in range(i + 1, len(open_runs)):
            other = open_runs[j]
            gap = other[0].box[0] - max(g.box[2] for g in whole[-3:])
            if gap > _JOIN_GAP * whole[-1].size:
                if gap > 3 * whole[-1].size:
                    break
                continue
            if (
                not taken[j]
                and gap > -0.5 * whole[-1].size
                and _same_size(whole[-1], other[0])
                and _level(reach, reaches[j])
            ):
                taken[j] = True
                first = min(first, places[id(other)])
                whole += other
        found.append((first, whole))
    return [run for _, run in sorted(found, key=lambda item: item[0])]


def _line(run: Run) -> TextLine:
    fonts = [g.font.lower() for g in run]
    return TextLine(
        text=_spaced(run),
        box=box_of_all(glyph.box for glyph in run),
        size=statistics.median(g.size for g in run),
        confidence=1.0,
        how="vector",
        bold=_throughout(re.search(r"bold|black|heavy|semibold|demi", f) is not None for f in fonts),
        italic=_throughout(re.search(r"italic|oblique", f) is not None for f in fonts),
    )


def _throughout(flags: Iterable[bool]) -> bool:
    """Whether all of a line is set so, but for a character or two: a line that a heading in bold opens is set as the
    lines below it are."""
    listed = list(flags)
    return sum(listed) >= _ALL * len(listed)


def _spaced(run: Run) -> str:
    """The text of a run with spaces where the file has a blank, or where the white between two letters is wider than
    letters are set apart in a run without any."""
    gaps = [(b.box[0] - a.box[2]) / max(a.size, 1e-6) for a, b in itertools.pairwise(run)]
    usual = statistics.median(gaps) if gaps else 0.0
    if _has_blanks_in_words(run, usual):
        run = [replace(glyph, spaced=False) for glyph in run]
    least = max(_LEAST_SPACE, usual + _TRACKING)
    least_between = min(least, _least_between(run, gaps))
    told = any(g.spaced for g in run[1:])
    least_blank, sure_space = _blanks_of(run, gaps)
    pieces = [run[0].text or HOLE]
    for gap, before, glyph in zip(gaps, run, run[1:], strict=False):
        small = before.text.islower() and glyph.text.islower()  # capitals such as V lean over the blank beside them
        blank = (glyph.spaced and gap > (least_blank if small else _LEAST_BLANK)) or gap > max(least, sure_space)
        if glyph.order != before.order:
            parted = gap > (max(least_between, _LEAST_SPACE) if told else least_between)
        else:
            parted = gap > least and not told
        text = glyph.text or HOLE
        pieces.append(f" {text}" if blank or parted else text)
    return filled(" ".join("".join(pieces).translate(_LIGATURES | _LINE_END_HYPHEN).split()))


def _has_blanks_in_words(run: Run, usual: float) -> bool:
    """Whether a file has blanks between the letters of words: such a blank stands between most, which stand as close as
    letters do."""
    blanks = sum(glyph.spaced for glyph in run[1:])
    letters = sum(glyph.text.isalpha() for glyph in run)
    return 2 * blanks > len(run) > _FEWEST_LETTERS and 2 * letters > len(run) and usual < _LEAST_SPACE


def _blanks_of(run: Run, gaps: Sequence[float]) -> tuple[float, float]:
    """From which white a blank of the file is believed, and which parts letters without one: where a line's blanks are
    well apart from the white between its letters, one that has none is a slip of the program that set it."""
    blanks = [gap for gap, glyph in zip(gaps, run[1:], strict=True) if glyph.spaced]
    between = [gap for gap, glyph in zip(gaps, run[1:], strict=True) if not glyph.spaced]
    if len(blanks) < _FEWEST_BLANKS or not between:
        return _LEAST_BLANK, _SURE_SPACE
    low, high = statistics.median(between), statistics.median(blanks)
    if high - low < _WELL_APART:
        return _LEAST_BLANK, _SURE_SPACE
    return low + _HARDLY * (high - low), min(_SURE_SPACE, high - _HARDLY * (high - low))


def _least_between(run: Run, gaps: Sequence[float]) -> float:
    """How wide the white between two texts of a file must be, in font sizes, to part words; no such white where the
    file shows letter by letter."""
    within = [gap for gap, a, b in zip(gaps, run, run[1:], strict=False) if a.order == b.order]
    if not within or len(within) < len(gaps) - len(within):
        return math.inf
    return max(_WORD_WHITE, statistics.median(within) + _WORD_GAP)
