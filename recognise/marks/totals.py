"""Totals of cages by where those of their page begin: print sets them flush left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place
from recognise.marks.text_readings import SURE, Reading, longest
from recognise.pixels.glyphs import OPERATIONS

LEAST_STARTS = 3
"""So many totals show where those of a page begin."""
FLUSH = 0.03
"""In cells: how exactly they begin in one place."""
ONE_FIGURE = (0.3, 0.85)
"""As parts of its height: how much farther in a number begins that has lost its first figure."""
LINE, BLUR = 0.2, 0.02
"""As a part of the way from where totals begin to where one does, how much of it a thick line may take up; in cells,
how far the blur of a figure reaches out of its box."""
CLEAR, SPECKS = 2.0, 0.02
"""Ink of so many times what noise reaches is print, and paper has it on no larger part of it."""
FADED = 0.1
"""How likely a figure before a total has faded to paper, counted as confidences are: several on a page, or one beside
other doubts, are left to the proof, which tries the total with a figure too."""
MOST_FIGURES = 2
"""So many figures sums have at most."""
OF_ONE_FIGURE, USUAL_SIZE = "-÷", 9
"""The signs behind numbers of one figure, in grids of so many digits at most."""
LOST_FIGURES = {"1": 0.5, "2": 0.15, "3": 0.15, "4": 0.1, "": 0.1}
"""Which figure that may be, sums having no more than two: how likely each is, and that there was none."""


def leave_out_walls(found: dict[Place, list[Reading]], corners: Sequence[Place]) -> None:
    """Leave out, at each corner, the readings of which the number begins before those of the page do, where another
    one begins with them and has fewer figures: its first figure is a dash of the cage's wall. A look that shows as many
    stays, though the wall touches them: it may show the sign behind them, and the wall may have been taken out with a
    part of a figure."""
    starts = {place: start for place in corners if (start := _start(longest(found[place]), place)) is not None}
    usual = _usual(list(starts.values()))
    for place, start in starts.items():
        if usual is not None and start < usual - FLUSH:
            inside = [r for r in found[place] if (_start(r, place) or 0.0) >= usual - FLUSH and r.least >= SURE]
            if inside:
                most = max(len(r.text) for r in inside)
                found[place] = [r for r in found[place] if len(r.text) <= most]


def usual_start(found: Mapping[Place, Sequence[Reading]]) -> float | None:
    """How far from the left of their cells the totals of a page begin, of what was read in corners; None where they do
    not begin in one place."""
    starts = [_start(longest(readings), place) for place, readings in found.items() if place.in_corner]
    return _usual([start for start in starts if start is not None])


def is_flush(box: Box, place: Place, usual: float | None) -> bool:
    """Whether a total begins where those of its page do: no figure of it stands before that."""
    return place.in_corner and usual is not None and abs(box[0] - place.box[0] - usual) <= FLUSH


def is_total(text: str) -> bool:
    """Whether a text is a number, or one with the sign of an operation."""
    return text.rstrip(OPERATIONS).isdecimal()


def complete_totals(glyphs: list[Glyph], totals: Mapping[int, Place], seen: Print) -> None:
    """Put a figure before each total (by its index, with its place) that has lost its first."""
    usual = _usual([glyphs[at].box[0] - place.box[0] for at, place in totals.items()])
    if usual is not None:
        small = max(seen.raster.rows, seen.raster.columns) <= USUAL_SIZE
        for at, place in totals.items():
            if small and glyphs[at].text.endswith(tuple(OF_ONE_FIGURE)):
                continue
            bare = _is_bare_before(glyphs[at].box, place.box[0] + usual, seen)
            glyphs[at] = with_lost_figure(glyphs[at], place, usual, bare=bare)


def _is_bare_before(box: Box, start: float, seen: Print) -> bool:
    """Whether nothing but paper lies before a total from where those of its page begin, neither a figure nor a wall
    with which one was taken out: a thick line of the grid moves what stands beside it farther in. The line may reach
    over where they begin, but no figure ends there."""
    left, top, right, bottom = box
    if right <= left or left - start <= 0:
        return False
    before = seen.whole[seen.raster.slices((start + LINE * (left - start), top, left - BLUR, bottom))]
    return bool(before.size and (before > CLEAR * seen.floor).mean() <= SPECKS)


def with_lost_figure(glyph: Glyph, place: Place, usual: float, *, bare: bool = False) -> Glyph:
    """A total that begins one figure farther in than those of its page do, with a figure before it: totals are set
    flush left, and what is slim and in line with the wall of its cage was taken out with it, which is mostly a 1. Sums
    that have two figures have lost none: where paper bends, some begin farther in. Where the paper before it is `bare`
    it has hardly lost one."""
    figures = glyph.text.rstrip(OPERATIONS)
    if not figures.isdecimal() or (len(figures) >= MOST_FIGURES and figures == glyph.text):
        return glyph
    farther = (glyph.box[0] - place.box[0] - usual) / max(glyph.box[3] - glyph.box[1], 1e-6)
    if not ONE_FIGURE[0] <= farther <= ONE_FIGURE[1]:
        return glyph
    if bare:
        lost = [Guess(figure + glyph.text, FADED * chance) for figure, chance in LOST_FIGURES.items() if figure]
        return replace(glyph, guesses=(*glyph.less_sure(1 - FADED).guesses, *lost))
    guesses = [Guess(figure + glyph.text, chance) for figure, chance in LOST_FIGURES.items()]
    return replace(glyph, guesses=tuple(guesses), box=(usual + place.box[0], *glyph.box[1:]))


def _start(reading: Reading, place: Place) -> float | None:
    """How far from the left of its cell what is read in a corner begins."""
    return min((character.box[0] - place.box[0] for character in reading.characters), default=None)


def _usual(starts: Sequence[float]) -> float | None:
    """How far from the left of their cells the totals of a page begin; None where they do not begin in one place."""
    usual = float(np.median(starts)) if len(starts) >= LEAST_STARTS else 0.0
    flush = sum(abs(start - usual) <= FLUSH for start in starts)
    return usual if len(starts) >= LEAST_STARTS and flush > len(starts) / 2 else None
