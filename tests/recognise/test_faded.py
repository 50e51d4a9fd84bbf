"""Questions about lines that are hardly printed, which the solution answers."""

from __future__ import annotations

import pytest

from recognise.doubt.faded import without_faded
from recognise.draft import Doubt, Draft, Item
from recognise.evidence import Words
from recognise.marks.line_questions import cells_of_faded, faded_words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.gap_line import GapLine
from schema.kinds.palindrome import Palindrome
from schema.kinds.run_line import RunLine
from schema.kinds.sum_line import SumLine

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
ROWS = ("1234", "3412", "2143", "4321")
SOLUTION = {Cell(r, c): int(digit) for r, row in enumerate(ROWS, 1) for c, digit in enumerate(row, 1)}


def _path(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


PALINDROME, GAP = Palindrome(path=_path("r3c2 r4c2")), GapLine(path=_path("r1c1 r2c2"), gap=3)
BETWEEN = BetweenLine(path=_path("r3c1 r3c2 r3c3"))
RUN = RunLine(path=_path("r1c2 r1c3 r1c4"))
ARROW = Arrow(circle=_path("r1c4"), shaft=_path("r1c3"))
SUM = SumLine(path=_path("r1c1 r1c2"), value=3)


@pytest.mark.parametrize(
    ("kinds", "cells", "asked"),
    [
        ((PALINDROME,), "r1c1 r1c2 r1c3", False),  # 1 2 3
        ((PALINDROME,), "r1c1 r2c1 r2c2", False),  # 1 3 4, and 1 4 3
        ((PALINDROME,), "r1c2 r2c3 r2c4", True),  # 2 1 2
        ((PALINDROME,), "r1c2 r1c3 r2c1", True),  # 3 2 3 from the second to the third
        ((PALINDROME, GAP), "r1c4 r2c3", True),  # 4 and 1
        ((PALINDROME,), "r1c4 r2c3", False),
        ((PALINDROME, SUM), "r1c4 r2c3", False),  # it has no number
        ((GAP, GapLine(path=GAP.path, gap=1)), "r1c1 r1c2", True),  # 1 and 2
        ((GapLine(path=GAP.path, gap=1), GAP), "r1c1 r1c2", True),
        ((SUM,), "r1c2 r2c3 r2c4", False),
        ((PALINDROME, SUM), "r1c2 r2c3 r2c4", True),  # 2 1 2
        ((BETWEEN,), "r1c1 r1c2", False),  # it would be all ends, and say nothing
        ((RUN,), "r2c1 r1c1", False),  # 3 and 1
        ((RUN,), "r1c4 r2c3", True),  # 4 and 1, and 2 3 4 with the 1
        ((RUN,), "r1c2 r2c2", False),  # 2 and 4, and 4 2 3 4
        ((ARROW,), "r1c3 r2c3", True),  # 3 and 1, and 3 + 1 = 4
        ((ARROW,), "r1c3 r2c2", False),
        ((), "r1c4 r2c3", True),
        ((PALINDROME,), "r1c1 r1c2 r4c4", True),  # no line at all runs there
    ],
)
def test_what_the_solution_breaks_as_every_line_of_its_page_is_not_asked_about(
    kinds: tuple[Constraint, ...], cells: str, asked: bool
) -> None:
    items = tuple(Item((kind,), None, 0.99, "shape") for kind in kinds)
    why = faded_words(_path(cells))
    draft = Draft(GRID, items, Words(rules_text="Lines."), (Doubt(why), Doubt("perhaps")))
    left = [doubt.why for doubt in without_faded(draft, SOLUTION).doubts]
    assert left == ([why] if asked else []) + ["perhaps"]
    unread = Draft(GRID, items, Words(rules_text="Lines."), (Doubt(why),), lost=("Something else.",))
    assert without_faded(unread, SOLUTION) == unread


def test_the_cells_of_a_line_are_told_from_its_question_and_from_no_other() -> None:
    assert cells_of_faded(faded_words(_path("r2c3 r3c3 r10c4"))) == frozenset(_path("r2c3 r3c3 r10c4"))
    assert not cells_of_faded("what looks like circles in r2c3 is hardly printed")
