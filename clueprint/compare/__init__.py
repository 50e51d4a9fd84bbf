"""A proof (PDF, scan or photo) against the puzzle file that it was set from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from checker.prove import prove
from clueprint.compare.choose import best_fit
from clueprint.compare.doubts import queries
from clueprint.compare.givens import given_findings
from clueprint.compare.held import Held, split
from clueprint.compare.many import in_measure
from clueprint.compare.marks import mark_findings
from clueprint.compare.printed import Printed, printed
from clueprint.compare.proof import Proof, read_proof
from clueprint.compare.result import Comparison, Finding
from clueprint.compare.whole import box_findings, size_finding
from clueprint.compare.words import printed_words, word_findings
from recognise.draft import Given
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

__all__ = ["Comparison", "Finding", "compare", "compare_proof"]

SECONDS = 5.0
"""For the proof of the puzzle as printed, which only adds a note."""


def compare_proof(path: Path, source: Puzzle) -> Comparison:
    """Hold every grid of a proof against a source, and tell how the one that it is differs.

    Raises Unreadable where nothing of the proof can be read."""
    return compare(read_proof(path, source), source)


def compare(proof: Proof, source: Puzzle) -> Comparison:
    """Hold a proof that was read against its source."""
    lost = tuple(Finding(f"page {fault.page} of the proof: {fault.why}", sure=False) for fault in proof.unreadable)
    grids = [printed(grid, source) for grid in proof.grids]
    best, others = best_fit(source, grids)
    if best is None:
        return _none_fits(proof, lost)
    words = printed_words(best.grid)
    held = Held(source, best, words)
    differences, asked = split([*in_measure(held, _findings(held)), *word_findings(source, words)])
    if best.grid.fault is not None:
        # Hardly anything of the picture can be read: what seems to differ is for a person, too.
        differences, asked = [], [*(replace(f, sure=False) for f in differences), *asked]
    note = _note(source, best) if differences else ""
    found = best.grid
    return Comparison(
        tuple(replace(f, note=note) for f in differences),
        (*asked, *queries(best, source), *map(_second, others), *lost),
        found.page.number,
        found.corners,
        shown=found.page,
    )


def _findings(held: Held) -> list[Finding]:
    """Everything on the grid that differs, or may differ; on a grid of another size nothing can be compared."""
    size = size_finding(held)
    return [size] if size is not None else [*box_findings(held), *given_findings(held), *mark_findings(held)]


def _second(other: Printed) -> Finding:
    """A grid that is nearly as like the source as the one that was compared."""
    why = "this grid is like the source, too, and was not compared"
    return Finding(why, page=other.grid.page.number, where=other.grid.corners, sure=False)


def _none_fits(proof: Proof, lost: tuple[Finding, ...]) -> Comparison:
    """No grid of the proof is the source's: a difference where all of them could be read, else a query."""
    if not proof.grids:
        why = "no puzzle was found on the proof"
        return Comparison((), (Finding(why, "", sure=False), *lost), shown=proof.first)
    count = len(proof.grids)
    some = "the only grid" if count == 1 else f"none of the {count} grids"
    why = f"{some} on the proof is this puzzle" if count > 1 else f"{some} on the proof is another puzzle"
    if any(grid.fault for grid in proof.grids) or lost:
        return Comparison((), (Finding(f"{why}, as far as it could be read", "", sure=False), *lost), shown=proof.first)
    return Comparison((Finding(why, "", "missing"),), lost, shown=proof.first)


def _note(source: Puzzle, proof: Printed) -> str:
    """What the puzzle as printed comes to, where it is no longer a good one."""
    puzzle = _as_printed(source, proof)
    if puzzle is None or puzzle.problems():
        return ""
    outcome = prove(puzzle, SECONDS).outcome
    if outcome == "none":
        return "the puzzle as the proof prints it has no solution"
    return "the puzzle as the proof prints it has several solutions" if outcome == "several" else ""


def _as_printed(source: Puzzle, proof: Printed) -> Puzzle | None:
    """The puzzle that the proof prints, with the rules of the source that have no mark; None for another size."""
    grid = proof.draft.grid
    if (grid.rows, grid.columns) != (source.grid.rows, source.grid.columns):
        return None
    values = [item.value for item in proof.draft.items]
    drawn: tuple[Constraint, ...] = tuple(
        c for value in values if not isinstance(value, Given) for c in value if c.marks != ("rule",) and c.understood
    )
    givens = {value.cell: value.digit for value in values if isinstance(value, Given)}
    alone = tuple(c for c in source.constraints if c.marks == ("rule",))
    return Puzzle(grid=source.grid, givens=givens, constraints=(*alone, *drawn))
