"""Arrows that end under the circle of another line: it hides their head, and is not the one in which they begin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recognise.marks.lines import DRAWN, Course
from recognise.marks.network import BY_NAME, Chances

LIKELY = 0.6
"""How likely a head is that nobody can see: the arrow is asked about."""


def without_foreign_rings(course: Course, lines: Sequence[Course], chances: Chances) -> Chances:
    """The chances for one arrow: of several circles on it those in which a line between circles ends are that line's,
    where one is left in which the arrow begins, or it begins in a capsule, and hide its heads."""
    rings = {cell for cell in course.cells if chances.node(cell, "CIRCLE") > DRAWN}
    capsules = {cell for cell in course.ends if chances.node(cell, "CAPSULE") > DRAWN}
    foreign = rings & {cell for line in lines if _is_ringed(line, chances) for cell in line.ends}
    if course.kind != "SHAFT" or not foreign or not (rings | capsules) - foreign:
        return chances
    classes = BY_NAME["node"].classes
    told = chances.heads["node"].copy()
    for cell in foreign:
        told[0, classes.index("CIRCLE"), cell.row, cell.column] = 0
        if cell in course.ends:
            told[0, classes.index("HEAD"), cell.row, cell.column] = LIKELY
    return replace(chances, heads=chances.heads | {"node": told})


def _is_ringed(line: Course, chances: Chances) -> bool:
    """Whether a plain line has a circle at each of its two ends."""
    return line.kind == "LINE" and len(line.ends) == 2 and all(chances.node(c, "CIRCLE") > DRAWN for c in line.ends)
