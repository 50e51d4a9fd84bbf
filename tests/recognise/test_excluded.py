"""Questions about steps of a line that the proof of the page answers."""

from collections.abc import Mapping

import pytest

from recognise.doubt.excluded import without_excluded
from recognise.doubt.proof import proven
from recognise.draft import Doubt, Draft, Given, Item, Value
from recognise.evidence import Slip, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.arrow import Arrow
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
# 1 2 3 4 / 3 4 1 2 / 2 1 4 3 / 4 3 2 1 is one filled grid of it.
TIGHT = {(4, 1): 4, (4, 4): 1}
"""With these the puzzle has one solution only with the whole line in the first row."""
LOOSE = {(4, 2): 3, (4, 3): 2, (3, 3): 4}
"""With these also with a shorter one."""
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
LITTLE = "there is little ink between r1c3 and r1c4"
NOT_JOINED = "perhaps r1c3 and r1c4 are not joined"


def _draft(givens: dict[tuple[int, int], int], *slips: Slip, why: tuple[str, ...]) -> Draft:
    rules = [Item((rule,), None, 1.0, "text") for rule in (Rows(), Columns(), Boxes.regular(GRID, 2, 2))]
    digits = [Item(Given(Cell(*cell), digit), WHERE, 1.0, "shape") for cell, digit in givens.items()]
    path = tuple(Cell(1, column) for column in range(1, 5))
    line = Item((Thermometer(path=path),), WHERE, 0.8, "shape", extent=0.8, slips=slips)
    doubts = tuple(Doubt(words, item=len(rules) + len(digits)) for words in why)
    draft = Draft(GRID, (*rules, *digits, line), Words(), doubts)
    assert proven(draft).is_unique
    return draft


def _slip(first: str, second: str, drawn: bool = True) -> Slip:
    return Slip(Cell.parse(first), Cell.parse(second), drawn, 0.1)


@pytest.mark.parametrize("why", [NOT_JOINED, LITTLE])
@pytest.mark.parametrize(("givens", "stays"), [(TIGHT, False), (LOOSE, True)])
def test_a_step_without_which_no_single_solution_is_left_is_not_asked_about(
    givens: dict[tuple[int, int], int], stays: bool, why: str
) -> None:
    draft = _draft(givens, _slip("r1c3", "r1c4"), why=(why,))
    assert tuple(doubt.why for doubt in without_excluded(draft).doubts) == ((why,) if stays else ())


def test_what_is_asked_about_something_else_stays() -> None:
    others = ("whether a bulb sits on r1c1 was hard to tell", "perhaps r1c2 and r1c3 are not joined")
    draft = _draft(TIGHT, _slip("r1c3", "r1c4"), why=(NOT_JOINED, *others))
    assert tuple(doubt.why for doubt in without_excluded(draft).doubts) == others


def test_steps_are_tried_one_by_one_and_together(monkeypatch: pytest.MonkeyPatch) -> None:
    steps = [_slip(f"r1c{column}", f"r1c{column + 1}") for column in (1, 2, 3)]
    why = tuple(f"perhaps {step.first} and {step.second} are not joined" for step in steps)
    tried: list[list[int]] = []
    left: list[int] = [1]

    def proves(draft: Draft, instead: Mapping[int, Value], _: object) -> float:
        (value,) = instead.values()
        assert not isinstance(value, Given)
        tried.append([len(line.path) for line in value if isinstance(line, Thermometer)])
        return float(tried[-1] == left)

    monkeypatch.setattr("recognise.doubt.excluded.proves", proves)
    draft = _draft(TIGHT, *steps, why=why)
    assert not without_excluded(draft).doubts
    assert sorted(tried) == [[], [2], [2], [2], [2, 2], [3], [3]]
    for ways in ([], [2], [2, 2], [3]):
        left[:] = ways
        assert len(without_excluded(draft).doubts) == len(why), "with some steps the other way there is one solution"


def test_a_shorter_way_out_of_a_capsule_is_tried_by_itself_and_as_a_second_arrow(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    circle, shaft = (Cell(3, 1), Cell(3, 2)), (Cell(2, 1), Cell(2, 2), Cell(1, 3))
    slip, why = _slip("r2c2", "r3c1", drawn=False), "perhaps it also goes from r2c2 to r3c1"
    line = Item((Arrow(circle=circle, shaft=shaft),), WHERE, 0.9, "shape", extent=0.9, slips=(slip,))
    draft = Draft(GRID, (line,), Words(), (Doubt(why, item=0),))
    tried: list[list[int]] = []

    def proves(draft: Draft, instead: Mapping[int, Value], _: object) -> float:
        (value,) = instead.values()
        assert not isinstance(value, Given)
        tried.append([len(arrow.shaft) for arrow in value if isinstance(arrow, Arrow)])
        return float(len(value) == passing)

    monkeypatch.setattr("recognise.doubt.excluded.proves", proves)
    for passing in (0, 1, 2):
        assert bool(without_excluded(draft).doubts) == (passing > 0)
    assert [2] in tried
    assert [3, 2] in tried
