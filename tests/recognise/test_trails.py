"""Pale curves that run on out of the grid are the rims of stains; those that end within it may be marks."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.passing import Thing
from recognise.pixels.trails import without_trails

RASTER = Raster(rows=6, columns=6, cell=40, origin=60)
SIDE = 6 * 40 + 2 * 60
Points = npt.NDArray[np.float64]


def drawn(points: Points, ink: float = 0.2, width: int = 3) -> Grey:
    """A stroke through points (n, 2), in cells."""
    picture = np.zeros((SIDE, SIDE), np.float32)
    pixels = np.round(points * RASTER.cell + RASTER.origin).astype(np.int32)
    cv2.polylines(picture, [pixels], False, ink, width, cv2.LINE_AA)
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), 1), np.float32)


def arc(middle: tuple[float, float], radius: float, start: float, end: float) -> Points:
    """Part of a ring, angles in degrees."""
    angles = np.deg2rad(np.linspace(start, end, 80))
    return np.stack([middle[0] + radius * np.cos(angles), middle[1] + radius * np.sin(angles)], -1)


RIM = arc((0.0, 2.0), 3.0, -120, 120)
"""The rim of a stain that lies half beyond the left of the grid."""
PIECE = (2.6, 1.2, 3.1, 2.8)
REST = (2.0, 3.2, 2.6, 4.2)


def left(picture: Grey, *boxes: tuple[float, float, float, float], free: Mask | None = None) -> int:
    found: list[Thing] = []
    for box in boxes:
        rows, columns = RASTER.slices(box)
        found.append(((rows.start, columns.start), picture[rows, columns] > 0.05))
    everywhere = np.ones(picture.shape, np.bool_)
    return len(without_trails(found, picture, everywhere if free is None else free, RASTER))


def test_the_rim_of_a_stain_is_passed_over() -> None:
    assert left(drawn(RIM), PIECE, REST) == 0


def test_what_stands_on_it_may_hide_parts_of_it() -> None:
    rim, free = drawn(RIM), np.ones((SIDE, SIDE), np.bool_)
    hidden = RASTER.slices((2.0, 3.0, 2.9, 3.6))
    rim[hidden], free[hidden] = 0, False
    assert left(rim, PIECE, free=free) == 0


def test_a_rim_may_get_paler_on_quiet_paper() -> None:
    fading = drawn(RIM) * np.linspace(0.15, 1, SIDE, dtype=np.float32)[None]
    assert left(fading, PIECE) == 0


@pytest.mark.parametrize(
    "mark",
    [
        arc((3.0, 3.0), 1.0, 0, 360),
        arc((1.2, 2.0), 1.8, -70, 70),
        np.array([(2.5, 1.0), (3.0, 1.5), (2.6, 2.0), (3.0, 2.5), (2.5, 3.0)]),
    ],
)
def test_curves_that_stay_in_the_grid_may_be_marks(mark: Points) -> None:
    assert left(drawn(mark), (1.0, 1.0, 4.2, 4.2)) == 1


def test_a_mark_that_ends_at_a_rim_is_no_part_of_it() -> None:
    both = np.maximum(drawn(RIM), drawn(np.array([(3.0, 2.0), (4.6, 2.2)])))
    assert left(both, (3.2, 1.6, 4.8, 2.6)) == 1


def test_darker_ink_upon_a_rim_is_no_part_of_it() -> None:
    both = np.maximum(drawn(RIM), drawn(arc((0.0, 2.0), 3.0, -8, 8), ink=0.9))
    assert left(both, PIECE) == 1
    dot = np.maximum(drawn(RIM), drawn(np.array([(2.45, 3.72), (2.5, 3.66)]), ink=0.8, width=7))
    assert left(dot, PIECE, REST) == 1


def test_a_gap_ends_it() -> None:
    rim = drawn(RIM)
    for box in ((0.0, -1.4, 2.6, 0.3), (0.0, 4.0, 2.6, 6.0)):
        rim[RASTER.slices(box)] = 0
    assert left(rim, PIECE) == 1
