"""What the lattice network says of each cell of a grid and of the ring around it, and in which channels it says it.

Everything that belongs to an edge or a corner is kept with the cell to the left of it or above it. The names of the
classes are those of the labels that the network is trained on (`fixtures.training.lattice_labels`).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

CELL = 32
"""Pixels a cell in the network's picture."""
MARGIN = 1
"""Cells of page around the grid in it."""

WAYS: tuple[tuple[int, int], ...] = ((0, 1), (1, 1), (1, 0), (1, -1))
"""(row step, column step) of the four planes of links: east, south-east, south, south-west."""


@dataclass(frozen=True, slots=True)
class Head:
    """One thing that is told of a cell. With `exclusive` exactly one of the classes holds on each plane (the first is
    'nothing'); otherwise each class holds or not by itself."""

    name: str
    classes: tuple[str, ...]
    exclusive: bool = True
    planes: int = 1

    @property
    def channels(self) -> int:
        """How many channels it takes, a plane after the other."""
        return self.planes * len(self.classes)


HEADS: tuple[Head, ...] = (
    Head("link", ("NONE", "LINE", "SHAFT", "TUBE", "CAPSULE"), planes=4),
    Head(
        "node",
        ("BULB", "CIRCLE", "SQUARE", "FILLED", "OUTLINED", "CAPSULE", "HEAD", "END", "TINT", "SMALL", "CHARACTERS",
         "DOWN", "UP", "UNKNOWN", "DIAMOND"),
        exclusive=False,
    ),
    Head("side", ("TOP", "LEFT", "BOTTOM", "RIGHT"), exclusive=False),
    Head(
        "edge",
        ("NONE", "WHITE_DOT", "DARK_DOT", "BAR", "DIAMOND", "SIGN_LEFT", "SIGN_RIGHT", "SIGN_UP", "SIGN_DOWN",
         "CHARACTERS", "OTHER", "SQUARE"),
        planes=2,
    ),
    Head("edge_text", ("TEXT",), exclusive=False, planes=2),
    Head("corner", ("NONE", "CIRCLE", "OTHER")),
    Head("pointer", ("E", "SE", "S", "SW", "W", "NW", "N", "NE"), exclusive=False),
    Head("wall", ("NONE", "THIN", "THICK"), planes=2),
)  # fmt: skip
"""In the order of the channels."""

CHANNELS = sum(head.channels for head in HEADS)
FIRST = dict(zip((head.name for head in HEADS), accumulate((h.channels for h in HEADS), initial=0), strict=False))
"""The first channel of each head."""
