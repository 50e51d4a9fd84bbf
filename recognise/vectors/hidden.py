"""Discs, and marks that lie under others: the file has them, and print does not show them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Colour, Point
from recognise.evidence import Disc
from recognise.geometry import middle
from recognise.vectors.broken import DOT
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.marks import covered, disc, merge_discs, on_paper
from schema.cells import Cell

CAP = 0.1
"""As a part of a stroke's width, or of a disc's radius: how exactly a disc is the round end of a stroke."""


def take_discs(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> tuple[list[Disc], list[str], list[tuple[int, Ink]]]:
    """The discs, what a person must look at about them, and the other inks. A disc that another hides is one of them
    where it is a mark like others that are seen."""
    told = [(index, ink, disc(ink)) for index, ink in inks]
    filled = [(ink.order, found) for _, ink, found in told if found is not None and found.fill is not None]
    paper = [(ink.order, found) for ink in canvas.paper if (found := disc(ink)) is not None]
    under = [(order, each) for order, each in paper if covered(each, order, filled)]
    paper = [each for each in paper if each not in under]
    buried = [each for order, each in filled if covered(each, order, paper)]
    drawn = [ink for _, ink in inks]
    buried = [each for each in buried if not is_cap(each, drawn)]
    discs, left = [], []
    for index, ink, found in told:
        if found is None:
            left.append((index, ink))
        else:
            discs.append(on_paper(found, ink.order, paper, canvas.ground))
    merged = merge_discs(discs)
    rings = [(ink.order, found) for _, ink, found in told if found is not None and found.fill is None]
    whole = [(each, _with_rim(each, order, filled, rings)) for order, each in under]
    marks = [(each, full) for each, full in whole if full is not None and _is_mark(full, merged)]
    plain = [each for each, _ in marks] if _most_are_bare([each for _, each in under], merged) else []
    lost = [each for order, each in under if not _is_base(each, order, filled, merged) and each not in plain]
    hidden = [f"a circle at {_cell_of(each)} lies under another" for each in (*lost, *buried)]
    others = [each for each in (*buried, *_buried_discs(canvas, drawn)) if _is_mark(each, merged)]
    return [*merged, *(full for _, full in marks), *others], hidden, left


def _is_mark(hidden: Disc, seen: Sequence[Disc]) -> bool:
    return any(_looks_like(hidden, each) for each in seen)


def _most_are_bare(under: Sequence[Disc], seen: Sequence[Disc]) -> bool:
    """Whether most discs that look like those which lie upon others lie upon none: what these hide is then no ground
    on which such discs are painted, and a mark of its own. Where it is one like others that are seen there is nothing
    to ask: with it the puzzle has one solution or is asked about."""
    above = [each for each in seen if any(_in_place(hidden, each) for hidden in under)]
    alike = [each for each in seen if _is_mark(each, above)]
    return 2 * len(above) < len(alike)


def _is_base(found: Disc, order: int, filled: Sequence[tuple[int, Disc]], seen: Sequence[Disc]) -> bool:
    """Whether a bare disc is the ground on which a bulb was painted: as large as it, in its place, and no mark that is
    seen elsewhere looks so."""
    on_it = any(place > order and _in_place(found, above) for place, above in filled)
    return on_it and not any(_looks_like(found, replace(mark, outline=None)) for mark in seen)


def _buried_discs(canvas: Canvas, drawn: Sequence[Ink]) -> list[Disc]:
    """The discs of which nothing is seen; not the dots of a dotted line, nor the ends of a stroke."""
    found = merge_discs([each for ink in canvas.buried if (each := disc(ink)) is not None and each.radius > DOT])
    return [each for each in found if not is_cap(each, drawn)]


def _with_rim(
    found: Disc, order: int, filled: Sequence[tuple[int, Disc]], rings: Sequence[tuple[int, Disc]]
) -> Disc | None:
    """A disc with the ring that was drawn round it before another was painted over it; None where none was."""
    until = min(place for place, above in filled if covered(found, order, [(place, above)]))
    rim = next((ring for place, ring in rings if order <= place < until and _in_place(found, ring)), None)
    return None if rim is None else replace(found, outline=rim.outline)


def _in_place(one: Disc, other: Disc) -> bool:
    """Whether two discs have one middle and one radius."""
    apart = max(math.dist(one.centre, other.centre), abs(one.radius - other.radius))
    return apart <= CAP * one.radius


def _looks_like(hidden: Disc, seen: Disc) -> bool:
    """Whether a disc that is hidden is the mark that another one is which is seen: as large, and with such a rim. White
    under a mark that only hides the lattice has no rim."""
    as_large = abs(hidden.radius - seen.radius) <= CAP * seen.radius
    return as_large and _alike(hidden.fill, seen.fill) and _alike(hidden.outline, seen.outline)


def _alike(one: Colour | None, other: Colour | None) -> bool:
    return one == other or (one is not None and other is not None and near(one, other))


def hidden_marks(buried: Sequence[tuple[Ink, Disc | None]], explained: Sequence[Disc]) -> list[str]:
    """What a person must look at about marks that others hide: the file has them, and print does not show them. The
    discs `explained` are no marks of their own."""
    names = ((_cell_at(middle(ink.box)), "circle" if its else "mark") for ink, its in buried if its not in explained)
    return [f"a {name} at {cell} lies under another" for cell, name in names]


def is_cap(found: Disc, inks: Sequence[Ink]) -> bool:
    """Whether a filled disc is the round end, or the round corner, of a stroke of its colour and width."""
    for ink in inks:
        if ink.role == "stroke" and near(ink.colour, found.fill or ink.colour) and _as_wide(ink, found):
            ends = np.concatenate(ink.outlines)
            if np.hypot(*(ends - found.centre).T).min() <= CAP * found.radius:
                return True
    return False


def _as_wide(ink: Ink, found: Disc) -> bool:
    return abs(ink.width - 2 * found.radius) <= CAP * ink.width


def _cell_of(disc: Disc) -> Cell:
    """The cell of a disc's middle; on a border, the cell before it."""
    return _cell_at(disc.centre)


def _cell_at(point: Point) -> Cell:
    x, y = (max(1, math.ceil(at - 0.05)) for at in point)
    return Cell(y, x)
