"""A minus that touches the last figure of its number: one piece of ink that ends in a level bar."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from recognise.glyphs.window import window
from recognise.marks.operations import LEVEL, SHORTEST, THICKEST
from recognise.pixels.blobs import Blob, Pieces, picture
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, Character, CharacterReader
from recognise.pixels.touching import PAD, SURE_WHOLE

WIDE = 0.8
"""As a part of its height: a piece narrower than this is no figure with a sign behind it."""
SURE_FIGURE = 0.8
"""The rest of the piece must read as a figure with this probability."""
INK = 0.4
"""Part of the darkest ink of a piece that is of a stroke."""

Picture = npt.NDArray[np.uint8]


def bars_parted(
    characters: Sequence[Character], pieces: Pieces, drawn: Grey, raster: Raster, reader: CharacterReader
) -> tuple[list[Character], list[Blob]]:
    """The characters, a piece that is no sure one as the figure alone where it ends in a level bar; and these bars."""
    found: list[Character] = []
    bars: list[Blob] = []
    for character in characters:
        figure, bar = _parted(character, pieces, drawn, raster, reader) or (character, None)
        found.append(figure)
        bars += [bar] if bar else []
    return found, bars


def _parted(
    character: Character, pieces: Pieces, drawn: Grey, raster: Raster, reader: CharacterReader
) -> tuple[Character, Blob] | None:
    """A piece as a figure and the bar behind it; None where it is nothing of the kind."""
    blob = character.blob
    sure = character.is_digit and character.guesses[0].probability >= SURE_WHOLE
    if sure or blob.width < WIDE * blob.height:
        return None
    left, top = min(blob.x, PAD), min(blob.y, PAD)
    own = picture(blob, pieces, drawn)[top : top + blob.height, left : left + blob.width]
    bar = bar_at_end(own)
    if bar is None:
        return None
    x, y, width, height = bar
    paper = np.pad(own[:, :x], PAD, constant_values=255)
    (guesses,) = reader.read([window(paper, (PAD, PAD, PAD + x, PAD + blob.height))], DIGITS)
    if not guesses or not guesses[0].text or guesses[0].probability < SURE_FIGURE:
        return None
    alone = Blob(blob.x, blob.y, x, blob.height, blob.area - width * height, blob.labels)
    behind = Blob(blob.x + x, blob.y + y, width, height, width * height, ())
    return Character(alone, alone.box(raster), guesses, guesses), behind


def bar_at_end(own: Picture) -> tuple[int, int, int, int] | None:
    """The box (x, y, width, height) of the level bar in which the picture of a piece, dark on white, ends to the right;
    None where it does not."""
    ink = 255 - own.astype(np.int16)
    dark = ink > INK * int(ink.max(initial=0))
    tall, wide = dark.shape
    begins = wide
    while begins > 0 and (band := _extent(dark[:, begins - 1 :])) and band[1] - band[0] <= THICKEST * tall:
        begins -= 1
    band = _extent(dark[:, begins:])
    if not band or begins == 0 or wide - begins < SHORTEST * tall:
        return None
    middle = (band[0] + band[1]) / 2
    return (begins, band[0], wide - begins, band[1] - band[0]) if abs(middle - tall / 2) <= LEVEL * tall else None


def _extent(dark: npt.NDArray[np.bool_]) -> tuple[int, int] | None:
    """From which row to which there is ink."""
    rows = np.flatnonzero(dark.any(axis=1))
    return (int(rows[0]), int(rows[-1]) + 1) if rows.size else None
