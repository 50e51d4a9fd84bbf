"""Lays a puzzle out on a sheet: title, setter, grid with what stands round it, rules text."""

from __future__ import annotations

from collections.abc import Iterator

from clueprint.draw.fonts import HELVETICA, FontPair, fonts_for
from clueprint.draw.lattice import puzzle_shapes
from clueprint.draw.primitives import Box, Picture, Shape, Text, bounds_of, in_paint_order
from clueprint.errors import ClueprintError
from schema.puzzle import Puzzle

SHEET = (595.0, 842.0)
"""ISO 216 A4 in points; a sheet grows taller when its text needs it."""
MARGIN = 56.0
LARGEST_CELL = 46.0
"""A comfortable cell to write in: 16 mm."""
TITLE_SIZE, SETTER_SIZE, RULES_SIZE = 20.0, 11.0, 10.5
LEADING = 1.35
"""Line spacing in font sizes."""
GAP = 16.0
"""Between title, grid and rules text."""


def picture(puzzle: Puzzle) -> Picture:
    """The puzzle on an A4 sheet, taller where the rules text runs on."""
    fonts = _fonts(puzzle)
    width = SHEET[0] - 2 * MARGIN
    shapes: list[Shape] = []
    y = MARGIN
    for text, size, weight in ((puzzle.title, TITLE_SIZE, "bold"), (puzzle.setter, SETTER_SIZE, "")):
        if text:
            y = _set_lines(shapes, _wrapped(text, width, size, weight, fonts), y, size, weight)
    y += GAP if shapes else 0
    grid, y = _placed(puzzle_shapes(puzzle), y, width)
    shapes += grid
    if puzzle.rules_text:
        lines = _wrapped(puzzle.rules_text, width, RULES_SIZE, "", fonts)
        y = _set_lines(shapes, lines, y + GAP, RULES_SIZE, "")
    return Picture(SHEET[0], max(SHEET[1], y + MARGIN), in_paint_order(shapes), puzzle.title or "")


def _fonts(puzzle: Puzzle) -> FontPair:
    """The fonts to measure with; Helvetica's widths do for texts that no font here prints, which only SVG draws."""
    try:
        return fonts_for("".join((puzzle.title or "", puzzle.setter or "", puzzle.rules_text or "")))
    except ClueprintError:
        return HELVETICA


def _placed(shapes: tuple[Shape, ...], top: float, width: float) -> tuple[list[Shape], float]:
    """The grid's shapes in points below `top`, centred on the sheet, and the y where they end."""
    box: Box = bounds_of(shapes)
    cell = min(LARGEST_CELL, width / (box[2] - box[0]))
    dx = (SHEET[0] - cell * (box[0] + box[2])) / 2
    dy = top - cell * box[1]
    return [shape.moved(cell, dx, dy) for shape in shapes], dy + cell * box[3]


def _set_lines(shapes: list[Shape], lines: list[str], top: float, size: float, weight: str) -> float:
    """Add lines of text below `top`; the y where they end."""
    for number, line in enumerate(lines):
        middle = top + (number + 0.5) * LEADING * size
        if line:
            shapes.append(Text((MARGIN, middle), line, size, "text", weight=weight, anchor="start"))
    return top + len(lines) * LEADING * size


def _wrapped(text: str, width: float, size: float, weight: str, fonts: FontPair) -> list[str]:
    """The text in lines no wider than `width`; its own line breaks stay."""
    lines: list[str] = []
    for paragraph in text.splitlines():
        line = ""
        for word in _pieces(paragraph, width, size, weight, fonts):
            longer = f"{line} {word}" if line else word
            if line and fonts.width(longer, size, weight) > width:
                lines.append(line)
                longer = word
            line = longer
        lines.append(line)
    return lines


def _pieces(paragraph: str, width: float, size: float, weight: str, fonts: FontPair) -> Iterator[str]:
    """The words of a paragraph, those wider than a line cut up."""
    for word in paragraph.split():
        rest = word
        while fonts.width(rest, size, weight) > width:
            fits = next(n for n in range(len(rest), 0, -1) if n == 1 or fonts.width(rest[:n], size, weight) <= width)
            yield rest[:fits]
            rest = rest[fits:]
        if rest:
            yield rest
