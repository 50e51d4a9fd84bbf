"""Little arrows beside the grid, and what was taken for a character in their place."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import replace

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Glyph, Shape
from recognise.geometry import box_at, box_of_all, within
from recognise.marks.edge_shapes import BLACK
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import FAINT
from recognise.marks.network import Chances
from recognise.marks.places import Spots
from recognise.marks.sizes import ALIKE
from recognise.marks.slanted import Slanted, are_one
from recognise.marks.text_places import Place, beside
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Raster
from schema.marks import step_of

POINTER = 0.35
"""In cells: half the side of the place of a little arrow beside the grid."""
AT_CORNER = 0.2
"""In cells: so far from the corner that it points at is the place of a little arrow at most."""
REACH = 0.5
"""In places: how far off the middle of its place the middle of an arrow lies at most."""
NEXT = 0.5
"""In cells, along a row: half as far as the next diagonal."""
MOST_POINTERS = 2
"""Arrows in one place."""
TOWARDS = 0.17
"""In cells: how far off the middle of their place each of two arrows stands."""
TIP, AT_TIP = 0.46, 0.12
"""In cells: how far off the middle of its place a little arrow ends, and how near its ink comes to that."""
MEASURED = 0.99
"""How sure an arrow is that the rules speak of and its ink shows."""
NO_PRINT = 0.09
"""As a part of the darkness of print: what is paler nobody prints. What shows through on one worn page has 0.055 to
0.074."""
POINTERS = {
    "E": "right",
    "SE": "down-right",
    "S": "down",
    "SW": "down-left",
    "W": "left",
    "NW": "up-left",
    "N": "up",
    "NE": "up-right",
}


def pointers(
    chances: Chances,
    numbers: bool,
    measured: Iterable[Slanted] = (),
    weight: float = 1.0,
    *,
    all_pointed: bool = False,
    as_print: Callable[[Box], float] = lambda box: 1.0,
) -> Spots:
    """Little arrows beside the grid. Each has its number: without `numbers` there, a place in doubt is none. `measured`
    are those that their ink shows, where the rules speak of such arrows; `weight` is how much rarer they make one.
    `all_pointed` says that the rules know no number without an arrow: then what may be an arrow, in one direction, is
    one and asked about, for it looks less like one where its number runs into it. Where the ink in a box is
    next to none of what print is (`as_print`) beside arrows of the page that are plain, one shows through from the
    other side: it is left out, and in words unless nobody prints as pale."""
    ghosts = _ghosts(chances, as_print)
    inked = {(arrow.row, arrow.column, arrow.way): arrow.box for arrow in measured}
    shapes: list[Shape] = []
    texts: list[Place] = []
    pale = [at for at, ink in ghosts.items() if ink >= NO_PRINT]
    notes = [faded_words(*at[:2]) for at in pale if numbers or chances.at("pointer", *at[:2])[at[2]] > DRAWN]
    for row, column in _around_the_grid(chances):
        told = _told_at(row, column, chances, inked, weight)
        told = {name: chance for name, chance in told.items() if (row, column, name) not in ghosts}
        sure = sorted((name for name in told if told[name] > DRAWN), key=lambda name: -told[name])[:MOST_POINTERS]
        if all_pointed and not sure:
            sure = _only_doubtful(told)
        place = column - 0.5, row - 0.5
        for name in sure:
            guess = _pointer_box(place, name) if len(sure) > 1 else box_at(place, POINTER)
            box = inked.get((row, column, name), guess)
            shapes.append(Shape("arrow", box, BLACK, "shape", told[name], direction=POINTERS[name]))
        if sure:
            steps = (step_of(POINTERS[name]) for name in sure)
            texts.append(beside(place, tuple((right, down) for down, right in steps)))
        # A clue with an arrow straight into its row or column says the same as one without.
        idle = None if inked else _straight_in(row, column, chances)
        doubtful = any(MIDDLING[0] < chance < MIDDLING[1] for name, chance in told.items() if name != idle)
        if doubtful and sure:
            notes.append(points_words(row, column))
        elif doubtful and numbers:
            notes.append(f"perhaps a little arrow stands beside row {row}, column {column}")
    return Spots((), tuple(shapes), tuple(texts), tuple(notes))


def _around_the_grid(chances: Chances) -> Iterator[tuple[int, int]]:
    """The places beside the grid and at its corners, row by row, counted as cells are, from 0 before the grid."""
    for row in range(chances.rows + 2):
        for column in range(chances.columns + 2):
            if not (0 < row <= chances.rows and 0 < column <= chances.columns):
                yield row, column


def _ghosts(chances: Chances, as_print: Callable[[Box], float]) -> dict[tuple[int, int, str], float]:
    """The little arrows that the network sees where next to no ink is, with their places and ink, where others are
    plain."""
    seen = [
        (row, column, name)
        for row, column in _around_the_grid(chances)
        for name, chance in chances.at("pointer", row, column).items()
        if chance > MIDDLING[0]
    ]
    inks = {at: as_print(_pointer_box((at[1] - 0.5, at[0] - 0.5), at[2])) for at in seen}
    ghosts = {at: ink for at, ink in inks.items() if ink < FAINT}
    return ghosts if len(seen) - len(ghosts) >= ALIKE else {}


def _told_at(
    row: int, column: int, chances: Chances, inked: Collection[tuple[int, int, str]], weight: float
) -> dict[str, float]:
    """How likely an arrow of each direction stands at a place, those that are `inked` surely; where one is, it is the
    one that the network had half seen."""
    told = {
        name: weight * chance / (weight * chance + 1 - chance)
        for name, chance in chances.at("pointer", row, column).items()
    }
    own = {name for name in told if (row, column, name) in inked}
    if not own:
        return told
    return {
        name: max(chance, MEASURED) if name in own else chance if chance > DRAWN else 0.0
        for name, chance in told.items()
    }


def faded_words(row: int, column: int) -> str:
    """The words on an arrow that is left out; its place is counted as cells are, from 0 before the grid."""
    return f"what looks like a little arrow beside row {row}, column {column} is hardly printed"


def points_words(row: int, column: int) -> str:
    """The question where an arrow points; its place is counted as cells are, from 0 before the grid."""
    return f"where the little arrow beside row {row}, column {column} points was hard to tell"


def _only_doubtful(told: Mapping[str, float]) -> list[str]:
    """The direction of an arrow in doubt, where there is one only."""
    doubtful = [name for name, chance in told.items() if chance > MIDDLING[0]]
    return doubtful if len(doubtful) == 1 else []


def _straight_in(row: int, column: int, chances: Chances) -> str | None:
    """The arrow that points from a place beside the grid straight into its row or column; None at a corner."""
    if 0 < row <= chances.rows:
        return "E" if column == 0 else "W"
    if 0 < column <= chances.columns:
        return "S" if row == 0 else "N"
    return None


def _pointer_box(place: Point, name: str) -> Box:
    """Where one of two arrows stands that share a place, and the head of any: between the middle and the corner that it
    points to."""
    down, right = step_of(POINTERS[name])
    return box_at((place[0] + right * TOWARDS, place[1] + down * TOWARDS), POINTER - TOWARDS)


def is_pointer(glyph: Glyph, shape: Shape) -> bool:
    """Whether what was read as a character, and was hard to read, is a little arrow: it stands at the arrow's tip."""
    if shape.name != "arrow" or shape.direction is None or glyph.confidence >= DRAWN:
        return False
    row, column = (np.floor((shape.box[n] + shape.box[n + 2]) / 2) + 0.5 for n in (1, 0))
    down, right = step_of(shape.direction)
    tip = column + right * TIP, row + down * TIP
    off = (max(glyph.box[n] - tip[n], tip[n] - glyph.box[n + 2], 0.0) for n in (0, 1))
    return bool(max(off) <= AT_TIP)


def where_drawn(shape: Shape, characters: Iterable[Glyph], pieces: Pieces, raster: Raster) -> Shape:
    """A little arrow beside the grid where it really is, which is the largest piece in its place that is no character:
    numbers and arrows are told to belong together by how near they are. One that touches its number is no piece by
    itself; it reaches to the corner that it points at."""
    if shape.name != "arrow":
        return shape
    x, y = (shape.box[0] + shape.box[2]) / 2, (shape.box[1] + shape.box[3]) / 2
    reach = REACH * (shape.box[2] - shape.box[0]) / (2 * POINTER)
    taken = [glyph.box for glyph in characters]
    boxes = [
        box
        for box in (blob.box(raster) for blob in pieces.blobs)
        if max(abs((box[0] + box[2]) / 2 - x), abs((box[1] + box[3]) / 2 - y)) <= reach
        and not any(are_one(box, other) for other in taken)
        and not _is_part(shape.box, box)
        and _is_on_diagonal(shape, box)
    ]
    largest = max(boxes, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]), default=_to_its_corner(shape))
    return replace(shape, box=largest)


def _to_its_corner(arrow: Shape) -> Box:
    """The box of a little arrow with the corner of a cell that it points at from close by."""
    down, right = step_of(arrow.direction) if arrow.direction else (0, 0)
    x, y = arrow.box[2 if right > 0 else 0], arrow.box[3 if down > 0 else 1]
    corner = float(round(x)), float(round(y))
    if not (down and right) or max(abs(x - corner[0]), abs(y - corner[1])) > AT_CORNER:
        return arrow.box
    return box_of_all((arrow.box, (*corner, *corner)))


def _is_on_diagonal(shape: Shape, box: Box) -> bool:
    """Whether a piece lies on the diagonal into which an arrow points rather than on the next: else it is another's, or
    a piece of the text above."""
    down, right = step_of(shape.direction) if shape.direction else (0, 0)
    if not (down and right):
        return True
    x, y = ((box[n] + box[n + 2] - shape.box[n] - shape.box[n + 2]) / 2 for n in (0, 1))
    return abs(right * x - down * y) < NEXT


def _is_part(part: Box, whole: Box) -> bool:
    """Whether a box is only a part of another: of two arrows whose tips touch, each was measured for itself."""
    return within(part, whole) and part != whole
