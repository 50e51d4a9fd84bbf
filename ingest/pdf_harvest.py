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
    """What was found so far."""

    page: Any
    image: Image
    scale: float
    off: frozenset[str] = frozenset()
    paths: list[VectorPath] = field(default_factory=list)
    pictures: list[tuple[int, Box]] = field(default_factory=list)
    covers: list[tuple[int, Box]] = field(default_factory=list)
    texts: dict[int, TextObject] = field(default_factory=dict)
    unnamed: list[Unnamed] = field(default_factory=list)
    shaded: list[tuple[raw.PageObject, Box, VectorPath]] = field(default_factory=list)
    """Strokes that may be painted by a shading."""
    order: int = 0
    segments: int = 0
