"""Questions about marks that are not quite what the rules name, which the proof of the page answers.

Marks in another colour are taken for those that the rules speak of, for print fades and light has a colour, and letters
among numbers for numerals. A printed puzzle has one solution: where it has one with that, and none without these marks
or with anything else that the trade says of such marks, they were printed so."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.sentences import other_meanings, passing
from recognise.draft import Doubt, Draft, only_constraint
from recognise.interpret.meaning import AS_NUMERAL
from recognise.interpret.undecided import NO_SUCH_COLOUR
from schema.kinds.base import Constraint

SECONDS = 4.0
"""Of work, for all such questions of a page."""


def without_taken(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about colours and numerals that the proof answers."""
    asked: dict[tuple[str, str], list[tuple[Doubt, Constraint]]] = defaultdict(list)
    for doubt in draft.doubts:
        stated = None if doubt.item is None else only_constraint(draft.items[doubt.item].value)
        if stated is not None and doubt.why.endswith((NO_SUCH_COLOUR, AS_NUMERAL)):
            asked[stated.kind, doubt.why].append((doubt, stated))
    effort, puzzle = Effort(SECONDS), as_puzzle(draft)
    answered: list[Doubt] = []
    for group in asked.values():
        own = tuple(stated for _, stated in group)
        if not any(passing(puzzle, own, ((), *other_meanings(own)), effort)):
            answered += [doubt for doubt, _ in group]
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt not in answered))
