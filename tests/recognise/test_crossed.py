"""Questions about cells in which lines of one look meet."""

from collections.abc import Mapping

import pytest

from recognise.doubt.crossed import joined, without_crossed
from recognise.draft import Doubt, Draft, Item, Value
from recognise.evidence import Words
from recognise.marks.lines import MEET, ends_words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.gap_line import GapLine
from schema.kinds.palindrome import Palindrome
from schema.kinds.thermometer import Thermometer
from schema.paths import path_of

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


def _path(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


def _draft(*lines: Constraint, why: str) -> Draft:
    items = tuple(Item((line,), WHERE, 0.99, "shape") for line in lines)
    return Draft(GRID, items, Words(), tuple(Doubt(why, item=at) for at in range(len(items))))


def _tried(monkeypatch: pytest.MonkeyPatch, passing: set[frozenset[str]] = frozenset()) -> list[set[frozenset[str]]]:
    """What is proved, as the cells of each line; `passing` is a way that leaves one solution too."""
    found: list[set[frozenset[str]]] = []

    def proves(draft: Draft, instead: Mapping[int, Value], _: object) -> float:
        stated = [line for value in instead.values() if isinstance(value, tuple) for line in value]
        found.append({frozenset(map(str, path_of(line))) for line in stated})
        return float(found[-1] == passing)

    monkeypatch.setattr("recognise.doubt.crossed.proves", proves)
    return found


def test_every_other_way_to_go_on_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = Palindrome(path=_path("r2c1 r2c2 r2c3")), Palindrome(path=_path("r1c2 r2c2"))
    draft = _draft(*lines, why=f"{MEET} r2c2")
    other = {frozenset(("r1c2", "r2c2", "r2c1")), frozenset(("r2c2", "r2c3"))}
    tried = _tried(monkeypatch)
    assert not without_crossed(draft).doubts
    assert len(tried) == 3  # two other pairs, or three lines
    assert other in tried
    _tried(monkeypatch, other)
    assert without_crossed(draft) == draft


def test_two_lines_that_end_in_a_cell_may_be_one_and_one_may_be_two(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = Palindrome(path=_path("r1c1 r1c2 r1c3"))
    parts = Palindrome(path=_path("r1c1 r1c2")), Palindrome(path=_path("r1c2 r1c3"))
    for lines, other in (((whole,), parts), (parts, (whole,))):
        tried = _tried(monkeypatch)
        assert not without_crossed(_draft(*lines, why=ends_words(Cell(1, 2)))).doubts
        assert tried == [{frozenset(map(str, line.path)) for line in other}]


def test_lines_that_end_in_circles_end_nowhere_else(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = BetweenLine(path=_path("r2c1 r2c2 r2c3")), BetweenLine(path=_path("r1c2 r2c2 r3c2"))
    tried = _tried(monkeypatch)
    assert not without_crossed(_draft(*lines, why=f"{MEET} r2c2")).doubts
    assert len(tried) == 2, "two other pairs"
    tried = _tried(monkeypatch)
    parts = BetweenLine(path=_path("r2c1 r2c2")), BetweenLine(path=_path("r1c2 r2c2 r3c2"))
    assert not without_crossed(_draft(*parts, why=f"{MEET} r2c2")).doubts
    assert len(tried) == 3, "there is a circle"


@pytest.mark.parametrize("kind", [Thermometer, GapLine])
def test_lines_of_two_kinds_and_such_as_begin_at_one_end_stay_asked_about(kind, monkeypatch) -> None:
    _tried(monkeypatch)
    fields = {"gap": 2} if kind is GapLine else {}
    one = kind(path=_path("r2c1 r2c2 r2c3"), **fields)
    other = kind(path=_path("r1c2 r2c2")) if kind is Thermometer else Palindrome(path=_path("r1c2 r2c2"))
    draft = _draft(one, other, why=f"{MEET} r2c2")
    assert without_crossed(draft) == draft


def test_no_line_goes_through_a_cell_twice() -> None:
    around = _path("r1c1 r1c2 r2c2"), _path("r1c1 r2c1 r2c2"), _path("r1c1 r1c1")[:1]
    assert len(list(joined(around[:2]))) == 1
    assert len(list(joined([*around[:1], _path("r1c1 r2c1")]))) == 2
