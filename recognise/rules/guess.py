"""What sentences that nobody understands most likely state, whole stretches of them looked at together.

Their clauses are cut into stretches, each read by the patterns or by a frame (`frames.py`) or passed over, so that all
together come to most. Everything found here is put to a person.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from recognise.rules.frames import RELATIONS, framed
from recognise.rules.lexicon import bag
from recognise.rules.pattern import named
from recognise.rules.second import Clause, looked_at_again
from recognise.rules.sheet import Statement
from recognise.rules.words import Sentence

LONGEST_STRETCH = 7
_BY_PATTERN, _PER_STRETCH, _PER_CLAUSE, _PER_SENTENCE = 2.6, 0.5, 0.2, 0.45
_LEFT_OUT, _MOST_LEFT_OUT = 0.12, 0.5
"""What a stretch that a pattern accounts for is worth, what each stretch, clause and sentence more costs, and what it
costs to pass over a clause, for each relation in it."""


_MARKS = bag("THERMO BULB CAGE ARROW DOT BAR DIAMOND SIGN CIRCLE LETTER DIAGONAL LINE BOX ROW COLUMN")


class Told(Protocol):
    """What a pattern makes of a clause (`readings.Reading`)."""

    @property
    def statements(self) -> tuple[Statement, ...]:
        """What it states."""


Explain = Callable[[tuple[str, ...]], Told | None]


@dataclass(frozen=True, slots=True)
class Guess:
    """Statements, and the places of the sentences that they come from."""

    statements: tuple[Statement, ...]
    places: range


@dataclass(frozen=True, slots=True)
class _Path:
    worth: float
    before: int
    statements: tuple[Statement, ...]
    hard: bool = False


def guesses(sentences: Sequence[Sentence], explain: Explain) -> list[Guess]:
    """What sentences that follow each other state."""
    parts = [(at, clause) for at, s in enumerate(sentences) for clause in looked_at_again(s.text)]
    asked = {at for at, s in enumerate(sentences) if s.asks}
    paths = [_Path(0.0, 0, ())]
    for end in range(1, len(parts) + 1):
        skipped = parts[end - 1][1]
        best = _Path(paths[end - 1].worth - _loss(skipped), end - 1, (), hard=_may_break(skipped))
        for start in range(max(0, end - LONGEST_STRETCH), end):
            if parts[end - 1][0] in asked:
                break
            told = _told([clause for _, clause in parts[start:end]], explain)
            if told is None:
                continue
            borders = parts[end - 1][0] - parts[start][0]
            worth = told[1] - _PER_STRETCH - _PER_CLAUSE * (end - start - 1) - _PER_SENTENCE * borders
            if paths[start].worth + worth > best.worth:
                best = _Path(paths[start].worth + worth, start, told[0])
        paths.append(best)
    found: list[Guess] = []
    broken: set[int] = set()
    at = len(parts)
    while at:
        path = paths[at]
        if path.statements:
            found.append(Guess(path.statements, range(parts[path.before][0], parts[at - 1][0] + 1)))
        elif path.hard:
            broken.add(parts[at - 1][0])
        at = path.before
    judged = {at for at in range(len(sentences)) if _is_judged([clause for i, clause in parts if i == at])}
    return [
        g for g in found[::-1] if broken.isdisjoint(g.places) and not (len(g.places) == 1 and g.places[0] in judged)
    ]


def _is_judged(clauses: Sequence[Clause]) -> bool:
    """Whether the patterns knew every word of a short sentence: that they do not account for it has a reason."""
    return len(clauses) <= _FEW_CLAUSES and not any(clause.foreign for clause in clauses)


_FEW_CLAUSES = 2


_BREAKS = bag("OTHER EITHERWAY EXCEPT SECOND INSTEAD")
_DENIES = bag("NEG NEEDNOT FORBIDDEN OR")
_OF_RULES = RELATIONS - bag("OTHER EITHERWAY NEG NEEDNOT FORBIDDEN MANY COUNT")


def _may_break(clause: Clause) -> bool:
    """Whether a clause that is passed over may change what the rest of its sentence says."""
    names = {named(c) for c in clause.concepts}
    if not clause.foreign and names & _OF_RULES:
        return True
    return bool(names & _BREAKS or (names & _DENIES and names & (_OF_RULES | _MARKS)))


def _loss(clause: Clause) -> float:
    return min(_MOST_LEFT_OUT, _LEFT_OUT * sum(named(c) in RELATIONS for c in clause.concepts))


def _told(stretch: Sequence[Clause], explain: Explain) -> tuple[tuple[Statement, ...], float] | None:
    if _of_two_colours(stretch):
        return None
    concepts = tuple(c for clause in stretch for c in clause.concepts)
    pattern = explain(concepts)
    if pattern is not None and pattern.statements:
        return pattern.statements, _BY_PATTERN
    frame = framed(concepts, frozenset().union(*(clause.besides for clause in stretch)))
    return None if frame is None else (frame.statements, frame.score)


def _of_two_colours(stretch: Sequence[Clause]) -> bool:
    """Whether clauses tell different things of marks of different colours: `black: double, white: consecutive`."""
    colours = {frozenset(c for c in clause.concepts if c.startswith("COLOUR=")) for clause in stretch} - {frozenset()}
    telling = sum(any(named(c) in _OF_RULES for c in clause.concepts) for clause in stretch)
    return len(colours) > 1 and telling > 1
