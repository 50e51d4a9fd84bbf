"""What a PDF page draws: paths, glyphs and pictures in the displayed frame, in paint order, as they are seen.

PDFium's own page objects are read, not the content stream: colours come as rendered from every colour space, states
are inherited as the renderer inherits them, and a page takes some ten milliseconds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Literal

import numpy as np
import pypdfium2.raw as pdfium

from ingest import pdf_raw as raw
from ingest.page import Image, VectorPath, Vectors
from ingest.pdf_alone import Alone
from ingest.pdf_boxes import box_of, grown, is_upright, points_of
from ingest.pdf_clips import Context, clips_of, cut_by, cut_out, shortened
from ingest.pdf_frame import Matrix
from ingest.pdf_harvest import Harvest, Unnamed
from ingest.pdf_paint import is_hardly_seen, is_pattern, paint_of, painted, seen_colour
from ingest.pdf_pictures import MOST_DRAWN, name_strokes, take_picture, trace
from ingest.pdf_text import TextObject, page_glyphs
from ingest.pdf_traced import pixels_along

MOST_SEGMENTS = 400_000
"""Beyond this a page is a map or a technical drawing (or hostile), and only its pixels are read."""

_DEEPEST_FORM = 12
"""Forms within each other that are followed: a file can nest them without end."""
_HAIRLINE = 0.25
"""Width in points given to a stroke of width 0, "the thinnest line that can be rendered" (ISO 32000-1, 8.4.3.2)."""
_NO_COVER = 1e-3
"""Points: by so much at least a box is larger than its path on all sides, so that an upright line meets its clip."""
WHITE, PALEST = (255, 255, 255), 240
"""The colour that PDFium names for want of another; and grey levels: what is paler is seen as paper."""
MOST_SHADED = 40
"""Strokes of a page that are drawn alone, each in some milliseconds."""
_CAPS: dict[int, Literal["butt", "round", "square"]] = {0: "butt", 1: "round", 2: "square"}


def extract_vectors(
    document: Any, page: Any, to_frame: Matrix, image: Image, scale: float, off: frozenset[str] = frozenset()
) -> Vectors | None:
    """The vectors of a PDFium page handle of a document; None when there are too many to be a printed page's. `image`
    is the rendered page at `scale` pixels a frame unit: what leaves no trace in it does not count as visible. `off`
    are the names of layers that are not shown."""
    harvest = Harvest(page, image, scale, off)
    _gather(raw.page_objects(page), Context(to_frame), harvest)
    if harvest.segments > MOST_SEGMENTS:
        return None
    trace(harvest)
    name_strokes(harvest)
    alone = Alone(document, page)
    glyphs, symbols = page_glyphs(page, to_frame, harvest.texts, harvest.covers, image, scale, alone)
    paths = sorted([*harvest.paths, *symbols], key=lambda path: path.order)
    return Vectors(tuple(paths), glyphs, tuple(box for _, box in harvest.pictures))


def _gather(things: Iterable[raw.PageObject], context: Context, harvest: Harvest) -> None:
    for thing in things:
        if harvest.segments > MOST_SEGMENTS:
            return
        harvest.order += 1
        if harvest.off and not harvest.off.isdisjoint(raw.layers(thing)):
            continue
        kind = pdfium.FPDFPageObj_GetType(thing)
        if kind == pdfium.FPDF_PAGEOBJ_PATH:
            _take_path(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_TEXT:
            _take_text(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_IMAGE:
            take_picture(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_SHADING:
            _take_shading(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_FORM and context.depth < _DEEPEST_FORM:
            _gather(raw.form_objects(thing), _inside(thing, context), harvest)


def _inside(form: raw.PageObject, context: Context) -> Context:
    named = raw.fill_colour(form)
    return Context(
        raw.matrix(form).then(context.to_frame),
        clips_of(form, context),
        context.opacity * (named[1] if named else 1.0),
        context.depth + 1,
    )


def _take_path(thing: raw.PageObject, context: Context, harvest: Harvest) -> None:
    fill_rule, stroked = raw.draw_mode(thing)
    harvest.segments += raw.segment_count(thing)
    if not (fill_rule or stroked) or harvest.segments > MOST_SEGMENTS:
        return
    to_frame = raw.matrix(thing).then(context.to_frame)
    pieces = raw.subpaths(thing, to_frame)
    if not pieces:
        return
    width = max(_HAIRLINE, raw.stroke_width(thing) * to_frame.magnification) if stroked else 0.0
    box = grown(box_of(np.concatenate([points for points, _, _ in pieces])), max(width / 2, _NO_COVER))
    clips = cut_by(box, clips_of(thing, context))
    if clips is None:
        return
    if clips and not fill_rule and not raw.dash(thing) and all(clip.upright for clip in clips):
        short = shortened(pieces, clips, width)
        pieces, clips = (short, ()) if short is not None else (pieces, clips)
        if not pieces:
            return
    form = cut_out(pieces, clips) if fill_rule and not stroked else None
    pieces, clips = form or (pieces, clips)
    fill = paint_of(raw.fill_colour(thing), pieces, context, harvest) if fill_rule else None
    stroke = paint_of(raw.stroke_colour(thing), pieces, context, harvest) if stroked else None
    shape = VectorPath(
        subpaths=tuple(points_of(points) for points, _, _ in pieces),
        closed=tuple(closed for _, closed, _ in pieces),
        curved=tuple(curved for _, _, curved in pieces),
        stroke=None,
        fill=None,
        width=width,
        dash=tuple(length * to_frame.magnification for length in raw.dash(thing)) if stroked else (),
        order=harvest.order,
        cap=_CAPS.get(pdfium.FPDFPageObj_GetLineCap(thing), "butt"),
        even_odd=form is not None or fill_rule == pdfium.FPDF_FILLMODE_ALTERNATE,
        clip=tuple(clip.polygon for clip in clips),
    )
    paths = list(painted(shape, fill, stroke))
    if len(harvest.shaded) < MOST_SHADED and _may_be_shaded(paths, harvest):
        harvest.shaded.append((thing, box, paths[0]))
        return
    lone = fill_rule and not stroked and len(paths) == 1 and len(harvest.unnamed) < MOST_DRAWN
    if lone and (is_pattern(raw.fill_colour(thing)) or is_hardly_seen(fill, [each for each, _, _ in pieces], harvest)):
        harvest.unnamed.append(Unnamed(thing, box, harvest.order, paths[0]))
        return
    harvest.paths.extend(paths)
    opaque = fill is not None and fill[1] == 1.0
    if opaque and not clips and len(pieces) == 1 and is_upright(pieces[0][0]):
        harvest.covers.append((harvest.order, box))


def _may_be_shaded(paths: Sequence[VectorPath], harvest: Harvest) -> bool:
    """Whether a path is a stroke for which PDFium names white, as it does where a shading paints it, and something else
    is seen along most of it."""
    if len(paths) != 1 or paths[0].fill is not None or paths[0].stroke != WHITE:
        return False
    seen = pixels_along(harvest.image, [np.array(way) * harvest.scale for way in paths[0].subpaths])
    return len(seen) > 0 and float(np.median(seen.min(axis=1))) < PALEST


def _take_text(thing: raw.PageObject, context: Context, harvest: Harvest) -> None:
    mode = pdfium.FPDFTextObj_GetTextRenderMode(thing)
    stroked = mode in (pdfium.FPDF_TEXTRENDERMODE_STROKE, pdfium.FPDF_TEXTRENDERMODE_STROKE_CLIP)
    named = raw.stroke_colour(thing) if stroked else raw.fill_colour(thing)
    drawn = mode not in (pdfium.FPDF_TEXTRENDERMODE_INVISIBLE, pdfium.FPDF_TEXTRENDERMODE_CLIP)
    harvest.texts[raw.address(thing)] = TextObject(
        order=harvest.order,
        colour=named[0] if named else (0, 0, 0),
        drawn=drawn and (named is None or named[1] > 0),
        font=raw.font_name(thing),
        clips=tuple(clip.box for clip in clips_of(thing, context)),
        to_frame=context.to_frame,
    )


def _take_shading(thing: raw.PageObject, context: Context, harvest: Harvest) -> None:
    """A shading fills the clip region (ISO 32000-1, 8.7.4.2): it counts as a filled path of that outline."""
    clips = clips_of(thing, context)
    bounds = raw.bounds(thing)
    if clips:
        outline = np.array(clips[-1].polygon, dtype=np.float64)
    elif bounds:
        left, top, right, bottom = context.to_frame.box(bounds)
        outline = np.array([(left, top), (right, top), (right, bottom), (left, bottom)], dtype=np.float64)
    else:
        return
    colour = seen_colour([outline], harvest)
    path = VectorPath((points_of(outline),), (True,), None, colour, 0.0, order=harvest.order, curved=(False,))
    harvest.paths.append(path)
