"""Whether a diamond between two cells is filled, told by the ink in it."""

from types import SimpleNamespace

import numpy as np
import pytest

from recognise.marks.edge_shapes import edge_shape


@pytest.mark.parametrize(("inside", "filled"), [(0.1, True), (0.9, False)])
def test_a_diamond_with_paper_inside_is_no_filled_one(inside: float, filled: bool) -> None:
    side = 100
    rows, columns = np.mgrid[: 2 * side, : 2 * side]
    off = np.abs(columns - side) + np.abs(rows - side // 2)
    ink = np.where(off < 14, inside, np.where(off < 17, 0.0, 1.0))
    ink[:, side - 2 : side + 2] = 0.0  # the lattice line under it
    relative = np.repeat(ink[..., None], 3, axis=2)
    looking = SimpleNamespace(raster=SimpleNamespace(at=lambda v: v * side, cell=side), relative=relative)
    shape = edge_shape((1.0, 0.5), "DIAMOND", 0.99, 0, looking, arms=0.0)  # type: ignore[arg-type]
    assert (shape.name, shape.filled) == ("diamond", filled)
