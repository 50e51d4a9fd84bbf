"""Lines under the circle of another line: it is none of theirs, and hides the head of an arrow that ends there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from recognise.marks.lines import DRAWN, Course
from recognise.marks.network import BY_NAME, Chances
from schema.cells import Cell

LIKELY = 0.6
"""How likely a head is that nobody can see: the arrow is asked about."""


def without_foreign_rings(course: Course, lines: Sequence[Course], chances: Chances) -> Chances:
    """The chances for one arrow: of several circles on it those in which a line between circles ends are that line's,
    where one is left in which the arrow begins, or it begins in a capsule, and hide its heads. And for a line between
    circles: of those on its way the ones in which another such line ends are that one's."""
    others = [line for line in lines if line is not course and _is_ringed(line, chances)]
    if _is_ringed(course, chances):
        return _without({cell for line in others for cell in line.ends} - set(course.ends), chances)
    rings = {cell for cell in course.cells if chances.node(cell, "CIRCLE") > DRAWN}
    capsules = {cell for cell in course.ends if chances.node(cell, "CAPSULE") > DRAWN}
    foreign = rings & {cell for line in others for cell in line.ends}
    if course.kind != "SHAFT" or not foreign or not (rings | capsules) - foreign:
        return chances
    own = _without(foreign, chances)
    for cell in foreign & set(course.ends):
        own.heads["node"][0, BY_NAME["node"].classes.index("HEAD"), cell.row, cell.column] = LIKELY
    return own


def _without(rings: Iterable[Cell], chances: Chances) -> Chances:
    """The chances without circles in some cells."""
    told = chances.heads["node"].copy()
    for cell in rings:
        told[0, BY_NAME["node"].classes.index("CIRCLE"), cell.row, cell.column] = 0
    return replace(chances, heads=chances.heads | {"node": told})


def _is_ringed(line: Course, chances: Chances) -> bool:
    """Whether a plain line has a circle at each of its two ends."""
    return line.kind == "LINE" and len(line.ends) == 2 and all(chances.node(c, "CIRCLE") > DRAWN for c in line.ends)
