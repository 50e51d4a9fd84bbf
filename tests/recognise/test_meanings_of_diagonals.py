"""Sums of diagonals with their little arrows, and long diagonals, from evidence made by hand."""

import pytest

from recognise.evidence import Shape, Tint
from recognise.rules import Statement
from schema.cells import Cell
from tests.recognise.evidence_maker import glyph
from tests.recognise.ideal_evidence import BLACK, GREY
from tests.recognise.meanings import drafted, reasons, stated


@pytest.mark.parametrize(
    ("at", "way", "start"),
    [
        ((2.5, -0.5), "down-left", "r1c2"),
        ((2.2, -0.2), "down-left", "r1c2"),
        ((-0.3, -0.3), "down-right", "r1c1"),
        ((-0.5, 4.5), "up-right", "r4c1"),
        ((9.4, 9.4), "up-left", "r9c9"),
        ((9.4, 3.6), "down-left", "r5c9"),
    ],
)
def test_a_diagonal_sum_starts_where_its_arrow_points(at: tuple[float, float], way: str, start: str) -> None:
    (x, y), (dx, dy) = at, {"down-left": (1, -1), "down-right": (-1, -1), "up-right": (-1, 1), "up-left": (1, 1)}[way]
    arrow = Shape("arrow", (x - 0.1, y - 0.1, x + 0.1, y + 0.1), BLACK, "vector", direction=way)
    number = glyph(x + 0.4 * dx, y + 0.4 * dy, ("21", 0.999), size=0.36)
    (found,) = stated(drafted(Statement("diagonal-sum"), shapes=(arrow,), glyphs=(number,)), "diagonal-sum")
    assert (found.start, found.direction, found.value) == (Cell.parse(start), way, 21)


def test_crossing_arrows_have_the_numbers_behind_their_tails() -> None:
    up = Shape("arrow", (-0.46, 3.06, -0.06, 3.46), BLACK, "vector", direction="up-right")
    down = Shape("arrow", (-0.46, 3.54, -0.06, 3.94), BLACK, "vector", direction="down-right")
    numbers = (glyph(-0.55, 3.36, ("22", 0.999), size=0.3), glyph(-0.55, 3.64, ("21", 0.999), size=0.3))
    found = stated(drafted(Statement("diagonal-sum"), shapes=(up, down), glyphs=numbers), "diagonal-sum")
    assert {(c.direction, c.value) for c in found} == {("up-right", 21), ("down-right", 22)}


ABOVE_LEFT = Shape("arrow", (3.06, -0.22, 3.22, -0.06), BLACK, "vector", direction="down-left")

ABOVE_RIGHT = Shape("arrow", (3.78, -0.22, 3.94, -0.06), BLACK, "vector", direction="down-right")


def test_numbers_side_by_side_above_their_arrows_are_not_those_of_the_other() -> None:
    numbers = (glyph(3.22, -0.66, ("21", 0.999), size=0.3), glyph(3.77, -0.66, ("25", 0.999), size=0.3))
    arrows = (ABOVE_LEFT, ABOVE_RIGHT)
    draft = drafted(Statement("diagonal-sum"), shapes=arrows, glyphs=numbers)
    assert {(c.direction, c.value) for c in stated(draft, "diagonal-sum")} == {("down-left", 21), ("down-right", 25)}
    assert not any("as near to its arrow" in why for why in reasons(draft))


def test_numbers_that_stand_as_others_do_to_their_arrows_are_theirs() -> None:
    """In line, far behind the tails: with no other arrow to compare, it is asked for."""
    numbers = (glyph(3.26, -0.74, ("21", 0.999), size=0.3), glyph(3.74, -0.74, ("25", 0.999), size=0.3))
    lone = Shape("arrow", (6.06, -0.22, 6.22, -0.06), BLACK, "vector", direction="down-left")
    its = glyph(6.74, -0.74, ("9", 0.999), size=0.3)
    arrows = (ABOVE_LEFT, ABOVE_RIGHT)
    alone = drafted(Statement("diagonal-sum"), shapes=arrows, glyphs=numbers)
    assert sum("as near to its arrow" in why for why in reasons(alone)) == 2
    draft = drafted(Statement("diagonal-sum"), shapes=(*arrows, lone), glyphs=(*numbers, its))
    found = {(c.start, c.direction, c.value) for c in stated(draft, "diagonal-sum")}
    assert {pair[1:] for pair in found} == {("down-left", 25), ("down-right", 21), ("down-left", 9)}
    assert not any("as near to its arrow" in why for why in reasons(draft))


def test_numbers_that_may_be_either_arrows_are_asked_for() -> None:
    up = Shape("arrow", (-0.4, 3.2, -0.1, 3.5), BLACK, "vector", direction="up-right")
    down = Shape("arrow", (-0.4, 3.5, -0.1, 3.8), BLACK, "vector", direction="down-right")
    numbers = (glyph(-0.7, 3.5, ("22", 0.999), size=0.3), glyph(-1.1, 3.5, ("21", 0.999), size=0.3))
    why = reasons(drafted(Statement("diagonal-sum"), shapes=(up, down), glyphs=numbers))
    assert sum("as near to its arrow" in each for each in why) == 2


def test_a_number_in_the_middle_of_its_row_is_rather_a_clue_of_its_own_than_an_arrows() -> None:
    up = Shape("arrow", (-0.455, 6.065, -0.065, 6.455), BLACK, "vector", direction="up-right")
    numbers = (glyph(-0.8, 6.64, ("36", 0.999), size=0.3), glyph(-0.62, 6.5, ("2", 0.999), size=0.3))
    draft = drafted(Statement("diagonal-sum"), Statement("skyscraper"), shapes=(up,), glyphs=numbers)
    assert [c.value for c in stated(draft, "diagonal-sum")] == [36]
    assert any("as near to its arrow" in why for why in reasons(draft))


def test_an_arrow_between_two_diagonals_and_one_without_a_number_are_queries() -> None:
    arrow = Shape("arrow", (2.65, -0.35, 2.85, -0.15), BLACK, "vector", direction="down-left")
    number = glyph(3.2, -0.6, ("21", 0.999), size=0.36)
    assert any(
        "two diagonals" in why for why in reasons(drafted(Statement("diagonal-sum"), shapes=(arrow,), glyphs=(number,)))
    )
    assert reasons(drafted(shapes=(arrow,))) != []


@pytest.mark.parametrize(
    "sentence",
    [
        "The long diagonal that is drawn holds every digit once as well.",
        "Place 1 to 9 in each row, in each column, in each box and also on the blue diagonal.",
    ],
)
def test_every_digit_on_the_drawn_diagonal_is_one_diagonal(sentence: str) -> None:
    drawn = Shape("diagonal", (0, 0, 9, 9), GREY, "vector", direction="down")
    told = Statement("diagonal", {}, sentence=sentence)
    draft = drafted(told, shapes=(drawn,))
    assert [c.direction for c in stated(draft, "diagonal")] == ["down"]
    assert not draft.doubts
    assert any("not drawn" in why for why in reasons(drafted(told))), "which of the two is meant, nothing tells"


def test_both_diagonals_where_the_rules_speak_of_both_and_one_is_drawn() -> None:
    drawn = Shape("diagonal", (0, 0, 9, 9), GREY, "vector", direction="down")
    both = Statement("diagonal", {}, sentence="Both long diagonals hold every digit once.")
    draft = drafted(both, shapes=(drawn,))
    assert {c.direction for c in stated(draft, "diagonal")} == {"down", "up"}
    assert len(reasons(draft)) == 1
    one = Statement("diagonal", {}, sentence="No digit twice on the marked diagonal.")
    draft = drafted(one, shapes=(drawn,))
    assert [c.direction for c in stated(draft, "diagonal")] == ["down"]
    assert reasons(draft) == []


def test_tinted_cells_on_both_diagonals_are_the_mark_of_a_rule_about_diagonals() -> None:
    cells = {Cell(n, n) for n in range(1, 10)} | {Cell(n, 10 - n) for n in range(1, 10)}
    tints = tuple(Tint(cell, GREY, 1.0, "vector") for cell in sorted(cells))
    draft = drafted(Statement("diagonal"), tints=tints)
    assert {c.direction for c in stated(draft, "diagonal")} == {"down", "up"}
    assert not stated(draft, "unread-mark")
    assert stated(drafted(tints=tints), "unread-mark")
