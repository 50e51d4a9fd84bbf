"""A second opinion on characters of a PDF's text layer: the picture read at the place where the PDF puts them."""

from __future__ import annotations

import math
from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from ingest.page import Box
from ingest.pdf_alone import FREE
from recognise.evidence import Flat, Glyph, Guess
from recognise.glyphs.classes import CHARACTERS
from recognise.glyphs.window import window
from recognise.picture import Picture
from recognise.vectors.characters import is_bar_alone

Grey = npt.NDArray[np.float32]

AROUND = 0.03
"""In cells: how far the ink of a character may stand outside the box that the PDF gives it."""
INK = 0.3
"""Part of the darkest ink in the box from which on a pixel belongs to a character."""
SPECK = 0.12
"""Part of the text's height: pieces smaller than this in both directions are dust."""
SURE = 0.99
"""How likely a character by itself is the one that is named at least: nothing is in its way."""
LEVEL, FULL = 2.0, 0.9
"""A dash that the text layer names is so many times as wide as high, and so much of its box is dark: its ends may be
round."""
SAME = str.maketrans({"−": "-", "–": "-", "—": "-", "*": "×", "x": "X", "v": "V", "o": "0", "O": "0", "l": "1"})
"""Characters that print sets for one another, as the network calls them."""
LIKE = {"×": "X", "O": "0", "I": "1"}
"""What the network cannot tell apart by the looks of one character alone."""


def second_look(glyph: Glyph, picture: Picture) -> tuple[Guess, ...] | None:
    """What the picture shows where a glyph of the text layer stands: the text itself with its probability first, where
    the picture may show it at all. None where there is no ink; empty where the ink cannot be told apart into so many
    characters, or the network knows none of them.

    A character that stands on a lattice line has lost ink with the line, and is looked for in the bare picture too."""
    x0, y0, x1, y1 = _pixels(glyph.box, picture.flat)
    bare = np.asarray(1 - channels.least(picture.flat.image[y0:y1, x0:x1]).astype(np.float32) / 255, np.float32)
    looks = [_look(part, glyph.text, picture) for part in (picture.drawn[y0:y1, x0:x1], bare)]
    inked = [look for look in looks if look is not None]
    return max(inked, key=lambda look: look[0].probability if look else 0.0) if inked else None


def looks_alone(glyph: Glyph, picture: Picture) -> bool:
    """Whether each character of a glyph, drawn alone, surely is the one that the text layer names."""
    wanted = glyph.text.translate(SAME)
    if picture.reader is None or len(glyph.alone) != len(wanted) or not set(wanted) <= set(CHARACTERS):
        return False
    crops = [window(each, (FREE, FREE, each.shape[1] - FREE, each.shape[0] - FREE)) for each in glyph.alone]
    bars = [is_bar_alone(each[FREE:-FREE, FREE:-FREE], LEVEL, FULL) for each in glyph.alone]
    read = picture.reader.read(crops)
    return all(
        bar if c == "-" else _chance(guesses, c) >= SURE for guesses, bar, c in zip(read, bars, wanted, strict=True)
    )


def _look(part: Grey, text: str, picture: Picture) -> tuple[Guess, ...] | None:
    if part.size == 0 or part.max() <= 2 * picture.floor:
        return None
    wanted = text.translate(SAME).replace(" ", "")
    pieces = _pieces(part, max(2 * picture.floor, INK * float(part.max())), AROUND * picture.flat.cell)
    known = [c.upper() if c.upper() in CHARACTERS else "" for c in wanted]
    if picture.reader is None or len(pieces) != len(wanted) or not all(known):
        return ()
    grey = np.asarray(255 * (1 - np.clip(part, 0, 1)), np.uint8)
    read = picture.reader.read([window(_alone(grey, piece), piece) for piece in pieces])
    likely = math.prod(_chance(guesses, c) for guesses, c in zip(read, known, strict=True))
    best = "".join(guesses[0].text if guesses else "" for guesses in read)
    as_read = math.prod(guesses[0].probability if guesses else 0.0 for guesses in read)
    other = (Guess(best, as_read),) if best and as_read > likely else ()
    return (Guess(text, likely), *other)


def _pixels(box: Box, flat: Flat) -> tuple[int, int, int, int]:
    x0, y0, x1, y1 = box
    grown = (x0 - AROUND, y0 - AROUND, x1 + AROUND, y1 + AROUND)
    left, top, right, bottom = (max(0, round((v + flat.margin) * flat.cell)) for v in grown)
    return left, top, right, bottom


def _pieces(part: Grey, least: float, rim: float) -> list[Box]:
    """Boxes of the single characters in a strip of ink, from left to right; pieces one above the other are one. What
    stands in the rim of the strip belongs to something else."""
    count, _, stats, _ = cv2.connectedComponentsWithStats((part > least).astype(np.uint8), connectivity=8)
    speck = SPECK * part.shape[0]
    spans: list[list[float]] = []
    for x, y, width, height, _ in sorted(map(tuple, stats[1:count]), key=lambda s: s[0]):
        inside = rim < x + width / 2 < part.shape[1] - rim and rim < y + height / 2 < part.shape[0] - rim
        if max(width, height) < speck or not inside:
            continue
        if spans and x < spans[-1][2] - 0.5 * min(width, spans[-1][2] - spans[-1][0]):
            last = spans[-1]
            spans[-1] = [last[0], min(last[1], y), max(last[2], x + width), max(last[3], y + height)]
        else:
            spans.append([x, y, x + width, y + height])
    return [(float(a), float(b), float(c), float(d)) for a, b, c, d in spans]


def _alone(grey: npt.NDArray[np.uint8], piece: Box) -> npt.NDArray[np.uint8]:
    """The picture with nothing beside one piece."""
    alone = np.full_like(grey, 255)
    x0, y0, x1, y1 = map(int, piece)
    left, right = max(0, x0 - 1), x1 + 1
    alone[max(0, y0 - 1) : y1 + 1, left:right] = grey[max(0, y0 - 1) : y1 + 1, left:right]
    return alone


def _chance(guesses: Sequence[Guess], character: str) -> float:
    """How likely a crop is a character, or one that looks just like it."""
    wanted = LIKE.get(character, character)
    return min(1.0, sum(g.probability for g in guesses if g.text and LIKE.get(g.text, g.text) == wanted))
