"""Marks in single cells (circles, squares and the like) and tinted cells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

from ingest.page import Colour
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, How, Shape, Slip, Tint
from recognise.geometry import disc_polygon, middle
from recognise.interpret.colours import apart, groups
from recognise.interpret.mark import CHARACTERS, Left, Mark
from recognise.interpret.places import around, cell_around
from schema.cells import Cell
from schema.kinds._drawing import square
from schema.marks import Seen

LEAST = 0.15
"""In cells: the radius of the smallest circle that marks a cell."""
NO_CELL_MARK = (*CHARACTERS, "capsule", "diagonal", "arrow", "sign", "dashes", "mark", "outline")
WHITE: Colour = (255, 255, 255)
FADES = 4.0
"""CIE76 difference up to which two cells that touch are of one tint in uneven light: a step between two tints that
print tells apart is four times that."""
HALF = 0.5
"""Part of a box that a tint fills at least where it shows the box, and other tints stand in it too."""

MISSED = 1
"""Cells of a box whose ground a picture may not show."""

Place = tuple[Cell, Polygon, float]
"""A cell, the outline of the mark in it, how sure it is."""


def cell_marks(left: Left) -> Iterator[Mark]:
    """One mark for all circles that look alike, and so for squares and other shapes: together they state one rule."""
    size = left.size
    discs = left.take_discs(lambda d: d.radius >= LEAST and cell_around(d.centre, size) is not None)
    shapes = left.take_shapes(lambda s: s.name not in NO_CELL_MARK and cell_around(middle(s.box), size) is not None)
    for look, round_ones in _alike([(_disc_look(disc), disc) for disc in discs]):
        places = [(cell_around(d.centre, size), disc_polygon(d.centre, d.radius), d.confidence) for d in round_ones]
        yield cell_mark("circle", look, [(c, p, s) for c, p, s in places if c], round_ones)
    for name in dict.fromkeys(shape.name for shape in shapes):
        named = [(_shape_look(shape), shape) for shape in shapes if shape.name == name]
        for look, alike in _alike(named):
            spots = [(cell_around(middle(s.box), size), s.where or box_polygon(s.box), s.confidence) for s in alike]
            yield cell_mark(name, look, [(c, p, s) for c, p, s in spots if c], alike)


Look = tuple[Colour, Colour | None]
"""Ground and outline."""
M = TypeVar("M")


def _disc_look(disc: Disc) -> Look:
    return disc.fill or WHITE, disc.outline


def _shape_look(shape: Shape) -> Look:
    return (shape.colour, None) if shape.filled else (WHITE, shape.colour)


def _alike(marks: Sequence[tuple[Look, M]]) -> Iterator[tuple[Look, list[M]]]:
    """Marks by their ground, those that look the same together."""
    for group in groups(look[0] for look, _ in marks):
        alike = [(look, mark) for look, mark in marks if look[0] in group]
        yield alike[0][0], [mark for _, mark in alike]


def cell_mark(name: str, look: Look, places: Sequence[Place], sources: Sequence[Disc | Shape]) -> Mark:
    """The one mark that those of one look in several cells are; `sources` are what was seen."""
    cells = tuple(sorted(cell for cell, _, _ in places))
    sure = 1.0 - sum(1.0 - confidence for _, _, confidence in places)
    where = places[0][1] if len(places) == 1 else box_polygon(around(cells))
    return Mark(
        Seen("cell", cells=cells, shape=name),
        f"a {name} in {', '.join(map(str, cells[:4]))}{' and more' if len(cells) > 4 else ''}",
        where,
        max(sure, 0.0),
        sources[0].how,
        tuple(polygon for _, polygon, _ in places),
        slips=tuple(Slip(cell, cell, True, 1 - confidence) for cell, _, confidence in places),
        paint=look[0],
        rim=look[1],
    )


def tint_groups(
    left: Left, boxes: Sequence[Sequence[Cell]], covered: frozenset[Cell] = frozenset()
) -> list[tuple[Colour, dict[Cell, Tint]]]:
    """The tinted cells by colour, without the tints that show the boxes. In a picture the ground of cells that are
    `covered` by a mark is mixed with it: where there is one tint beside them, they have that."""
    tints, left.tints = [tint for tint in left.tints if _on_grid(tint.cell, left)], []
    found: list[tuple[Colour, dict[Cell, Tint]]] = []
    mixed: list[Tint] = []
    for group in _joined([[t for t in tints if t.colour in group] for group in groups(t.colour for t in tints)]):
        own = _with_those_around(group, tints, covered)
        if not own:
            continue
        if all(tint.cell in covered and tint.how == "shape" for tint in own):
            mixed += own
        else:
            found.append((own[0].colour, {tint.cell: tint for tint in own}))
    if len(found) == 1:
        found = [(found[0][0], found[0][1] | {tint.cell: tint for tint in mixed})]
    else:
        found += [(tint.colour, {tint.cell: tint}) for tint in mixed]
    return [
        (colour, own)
        for colour, own in found
        if not _shows_boxes(own, frozenset(tint.cell for tint in tints if tint.cell not in own), boxes)
    ]


def _joined(alike: Sequence[list[Tint]]) -> list[list[Tint]]:
    """Groups of tints alike, those of a picture put together where cells of both touch and hardly differ: light that
    fades over the page parts one tint into several."""

    def meet(one: Sequence[Tint], other: Sequence[Tint]) -> bool:
        return any(
            a.cell.beside(b.cell) and a.how == b.how == "shape" and apart(a.colour, b.colour) <= FADES
            for a in one
            for b in other
        )

    found: list[list[Tint]] = []
    for group in alike:
        near = [other for other in found if meet(group, other)]
        found = [other for other in found if not any(other is one for one in near)]
        found.append([*(tint for other in near for tint in other), *group])
    return found


def _with_those_around(group: Sequence[Tint], tints: Sequence[Tint], covered: frozenset[Cell]) -> list[Tint]:
    """A group of tints of one colour, each cell that is covered by a mark, in a picture, with the tint of all those
    beside it, where they are several: the mark makes its own ground paler or darker."""
    own = {tint.cell for tint in group}
    found = []
    for tint in tints:
        around = [other.cell in own for other in tints if other.cell.beside(tint.cell)]
        unclear = tint.how == "shape" and tint.cell in covered and len(around) > 1 and len(set(around)) == 1
        if around[0] if unclear else tint.cell in own:
            found.append(tint)
    return found


def _on_grid(cell: Cell, left: Left) -> bool:
    return 1 <= cell.row <= left.size[0] and 1 <= cell.column <= left.size[1]


def _shows_boxes(own: Mapping[Cell, Tint], others: frozenset[Cell], boxes: Sequence[Sequence[Cell]]) -> bool:
    """Whether a tint fills boxes as a whole, but for cells that another tint covers; in a picture the ground of a cell
    may be missed where a digit or a mark stands in it."""
    shown = [box for box in boxes if not own.keys().isdisjoint(box)]
    blurred = len(shown) > 1 and all(tint.how == "shape" for tint in own.values())
    missed = [len(set(box) - own.keys() - others) for box in shown]
    whole = all(len(own.keys() & set(box)) > HALF * len(box) for box in shown)
    return bool(shown) and whole and max(missed) <= (MISSED if blurred else 0) and sum(missed) < len(shown)


def tint_mark(colour: Colour, tints: Sequence[Tint], as_area: bool) -> Mark:
    """Tinted cells as one mark. The ground is no ink: it claims none, but for the strokes of hatching."""
    cells = tuple(sorted(tint.cell for tint in tints))
    how: How = "vector" if all(tint.how == "vector" for tint in tints) else "shape"
    claims = tuple(stroke for tint in tints for stroke in tint.strokes)
    shown = ", ".join(map(str, cells[:4])) + (" and more" if len(cells) > 4 else "")
    where = tuple(square(cells[0])) if len(cells) == 1 else box_polygon(around(cells))
    seen = Seen("area" if as_area else "cell", cells=cells, shape="tint")
    certain = all(tint.certain for tint in tints)
    return Mark(seen, f"a tint in {shown}", where, 1.0, how, claims, paint=colour, certain=certain)
