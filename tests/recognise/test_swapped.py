"""Lines of one kind that meet in a cell, of which the proof says how they go on."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from recognise.doubt.proof import proven
from recognise.doubt.swapped import rejoined, settled_by_swapping, ways_to_go_on
from recognise.draft import Draft, Given, Item
from recognise.evidence import Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.palindrome import Palindrome
from schema.kinds.rows import Rows

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


def _path(names: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, names.split()))


def _draft(*lines: Constraint, givens: str) -> Draft:
    """Of four rows, with nothing said of columns."""
    items = [Item((Rows(),), None, 1.0, "text")]
    for place, digit in enumerate(givens.replace(" ", "")):
        if digit != ".":
            items.append(Item(Given(Cell(place // 4 + 1, place % 4 + 1), int(digit)), SQUARE, 0.999, "shape"))
    items += [Item((line,), SQUARE, 0.99, "shape") for line in lines]
    return Draft(Grid(rows=4, columns=4, digits=(1, 2, 3, 4)), tuple(items), Words())


def test_lines_that_turn_where_they_meet_are_found_by_the_proof() -> None:
    straight = Palindrome(path=_path("r2c1 r3c2 r4c3")), Palindrome(path=_path("r2c3 r3c2 r4c1"))
    found = proven(_draft(*straight, givens="1234 ..34 2143 1432"))
    lines = {frozenset(c.path) for c in found.draft.constraints if isinstance(c, Palindrome)}
    assert found.is_unique
    assert lines == {frozenset(_path("r2c1 r3c2 r4c1")), frozenset(_path("r2c3 r3c2 r4c3"))}
    assert any("two lines meet" in doubt.why and doubt.also for doubt in found.draft.doubts)


def test_lines_are_left_as_they_are_where_no_other_way_would_do() -> None:
    straight = Palindrome(path=_path("r2c1 r3c2 r4c3")), Palindrome(path=_path("r2c4 r3c2 r4c1"))
    assert settled_by_swapping(_draft(*straight, givens="1234 ..3. 2143 1432")) is None


def test_a_line_between_rings_ends_nowhere_else() -> None:
    touching = BetweenLine(path=_path("r2c1 r3c2 r4c3")), BetweenLine(path=_path("r3c2 r3c3 r3c4"))
    assert list(ways_to_go_on(*touching)) == []
    crossing = BetweenLine(path=_path("r2c3 r3c2 r4c1"))
    assert len(list(ways_to_go_on(touching[0], crossing))) == 2
    assert list(ways_to_go_on(touching[0], Palindrome(path=crossing.path))) == []


@given(st.permutations(range(8)), st.integers(1, 2), st.integers(1, 3))
def test_the_same_steps_are_drawn(order: list[int], before: int, beyond: int) -> None:
    cells = [Cell(1, n + 1) for n in order]
    shared, first, second = cells[0], cells[1:4], cells[4:]
    one = (*first[:before], shared, *first[before:])
    other = (*second[:beyond], shared, *second[beyond:])
    steps = {frozenset(step) for path in (one, other) for step in pairwise(path)}
    for paths in rejoined(one, other, shared):
        assert {frozenset(step) for path in paths for step in pairwise(path)} == steps
        assert set(paths) != {one, other}
