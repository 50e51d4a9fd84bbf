"""What the proof says of the other readings of a number."""

from dataclasses import replace

import pytest

from checker.search import Effort
from recognise.doubt.policy import CLUE, passing
from recognise.doubt.values import BY_CHANCE, REFUTED, escape_of_number, other_numbers
from recognise.doubt.ways import weighed
from recognise.draft import Alternative, Draft, Given, Item
from recognise.evidence import Slip, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.cage import Cage
from schema.kinds.columns import Columns
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.greater import Greater
from schema.kinds.rows import Rows
from schema.kinds.skyscraper import Skyscraper
from schema.kinds.sum_line import SumLine
from schema.kinds.sum_pair import SumPair

WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
CELLS = (Cell(1, 1), Cell(1, 2))
GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))


def _cage(value: int, confidence: float, **others: float) -> Item:
    alternatives = tuple(
        Alternative((Cage(cells=CELLS, value=int(number[1:])),), chance) for number, chance in others.items()
    )
    return Item((Cage(cells=CELLS, value=value),), WHERE, confidence, "ocr", alternatives)


def test_readings_that_leave_no_single_solution_are_refuted() -> None:
    item = _cage(7, 0.9, _1=0.06, _4=0.02)
    assert escape_of_number(item, lambda value: 0.0) == pytest.approx(0.02 * CLUE / 0.1)
    assert escape_of_number(item, lambda value: float(value[0].value == 4)) == pytest.approx((0.02 + 0.02 * CLUE) / 0.1)


def test_what_differs_in_more_than_its_number_is_left_alone() -> None:
    other = Alternative((Cage(cells=(*CELLS, Cell(1, 3)), value=7),), 0.05)
    item = _cage(7, 0.9, _1=0.05)
    both = Item(item.value, WHERE, 0.9, "ocr", (*item.alternatives, other))
    assert escape_of_number(both, lambda value: 0.0) is None
    assert escape_of_number(Item(item.value, WHERE, 0.9, "ocr"), lambda value: 0.0) is None


def test_another_operation_or_no_number_at_all_is_tried_like_another_number() -> None:
    others = (Cage(cells=CELLS, value=7, operation="product"), Cage(cells=CELLS))
    named = tuple(Alternative((cage,), 0.05) for cage in others)
    item = Item((Cage(cells=CELLS, value=7),), WHERE, 0.9, "ocr", named)
    assert escape_of_number(item, lambda value: 0.0) == 0.0
    assert escape_of_number(item, lambda value: float(value[0].value is None)) == pytest.approx(0.5)


def test_digits_on_a_corner_are_tried_like_a_number() -> None:
    around = Cell(1, 1), Cell(1, 2), Cell(2, 1), Cell(2, 2)
    read, other, fewer = (CornerDigits(cells=around, digits=digits) for digits in ((2, 3), (2, 4), (2,)))
    item = Item((read,), WHERE, 0.9, "ocr", (Alternative((other,), 0.06), Alternative((fewer,), 0.04)))
    assert escape_of_number(item, lambda value: 0.0) == 0.0
    assert escape_of_number(item, lambda value: float(value == (fewer,))) == pytest.approx(0.4)
    elsewhere = Alternative((read.model_copy(update={"cells": tuple(Cell(c.row + 1, c.column) for c in around)}),), 0.1)
    assert escape_of_number(replace(item, alternatives=(elsewhere,)), lambda value: 0.0) is None


def test_a_sum_of_two_cells_may_be_the_sign_of_the_greater_one() -> None:
    one, other = CELLS
    item = Item((SumPair(cells=CELLS, value=10),), WHERE, 0.9, "ocr", extent=1.0)
    sign = replace(item, alternatives=(Alternative((Greater(greater=other, less=one),), 0.04),))
    assert escape_of_number(sign, lambda value: 0.0) == pytest.approx(0.06 * CLUE / 0.1)
    assert escape_of_number(sign, lambda value: 1.0) == pytest.approx((0.04 + 0.06 * CLUE) / 0.1)
    elsewhere = Alternative((Greater(greater=Cell(2, 2), less=one),), 0.04)
    assert escape_of_number(replace(item, alternatives=(elsewhere,)), lambda value: 0.0) is None


def _page(first: dict[str, int]) -> Draft:
    """A page of four by four that one solution is left of; r1c1 and r1c2 are no givens, but a cage of 3."""

    solution = ("1234", "3412", "2143", "4321")
    blocks = [tuple(Cell(r + i, c + j) for i in (0, 1) for j in (0, 1)) for r in (1, 3) for c in (1, 3)]
    left_out = {Cell.parse(name) for name in first}
    givens = [
        Item(Given(cell, int(solution[cell.row - 1][cell.column - 1])), WHERE, 1.0, "ocr")
        for cell in GRID.cells()
        if cell not in left_out
    ]
    plain = Item((Rows(), Columns(), Boxes(cells=tuple(blocks))), None, 1.0, "inferred")
    return Draft(GRID, (plain, *givens, _cage(3, 0.9, _8=0.06, _5=0.04)), Words())


def test_a_doubtful_total_is_held_against_the_proof_of_its_page() -> None:
    draft = _page({"r1c1": 1, "r1c2": 2})
    before, after = (passing(one.items[-1]) for one in (draft, weighed(draft)))
    assert before == pytest.approx(0.1 * CLUE)
    assert after == pytest.approx(0.0)


def _doubted(extent: float = 1.0) -> Item:
    """A total beside which something like another digit stands, so that no reading stands for the doubt about it."""
    return replace(_cage(3, 0.5 * extent), extent=extent)


def test_a_total_is_settled_where_every_other_one_is_refuted() -> None:
    draft = _page({"r1c1": 1, "r1c2": 2})
    others = other_numbers(_doubted(), draft)
    assert others is not None
    tried = list(others)
    assert [value[0].value for value in tried] == [2, 4, 5, 6, 7, 8]
    assert escape_of_number(_doubted(), lambda value: 0.0, iter(tried)) == pytest.approx(REFUTED)
    one_passes = escape_of_number(_doubted(), lambda value: float(value[0].value == 7), iter(tried))
    assert one_passes == pytest.approx(CLUE)
    too_late = escape_of_number(_doubted(), lambda value: 0.0, iter(tried), effort=Effort(0.0))
    assert too_late == pytest.approx(CLUE)


def test_a_sign_that_may_be_another_is_tried_with_the_number_as_it_is() -> None:
    draft = _page({})
    product = Item((Cage(cells=(Cell(4, 1), Cell(4, 2)), value=12, operation="product"),), WHERE, 1.0, "ocr")
    others = other_numbers(_doubted(), replace(draft, items=(*draft.items, product)))
    assert others is not None
    assert (Cage(cells=CELLS, value=3, operation="product"),) in list(others)


def test_the_doubt_about_the_cells_of_a_cage_stays_whatever_its_number() -> None:
    draft = _page({"r1c1": 1, "r1c2": 2})
    doubted = replace(draft, items=(*draft.items[:-1], _doubted(extent=0.9)))
    item = weighed(doubted).items[-1]
    assert item.kind_escape == pytest.approx(REFUTED)
    assert passing(item) == pytest.approx(0.1 * CLUE + 0.45 * REFUTED)


def test_other_numbers_are_settled_so_too_and_a_cage_whose_cells_may_be_in_doubt_is_not() -> None:
    draft = _page({"r1c1": 1, "r1c2": 2})
    clue = Item((Skyscraper(side="left", index=1, value=4),), WHERE, 0.9, "ocr")
    both = weighed(replace(draft, items=(*draft.items[:-1], clue)))
    assert both.items[-1].escape == pytest.approx(REFUTED)
    pair = Item((SumPair(cells=CELLS, value=3),), WHERE, 0.6, "ocr", extent=1.0)
    assert weighed(replace(draft, items=(*draft.items[:-1], pair))).items[-1].kind_escape == pytest.approx(REFUTED)
    assert other_numbers(_cage(3, 0.9), draft) is None


def test_what_may_be_no_number_at_all_is_not_settled_by_the_others() -> None:
    tried = list(other_numbers(_doubted(), _page({})) or ())
    stroke = replace(_doubted(), nothing=0.4)
    escape = escape_of_number(stroke, lambda value: 0.0, iter(tried))
    assert escape == pytest.approx(CLUE), "a stroke may read as any number"
    speck = escape_of_number(replace(_doubted(), nothing=0.01), lambda value: 0.0, iter(tried))
    assert speck == pytest.approx((0.01 * BY_CHANCE + 0.49 * REFUTED) / 0.5)


def test_that_there_is_no_number_is_tried_where_a_mark_without_one_is_among_the_readings() -> None:
    tried = list(other_numbers(_doubted(), _page({})) or ())
    bare = Alternative((Cage(cells=CELLS),), 0.4)
    settled = replace(_doubted(), nothing=0.4, alternatives=(bare,))
    assert escape_of_number(settled, lambda value: 0.0, iter(tried)) == pytest.approx(0.1 * REFUTED / 0.5)
    passes = escape_of_number(settled, lambda value: float(value[0].value is None), iter(tried))
    assert passes == pytest.approx((0.4 + 0.1 * CLUE) / 0.5)


def test_the_number_of_a_line_is_settled_by_the_proof_whatever_its_way() -> None:
    draft = _page({"r1c1": 1, "r1c2": 2})
    slip = Slip(*CELLS, drawn=True, chance=1e-3)
    line = Item((SumLine(path=CELLS, value=3),), WHERE, 0.5, "shape", extent=0.999, slips=(slip,))
    found = weighed(replace(draft, items=(*draft.items[:-1], line))).items[-1]
    assert found.kind_escape == pytest.approx(REFUTED)
    assert passing(found) < passing(line) / 5


@pytest.mark.parametrize(("count", "products"), [(4, 225), (5, 441)])
def test_a_product_of_a_few_digits_may_be_each_product_of_as_many(count: int, products: int) -> None:
    grid = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
    cells = tuple(Cell(1, column) for column in range(1, count + 1))
    item = Item((Cage(cells=cells, value=144, operation="product"),), WHERE, 0.5, "ocr", extent=0.999)
    others = other_numbers(item, Draft(grid, (item,), Words()))
    assert others is not None
    assert len(list(others)) == products - 1
