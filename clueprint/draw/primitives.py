"""What a picture is made of: lines, circles and texts, each knowing which item of the puzzle it shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from schema.kinds.base import Paint, Point

LAYERS = ("tint", "line", "grid", "mark", "glyph", "text")
"""Paint order, bottom first: tints, tubes and lines, lattice lines, marks, the puzzle's characters, words beside it."""

CAP_HEIGHT = 0.716
"""Height of capitals and figures of the Helvetica-like base font, in font sizes (Adobe font metrics: 718/1000)."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Polyline:
    """A polyline, or a polygon when closed."""

    points: tuple[Point, ...]
    paint: Paint
    layer: str
    closed: bool = False
    item: str | None = None

    def moved(self, scale: float, dx: float, dy: float) -> Polyline:
        """The same, scaled and then shifted."""
        points = tuple((x * scale + dx, y * scale + dy) for x, y in self.points)
        return replace(self, points=points, paint=scaled(self.paint, scale))

    def bounds(self) -> Box:
        """The box that holds it, half its stroke width included."""
        half = self.paint.width / 2 if self.paint.stroke else 0.0
        xs, ys = zip(*self.points, strict=True)
        return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    centre: Point
    radius: float
    paint: Paint
    layer: str
    item: str | None = None

    def moved(self, scale: float, dx: float, dy: float) -> Circle:
        """The same, scaled and then shifted."""
        centre = (self.centre[0] * scale + dx, self.centre[1] * scale + dy)
        return replace(self, centre=centre, radius=self.radius * scale, paint=scaled(self.paint, scale))

    def bounds(self) -> Box:
        """The box that holds it, half its stroke width included."""
        reach = self.radius + (self.paint.width / 2 if self.paint.stroke else 0.0)
        x, y = self.centre
        return x - reach, y - reach, x + reach, y + reach


@dataclass(frozen=True, slots=True)
class Text:
    """Characters on one line. `at` is the middle of their cap height: its left end (`start`) or centre (`middle`)."""

    at: Point
    text: str
    size: float
    layer: str
    colour: str = "#000000"
    weight: str = ""
    anchor: Literal["start", "middle"] = "middle"
    item: str | None = None

    def moved(self, scale: float, dx: float, dy: float) -> Text:
        """The same, scaled and then shifted."""
        at = (self.at[0] * scale + dx, self.at[1] * scale + dy)
        return replace(self, at=at, size=self.size * scale)

    @property
    def baseline(self) -> float:
        """The y of the base line."""
        return self.at[1] + CAP_HEIGHT / 2 * self.size

    def bounds(self) -> Box:
        """About the box that holds it: figures are a little over half as wide as the font size."""
        width = 0.6 * self.size * len(self.text)
        left = self.at[0] - (width / 2 if self.anchor == "middle" else 0.0)
        half = CAP_HEIGHT / 2 * self.size
        return left, self.at[1] - half, left + width, self.at[1] + half


Shape = Polyline | Circle | Text


@dataclass(frozen=True, slots=True)
class Picture:
    """Shapes in paint order on a sheet; lengths in points (1/72 inch), origin top left, y downwards."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    title: str = ""


def scaled(paint: Paint, scale: float) -> Paint:
    """A paint whose lengths are multiplied by `scale`."""
    dash = None if paint.dash is None else (paint.dash[0] * scale, paint.dash[1] * scale)
    return replace(paint, width=paint.width * scale, dash=dash)


def in_paint_order(shapes: Iterable[Shape]) -> tuple[Shape, ...]:
    """The shapes sorted by layer, bottom first; the order within a layer stays."""
    return tuple(sorted(shapes, key=lambda shape: LAYERS.index(shape.layer)))


def bounds_of(shapes: Iterable[Shape]) -> Box:
    """The box that holds all shapes."""
    left, top, right, bottom = zip(*(shape.bounds() for shape in shapes), strict=True)
    return min(left), min(top), max(right), max(bottom)
