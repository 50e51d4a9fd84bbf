"""Raster images of a PDF page, and what its tiling patterns fill: outlines where they can be traced, else pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pypdfium2.raw as pdfium

from ingest import pdf_raw as raw
from ingest.page import Box, Colour, VectorPath
from ingest.pdf_boxes import is_upright, points_of
from ingest.pdf_clips import Clip, Context, clips_of, cut_by
from ingest.pdf_frame import Points
from ingest.pdf_harvest import Harvest, Unnamed
from ingest.pdf_paint import NAMELESS
from ingest.pdf_traced import WHITE, Drawn, Piece

SMALL, MOST_DRAWN = 150.0, 400
"""Points: a larger raster image is no mark, unless it is all of one colour; and how many things of a page are drawn
alone."""
ALL_OVER = 0.97
"""The part of its box that a flat image covers if nothing masks it."""
MOSTLY = 0.85
"""What paints more of its area is a flat tint, in whatever way it is painted."""
MOST_ALONE = 100
"""Fills of a page that are drawn once more, each by itself in some milliseconds."""
CORNERS = 8
"""A traced outline with more of them is a curve."""
UNIT = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
"""The square that an image fills in its own space (ISO 32000-1, 8.9.5)."""


def take_picture(thing: raw.PageObject, context: Context, harvest: Harvest) -> None:
    """Keep a raster image: as an area where it is flat, to be traced where it is small, else as a picture."""
    to_frame = raw.matrix(thing).then(context.to_frame)
    box = to_frame.box((0.0, 0.0, 1.0, 1.0))
    clips = clips_of(thing, context)
    colour = None if pdfium.FPDFPageObj_HasTransparency(thing) else raw.flat_colour(thing)
    small = max(box[2] - box[0], box[3] - box[1]) <= SMALL
    flat = None if colour is None else _flat(to_frame.apply(UNIT), box, colour, clips, harvest.order)
    if colour is not None and flat is None:
        return
    for clip in clips:
        box = (max(box[0], clip.box[0]), max(box[1], clip.box[1]), min(box[2], clip.box[2]), min(box[3], clip.box[3]))
    if box[0] >= box[2] or box[1] >= box[3]:
        return
    if (flat or small) and len(harvest.unnamed) < MOST_DRAWN:
        harvest.unnamed.append(Unnamed(thing, box, harvest.order, flat))
    elif flat:
        harvest.paths.append(flat)
    else:
        _keep_picture(thing, box, harvest.order, harvest)


def _keep_picture(thing: raw.PageObject, box: Box, order: int, harvest: Harvest) -> None:
    """A raster image that is looked at as pixels only."""
    harvest.pictures.append((order, box))
    if not pdfium.FPDFPageObj_HasTransparency(thing):
        harvest.covers.append((order, box))


def _flat(outline: Points, box: Box, colour: Colour, clips: tuple[Clip, ...], order: int) -> VectorPath | None:
    """A raster image all of one colour is as good as a filled area. None where clips leave nothing of it."""
    left = cut_by(box, clips)
    if left is None:
        return None
    cut = tuple(clip.polygon for clip in left)
    return VectorPath((points_of(outline),), (True,), None, colour, 0.0, order=order, curved=(False,), clip=cut)


def trace(harvest: Harvest) -> None:
    """What PDFium tells too little about: drawn alone, and taken as the outlines that are seen."""
    if not harvest.unnamed:
        return
    height, width = (side / harvest.scale for side in harvest.image.shape[:2])
    drawn = Drawn(harvest.page, [(each.thing, each.box) for each in harvest.unnamed], width, height)
    # Things in one box, such as the layers of one background, are drawn together: all show what the first does.
    again = 0
    traced = {box: drawn.pieces(box) for box in dict.fromkeys(each.box for each in harvest.unnamed)}
    for each in harvest.unnamed:
        pieces = traced[each.box]
        if each.path is None and not pieces:
            _keep_picture(each.thing, each.box, each.order, harvest)
        elif each.path is not None and pdfium.FPDFPageObj_GetType(each.thing) == pdfium.FPDF_PAGEOBJ_PATH:
            own = drawn
            if each.path.fill == NAMELESS and _inked(pieces) and again < MOST_ALONE:
                # Others may lie upon it.
                again, own = again + 1, Drawn(harvest.page, [(each.thing, each.box)], width, height)
                pieces = own.pieces(each.box)
            _take_fill(each, each.path, pieces, own, harvest)
        elif each.path is not None and drawn.covered(each.box) >= ALL_OVER:
            _keep_flat(each, each.path, drawn, harvest)
        elif pieces:
            harvest.paths.extend(_as_path(piece, each.order) for piece in pieces)
        elif each.path is not None:
            harvest.paths.append(each.path)


def _inked(pieces: Sequence[Piece]) -> list[Piece]:
    """Those that are not white."""
    return [piece for piece in pieces if min(piece.colour) < WHITE]


def _take_fill(thing: Unnamed, path: VectorPath, pieces: Sequence[Piece], drawn: Drawn, harvest: Harvest) -> None:
    """A filled path as it is `drawn`: as a pattern of strokes, as one of stripes that paint all of it, in the darkest
    of their colours, or flat."""
    inked = _inked(pieces)
    painted = drawn.painted(thing.box, path)
    if inked and painted < MOSTLY:
        grain = drawn.grain(thing.box)
        harvest.paths.append(replace(path, fill=inked[0].colour, grain=grain, painted=painted))
        return
    seen = drawn.darkest(thing.box) if inked and path.fill == NAMELESS else None
    _keep_flat(thing, replace(path, fill=seen[0], painted=seen[1]) if seen else path, drawn, harvest)


def _keep_flat(thing: Unnamed, path: VectorPath, drawn: Drawn, harvest: Harvest) -> None:
    """A thing that is taken to be of one colour all over. What lies under one is hidden, but not what lies under a
    pattern that paints next to nothing, or white strokes on white paper."""
    harvest.paths.append(path)
    alone = not path.clip and len(path.subpaths) == 1 and is_upright(np.array(path.subpaths[0]))
    if alone and drawn.covered(thing.box) >= ALL_OVER:
        harvest.covers.append((thing.order, thing.box))


def name_strokes(harvest: Harvest) -> None:
    """The strokes whose colour PDFium may not tell, each drawn alone: what lies upon one or beneath it would show."""
    height, width = (side / harvest.scale for side in harvest.image.shape[:2])
    for thing, box, path in harvest.shaded:
        colour = Drawn(harvest.page, [(thing, box)], width, height).along(path.subpaths)
        harvest.paths.append(replace(path, stroke=colour or path.stroke))


def _as_path(piece: Piece, order: int) -> VectorPath:
    several = len(piece.outlines)
    curved = tuple(len(outline) > CORNERS for outline in piece.outlines)
    return VectorPath(
        piece.outlines,
        (True,) * several,
        None,
        piece.colour,
        0.0,
        opacity=piece.opacity,
        curved=curved,
        order=order,
        even_odd=True,
    )
