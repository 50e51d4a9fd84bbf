"""Fences with the totals in their corners to marks of cages."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence

from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Evidence, Fence, Glyph, Guess
from recognise.geometry import band, overlap
from recognise.grouping import areas
from recognise.interpret.cellmarks import WHITE
from recognise.interpret.corners import digits_in, in_capsule, rounds_on_corners
from recognise.interpret.filled import LEAST, patches_of
from recognise.interpret.mark import Left, Mark, joined
from recognise.interpret.places import around, cell_at
from schema.cells import Cell
from schema.kinds._outline import inset_outline
from schema.marks import Seen

LOW = 0.42
"""In cells from the top of its cell: the middle of a total stands above this, that of a given below."""
LEFTMOST = 0.4
"""In cells from the left of its cell, or of what a circle on the cell's corner leaves of it: a total begins left of
this."""
TALL = 0.45
"""In cells: totals are smaller than this, and givens are larger or stand lower."""
ON_EDGE, MID_EDGE = 0.08, 0.12
"""In cells: a number whose middle is as near as this to a line between two cells, and to the middle of that edge, is
that of the pair."""
ON_CORNER = 0.5
"""In cells: of what stands on a corner of cells no other corner is so near."""
NO_SIGN = "a number without a sign, where others have a plus"
LIKE_FIGURES = {"4": "+", "1": "÷"}
"""Figures that signs are read as: a plus, and the slanting stroke of a quotient."""
DRAWN = 0.5
"""How likely a number of two cells has no sign where none was seen and sums have a plus, and as likely it had one."""
DIVIDED = 0.8
"""How likely a plus is a division where the sums of the page have none: it is asked about, and the proof may tell."""
NO_NUMBER = "a cage without a number, where others have one"
INSET = 0.09
"""In cells: how far inside its cells print draws a cage, where a reader does not say it."""
HALF_STRIP = 0.05
"""In cells: half the width of the strip that a cage's line takes up."""


def cages(
    left: Left, blocks: Sequence[tuple[Cell, ...]] = (), boxes: Iterable[tuple[Cell, ...]] = ()
) -> Iterator[Mark]:
    """A mark for each fence. Where a reader found none, `blocks` (parts into which thick lines cut the grid) are the
    cages if most of them have a total in their corner: others are the ground between them; and so are patches of tint.
    Thick lines around one of the `boxes` are those of the box."""
    boxed = {frozenset(box) for box in boxes}
    fences, left.fences = left.fences, []
    if not fences and _most_have_totals(blocks, left):
        fences = [Fence(cells, "border", (0, 0, 0), "shape") for cells in blocks]
    filled = not fences and _are_cages(patches := patches_of(left.tints), left)
    if filled:
        fences = [*patches, *_of_paper(patches, left)]
    totals = [_taken(left, fence.cells) for fence in fences]
    some = any(totals)
    texts_known = all(glyph.how == "vector" for glyphs in totals for glyph in glyphs)
    drawn = all(glyph.how in ("vector", "shape") for glyphs in totals for glyph in glyphs)
    divided = not texts_known and _are_divided(fences, totals, max(left.size))
    signed = not divided and any("+" in glyph.text for glyphs in totals for glyph in glyphs)
    for fence, glyphs in zip(fences, totals, strict=True):
        if fence.style == "border" and not glyphs and _is_no_cage(fence, boxed, some=some):
            continue
        text, likely, others = joined(glyphs)
        # Some cages have none, and where a PDF's text gives the totals of all others none can be missed; nor where it
        # draws them as paths and none is in the corner. Where thick borders are cages every cell is in one, and each
        # has its number.
        known = texts_known or (drawn and _is_bare(fence.cells, left))
        missed = some and not glyphs and not (known and fence.how == "vector" and fence.style != "border")
        asks = [NO_NUMBER] if missed else []
        if divided and "+" in text:
            text, likely, others = _as_quotient(text, likely, others)
        if signed and text.isdecimal() and len(fence.cells) > 1:
            asks.append(NO_SIGN)
            as_sign = _with_sign(text, len(fence.cells), max(left.size))
            likely, others = (likely if as_sign else DRAWN * likely), (*others, *_perhaps_signed(text, fence, likely))
            text = as_sign or text
        yield Mark(
            Seen("cage", cells=fence.cells, text=text, shape=fence.style),
            f"a cage at {_corner(fence.cells)}",
            fence.where or box_polygon(around(fence.cells)),
            fence.confidence * likely,
            glyphs[0].how if glyphs and glyphs[0].how != "vector" else fence.how,
            (*(() if filled else _strips(fence)), *(box_polygon(glyph.box) for glyph in glyphs)),
            paint=fence.colour,
            texts=others,
            asks=tuple(asks),
            extent=fence.confidence,
        )


def _most_have_totals(blocks: Sequence[tuple[Cell, ...]], left: Left) -> bool:
    """Whether more than half of some blocks have a total in their corner."""
    return 2 * sum(bool(_totals(left.glyphs, cells, left)) for cells in blocks) > len(blocks)


def _are_cages(patches: Sequence[Fence], left: Left) -> bool:
    """Whether patches of tint without a line around them are cages: most of them have a total, several in all, and none
    has two."""
    numbered = [len(_in_corners(left.glyphs, fence.cells, left)) for fence in patches]
    return sum(map(bool, numbered)) >= LEAST and 2 * sum(map(bool, numbered)) > len(numbered) and max(numbered) == 1


def _of_paper(patches: Sequence[Fence], left: Left) -> list[Fence]:
    """The areas between patches of tint that have a total too: paper is one of the colours of such cages."""
    tinted = {cell for patch in patches for cell in patch.cells}
    rows, columns = left.size
    rest = [
        cell for row in range(rows) for column in range(columns) if (cell := Cell(row + 1, column + 1)) not in tinted
    ]
    return [
        Fence(area, "solid", WHITE, patches[0].how)
        for area in areas(rest)
        if len(area) <= max(left.size) and len(_in_corners(left.glyphs, area, left)) == 1
    ]


def _is_no_cage(fence: Fence, boxed: Collection[frozenset[Cell]], *, some: bool) -> bool:
    """Whether thick borders without a number are those of a box, where no cage has one, or are around a cell by itself,
    which is in no cage where `some` have one."""
    return len(fence.cells) == 1 if some else frozenset(fence.cells) in boxed


def _as_quotient(text: str, likely: float, others: tuple[Guess, ...]) -> tuple[str, float, tuple[Guess, ...]]:
    """A number whose plus is a division, how likely it is, and what else it may be."""
    return text.replace("+", "÷"), DIVIDED * likely, (*others, Guess(text, (1 - DIVIDED) * likely))


def _are_divided(fences: Sequence[Fence], totals: Sequence[Sequence[Glyph]], most: int) -> bool:
    """Whether each plus is a division whose points blur has run into its bar: print gives all sums a sign or none, and
    more numbers of several cells have none than have a plus, which all are such as two cells may have for a quotient.
    `most` is the largest digit."""
    texts = [(len(fence.cells), joined(glyphs)[0]) for fence, glyphs in zip(fences, totals, strict=True)]
    signed = [(cells, text[:-1]) for cells, text in texts if text.endswith("+")]
    bare = [text for cells, text in texts if cells > 1 and text.isdecimal()]
    quotients = all(cells == 2 and number.isdecimal() and int(number) <= most for cells, number in signed)
    return quotients and len(bare) > len(signed) > 0


def _with_sign(text: str, cells: int, most: int) -> str:
    """A number whose sign was read as its last figure, with that sign, where no sum of so many cells is as large; empty
    where it is none such. `most` is the largest digit."""
    number, sign = text[:-1], LIKE_FIGURES.get(text[-1:], "")
    possible = {"+": most * cells, "÷": most if cells == 2 else 0}
    impossible = int(text) > most * cells
    return number + sign if impossible and number and sign and int(number) <= possible[sign] else ""


def _perhaps_signed(text: str, fence: Fence, likely: float) -> tuple[Guess, ...]:
    """The quotient that a number of two cells without a sign may be: two points or a slanting stroke are lost before a
    cross, a plus or a bar is."""
    return (Guess(f"{text}÷", DRAWN * likely),) if len(fence.cells) == 2 else ()


def not_in_cages(evidence: Evidence) -> list[Glyph]:
    """The characters of a grid that are no totals of cages of several cells."""
    left = Left.of(evidence)
    left.fences = [fence for fence in left.fences if len(fence.cells) > 1]
    list(cages(left))
    return left.glyphs


def _is_bare(cells: Iterable[Cell], left: Left) -> bool:
    """Whether nothing of what is left, a character that could not be read included, touches the corner in which a cage
    has its total."""
    first = _corner(cells)
    x, y = first.column - 1, first.row - 1
    around = (x, y, x + LEFTMOST, y + LOW)
    there = [*(glyph.box for glyph in left.glyphs), *(shape.box for shape in left.shapes)]
    return not any(overlap(box, around) for box in there)


def _corner(cells: Iterable[Cell]) -> Cell:
    """The leftmost cell of the top row, where print puts the total."""
    return min(cells)


def _taken(left: Left, cells: tuple[Cell, ...]) -> list[Glyph]:
    glyphs = _totals(left.glyphs, cells, left)
    return left.take_glyphs(lambda glyph: any(glyph is one for one in glyphs))


def _totals(glyphs: Sequence[Glyph], cells: tuple[Cell, ...], left: Left) -> list[Glyph]:
    """The characters of a cage's total: in the top left corner of its first cell, or else in that of the only other
    cell of the cage that has one."""
    by_cell = _in_corners(glyphs, cells, left)
    if _corner(cells) in by_cell:
        return by_cell[_corner(cells)]
    return next(iter(by_cell.values())) if len(by_cell) == 1 else []


def _in_corners(glyphs: Sequence[Glyph], cells: tuple[Cell, ...], left: Left) -> dict[Cell, list[Glyph]]:
    """The characters in the top left corners of cells as totals stand there."""
    by_cell: dict[Cell, list[Glyph]] = {}
    rounds = rounds_on_corners(left)
    held = [glyph for disc in rounds for glyph in digits_in(disc, glyphs)]
    held += [glyph for shape in left.shapes for glyph in in_capsule(shape, left)]
    glyphs = [glyph for glyph in glyphs if not any(glyph is one for one in held)]
    for glyph in glyphs:
        cell = cell_at((glyph.box[0], glyph.centre[1]), left.size) or cell_at(glyph.centre, left.size)
        if cell in cells and _in_corner(glyph, cell, _reach(cell, rounds)):
            by_cell.setdefault(cell, []).append(glyph)
    for cell, found in by_cell.items():
        found.extend(_following(glyphs, found, cell))
    return by_cell


def _reach(cell: Cell, rounds: Iterable[Disc]) -> float:
    """How far a circle on its upper left corner reaches into a cell: print sets the total beside it."""
    corner = cell.column - 1, cell.row - 1
    return max((disc.radius for disc in rounds if math.dist(disc.centre, corner) < ON_CORNER), default=0.0)


def _in_corner(glyph: Glyph, cell: Cell, reach: float) -> bool:
    x, y = glyph.box[0] - (cell.column - 1), glyph.centre[1] - (cell.row - 1)
    on_edge = abs(y) <= ON_EDGE and abs(glyph.centre[0] - cell.column + 0.5) <= MID_EDGE
    return x <= reach + LEFTMOST and y <= LOW and glyph.size <= TALL and not on_edge


def _following(glyphs: Sequence[Glyph], found: Sequence[Glyph], cell: Cell) -> Iterator[Glyph]:
    """Small characters that go on to the right of a total: further digits, or the sign of its operation, which is
    lower than they are and may stand behind a space of the total's own size."""
    end = max(glyph.box[2] for glyph in found)
    for glyph in sorted(glyphs, key=lambda g: g.box[0]):
        near = 0 <= glyph.box[0] - end + 0.05 <= 0.6 * max(glyph.size, found[0].size) + 0.05
        level = abs(glyph.centre[1] - found[0].centre[1]) <= 0.5 * found[0].size
        if near and level and glyph.size <= TALL and glyph.box[2] <= cell.column and glyph not in found:
            yield glyph
            end = glyph.box[2]


def _strips(fence: Fence) -> tuple[Polygon, ...]:
    """Thin strips along the fence's line, and nothing of the cells inside."""
    if fence.claims:
        return fence.claims
    inset = 0.0 if fence.style == "border" else INSET
    strips = []
    for loop in inset_outline(fence.cells, inset):
        strips += [band(a, b, HALF_STRIP) for a, b in zip(loop, (*loop[1:], loop[0]), strict=True)]
    return tuple(strips)
