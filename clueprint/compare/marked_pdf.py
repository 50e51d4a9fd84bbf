"""The proof's PDF with an annotation for each finding (ISO 32000-1, 12.5), its pages as they were."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2

from clueprint.compare.result import Comparison, Finding
from clueprint.compare.signs import Sign, sign_of
from clueprint.compare.tags import Tags
from clueprint.errors import ClueprintError
from ingest.page import Box
from ingest.pdf_frame import Matrix, displayed

WIDTH = 1.5
"""Of a frame's line, in points of the displayed page."""
AWAY = 1.5
"""How far a frame keeps from what it is about, in points."""
SIZE = 8.0
"""Font size of the tag at a frame, in points."""
NOTE = 20.0
"""Side of the note that stands for a finding without a place, in points."""
_ADVANCE = 0.62
"""Width of a character of bold Helvetica in font sizes, at the most for figures and small letters but m and w."""


def marked_pdf(proof: Path, comparison: Comparison) -> bytes:
    """The proof with its findings as annotations. Raises ClueprintError for a PDF that cannot be changed."""
    try:
        with pikepdf.open(proof) as document:
            notes = 0
            tags = Tags(comparison.shown.frame.width if comparison.shown else math.inf)
            for number, finding in comparison.numbered():
                if finding.page is not None and finding.page <= len(document.pages):
                    to_user = _to_user(proof, document, finding.page)
                    notes += finding.where is None
                    annotation = _annotation(document, number, finding, to_user, notes, tags)
                    _add(document, document.pages[finding.page - 1], annotation)
            out = io.BytesIO()
            document.save(out)
            return out.getvalue()
    except pikepdf.PdfError as fault:
        raise ClueprintError(f"{proof}: it cannot be marked ({fault})", "export it again without protection") from None


def _to_user(proof: Path, document: pikepdf.Pdf, number: int) -> Matrix:
    """From points of the displayed page to user space."""
    shown = pypdfium2.PdfDocument(proof)
    try:
        page = shown[number - 1]
        box, rotation = page.get_bbox(), page.get_rotation()
    finally:
        shown.close()
    unit = float(document.pages[number - 1].obj.get("/UserUnit", 1))
    return displayed(box, rotation, unit if unit > 0 else 1.0)[1].inverse()


def _add(document: pikepdf.Pdf, page: pikepdf.Page, annotation: pikepdf.Dictionary) -> None:
    if "/Annots" not in page.obj:
        page.obj.Annots = pikepdf.Array()
    page.obj.Annots.append(document.make_indirect(annotation))


def _annotation(
    document: pikepdf.Pdf, number: int, finding: Finding, to_user: Matrix, notes: int, tags: Tags
) -> pikepdf.Dictionary:
    sign = sign_of(finding)
    note = f" ({finding.note})" if finding.note else ""
    shared = {
        "/Type": pikepdf.Name.Annot,
        "/Contents": pikepdf.String(f"{number} {sign.word}: {finding.why}{note}"),
        "/T": pikepdf.String("clueprint"),
        "/NM": pikepdf.String(f"clueprint-{number}"),
        "/F": 4,  # it prints
        "/C": pikepdf.Array([channel / 255 for channel in sign.rgb]),
    }
    if finding.where is None:
        left = AWAY + (notes - 1) * (NOTE + AWAY)
        rectangle = to_user.box((left, AWAY, left + NOTE, AWAY + NOTE))
        return pikepdf.Dictionary(
            {**shared, "/Subtype": pikepdf.Name.Text, "/Name": pikepdf.Name.Comment, "/Rect": _array(rectangle)}
        )
    corners = _grown(finding.where)
    vertices = to_user.apply(np.asarray(corners))
    word = f"{number} {sign.word}"
    tag = tags.place(corners, _ADVANCE * SIZE * len(word) + 4, SIZE + 2)
    points = [*corners, tag[:2], tag[2:]]
    xs, ys = zip(*points, strict=True)
    around = (min(xs) - WIDTH, min(ys) - WIDTH, max(xs) + WIDTH, max(ys) + WIDTH)
    rectangle = to_user.box(around)
    style = {"/W": WIDTH, "/S": pikepdf.Name.D if sign.dash else pikepdf.Name.S}
    if sign.dash:
        style["/D"] = pikepdf.Array([length * WIDTH for length in sign.dash])
    return pikepdf.Dictionary(
        {
            **shared,
            "/Subtype": pikepdf.Name.Polygon,
            "/Vertices": _array(vertices.ravel().tolist()),
            "/Rect": _array(rectangle),
            "/BS": pikepdf.Dictionary(style),
            "/AP": pikepdf.Dictionary(N=_appearance(document, rectangle, to_user, _drawn(corners, tag, word, sign))),
        }
    )


def _array(values: Sequence[float]) -> pikepdf.Array:
    return pikepdf.Array([round(float(value), 4) for value in values])


def _grown(polygon: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """A polygon a little larger, away from its middle, so that the frame does not hide what it is about."""
    points = np.asarray(polygon, dtype=np.float64)
    away = points - points.mean(axis=0)
    length = np.maximum(np.abs(away).max(axis=1, keepdims=True), 1e-6)
    return [(float(x), float(y)) for x, y in points + away / length * AWAY]


def _drawn(corners: Sequence[tuple[float, float]], tag: Box, text: str, sign: Sign) -> str:
    """The frame and its tag in points of the displayed page."""
    colour = " ".join(f"{channel / 255:.3f}" for channel in sign.rgb)
    dash = " ".join(f"{length * WIDTH:g}" for length in sign.dash)
    steps = [f"{x:.3f} {y:.3f} {'l' if n else 'm'}" for n, (x, y) in enumerate(corners)]
    box = f"{tag[0]:.3f} {tag[1]:.3f} {tag[2] - tag[0]:.3f} {tag[3] - tag[1]:.3f} re f"
    words = f"BT /F1 {SIZE:g} Tf 1 1 1 rg 1 0 0 -1 {tag[0] + 2:.3f} {tag[3] - 2.2:.3f} Tm ({text}) Tj ET"
    return "\n".join([f"{colour} RG {WIDTH:g} w [{dash}] 0 d", *steps, "s", f"{colour} rg {box}", words])


def _appearance(document: pikepdf.Pdf, rectangle: Box, to_user: Matrix, drawn: str) -> pikepdf.Object:
    """The picture of an annotation, drawn in the displayed page's points whatever its rotation and unit."""
    m = to_user
    matrix = " ".join(f"{value:.6f}" for value in (m.a, m.b, m.c, m.d, m.e, m.f))
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica-Bold")
    )
    stream = pikepdf.Stream(document, f"q {matrix} cm\n{drawn}\nQ".encode("ascii"))
    stream.Type, stream.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
    stream.BBox = _array(rectangle)
    stream.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F1=font))
    return document.make_indirect(stream)
