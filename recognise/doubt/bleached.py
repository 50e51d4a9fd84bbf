"""Marks that the press left nearly bare, as the lattice network sees them once the contrast of the picture is raised.

The guard that looks at all ink does not know how marks look, and what is paler than a fifth of print must not count for
it: paper has a grain, and its other side shows through. The network knows marks from both, also where all ink is made
as dark as print, and hardly ever sees one in plain paper: on 204 scans and photos (train half, most of them worn) it
saw some on two, both of them misread."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box, Image
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Flat
from recognise.geometry import bounds, box_at, box_of_all, overlap
from recognise.grouping import chained
from recognise.marks.cell_questions import HARDLY, hardly_printed_words
from recognise.marks.line_questions import faded_words
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.frame import Colours
from schema.cells import Cell

RAISED = 8.0
"""So many times as dark ink is made: a mark with an eighth of its ink is as dark then as print."""
SEEN = 0.9
"""Probability from which on a mark is seen in the raised picture."""
MOST = 3
"""Marks of one page that the press may have left so: what shows through from the other side are many."""
AROUND = 0.15
"""In cells: half the side of the middle of a mark, which nothing that was read may claim."""
LINE = "line"
BETWEEN = "signs, dots or characters between"
IN_CELLS = {"CIRCLE": "circle", "SQUARE": "square"}


@dataclass(frozen=True, slots=True)
class Sight:
    """A mark in one place: what it is called, the cells that it belongs to, and the middle of it, in cells."""

    name: str
    cells: tuple[Cell, ...]
    box: Box


def bleached(flat: Flat, relative: Colours, draft: Draft, look: Callable[[Flat], Chances]) -> list[Doubt]:
    """Doubts about marks that are seen in the raised picture only, where nothing is claimed and nothing asked.
    `relative` is the picture as if on white paper (1 is paper)."""
    taken = [bounds(polygon) for item in draft.items for polygon in item.claimed]
    taken += [bounds(doubt.where) for doubt in draft.doubts if doubt.where is not None]
    plain, raised = look(flat), look(replace(flat, image=_raised(relative)))
    if _shows_through(plain, raised):
        return []
    known = {sight for sight, chance in _sights(plain) if chance > MIDDLING[0]}
    new = [sight for sight, chance in _sights(raised) if chance >= SEEN and sight not in known]
    marks = _whole([sight for sight in new if not any(overlap(sight.box, box) for box in taken)])
    return [Doubt(_words(mark), where=box_polygon(_place(mark))) for mark in marks] if len(marks) <= MOST else []


def _shows_through(plain: Chances, raised: Chances) -> bool:
    """Whether characters are seen in cells of the raised picture that are bare: a pale given has a guard of its own,
    and where the other side of the paper shows its digits, its marks do so as well."""
    told = ((plain.node(cell, "CHARACTERS"), raised.node(cell, "CHARACTERS")) for cell in plain.cells())
    return any(before < MIDDLING[0] and after > DRAWN for before, after in told)


def _raised(relative: Colours) -> Image:
    """The picture, all its ink so many times as dark."""
    return np.asarray(np.rint(255 * (1 - np.clip(RAISED * (1 - relative), 0, 1))), np.uint8)


def _sights(chances: Chances) -> Iterator[tuple[Sight, float]]:
    """What may stand at each place of a grid, and how likely it does."""
    for one, other, told in chances.links():
        yield Sight(LINE, (one, other), _between(one, other)), told["LINE"] + told["SHAFT"] + told["TUBE"]
    for cell in chances.cells():
        for look, name in IN_CELLS.items():
            yield Sight(name, (cell,), box_at(cell.centre, AROUND)), chances.node(cell, look)
        for plane, (down, right) in enumerate(((0, 1), (1, 0))):
            other = Cell(cell.row + down, cell.column + right)
            if other.row <= chances.rows and other.column <= chances.columns:
                nothing = chances.at("edge", cell.row, cell.column, plane)["NONE"]
                yield Sight(BETWEEN, (cell, other), _between(cell, other)), 1 - nothing
    for cell in chances.corners():
        around = tuple(Cell(cell.row + down, cell.column + right) for down in (0, 1) for right in (0, 1))
        place = box_at((float(cell.column), float(cell.row)), AROUND)
        yield Sight("a circle between", around, place), 1 - chances.at("corner", cell.row, cell.column)["NONE"]


def _between(one: Cell, other: Cell) -> Box:
    (x0, y0), (x1, y1) = one.centre, other.centre
    return box_at(((x0 + x1) / 2, (y0 + y1) / 2), AROUND)


def _whole(sights: Sequence[Sight]) -> list[list[Sight]]:
    """The sights of each mark: the steps of a line belong together."""

    def meet(one: Sight, other: Sight) -> bool:
        return one.name == other.name == LINE and not set(one.cells).isdisjoint(other.cells)

    return chained(sights, meet)


def _words(mark: Sequence[Sight]) -> str:
    """The question about a mark, in the words of others that are left out as hardly printed."""
    cells = sorted({cell for sight in mark for cell in sight.cells})
    name = mark[0].name
    if name == LINE:
        return faded_words(cells)
    if name in IN_CELLS.values():
        return hardly_printed_words(name, cells)
    *first, last = map(str, cells)
    return f"what looks like {name} {', '.join(first)} and {last} {HARDLY}"


def _place(mark: Sequence[Sight]) -> Box:
    return box_of_all((cell.column - 1.0, cell.row - 1.0, cell.column, cell.row) for s in mark for cell in s.cells)
