"""Which grid of a proof is the source's."""

from __future__ import annotations

from collections.abc import Sequence

from clueprint.compare.match import says_the_same
from clueprint.compare.printed import Printed
from clueprint.compare.source import marks_of
from clueprint.compare.texts import same_words
from recognise.draft import Given
from schema.puzzle import Puzzle

FITS = 0.35
"""From this share of common items on a grid is the source's puzzle. Two puzzles of one size share a given by chance
once in some twenty; a proof that differs from its source in a third of all items is more than badly set."""
NAMED = 0.3
"""What the same title counts."""
AS_LIKE = 0.8
"""From this part of the best likeness on, another grid may be the same puzzle, printed a second time."""
OTHER_SIZE = 0.5
"""A grid of another size is taken only where none of the right size fits."""


def best_fit(source: Puzzle, grids: Sequence[Printed]) -> tuple[Printed | None, tuple[Printed, ...]]:
    """The grid that is most like the source (None where none is like it enough), and all that are nearly as like."""
    scored = sorted(((fit(source, grid), -n) for n, grid in enumerate(grids)), reverse=True)
    fitting = [(score, grids[-n]) for score, n in scored if score >= FITS]
    if not fitting:
        return None, ()
    best = fitting[0][0]
    return fitting[0][1], tuple(grid for score, grid in fitting[1:] if score >= AS_LIKE * best)


def fit(source: Puzzle, proof: Printed) -> float:
    """The share of items that source and proof have in common, 0 to 1, and more for the same title."""
    expected = marks_of(source)
    found = [mark.constraint for mark in proof.marks]
    givens = {
        cell: item.value.digit for cell, i in proof.givens.items() if isinstance((item := proof.item(i)).value, Given)
    }
    common = sum(source.givens.get(cell) == digit for cell, digit in givens.items())
    common += sum(any(says_the_same(one, other) for other in found) for one in expected)
    count = len(expected) + len(found) + len(givens) + len(source.givens)
    share = 2 * common / count if count else 1.0
    title = proof.grid.words.title
    named = NAMED if source.title and title and same_words(source.title, title) else 0.0
    size = (source.grid.rows, source.grid.columns) == (proof.draft.grid.rows, proof.draft.grid.columns)
    return (share + named) * (1.0 if size else OTHER_SIZE)
