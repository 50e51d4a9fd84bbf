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
    looking = SimpleNamespace(raster=Raster(9, 9, 20, 0), relative=black)
    bar = edge_shape(place, "BAR", 0.99, plane, looking, arms=0.0)  # type: ignore[arg-type]  # all that it looks at
    draft = drafted(Statement("consecutive-pair", {}, MarkHint("bar")), shapes=(bar,))
    assert [c.cells for c in stated(draft, "consecutive-pair")] == [parsed(cells)]
    assert not stated(draft, "unread-mark")
