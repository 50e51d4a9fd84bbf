"""Tints of which the rules speak and none was found, where the lattice network sees some.

Its word alone makes no tint: light and the print of the other side darken the ground as well. But such a page is to be
looked at, and a person is shown where."""

from __future__ import annotations

from collections.abc import Iterator

from recognise.draft import Doubt, Draft, box_polygon
from recognise.geometry import box_of_all
from recognise.grouping import areas
from recognise.interpret.draft import not_found
from recognise.marks.lines import MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.by_depth import named
from recognise.rules import RuleSheet

ENOUGH = 3
"""Cells in all; fewer are stains."""


def unseen_tints(draft: Draft, sheet: RuleSheet | None, chances: Chances) -> Iterator[Doubt]:
    """A doubt for each area that is surely tinted to the network, where it is asked why none was found."""
    asked = {doubt.why for doubt in draft.doubts}
    told = () if sheet is None else sheet.statements
    if not any(statement.mark.shape == "tint" and not_found(statement) in asked for statement in told):
        return
    seen = [cell for cell in chances.cells() if chances.node(cell, "TINT") > MIDDLING[1]]
    for area in areas(seen) if len(seen) >= ENOUGH else ():
        place = box_of_all((cell.column - 1.0, cell.row - 1.0, cell.column, cell.row) for cell in area)
        yield Doubt(f"perhaps {named(area)} are tinted", where=box_polygon(place))
