"""Bars between two cells as the network tells them: they have to be marks of their edge, wherever they stand."""

import pytest

from recognise.marks.places import _edge_shape
from recognise.rules import MarkHint, Statement
from tests.recognise.meanings import drafted, parsed, stated


@pytest.mark.parametrize(
    ("place", "plane", "cells"), [((1.0, 0.5), 0, "r1c1 r1c2"), ((8.5, 7.0), 1, "r7c9 r8c9")], ids=["upright", "level"]
)
def test_a_bar_that_the_network_sees_is_read_as_a_mark_of_its_edge(
    place: tuple[float, float], plane: int, cells: str
) -> None:
    bar = _edge_shape(place, "BAR", 0.99, plane, None)  # type: ignore[arg-type]  # a bar is not measured
    draft = drafted(Statement("consecutive-pair", {}, MarkHint("bar")), shapes=(bar,))
    assert [c.cells for c in stated(draft, "consecutive-pair")] == [parsed(cells)]
    assert not stated(draft, "unread-mark")
