"""The text layer of a PDF page: every character with its place, and whether it is seen."""

from __future__ import annotations

import math
from collections.abc import Iterator
from ctypes import byref, c_double
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
import pypdfium2.raw as pdfium

from ingest import channels
from ingest import pdf_raw as raw
from ingest.page import Box, Colour, Image, VectorGlyph, VectorPath
from ingest.pdf_alone import Alone, inked
from ingest.pdf_frame import Matrix
from ingest.pdf_symbols import is_symbol, symbol_path

MOST_GLYPHS = 60_000
"""A page of a telephone directory has some 15,000; what comes after these is not read from the text layer."""

_LEAST_CONTRAST = 24
"""Grey levels by which ink must differ from its ground to be seen: print at a tenth of black."""
_PAINTED = 0.6
"""The pixel nearest to a glyph's colour is at most this part of the way to its ground: a hairline smoothed over two
pixels keeps half of its colour."""
_INKED, _BLANK = 128, 0.02
"""A blank's picture has less than such a part of pixels darker than this: at most a corner of its neighbour's."""
_CLUES = frozenset("0123456789+-−–×÷")
"""What numbers and the signs of totals are set in: small ones are hard to read among what is drawn around them."""
_UPRIGHT_SLACK = 0.1
"""Sine of the largest slope of upright text; slanted fonts shear the vertical, not the base line."""


@dataclass(frozen=True, slots=True)
class TextObject:
    """What the characters of one text object share."""

    order: int
    colour: Colour
    drawn: bool
    font: str
    clips: tuple[Box, ...]
    to_frame: Matrix
    """From the stream that holds the text."""


def page_glyphs(
    page: Any,
    to_frame: Matrix,
    texts: dict[int, TextObject],
    covers: list[tuple[int, Box]],
    image: Image,
    scale: float,
    alone: Alone,
) -> tuple[tuple[VectorGlyph, ...], tuple[VectorPath, ...]]:
    """The characters of a page but for blanks, in reading order as the file gives it, and the outlines of those that
    are drawings. `covers` are opaque upright
    areas with their paint order; `alone` draws characters that the file gives no meaning."""
    text_page = pdfium.FPDFText_LoadPage(page)
    if not text_page:
        return (), ()
    try:
        found = list(_characters(text_page, to_frame, texts, alone))
    finally:
        pdfium.FPDFText_ClosePage(text_page)
    if not found:
        return (), ()
    under, wholly = _covered([glyph for glyph, _, _ in found], covers)
    glyphs = tuple(
        _glyph(glyph, _shows(glyph, image, scale), *over)
        if owner.drawn and _unclipped(glyph, owner)
        else _unseen(glyph)
        for (glyph, owner, _), *over in zip(found, under, wholly, strict=True)
    )
    return glyphs, tuple(path for _, owner, path in found if path is not None and owner.drawn)


def _glyph(glyph: VectorGlyph, shows: bool, under: bool, wholly: bool) -> VectorGlyph:
    """A character that is drawn: seen, or hidden under what was painted later."""
    if shows and not under:
        return glyph
    return replace(glyph, visible=False, buried="part" if shows and not wholly else "whole")


def _unseen(glyph: VectorGlyph) -> VectorGlyph:
    return replace(glyph, visible=False)


def _characters(
    text_page: Any, to_frame: Matrix, texts: dict[int, TextObject], alone: Alone
) -> Iterator[tuple[VectorGlyph, TextObject, VectorPath | None]]:
    spaced = False
    for index in range(min(MOST_GLYPHS, max(0, pdfium.FPDFText_CountChars(text_page)))):
        if pdfium.FPDFText_IsGenerated(text_page, index) == 1:
            spaced = True
            continue
        code = pdfium.FPDFText_GetUnicode(text_page, index)
        unknown = code == 0 or pdfium.FPDFText_HasUnicodeMapError(text_page, index) == 1
        text = "" if unknown or code > 0x10FFFF else chr(code)
        if text.isspace():
            spaced = True
            continue
        box = _character_box(text_page, index)
        thing = pdfium.FPDFText_GetTextObject(text_page, index)
        owner = texts.get(raw.address(thing))
        if box is None or owner is None:
            continue
        size, upright, angle = _size(text_page, index, to_frame)
        place = to_frame.box(box)
        looked_at = owner.drawn and (not text or text in _CLUES)
        picture = alone.picture(thing, owner.to_frame, size, place) if looked_at else None
        if not text and picture is not None and (picture < _INKED).mean() < _BLANK:
            spaced = True
            continue
        if not text and picture is not None and (tight := inked(picture, place)) is not None:
            place = tight
            picture = alone.picture(thing, owner.to_frame, size, place)
        path = None
        if is_symbol(text):
            path = symbol_path(text_page, index, thing, to_frame, owner.colour, owner.order)
        glyph = VectorGlyph(
            text, place, size, owner.font, owner.colour, upright, True, owner.order, spaced, angle, picture, bool(path)
        )
        yield glyph, owner, path
        spaced = False


def _character_box(text_page: Any, index: int) -> Box | None:
    left, right, bottom, top = c_double(), c_double(), c_double(), c_double()
    sides = (byref(left), byref(right), byref(bottom), byref(top))
    if not pdfium.FPDFText_GetCharBox(text_page, index, *sides):
        return None
    box = (
        min(left.value, right.value),
        min(bottom.value, top.value),
        max(left.value, right.value),
        max(bottom.value, top.value),
    )
    return box if box[2] > box[0] and box[3] > box[1] else None


def _size(text_page: Any, index: int, to_frame: Matrix) -> tuple[float, bool, float]:
    """Font size on the page, whether the base line runs rightwards with the letters' tops up, and where it runs."""
    matrix = pdfium.FS_MATRIX()
    size = float(pdfium.FPDFText_GetFontSize(text_page, index))
    if not pdfium.FPDFText_GetMatrix(text_page, index, matrix):
        return size * to_frame.magnification, True, 0.0
    # Under a matrix that turns the page upside down a size below nothing sets text upright.
    way = math.copysign(1.0, size)
    placed = Matrix(way * matrix.a, way * matrix.b, way * matrix.c, way * matrix.d).then(to_frame)
    along = math.hypot(placed.a, placed.b)
    upright = placed.a > 0 and abs(placed.b) <= _UPRIGHT_SLACK * along and placed.d < 0
    angle = math.degrees(math.atan2(placed.b, placed.a))
    return abs(size) * math.hypot(placed.c, placed.d), upright, angle


def _covered(
    found: list[VectorGlyph], covers: list[tuple[int, Box]]
) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
    """Which glyphs lie under something opaque that was painted later, with their middle and with all of their box."""
    under, wholly = np.zeros((2, len(found)), dtype=np.bool_)
    boxes = np.array([glyph.box for glyph in found])
    orders = np.array([glyph.order for glyph in found])
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2
    for order, (left, top, right, bottom) in covers:
        inside = (middles[:, 0] > left) & (middles[:, 0] < right) & (middles[:, 1] > top) & (middles[:, 1] < bottom)
        within = (boxes[:, :2] >= (left, top)).all(axis=1) & (boxes[:, 2:] <= (right, bottom)).all(axis=1)
        under |= inside & (orders < order)
        wholly |= within & (orders < order)
    return under, wholly


def _unclipped(glyph: VectorGlyph, owner: TextObject) -> bool:
    x, y = (glyph.box[0] + glyph.box[2]) / 2, (glyph.box[1] + glyph.box[3]) / 2
    return all(left <= x <= right and top <= y <= bottom for left, top, right, bottom in owner.clips)


def _shows(glyph: VectorGlyph, image: Image, scale: float) -> bool:
    """Whether the rendered page has ink of the glyph's colour, and something else, where the glyph is."""
    left, top, right, bottom = (side * scale for side in glyph.box)
    # Two pixels of ground around the ink: a glyph such as a bar fills its box wholly.
    window = image[max(0, int(top) - 2) : max(0, int(bottom) + 3), max(0, int(left) - 2) : max(0, int(right) + 3)]
    if not window.size:
        return False
    away = channels.most(cv2.absdiff(window, (*map(float, glyph.colour), 0.0)))
    near, far = int(away.min()), int(away.max())
    return far - near >= _LEAST_CONTRAST and near <= _PAINTED * far
