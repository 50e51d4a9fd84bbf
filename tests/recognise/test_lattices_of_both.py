"""The lattice of the picture and that of the vectors: the vectors' where both are of one grid."""

import numpy as np

from recognise.evidence import Lattice
from recognise.pipeline import _as_drawn


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
