"""The displayed frame of a PDF page: crop box, rotation and UserUnit (ISO 32000-1, 7.7.3.3, 8.3.2.3, 14.11.2)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ingest.page import Box, Frame

LARGEST_SIDE = 14_400.0
SMALLEST_SIDE = 3.0
"""Default user space units a page side may have (ISO 32000-1, annex C.2)."""

Points = npt.NDArray[np.float64]
"""n x 2."""


@dataclass(frozen=True, slots=True)
class Matrix:
    """x' = a x + c y + e, y' = b x + d y + f (ISO 32000-1, 8.3.3)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def then(self, outer: Matrix) -> Matrix:
        """This mapping first, `outer` after it."""
        return Matrix(
            self.a * outer.a + self.b * outer.c,
            self.a * outer.b + self.b * outer.d,
            self.c * outer.a + self.d * outer.c,
            self.c * outer.b + self.d * outer.d,
            self.e * outer.a + self.f * outer.c + outer.e,
            self.e * outer.b + self.f * outer.d + outer.f,
        )

    def inverse(self) -> Matrix:
        """The mapping back. ZeroDivisionError for one that flattens the plane."""
        area = self.a * self.d - self.b * self.c
        a, b, c, d = self.d / area, -self.b / area, -self.c / area, self.a / area
        return Matrix(a, b, c, d, -(self.e * a + self.f * c), -(self.e * b + self.f * d))

    def apply(self, points: Points) -> Points:
        """Map n x 2 points."""
        linear = np.array([[self.a, self.b], [self.c, self.d]])
        mapped: Points = points @ linear + (self.e, self.f)
        return mapped

    def box(self, box: Box) -> Box:
        """The upright box around a mapped box."""
        x0, y0, x1, y1 = box
        xs = [self.a * x + self.c * y + self.e for x in (x0, x1) for y in (y0, y1)]
        ys = [self.b * x + self.d * y + self.f for x in (x0, x1) for y in (y0, y1)]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def magnification(self) -> float:
        """By how much lengths grow, as the geometric mean over all directions."""
        return math.sqrt(abs(self.a * self.d - self.b * self.c))


def displayed(box: Box, rotation: int, user_unit: float) -> tuple[Frame, Matrix]:
    """The frame of a page whose visible box in user space is `box`, turned clockwise by `rotation` degrees, and the
    mapping from user space into the frame."""
    left, bottom, right, top = box
    width, height = right - left, top - bottom
    matrix = {
        0: Matrix(1, 0, 0, -1, -left, top),
        90: Matrix(0, 1, 1, 0, -bottom, -left),
        180: Matrix(-1, 0, 0, 1, right, -bottom),
        270: Matrix(0, -1, -1, 0, top, right),
    }[rotation % 360]
    if rotation % 180:
        width, height = height, width
    frame = Frame(width * user_unit, height * user_unit, "pt")
    return frame, matrix.then(Matrix(a=user_unit, d=user_unit))


def absurd(box: Box) -> str | None:
    """Why a page of this box is not opened, or None."""
    sides = (box[2] - box[0], box[3] - box[1])
    if not all(map(math.isfinite, box)) or min(sides) < SMALLEST_SIDE or max(sides) > LARGEST_SIDE:
        return f"its page measures {sides[0]:.4g} x {sides[1]:.4g} units"
    return None
