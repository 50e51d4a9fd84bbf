"""Counts and worked examples from outside the project; each names its source."""

from __future__ import annotations

import gzip
import re
from collections import Counter
from functools import cache
from itertools import combinations, permutations, product
from math import comb
from pathlib import Path

import pytest
from making import DATA, EXAMPLES, classic, killer, one_row, square, text_of

from checker.prove import is_unique, prove, solve_many
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage
from schema.kinds.diagonal import Diagonal
from schema.kinds.gap_line import GapLine
from schema.kinds.sandwich import Sandwich
from schema.kinds.skyscraper import Skyscraper, _counts_left
from schema.kinds.thermometer import Thermometer
from schema.puzzle import Puzzle

GECODE = Path("/usr/share/doc/libgecode-doc/examples/sudoku-instances.hh.gz")
NINE = tuple(Cell(1, n) for n in range(1, 10))
EIGHT = NINE[:8]
BOTH_DIAGONALS = (Diagonal(direction="down"), Diagonal(direction="up"))


def listed_counts():
    lines = (line for line in (DATA / "counts.txt").read_text("utf-8").splitlines() if not line.startswith("#"))
    return [tuple(part.strip() for part in line.split("|")) for line in lines if line.strip()]


def count(puzzle, limit=100_000):
    solutions, complete = solve_many(puzzle, limit, time_limit=100)
    assert complete
    return len(solutions)


@pytest.mark.parametrize("name, size, box, extra, number, source", listed_counts(), ids=lambda value: str(value)[:12])
def test_published_counts(name, size, box, extra, number, source):
    shape = None if box == "-" else tuple(map(int, box.split("x")))
    puzzle = square(int(size), shape, BOTH_DIAGONALS if extra == "diagonals" else ())
    assert count(puzzle) == int(number), source


@pytest.mark.parametrize("name", [name for name, example in EXAMPLES.items() if "givens" in example])
def test_worked_examples(name):
    """Sources stand in tests/data/worked_examples.json."""
    proof = prove(classic(EXAMPLES[name]["givens"]))
    assert proof.outcome == "one"
    assert text_of(proof.solution) == EXAMPLES[name]["solution"]


def test_worked_killer():
    """CSPLib problem 057, CC BY 4.0."""
    example = EXAMPLES["csplib-057-killer"]
    proof = prove(killer(example))
    assert (proof.outcome, text_of(proof.solution)) == ("one", example["solution"])


@pytest.mark.parametrize("seen, number", zip(range(1, 7), (120, 274, 225, 85, 15, 1), strict=True))
def test_skyscraper_rows_of_six(seen, number):
    """Stirling numbers of the first kind, OEIS A132393, row 6; Abramowitz & Stegun pp. 833-834."""
    assert count(one_row(6, Skyscraper(side="left", index=1, value=seen))) == number


def test_skyscraper_rows_of_four():
    """Khovanova & Lewis, J. Integer Sequences 16 (2013) 13.7.2."""
    clues = [Skyscraper(side=side, index=1, value=2) for side in ("left", "right")]
    solutions, complete = solve_many(one_row(4, *clues), 100)
    assert complete
    assert sorted(map(text_of, solutions)) == ["1423", "2143", "2413", "3142", "3241", "3412"]


@pytest.mark.parametrize("gap, number", [(4, 72), (5, 0)])
def test_rows_with_gaps(gap, number):
    """OEIS A179957, A179958."""
    line = GapLine(path=tuple(Cell(1, n) for n in range(1, 10)), gap=gap)
    assert count(one_row(9, line)) == number


def test_rows_of_seven_with_gap_two():
    """OEIS A002464: permutations of 1..7 in which no neighbours are consecutive."""
    line = GapLine(path=tuple(Cell(1, n) for n in range(1, 8)), gap=2)
    assert count(one_row(7, line)) == 646


@pytest.mark.parametrize("length", range(2, 10))
def test_thermometers(length):
    """Binomial coefficients."""
    path = tuple(Cell(1, n) for n in range(1, length + 1))
    grid = Grid(rows=1, columns=length, digits=tuple(range(1, 10)))
    assert count(Puzzle(grid=grid, givens={}, constraints=(Thermometer(path=path),))) == comb(9, length)


@pytest.mark.parametrize("total, number", enumerate((1, 1, 2, 3, 4, 5, 7, 7, 8, 8, 8, 7, 7, 5, 4, 3, 2, 1, 1), 6))
def test_cages_of_three(total, number):
    """Combinations; each fills the cells in 6 orders. Reproduced by brute force, no source."""
    cells = tuple(Cell(1, n) for n in range(1, 4))
    grid = Grid(rows=1, columns=3, digits=tuple(range(1, 10)))
    puzzle = Puzzle(grid=grid, givens={}, constraints=(Cage(cells=cells, value=total),))
    assert count(puzzle) == 6 * number


@pytest.mark.parametrize("total", [1, 34])
def test_impossible_sandwiches(total):
    """Computed, no source: 1 and 34 cannot stand between."""
    proof = prove(one_row(9, Sandwich(side="left", index=1, value=total)))
    assert proof.outcome == "none"
    assert "/constraints/1" in [suspect.item for suspect in proof.conflict]


def test_sandwich_sums_of_six():
    """Every row of six has one sandwich sum, so that the counts of all sums make 6! = 720 (from the definition)."""
    counts = Counter({value: count(one_row(6, Sandwich(side="left", index=1, value=value))) for value in range(15)})
    assert counts.total() == 720
    assert counts[0] == 240  # 2 x 5 places side by side x 4! orders of the rest


@pytest.mark.parametrize("clue", [7, 14, 26])
def test_sandwiches_of_the_trade(clue):
    """Common practice, no source: 7 is 7, 2 5 or 3 4; 14 in two digits is 6 8; 26 needs at least 5 6 7 8."""
    solutions, _ = solve_many(one_row(9, Sandwich(side="left", index=1, value=clue)), 400)
    fillings = {frozenset(_between(text_of(solution))) for solution in solutions}
    assert all(sum(map(int, filling)) == clue for filling in fillings)
    if clue == 7:
        assert fillings <= {frozenset("7"), frozenset("25"), frozenset("34")}
    if clue == 14:
        assert {filling for filling in fillings if len(filling) == 2} <= {frozenset("68")}
    if clue == 26:
        assert min(map(len, fillings)) >= 4


def _between(row):
    ends = sorted((row.index("1"), row.index("9")))
    return row[ends[0] + 1 : ends[1]]


def test_forward_and_backward_sandwiches_make_35():
    """Common practice, no source: from the 1 to the 9 and from the 9 to the 1 make 35."""
    solutions, _ = solve_many(one_row(9, Sandwich(side="left", index=1, value=12, wrap=True)), 200)
    for solution in solutions:
        ring = text_of(solution) * 2
        after = ring[ring.index("9") + 1 :]
        assert sum(map(int, after[: after.index("1")])) == 35 - 12


def test_three_givens_never_settle_a_four_by_four():
    """Reproduced by brute force, no source: no 4x4 has one solution with 3 givens; every seventh set of 3 cells."""
    solution = solve_many(square(4, (2, 2)), 1)[0][0]
    for cells in list(combinations(solution, 3))[::7]:
        assert is_unique(square(4, (2, 2), givens={cell: solution[cell] for cell in cells})) is False


@pytest.mark.skipif(not GECODE.exists(), reason="the Debian package libgecode-doc is not installed")
def test_gecode_instances():
    """91 instances of Debian's libgecode-doc, read at test time: the 9x9 ones have exactly one solution."""
    text = gzip.decompress(GECODE.read_bytes()).decode("latin-1")
    tables = re.findall(r"\{((?:\s*\{[\d,\s]+\},?)+)\s*\}", text)
    grids = [[int(n) for n in re.findall(r"\d+", table)] for table in tables]
    nines = [grid for grid in grids if len(grid) == 81]
    assert nines
    assert all(is_unique(classic("".join(str(n) if n else "." for n in grid))) for grid in nines[:20])


def rows_obeying(constraint):
    """How many orders of 1..8 the rule itself, without a solver, leaves standing: twice those that begin lower than
    they end, for rules that read the same from both ends."""
    setting = one_row(8, constraint).setting
    return 2 * sum(
        not constraint.broken(setting, dict(zip(EIGHT, order, strict=True)))
        for order in permutations(range(1, 9))
        if order[0] < order[-1]
    )


@cache
def skylines():
    """For each order of 1..8 how many digits the kind, without a solver, sees from the left."""
    digits = tuple(range(1, 9))
    seen = {order: _counts_left(order, digits, False) for order in permutations(digits)}
    assert all(len(counts) == 1 for counts in seen.values())
    return {order: counts.pop() for order, counts in seen.items()}


@pytest.mark.slow
@pytest.mark.parametrize("seen, number", enumerate((5040, 13068, 13132, 6769, 1960, 322, 28, 1), 1), ids=str)
def test_skyscraper_rows_of_eight(seen, number):
    """Stirling numbers of the first kind, OEIS A132393, row 8; Abramowitz & Stegun pp. 833-834."""
    assert Counter(skylines().values())[seen] == number


@pytest.mark.slow
def test_skyscraper_rows_of_eight_from_both_ends():
    """Khovanova & Lewis, J. Integer Sequences 16 (2013) 13.7.2: three from each end, which is the binomial of 4 over
    2 times the Stirling number of 7 over 4, 735."""
    seen = skylines()
    assert sum(count == 3 and seen[order[::-1]] == 3 for order, count in seen.items()) == 6 * 735


@pytest.mark.slow
@pytest.mark.parametrize(
    "constraint, number",
    [
        pytest.param(GapLine(path=EIGHT, gap=2), 5242, id="gap 2, OEIS A002464"),
        pytest.param(Sandwich(side="left", index=1, value=0), 2 * 5040, id="sandwich 0, computed, no source"),
    ],
)
def test_rows_of_eight_by_the_rule_itself(constraint, number):
    assert rows_obeying(constraint) == number


def test_rows_with_gap_three_by_the_solver():
    """OEIS A127697."""
    assert count(one_row(9, GapLine(path=NINE, gap=3))) == 3984


def test_rows_with_the_largest_sandwich_by_the_solver():
    """Computed, no source."""
    assert count(one_row(9, Sandwich(side="left", index=1, value=35))) == 10080


@pytest.mark.parametrize("length, number", enumerate((20, 60, 170, 492, 1414), 2))
def test_lines_with_gap_five(length, number):
    """Repeats allowed. Computed, no source."""
    path = NINE[:length]
    grid = Grid(rows=1, columns=length, digits=tuple(range(1, 10)))
    assert count(Puzzle(grid=grid, givens={}, constraints=(GapLine(path=path, gap=5),))) == number


SUBSETS = (1, 1, 1, 2, 2, 3, 4, 5, 6, 8, 9, 10, 12, 13, 15, 17, 18, 19, 21, 21, 22, 23, 23)


def test_subsets_by_sum():
    """Subsets of 1..9 by their sum, OEIS A053632, row 9: cages of every size that some digits fill, by the rule."""
    counts = Counter()
    for size in range(10):
        for digits in combinations(range(1, 10), size):
            total = sum(digits)
            counts[total] += 1
            if size > 1:
                cells = NINE[:size]
                setting = one_row(9).setting
                cage = Cage(cells=cells, value=total)
                held = dict(zip(cells, digits, strict=True))
                assert cage.broken(setting, held) == []
                assert cage.model_copy(update={"value": total + 1}).broken(setting, held)
    assert tuple(counts[total] for total in range(46)) == SUBSETS + SUBSETS[::-1]
    assert counts.total() == 512


def _four_by_fours():
    """The 288 grids with 2x2 boxes, as tuples of 16 digits."""
    orders = list(permutations((1, 2, 3, 4)))
    for rows in product(orders, repeat=4):
        boxes = [{rows[r][c], rows[r][c + 1], rows[r + 1][c], rows[r + 1][c + 1]} for r in (0, 2) for c in (0, 2)]
        if all(len(set(column)) == 4 for column in zip(*rows, strict=True)) and all(len(box) == 4 for box in boxes):
            yield sum(rows, ())


def test_four_by_fours_with_four_givens():
    """Exactly 25,728 puzzles of four givens have one solution, and none of three. Reproduced by brute force, no
    source; a sample of both kinds is put to the checker."""
    grids = list(_four_by_fours())
    assert len(grids) == 288  # OEIS A107739
    settled = []
    loose = []
    for size in (3, 4):
        for places in combinations(range(16), size):
            seen = Counter(tuple(grid[place] for place in places) for grid in grids)
            for digits, times in seen.items():
                (settled if times == 1 else loose).append((places, digits))
    assert len(settled) == 25728
    assert all(len(places) == 4 for places, _ in settled)
    for puzzles, unique in ((settled[::800], True), (loose[::2000], False)):
        for places, digits in puzzles:
            cells = [Cell(place // 4 + 1, place % 4 + 1) for place in places]
            assert is_unique(square(4, (2, 2), givens=dict(zip(cells, digits, strict=True)))) is unique
