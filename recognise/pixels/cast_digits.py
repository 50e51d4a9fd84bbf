"""Characters that are nothing but the edge of a hard shadow: paper that grows darker across a cell passes for the
stroke of a 1. A character stands out from the light around it, in a shadow as well; such an edge is that light."""

from __future__ import annotations

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.ink import Ink
from recognise.pixels.looks import GROWN
from recognise.pixels.shadows import Shadows


def without_edges(
    glyphs: list[Glyph], characters: Mask, ink: Ink, shadows: Shadows, raster: Raster
) -> tuple[list[Glyph], Mask]:
    """The characters without the edges of shadows, and the pixels of those that are left: what is none is not
    explained by having been read."""
    cast = [glyph for glyph in glyphs if _is_edge(glyph.box, ink, shadows, raster)]
    if not cast:
        return glyphs, characters
    left = characters.copy()
    for glyph in cast:
        left[raster.slices(glyph.box, GROWN)] = False
    return [glyph for glyph in glyphs if glyph not in cast], left


def _is_edge(box: Box, ink: Ink, shadows: Shadows, raster: Raster) -> bool:
    rows, columns = raster.slices(box)
    return shadows.is_all_of(ink.level[rows, columns] > ink.floor, (rows.start, columns.start))
