"""Evidence made by hand, as a reader would hand it on."""

import numpy as np

from recognise.evidence import Edges, Evidence, Glyph, Guess, How, Trace
from schema.cells import Cell

BLACK = (0, 0, 0)


def glyph(x: float, y: float, *guesses: tuple[str, float], size: float = 0.5, how: How = "shape") -> Glyph:
    box = (x - size / 3, y - size / 2, x + size / 3, y + size / 2)
    return Glyph(box, tuple(Guess(text, p) for text, p in guesses), size, BLACK, how)


def given(cell: str, text: str, probability: float = 0.999, **options) -> Glyph:
    x, y = Cell.parse(cell).centre
    return glyph(x, y, (text, probability), **options)


def trace(cells: str, links: str = "", discs: tuple[int, ...] = (), **options) -> Trace:
    """`cells` in a row; linked one to the next, or as `links` says ("0-1 1-2 1-3")."""
    nodes = tuple(map(Cell.parse, cells.split()))
    pairs = [tuple(map(int, link.split("-"))) for link in links.split()] or [(i, i + 1) for i in range(len(nodes) - 1)]
    return Trace(
        nodes,
        tuple((a, b) for a, b in pairs),
        options.pop("colour", (150, 150, 150)),
        options.pop("width", 0.4),
        options.pop("outlined", False),
        options.pop("how", "shape"),
        tuple((i, 0.35) for i in discs),
        **options,
    )


def edges(rows: int = 9, columns: int = 9, box: tuple[int, int] | None = (3, 3)) -> Edges:
    horizontal = np.full((rows + 1, columns), 0.02)
    vertical = np.full((rows, columns + 1), 0.02)
    if box:
        horizontal[:: box[0]] = 0.06
        vertical[:, :: box[1]] = 0.06
    return Edges(horizontal, vertical, np.ones_like(horizontal), np.ones_like(vertical))


def evidence(rows: int = 9, columns: int = 9, **parts) -> Evidence:
    return Evidence(rows, columns, parts.pop("edges", edges(rows, columns)), **parts)
