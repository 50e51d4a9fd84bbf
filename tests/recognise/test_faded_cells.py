"""Circles and squares in cells that are left out as hardly printed: which are, and which questions about them the
solution answers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from recognise.doubt.faded_cells import without_faded_in_cells
from recognise.draft import Doubt, Draft, Item
from recognise.evidence import Words
from recognise.marks.cell_questions import hardly_printed_words, left_out, through_words
from recognise.marks.shown_through import ghosts_of_squares
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.rows import Rows

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
ROWS = ("1234", "3412", "2143", "4321")
SOLUTION = {Cell(r, c): int(digit) for r, row in enumerate(ROWS, 1) for c, digit in enumerate(row, 1)}
ODD = "Each row holds the digits 1 to 4. Grey circles hold odd digits."
BOTH = ODD + " Grey squares hold even digits."


@pytest.mark.parametrize(
    ("rules", "name", "cells", "asked", "asked_if_pale"),
    [
        (ODD, "circle", "r1c2", False, False),  # 2
        (ODD, "circle", "r1c1", True, True),  # 1
        (ODD, "circle", "r1c1 r1c2", True, False),  # 2 shows through, and so does what looks the same
        (ODD, "square", "r1c2", True, True),  # the rules know no squares
        (BOTH, "square", "r1c1", False, False),
        (BOTH, "square", "r1c2", True, True),
        ("Each row holds the digits 1 to 4.", "circle", "r1c2", True, True),
    ],
)
def test_the_solution_tells_that_no_mark_is_printed_in_a_cell(
    rules: str, name: str, cells: str, asked: bool, asked_if_pale: bool
) -> None:
    where = tuple(map(Cell.parse, cells.split()))
    for words, expected in ((hardly_printed_words, asked), (through_words, asked_if_pale)):
        doubts = Doubt(words(name, where)), Doubt("anything else")
        items = (Item((Rows(),), None, 1.0, "text"),)
        draft = Draft(GRID, items, Words(rules_text=rules), doubts)
        left = without_faded_in_cells(draft, SOLUTION, read_rules(rules, (1, 4)))
        assert left.doubts == (doubts if expected else doubts[1:])
        assert without_faded_in_cells(replace(draft, words=Words()), SOLUTION, None).doubts == doubts


def test_questions_about_marks_in_cells_are_known_by_their_words() -> None:
    cells = Cell(1, 2), Cell(3, 4)
    assert left_out(hardly_printed_words("circle", cells)) == ("circle", cells, False)
    assert left_out(through_words("square", cells)) == ("square", cells, True)
    assert left_out("what looks like a line through r1c2, r1c3 is hardly printed") is None


@pytest.mark.parametrize(
    ("likely", "ink", "sure", "ghost"),
    [(0.87, 0.03, 4, True), (0.87, 0.08, 4, False), (0.99, 0.03, 4, False), (0.87, 0.03, 3, False)],
    ids=["pale", "dark", "sure", "few others"],
)
def test_squares_without_ink_show_through_where_the_network_is_not_sure_of_them(
    likely: float, ink: float, sure: int, ghost: bool
) -> None:
    squares = {Cell(1, n): (1.0, 0.12) for n in range(1, sure + 1)}
    found = ghosts_of_squares(squares | {Cell(4, 4): (likely, ink)})
    assert found == [Cell(4, 4)] * ghost
