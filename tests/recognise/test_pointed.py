"""Questions where little arrows point that the proof of the page answers."""

import pytest

from recognise.doubt.pointed import without_pointed
from recognise.doubt.proof import proven
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.marks.pointers import points_words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.diagonal_sum import DiagonalSum
from schema.kinds.rows import Rows
from schema.kinds.sandwich import Sandwich

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
FULL = ((1, 2, 3, 4), (3, 4, 1, 2), (2, 1, 4, 3))
ALIKE = ((4, 3, 1, 2), (1, 2, 4, 3), (2, 1, 3, 4))
"""Here the two diagonals that begin above the second column have the same sum: 4, and 1 + 3."""
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
ELSEWHERE = "perhaps a little arrow stands beside row 0, column 4"
DOWN = DiagonalSum(start=Cell(1, 3), direction="down-right", value=5)  # 3 + 2; the other way from there 1 is alone
LEFT = DiagonalSum(start=Cell(1, 1), direction="down-left", value=1)
BACK = DiagonalSum(start=Cell(1, 4), direction="down-left", value=10)  # 4 + 1 + 1 + 4
SANDWICH = Sandwich(side="left", index=1, value=5)


def _asked(
    clue: DiagonalSum,
    *more: Constraint,
    place: tuple[int, int] = (0, 2),
    lost: tuple[str, ...] = (),
    unread: bool = False,
    full: tuple[tuple[int, ...], ...] = FULL,
) -> bool:
    """Whether the question where the arrow of a clue points stays, on a page with other clues."""
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), clue, *more)
    clues = tuple(Item((constraint,), WHERE, 0.9, "ocr", extent=0.9) for constraint in stated)
    given = {Cell(r, c): digit for r, row in enumerate(full, 1) for c, digit in enumerate(row, 1)}
    digits = tuple(Item(Given(cell, digit), WHERE, 1.0, "shape") for cell, digit in given.items())
    doubts = (Doubt(points_words(*place)), Doubt(ELSEWHERE))
    draft = Draft(GRID, (*clues, *digits), Words(rules_text="Rules.", unread=unread), doubts, lost=lost)
    assert proven(draft).is_unique
    left = [doubt.why for doubt in without_pointed(draft).doubts]
    assert ELSEWHERE in left
    return points_words(*place) in left


def test_an_arrow_that_can_point_along_no_other_diagonal_points_as_read() -> None:
    assert not _asked(DOWN)
    assert not _asked(DOWN, BACK)


def test_an_arrow_may_point_along_another_diagonal_of_the_same_sum() -> None:
    assert _asked(LEFT.model_copy(update={"value": 4}), full=ALIKE)


def test_two_clues_in_one_place_point_as_read_where_they_cannot_the_other_way_round() -> None:
    assert not _asked(DOWN, LEFT)
    assert _asked(LEFT.model_copy(update={"value": 4}), DOWN.model_copy(update={"value": 4}), full=ALIKE)


def test_a_number_that_can_be_no_clue_of_another_kind_has_an_arrow() -> None:
    assert not _asked(DOWN, SANDWICH)
    into_corner = DiagonalSum(start=Cell(4, 1), direction="down-right", value=3)
    assert not _asked(into_corner, place=(3, 0), full=ALIKE)
    in_row = SANDWICH.model_copy(update={"value": 3})
    assert _asked(into_corner, in_row, place=(3, 0), full=ALIKE), "as a sandwich the third row comes to 3 too"
    assert _asked(DOWN, LEFT, SANDWICH), "two clues in one place are not held against other kinds"


@pytest.mark.parametrize("case", ["a sentence is lost", "text was not read", "elsewhere"])
def test_what_the_proof_does_not_know_is_asked_about(case: str) -> None:
    if case == "a sentence is lost":
        assert _asked(DOWN, lost=("A sentence.",))
    elif case == "text was not read":
        assert _asked(DOWN, unread=True)
    else:
        assert _asked(DOWN, place=(0, 3))
