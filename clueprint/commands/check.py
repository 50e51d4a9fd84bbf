"""`clueprint check`: proves puzzles, and examines a grid that somebody has filled in."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from checker.filled import BadGrid, examine, read_filled
from checker.prove import TIME_LIMIT, prove
from clueprint.answers import Checked, document, told
from clueprint.commands.options import json_option, not_a_puzzle
from clueprint.errors import EXIT_CANNOT, EXIT_FINE, EXIT_LOOK, ClueprintError, complain
from schema.files import BadFile, load_puzzle
from schema.kinds.base import Digits
from schema.pointers import Problem
from schema.puzzle import Puzzle
from schema.reading import load_reading


def _seconds(_ctx: click.Context, _param: click.Parameter, value: float) -> float:
    if not (math.isfinite(value) and value > 0):
        raise click.BadParameter("give a number of seconds above 0")
    return value


@click.command()
@click.argument("puzzles", nargs=-1, required=True, metavar="PUZZLE...", type=click.Path(path_type=Path))
@click.option(
    "--filled",
    type=click.Path(path_type=Path),
    metavar="GRID",
    help="Check this filled grid too: a line for each row, a label for each cell, `.` for an empty one; or a reading,"
    " for what is written by hand in it.",
)
@json_option
@click.option(
    "--time-limit",
    type=float,
    default=TIME_LIMIT,
    show_default=True,
    callback=_seconds,
    metavar="SECONDS",
    help="Time that the proof of one puzzle may take.",
)
def check(puzzles: tuple[Path, ...], filled: Path | None, as_json: bool, time_limit: float) -> int:
    """Prove that each PUZZLE has exactly one solution.

    A puzzle with several solutions is shown with the cells that are not forced, one with none with a smallest set of
    items that cannot all be right.
    """
    if filled is not None and len(puzzles) != 1:
        raise ClueprintError(f"--filled checks a grid against one puzzle, not {len(puzzles)}", "name one puzzle file")
    answers: list[Checked] = []
    failures: list[dict[str, Any]] = []
    for path in puzzles:
        try:
            puzzle = load_puzzle(path)
        except BadFile as bad:
            failures.append(_failure(path, bad.problems))
            complain(not_a_puzzle(bad, "put it right and check again"))
            continue
        digits, problems = _filled_digits(filled, puzzle)
        if problems:
            failures.append({**_failure(path, problems), "filled": str(filled)})
        answers.append(_checked(path, puzzle, digits, time_limit))
        if not as_json:
            click.echo("\n".join(told(answers[-1])))
    if as_json:
        click.echo(json.dumps({"puzzles": [document(answer) for answer in answers], "failures": failures}, indent=2))
    if failures:
        return EXIT_CANNOT
    return EXIT_FINE if all(answer.fine for answer in answers) else EXIT_LOOK


def _failure(path: Path, problems: Sequence[Problem]) -> dict[str, Any]:
    return {"puzzle": str(path), "problems": [{"at": problem.at, "why": problem.why} for problem in problems]}


def _filled_digits(path: Path | None, puzzle: Puzzle) -> tuple[Digits | None, list[Problem]]:
    """The filled grid, if one was named and can be read, and what is wrong with its file."""
    if path is None:
        return None, []
    try:
        if _is_reading(path):
            return _written(path, puzzle), []
        return read_filled(path, puzzle.grid), []
    except OSError as error:
        problems = [f"it cannot be opened ({error.strerror})"]
    except BadGrid as bad:
        problems = bad.problems
    except BadFile as bad:
        problems = [f"{problem.at}: {problem.why}" if problem.at else problem.why for problem in bad.problems]
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    complain(f"{path}: no filled grid of this puzzle: {problems[0]}{more}; see `clueprint check --help`")
    return None, [Problem("", f"{path}: {problem}") for problem in problems]


def _is_reading(path: Path) -> bool:
    """Whether a file is a reading and no grid of text: a JSON object begins with a brace, which is no label."""
    with path.open("rb") as file:
        return file.read(64).removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"{")


def _written(path: Path, puzzle: Puzzle) -> Digits:
    """The givens, and what a reading says is written by hand; what could not be told as a digit counts as empty.
    Raises OSError, BadFile and BadGrid."""
    written = load_reading(path).pencilled
    digits = {cell: found.digit for cell, found in written.items() if found.digit is not None}
    problems = [f"{cell} is no cell of this grid" for cell in digits if cell not in puzzle.grid]
    problems += [f"{d} in {cell} is no digit of this grid" for cell, d in digits.items() if d not in puzzle.grid.digits]
    if problems:
        raise BadGrid(problems)
    return {**digits, **puzzle.givens}


def _checked(path: Path, puzzle: Puzzle, digits: Digits | None, time_limit: float) -> Checked:
    proof = prove(puzzle, time_limit)
    examination = None if digits is None else examine(puzzle, digits, proof.solution)
    return Checked(path, puzzle, proof, examination)
