"""What a PDF page draws: paths, glyphs and pictures in the displayed frame, in paint order, as they are seen.

PDFium's own page objects are read, not the content stream: colours come as rendered from every colour space, states
are inherited as the renderer inherits them, and a page takes some ten milliseconds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any, Literal

import cv2
import numpy as np
import pypdfium2.raw as pdfium

from ingest import pdf_raw as raw
from ingest.page import Box, Colour, Image, Point, VectorPath, Vectors
from ingest.pdf_alone import Alone
from ingest.pdf_frame import Matrix, Points
from ingest.pdf_text import TextObject, page_glyphs
from ingest.pdf_traced import WHITE, Drawn, Piece

MOST_SEGMENTS = 400_000
"""Beyond this a page is a map or a technical drawing (or hostile), and only its pixels are read."""

_DEEPEST_FORM = 12
_HAIRLINE = 0.25
"""Width in points given to a stroke of width 0, "the thinnest line that can be rendered" (ISO 32000-1, 8.4.3.2)."""
_PATTERN_STAND_IN = (191, 191, 191)
"""PDFium names this colour where a shading pattern paints."""
SMALL, MOST_DRAWN = 150.0, 400
"""Points: a larger raster image is no mark, unless it is all of one colour; and how many things of a page are drawn
alone."""
ALL_OVER = 0.97
"""The part of its box that a flat image covers if nothing masks it."""
MOSTLY = 0.85
"""What paints more of its area is a flat tint, in whatever way it is painted."""
CORNERS = 8
"""A traced outline with more of them is a curve."""
_NO_COVER = 1e-3
_LEVEL = 0.01
"""Points by which an upright line may lean."""
UNIT = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
"""The square that an image fills in its own space (ISO 32000-1, 8.9.5)."""
_CAPS: dict[int, Literal["butt", "round", "square"]] = {0: "butt", 1: "round", 2: "square"}


@dataclass(frozen=True, slots=True)
class _Clip:
    """One clip region as a polygon; pieces of a region are joined by bridges of no width. `upright` is its box where
    it is an upright rectangle."""

    polygon: tuple[Point, ...]
    box: Box
    upright: bool


@dataclass(frozen=True, slots=True)
class _Context:
    """What a form XObject hands down to its objects."""

    to_frame: Matrix
    clips: tuple[_Clip, ...] = ()
    opacity: float = 1.0
    depth: int = 0


@dataclass(frozen=True, slots=True)
class _Unnamed:
    """A thing whose look PDFium does not tell: a raster image (`path` is None, or its square where it has one colour,
    for it may be masked), or what a tiling pattern fills."""

    thing: raw.PageObject
    box: Box
    order: int
    path: VectorPath | None = None


@dataclass(slots=True)
class _Harvest:
    """What was found so far."""

    page: Any
    image: Image
    scale: float
    off: frozenset[str] = frozenset()
    paths: list[VectorPath] = field(default_factory=list)
    pictures: list[tuple[int, Box]] = field(default_factory=list)
    covers: list[tuple[int, Box]] = field(default_factory=list)
    texts: dict[int, TextObject] = field(default_factory=dict)
    unnamed: list[_Unnamed] = field(default_factory=list)
    order: int = 0
    segments: int = 0


def extract_vectors(
    document: Any, page: Any, to_frame: Matrix, image: Image, scale: float, off: frozenset[str] = frozenset()
) -> Vectors | None:
    """The vectors of a PDFium page handle of a document; None when there are too many to be a printed page's. `image`
    is the rendered page at `scale` pixels a frame unit: what leaves no trace in it does not count as visible. `off`
    are the names of layers that are not shown."""
    harvest = _Harvest(page, image, scale, off)
    _gather(raw.page_objects(page), _Context(to_frame), harvest)
    if harvest.segments > MOST_SEGMENTS:
        return None
    _trace(harvest)
    alone = Alone(document, page)
    glyphs, symbols = page_glyphs(page, to_frame, harvest.texts, harvest.covers, image, scale, alone)
    paths = sorted([*harvest.paths, *symbols], key=lambda path: path.order)
    return Vectors(tuple(paths), glyphs, tuple(box for _, box in harvest.pictures))


def _gather(things: Iterable[raw.PageObject], context: _Context, harvest: _Harvest) -> None:
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
            _take_picture(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_SHADING:
            _take_shading(thing, context, harvest)
        elif kind == pdfium.FPDF_PAGEOBJ_FORM and context.depth < _DEEPEST_FORM:
            _gather(raw.form_objects(thing), _inside(thing, context), harvest)


def _inside(form: raw.PageObject, context: _Context) -> _Context:
    painted = raw.fill_colour(form)
    return _Context(
        raw.matrix(form).then(context.to_frame),
        _clips(form, context),
        context.opacity * (painted[1] if painted else 1.0),
        context.depth + 1,
    )


def _clips(thing: raw.PageObject, context: _Context) -> tuple[_Clip, ...]:
    clips = list(context.clips)
    for pieces in raw.clip_polygons(thing, context.to_frame):
        outlines = [points for points, _, _ in pieces if len(points) > 2]
        if not outlines:
            continue
        polygon = _bridged(outlines)
        clips.append(_Clip(_points(polygon), _box(polygon), len(outlines) == 1 and _is_upright(outlines[0])))
    return tuple(clips)


def _bridged(outlines: list[Points]) -> Points:
    """Several outlines as one polygon: out to each and back again along the same way."""
    if len(outlines) == 1:
        return outlines[0]
    start = outlines[0][:1]
    return np.concatenate([part for outline in outlines for part in (outline, outline[:1], start)])


def _points(points: Points) -> tuple[Point, ...]:
    return tuple(map(tuple, points.tolist()))


def _box(points: Points) -> Box:
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    return float(left), float(top), float(right), float(bottom)


def _is_upright(points: Points) -> bool:
    """Whether a polygon is a rectangle with upright sides."""
    if not 4 <= len(points) <= 5:
        return False
    left, top, right, bottom = _box(points)
    slack = 0.01 * max(right - left, bottom - top, 0.1)
    at_side = (np.abs(points[:, 0, None] - (left, right)).min(axis=1) <= slack) & (
        np.abs(points[:, 1, None] - (top, bottom)).min(axis=1) <= slack
    )
    steps = np.abs(np.diff(np.concatenate([points[:4], points[:1]]), axis=0)) > slack
    return bool(at_side.all() and (steps.sum(axis=1) <= 1).all())


def _meets(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]


def _within(box: Box, outer: Box) -> bool:
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _cut(box: Box, clips: tuple[_Clip, ...]) -> tuple[_Clip, ...] | None:
    """The clips that cut something off a box; None when nothing of it is left."""
    if any(not _meets(box, clip.box) for clip in clips):
        return None
    return tuple(clip for clip in clips if not (clip.upright and _within(box, clip.box)))


def _take_path(thing: raw.PageObject, context: _Context, harvest: _Harvest) -> None:
    fill_rule, stroked = raw.draw_mode(thing)
    harvest.segments += raw.segment_count(thing)
    if not (fill_rule or stroked) or harvest.segments > MOST_SEGMENTS:
        return
    to_frame = raw.matrix(thing).then(context.to_frame)
    pieces = raw.subpaths(thing, to_frame)
    if not pieces:
        return
    width = max(_HAIRLINE, raw.stroke_width(thing) * to_frame.magnification) if stroked else 0.0
    box = _grown(_box(np.concatenate([points for points, _, _ in pieces])), max(width / 2, _NO_COVER))
    clips = _cut(box, _clips(thing, context))
    if clips is None:
        return
    if clips and not fill_rule and not raw.dash(thing) and all(clip.upright for clip in clips):
        shortened = _shortened(pieces, clips, width)
        pieces, clips = (shortened, ()) if shortened is not None else (pieces, clips)
        if not pieces:
            return
    fill = _paint(raw.fill_colour(thing), pieces, context, harvest) if fill_rule else None
    stroke = _paint(raw.stroke_colour(thing), pieces, context, harvest) if stroked else None
    shape = VectorPath(
        subpaths=tuple(_points(points) for points, _, _ in pieces),
        closed=tuple(closed for _, closed, _ in pieces),
        curved=tuple(curved for _, _, curved in pieces),
        stroke=None,
        fill=None,
        width=width,
        dash=tuple(length * to_frame.magnification for length in raw.dash(thing)) if stroked else (),
        order=harvest.order,
        cap=_CAPS.get(pdfium.FPDFPageObj_GetLineCap(thing), "butt"),
        even_odd=fill_rule == pdfium.FPDF_FILLMODE_ALTERNATE,
        clip=tuple(clip.polygon for clip in clips),
    )
    painted = list(_painted(shape, fill, stroke))
    lone = fill_rule and not stroked and len(painted) == 1 and len(harvest.unnamed) < MOST_DRAWN
    if lone and _is_pattern(raw.fill_colour(thing)):
        harvest.unnamed.append(_Unnamed(thing, box, harvest.order, painted[0]))
        return
    harvest.paths.extend(painted)
    opaque = fill is not None and fill[1] == 1.0
    if opaque and not clips and len(pieces) == 1 and _is_upright(pieces[0][0]):
        harvest.covers.append((harvest.order, box))


def _shortened(pieces: list[raw.SubPath], clips: tuple[_Clip, ...], width: float) -> list[raw.SubPath] | None:
    """Upright straight strokes cut off where upright clips end; None where a piece is anything else. A line may run far
    beyond the grid whose clip it is drawn in."""
    low = np.max([clip.box[:2] for clip in clips], axis=0)
    high = np.min([clip.box[2:] for clip in clips], axis=0)
    left: list[raw.SubPath] = []
    for points, closed, curved in pieces:
        if len(points) != 2 or closed or curved or np.ptp(points, axis=0).min() > _LEVEL:
            return None
        seen = (points.max(axis=0) > low - width / 2).all() and (points.min(axis=0) < high + width / 2).all()
        if seen:
            # Across its way it stays where it is: of a line on the clip's side half the width is seen.
            along = int(np.argmax(np.ptp(points, axis=0)))
            short = points.copy()
            short[:, along] = np.clip(short[:, along], low[along], high[along])
            left.append((short, closed, curved))
    return left


def _painted(
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


def _paint(
    named: tuple[Colour, float] | None, pieces: list[raw.SubPath], context: _Context, harvest: _Harvest
) -> tuple[Colour, float]:
    """Colour and opacity; for a pattern the colour that is seen in the rendered page."""
    if named is None or _is_pattern(named):
        return _seen_colour([points for points, _, _ in pieces], harvest), 1.0
    colour, opacity = named
    # A group's opacity applies to the group as a whole; its objects start from 1 (ISO 32000-1, 11.6.6). Without a
    # group the objects have inherited it already.
    return colour, context.opacity if opacity == 1.0 else opacity


def _is_pattern(named: tuple[Colour, float] | None) -> bool:
    return named is None or named[0] == _PATTERN_STAND_IN


def _seen_colour(outlines: list[Points], harvest: _Harvest) -> Colour:
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


def _take_text(thing: raw.PageObject, context: _Context, harvest: _Harvest) -> None:
    mode = pdfium.FPDFTextObj_GetTextRenderMode(thing)
    stroked = mode in (pdfium.FPDF_TEXTRENDERMODE_STROKE, pdfium.FPDF_TEXTRENDERMODE_STROKE_CLIP)
    painted = raw.stroke_colour(thing) if stroked else raw.fill_colour(thing)
    drawn = mode not in (pdfium.FPDF_TEXTRENDERMODE_INVISIBLE, pdfium.FPDF_TEXTRENDERMODE_CLIP)
    harvest.texts[raw.address(thing)] = TextObject(
        order=harvest.order,
        colour=painted[0] if painted else (0, 0, 0),
        drawn=drawn and (painted is None or painted[1] > 0),
        font=raw.font_name(thing),
        clips=tuple(clip.box for clip in _clips(thing, context)),
        to_frame=context.to_frame,
    )


def _take_picture(thing: raw.PageObject, context: _Context, harvest: _Harvest) -> None:
    to_frame = raw.matrix(thing).then(context.to_frame)
    box = to_frame.box((0.0, 0.0, 1.0, 1.0))
    clips = _clips(thing, context)
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
        harvest.unnamed.append(_Unnamed(thing, box, harvest.order, flat))
    elif flat:
        harvest.paths.append(flat)
    else:
        _keep_picture(thing, box, harvest.order, harvest)


def _keep_picture(thing: raw.PageObject, box: Box, order: int, harvest: _Harvest) -> None:
    """A raster image that is looked at as pixels only."""
    harvest.pictures.append((order, box))
    if not pdfium.FPDFPageObj_HasTransparency(thing):
        harvest.covers.append((order, box))


def _flat(outline: Points, box: Box, colour: Colour, clips: tuple[_Clip, ...], order: int) -> VectorPath | None:
    """A raster image all of one colour is as good as a filled area. None where clips leave nothing of it."""
    left = _cut(box, clips)
    if left is None:
        return None
    cut = tuple(clip.polygon for clip in left)
    return VectorPath((_points(outline),), (True,), None, colour, 0.0, order=order, curved=(False,), clip=cut)


def _trace(harvest: _Harvest) -> None:
    """What PDFium tells too little about: drawn alone, and taken as the outlines that are seen."""
    if not harvest.unnamed:
        return
    height, width = (side / harvest.scale for side in harvest.image.shape[:2])
    drawn = Drawn(harvest.page, [(each.thing, each.box) for each in harvest.unnamed], width, height)
    for each in harvest.unnamed:
        pieces = drawn.pieces(each.box)
        if each.path is None and not pieces:
            _keep_picture(each.thing, each.box, each.order, harvest)
        elif each.path is not None and pdfium.FPDFPageObj_GetType(each.thing) == pdfium.FPDF_PAGEOBJ_PATH:
            inked = [piece for piece in pieces if min(piece.colour) < WHITE]
            painted = drawn.painted(each.box)
            if inked and painted < MOSTLY:
                grain = drawn.grain(each.box)
                harvest.paths.append(replace(each.path, fill=inked[0].colour, grain=grain, painted=painted))
            else:
                harvest.paths.append(each.path)
        elif each.path is not None and drawn.covered(each.box) >= ALL_OVER:
            harvest.paths.append(each.path)
            if not each.path.clip and _is_upright(np.array(each.path.subpaths[0])):
                harvest.covers.append((each.order, each.box))
        elif pieces:
            harvest.paths.extend(_as_path(piece, each.order) for piece in pieces)
        elif each.path is not None:
            harvest.paths.append(each.path)


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


def _take_shading(thing: raw.PageObject, context: _Context, harvest: _Harvest) -> None:
    """A shading fills the clip region (ISO 32000-1, 8.7.4.2): it counts as a filled path of that outline."""
    clips = _clips(thing, context)
    bounds = raw.bounds(thing)
    if clips:
        outline = np.array(clips[-1].polygon, dtype=np.float64)
    elif bounds:
        left, top, right, bottom = context.to_frame.box(bounds)
        outline = np.array([(left, top), (right, top), (right, bottom), (left, bottom)], dtype=np.float64)
    else:
        return
    colour = _seen_colour([outline], harvest)
    path = VectorPath((_points(outline),), (True,), None, colour, 0.0, order=harvest.order, curved=(False,))
    harvest.paths.append(path)
