from __future__ import annotations

import random
import subprocess
import sys
import time
from itertools import chain, combinations, permutations, product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from making import EXAMPLES, classic, one_row, square

from checker import conflict, search
from checker.filled import BadGrid, examine, parse_filled
from checker.items import Items
from checker.prove import conflicting, is_unique, prove, solution_count, solve_many
from checker.search import CheckerFault
from checker.solver import Answer
from fixtures.generator import FLAVOURS, make_puzzle
from schema.cells import Cell
from schema.files import puzzle_text
from schema.grid import Grid
from schema.kinds._calculation import result
from schema.kinds.arrow import Arrow
from schema.kinds.cage import Cage
from schema.kinds.sandwich import Sandwich
from schema.kinds.sum_pair import SumPair
from schema.kinds.thermometer import Thermometer

FIRST = EXAMPLES["wp-first"]
ROWS = [FIRST["solution"][n : n + 9] for n in range(0, 81, 9)]
ORDERS = list(permutations((1, 2, 3, 4)))
LATIN = [
    dict(zip(square(4).grid.cells(), chain(*rows), strict=True))
    for rows in product(ORDERS, repeat=4)
    if all(len(set(column)) == 4 for column in zip(*rows, strict=True))
]
"""All Latin squares of size 4."""


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(0, 10**6), st.lists(st.sampled_from(FLAVOURS), max_size=2, unique=True), st.integers(0, 2))
def test_agrees_with_brute_force(seed, kinds, dropped):
    """All 576 Latin squares tried by the rules themselves, against the solver."""
    kinds = [kind for kind in kinds if kind not in ("king-apart", "neighbours-not-consecutive", "knight-apart")]
    rng = random.Random(seed)
    try:
        puzzle = make_puzzle(rng, kinds, 4, boxes=rng.choice(("regular", "none")), digits="usual")
    except ValueError:
        return
    keep = dict(rng.sample(sorted(puzzle.givens.items()), max(0, len(puzzle.givens) - dropped)))
    puzzle = puzzle.model_copy(update={"givens": keep})
    expected = [grid for grid in LATIN if not Items.of(puzzle).faults(grid)]
    solutions, complete = solve_many(puzzle, 600)
    assert complete and sorted(map(sorted, map(dict.items, solutions))) == sorted(
        map(sorted, map(dict.items, expected))
    )
    proof = prove(puzzle)
    assert proof.outcome == ("one" if len(expected) == 1 else "several")
    loose = [cell for cell in puzzle.grid.cells() if len({grid[cell] for grid in expected}) > 1]
    assert list(proof.differ) == loose and proof.complete
    assert is_unique(puzzle) is (len(expected) == 1)


@pytest.mark.parametrize("text", ["6" + FIRST["givens"][1:], FIRST["givens"][:2] + "1" + FIRST["givens"][3:]])
def test_conflict_is_minimal(text):
    puzzle = classic(text)
    proof = prove(puzzle)
    assert proof.outcome == "none" and proof.complete
    pointers = [suspect.item for suspect in proof.conflict]
    items = Items.of(puzzle)
    clock = search.Clock(60)
    assert search.find(items.only(pointers), items.only(pointers).board(), clock) == "none"
    for left_out in pointers:
        part = items.only(pointer for pointer in pointers if pointer != left_out)
        assert isinstance(search.find(part, part.board(), clock), dict)


def test_two_equal_givens_in_a_column_are_the_conflict():
    proof = prove(classic("6" + FIRST["givens"][1:]))
    assert [suspect.item for suspect in proof.conflict] == ["/constraints/1", "/givens/r1c1", "/givens/r2c1"]


def test_a_proof_is_stopped_and_counts_from_its_turn():
    clock = search.Clock(60, started=time.monotonic() - 100)
    assert prove(classic(FIRST["givens"]), clock).outcome == "unknown"
    clock.restart()
    assert prove(classic(FIRST["givens"]), clock).outcome == "one"
    clock.stop()
    assert prove(classic(FIRST["givens"]), clock).outcome == "unknown"


def test_no_time_is_unknown():
    proof = prove(square(25, (5, 5)), time_limit=1e-6)
    assert (proof.outcome, proof.solution, proof.note) == ("unknown", None, "time ran out")
    assert is_unique(square(25, (5, 5)), time_limit=1e-6) is None


def test_a_solution_that_breaks_a_rule_is_not_believed(monkeypatch):
    """A kind that posts nothing: the solver's grid breaks it, and the proof says so instead of naming a solution."""
    monkeypatch.setattr(Thermometer, "post", lambda self, board: None)
    path = tuple(Cell(1, n) for n in (4, 3, 2, 1))
    puzzle = square(4, (2, 2), [Thermometer(path=path)], {Cell(1, 1): 1})
    proof = prove(puzzle)
    assert proof.outcome == "unknown"
    assert "breaks /constraints/3" in proof.note


def test_none_that_a_second_run_denies_is_unknown(monkeypatch):
    monkeypatch.setattr(search, "_QUICK", lambda *arguments: Answer("none", ()))
    proof = prove(square(4, (2, 2)))
    assert proof.outcome == "unknown"
    assert "another found one" in proof.note


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 3000), st.sampled_from(["product", "quotient"]))
def test_a_total_that_no_digits_make_has_no_solution(value, operation):
    """Totals are misread: 708 = 2 x 2 x 3 x 59 for 108, say. Four cells are posted by primes, not as a table."""
    cage = Cage(cells=tuple(Cell(1, column) for column in range(1, 5)), value=value, operation=operation)
    puzzle = one_row(9, cage)
    makes = {result(operation, digits) for digits in combinations(range(1, 10), 4)}
    assert solution_count(puzzle) == (2 if value in makes else 0)
    assert value in makes or conflicting(puzzle, ["/constraints/1"]) == ("/constraints/1",)


def test_tables_that_leave_a_cell_no_digit_do_not_end_the_process(tmp_path):
    """OR-Tools 9.15 aborts on this one without presolve: misread totals and sums, met on a photographed page."""
    column = [Cell(row, 6) for row in range(5, 10)]
    bend = (column[4], Cell(9, 5), column[3], Cell(7, 7))
    misread = (
        Cage(cells=tuple(column[:3]), value=23, operation="sum", repeats=False),
        SumPair(cells=(column[2], column[3]), value=9),
        SumPair(cells=(column[3], column[4]), value=6),
        SumPair(cells=(Cell(8, 7), Cell(8, 8)), value=4),
        Arrow(circle=(Cell(9, 7),), shaft=(Cell(8, 7), Cell(8, 8))),
        Arrow(circle=(Cell(9, 7),), shaft=bend),
    )
    path = tmp_path / "misread.puzzle.json"
    path.write_text(puzzle_text(square(9).model_copy(update={"constraints": misread})), encoding="utf-8")
    command = [sys.executable, "-m", "clueprint", "check", path]
    run = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert run.returncode == 1, run.stderr
    assert "no solution" in run.stdout


def test_a_conflict_that_the_checker_does_not_trust_names_nothing(monkeypatch):
    def distrust(*arguments):
        raise CheckerFault("the solver's solution breaks a rule")

    monkeypatch.setattr(conflict, "find_quickly", distrust)
    assert conflicting(classic("11" + "." * 79), ["/givens/r1c1", "/givens/r1c2"]) == ()


def test_filled_grid_in_words():
    clue = Sandwich(side="left", index=2, value=22, wrap=True)
    puzzle = square(9, (3, 3), [clue])
    filled = parse_filled("." * 9 + "\n312984756\n" + "\n".join(["." * 9] * 7), puzzle.grid)
    assert [fault.why for fault in examine(puzzle, filled).broken] == [
        "left clue 22 of row 2, from the 1 rightwards to the 9: 2"
    ]


def test_filled_grid_against_the_solution():
    puzzle = classic(FIRST["givens"])
    solution = prove(puzzle).solution
    whole = examine(puzzle, parse_filled("\n".join(ROWS), puzzle.grid), solution)
    assert (whole.broken, whole.wrong, whole.empty) == ((), (), 0)
    wrong = "...2....." if ROWS[0][3] != "2" else "...1....."
    result = examine(puzzle, parse_filled("\n".join([wrong, *["........."] * 8]), puzzle.grid), solution)
    assert [(w.cell, w.digit, w.solution) for w in result.wrong] == [(Cell(1, 4), int(wrong[3]), int(ROWS[0][3]))]
    assert (result.broken, result.empty) == ((), 80)


@pytest.mark.parametrize(
    "text, problems",
    [
        ("1234\n", ["1 line for 4 rows"]),
        (
            "1234\n123\n1x34\n....\n",
            ["line 2 has 3 cells instead of 4", "line 3, cell 2: 'x' is no digit of this grid"],
        ),
        ("", ["0 lines for 4 rows"]),
    ],
)
def test_bad_filled_grids_name_every_problem(text, problems):
    with pytest.raises(BadGrid) as caught:
        parse_filled(text, square(4).grid)
    assert caught.value.problems == problems


def test_zero_is_a_digit_where_the_grid_has_it():
    assert parse_filled("0.12\n....\n....\n....", square(4, first=0).grid)[Cell(1, 1)] == 0
    assert Cell(1, 1) not in parse_filled("0.12\n....\n....\n....", square(4).grid)


def test_labels_longer_than_a_character_need_blanks():
    grid = Grid(rows=1, columns=10, digits=tuple(range(1, 11)))
    assert parse_filled("1 2 3 4 5 6 7 8 9 10", grid)[Cell(1, 10)] == 10
    with pytest.raises(BadGrid):
        parse_filled("12345678910", grid)


def test_generator_is_deterministic():
    one, other = (puzzle_text(make_puzzle(random.Random(5), ("thermometer",), 6)) for _ in range(2))
    assert one == other
