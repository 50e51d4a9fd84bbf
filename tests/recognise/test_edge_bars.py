"""Bars between two cells as the network tells them: they have to be marks of their edge, wherever they stand."""

from types import SimpleNamespace

import numpy as np
import pytest

from recognise.marks.edge_shapes import edge_shape
from recognise.pixels.frame import Raster
from recognise.rules import MarkHint, Statement
from tests.recognise.meanings import drafted, parsed, stated


@pytest.mark.parametrize(
    ("place", "plane", "cells"), [((1.0, 0.5), 0, "r1c1 r1c2"), ((8.5, 7.0), 1, "r7c9 r8c9")], ids=["upright", "level"]
)
def test_a_bar_that_the_network_sees_is_read_as_a_mark_of_its_edge(
    place: tuple[float, float], plane: int, cells: str
) -> None:
    black = np.zeros((9 * 20, 9 * 20, 3), np.float32)
    looking = SimpleNamespace(raster=Raster(9, 9, 20, 0), relative=black, whole=1 - black[..., 0])
    bar = edge_shape(place, "BAR", 0.99, plane, looking, arms=0.0)  # type: ignore[arg-type]  # all that it looks at
    draft = drafted(Statement("consecutive-pair", {}, MarkHint("bar")), shapes=(bar,))
    assert [c.cells for c in stated(draft, "consecutive-pair")] == [parsed(cells)]
    assert not stated(draft, "unread-mark")


@pytest.mark.parametrize(("inside", "filled"), [(1.0, False), (0.0, True)], ids=["white", "black"])
@pytest.mark.parametrize("plane", [0, 1])
def test_a_bar_printed_beside_the_middle_of_its_edge_shows_its_inside(plane: int, inside: float, filled: bool) -> None:
    raster = Raster(2, 2, 64, 0)
    relative = np.ones((128, 128, 3), np.float32)
    relative[40:56, 54:66] = 0.0  # its long sides are as thick as what is between them
    relative[42:54, 58:62] = inside
    relative = relative if plane == 0 else relative.swapaxes(0, 1)
    looking = SimpleNamespace(raster=raster, relative=relative, whole=1 - relative[..., 0])
    place = (1.0, 0.75) if plane == 0 else (0.75, 1.0)
    bar = edge_shape(place, "BAR", 0.99, plane, looking, arms=0.0)  # type: ignore[arg-type]  # all that it looks at
    assert bar.filled is filled
