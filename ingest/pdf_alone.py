"""Characters to which a file gives no meaning, each as a picture of itself: only its looks tell what it is, and on the
page lines and tints are in the way."""

from __future__ import annotations

from ctypes import POINTER, c_float, c_ubyte, cast
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
import pypdfium2.raw as pdfium

from ingest import pdf_raw as raw
from ingest.page import Box
from ingest.pdf_frame import Matrix

TALL = 48
"""Pixels of a picture's longer side: more than a reader of characters looks at."""
FREE = 2
"""Pixels of paper around the character."""
MOST = 3000
"""Characters of a page that get a picture."""
_MOST_PIXELS = 8_000_000
"""Of one rendered text."""
_DIGIT = 0.7
"""Height of a digit as a part of the font size."""
_DARK, _LOOSE = 160, 0.7
"""Grey below which a pixel is ink; and the part of a picture's width or height that the ink takes up at most where the
box of its character is far too large."""
_SHORTEST = 0.2
"""Points: what is smaller is a dot of a leader."""

Grey = npt.NDArray[np.uint8]


class Alone:
    """Draws single characters of a PDFium page. A text is rendered once for all its characters."""

    def __init__(self, document: Any, page: Any) -> None:
        self._document, self._page = document, page
        self._left = MOST
        self._last: tuple[tuple[int, float], tuple[Grey, Box, float] | None] | None = None

    def picture(self, text: raw.PageObject, to_frame: Matrix, size: float, box: Box) -> Grey | None:
        """The character of a text, set in so many points, whose ink has a box in the frame: dark on light, upright in
        the frame, FREE pixels of paper around it. `to_frame` maps from the stream that holds the text. None where it
        cannot be drawn."""
        longer = max(box[2] - box[0], box[3] - box[1])
        if self._left <= 0 or min(longer, size) < _SHORTEST or not to_frame.magnification:
            return None
        self._left -= 1
        scale = TALL / (_DIGIT * size) * to_frame.magnification
        key = raw.address(text), scale
        if self._last is None or self._last[0] != key:
            self._last = key, self._rendered(text, scale)
        rendered = self._last[1]
        return None if rendered is None else _cut_out(*rendered, to_frame, box)

    def _rendered(self, text: raw.PageObject, scale: float) -> tuple[Grey, Box, float] | None:
        """A text alone, the box of its stream that it shows, and pixels a unit."""
        bounds = raw.bounds(text)
        if bounds is None or (bounds[2] - bounds[0]) * (bounds[3] - bounds[1]) * scale**2 > _MOST_PIXELS:
            return None
        bitmap = pdfium.FPDFTextObj_GetRenderedBitmap(self._document, self._page, text, c_float(scale))
        if not bitmap:
            return None
        try:
            if pdfium.FPDFBitmap_GetFormat(bitmap) != pdfium.FPDFBitmap_BGRA:
                return None
            width, height = pdfium.FPDFBitmap_GetWidth(bitmap), pdfium.FPDFBitmap_GetHeight(bitmap)
            stride = pdfium.FPDFBitmap_GetStride(bitmap)
            buffer = cast(pdfium.FPDFBitmap_GetBuffer(bitmap), POINTER(c_ubyte))
            rows = np.ctypeslib.as_array(buffer, (height, stride))
            cover = rows[:, : 4 * width].reshape(height, width, 4)[..., 3]
            return np.asarray(255 - cover, np.uint8), bounds, scale
        finally:
            pdfium.FPDFBitmap_Destroy(bitmap)


def inked(picture: Grey, box: Box) -> Box | None:
    """The box in the frame of the ink of a character, of which `picture` shows `box`; None where that is no smaller. A
    fount whose characters are drawings gives them all one box."""
    dark = picture < _DARK
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    if not len(rows) or min(len(rows) / dark.shape[0], len(columns) / dark.shape[1]) > _LOOSE:
        return None
    left, top, right, bottom = box
    density = TALL / max(right - left, bottom - top)
    return (
        left + (int(columns[0]) - FREE) / density,
        top + (int(rows[0]) - FREE) / density,
        left + (int(columns[-1]) + 1 - FREE) / density,
        top + (int(rows[-1]) + 1 - FREE) / density,
    )


def _cut_out(image: Grey, bounds: Box, scale: float, to_frame: Matrix, box: Box) -> Grey:
    """The part of a rendered text that lies in a box of the frame, as the frame shows it."""
    left, top, right, bottom = box
    density = TALL / max(right - left, bottom - top)
    width, height = (max(1, round(side * density)) + 2 * FREE for side in (right - left, bottom - top))
    # Three corners of the picture, in the frame, in the text's stream, and in its rendering.
    corners = np.array([(0.0, 0.0), (width, 0.0), (0.0, height)])
    in_frame = corners / density + (left - FREE / density, top - FREE / density)
    in_stream = to_frame.inverse().apply(in_frame)
    in_image = (in_stream - (bounds[0], bounds[3])) * (scale, -scale)
    shift = cv2.getAffineTransform(np.asarray(corners - 0.5, np.float32), np.asarray(in_image - 0.5, np.float32))
    flags = cv2.INTER_AREA | cv2.WARP_INVERSE_MAP
    found = cv2.warpAffine(
        image, shift, (width, height), flags=flags, borderMode=cv2.BORDER_CONSTANT, borderValue=(255.0,)
    )
    return np.asarray(found, np.uint8)
