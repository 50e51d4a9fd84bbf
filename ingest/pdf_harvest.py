"""What is found while a PDF page is gone through."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ingest import pdf_raw as raw
from ingest.page import Box, Image, VectorPath
from ingest.pdf_text import TextObject


@dataclass(frozen=True, slots=True)
class Unnamed:
    """A thing whose look PDFium does not tell: a raster image (`path` is None, or its square where it has one colour,
    for it may be masked), or what a tiling pattern fills."""

    thing: raw.PageObject
    box: Box
    order: int
    path: VectorPath | None = None


@dataclass(slots=True)
class Harvest:
    """What was found so far. Boxes and paths lie in page points; `order` is the place
    of a thing among all that are drawn, so that what covers another is known."""

    page: Any
    """The page of PDFium."""
    image: Image
    """The page rendered, and how many of its pixels a point is (`scale`): what is seen decides where PDFium tells no
    colour."""
    scale: float
    off: frozenset[str] = frozenset()
    """Layers that are not shown."""
    paths: list[VectorPath] = field(default_factory=list)
    pictures: list[tuple[int, Box]] = field(default_factory=list)
    """Raster images by their order."""
    covers: list[tuple[int, Box]] = field(default_factory=list)
    """Opaque rectangles by their order: characters that lie under one are not seen."""
    texts: dict[int, TextObject] = field(default_factory=dict)
    """Text objects by their addresses."""
    unnamed: list[Unnamed] = field(default_factory=list)
    shaded: list[tuple[raw.PageObject, Box, VectorPath]] = field(default_factory=list)
    """Strokes that may be painted by a shading."""
    order: int = 0
    segments: int = 0
    """Segments of all paths together, which have a limit."""
