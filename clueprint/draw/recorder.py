"""A pen that keeps what it is told to draw."""

from __future__ import annotations

from collections.abc import Sequence

from clueprint.draw.primitives import Circle, Polyline, Shape, Text
from schema.grid import Grid
from schema.kinds.base import Paint, Point


class Recorder:
    """Implements `schema.kinds.base.Pen`. Set `item` (a JSON Pointer) before an item draws itself: every shape
    recorded from then on carries it."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self.shapes: list[Shape] = []
        self.item: str | None = None

    def line(self, points: Sequence[Point], paint: Paint, layer: str, closed: bool = False) -> None:
        """A polyline, or a polygon when closed."""
        self.shapes.append(Polyline(tuple(points), paint, layer, closed, self.item))

    def circle(self, centre: Point, radius: float, paint: Paint, layer: str) -> None:
        """A circle."""
        self.shapes.append(Circle(centre, radius, paint, layer, self.item))

    def text(self, at: Point, text: str, size: float, layer: str, colour: str = "#000000", weight: str = "") -> None:
        """Text centred at a point."""
        self.shapes.append(Text(at, text, size, layer, colour, weight, item=self.item))
