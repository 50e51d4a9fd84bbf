"""Lines so thin and pale that each pixel of them drowns in the texture of the paper, and all of them together do not.

The network sees them. Ink is told from texture pixel by pixel; evened out along the way between two cells that of a
line stands, and that of the paper goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from recognise.marks.line_looks import BROADER
from recognise.marks.shown_through import SOME_INK, darkness
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

EVENED = 5
"""Stations over which ink is evened out along a step."""
STANDS = 0.5
"""Of the ink that counts pixel by pixel so much counts there: on two pages whose lines had 0.03 to 0.09, in a twentieth
and half of their stations, paper had 0.009 to 0.02 beside them."""
ALONG = 0.85
"""Such a line has ink all along, but where others cross it."""
FINEST = 0.07
"""In cells: no such line is wider; what shows through is, or as wide as a line that is plainly drawn."""


def with_fine(steps: Sequence[Step], fine: Callable[[Cell, Cell], Stroke], palest: float) -> list[Step]:
    """Steps, of those without any ink each as `fine` sees it that is a fine line: no paler than the `palest` that is
    printed, and narrower than all that are plainly drawn."""
    narrowest = min((step.stroke.width for step in steps if step.stroke.strong), default=FINEST * BROADER)
    found = []
    for step in steps:
        stroke = fine(step.first, step.second) if step.stroke.inked < SOME_INK and step.kind != "TUBE" else step.stroke
        narrow = 0 < stroke.width <= min(FINEST, narrowest / BROADER)
        is_fine = narrow and stroke.inked >= ALONG and darkness(stroke) >= palest
        found.append(replace(step, stroke=replace(stroke, strong=False)) if is_fine else step)
    return found
