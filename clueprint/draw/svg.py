"""A picture as SVG 1.1."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

from clueprint.draw.primitives import Circle, Picture, Polyline, Shape, Text
from schema.kinds.base import Paint

FONTS = "Helvetica, Arial, 'Liberation Sans', sans-serif"
_FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 (section 2.2) does not allow."""


def to_svg(picture: Picture) -> bytes:
    """The picture as an SVG document in UTF-8; one unit is one point."""
    root = ET.Element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        width=f"{_number(picture.width)}pt",
        height=f"{_number(picture.height)}pt",
        viewBox=f"0 0 {_number(picture.width)} {_number(picture.height)}",
    )
    if picture.title:
        ET.SubElement(root, "title").text = _allowed(picture.title)
    ET.SubElement(root, "rect", width="100%", height="100%", fill="#ffffff")
    for shape in picture.shapes:
        _add(root, shape)
    ET.indent(root)
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _add(root: ET.Element, shape: Shape) -> None:
    if isinstance(shape, Polyline):
        points = " ".join(f"{_number(x)},{_number(y)}" for x, y in shape.points)
        ET.SubElement(root, "polygon" if shape.closed else "polyline", {"points": points, **_painted(shape.paint)})
    elif isinstance(shape, Circle):
        cx, cy = (_number(value) for value in shape.centre)
        ET.SubElement(root, "circle", {"cx": cx, "cy": cy, "r": _number(shape.radius), **_painted(shape.paint)})
    else:
        _add_text(root, shape)


def _add_text(root: ET.Element, shape: Text) -> None:
    attributes = {
        "x": _number(shape.at[0]),
        "y": _number(shape.baseline),
        "font-family": FONTS,
        "font-size": _number(shape.size),
        "fill": shape.colour,
    }
    if shape.anchor == "middle":
        attributes["text-anchor"] = "middle"
    if shape.weight:
        attributes["font-weight"] = shape.weight
    ET.SubElement(root, "text", attributes).text = _allowed(shape.text)


def _painted(paint: Paint) -> dict[str, str]:
    attributes = {"fill": paint.fill or "none"}
    if paint.stroke:
        attributes |= {"stroke": paint.stroke, "stroke-width": _number(paint.width)}
        ends = ("round", "round") if paint.round else ("butt", "miter")
        attributes |= {"stroke-linecap": ends[0], "stroke-linejoin": ends[1]}
        if paint.dash:
            attributes["stroke-dasharray"] = " ".join(_number(length) for length in paint.dash)
    return attributes


def _allowed(text: str) -> str:
    return _FORBIDDEN.sub("\ufffd", text)


def _number(value: float) -> str:
    """Three decimals at most: a thousandth of a point is finer than any printer."""
    return f"{value:.3f}".rstrip("0").rstrip(".")
