"""The characters of a grid's cells after further looks: at more cuts of their ink, at their places, at each other."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from recognise.evidence import Glyph
from recognise.pixels.cells import NEW, SURE, Look, added, agreed, at_most, look_again, usual_of
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.glyphs import CharacterReader, labels_expected
from recognise.pixels.in_place import NOUGHT, InPlace, doubted, in_place, look_in_place, place_of, shows, without_nought
from recognise.pixels.ink import Ink
from recognise.pixels.same_fount import in_the_same_fount
from schema.cells import Cell

LARGEST = 9
"""Rows or columns: larger grids hold numbers of two figures and letters."""
GROWN = 3
"""Pixels around a character's strokes that belong to it: antialiasing and blur."""


def looked_again(
    glyphs: list[Glyph],
    characters: Mask,
    ink: Ink,
    raster: Raster,
    reader: CharacterReader,
    apart: Collection[Cell] = (),
) -> tuple[list[Glyph], Mask]:
    """The characters after a second look at every cell, and a third where nothing was read, and their pixels. Both look
    for single characters: totals, and the numbers and letters of larger grids, stand as first read. `apart` are cells
    in which nothing is looked for."""
    usual = usual_of(glyphs, ink.drawn, raster)
    if usual is None or max(raster.rows, raster.columns) > LARGEST:
        return glyphs, characters
    cells = [raster.cell_of(*glyph.centre) for glyph in glyphs]
    taken = {*apart, *(cell for cell in cells if cell is not None)}
    allowed = labels_expected(raster.rows, raster.columns)
    looks = look_again(ink.drawn, raster, usual, reader, allowed, taken)
    place = place_of(glyphs, usual)
    second = [
        _second(glyph, cell, looks, raster) if cells.count(cell) == 1 else None
        for glyph, cell in zip(glyphs, cells, strict=True)
    ]
    lines = {cell for cell, look in zip(cells, second, strict=True) if cell and look and look.sees_line and place}
    checked = [
        agreed(glyph, look) if look and cell not in lines else glyph
        for glyph, cell, look in zip(glyphs, cells, second, strict=True)
    ]
    more = added(looks, taken, raster, glyphs[0])
    if place is not None:
        alone = _seen_once(checked, looks, raster)
        taken |= {cell for glyph in more if (cell := raster.cell_of(*glyph.centre)) is not None}
        seen = look_in_place(ink.drawn, raster, usual, place, taken - alone, reader, allowed)
        if _has_no_nought(checked, raster):
            seen = {cell: (box, without_nought(guesses)) for cell, (box, guesses) in seen.items()}

        def third(glyph: Glyph, cell: Cell) -> Glyph:
            return _on_line(glyph, looks[cell], seen.get(cell)) if cell in lines else doubted(glyph, seen.get(cell))

        checked = [third(glyph, cell) if cell in alone else glyph for glyph, cell in zip(checked, cells, strict=True)]
        more += in_place({cell: look for cell, look in seen.items() if cell not in alone}, glyphs[0])
    mask = characters.copy()
    for glyph in more:
        mask[raster.slices(glyph.box, GROWN)] = True
    return in_the_same_fount([*checked, *more], ink.drawn, raster), mask


def _second(glyph: Glyph, cell: Cell | None, looks: Mapping[Cell, Look], raster: Raster) -> Look | None:
    """The second look at a character that is the only one in its cell; None where it is not of the same ink."""
    look = looks.get(cell) if cell is not None and len(glyph.text) == 1 else None
    return look if look is not None and _alike(glyph, look, raster) else None


def _on_line(glyph: Glyph, look: Look, seen: InPlace | None) -> Glyph:
    """A character of which the second look saw no more than the line that hangs on to it: that says nothing against
    it where the third reads the same in its place, with the line around it."""
    return at_most(glyph, NEW) if seen is not None and shows(seen, glyph) else agreed(glyph, look)


def _has_no_nought(glyphs: Iterable[Glyph], raster: Raster) -> bool:
    """Whether the digits of a grid begin with 1: a sure one is as large as the grid, and none is a nought."""
    sure = {glyph.text for glyph in glyphs if glyph.confidence >= SURE and raster.cell_of(*glyph.centre) is not None}
    return str(max(raster.rows, raster.columns)) in sure and NOUGHT not in sure


def _seen_once(glyphs: Iterable[Glyph], looks: Mapping[Cell, Look], raster: Raster) -> set[Cell]:
    """The cells of characters that the second look did not see: what is left of one when a line is taken out of it may
    look like another."""
    placed = ((raster.cell_of(*glyph.centre), glyph) for glyph in glyphs if len(glyph.text) == 1)
    return {cell for cell, glyph in placed if cell and (cell not in looks or looks[cell].guesses[0].text != glyph.text)}


def _alike(glyph: Glyph, look: Look, raster: Raster) -> bool:
    """Whether both looks speak of the same ink."""
    x0, y0, x1, y1 = look.box
    box = raster.box(x0, y0, x1 - x0, y1 - y0)
    return box[0] <= glyph.centre[0] <= box[2] and box[1] <= glyph.centre[1] <= box[3]
