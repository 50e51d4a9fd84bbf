"""How many solutions a page's puzzle has with something else in place of one of its items, asked again and again.

A number that may be any other of fifty need not be solved fifty times: the puzzle without the item has every solution
that it has with another number, and mostly few or one. These are found once, and held against whatever the item might
state."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from checker.prove import is_unique, some_solutions
from checker.search import Effort, Solution
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Value
from schema.kinds.all_marked import MARKED_KINDS, AllMarked
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

ONE, ALL = 0.5, 1.5
"""Of work, for a proof, nearly all of which take milliseconds; and for all solutions without an item, which stand for
many proofs."""
MOST = 40
"""Solutions of a puzzle without an item that are looked for: with more of them it is a loose one."""
_PAIRS = tuple(MARKED_KINDS.values())


@dataclass(slots=True)
class Instead:
    """The other ways of one item of a draft: how far the puzzle has one solution with each."""

    draft: Draft
    index: int
    effort: Effort
    _asked: int = 0
    _without: Without | None = field(default=None, init=False)

    def __call__(self, value: Value, impossible: float = 0.0) -> float:
        """1 where the puzzle has one solution with `value` in the item's place, or where that cannot be told, 0 where
        it has not; `impossible` where the value does not go with the other items: a number that cannot be was not
        printed."""
        puzzle = as_puzzle(with_values(self.draft, {self.index: value}))
        if puzzle.problems():
            return impossible
        if not self.effort.left:
            return 1.0
        return 0.0 if self._is_unique(puzzle) is False else 1.0

    def _is_unique(self, puzzle: Puzzle) -> bool | None:
        self._asked += 1
        if self._asked > 1:
            # One proof more costs less than all solutions: from the second on they are worth it.
            if self._without is None:
                self._without = Without.of(self.draft, self.index, self.effort.part(ALL))
            count = self._without.count(puzzle)
            if count is not None:
                return count == 1
        return is_unique(puzzle, self.effort.part(ONE))


@dataclass(frozen=True, slots=True)
class Without:
    """The puzzle without one item, and its solutions, all of them when `complete`."""

    puzzle: Puzzle
    solutions: tuple[Solution, ...]
    complete: bool

    @classmethod
    def of(cls, draft: Draft, index: int, effort: Effort) -> Without:
        """Solve the puzzle of a draft without one of its items. That all pairs are marked says less the more of them
        are: without a mark of a pair that rule is left out too."""
        puzzle = as_puzzle(with_values(draft, {index: ()}))
        value = draft.items[index].value
        if isinstance(value, tuple) and any(isinstance(c, _PAIRS) for c in value):
            left = tuple(c for c in puzzle.constraints if not isinstance(c, AllMarked))
            puzzle = puzzle.model_copy(update={"constraints": left})
        solutions, complete = some_solutions(puzzle, MOST, effort) if not puzzle.problems() else ([], False)
        return cls(puzzle, tuple(solutions), complete)

    def count(self, puzzle: Puzzle) -> int | None:
        """How many solutions this puzzle with something more has, 2 standing for more than one; None where that cannot
        be told from here."""
        more = self._more(puzzle)
        if more is None:
            return None
        count = 0
        for solution in self.solutions:
            count += _holds(puzzle, more, solution)
            if count > 1:
                return count
        return count if self.complete else None

    def _more(self, puzzle: Puzzle) -> list[Constraint] | None:
        """The constraints that a puzzle has and this one has not; None where this one says anything that the other does
        not, or that means something else there: which cells hold every digit, and which pairs are marked."""
        own = {id(c) for c in self.puzzle.constraints}
        more = [c for c in puzzle.constraints if id(c) not in own]
        kept = len(puzzle.constraints) - len(more) == len(self.puzzle.constraints) and puzzle.grid == self.puzzle.grid
        if not kept or not self.puzzle.givens.items() <= puzzle.givens.items() or any(_wholes(puzzle, more)):
            return None
        all_marked = any(isinstance(c, AllMarked) for c in self.puzzle.constraints)
        return None if all_marked and any(isinstance(c, _PAIRS) for c in more) else more


def with_values(draft: Draft, values: Mapping[int, Value]) -> Draft:
    """The draft with some items, by their index, stating something else."""
    return replace(
        draft,
        items=tuple(replace(item, value=values.get(index, item.value)) for index, item in enumerate(draft.items)),
    )


def _wholes(puzzle: Puzzle, constraints: list[Constraint]) -> Iterator[bool]:
    return (bool(tuple(c.wholes(puzzle.grid))) for c in constraints)


def _holds(puzzle: Puzzle, more: list[Constraint], solution: Solution) -> bool:
    """Whether a solution is one of a puzzle that says more."""
    givens = all(solution[cell] == digit for cell, digit in puzzle.givens.items())
    return givens and not any(c.broken(puzzle.setting, solution) for c in more)
