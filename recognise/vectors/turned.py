"""Characters that point: arrows set as characters beside a grid, and signs at any angle."""

from __future__ import annotations

from collections.abc import Sequence

from ingest.page import Page
from recognise.evidence import Shape
from recognise.vectors.beside import RING
from recognise.vectors.letters import STRAIGHT, Mark, angle_of, is_upright
from recognise.vectors.numbers import as_lines, is_running
from recognise.vectors.place import Placement

LEAST_ARROW = 0.1
"""Font size in cells of a little arrow beside a grid; arrows are set smaller than their numbers."""
WAYS = ("right", "down-right", "down", "down-left", "left", "up-left", "up", "up-right")
"""Clockwise, an eighth of a turn each."""
POINTERS = {
    character: way
    for way, characters in zip(WAYS, ("→➔➙➜🠖🡒", "↘➘⬊🡖", "↓⬇🡓", "↙⬋⬃🡗", "←⬅🡐", "↖⬉⬁🡔", "↑⬆🡑", "↗➚⬈⬀🡕"), strict=True)
    for character in characters
}
"""Arrows as characters."""
SIGNS = {"<": "left", ">": "right", "^": "up", "∧": "up", "Λ": "up", "∨": "down", "v": "down", "V": "down"}
"""Characters that look like two strokes which meet in a point, by where that point is."""


def _seen_way(way: str, angle: float) -> str:
    """Where something points that is turned clockwise by an angle; empty where that is no quarter or eighth."""
    eighths = round(angle / 45)
    return WAYS[(WAYS.index(way) + eighths) % 8] if abs(angle - 45 * eighths) <= STRAIGHT else ""


def turned_sign(mark: Mark, page: Page) -> Shape:
    """A character that does not stand upright: a sign where it looks like one."""
    way = SIGNS.get(mark.glyph.text)
    seen = _seen_way(way, angle_of(mark, page)) if way else ""
    name = "sign" if "-" not in seen and seen else "mark"
    return Shape(name, mark.box, mark.glyph.colour, "vector", direction=seen if name == "sign" else "")


def arrows_beside(around: Sequence[Mark], page: Page, placement: Placement) -> list[Shape]:
    """Arrows set as characters beside the grid, at any angle; those of running text are not."""
    upright = [line for line in as_lines(mark for mark in around if is_upright(mark, page)) if not is_running(line)]
    turned = [mark for mark in around if not is_upright(mark, page)]
    found = []
    for mark in (*(mark for line in upright for mark in line), *turned):
        x, y = mark.middle
        away = max(-x, -y, x - placement.columns, y - placement.rows)
        way = POINTERS.get(mark.glyph.text)
        seen = _seen_way(way, angle_of(mark, page)) if way else ""
        if seen and away <= RING and mark.size >= LEAST_ARROW:
            found.append(Shape("arrow", mark.box, mark.glyph.colour, "vector", direction=seen))
    return found
