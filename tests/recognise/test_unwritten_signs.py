"""Where the network sees characters on an edge that nobody can read, and the rules speak of signs, it may be a sign."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.marks.looking import Looking
from recognise.marks.places import _OnEdges, _sign, _take_on_edge
from recognise.marks.sights import Sight
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.frame import Raster
from schema.cells import Cell

RULES = Spoken(edges=frozenset(("sign", "text")))


def _sight(left: float, right: float) -> Sight:
    told = {"SIGN_LEFT": left, "SIGN_RIGHT": right, "SIGN_UP": 0.0, "SIGN_DOWN": 0.0}
    return Sight((3.0, 2.5), 0, told | {"CHARACTERS": 1 - left - right, "NONE": 0.0})


def test_the_sign_that_it_may_be_instead() -> None:
    sign = _sign(_sight(0.02, 0.005), RULES)
    assert sign is not None
    assert sign.direction == "left"
    assert sign.confidence < 0.95


def test_none_where_its_way_is_open_where_a_number_stands_and_where_no_rule_speaks_of_signs() -> None:
    assert _sign(_sight(0.02, 0.015), RULES) is None
    assert _sign(_sight(0.0005, 0.0001), RULES) is None
    assert _sign(_sight(0.02, 0.005), SILENT) is None


@pytest.mark.parametrize(("sure", "looked_at"), [(0.99, False), (0.9, True)])
def test_on_a_sure_sign_no_characters_are_looked_for(sure: float, looked_at: bool) -> None:
    """The network half sees some where signs are small."""
    found = _OnEdges()
    ink = np.zeros((320, 320), np.float32)
    looking = Looking(ink, ink, np.ones((320, 320, 3), np.float32), Raster(3, 3, 64, 64), 0.05, None)  # type: ignore[arg-type]
    cells = Cell(3, 3), Cell(3, 4)
    _take_on_edge(found, cells, _sight(sure, 0.0), "SIGN_LEFT", (sure, 0.6), looking, RULES, 0.0)
    assert bool(found.texts) == looked_at


@pytest.mark.parametrize(("whole", "text"), [(True, True), (False, False)])
def test_a_sure_sign_may_be_a_7_where_rules_are_understood_and_speak_of_none(whole: bool, text: bool) -> None:
    found = _OnEdges()
    ink = np.zeros((320, 320), np.float32)
    looking = Looking(ink, ink, np.ones((320, 320, 3), np.float32), Raster(3, 3, 64, 64), 0.05, None)  # type: ignore[arg-type]
    spoken = Spoken(edges=frozenset(("text", "white dot")), whole=whole)
    _take_on_edge(found, (Cell(3, 3), Cell(3, 4)), _sight(0.99, 0.0), "SIGN_LEFT", (0.99, 0.6), looking, spoken, 0.0)
    assert bool(found.texts) == bool(found.hardly_seen) == text
    assert len(found.unless_written) == text
    assert len(found.shapes) == (not text), "nobody can read it: it stays a sign, which no rule explains"
