"""Doubtful characters held against the sure ones of their page: the givens of a grid are set in one fount.

How much a character looks like one of the same page is other evidence than what the network makes of its shape: blur,
light and the press did to both what they did. By Bayes' rule the network's probability of each digit is weighed by how
likely so large a remainder is: what a correlation leaves unexplained, to a power that was fitted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import cv2
import numpy as np

from recognise.evidence import Glyph, Guess
from recognise.pixels.cells import ENOUGH
from recognise.pixels.frame import Grey, Raster

SURE = 0.98
"""From here on a character is a pattern for others."""
DOUBTFUL = 0.995
"""Up to here it is held against them."""
PAD = 0.03
"""In cells: paper around a pattern that counts with it."""
SHIFT = 0.06
"""In cells: how far off the middle of a character's box a pattern may fit best."""
POWER = 2.0
"""How much the remainder tells."""
NOTHING, STROKE = 0.9, 0.95
"""What is no character, a stain or a piece of a line, looks no more like one than this, or like one of STROKES."""
STROKES = "17"
"""What a bar or a corner looks like."""
LEAST, MOST = 0.3, 0.99
"""Correlations that are as good as none, and as the very same."""


def in_the_same_fount(glyphs: Sequence[Glyph], drawn: Grey, raster: Raster) -> list[Glyph]:
    """The characters of a grid, the doubtful ones in its cells weighed by how much they look like the sure ones there.
    `drawn` is ink without lattice lines."""
    single = [g for g in glyphs if len(g.text) == 1 and raster.cell_of(*g.centre) is not None]
    patterns = [(g, _ink_of(g, drawn, raster)) for g in single if g.confidence >= SURE]
    if len(patterns) < ENOUGH:
        return list(glyphs)
    weighed: dict[int, Glyph] = {}
    for glyph in single:
        if glyph.confidence < DOUBTFUL:
            others = [(other.text, ink) for other, ink in patterns if other is not glyph]
            weighed[id(glyph)] = weighed_by(glyph, likeness(glyph, others, drawn, raster))
    return [weighed.get(id(glyph), glyph) for glyph in glyphs]


def likeness(glyph: Glyph, patterns: Iterable[tuple[str, Grey]], drawn: Grey, raster: Raster) -> dict[str, float]:
    """For each character that has a pattern its largest correlation with the ink at a glyph, -1 to 1."""
    found: dict[str, float] = {}
    x, y = (raster.at(v) for v in glyph.centre)
    reach = raster.px(SHIFT)
    for text, pattern in patterns:
        high, wide = pattern.shape
        top, left = max(0, round(y - high / 2) - reach), max(0, round(x - wide / 2) - reach)
        part = drawn[top : top + high + 2 * reach, left : left + wide + 2 * reach]
        if part.shape[0] >= high and part.shape[1] >= wide:
            fit = float(cv2.matchTemplate(part, pattern, cv2.TM_CCOEFF_NORMED).max())
            found[text] = max(fit, found.get(text, -1.0))
    return found


def weighed_by(glyph: Glyph, alike: Mapping[str, float]) -> Glyph:
    """A character with its guesses weighed by their likeness to the page's own. One that the page has no pattern of may
    look like the best of them for all that is known."""
    best = max(alike.values(), default=0.0)
    if best < LEAST:
        return glyph
    weights = []
    for guess in glyph.guesses:
        fit = alike.get(guess.text, best if guess.text else min(best, STROKE if glyph.text in STROKES else NOTHING))
        weights.append(guess.probability * ((1 - min(max(fit, LEAST), MOST)) / (1 - min(best, MOST))) ** -POWER)
    guesses = [Guess(g.text, w / sum(weights)) for g, w in zip(glyph.guesses, weights, strict=True)]
    return replace(glyph, guesses=tuple(sorted(guesses, key=lambda g: -g.probability)))


def _ink_of(glyph: Glyph, drawn: Grey, raster: Raster) -> Grey:
    return np.ascontiguousarray(drawn[raster.slices(glyph.box, raster.px(PAD))])
