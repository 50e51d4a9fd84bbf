"""The lattice of the picture and that of the vectors: the vectors' where both are of one grid."""

import cv2
import numpy as np

from recognise.evidence import Lattice
from recognise.grids.find import find_lattices
from recognise.looking import _as_drawn


def _lattice(shift: float = 0.0) -> Lattice:
    x, y = np.meshgrid(np.arange(7) * 40.0 + shift, np.arange(7) * 40.0)
    return Lattice(np.stack([x, y], axis=-1), 0.8)


def test_a_lattice_that_is_bent_inside_the_drawn_outline_is_the_drawn_one() -> None:
    bent = Lattice(_lattice().points.copy(), 0.8)
    bent.points[3:6, 2:5, 0] += 14
    drawn = Lattice(_lattice().points, 1.0)
    assert np.array_equal(_as_drawn(bent, [drawn]).points, drawn.points)
    assert _as_drawn(bent, [drawn]).score == bent.score


def test_a_grid_elsewhere_is_another() -> None:
    found = _lattice()
    assert _as_drawn(found, [_lattice(200.0)]) is found
    assert _as_drawn(found, []) is found


def _drawn_on(image: np.ndarray, lattice: Lattice) -> None:
    """A dark frame and grey dots along the inner lines, along one of them far apart."""
    low, high = (int(v) for v in (lattice.points.min(), lattice.points.max()))
    cv2.rectangle(image, (low, low), (high, high), (60, 30, 60), 4)
    for number, at in enumerate(lattice.points[0, 1:-1, 0].astype(int)):
        for along in range(low, high, 14 if number == 4 else 7):
            image[at, along : along + 2] = image[along : along + 2, at] = 176


def test_faint_dots_are_seen_where_vectors_draw_lines_and_white_paint_is_not() -> None:
    x, y = np.meshgrid(40 + np.arange(10) * 54.0, 40 + np.arange(10) * 54.0)
    lattice = Lattice(np.stack([x, y], axis=-1), 1.0)
    image = np.full((566, 566, 3), 255, np.uint8)
    _drawn_on(image, lattice)
    assert [(found.rows, found.columns) for found in find_lattices(image, [lattice])] == [(9, 9)]
    image[120:446, 120:446] = 255
    assert not any(found.rows == 9 for found in find_lattices(image, [lattice]))
