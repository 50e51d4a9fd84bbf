"""Bulbs of which the network is not quite sure, held against the sure ones of their page: print draws all in one size.

A bulb that is unlike those that the network has learned, with a spot in it or beside another tube, shows as large as
the others all the same, and larger than its tube is wide. The round end of a tube is as large as that is wide."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from recognise.marks.lines import DRAWN, MIDDLING, Course
from recognise.marks.network import BY_NAME, Chances
from schema.cells import Cell

SURE_ONES = 2
"""So many sure bulbs tell how large those of a page are."""
SAME = 0.08
"""As a part of it, by how much the radius of a bulb differs from the usual one at most."""
WIDER = 1.2
"""As many times as half the width of its tube is the radius of a bulb at least."""
LIKELIER = 30.0
"""So many times likelier it is that a circle of that size stands where a bulb does than where none is."""


def with_bulbs_alike(chances: Chances, lines: Sequence[Course], radius: Callable[[Cell], float | None]) -> Chances:
    """The chances, with those of bulbs raised that are rather there than not and as large as the sure ones. `radius`
    measures the circle about the middle of a cell, None where none shows."""
    tubes = [course for course in lines if course.kind == "TUBE"]
    likely = {cell: chances.node(cell, "BULB") for course in tubes for cell in course.cells}
    sure = [cell for cell, chance in likely.items() if chance >= MIDDLING[1]]
    unsure = [cell for cell, chance in likely.items() if DRAWN < chance < MIDDLING[1]]
    if not unsure or len(sure) < SURE_ONES:
        return chances
    sizes = [size for cell in sure if (size := radius(cell)) is not None]
    usual = float(np.median(sizes)) if len(sizes) >= SURE_ONES else 0.0
    told = chances.heads["node"].copy()
    for cell in unsure:
        size, half = radius(cell) or 0.0, _half_width(cell, tubes)
        if abs(size - usual) <= SAME * usual and size >= WIDER * half > 0:
            odds = LIKELIER * likely[cell] / (1 - likely[cell])
            told[0, BY_NAME["node"].classes.index("BULB"), cell.row, cell.column] = odds / (1 + odds)
    return replace(chances, heads=chances.heads | {"node": told})


def _half_width(cell: Cell, tubes: Sequence[Course]) -> float:
    """Half of how wide the widest tube in a cell usually is, for a step beside other marks measures wider; 0 where none
    could be measured."""
    widths = [
        [step.stroke.width for step in course.steps if step.stroke.width > 0]
        for course in tubes
        if cell in course.cells
    ]
    return max((float(np.median(own)) for own in widths if own), default=0.0) / 2
