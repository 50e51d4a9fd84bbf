"""Rules that may be printed and were not read: what marks usually mean is then no more than a guess."""

from __future__ import annotations

import pytest

from recognise.doubt.lost_rules import TORN, UNREAD, unread_rules
from recognise.draft import Draft, Item, Words
from recognise.text.ocr import hides_text
from recognise.text.regions import Region
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=6, columns=6, digits=tuple(range(1, 7)))
TUBE = Thermometer(path=(Cell(1, 1), Cell(1, 2), Cell(1, 3)))


def asked(words: Words, *stated: Rows | Columns | Thermometer) -> list[str]:
    items = tuple(Item((each,), None, 0.99, "shape") for each in stated)
    return [doubt.why for doubt in unread_rules(Draft(GRID, items, words))]


def test_marks_are_asked_about_where_text_beside_them_was_not_read() -> None:
    assert asked(Words(unread=True), Rows(), Columns(), TUBE) == [UNREAD]


@pytest.mark.parametrize("words", [Words(), Words(rules_text="Thermometers rise.", unread=True)])
def test_they_are_not_where_there_is_none_or_the_rules_were_read(words: Words) -> None:
    assert asked(words, Rows(), TUBE) == []


def test_words_between_the_lines_of_the_rules_are_asked_about() -> None:
    assert asked(Words(rules_text="Thermometers rise.", torn=True), Rows(), TUBE) == [TORN]


def test_a_grid_without_marks_needs_no_rules() -> None:
    assert asked(Words(unread=True), Rows(), Columns()) == []


def block(width: float) -> Region:
    return Region((0.0, 0.0, width, 12.0), 10.0, 1, 12.0)


def test_a_wide_block_or_many_small_ones_that_nobody_reads_may_hide_rules() -> None:
    assert hides_text([block(200)])
    assert hides_text([block(20)] * 10)
    assert not hides_text([block(20)] * 3)
    assert not hides_text([])
