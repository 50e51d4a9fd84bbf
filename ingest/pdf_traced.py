"""Things of a PDF page for which PDFium names no outline or no colour, drawn alone and traced: what a tiling pattern
paints, and small raster images with a soft mask or of few colours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from ctypes import POINTER, c_ubyte, cast
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
import pypdfium2.raw as pdfium
from skimage.measure import find_contours

from ingest import pdf_raw as raw
from ingest.page import Box, Colour, Point, VectorPath

MOST_PIXELS, DENSEST = 6_000_000, 6.0
"""Of the picture in which all such things of a page are drawn, and its pixels a frame unit at most."""
FAINTEST, HALF = 0.05, 0.5
"""Opacities: of a thing that is seen; and the part of a thing's own at which its outline lies."""
COLOURS, NEAR, REST = 3, 28, 0.004
"""A thing that can be traced has so few colours, each within so many levels, and no more of it is of others: a figure
on a tile covers a twentieth of it."""
RIM, SOLID = 2, 0.8
"""Pixels along the rim of an image that may be painted in part; and the part of its own opacity that a thing's body
has."""
EXACT, SPECK, SOFT = 0.6, 6, 1.0
"""Pixels: by how much an outline may be simplified, the least area of a piece, and by how much the mask of a colour is
softened so that its outline does not have the steps of an image's own pixels."""
DARKEST = 0.05
"""The part of what is seen of a shaded stroke that may be darker than its colour is said to be: where its end meets
another thing."""
SPARE, WHITE = 0.5, 240
"""Frame units that the outlines of a pattern are too wide on either side; and grey levels: what is no paler paints
nothing on paper."""

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Piece:
    """All that a thing paints in one colour: outlines in the frame, filled by the even-odd rule."""

    colour: Colour
    opacity: float
    outlines: tuple[tuple[Point, ...], ...]


class Drawn:
    """Some objects of a page drawn without all others, on nothing."""

    def __init__(self, page: Any, things: Sequence[tuple[raw.PageObject, Box]], width: float, height: float) -> None:
        """`things` with their boxes in the frame, which is so wide and high."""
        left, top = (max(0.0, min(box[side] for _, box in things)) for side in (0, 1))
        right, bottom = (min(limit, max(box[side] for _, box in things)) for side, limit in ((2, width), (3, height)))
        area = max(1.0, right - left) * max(1.0, bottom - top)
        self._density = float(min(DENSEST, np.sqrt(MOST_PIXELS / area)))
        self._left, self._top = left, top
        size = [max(1, int(np.ceil(side * self._density))) for side in (right - left, bottom - top)]
        wanted = {raw.address(thing) for thing, _ in things}
        others = [thing for thing in _leaves(raw.page_objects(page)) if raw.address(thing) not in wanted]
        for thing in others:
            pdfium.FPDFPageObj_SetIsActive(thing, False)
        try:
            self._pixels = self._rendered(page, (size[0], size[1]), width, height)
        finally:
            for thing in others:
                pdfium.FPDFPageObj_SetIsActive(thing, True)

    def _rendered(self, page: Any, size: tuple[int, int], width: float, height: float) -> npt.NDArray[np.uint8]:
        bitmap = pdfium.FPDFBitmap_CreateEx(*size, pdfium.FPDFBitmap_BGRA, None, 0)
        try:
            pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, *size, 0)
            start = (-round(side * self._density) for side in (self._left, self._top))
            whole = (max(1, round(side * self._density)) for side in (width, height))
            pdfium.FPDF_RenderPageBitmap(bitmap, page, *start, *whole, 0, 0)
            stride = pdfium.FPDFBitmap_GetStride(bitmap)
            buffer = cast(pdfium.FPDFBitmap_GetBuffer(bitmap), POINTER(c_ubyte))
            rows = np.ctypeslib.as_array(buffer, (size[1], stride))
            return rows[:, : 4 * size[0]].reshape(size[1], size[0], 4)[..., (2, 1, 0, 3)].copy()
        finally:
            pdfium.FPDFBitmap_Destroy(bitmap)

    def pieces(self, box: Box) -> tuple[Piece, ...]:
        """What was drawn in a box of the frame, colour by colour; empty where there is nothing, or too many colours."""
        window, left, top = self._window(box)
        labels, colours, peak = _by_colour(window)
        found = []
        for index, colour in enumerate(colours):
            if len(colours) == 1:
                cover = window[..., 3].astype(np.float32) / (255 * peak)
            else:
                cover = (labels == index).astype(np.float32)
            soft = cv2.GaussianBlur(cover, (0, 0), SOFT, borderType=cv2.BORDER_CONSTANT)
            outlines = tuple(self._outlines(soft, left, top))
            if outlines:
                found.append(Piece(colour, round(peak, 2), outlines))
        return tuple(found)

    def grain(self, box: Box) -> tuple[tuple[Point, ...], ...]:
        """Outlines, a little wider, of what a pattern paints in a box."""
        window, left, top = self._window(box)
        reach = 2 * round(SPARE * self._density) + 1
        on_paper = window[..., :3].min(axis=2) < WHITE
        wider = cv2.dilate(np.where(on_paper, window[..., 3], 0), np.ones((reach, reach), np.uint8))
        return tuple(self._outlines(wider / 255, left, top))

    def along(self, ways: Sequence[Sequence[Point]]) -> Colour | None:
        """The darkest colour that is seen along some ways, as far as they are opaque; None where nothing is seen."""
        seen = pixels_along(self._pixels, [(np.array(way) - (self._left, self._top)) * self._density for way in ways])
        seen = seen[seen[:, 3] >= 255 * HALF][:, :3]
        if not len(seen):
            return None
        red, green, blue = seen[np.argsort(seen.sum(axis=1))[int(DARKEST * len(seen))]].tolist()
        return red, green, blue

    def darkest(self, box: Box) -> tuple[Colour, float] | None:
        """The darkest of the few colours drawn in a box, and the part of what was drawn that shows it; None where there
        are none, or too many."""
        window, _, _ = self._window(box)
        labels, colours, _ = _by_colour(window)
        if not colours:
            return None
        index = min(range(len(colours)), key=lambda each: sum(colours[each]))
        part = int(np.count_nonzero(labels == index)) / max(1, int(np.count_nonzero(window[..., 3])))
        return colours[index], (min(1.0, part) if len(colours) > 1 else 1.0)

    def covered(self, box: Box) -> float:
        """The part of a box on which anything was drawn."""
        window, _, _ = self._window(box)
        return float((window[1:-1, 1:-1, 3] > 0).mean()) if min(window.shape[:2]) > RIM else 1.0

    def painted(self, box: Box, path: VectorPath) -> float:
        """The part of an area, in a box, that is painted in any other colour than white. The pixels on its rim, which
        are painted in part, do not count; of an area that has no others, or lies off the page, all is."""
        window, left, top = self._window(box)
        if not window.size:
            return 1.0

        def inside(outlines: Sequence[Sequence[Point]]) -> Mask:
            mask = np.zeros(window.shape[:2], np.uint8)
            places = [(np.array(each) - (self._left, self._top)) * self._density - (left, top) for each in outlines]
            cv2.fillPoly(mask, [np.rint(each).astype(np.int32) for each in places], 1)
            return np.asarray(cv2.erode(mask, np.ones((3, 3), np.uint8)) > 0, np.bool_)

        within = np.logical_and.reduce([inside(path.subpaths), *(inside([clip]) for clip in path.clip)])
        cover = np.where(window[..., :3].min(axis=2) < WHITE, window[..., 3], 0)[within]
        return float(cover.mean()) / 255 if cover.size else 1.0

    def _window(self, box: Box) -> tuple[npt.NDArray[np.uint8], int, int]:
        height, width = self._pixels.shape[:2]
        left, right = (int(np.clip(round((x - self._left) * self._density), 0, width)) for x in (box[0], box[2]))
        top, bottom = (int(np.clip(round((y - self._top) * self._density), 0, height)) for y in (box[1], box[3]))
        return self._pixels[top:bottom, left:right], left, top

    def _outlines(self, cover: Floats, left: int, top: int) -> Iterator[tuple[Point, ...]]:
        """The outlines of what covers half of a pixel or more, in a window that begins there."""
        for contour in find_contours(np.pad(cover, 1), HALF):
            points = contour[:, ::-1].astype(np.float32)[:, None]
            if cv2.contourArea(points) < SPECK:
                continue
            simple = cv2.approxPolyDP(points, EXACT, closed=True)[:, 0]
            if len(simple) > 2:
                # The middle of a pixel lies half a pixel behind its edge; one pixel was added around.
                placed = (simple.astype(np.float64) - 0.5 + (left, top)) / self._density + (self._left, self._top)
                yield tuple(map(tuple, placed.tolist()))


def pixels_along(image: npt.NDArray[np.uint8], ways: Sequence[Floats]) -> npt.NDArray[np.uint8]:
    """The pixels of an image along some ways, each n x 2 points in its pixels, as m x channels."""
    mask = np.zeros(image.shape[:2], np.uint8)
    for way in ways:
        cv2.polylines(mask, [np.rint(way).astype(np.int32)], False, 1)
    return image[mask > 0]


def _leaves(things: Iterator[raw.PageObject]) -> Iterator[raw.PageObject]:
    """Objects that are no forms, and those within forms."""
    for thing in things:
        if pdfium.FPDFPageObj_GetType(thing) == pdfium.FPDF_PAGEOBJ_FORM:
            yield from _leaves(raw.form_objects(thing))
        else:
            yield thing


def _mixed(pixels: npt.NDArray[np.int16], colours: Sequence[Colour]) -> Mask:
    """Which pixels (n, 3) are of one of some colours, or mix two of them as those on an edge do."""
    found = np.zeros(len(pixels), np.bool_)
    for one, other in combinations_with_replacement(np.array(colours, np.float64), 2):
        way = other - one
        parts = ((pixels - one) @ way / max(float(way @ way), 1.0)).clip(0, 1)
        found |= np.abs(pixels - one - parts[:, None] * way).max(axis=1) <= NEAR
    return found


def _by_colour(window: npt.NDArray[np.uint8]) -> tuple[npt.NDArray[np.int8], list[Colour], float]:
    """For each pixel the number of its colour, -1 for none; the colours; and how opaque they are. No colours where
    there is nothing, or too many."""
    cover = window[..., 3].astype(np.float32) / 255
    labels = np.full(cover.shape, -1, np.int8)
    seen = cover[cover > FAINTEST]
    if not seen.size:
        return labels, [], 0.0
    peak = float(np.percentile(seen, 95))
    body = cover >= SOLID * peak
    inside = cover >= HALF * peak
    # What fades is a shadow or a gradient.
    if np.count_nonzero(seen > FAINTEST) > np.count_nonzero(body) * 4 and np.count_nonzero(body) < 50:
        return labels, [], 0.0
    pixels = window[body][:, :3].astype(np.int16)
    left, enough = pixels, max(SPECK, REST * len(pixels))
    colours: list[Colour] = []
    while len(left) > enough:
        if len(colours) == COLOURS:
            return labels, [], 0.0
        shades = (left >> 3).astype(np.int32) @ np.array((1024, 32, 1), np.int32)
        middle = np.median(left[shades == np.bincount(shades).argmax()], axis=0)
        red, green, blue = (int(v) for v in middle)
        colours.append((red, green, blue))
        left = left[~_mixed(left, colours)]
    apart = np.stack([np.abs(window[..., :3].astype(np.int16) - c).sum(axis=2) for c in colours])
    labels[inside] = apart.argmin(axis=0)[inside]
    return labels, colours, peak
