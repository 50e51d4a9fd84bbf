"""What is made of sentences that state nothing: those that nobody understands, and those taken for talk too lightly.

Sentences that follow each other are looked at together (`guess.py`); where the text as a whole speaks against what
they were taken for, that is dropped, and what it speaks for is looked for in those still left (`opined.py`). All of it
is put to a person.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass

from recognise.rules.conclude import clash
from recognise.rules.guess import Told, guesses
from recognise.rules.opined import Opinion, answers_of
from recognise.rules.rulelike import looks_beside
from recognise.rules.sheet import Statement
from recognise.rules.words import Sentence


@dataclass(frozen=True, slots=True)
class Found:
    """Statements and the sentences that they come from, which follow each other."""

    statements: tuple[Statement, ...]
    sentences: Sequence[Sentence]


def found_in(
    parts: Sequence[Sentence],
    silent: Set[int],
    rule_like: Set[int],
    told: Sequence[Statement],
    explain: Callable[[tuple[str, ...]], Told | None],
) -> list[Found]:
    """What sentences most likely state that state nothing yet. `silent` are their places among all the sentences of the
    text, `rule_like` the places of those that speak as rules do, `told` what the others state."""
    opinion = Opinion([s.text for s in parts])
    known = list(told)
    found: list[Found] = []
    for run in _runs(parts, silent, rule_like):
        for guess in guesses([parts[at] for at in run], explain):
            statements = _believed(guess.statements, [parts[run[i]].text for i in guess.places], opinion, known)
            known += statements
            if statements:
                found.append(Found(statements, [parts[run[at]] for at in guess.places]))
    used = {id(s) for one in found for s in one.sentences}
    for at in sorted(silent & rule_like):
        if id(parts[at]) not in used and not parts[at].asks:
            answers = {answer for s in known for answer in answers_of(s.kind, s.fields, s.negated)}
            statements = _believed(opinion.of(parts[at].text, answers), [parts[at].text], opinion, known)
            known += statements
            if statements:
                found.append(Found(statements, [parts[at]]))
    return found


def _runs(parts: Sequence[Sentence], silent: Set[int], rule_like: Set[int]) -> list[list[int]]:
    runs: list[list[int]] = [[]]
    for at, sentence in enumerate(parts):
        if at in silent or (at not in rule_like and not looks_beside(sentence, at)):
            runs[-1].append(at)
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


def _believed(
    statements: Sequence[Statement], sentences: Sequence[str], opinion: Opinion, known: Sequence[Statement]
) -> tuple[Statement, ...]:
    return tuple(
        s for s in statements if not opinion.denies(s, sentences) and not any(clash(s, other) for other in known)
    )
