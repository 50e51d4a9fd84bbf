"""Characters that are drawings, such as a disc, a square or a triangle out of a fount of signs: the paths they draw."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import byref, c_double
from typing import Any

import pypdfium2.raw as pdfium

from ingest import pdf_raw as raw
from ingest.page import Colour, VectorPath
from ingest.pdf_frame import Matrix

_LONE = frozenset("•⚪⚫❍❏❐❑❒")
_GEOMETRIC = range(0x25A0, 0x2600)
"""The block of geometric shapes (Unicode 15, "Geometric Shapes")."""
_MORE = range(0x2B12, 0x2BD2)
"""Squares, circles, stars and arrowheads (Unicode 15, "Miscellaneous Symbols and Arrows", without its arrows)."""
_OWN = range(0xE000, 0xF900)
"""Where founts of signs without names keep theirs (Unicode 15, "Private Use Area"): symbolic TrueType founts from
U+F000 to U+F0FF, founts of icons anywhere."""


def is_symbol(text: str) -> bool:
    """Whether a character stands for its shape and not for a letter, a figure or a sign."""
    return len(text) == 1 and (text in _LONE or any(ord(text) in block for block in (_GEOMETRIC, _MORE, _OWN)))


def symbol_path(
    text_page: Any, index: int, thing: raw.PageObject, to_frame: Matrix, colour: Colour, order: int
) -> VectorPath | None:
    """What character `index` of a text page paints, as a filled path; None where the fount has no outline of it.
    `thing` is its text object, `to_frame` maps from the page."""
    font = pdfium.FPDFTextObj_GetFont(thing)
    x, y, matrix = c_double(), c_double(), pdfium.FS_MATRIX()
    placed = pdfium.FPDFText_GetCharOrigin(text_page, index, byref(x), byref(y))
    if not font or not placed or not pdfium.FPDFText_GetMatrix(text_page, index, matrix):
        return None
    size = pdfium.FPDFText_GetFontSize(text_page, index)
    code = pdfium.FPDFText_GetUnicode(text_page, index)
    glyph = pdfium.FPDFFont_GetGlyphPath(font, code, 1.0)
    if not glyph:
        return None
    grown = Matrix(matrix.a * size, matrix.b * size, matrix.c * size, matrix.d * size, x.value, y.value)
    pieces = [piece for piece in raw.flattened(_segments(glyph), grown.then(to_frame)) if len(piece[0]) > 2]
    if not pieces:
        return None
    return VectorPath(
        subpaths=tuple(tuple(map(tuple, points.tolist())) for points, _, _ in pieces),
        closed=(True,) * len(pieces),
        curved=tuple(curved for _, _, curved in pieces),
        stroke=None,
        fill=colour,
        width=0.0,
        order=order,
        is_sign=True,
    )


def _segments(glyph: Any) -> Iterator[Any]:
    for place in range(max(0, pdfium.FPDFGlyphPath_CountGlyphSegments(glyph))):
        yield pdfium.FPDFGlyphPath_GetGlyphPathSegment(glyph, place)
