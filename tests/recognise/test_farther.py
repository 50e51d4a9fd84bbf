"""Where a draft cannot be right: lost figures, lost signs, two lines taken for one."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.doubt.farther import farther
from recognise.draft import Draft, Given, Item
from recognise.evidence import Slip, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.kinds.greater import Greater
from schema.kinds.rows import Rows
from schema.kinds.run_line import RunLine
from schema.kinds.sum_pair import SumPair

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


def _cells(*names: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, names))


def _others(*stated: Constraint, slips: Sequence[Slip] = (), sure: float = 0.9) -> list[dict[object, float]]:
    """What each of the marks may state besides, with how likely."""
    items = [Item((one,), SQUARE, sure, "shape", slips=tuple(slips)) for one in stated]
    grid = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
    found = farther(Draft(grid, tuple(items), Words()))
    return [{other.value: other.confidence for other in item.alternatives} for item in found.items]


def test_a_lost_figure_and_figures_of_another_number() -> None:
    (lost, many) = _others(
        Cage(cells=_cells("r1c1", "r1c2"), value=7), Cage(cells=_cells("r3c1", "r3c2", "r3c3"), value=827)
    )
    values = {value[0].value for value in lost}
    assert {17, 27, 37} <= values
    assert 47 not in values
    assert {8, 82, 27} <= {value[0].value for value in many}


def test_a_lost_sign_only_where_the_page_has_such() -> None:
    sum_, product = (
        Cage(cells=_cells("r1c1", "r1c2"), value=6),
        Cage(cells=_cells("r3c1"), value=9, operation="product"),
    )
    assert not any(value[0].operation != "sum" for value in _others(sum_)[0])
    assert any(value[0].operation == "product" for value in _others(sum_, product)[0])


def test_a_pair_most_likely_has_the_number_of_the_others() -> None:
    misread, other = SumPair(cells=_cells("r1c1", "r1c2"), value=9), SumPair(cells=_cells("r3c1", "r3c2"), value=8)
    likely = _others(misread, other)[0]
    assert max(likely, key=lambda value: likely[value]) == (misread.model_copy(update={"value": 8}),)


def test_a_line_that_turns_back_sharply_as_two() -> None:
    (sharp, blunt) = _others(
        RunLine(path=_cells("r1c1", "r2c2", "r1c2", "r1c3")), RunLine(path=_cells("r5c1", "r5c2", "r6c2"))
    )
    parts = (RunLine(path=_cells("r1c1", "r2c2")), RunLine(path=_cells("r2c2", "r1c2", "r1c3")))
    assert list(sharp) == [parts]
    assert not blunt


def test_two_lines_that_end_in_one_cell_as_one() -> None:
    (one, other, apart) = _others(
        RunLine(path=_cells("r1c1", "r1c2")),
        RunLine(path=_cells("r1c4", "r1c3", "r1c2")),
        RunLine(path=_cells("r5c5", "r6c6")),
    )
    whole = _cells("r1c1", "r1c2", "r1c3", "r1c4")
    for likely in (one, other):
        assert () in likely
        assert {value[0].path for value in likely if value} <= {whole, whole[::-1]}
        assert len(likely) > 1
    assert not apart


def test_a_step_more_where_the_network_saw_one() -> None:
    slip = Slip(Cell(5, 2), Cell(6, 2), drawn=False, chance=0.01)
    (line,) = _others(RunLine(path=_cells("r5c1", "r5c2")), slips=(slip,))
    assert list(line) == [(RunLine(path=_cells("r5c1", "r5c2", "r6c2")),)]


def test_nothing_is_said_of_givens_and_of_rules_without_a_mark() -> None:
    grid = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
    items = Item(Given(Cell(1, 1), 5), SQUARE, 0.9, "shape"), Item((Rows(),), None, 1.0, "text")
    assert farther(Draft(grid, items, Words())).items == items


def test_all_of_them_together_stay_within_the_doubt_about_the_item() -> None:
    (likely,) = _others(Cage(cells=_cells("r1c1", "r1c2"), value=7), sure=0.6)
    assert 0 < sum(likely.values()) <= 0.4


def test_a_sign_that_points_the_other_way() -> None:
    one, other = Cell(1, 1), Cell(1, 2)
    (likely,) = _others(Greater(greater=one, less=other))
    assert list(likely) == [(Greater(greater=other, less=one),)]
