"""The ledger of a PDF's characters: each that its text layer has on the grid, or where a clue would stand, is in an
item, or is asked about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recognise.draft import Doubt, Draft, Polygon, box_polygon
from recognise.evidence import Evidence, Glyph
from recognise.geometry import bounds, extent, holds
from recognise.interpret.glyphs import names_beside

NO_LARGER = 3.0
"""As a part of a character's size: a place that somebody is asked about, or a mark without a name, is no larger where
it is about that character."""


def not_accounted_for(draft: Draft, seen: Evidence) -> Iterator[Glyph]:
    """The characters of the text layer that no item states, that name no row or column, and of which nothing is
    asked."""
    asked = [bounds(doubt.where) for doubt in draft.doubts if doubt.where is not None]
    asked += [shape.box for shape in seen.shapes]
    items = [polygon for item in draft.items for polygon in (*item.claimed, *((item.where,) if item.where else ()))]
    stated = [glyph for glyph in seen.glyphs if _is_stated(glyph, items)]
    stated += names_beside(seen.glyphs, (seen.rows, seen.columns))
    for character in seen.characters:
        about_it = [box for box in asked if holds(box, character.centre) and extent(box) <= NO_LARGER * character.size]
        if not (about_it or any(_is_in(character, glyph) for glyph in stated) or _are_in_row(character, stated)):
            yield character


def _is_in(character: Glyph, glyph: Glyph) -> bool:
    """Whether what was read holds a character, and as that figure, if it is one."""
    in_place = holds(glyph.box, character.centre) or holds(character.box, glyph.centre)
    return in_place and (not character.text.isdigit() or character.text in glyph.text)


def _are_in_row(number: Glyph, stated: Sequence[Glyph]) -> bool:
    """Whether what looks like one number is several that stand close together, all of them stated."""
    within = sorted((glyph for glyph in stated if holds(number.box, glyph.centre)), key=lambda glyph: glyph.box[0])
    return bool(number.text) and "".join(glyph.text for glyph in within) == number.text


def _is_stated(glyph: Glyph, items: Sequence[Polygon]) -> bool:
    """Whether an item holds a character as such, and not only the ink under it."""
    return box_polygon(glyph.box) in items


def unexplained(character: Glyph) -> Doubt:
    """What is asked about such a character."""
    what = f"the PDF's text has “{character.text}” here" if character.text else "the PDF draws a character here"
    return Doubt(f"{what}, which the puzzle does not explain", where=box_polygon(character.box))
