"""Marks on edges that are no dots, as shapes: signs, diamonds, squares and bars of the sizes that print gives them."""

from __future__ import annotations

import numpy as np

from ingest.page import Point
from recognise.evidence import Shape
from recognise.geometry import box_at
from recognise.marks.looking import Looking
from recognise.marks.shades import IN_BAR, IN_DIAMOND, LIGHT_INSIDE, shade_at
from recognise.marks.sights import SQUARE_ON_EDGE

BAR = (0.3, 0.1)
"""In cells: half the length and width of the place that a bar or a sign takes up at most. What is longer than
`recognise.interpret.edges.LARGEST` is no mark of an edge."""
LONG_SIDE, ACROSS = 0.12, 0.12
"""In cells: half the part of its length in which the long sides of a bar are looked for, and how far off the lattice
line; a bar may be printed, or its line found, by 0.05 beside the middle."""
SIGN = 0.21
"""In cells: half the side of the place that a sign takes up at least."""
SIGNS = {"SIGN_LEFT": "left", "SIGN_RIGHT": "right", "SIGN_UP": "up", "SIGN_DOWN": "down"}
BLACK = (0, 0, 0)
PAPER = 255


def edge_shape(place: Point, name: str, chance: float, plane: int, looking: Looking, arms: float) -> Shape:
    """The shape of a mark that the network calls `name` on an edge; `arms` is how far, in cells, those of the page's
    signs reach along their edges."""
    if name in SIGNS:
        half = (SIGN, max(SIGN, arms)) if plane == 0 else (max(SIGN, arms), SIGN)
        return Shape("sign", box_at(place, *half), BLACK, "shape", chance, direction=SIGNS[name])
    if name in ("DIAMOND", SQUARE_ON_EDGE):
        filled = min(shade_at(place, IN_DIAMOND, looking)) < LIGHT_INSIDE
        return Shape(name.lower(), box_at(place, 0.17), BLACK, "shape", chance, filled=filled)
    if name == "BAR":
        # A white bar hides the lattice line under it.
        filled = min(shade_at(place, IN_BAR, looking)) < LIGHT_INSIDE and not _is_hollow(place, plane, looking)
        box = box_at(place, BAR[1], BAR[0]) if plane == 0 else box_at(place, *BAR)
        return Shape("bar", box, BLACK, "shape", chance, filled=filled)
    return Shape("mark", box_at(place, 0.2), BLACK, "shape", chance)


def _is_hollow(place: Point, plane: int, looking: Looking) -> bool:
    """Whether a bar on an edge has two dark long sides with paper between them, wherever its middle is."""
    half = (ACROSS, LONG_SIDE) if plane == 0 else (LONG_SIDE, ACROSS)
    across = np.median(looking.whole[looking.raster.slices(box_at(place, *half))], axis=plane)
    dark = np.flatnonzero(across > 1 - LIGHT_INSIDE / PAPER)
    return bool(dark.size and float(across[dark[0] : dark[-1] + 1].min()) <= 1 - LIGHT_INSIDE / PAPER)
