"""What `clueprint draw` draws, `clueprint read` reads: the same grid, givens, constraints and words, for every kind
that is read now, as vectors, and of each look as pixels."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.filled import examine
from clueprint.draw import draw
from clueprint.reading import read_sources
from fixtures.bench.places import PRESS
from fixtures.bench.same import differences
from schema.cells import Cell
from schema.files import load_puzzle
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.sandwich import Sandwich
from schema.kinds.thermometer import Thermometer
from schema.puzzle import Puzzle

SOLUTION = (
    (1, 2, 3, 4, 5, 6),
    (4, 5, 6, 1, 2, 3),
    (2, 3, 1, 5, 6, 4),
    (5, 6, 4, 2, 3, 1),
    (3, 1, 2, 6, 4, 5),
    (6, 4, 5, 3, 1, 2),
)
"""A filled 6x6 with boxes of two rows and three columns."""
LATIN = "Place the digits 1 to 6 once in every row and column."
BOXED = "Place the digits 1 to 6 once in every row, column and box."
RISING = "Digits increase along each thermometer, starting at the bulb."
NOT_FALLING = "Along each thermometer, digits never decrease from the bulb to the tip; they may stay the same."
BETWEEN = "Numbers outside the grid give the sum of the digits between the 1 and the 6 in that row or column."
IRREGULAR = (
    ("r1c1", "r1c2", "r1c3", "r2c1", "r2c2", "r3c1"),
    ("r1c4", "r1c5", "r1c6", "r2c3", "r2c4", "r2c5"),
    ("r2c6", "r3c6", "r4c6", "r3c5", "r4c5", "r3c4"),
    ("r3c2", "r3c3", "r4c1", "r4c2", "r4c3", "r4c4"),
    ("r5c1", "r6c1", "r5c2", "r6c2", "r5c3", "r6c3"),
    ("r5c4", "r5c5", "r5c6", "r6c4", "r6c5", "r6c6"),
)


def path(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


def six(rules: str, *marks: Constraint, boxes: bool = True) -> Puzzle:
    """The 6x6 with some of its digits given. Whether it has one solution does not matter to reading it."""
    grid = Grid(rows=6, columns=6, digits=tuple(range(1, 7)))
    frame: list[Constraint] = [Rows(), Columns(), *([Boxes.regular(grid, 2, 3)] if boxes else [])]
    given = {
        cell: SOLUTION[cell.row - 1][cell.column - 1] for cell in grid.cells() if (cell.row + cell.column) % 3 == 0
    }
    return Puzzle(
        title="Slack Water",
        setter="Fixture Press",
        rules_text=rules,
        grid=grid,
        givens=given,
        constraints=(*frame, *marks),
    )


def irregular() -> Puzzle:
    grid = Grid(rows=6, columns=6, digits=tuple(range(1, 7)))
    boxes = Boxes(cells=tuple(tuple(map(Cell.parse, box)) for box in IRREGULAR))
    rules = "Place the digits 1 to 6 once in every row, column and outlined region."
    givens = {Cell(1, 1): 1, Cell(2, 4): 1, Cell(4, 2): 4, Cell(6, 5): 2}
    return Puzzle(
        title="Slack Water", rules_text=rules, grid=grid, givens=givens, constraints=(Rows(), Columns(), boxes)
    )


PUZZLES = {
    "rows, columns": six(LATIN, boxes=False),
    "boxes": six(BOXED),
    "irregular boxes": irregular(),
    "thermometer": six(
        f"{BOXED} {RISING}",
        Thermometer(path=path("r1c1 r1c2 r2c3")),
        Thermometer(path=path("r5c2 r5c1 r4c1 r4c2")),
        Thermometer(path=path("r6c6 r5c5 r5c4")),
    ),
    "branched thermometer": six(
        f"{BOXED} {RISING}",
        Thermometer(path=path("r5c2 r5c3 r6c3")),
        Thermometer(path=path("r5c2 r5c3 r4c3 r4c2")),
    ),
    "slow thermometer": six(f"{BOXED} {NOT_FALLING}", Thermometer(path=path("r1c1 r2c1 r2c2"), strict=False)),
    "sandwich": six(
        f"{BOXED} {BETWEEN}",
        Sandwich(side="top", index=2, value=0),
        Sandwich(side="left", index=1, value=14),
        Sandwich(side="right", index=4, value=9),
        Sandwich(side="bottom", index=6, value=7),
    ),
    "harbour-lights": load_puzzle(PRESS / "harbour-lights.puzzle.json"),
    "quiet-ledger": load_puzzle(PRESS / "quiet-ledger.puzzle.json"),
    "winding-mill": load_puzzle(PRESS / "winding-mill.puzzle.json"),
}


AS_PIXELS = ("rows, columns", "irregular boxes", "branched thermometer", "sandwich", "harbour-lights")
"""One of each look: the others differ from these in what the rules say, or are read as pictures by other tests."""
CASES = [(name, ".pdf") for name in PUZZLES] + [(name, ".png") for name in AS_PIXELS]


def test_these_puzzles_are_what_they_should_be() -> None:
    digits = {Cell(r, c): digit for r, row in enumerate(SOLUTION, 1) for c, digit in enumerate(row, 1)}
    for name, puzzle in PUZZLES.items():
        assert puzzle.problems() == [], name
        if puzzle.grid.rows == 6 and name != "irregular boxes":
            assert examine(puzzle, digits).broken == (), name


@pytest.mark.parametrize(("name", "suffix"), CASES)
def test_drawn_and_read_again(tmp_path: Path, name: str, suffix: str) -> None:
    puzzle = PUZZLES[name]
    draw(puzzle, tmp_path / f"drawn{suffix}")
    outcome = read_sources([tmp_path / f"drawn{suffix}"], tmp_path)
    (read,) = outcome.puzzles
    assert read.puzzle is not None
    again = load_puzzle(tmp_path / read.puzzle)
    assert differences(again, puzzle) == [], [query.why for query in read.reading.queries]
    assert (again.title, again.setter) == (puzzle.title, puzzle.setter)
    assert again.rules_text == puzzle.rules_text


def test_read_drawn_and_read_again(tmp_path: Path) -> None:
    """From a page that `draw` did not make, twice round: the second file says what the first says."""
    first = read_sources([PRESS / "winding-mill-scan.jpg"], tmp_path).puzzles[0].puzzle
    assert first is not None
    draw(load_puzzle(tmp_path / first), tmp_path / "again.pdf")
    second = read_sources([tmp_path / "again.pdf"], tmp_path).puzzles[0].puzzle
    assert second is not None
    puzzle, again = load_puzzle(tmp_path / first), load_puzzle(tmp_path / second)
    assert differences(again, puzzle) == []
    assert (again.title, again.setter, again.rules_text) == (puzzle.title, puzzle.setter, puzzle.rules_text)
