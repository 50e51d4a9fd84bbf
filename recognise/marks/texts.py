"""Characters that stand with marks: on edges, in circles on corners, in the corners of cages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.pixels.glyphs import SHORTEST, Character, CharacterReader, as_glyph, read_characters, side_by_side

TALLEST = 0.5
"""In cells: characters of marks are smaller; what is larger is the outline around them."""
CORNER = (0.62, 0.42)
"""In cells: the part of a cell, from its top left, in which the total of a cage stands."""
SIGNS = "+-×÷"


def read_texts(
    boxes: Iterable[Box], pieces: Pieces, drawn: Grey, relative: Colours, raster: Raster, reader: CharacterReader
) -> tuple[list[Glyph], list[str]]:
    """The characters that stand in each box, put together to numbers, and words on boxes in which none is read."""
    glyphs: list[Glyph] = []
    notes: list[str] = []
    for box in boxes:
        blobs = [blob for blob in pieces.blobs if _in(blob, box, raster)]
        read = read_characters(blobs, pieces, drawn, raster, reader, _all_characters()) if blobs else []
        characters = [character for character in read if character.is_character]
        if not characters:
            x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
            notes.append(f"characters at column {x:.1f}, row {y:.1f} were hard to read")
        glyphs += [as_glyph(group, pieces, relative) for group in _grouped(characters)]
    return glyphs, notes


def _grouped(characters: Sequence[Character]) -> list[list[Character]]:
    return side_by_side(characters)


def _all_characters() -> str:
    from recognise.glyphs.classes import CHARACTERS  # noqa: PLC0415 - only when something is read

    return CHARACTERS


def _in(blob: Blob, box: Box, raster: Raster) -> bool:
    x0, y0, x1, y1 = blob.box(raster)
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    inside = box[0] <= middle[0] <= box[2] and box[1] <= middle[1] <= box[3]
    return inside and SHORTEST <= y1 - y0 <= TALLEST and x1 - x0 <= TALLEST


def small_boxes(chances: Chances, known: Iterable[Glyph]) -> tuple[list[Box], list[str]]:
    """The corners of cells in which the network sees small characters and nobody has read any, and words on those where
    it is in doubt."""
    centres = np.array([glyph.centre for glyph in known]).reshape(-1, 2)
    boxes: list[Box] = []
    notes: list[str] = []
    for cell in chances.cells():
        chance = chances.node(cell, "SMALL")
        left, top = cell.column - 1, cell.row - 1
        box = (float(left), float(top), left + CORNER[0], top + CORNER[1])
        read = bool(_within(centres, box).any())
        if chance > DRAWN and not read:
            boxes.append(box)
        elif MIDDLING[0] < chance < MIDDLING[1] and not read:
            notes.append(f"perhaps small characters stand in {cell}")
    return boxes, notes


def _within(points: np.ndarray, box: Box) -> np.ndarray:
    x, y = points[:, 0], points[:, 1]
    return np.asarray((box[0] <= x) & (x <= box[2]) & (box[1] <= y) & (y <= box[3]))
