"""What a person calls a mark that no rule explains."""

from __future__ import annotations

import math

import pytest

from ingest.page import Point
from recognise.evidence import Shape
from recognise.interpret.called import called

BOX = (0.0, 0.0, 1.0, 1.0)


def rays(count: int, notch: float, turn: float = 0.3) -> tuple[Point, ...]:
    """A closed outline of tips and notches about (4, 2), the last point as the first."""
    radii = (0.3, 0.3 * notch)
    steps = [(radii[i % 2], turn + i * math.pi / count) for i in range(2 * count + 1)]
    return tuple((4 + r * math.cos(a), 2 + r * math.sin(a)) for r, a in steps)


@pytest.mark.parametrize("count", range(4, 9))
def test_a_star_is_called_one_however_it_is_turned(count: int) -> None:
    assert called(Shape("glyph-path", BOX, (0, 0, 0), "vector", where=rays(count, 0.45))) == "star"


def test_what_is_no_star_is_not_called_one() -> None:
    assert called(Shape("glyph-path", BOX, (0, 0, 0), "vector", where=rays(5, 0.95))) == "figure"
    uneven = tuple((x * 1.9, y) for x, y in rays(5, 0.45)[:8])
    assert called(Shape("mark", BOX, (0, 0, 0), "vector", where=uneven)) == "mark"
    assert called(Shape("mark", BOX, (0, 0, 0), "shape")) == "mark"
    assert called(Shape("square", BOX, (0, 0, 0), "vector", where=rays(5, 0.45))) == "square"
