"""Questions about what marks were taken for that are not quite what the rules name."""

from random import Random

import pytest

from checker.prove import prove
from fixtures.generator import make_puzzle
from recognise.doubt.taken import without_taken
from recognise.draft import Doubt, Draft, Given, Item, only_constraint
from recognise.evidence import Words
from recognise.interpret.meaning import AS_NUMERAL
from recognise.interpret.undecided import NO_SUCH_COLOUR
from schema.cells import Cell
from schema.kinds.greater import Greater
from schema.kinds.sum_pair import SumPair
from schema.puzzle import Puzzle

OTHER = "it was hard to read"


def _asked(puzzle: Puzzle, why: str) -> set[str]:
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    marked = [at for at, item in enumerate(items) if hasattr(only_constraint(item.value), "path")]
    doubts = [Doubt(words, item=at, meaning=True) for at in marked for words in (why, OTHER)]
    return _left(puzzle, Draft(puzzle.grid, tuple(items), Words(), tuple(doubts)))


def _left(puzzle: Puzzle, draft: Draft) -> set[str]:
    return {doubt.why for doubt in without_taken(draft, prove(puzzle).solution or {}).doubts}


@pytest.mark.parametrize("why", [NO_SUCH_COLOUR, f"“X” {AS_NUMERAL}"])
def test_marks_in_whose_stead_nothing_leaves_one_solution_are_what_they_were_taken_for(why: str) -> None:
    assert _asked(make_puzzle(Random("run-line0"), ["run-line"], 6, digits="usual"), why) == {OTHER}


def test_marks_that_may_mean_something_else_or_are_not_needed_are_asked_about() -> None:
    loose = make_puzzle(Random("thermometer0"), ["thermometer"], 6, digits="usual")
    assert _asked(loose, NO_SUCH_COLOUR) == {NO_SUCH_COLOUR, OTHER}
    puzzle = make_puzzle(Random("run-line0"), ["run-line"], 6, digits="usual")
    solved = puzzle.model_copy(update={"givens": prove(puzzle).solution})
    assert _asked(solved, NO_SUCH_COLOUR) == {NO_SUCH_COLOUR, OTHER}


@pytest.mark.parametrize(("digits", "asked"), [((4, 2), set[str]()), ((3, 2), {"“V” was read in its place"})])
def test_a_sign_that_reads_as_a_numeral_is_none_where_its_sum_leaves_no_single_solution(
    digits: tuple[int, int], asked: set[str]
) -> None:
    puzzle = make_puzzle(Random("run-line0"), ["run-line"], 6, digits="usual")
    solution = prove(puzzle).solution
    assert solution is not None
    pair = next(
        (cell, other)
        for cell in solution
        for other in solution
        if cell.row == other.row
        and abs(cell.column - other.column) == 1
        and (solution[cell], solution[other]) == digits
    )
    items = [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    items += [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items.append(Item((Greater(greater=pair[0], less=pair[1]),), None, 1.0, "shape"))
    doubt = Doubt("“V” was read in its place", item=len(items) - 1)
    assert _left(puzzle, Draft(puzzle.grid, tuple(items), Words(), (doubt,))) == asked


@pytest.mark.parametrize(("count", "astray", "answered"), [(4, 0, True), (2, 0, False), (4, 1, False)])
def test_numerals_that_are_not_needed_are_such_where_their_digits_would_not_come_to_it_by_chance(
    count: int, astray: int, answered: bool
) -> None:
    puzzle = make_puzzle(Random("run-line0"), ["run-line"], 9, digits="usual")
    solution = prove(puzzle).solution
    assert solution is not None
    pairs = [(cell, Cell(cell.row, cell.column + 1)) for cell in solution if cell.column < 9]
    tens = [pair for pair in pairs if sum(solution[cell] for cell in pair) == 10]
    others = [pair for pair in pairs if pair not in tens]
    marks = [SumPair(cells=pair, value=10) for pair in (*tens[: count - astray], *others[:astray])]
    items = [Item((c,), None, 1.0, "vector") for c in (*puzzle.constraints, *marks)]
    items += [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in solution.items()]
    doubts = [Doubt(f"“X” {AS_NUMERAL}", item=len(puzzle.constraints) + at) for at in range(count)]
    draft = Draft(puzzle.grid, tuple(items), Words(), tuple(doubts))
    assert bool(without_taken(draft, solution).doubts) != answered
