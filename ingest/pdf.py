"""PDF files to pages: rendered, and with what they draw, in one frame.

PDFium is not thread-safe and does not defend itself: call this from one thread, in a process that may die
(`ingest/guard.py`)."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_raw

from ingest import pdf_raw as raw
from ingest.errors import Unreadable
from ingest.limits import DEFAULT, Limits
from ingest.page import Frame, Image, Page
from ingest.pdf_frame import absurd, displayed
from ingest.vectors import extract_vectors

DOTS_PER_INCH = 250
"""At which an ordinary page is rendered: a 9x9 grid of 10 cm has 109 px a cell."""
DENSEST = 400
"""Beyond this a scan inside a PDF is not followed."""
_MOST_PIXELS = 12_000_000
"""Of a rendered page; A4 at 300 pixels an inch has 8.7 million."""
_LEAST_LONG_SIDE = 1500
"""Pixels. A page cut down to one puzzle is rendered larger than its size asks for."""
_SCAN_COVERS = 0.5
"""A picture over this part of the page makes the page a scan, and its resolution the page's."""
_TAIL = 65_536
"""Bytes at the end of a file among which its end mark must be found."""
_POINTS_PER_INCH = 72


def pdf_pages(
    path: Path, sha256: str, limits: Limits = DEFAULT, only: int | None = None
) -> Iterator[Page | Unreadable]:
    """The pages of a PDF in order, or the one that `only` names; a page that cannot be read comes as its Unreadable.
    Raises Unreadable when the file as a whole cannot be read: it needs a password, is damaged or cut short, or has no
    page."""
    document = _opened(path)
    try:
        count = _counted(document, path, limits)
        units, off = _catalogued(path, count)
        for number in range(1, count + 1) if only is None else (only,):
            try:
                yield _page(document, path, sha256, number, units[number - 1], off, limits)
            except Unreadable as fault:
                yield fault
    finally:
        document.close()


def pdf_page_count(path: Path, limits: Limits = DEFAULT) -> int:
    """How many pages a PDF has. Raises Unreadable as `pdf_pages` does."""
    document = _opened(path)
    try:
        return _counted(document, path, limits)
    finally:
        document.close()


def _counted(document: pdfium.PdfDocument, path: Path, limits: Limits) -> int:
    count = len(document)
    if count == 0:
        raise Unreadable(path, None, "it has no page", "export it again")
    if count > limits.pages:
        raise Unreadable(path, None, f"it has {count} pages, {limits.pages} are read", "split the file")
    return count


def _opened(path: Path) -> pdfium.PdfDocument:
    try:
        document = pdfium.PdfDocument(path)
    except pdfium.PdfiumError as fault:
        if fault.err_code == pdfium_raw.FPDF_ERR_PASSWORD:
            why, remedy = "it is protected by a password", "save a copy without one"
        else:
            why, remedy = "it is damaged, or no PDF", "export it again or get the whole file again"
        raise Unreadable(path, None, why, remedy) from None
    if _is_cut_short(path):
        document.close()
        # PDFium would mend the file and show what is left of it; a page with half of its marks must not be read.
        raise Unreadable(path, None, "it is cut short", "get the whole file again")
    return document


def _is_cut_short(path: Path) -> bool:
    with path.open("rb") as stream:
        size = stream.seek(0, 2)
        stream.seek(max(0, size - _TAIL))
        return b"%%EOF" not in stream.read()


def _catalogued(path: Path, count: int) -> tuple[list[float], frozenset[str]]:
    """UserUnit of each page, and the names of the layers that are not shown; PDFium tells neither."""
    units: list[float] = []
    off: frozenset[str] = frozenset()
    try:
        with pikepdf.open(path) as document:
            units = [_user_unit(page.obj) for page in document.pages]
            off = frozenset(_layers_off(document.Root.get("/OCProperties")))
    except (pikepdf.PdfError, ValueError, TypeError, AttributeError, KeyError, RecursionError):
        pass
    return (units + [1.0] * count)[:count], off


def _layers_off(properties: pikepdf.Object | None) -> Iterator[str]:
    """The names of layers that a viewer leaves out at first (ISO 32000-1, 8.11.4.3)."""
    if properties is None:
        return
    usual = properties.D
    on, off = ({layer.objgen for layer in usual.get(key, ())} for key in ("/ON", "/OFF"))
    unsaid = str(usual.get("/BaseState", "/ON")) == "/OFF"
    for layer in properties.OCGs:
        if layer.objgen in off or (unsaid and layer.objgen not in on):
            yield str(layer.Name)


def _user_unit(page: pikepdf.Object) -> float:
    try:
        unit = float(page.get("/UserUnit", 1))
    except (TypeError, ValueError):
        return 1.0
    return unit if math.isfinite(unit) and unit > 0 else 1.0


def _page(
    document: pdfium.PdfDocument,
    path: Path,
    sha256: str,
    number: int,
    user_unit: float,
    off: frozenset[str],
    limits: Limits,
) -> Page:
    try:
        page = document[number - 1]
    except pdfium.PdfiumError:
        raise Unreadable(path, number, "the page is damaged", "export it again") from None
    try:
        box = page.get_bbox()
        why = absurd(box)
        if why:
            raise Unreadable(path, number, why, "export it at the size of a printed page")
        frame, to_frame = displayed(box, page.get_rotation(), user_unit)
        image, scale = _rendered(page, frame, user_unit, min(_MOST_PIXELS, limits.working_pixels))
        vectors = extract_vectors(document.raw, page.raw, to_frame, image, scale, off)
    except (pdfium.PdfiumError, ValueError):
        raise Unreadable(path, number, "the page cannot be rendered", "export it again") from None
    finally:
        page.close()
    return Page(path, sha256, number, frame, image, scale, vectors)


def _rendered(page: pdfium.PdfPage, frame: Frame, user_unit: float, most_pixels: int) -> tuple[Image, float]:
    """The page as pixels, and pixels per frame unit."""
    scale = _scale(page, frame, user_unit, most_pixels)
    # A whole number of pixels across, so that the scale holds to the last column.
    scale = max(1, round(frame.width * scale)) / frame.width
    bitmap = page.render(scale=scale * user_unit, rev_byteorder=True)
    image: Image = np.ascontiguousarray(bitmap.to_numpy()[..., :3]).copy()
    bitmap.close()
    return image, scale


def _scale(page: pdfium.PdfPage, frame: Frame, user_unit: float, most_pixels: int) -> float:
    density = max(DOTS_PER_INCH, min(DENSEST, _scan_density(page) / user_unit))
    wanted = max(density / _POINTS_PER_INCH, _LEAST_LONG_SIDE / max(frame.width, frame.height))
    return float(min(wanted, math.sqrt(most_pixels / (frame.width * frame.height))))


def _scan_density(page: pdfium.PdfPage) -> float:
    """Pixels per 72 units of the picture that makes up most of the page; 0 when there is none."""
    density = 0.0
    width, height = page.get_size()
    for thing in raw.page_objects(page.raw):
        if pdfium_raw.FPDFPageObj_GetType(thing) != pdfium_raw.FPDF_PAGEOBJ_IMAGE:
            continue
        left, bottom, right, top = raw.matrix(thing).box((0.0, 0.0, 1.0, 1.0))
        if (right - left) * (top - bottom) >= _SCAN_COVERS * width * height:
            density = max(density, raw.image_density(thing, page.raw))
    return density
