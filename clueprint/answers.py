"""What `clueprint check` answers: for people in lines, for programs as a document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from checker.filled import Examination
from checker.prove import Proof
from schema.cells import Cell
from schema.grid import Grid
from schema.puzzle import Puzzle
from schema.words import counted


@dataclass(frozen=True, slots=True)
class Checked:
    """One puzzle file with its proof, and the examination of a filled grid where there is one."""

    path: Path
    puzzle: Puzzle
    proof: Proof
    examination: Examination | None = None

    @property
    def fine(self) -> bool:
        """Whether there is nothing to look at."""
        filled = self.examination
        return self.proof.outcome == "one" and not self.unread and not (filled and (filled.broken or filled.wrong))

    @property
    def unread(self) -> int:
        """Marks of which nothing is known: whatever they mean, the proof left it out."""
        return sum(1 for constraint in self.puzzle.constraints if not constraint.understood)


def document(answer: Checked) -> dict[str, Any]:
    """The answer as `--json` prints it."""
    proof, filled = answer.proof, answer.examination
    solution = {str(cell): digit for cell, digit in proof.solution.items()} if proof.solution else None
    return {
        "puzzle": str(answer.path),
        "outcome": proof.outcome,
        "solution": solution,
        "differ": [str(cell) for cell in proof.differ],
        "conflict": [{"item": suspect.item, "why": suspect.why} for suspect in proof.conflict],
        "broken": [{"item": fault.item, "why": fault.why} for fault in (filled.broken if filled else ())],
        "wrong": [
            {"cell": str(wrong.cell), "digit": wrong.digit, "solution": wrong.solution}
            for wrong in (filled.wrong if filled else ())
        ],
        "empty": filled.empty if filled else None,
        "complete": proof.complete,
        "note": proof.note,
        "seconds": round(proof.seconds, 4),
    }


def told(answer: Checked) -> Iterator[str]:
    """The answer in lines for a person."""
    yield f"{answer.path}: {_headline(answer.proof)}"
    proof, grid = answer.proof, answer.puzzle.grid
    if proof.solution:
        yield from (f"  {line}" for line in grid_lines(grid, proof.solution))
    if proof.differ:
        yield f"  {' '.join(map(str, proof.differ))}"
    for suspect in proof.conflict:
        yield f"  {suspect.why}  [{suspect.item}]"
    if answer.unread:
        yield f"  {counted(answer.unread, 'mark')} could not be read, and the proof knows nothing of them"
    if answer.examination:
        yield from _examined(answer.examination, proof, grid)


def _headline(proof: Proof) -> str:
    time = f"({proof.seconds:.2f} s)"
    if proof.outcome == "one":
        return f"exactly one solution {time}"
    if proof.outcome == "several":
        least = "" if proof.complete else "at least "
        return f"several solutions; not forced: {least}{counted(len(proof.differ), 'cell')} {time}"
    if proof.outcome == "none":
        doubt = "" if proof.complete else ", and perhaps not all of them matter"
        return f"no solution; these cannot all be right{doubt} {time}"
    return f"not settled: {proof.note or 'time ran out'}; `--time-limit` allows more {time}"


def _examined(filled: Examination, proof: Proof, grid: Grid) -> Iterator[str]:
    for fault in filled.broken:
        yield f"  filled grid: {fault.why}  [{fault.item}]"
    for wrong in filled.wrong:
        yield f"  filled grid: {wrong.cell} holds {grid.label(wrong.digit)}, the solution {grid.label(wrong.solution)}"
    empty = f", {counted(filled.empty, 'cell')} still empty" if filled.empty else ""
    if filled.broken or filled.wrong:
        broken, wrong_cells = counted(len(filled.broken), "broken rule"), counted(len(filled.wrong), "wrong cell")
        yield f"  filled grid: {broken}, {wrong_cells}{empty}"
    elif proof.outcome == "one":
        yield f"  filled grid: right{empty}"
    else:
        yield f"  filled grid: breaks no rule by itself{empty}"


def grid_lines(grid: Grid, digits: Mapping[Cell, int]) -> Iterator[str]:
    """A grid as lines of labels, `.` for an empty cell, columns one under the other."""
    width = max(len(grid.label(digit)) for digit in grid.digits)
    for row in range(1, grid.rows + 1):
        labels = (grid.label(digits[cell]) if cell in digits else "." for cell in grid.row(row))
        yield " ".join(label.rjust(width) for label in labels)
