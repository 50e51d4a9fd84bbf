"""Tiles near a grid that hold other text of the page, such as the number of a puzzle in its headline."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ingest.page import Box, Page
from recognise.evidence import Shape
from recognise.geometry import holds, middle
from recognise.pixels.frame import Raster
from recognise.vectors.beside import CENTRED
from recognise.vectors.leftover import is_outside
from recognise.vectors.numbers import BESIDE_ARROW
from recognise.vectors.place import Placement

TILES = ("square", "bar")
"""What such tiles are called."""


def tiles_of_text(shapes: Iterable[Shape], page: Page, placement: Placement, raster: Raster) -> list[Box]:
    """The boxes of tiles beside a grid in which known characters of the page stand. Those in the middle of a row or
    column are left, for they hold clues, and those from which an arrow starts."""
    shapes = list(shapes)
    if not any(shape.name in TILES and is_outside(shape.box, raster) for shape in shapes):
        return []
    seen = [glyph for glyph in page.vectors.glyphs if glyph.visible] if page.vectors else []
    places = map(middle, placement.boxes([glyph.box for glyph in seen]))
    written = [(place, glyph.text) for place, glyph in zip(places, seen, strict=True)]
    arrows = [middle(shape.box) for shape in shapes if shape.name == "arrow"]
    found = []
    for shape in shapes:
        if shape.name not in TILES or not is_outside(shape.box, raster) or _is_in_line(shape.box, raster):
            continue
        texts = [text for at, text in written if holds(shape.box, at)]
        if texts and all(texts) and all(math.dist(middle(shape.box), arrow) > BESIDE_ARROW for arrow in arrows):
            found.append(shape.box)
    return found


def _is_in_line(box: Box, raster: Raster) -> bool:
    """Whether a box stands in the middle of a row or a column."""
    places = zip(middle(box), (raster.columns, raster.rows), strict=True)
    return any(0 < at < length and abs(at % 1 - 0.5) <= CENTRED for at, length in places)
