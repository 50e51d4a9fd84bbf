"""In what colours a PDF page paints its paths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest import pdf_raw as raw
from ingest.page import Colour, VectorPath
from ingest.pdf_clips import Context
from ingest.pdf_frame import Points
from ingest.pdf_harvest import Harvest

_PATTERN_STAND_IN = (191, 191, 191)
"""PDFium names this colour where a shading pattern paints."""
NAMELESS, WHITE_ENOUGH = (255, 255, 255), 6
"""And this one where it knows none, and levels by which white that is seen differs from it: stripes may be pale."""
LEAST, SAME, HARDLY = 8.0, 28, 0.6
"""Frame units: what is narrower holds no pattern; levels by which a pixel of a colour differs from it; and the part of
an area in which its own colour is seen at least, if it is flat and no more than marks stand on it."""


def painted(
    shape: VectorPath, fill: tuple[Colour, float] | None, stroke: tuple[Colour, float] | None
) -> Iterable[VectorPath]:
    """One path, or two where fill and stroke differ in opacity; none for what is wholly transparent."""
    fill = fill if fill and fill[1] > 0 else None
    stroke = stroke if stroke and stroke[1] > 0 else None
    if fill and stroke and fill[1] != stroke[1]:
        yield replace(shape, fill=fill[0], opacity=fill[1])
        yield replace(shape, stroke=stroke[0], opacity=stroke[1])
    elif fill or stroke:
        opacity = (fill or stroke or ((0, 0, 0), 1.0))[1]
        yield replace(shape, fill=fill and fill[0], stroke=stroke and stroke[0], opacity=opacity)


def paint_of(
    named: tuple[Colour, float] | None, pieces: list[raw.SubPath], context: Context, harvest: Harvest
) -> tuple[Colour, float]:
    """Colour and opacity; for a pattern the colour that is seen in the rendered page."""
    if named is None or is_pattern(named):
        return seen_colour([points for points, _, _ in pieces], harvest), 1.0
    colour, opacity = named
    # A group's opacity applies to the group as a whole; its objects start from 1 (ISO 32000-1, 11.6.6). Without a
    # group the objects have inherited it already.
    return colour, context.opacity if opacity == 1.0 else opacity


def is_pattern(named: tuple[Colour, float] | None) -> bool:
    """Whether no colour, or that of a pattern, is named."""
    return named is None or named[0] == _PATTERN_STAND_IN


def is_hardly_seen(fill: tuple[Colour, float] | None, outlines: list[Points], harvest: Harvest) -> bool:
    """Whether less of an area than marks upon it would leave free shows the colour that is named for it. PDFium names
    for an uncoloured tiling pattern (ISO 32000-1, 8.7.3.3) the colour of its strokes, as if it filled all, and white
    for what a shading paints that knows no single colour."""
    if fill is None or fill[1] < 1 or np.ptp(np.concatenate(outlines), axis=0).min() < LEAST:
        return False
    off = np.abs(_inside(outlines, harvest).astype(np.int16) - np.array(fill[0], np.int16))
    same = WHITE_ENOUGH if fill[0] == NAMELESS else SAME
    return bool(len(off)) and float((off.max(axis=1) <= same).mean()) < HARDLY


def seen_colour(outlines: list[Points], harvest: Harvest) -> Colour:
    """The median colour of the rendered page inside some outlines; white off the page."""
    inside = _inside(outlines, harvest)
    if not len(inside):
        return 255, 255, 255
    red, green, blue = np.median(inside, axis=0).astype(int).tolist()
    return red, green, blue


def _inside(outlines: list[Points], harvest: Harvest) -> npt.NDArray[np.uint8]:
    """The pixels of the rendered page inside some outlines, n x 3."""
    height, width = harvest.image.shape[:2]
    corners = [np.round(points * harvest.scale).astype(np.int64) for points in outlines]
    joined = np.concatenate(corners)
    left, top = np.clip(joined.min(axis=0), 0, (width - 1, height - 1))
    right, bottom = np.clip(joined.max(axis=0), 0, (width - 1, height - 1))
    window = harvest.image[top : bottom + 1, left : right + 1]
    mask = np.zeros(window.shape[:2], dtype=np.uint8)
    cv2.fillPoly(mask, [(points - (left, top)).astype(np.int32) for points in corners], 1)
    inside: npt.NDArray[np.uint8] = window[mask > 0]
    return inside
