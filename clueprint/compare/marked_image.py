"""The proof's picture with a frame for each finding, and a strip below that says what each of them is."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path
from textwrap import wrap

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from clueprint.compare.result import Comparison, Finding
from clueprint.compare.signs import sign_of
from clueprint.compare.tags import Tags
from ingest.page import Page

_FONT = Path(__file__).parents[1] / "draw" / "faces" / "DejaVuSans-Drawn.ttf"
_TEXT = 1 / 60
"""Font size in widths of the picture: some hundred characters go on a line of the strip."""
_LEADING = 1.4


def displayed_picture(page: Page) -> Image.Image:
    """The page as a viewer shows it, at the size that was worked on; points times `page.scale` are its pixels."""
    return Image.fromarray(np.ascontiguousarray(np.rot90(page.image, page.turned)))


def marked_png(page: Page, comparison: Comparison) -> bytes:
    """The page with its findings framed and numbered, as PNG."""
    picture = displayed_picture(page)
    size = max(12, round(picture.width * _TEXT))
    font = ImageFont.truetype(str(_FONT), size)
    pen = ImageDraw.Draw(picture)
    numbered = list(comparison.numbered())
    tags = Tags(float(picture.width))
    for number, finding in numbered:
        if finding.page == page.number and finding.where is not None:
            points = [(x * page.scale, y * page.scale) for x, y in finding.where]
            _frame(pen, points, number, finding, font, size, tags)
    whole = _with_strip(picture, numbered, font, size)
    out = io.BytesIO()
    whole.save(out, format="PNG")
    return out.getvalue()


def _frame(
    pen: ImageDraw.ImageDraw,
    points: Sequence[tuple[float, float]],
    number: int,
    finding: Finding,
    font: ImageFont.FreeTypeFont,
    size: int,
    tags: Tags,
) -> None:
    sign = sign_of(finding)
    width = max(2, size // 6)
    middle = np.mean(points, axis=0)
    points = [tuple(at + np.sign(at - middle) * 1.5 * width) for at in np.asarray(points)]
    for start, end in zip(points, [*points[1:], points[0]], strict=True):
        _dashed(pen, start, end, [length * width for length in sign.dash], sign.rgb, width)
    text = f"{number} {sign.word}"
    box = tags.place(points, pen.textlength(text, font=font) + 2 * width, size * _LEADING)
    pen.rectangle(box, fill=sign.rgb)
    pen.text((box[0] + width, box[1] + width / 2), text, font=font, fill="white")


def _dashed(
    pen: ImageDraw.ImageDraw,
    start: tuple[float, float],
    end: tuple[float, float],
    dash: Sequence[float],
    colour: tuple[int, int, int],
    width: int,
) -> None:
    length = float(np.hypot(end[0] - start[0], end[1] - start[1]))
    if not dash or length == 0:
        pen.line((start, end), fill=colour, width=width)
        return
    at = 0.0
    while at < length:
        ends = [
            (start[0] + (end[0] - start[0]) * t / length, start[1] + (end[1] - start[1]) * t / length)
            for t in (at, min(at + dash[0], length))
        ]
        pen.line(ends, fill=colour, width=width)
        at += sum(dash)


def _with_strip(
    picture: Image.Image, numbered: Sequence[tuple[int, Finding]], font: ImageFont.FreeTypeFont, size: int
) -> Image.Image:
    """The picture on a strip of paper that lists the findings."""
    margin = size
    columns = max(20, int((picture.width - 2 * margin) / (size * 0.56)))
    lines: list[tuple[str, tuple[int, int, int]]] = []
    for number, finding in numbered:
        sign = sign_of(finding)
        note = f" ({finding.note})" if finding.note else ""
        text = f"{number} {sign.word}: {finding.why}{note}"
        lines += [(line, sign.rgb) for line in wrap(text, columns, subsequent_indent="    ")]
    step = round(size * _LEADING)
    whole = Image.new("RGB", (picture.width, picture.height + 2 * margin + step * max(1, len(lines))), "white")
    whole.paste(picture, (0, 0))
    pen = ImageDraw.Draw(whole)
    pen.line((0, picture.height, picture.width, picture.height), fill="black", width=2)
    for number, (line, colour) in enumerate(lines or [("no difference", (0, 0, 0))]):
        pen.text((margin, picture.height + margin + number * step), line, font=font, fill=colour)
    return whole
