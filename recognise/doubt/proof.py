"""The proof as a guard: prove the draft, and where it fails look for the likeliest reading that would settle it."""

from __future__ import annotations

from dataclasses import dataclass

from checker.prove import Proof, prove
from checker.search import Effort
from recognise.doubt.alternatives import likeliest_of_several, settled_by_proof, settling, the_only
from recognise.doubt.conflicts import conflict_doubts
from recognise.doubt.farther import farther
from recognise.doubt.other_rules import settled_by_rules
from recognise.doubt.prize import without_prize_strip
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.readings import with_readings
from recognise.doubt.stray_number import without_stray_number
from recognise.doubt.swapped import settled_by_swapping
from recognise.draft import Doubt, Draft
from schema.puzzle import Puzzle

SECONDS = 10.0
"""Of work, for one proof. Nearly all take milliseconds; a page is not held up for longer than this."""


@dataclass(frozen=True, slots=True)
class Proven:
    """A draft with its proof. `proof` is None when the draft is no valid puzzle; `draft.doubts` then say why."""

    draft: Draft
    puzzle: Puzzle | None
    proof: Proof | None

    @property
    def is_unique(self) -> bool:
        """Whether exactly one solution was proved."""
        return self.proof is not None and self.proof.outcome == "one"


def proven(draft: Draft) -> Proven:
    """Prove a draft, its undecided marks read first. Where there is not exactly one solution, the likeliest changes
    that lead to one are made, marked `inferred` and put to a person."""
    draft = with_readings(without_stray_number(without_prize_strip(draft)))
    puzzle = as_puzzle(draft)
    problems = puzzle.problems()
    if problems:
        doubts = tuple(Doubt(f"{problem.at or 'the puzzle'}: {problem.why}") for problem in problems)
        return Proven(draft.doubting(*doubts), None, None)
    proof = prove(puzzle, Effort(SECONDS))
    if proof.outcome == "one":
        return Proven(draft, puzzle, proof)
    settled = _settled(draft) if proof.outcome in ("none", "several") else None
    if settled is None:
        return Proven(draft.doubting(*_failure(draft, proof)), puzzle, proof)
    puzzle = as_puzzle(settled)
    return Proven(settled, puzzle, prove(puzzle, Effort(SECONDS)))


def _settled(draft: Draft) -> Draft | None:
    """The draft read in another way that has exactly one solution: with lines that meet joined otherwise, or else in
    one that was thought of while reading, or else with the rules told otherwise, or else in one that is no likelier
    than such errors are, or else in the likeliest of several that were thought of."""
    if swapped := settled_by_swapping(draft):
        return swapped
    found = settling(draft)
    return (
        the_only(draft, found)
        or settled_by_rules(draft)
        or settled_by_proof(farther(draft))
        or likeliest_of_several(draft, found)
    )


def _failure(draft: Draft, proof: Proof) -> tuple[Doubt, ...]:
    if proof.outcome == "none":
        return tuple(conflict_doubts(draft, proof))
    if proof.outcome == "several":
        cells = ", ".join(map(str, proof.differ[:6])) + (" and more" if len(proof.differ) > 6 else "")
        return (Doubt(f"there are several solutions; they differ in {cells}"),)
    return (Doubt(f"it was not proved that there is one solution: {proof.note}"),)
