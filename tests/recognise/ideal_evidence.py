"""The evidence that a reader without fault would hand on of a puzzle drawn in each kind's own look."""

from __future__ import annotations

import math

from recognise.evidence import Disc, Evidence, Fence, Glyph, Shape, Tint, Trace
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._outside import margin_point
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.puzzle import Puzzle
from tests.recognise.evidence_maker import edges, given, glyph

COLOURS = {
    "palindrome": (180, 180, 180),
    "gap-line": (143, 188, 143),
    "run-line": (195, 155, 211),
    "box-sum-line": (133, 183, 217),
    "sum-line": (201, 166, 107),
}
WHITE, BLACK, GREY = (255, 255, 255), (0, 0, 0), (210, 210, 210)
SIGNS = {"sum": "", "difference": "-", "product": "×", "quotient": "÷"}


def ideal_evidence(puzzle: Puzzle) -> Evidence:
    """All of it."""
    grid = puzzle.grid
    parts: dict[str, list] = {"glyphs": [], "tints": [], "discs": [], "traces": [], "fences": [], "shapes": []}
    for cell, digit in puzzle.givens.items():
        parts["glyphs"].append(given(str(cell), grid.label(digit), 0.99999))
    for constraint in puzzle.constraints:
        _add(parts, constraint, grid)
    return Evidence(grid.rows, grid.columns, edges(grid.rows, grid.columns), **{k: tuple(v) for k, v in parts.items()})


def _add(parts: dict[str, list], c: Constraint, grid: Grid) -> None:
    if "tube" in c.marks or "line" in c.marks:
        _line(parts, c)
    elif isinstance(c, Arrow):
        _arrow(parts, c)
    elif isinstance(c, Cage):
        _cage(parts, c)
    elif c.kind == "diagonal":
        box = (0, 0, grid.columns, grid.rows)
        parts["shapes"].append(Shape("diagonal", box, GREY, "vector", direction=c.direction))
    elif "area" in c.marks:
        _cells(parts, c)
    elif "outside" in c.marks:
        x, y = margin_point(grid, c.side, c.index, 1)
        parts["glyphs"].append(glyph(x, y, (str(c.value), 0.99999), size=0.4))
    elif c.kind == "diagonal-sum":
        _diagonal_sum(parts, c)
    elif c.kind == "corner-digits":
        _corner(parts, c, grid)
    else:
        _pair(parts, c)


def _line(parts: dict[str, list], c: Constraint) -> None:
    if c.kind == "thermometer":
        parts["traces"].append(_trace(c.path, discs=(0,), width=0.4))
    elif c.kind == "between-line":
        parts["traces"].append(_trace(c.path, discs=(0, len(c.path) - 1), width=0.08))
    else:
        parts["traces"].append(_trace(c.path, colour=COLOURS[c.kind]))
    if c.kind == "sum-line":
        x, y = c.path[0].centre
        parts["glyphs"].append(small(x - 0.36, y - 0.36, str(c.value)))


def _cage(parts: dict[str, list], cage: Cage) -> None:
    parts["fences"].append(Fence(cage.cells, "dashed", BLACK, "vector"))
    if cage.value is not None:
        corner, text = min(cage.cells), f"{cage.value}{SIGNS[cage.operation]}"
        parts["glyphs"].append(small(corner.column - 0.91 + 0.07 * len(text), corner.row - 0.8, text))


def _cells(parts: dict[str, list], c: Constraint) -> None:
    for cell in c.cells:
        x, y = cell.centre
        if c.kind == "extra-region":
            parts["tints"].append(Tint(cell, (222, 222, 222), 1.0))
        elif c.kind == "even":
            parts["shapes"].append(Shape("square", (x - 0.36, y - 0.36, x + 0.36, y + 0.36), GREY, "vector"))
        else:
            parts["discs"].append(Disc((x, y), 0.36, GREY, None, "vector"))


def _trace(path: tuple[Cell, ...], discs: tuple[int, ...] = (), width: float = 0.16, **options) -> Trace:
    links = tuple((n, n + 1) for n in range(len(path) - 1))
    colour = options.pop("colour", (170, 170, 170))
    return Trace(path, links, colour, width, False, "vector", tuple((i, 0.36) for i in discs), **options)


def small(x: float, y: float, text: str) -> Glyph:
    return glyph(x, y, (text, 0.99999), size=0.16, how="vector")


def _arrow(parts: dict[str, list], arrow: Arrow) -> None:
    circle = sorted(arrow.circle)
    root = min(circle, key=lambda cell: math.dist(cell.centre, arrow.shaft[0].centre))
    path = (root, *arrow.shaft)
    if len(circle) == 1:
        parts["traces"].append(_trace(path, discs=(0,), width=0.06, heads=(len(path) - 1,)))
        return
    parts["traces"].append(_trace(path, width=0.06, heads=(len(path) - 1,)))
    (x0, y0), (x1, y1) = circle[0].centre, circle[-1].centre
    box = (x0 - 0.38, y0 - 0.38, x1 + 0.38, y1 + 0.38)
    parts["shapes"].append(Shape("capsule", box, GREY, "vector", filled=False))


def _diagonal_sum(parts: dict[str, list], c: Constraint) -> None:
    down, right = (1 if c.direction.startswith("down") else -1), (1 if c.direction.endswith("right") else -1)
    x, y = c.start.centre[0] - right / 2, c.start.centre[1] - down / 2
    ax, ay = x - right * 0.2, y - down * 0.2
    parts["shapes"].append(
        Shape("arrow", (ax - 0.1, ay - 0.1, ax + 0.1, ay + 0.1), BLACK, "vector", direction=c.direction)
    )
    parts["glyphs"].append(glyph(x - right * 0.6, y - down * 0.6, (str(c.value), 0.99999), size=0.36))


def _corner(parts: dict[str, list], c: Constraint, grid: Grid) -> None:
    first = min(c.cells)
    x, y = float(first.column), float(first.row)
    parts["discs"].append(Disc((x, y), 0.22, WHITE, BLACK, "vector"))
    labels = [grid.label(digit) for digit in c.digits]
    lines = [labels] if len(labels) < 3 else [labels[:2], labels[2:]]
    for row, line in enumerate(lines):
        for column, label in enumerate(line):
            at = x + (column - (len(line) - 1) / 2) * 0.16, y + (row - (len(lines) - 1) / 2) * 0.17
            parts["glyphs"].append(small(*at, label))


def _pair(parts: dict[str, list], c: Constraint) -> None:
    cells = getattr(c, "cells", None) or (getattr(c, "greater", None), getattr(c, "less", None))
    if c.marks != ("edge",) or len(cells) != 2:
        return
    x, y = ((cells[0].centre[n] + cells[1].centre[n]) / 2 for n in (0, 1))
    if c.kind == "consecutive-pair":
        parts["discs"].append(Disc((x, y), 0.13, WHITE, BLACK, "vector"))
    elif c.kind == "ratio-pair":
        parts["discs"].append(Disc((x, y), 0.13, BLACK, BLACK, "vector"))
        if c.ratio != 2:
            parts["glyphs"].append(small(x, y, str(c.ratio)))
    elif c.kind == "sum-pair":
        parts["glyphs"].append(small(x, y, {5: "V", 10: "X"}.get(c.value, str(c.value))))
    else:
        across, down = c.less.column - c.greater.column, c.less.row - c.greater.row
        way = {(1, 0): "right", (-1, 0): "left", (0, 1): "down", (0, -1): "up"}[across, down]
        box = (x - 0.11, y - 0.11, x + 0.11, y + 0.11)
        parts["shapes"].append(Shape("sign", box, BLACK, "vector", direction=way, filled=False))
