"""Painted things around one grid: each fill and each stroke in cells, and the canvas that says what covers what."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour
from recognise.colours import colours_apart
from recognise.pixels.frame import Raster
from recognise.vectors.patches import Patch
from recognise.vectors.place import Floats

GROUND = 6
"""Grey levels by which a colour may differ from the ground and still cover as ground does."""
NO_LENGTH = 0.05
"""As a part of its width: a shorter stroke is a point. Some programs refuse strokes that do not move at all, so that
dots are drawn as strokes that hardly do."""


@dataclass(frozen=True, slots=True)
class Ink:
    """One fill or one stroke. `outlines` are n x 2 points in cells; `width` and `dash` in cells; `patch` is the whole
    area that is painted, but for what ground covers again. `order` and `part` are the same for fill and stroke of one
    thing; a path that draws several things apart from each other gives an ink for each, `part` telling them apart."""

    role: Literal["fill", "stroke"]
    outlines: tuple[Floats, ...]
    closed: tuple[bool, ...]
    curved: bool
    colour: Colour
    opaque: bool
    width: float
    dash: tuple[float, ...]
    cap: str
    order: int
    part: int
    even_odd: bool
    patch: Patch
    whole: Patch
    grain: tuple[Floats, ...] = ()
    painted: float = 1.0
    """Outlines, in cells, of what a pattern paints of a fill, and the part of its area that it paints."""
    pen: Colour | None = None
    """The colour of which one sees through to the paper what `colour` is; None where nothing shows through."""
    is_sign: bool = False
    """Whether it is a character out of a fount of signs."""

    @property
    def dashed(self) -> bool:
        """Whether it is a stroke with a dash array."""
        return bool(self.dash)

    @property
    def is_point(self) -> bool:
        """Whether it is one stroke of no length to speak of: with round ends a dot (ISO 32000-1, 8.5.3.2)."""
        if self.role != "stroke" or len(self.outlines) != 1:
            return False
        return float(np.ptp(self.outlines[0], axis=0).max()) <= NO_LENGTH * self.width

    box: Box = field(init=False)
    """The upright box around its outlines, in cells, stroke width included."""

    def __post_init__(self) -> None:
        points = np.concatenate(self.outlines)
        (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
        half = self.width / 2
        box = float(left) - half, float(top) - half, float(right) + half, float(bottom) + half
        # Asked for again and again on pages of thousands of inks, hence kept.
        object.__setattr__(self, "box", box)


@dataclass(frozen=True, slots=True)
class Canvas:
    """What was painted last, pixel by pixel: the paint order of the last ground, and order and colour (as one number)
    of the last opaque ink of any colour. `paper` are the fills of the ground's colour, in paint order."""

    raster: Raster
    ground: Colour
    ground_order: npt.NDArray[np.int32]
    top_order: npt.NDArray[np.int32]
    top_colour: npt.NDArray[np.int32]
    paper: tuple[Ink, ...] = ()
    light: tuple[Ink, ...] = ()
    """The strokes of the ground's colour: on tinted paper they may be the lattice lines."""
    buried: tuple[Ink, ...] = ()
    """Small inks on the grid that something painted over them hides wholly."""

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of pixels."""
        return self.ground_order.shape[0], self.ground_order.shape[1]


def near(colour: Colour, other: Colour, by: int = GROUND) -> bool:
    """Whether two colours are the same but for rounding."""
    return colours_apart(colour, other) <= by


def of_one_pen(one: Ink, other: Ink) -> bool:
    """Whether two inks have the same colour, or one through which more or less of the paper shows."""
    if near(one.colour, other.colour):
        return True
    pens = one.pen or one.colour, other.pen or other.colour
    return (one.pen is not None or other.pen is not None) and near(*pens)


def darkness(colour: Colour) -> float:
    """0 for white to 1 for black, by the luma of Rec. ITU-R BT.601."""
    red, green, blue = colour
    return 1 - (0.299 * red + 0.587 * green + 0.114 * blue) / 255
