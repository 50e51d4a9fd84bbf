"""A second look at a sentence's words: those that stand for a concept in wilful voices only (second.txt).

`The horse never lands on its twin` is a knight's rule to whoever knows that a puzzle has such rules. A word of a tale
may stand for several things (a `gate` is a mark or the margin); the others are kept as what it may be too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from recognise.rules.counted import uncounted
from recognise.rules.lexicon import SECOND, SECOND_VOCABULARY, bag
from recognise.rules.words import CUT, UNKNOWN, VARIABLE, longest_phrase, plain_forms, tokens

_PARTS = bag("while whilst but whereas although though because which who whose")
"""Words that part clauses here, where each is looked at by itself."""
_GIVES_WAY = ("", UNKNOWN, VARIABLE, "FLAVOUR")
_LONGEST = max(map(len, SECOND))


@dataclass(frozen=True, slots=True)
class Clause:
    """The concepts of a clause in order, and the names of those that its words may stand for besides; `foreign` where
    it has a word that the lexicon does not have: what it has every word of, the patterns have judged."""

    concepts: tuple[str, ...]
    besides: frozenset[str]
    foreign: bool


@lru_cache(maxsize=1024)
def looked_at_again(sentence: str) -> tuple[Clause, ...]:
    """The clauses of a sentence as printed."""
    return tuple(_clauses(sentence))


def _clauses(sentence: str) -> Iterator[Clause]:
    found: list[str] = []
    besides: set[str] = set()
    foreign = False
    for concept, others, new in _read(list(tokens(sentence))):
        if concept in (CUT, "AND", "IF", "IFF") and found:
            yield Clause(uncounted(found), frozenset(besides), foreign)
            found, besides, foreign = [], set(), False
        if concept and concept != CUT:
            found += concept.split()
        besides.update(others)
        foreign |= new
    if found:
        yield Clause(uncounted(found), frozenset(besides), foreign)


def _read(words: list[str]) -> Iterator[tuple[str, tuple[str, ...], bool]]:
    """Each word or phrase: its concept, what it may stand for besides, whether the lexicon does not have it."""
    at = 0
    while at < len(words):
        length, concept = longest_phrase(words, at)
        wide, others = _wilful(words, at)
        if words[at] in _PARTS:
            yield CUT, (), False
        elif wide > length or (wide == length and concept in _GIVES_WAY):
            length = wide
            yield others[0], others[1:], True
        else:
            yield concept, others if wide == length else (), concept == UNKNOWN
        at += length


def _wilful(words: list[str], at: int) -> tuple[int, tuple[str, ...]]:
    """How many words from a place on are one phrase of second.txt, and what that may stand for."""
    forms = [_plain(word) for word in words[at : at + _LONGEST]]
    for length in range(len(forms), 0, -1):
        for phrase in product(*forms[:length]):
            if phrase in SECOND:
                return length, SECOND[phrase]
    return 0, ()


@lru_cache(maxsize=4096)
def _plain(word: str) -> tuple[str, ...]:
    return tuple(form for form in plain_forms(word) if form in SECOND_VOCABULARY)
