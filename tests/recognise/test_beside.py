"""What stands beside the grid as its numbers do and was not read as such."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from ingest.page import Box
from recognise.doubt.beside import unread_beside, with_sides, without_accounted
from recognise.draft import Doubt, Draft, Item, box_polygon
from recognise.evidence import Words
from recognise.geometry import bounds, box_at, box_of_all
from recognise.marks.spoken import Spoken
from recognise.pixels.outside import not_in_line
from schema.grid import Grid
from schema.kinds.sandwich import Sandwich

SIZE = 6
BARE, OF_MARKS, UNSURE = Spoken(bare=True, whole=True), Spoken(links=frozenset({"LINE"}), whole=True), Spoken()
LEFT = [box_at((-0.6, row - 0.5), 0.08) for row in (1, 3, 4)] + [box_at((-0.4, 2.5), 0.08)]
"""Three numbers, the second of them in two pieces."""
CLUE = Item((Sandwich(side="left", index=1, value=4),), box_polygon(box_at((-0.5, 0.5), 0.2)), 1.0, "ocr")


def _draft(*doubts: Doubt, items: Sequence[Item] = ()) -> Draft:
    return Draft(Grid(rows=SIZE, columns=SIZE, digits=tuple(range(1, SIZE + 1))), tuple(items), Words(), doubts)


@pytest.mark.parametrize(
    ("spoken", "items", "asked"),
    [(BARE, (), True), (OF_MARKS, (), False), (OF_MARKS, (CLUE,), True), (UNSURE, (), True)],
    ids=["rules know numbers", "rules know none", "one was read", "rules not understood"],
)
def test_what_stands_out_of_line_is_asked_about_in_its_place_unless_the_rules_know_no_numbers(
    spoken: Spoken, items: Sequence[Item], asked: bool
) -> None:
    other = Doubt("it was hard to read")
    draft = with_sides(_draft(Doubt(not_in_line("left")), other, items=items), {"left": LEFT}, spoken)
    assert draft.doubts[-1] == other
    assert [bounds(doubt.where) for doubt in draft.doubts[:-1] if doubt.where] == [box_of_all(LEFT)] * asked


@pytest.mark.parametrize(
    ("where", "ink", "asked"),
    [
        (box_at((-0.45, 0.4), 0.15), None, False),
        (box_at((-0.45, 0.4), 0.15), box_at((-0.5, 0.3), 0.03), True),
        (box_at((-0.45, 0.4), 0.15), box_at((-0.5, 3.3), 0.03), False),
        (box_at((-0.45, 2.4), 0.15), None, True),
        (box_at((-0.75, 0.4), 0.15), None, True),
    ],
    ids=["on an item", "with ink beside it", "with ink elsewhere", "on none", "farther out"],
)
def test_what_stands_out_of_line_is_no_question_where_items_account_for_its_ink(
    where: Box, ink: Box | None, asked: bool
) -> None:
    def left(draft: Draft) -> Sequence[Doubt]:
        assert not draft.doubts, "a question covers its ink"
        return [Doubt("ink", where=box_polygon(ink))] if ink else []

    draft = _draft(Doubt(not_in_line("left")), items=(CLUE,))
    assert bool(without_accounted(draft, {"left": [where]}, left).doubts) is asked


@pytest.mark.parametrize(
    ("pieces", "spoken", "items", "asked"),
    [
        (LEFT, BARE, (), True),
        (LEFT, OF_MARKS, (), False),
        (LEFT, BARE, (CLUE,), False),
        (LEFT[:1], BARE, (), False),
        ([(x0, y0 + 0.4, x1, y1 + 0.4) for x0, y0, x1, y1 in LEFT], BARE, (), False),
        ([(x0 - 1.4, y0, x1 - 1.4, y1) for x0, y0, x1, y1 in LEFT], BARE, (), False),
        ([*LEFT, *(box_at((-0.2, y), 0.08) for y in (4.95, 5.0, 5.9))], BARE, (), False),
    ],
    ids=["numbers", "rules know none", "one was read", "a single one", "off the middle", "far off", "text"],
)
def test_numbers_of_which_none_was_read_are_asked_about_side_by_side(
    pieces: Sequence[Box], spoken: Spoken, items: Sequence[Item], asked: bool
) -> None:
    found = list(unread_beside(_draft(items=items), pieces, spoken))
    assert [doubt.why for doubt in found] == ["numbers may stand left of the grid, and none was read"] * asked
    assert all(doubt.where and bounds(doubt.where) == box_of_all(LEFT) for doubt in found)


def test_what_is_asked_about_already_is_not_asked_again() -> None:
    known = Doubt(not_in_line("left"), where=box_polygon(box_of_all(LEFT)))
    assert not list(unread_beside(_draft(known), LEFT, BARE))


@pytest.mark.parametrize(
    ("spoken", "tall", "asked"),
    [(BARE, 0.4, True), (BARE, 0.2, False), (BARE, 0.64, False), (OF_MARKS, 0.4, False)],
    ids=["as tall as another", "lower", "taller", "rules know none"],
)
def test_a_number_as_tall_as_those_that_were_read_is_asked_about(spoken: Spoken, tall: float, asked: bool) -> None:
    left, claimed = (-0.5, 3.5), box_at((-0.5, 0.5), 0.2)
    number = (left[0] - 0.1, left[1] - tall / 2, left[0] + 0.1, left[1] + tall / 2)
    read = replace(CLUE, claims=(box_polygon(claimed),))
    found = list(unread_beside(_draft(items=[read]), [claimed, number], spoken))
    assert [doubt.why for doubt in found] == ["a number may stand here left of the grid, and was not read"] * asked
    assert all(doubt.where == box_polygon(number) for doubt in found)
