"""What rules call lines: double ones of a colour, and those that end in squares."""

from __future__ import annotations

import pytest

from recognise.interpret.hints import fits
from recognise.rules import MarkHint
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.marks import Seen


@pytest.mark.parametrize("words", ["double blue line", "double line"])
def test_a_double_line_of_a_colour_is_double(words: str) -> None:
    (statement,) = read_rules(f"The digits on a {words} are consecutive, in any order.").statements
    assert (statement.kind, statement.mark.shape, statement.mark.style) == ("run-line", "line", "double")


@pytest.mark.parametrize("shape", ["square", "diamond"])
def test_squares_and_diamonds_may_be_what_lines_end_in(shape: str) -> None:
    path = (Cell(1, 1), Cell(1, 2), Cell(1, 3))
    assert fits(MarkHint(shape), Seen("ringed-line", paths=(path,)))
    assert not fits(MarkHint(shape), Seen("line", paths=(path,)))
