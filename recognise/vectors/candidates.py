"""Small figures that a page prints in every cell for the solver to cross out: they say nothing of the puzzle."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from recognise.vectors.letters import Mark
from recognise.vectors.place import Placement

LARGEST = 0.3
"""In cells: the size of their type at most."""
ALIKE = 0.04
"""In cells: by no more do the places differ at which one of them stands in its cells."""
LEAST, SHARE = 3, 0.5
"""So many different ones at least, each in so large a part of the cells: those with a given have none."""


def candidates(marks: Sequence[Mark], placement: Placement) -> list[Mark]:
    """Those of the characters on a grid that are such."""
    figures: dict[str, list[Mark]] = {}
    for mark in marks:
        if mark.size <= LARGEST and mark.glyph.text.isdigit():
            figures.setdefault(mark.glyph.text, []).append(mark)
    least = SHARE * placement.rows * placement.columns
    alike = [_in_their_place(each) for each in figures.values() if len(each) >= least]
    found = [each for each in alike if len(each) >= least]
    return [mark for each in found for mark in each] if len(found) >= LEAST else []


def _in_their_place(marks: Sequence[Mark]) -> list[Mark]:
    """Those that stand where most do in their cells."""
    places = np.array([mark.middle for mark in marks]) % 1
    off = np.abs(places - np.median(places, axis=0)).max(axis=1)
    return [mark for mark, far in zip(marks, off, strict=True) if far <= ALIKE]
