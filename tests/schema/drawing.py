"""A pen that keeps what it is told."""

from __future__ import annotations

from dataclasses import dataclass, field

from schema.grid import Grid
from schema.kinds.base import Paint, Point

LAYERS = {"tint", "line", "grid", "mark", "glyph"}


@dataclass
class NotePen:
    """Keeps every primitive; `points` are all places that it touched."""

    grid: Grid
    lines: list[tuple[tuple[Point, ...], Paint, str, bool]] = field(default_factory=list)
    circles: list[tuple[Point, float, Paint, str]] = field(default_factory=list)
    texts: list[tuple[Point, str]] = field(default_factory=list)
    layers: set[str] = field(default_factory=set)

    def line(self, points, paint, layer, closed=False):
        self.lines.append((tuple(points), paint, layer, closed))
        self.layers.add(layer)

    def circle(self, centre, radius, paint, layer):
        self.circles.append((centre, radius, paint, layer))
        self.layers.add(layer)

    def text(self, at, text, size, layer, colour="#000000", weight=""):
        self.texts.append((at, text))
        self.layers.add(layer)

    @property
    def points(self) -> list[Point]:
        found = [point for points, *_ in self.lines for point in points]
        return [*found, *(centre for centre, *_ in self.circles), *(at for at, _ in self.texts)]
