"""PDFium's page objects through its C interface, as Python values. Nothing here knows what a page is for."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import (
    POINTER,
    byref,
    c_float,
    c_int,
    c_ubyte,
    c_uint,
    c_ulong,
    c_ushort,
    c_void_p,
    cast,
    create_string_buffer,
    pointer,
)
from functools import partial
from typing import Any

import numpy as np
import pypdfium2.raw as pdfium

from ingest.page import Box, Colour, Point
from ingest.pdf_frame import Matrix, Points

PageObject = Any
"""A FPDF_PAGEOBJECT."""

SubPath = tuple[Points, bool, bool]
"""Points of one flattened piece, whether it is closed, whether it holds a curve."""

FLATNESS = 0.02
"""By how many points a polyline may miss its Bezier curve: a hundredth of a millimetre, far below a pixel."""

_SAME = 1e-3
"""Points: corners no farther apart are one."""
_STRAIGHT = FLATNESS / 2
"""Points: how far the control points of a curve lie off its chord at most for it to be that chord: rounding leaves
less, and some programs end and close even a polygon with curves that do not bend."""
_CURVE_PIECES = 64
"""Straight pieces of one curve at most, however large a file draws it."""
FLAT_PIXELS, FLAT = 65_536, 2
"""A raster image that stands for a tint has no more pixels, and its grey levels differ by no more (JPEG)."""
CHANNELS = {
    pdfium.FPDFBitmap_Gray: 1,
    pdfium.FPDFBitmap_BGR: 3,
    pdfium.FPDFBitmap_BGRx: 4,
    pdfium.FPDFBitmap_BGRA: 4,
}
"""Bytes a pixel of the formats in which PDFium gives images."""


def address(handle: Any) -> int:
    """A number that tells one PDFium object from another."""
    return cast(handle, c_void_p).value or 0


def page_objects(page: Any) -> Iterator[PageObject]:
    """The top-level objects of a page in paint order."""
    for index in range(pdfium.FPDFPage_CountObjects(page)):
        yield pdfium.FPDFPage_GetObject(page, index)


def form_objects(form: PageObject) -> Iterator[PageObject]:
    """The objects of a form XObject in paint order."""
    for index in range(pdfium.FPDFFormObj_CountObjects(form)):
        yield pdfium.FPDFFormObj_GetObject(form, index)


def matrix(thing: PageObject) -> Matrix:
    """The matrix of an object: to the content stream that holds it."""
    raw = pdfium.FS_MATRIX()
    if not pdfium.FPDFPageObj_GetMatrix(thing, raw):
        return Matrix()
    return Matrix(raw.a, raw.b, raw.c, raw.d, raw.e, raw.f)


def bounds(thing: PageObject) -> Box | None:
    """The box around an object in the content stream that holds it."""
    sides = [c_float() for _ in range(4)]
    if not pdfium.FPDFPageObj_GetBounds(thing, *map(byref, sides)):
        return None
    left, bottom, right, top = (side.value for side in sides)
    return left, bottom, right, top


def _colour(get: Any, thing: PageObject) -> tuple[Colour, float] | None:
    parts = [c_uint() for _ in range(4)]
    if not get(thing, *map(byref, parts)):
        return None
    red, green, blue, alpha = (part.value for part in parts)
    return (red, green, blue), alpha / 255


def fill_colour(thing: PageObject) -> tuple[Colour, float] | None:
    """Fill colour as rendered, whatever its colour space, and opacity; None for a pattern."""
    return _colour(pdfium.FPDFPageObj_GetFillColor, thing)


def stroke_colour(thing: PageObject) -> tuple[Colour, float] | None:
    """Stroke colour as rendered and opacity; None for a pattern."""
    return _colour(pdfium.FPDFPageObj_GetStrokeColor, thing)


def draw_mode(path: PageObject) -> tuple[int, bool]:
    """How a path is filled (0 not, 1 even-odd, 2 nonzero winding) and whether it is stroked."""
    fill, stroke = c_int(), c_int()
    pdfium.FPDFPath_GetDrawMode(path, byref(fill), byref(stroke))
    return fill.value, bool(stroke.value)


def stroke_width(path: PageObject) -> float:
    """Line width in the object's own space."""
    width = c_float()
    pdfium.FPDFPageObj_GetStrokeWidth(path, byref(width))
    return width.value


def dash(path: PageObject) -> tuple[float, ...]:
    """Dash lengths in the object's own space; empty for a solid line."""
    count = pdfium.FPDFPageObj_GetDashCount(path)
    if count <= 0:
        return ()
    lengths = (c_float * count)()
    pdfium.FPDFPageObj_GetDashArray(path, lengths, count)
    return tuple(lengths)


def segment_count(path: PageObject) -> int:
    """How many segments a path has."""
    return max(0, int(pdfium.FPDFPath_CountSegments(path)))


def subpaths(path: PageObject, to_frame: Matrix) -> list[SubPath]:
    """The pieces of a path, mapped and with their curves flattened."""
    segments = (pdfium.FPDFPath_GetPathSegment(path, index) for index in range(segment_count(path)))
    return flattened(segments, to_frame)


def clip_polygons(thing: PageObject, to_frame: Matrix) -> list[list[SubPath]]:
    """The clip paths in force for an object; what is seen lies in all of them. `to_frame` maps from the content
    stream that holds the object."""
    clip = pdfium.FPDFPageObj_GetClipPath(thing)
    if not clip:
        return []
    paths = []
    for index in range(max(0, pdfium.FPDFClipPath_CountPaths(clip))):
        count = max(0, pdfium.FPDFClipPath_CountPathSegments(clip, index))
        segments = (pdfium.FPDFClipPath_GetPathSegment(clip, index, place) for place in range(count))
        paths.append(flattened(segments, to_frame))
    return paths


def flattened(segments: Iterator[Any], to_frame: Matrix) -> list[SubPath]:
    """The pieces of a path that PDFium's segments make, mapped and with their curves flattened."""
    x, y = c_float(), c_float()
    here_x, here_y = byref(x), byref(y)
    pieces: list[SubPath] = []
    points: list[Point] = []
    curves: list[int] = []
    closed = False

    def finish() -> None:
        if points:
            pieces.append(_piece(points, curves, closed, to_frame))

    for segment in segments:
        pdfium.FPDFPathSegment_GetPoint(segment, here_x, here_y)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            finish()
            points, curves, closed = [], [], False
        elif kind == pdfium.FPDF_SEGMENT_BEZIERTO:
            curves.append(len(points))
        points.append((x.value, y.value))
        closed = closed or bool(pdfium.FPDFPathSegment_GetClose(segment))
    finish()
    return pieces


def _piece(points: list[Point], curves: list[int], closed: bool, to_frame: Matrix) -> SubPath:
    """`curves` lists the indices of Bezier control points, three for each curve."""
    mapped, curves = _without_straight(to_frame.apply(np.array(points, dtype=np.float64)), curves)
    if not curves:
        once = _once_round(mapped)
        return once, closed or len(once) < len(mapped), False
    flat = _flat([start for start in curves[::3] if 0 < start <= len(mapped) - 3], mapped)
    parts: list[Points] = []
    done = 0
    for start in sorted(flat):
        parts += [mapped[done:start], flat[start]]
        done = start + 3
    return np.concatenate([*parts, mapped[done:]]), closed, True


def _without_straight(points: Points, curves: list[int]) -> tuple[Points, list[int]]:
    """Points and indices of control points without those of curves that are nothing but their chord; one of no length
    is no side either."""
    dropped: set[int] = set()
    kept: list[int] = []
    for start in curves[::3]:
        is_whole = 0 < start <= len(points) - 3
        if not (is_whole and _is_chord(points[start - 1 : start + 3])):
            kept += [start, start + 1, start + 2]
            continue
        turns_back = np.abs(points[start + 2] - points[start - 1]).max() <= _STRAIGHT
        dropped |= {start, start + 1, start + 2} if turns_back else {start, start + 1}
    if not dropped:
        return points, curves
    left = np.array([index for index in range(len(points)) if index not in dropped])
    return points[left], np.searchsorted(left, kept).tolist()


def _is_chord(control: Points) -> bool:
    """Whether the four control points of a curve lie on the way from its first to its last."""
    chord, off = control[3] - control[0], control[1:3] - control[0]
    length = float(np.hypot(*chord))
    if length <= _STRAIGHT:
        return bool(np.abs(off).max() <= _STRAIGHT)
    along, across = off @ chord / length, (off[:, 0] * chord[1] - off[:, 1] * chord[0]) / length
    on_way = (along >= -_STRAIGHT) & (along <= length + _STRAIGHT)
    return bool((on_way & (np.abs(across) <= _STRAIGHT)).all())


def _once_round(points: Points) -> Points:
    """A polygon without what a pen draws again that goes on over its first side, so that its first corner is joined."""
    if len(points) < 5:
        return points
    again = np.abs(points[-2:] - points[:2]).max() < _SAME
    return points[:-2] if again else points


def _flat(starts: list[int], points: Points) -> dict[int, Points]:
    """By the indices of their first control points, points on cubic Bezier curves after the first one of each. A chord
    of a curve misses it by at most an eighth of its second derivative, which is six times the largest second
    difference of the control points, times its length."""
    control = points[np.array(starts, np.int64)[:, None] + np.arange(-1, 3)]
    bends = control[:, :-2] - 2 * control[:, 1:-1] + control[:, 2:]
    bend = np.hypot(bends[..., 0], bends[..., 1]).max(axis=1, initial=0.0)
    pieces = np.fmin(_CURVE_PIECES, np.fmax(2, np.ceil(np.sqrt(0.75 * bend / FLATNESS)))).astype(int)
    found: dict[int, Points] = {}
    for count in np.unique(pieces).tolist():
        chosen = np.flatnonzero(pieces == count)
        t = np.linspace(0.0, 1.0, count + 1)[1:, None]
        s = 1 - t
        one, two, three, four = np.moveaxis(control[chosen], 1, 0)[:, :, None]
        curves = s**3 * one + 3 * s**2 * t * two + 3 * s * t**2 * three + t**3 * four
        found |= {starts[index]: curve for index, curve in zip(chosen.tolist(), curves, strict=True)}
    return found


def layers(thing: PageObject) -> Iterator[str]:
    """The names of the layers to which marks in the content stream put an object (ISO 32000-1, 8.11.3.2)."""
    for index in range(max(0, pdfium.FPDFPageObj_CountMarks(thing))):
        mark = pdfium.FPDFPageObj_GetMark(thing, index)
        if _text_of(partial(pdfium.FPDFPageObjMark_GetName, mark)) == "OC":
            yield _text_of(partial(pdfium.FPDFPageObjMark_GetParamStringValue, mark, b"Name"))


def _text_of(get: Any) -> str:
    """A text that PDFium writes into a buffer of UTF-16; empty where there is none."""
    buffer, length = (c_ushort * 256)(), c_ulong()
    if not get(buffer, 512, byref(length)):
        return ""
    return bytes(buffer)[: max(0, min(length.value, 512) - 2)].decode("utf-16-le", "replace")


def image_density(image: PageObject, page: Any) -> float:
    """Pixels per inch of a raster image as placed on the page; 0 when unknown."""
    metadata = pdfium.FPDF_IMAGEOBJ_METADATA()
    if not pdfium.FPDFImageObj_GetImageMetadata(image, page, pointer(metadata)):
        return 0.0
    return float(max(metadata.horizontal_dpi, metadata.vertical_dpi))


def flat_colour(image: PageObject) -> Colour | None:
    """The colour of a small raster image all of which has one; None for any other."""
    width, height = c_uint(), c_uint()
    if not pdfium.FPDFImageObj_GetImagePixelSize(image, byref(width), byref(height)):
        return None
    if not 0 < width.value * height.value <= FLAT_PIXELS:
        return None
    bitmap = pdfium.FPDFImageObj_GetBitmap(image)
    if not bitmap:
        return None
    try:
        return _one_colour(bitmap)
    finally:
        pdfium.FPDFBitmap_Destroy(bitmap)


def _one_colour(bitmap: Any) -> Colour | None:
    channels = CHANNELS.get(pdfium.FPDFBitmap_GetFormat(bitmap))
    if channels is None:
        return None
    width, height = pdfium.FPDFBitmap_GetWidth(bitmap), pdfium.FPDFBitmap_GetHeight(bitmap)
    stride = pdfium.FPDFBitmap_GetStride(bitmap)
    data = cast(pdfium.FPDFBitmap_GetBuffer(bitmap), POINTER(c_ubyte))
    rows = np.ctypeslib.as_array(data, (height, stride))[:, : width * channels].reshape(-1, channels)
    if int(np.ptp(rows, axis=0).max()) > FLAT:
        return None
    first = rows[0].tolist()
    blue, green, red = first[:3] if channels > 1 else first * 3
    return red, green, blue


def font_name(text: PageObject) -> str:
    """The base font of a text object, without a subset's tag (ISO 32000-1, 9.6.4)."""
    font = pdfium.FPDFTextObj_GetFont(text)
    if not font:
        return ""
    buffer = create_string_buffer(256)
    length = pdfium.FPDFFont_GetBaseFontName(font, buffer, 256)
    name = buffer.raw[: max(0, min(length, 256) - 1)].decode("utf-8", "replace")
    return name[7:] if len(name) > 7 and name[6] == "+" else name
