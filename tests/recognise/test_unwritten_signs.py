"""Where the network sees characters on an edge that nobody can read, and the rules speak of signs, it may be a sign."""

from __future__ import annotations

from recognise.marks.places import _sign
from recognise.marks.sights import Sight
from recognise.marks.spoken import SILENT, Spoken

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
