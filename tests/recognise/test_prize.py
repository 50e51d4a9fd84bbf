"""A strip of tinted cells on a puzzle that needs no rule for it states nothing; any other tint is asked about."""

from dataclasses import replace
from random import Random

import pytest

from fixtures.generator import make_puzzle
from recognise.doubt.policy import is_clean
from recognise.doubt.proof import Proven, proven
from recognise.evidence import Tint, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from schema.cells import Cell
from schema.kinds.boxes import Boxes
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.ideal_evidence import ideal_evidence

BLUE, GREEN, DARK_GREEN = (180, 207, 235), (213, 234, 211), (162, 205, 160)
STRIP = (Cell(5, 4), Cell(5, 5), Cell(5, 6))


def _proven(tints: dict[Cell, tuple[int, int, int]], without_givens: int = 0) -> Proven:
    puzzle = make_puzzle(Random("prize"), (), digits="usual")
    kept = dict(list(puzzle.givens.items())[without_givens:])
    puzzle = puzzle.model_copy(update={"givens": kept, "rules_text": None})
    cells = next(c.cells for c in puzzle.constraints if isinstance(c, Boxes))
    evidence = replace(ideal_evidence(puzzle), tints=tuple(Tint(cell, c, 1.0) for cell, c in tints.items()))
    return proven(interpret(evidence, SeenBoxes(cells, "regular", 0.9999), None, Words()))


@pytest.mark.parametrize("colours", [(BLUE, BLUE, BLUE), (GREEN, GREEN, DARK_GREEN)])
@pytest.mark.parametrize("upright", [False, True])
def test_a_strip_of_tinted_cells_states_nothing(colours: tuple[tuple[int, int, int], ...], upright: bool) -> None:
    cells = [Cell(cell.column, cell.row) if upright else cell for cell in STRIP]
    result = _proven(dict(zip(cells, colours, strict=True)))
    assert result.proof is not None
    assert not any(isinstance(c, UnreadMark) for c in result.draft.constraints)
    assert is_clean(result.draft, result.proof.outcome)


@pytest.mark.parametrize(
    "cells",
    [
        [Cell(5, 4)],
        [Cell(5, 4), Cell(5, 5)],
        [Cell(5, 4), Cell(5, 5), Cell(5, 7)],
        [Cell(5, 4), Cell(5, 5), Cell(6, 5)],
        [Cell(1, 1), Cell(2, 2), Cell(3, 3)],
    ],
)
def test_other_tints_are_asked_about(cells: list[Cell]) -> None:
    assert _proven(dict.fromkeys(cells, BLUE)).draft.doubts


def test_a_strip_on_a_puzzle_that_may_need_it_is_asked_about() -> None:
    assert any("tint" in doubt.why for doubt in _proven(dict.fromkeys(STRIP, BLUE), without_givens=6).draft.doubts)
