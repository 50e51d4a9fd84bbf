"""A picture as a one-page PDF, and as pixels by way of that PDF."""

from __future__ import annotations

import io
from typing import Any

from clueprint.draw.fonts import FontPair, fonts_for
from clueprint.draw.primitives import Circle, Picture, Polyline, Shape, Text
from schema.kinds.base import Paint

PNG_PPI = 200
"""Pixels per inch of a PNG: a 12 pt figure is then 24 px high, what optical readers like best."""


def to_pdf(picture: Picture) -> bytes:
    """The picture as PDF, the same bytes for the same picture. Raises ClueprintError for a character without a font."""
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415 - heavy, and only drawing needs it

    fonts = fonts_for("".join(shape.text for shape in picture.shapes if isinstance(shape, Text)))
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(picture.width, picture.height), invariant=1, pageCompression=1)
    canvas.setTitle(picture.title)
    canvas.setCreator("clueprint")
    canvas.transform(1, 0, 0, -1, 0, picture.height)  # our y runs downwards
    for shape in picture.shapes:
        _draw(canvas, shape, fonts)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def to_png(picture: Picture, ppi: int = PNG_PPI) -> bytes:
    """The picture as PNG."""
    import pypdfium2  # noqa: PLC0415 - heavy, and only PNGs need it

    document = pypdfium2.PdfDocument(to_pdf(picture))
    try:
        image = document[0].render(scale=ppi / 72).to_pil()
    finally:
        document.close()
    out = io.BytesIO()
    image.save(out, format="PNG", dpi=(ppi, ppi))
    return out.getvalue()


def _draw(canvas: Any, shape: Shape, fonts: FontPair) -> None:
    canvas.saveState()
    if isinstance(shape, Text):
        _draw_text(canvas, shape, fonts)
    elif isinstance(shape, Circle):
        stroke, fill = _set_paint(canvas, shape.paint)
        canvas.circle(*shape.centre, shape.radius, stroke=stroke, fill=fill)
    else:
        stroke, fill = _set_paint(canvas, shape.paint)
        canvas.drawPath(_path(canvas, shape), stroke=stroke, fill=fill)
    canvas.restoreState()


def _draw_text(canvas: Any, shape: Text, fonts: FontPair) -> None:
    canvas.setFillColor(shape.colour)
    canvas.setFont(fonts.name(shape.weight), shape.size)
    canvas.translate(shape.at[0], shape.baseline)
    canvas.scale(1, -1)
    if shape.anchor == "middle":
        canvas.drawCentredString(0, 0, shape.text)
    else:
        canvas.drawString(0, 0, shape.text)


def _path(canvas: Any, shape: Polyline) -> Any:
    path = canvas.beginPath()
    path.moveTo(*shape.points[0])
    for point in shape.points[1:]:
        path.lineTo(*point)
    if shape.closed:
        path.close()
    return path


def _set_paint(canvas: Any, paint: Paint) -> tuple[int, int]:
    """Set the graphics state; whether to stroke and to fill, as reportlab wants it."""
    if paint.fill:
        canvas.setFillColor(paint.fill)
    if paint.stroke:
        canvas.setStrokeColor(paint.stroke)
        canvas.setLineWidth(paint.width)
        canvas.setLineCap(1 if paint.round else 0)
        canvas.setLineJoin(1 if paint.round else 0)
        if paint.dash:
            canvas.setDash(*paint.dash)
    return int(bool(paint.stroke)), int(bool(paint.fill))
