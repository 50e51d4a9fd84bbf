"""Boxes that no line shows, as the rules speak of them."""

import pytest

from recognise.grids import Boxes
from recognise.interpret.regions import decide_boxes, usual_boxes
from recognise.rules.reader import read_rules
from schema.grid import Grid

UNSEEN = Boxes(None, "nothing", 0.5)


def _grid(size: int) -> Grid:
    return Grid(rows=size, columns=size, digits=tuple(range(1, size + 1)))


@pytest.mark.parametrize(
    ("size", "named", "asked"),
    [
        (9, "3 by 3 box", False),
        (9, "3x3 block", False),
        (9, "three-by-three box", False),
        (4, "2×2 box", False),
        (9, "box", True),
        (9, "3 by 8 box", True),
        (6, "2 by 3 box", True),
        (16, "3x3 box", True),
    ],
)
def test_boxes_whose_size_the_rules_say_need_no_lines(size: int, named: str, asked: bool) -> None:
    grid = _grid(size)
    sheet = read_rules(f"Every row, column and {named} contains 1 to {size}, each once.", (1, size), 1.0)
    boxes, confidence, doubts = decide_boxes(UNSEEN, grid, sheet)
    assert boxes == usual_boxes(grid)
    assert bool(doubts) == asked
    assert (confidence < 0.9) == asked
