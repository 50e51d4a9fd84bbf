"""Dots, signs and characters between cells that are left out as hardly printed: which of them the proof refutes."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import pytest

from recognise.doubt.faded_pairs import without_faded_pairs
from recognise.doubt.proof import proven
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.all_marked import AllMarked
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.rows import Rows

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
ROWS = ("1234", "3412", "2143", "4321")
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
ALL = "Each row, column and block holds the digits 1 to 4. "
DOTS = ALL + "A white dot between two cells means that their digits are consecutive."
BLACK = DOTS + " A black dot between two cells means that one digit is twice the other."
SUMS = ALL + "Two cells with an X between them sum to 5."
GREATER = ALL + "The inequality signs point to the smaller of two digits."


def _filled(rows: Sequence[str]) -> dict[Cell, int]:
    return {Cell(r, c): int(digit) for r, row in enumerate(rows, 1) for c, digit in enumerate(row, 1)}


def _asked(
    rules: str, *pairs: str, more: tuple[Constraint, ...] = (), rows: Sequence[str] = ROWS, given: int = 4
) -> bool:
    """Whether the question about faded marks between some pairs stays; the first rows are `given`."""
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), *more)
    items = [Item((constraint,), None, 1.0, "text") for constraint in stated]
    items += [Item(Given(cell, digit), WHERE, 1.0, "ocr") for cell, digit in _filled(rows[:given]).items()]
    why = f"what looks like signs, dots or characters between {', '.join(pairs)} is hardly printed"
    draft = Draft(GRID, tuple(items), Words(rules_text=rules), (Doubt(why), Doubt("anything else")))
    proof = proven(draft).proof
    assert proof is not None and proof.solution == _filled(rows) and proof.outcome == "one"
    sheet = read_rules(rules, (1, 4))
    left = without_faded_pairs(draft, proof.solution, sheet).doubts
    assert without_faded_pairs(replace(draft, lost=("A sentence.",)), proof.solution, sheet).doubts == draft.doubts
    return len(left) == 2


@pytest.mark.parametrize(
    ("rules", "pairs", "asked"),
    [
        (DOTS, ["r2c2 and r2c3"], False),  # 4 and 1
        (DOTS, ["r1c2 and r1c3"], True),  # 2 and 3
        (DOTS, ["r2c2 and r2c3", "r1c2 and r1c3"], True),
        (BLACK, ["r2c2 and r2c3"], False),
        (BLACK, ["r1c2 and r2c2"], True),  # 2 and 4
        (SUMS, ["r1c1 and r1c2"], False),
        (SUMS, ["r1c2 and r1c3"], True),
        (GREATER, ["r2c2 and r2c3"], True),  # one of the two is always greater
        (ALL, ["r2c2 and r2c3"], True),  # the rules know no such marks
    ],
)
def test_a_mark_that_the_solution_breaks_is_not_printed(rules: str, pairs: list[str], asked: bool) -> None:
    assert _asked(rules, *pairs) is asked


def test_marks_that_take_back_what_is_said_of_all_pairs_are_proved_anew() -> None:
    """The last two rows change places where two dots more are printed, of which the solution as read breaks each."""
    rows = ("1243", "3421", "2134", "4312")
    dots = [ConsecutivePair(cells=pair) for pair in _consecutive(_filled(rows))]
    more = (*dots, AllMarked(of="consecutive-pair"))
    one, other = "r2c2 and r3c2", "r2c4 and r3c4"
    assert not _asked(DOTS, one, more=more, rows=rows, given=2)
    assert _asked(DOTS, one, other, more=more, rows=rows, given=2)


def _consecutive(solution: dict[Cell, int]) -> list[tuple[Cell, Cell]]:
    return [(a, b) for a, b in combinations(solution, 2) if a.beside(b) and abs(solution[a] - solution[b]) == 1]
