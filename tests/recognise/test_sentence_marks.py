"""Which marks a question about a sentence of the rules points at."""

from __future__ import annotations

import pytest

from recognise.doubt.sentence_marks import with_marks_named
from recognise.draft import Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Words
from recognise.interpret.draft import in_the_main, not_understood
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage
from schema.kinds.rows import Rows
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
CAGE = Cage(cells=(Cell(1, 1), Cell(1, 2)), value=3)
TUBE = Thermometer(path=(Cell(2, 1), Cell(2, 2)))
WHERE = box_polygon((0.0, 0.0, 1.0, 1.0))
ITEMS = (
    Item((Rows(),), None, 1.0, "text"),
    Item(Given(Cell(4, 4), 1), WHERE, 1.0, "ocr"),
    Item((CAGE,), WHERE, 1.0, "shape"),
    Item((TUBE,), WHERE, 1.0, "shape"),
)
NOISY = "Digits may 35 repeat in a cage."


@pytest.mark.parametrize(
    ("doubt", "statements", "also"),
    [
        (not_understood(NOISY), (), (2,)),
        (not_understood("The bulb is the coldest."), (), (3,)),
        (in_the_main("All of them rise."), (Statement("thermometer", sentence="All of them rise."),), (3,)),
        (not_understood("The council sleeps until noon."), (), ()),
        (f"the rules speak of a cage, and none was found: “{NOISY}”", (), ()),
    ],
)
def test_a_question_about_a_sentence_points_at_the_marks_of_which_it_speaks(
    doubt: str, statements: tuple[Statement, ...], also: tuple[int, ...]
) -> None:
    draft = Draft(GRID, ITEMS, Words(), (Doubt(doubt),))
    (told,) = with_marks_named(draft, RuleSheet(statements)).doubts
    assert told.also == also
