"""Draws puzzles: one list of primitives, written as SVG, PDF, PNG; the givens as plain text."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from clueprint.draw.files import write_drawing
from clueprint.draw.layout import picture
from clueprint.draw.pdf import to_pdf, to_png
from clueprint.draw.plain import to_text
from clueprint.draw.primitives import Circle, Picture, Polyline, Text
from clueprint.draw.svg import to_svg
from clueprint.errors import ClueprintError
from schema.puzzle import Puzzle
from schema.words import listed

__all__ = [
    "FORMATS",
    "Circle",
    "Picture",
    "Polyline",
    "Text",
    "draw",
    "picture",
    "to_pdf",
    "to_png",
    "to_svg",
    "to_text",
]

FORMATS: dict[str, Callable[[Puzzle], bytes]] = {
    ".svg": lambda puzzle: to_svg(picture(puzzle)),
    ".pdf": lambda puzzle: to_pdf(picture(puzzle)),
    ".png": lambda puzzle: to_png(picture(puzzle)),
    ".txt": lambda puzzle: to_text(puzzle).encode("utf-8"),
}
"""What each file name suffix is drawn by."""


def draw(puzzle: Puzzle, path: Path) -> None:
    """Draw a puzzle into a file; its suffix says as what. The file is written whole or not at all.

    Raises ClueprintError for a suffix that is none of `FORMATS`, for a character that no font here prints, and for a
    file that cannot be written."""
    render = FORMATS.get(path.suffix.lower())
    if render is None:
        raise ClueprintError(
            f"{path}: cannot tell what to draw from this name", f"end it in {listed(list(FORMATS), 'or')}"
        )
    try:
        content = render(puzzle)
    except ClueprintError as error:
        raise ClueprintError(f"{path}: {error.what}", error.remedy) from error
    write_drawing(path, content)
