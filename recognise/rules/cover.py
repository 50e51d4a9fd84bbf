"""The cheapest way to account for all clauses of a text: clauses are tried alone and joined with those that follow."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass

from recognise.rules.readings import Explain, Reading, explain, explain_loosely, subject_of
from recognise.rules.swallows import (
    Atom,
    breaks_off,
    loses_a_sentence,
    mixes_colours,
    narrows,
    swallows,
    swallows_a_sentence,
    takes_back,
)

LONGEST_SEGMENT = 13
"""Clauses that may make one statement together; the longest definitions in print have about so many."""
UNEXPLAINED = 100.0
JOINED = 1.05
ACROSS_SENTENCES = 0.6
"""Costs: a clause left over outweighs any way to read it. Joining two clauses costs a little more than a statement,
so that clauses which stand alone are read alone; joining sentences is a last resort."""


@dataclass(frozen=True, slots=True)
class _Path:
    cost: float
    subject: tuple[str, ...]
    before: int
    reading: Reading | None


@dataclass(frozen=True, slots=True)
class _Part:
    """A run of clauses and how it is understood; `clauses` are places in the list of all."""

    clauses: range
    reading: Reading | None


def strictly_then_loosely(atoms: Sequence[Atom], asked: frozenset[int]) -> list[tuple[range, Reading | None]]:
    """Every sentence by patterns that account for each word; what is left by looser ones. A sentence that was
    understood keeps its reading whatever stands beside it, and lends no clause to one that was not."""
    broken: frozenset[int] = frozenset()
    while True:
        parts = _cover(atoms, explain, asked, broken)
        more = _broken(atoms, parts)
        if more == broken:
            break
        broken = more
    if broken:
        kept = {part.clauses.stop: part for part in parts if not _of(atoms, part) & broken}
        parts = _cover(atoms, explain_loosely, asked, kept=kept)
    return [(_where(atoms, part), part.reading) for part in parts]


def _of(atoms: Sequence[Atom], part: _Part) -> set[int]:
    return {atoms[at][0] for at in part.clauses}


def _broken(atoms: Sequence[Atom], parts: Sequence[_Part]) -> frozenset[int]:
    """The sentences with a clause that is not understood."""
    return frozenset(i for part in parts if part.reading is None for i in _of(atoms, part))


def _where(atoms: Sequence[Atom], part: _Part) -> range:
    return range(atoms[part.clauses.start][0], atoms[part.clauses.stop - 1][0] + 1)


def cheapest(
    atoms: Sequence[Atom], explain: Explain, asked: frozenset[int] = frozenset()
) -> list[tuple[range, Reading | None]]:
    """The cheapest cover of all clauses: (their sentences, how they are understood), in order."""
    return [(_where(atoms, part), part.reading) for part in _cover(atoms, explain, asked)]


def _cover(
    atoms: Sequence[Atom],
    explain: Explain,
    asked: frozenset[int] = frozenset(),
    broken: frozenset[int] = frozenset(),
    kept: Mapping[int, _Part] | None = None,
) -> list[_Part]:
    """The cheapest cover of all clauses, in order. Clauses of `broken` sentences are left over; the parts `kept`, by
    their ends, stay as they are."""
    kept = kept or {}
    settled = {at for part in kept.values() for at in part.clauses}
    closed = {at for at, (i, _) in enumerate(atoms) if i in broken} | settled
    paths = [_Path(0.0, (), 0, None)]
    for end in range(1, len(atoms) + 1):
        skipped = _Path(paths[-1].cost + UNEXPLAINED, (), end - 1, None)
        if end - 1 not in settled:
            paths.append(_cheapest(end, paths, skipped, atoms, explain, asked, closed))
        else:
            # Within a part that is kept there is no end; the path that is put there is never taken.
            paths.append(_along(kept[end], paths, atoms) if end in kept else skipped)
    return _parts_of(paths)


def _along(part: _Part, paths: Sequence[_Path], atoms: Sequence[Atom]) -> _Path:
    """The path to the end of a part that is kept."""
    before = paths[part.clauses.start]
    told = tuple(c for at in part.clauses for c in atoms[at][1])
    return _Path(before.cost, subject_of(told) or before.subject, part.clauses.start, part.reading)


def _cheapest(
    end: int,
    paths: Sequence[_Path],
    skipped: _Path,
    atoms: Sequence[Atom],
    explain: Explain,
    asked: frozenset[int],
    closed: Container[int],
) -> _Path:
    """The cheapest path to `end` (a number of clauses): the last one `skipped`, or some of the last ones understood
    together, of which none is `closed`; `paths` are those to all earlier ends."""
    best = skipped
    for start in range(end - 1, max(0, end - LONGEST_SEGMENT) - 1, -1):
        if start in closed:
            break
        clause = tuple(c for _, atom in atoms[start:end] for c in atom)
        same = start > 0 and atoms[start - 1][0] == atoms[start][0]
        several = atoms[start][0] != atoms[end - 1][0]
        if several and any(apart(atoms[start:end]) for apart in (mixes_colours, takes_back, narrows)):
            continue
        reading = explain(clause, paths[start].subject, same)
        if reading is None or (reading.statements and atoms[end - 1][0] in asked):
            continue
        if swallows([atom for _, atom in atoms[start:end]]) or swallows_a_sentence(atoms, start, end):
            continue
        borders = atoms[end - 1][0] - atoms[start][0]
        if borders > 1 and all(s.kind == "all-marked" for s in reading.statements) and reading.statements:
            continue  # whether all marks are there is told in a sentence or two: more say what they mean
        if borders and (same or breaks_off(atoms, start, end) or loses_a_sentence(atoms[start:end], reading)):
            continue
        cost = paths[start].cost + reading.cost + JOINED * (end - start - 1) + ACROSS_SENTENCES * borders
        if cost <= best.cost:
            best = _Path(cost, subject_of(clause) or paths[start].subject, start, reading)
    return best


def _parts_of(paths: Sequence[_Path]) -> list[_Part]:
    """The parts of which the path to the last end is made, in order."""
    found: list[_Part] = []
    at = len(paths) - 1
    while at:
        path = paths[at]
        found.append(_Part(range(path.before, at), path.reading))
        at = path.before
    return found[::-1]
