"""A mark that the givens do without: the proof passes whether it was read or not, so the other guards must see it."""

from pathlib import Path
from random import Random

import pytest

from checker.prove import is_unique, prove
from clueprint.draw import draw
from fixtures.bench.same import differences
from fixtures.generator import FLAVOURS, make_puzzle
from schema.puzzle import Puzzle
from tests.recognise.page_files import read_in

LEAVE_NO_MARK = {"knight-apart", "king-apart", "neighbours-not-consecutive"}
"""Without the rules text there is nothing on the page that tells of them."""
STRUCTURE = {"rows", "columns", "boxes"}
SIZE = 6
"""Of the grids: what is asked of a mark is the same on large ones, which take three times as long to read."""
FEWEST = 12
"""Givens to begin with; more are added until they settle the puzzle by rows, columns and boxes alone."""


def _with_givens_that_suffice(flavour: str) -> Puzzle:
    """A puzzle of one kind that has one solution without its marks too."""
    puzzle = make_puzzle(Random(f"unseen-{flavour}"), [flavour], SIZE, digits="usual")
    solution = prove(puzzle).solution
    assert solution is not None
    order = Random(flavour).sample(sorted(solution), len(solution))
    bare = tuple(c for c in puzzle.constraints if c.kind in STRUCTURE)
    for count in range(FEWEST, len(order), 3):
        givens = {cell: solution[cell] for cell in order[:count]}
        if is_unique(puzzle.model_copy(update={"givens": givens, "constraints": bare})):
            return puzzle.model_copy(update={"givens": givens, "rules_text": None})
    raise AssertionError("a full grid is unique")


@pytest.mark.slow
@pytest.mark.parametrize("suffix", [".pdf", ".png"])
@pytest.mark.parametrize("flavour", [f for f in FLAVOURS if f not in LEAVE_NO_MARK])
def test_no_mark_is_lost_behind_a_proof_that_does_without_it(flavour: str, suffix: str, tmp_path: Path) -> None:
    puzzle = _with_givens_that_suffice(flavour)
    path = tmp_path / f"page{suffix}"
    draw(puzzle, path)
    (result,) = read_in(path).results
    if result.clean:
        assert result.proven.puzzle is not None
        assert differences(result.proven.puzzle, puzzle) == []
