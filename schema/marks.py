"""Marks as they stand on paper, in words that kinds understand: what the readers hand to a kind to be built from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from schema.cells import Cell
from schema.grid import Side

Family = Literal[
    "tube",
    "line",
    "ringed-line",
    "arrow",
    "cage",
    "edge",
    "corner",
    "cell",
    "area",
    "outside",
    "outside-diagonal",
    "diagonal",
    "rule",
]
"""What a mark looks like, whatever it means: a line with a bulb, a plain line, one with ringed ends, a line from a
circle to an arrow head, an outlined group of cells, a mark on the edge between two cells or on the corner of four, a
mark in a cell, tinted cells, a number beside the grid, one with a little arrow, a long diagonal; `rule` is no mark:
the rules text alone states it."""

Direction = Literal["down-right", "down-left", "up-right", "up-left"]


def step_of(direction: str) -> tuple[int, int]:
    """Rows down and columns right of one step in a direction: a `Direction`, or one of its words."""
    return ("down" in direction) - ("up" in direction), ("right" in direction) - ("left" in direction)


@dataclass(frozen=True, slots=True)
class Seen:
    """One mark on one grid. Which fields are filled depends on the family:

    `paths` for drawn lines (a tube has one path per tip, bulb first; an arrow one per head, from its circle),
    `cells` for everything else that stands on cells, `text` for what is printed with it, `side` and `index` for what
    stands beside the grid, `direction` for diagonals, `shape` and `colour` for what it looks like in a word."""

    family: Family
    cells: tuple[Cell, ...] = ()
    paths: tuple[tuple[Cell, ...], ...] = ()
    text: str = ""
    side: Side | None = None
    index: int = 0
    ring: int = 1
    direction: Direction | Literal["down", "up"] | None = None
    shape: str = ""
    colour: str = ""
