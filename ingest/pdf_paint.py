"""In what colours a PDF page paints its paths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import cv2
import numpy as np

from ingest import pdf_raw as raw
from ingest.page import Colour, VectorPath
from ingest.pdf_clips import Context
from ingest.pdf_frame import Points
from ingest.pdf_harvest import Harvest

_PATTERN_STAND_IN = (191, 191, 191)
"""PDFium names this colour where a shading pattern paints."""


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


def seen_colour(outlines: list[Points], harvest: Harvest) -> Colour:
    """The median colour of the rendered page inside some outlines; white off the page."""
    height, width = harvest.image.shape[:2]
    corners = [np.round(points * harvest.scale).astype(np.int64) for points in outlines]
    joined = np.concatenate(corners)
    left, top = np.clip(joined.min(axis=0), 0, (width - 1, height - 1))
    right, bottom = np.clip(joined.max(axis=0), 0, (width - 1, height - 1))
    window = harvest.image[top : bottom + 1, left : right + 1]
    mask = np.zeros(window.shape[:2], dtype=np.uint8)
    cv2.fillPoly(mask, [(points - (left, top)).astype(np.int32) for points in corners], 1)
    inside = window[mask > 0]
    if not len(inside):
        return 255, 255, 255
    red, green, blue = np.median(inside, axis=0).astype(int).tolist()
    return red, green, blue
