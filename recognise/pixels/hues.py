"""Numbers of two inks that run into one another.

Print sets all figures of a number in one ink. Where two kinds of numbers stand beside a grid, those of a row and those
of a diagonal, they may come so close that they look like one; in two colours they are told all the same."""

from __future__ import annotations

from collections.abc import Sequence

from ingest.page import Colour
from recognise.pixels.blobs import Pieces, colour_of
from recognise.pixels.frame import Colours
from recognise.pixels.glyphs import Character

OTHER_HUE = 40
"""Of 255: by how much the channels of two inks differ otherwise at least; those of one ink do by a few, in a JPEG
too."""


def by_colour(number: Sequence[Character], pieces: Pieces, relative: Colours) -> list[list[Character]]:
    """The figures of what stands together, from left to right, parted where they are of two colours."""
    figures = sorted(number, key=lambda one: one.box[0])
    hues = [_hue(colour_of(one.blob, pieces, relative)) for one in figures]
    parted: list[list[Character]] = []
    for at, one in enumerate(figures):
        if at and _apart(hues[at - 1], hues[at]) < OTHER_HUE:
            parted[-1].append(one)
        else:
            parted.append([one])
    return parted


def _hue(colour: Colour) -> tuple[int, int]:
    """What of a colour is none of how light it is: of one ink a fine stroke is lighter than a bold one."""
    red, green, blue = colour
    return red - green, blue - green


def _apart(one: tuple[int, int], other: tuple[int, int]) -> int:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
