"""Rules that several sentences tell together, none of which states them by itself: `Find the 1. Walk on to the right
until you meet the 9. What you pass adds up to the number.`

Put as one sentence, the language network hears in them what it does not hear in each. Whatever it hears so is put to a
person, or to the proof of the page (`recognise/doubt/sentences.py`).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from recognise.rules.agreed import OTHERWISE
from recognise.rules.by_sense import DIGITS, HALF, SURE, Senses
from recognise.rules.claims import is_claim
from recognise.rules.exceptions import makes_an_exception, may_fall_short
from recognise.rules.legible import damaged
from recognise.rules.lexicon import bag
from recognise.rules.lost import Found
from recognise.rules.pattern import SUBJECTS, named, values
from recognise.rules.sheet import Statement
from recognise.rules.words import Sentence

MOST = 6
"""Sentences that tell one rule together, at the most."""
A_PART = 0.03
"""The chance of a kind, or of being half a sentence, from which a sentence is a part of what is told."""
BESIDE = 0.3
"""The chance of another kind from which the sentences tell more than one."""
_BY_WORDS = bag("rows columns boxes all-marked greater knight-apart king-apart neighbours-not-consecutive")
"""Kinds that one sentence tells, or that one word of several turns."""
_REPEATING = bag("REPEAT MAYREPEAT NOREPEAT TWICE EQUAL SAMEAS DIFFER ONCE")
_SPOKEN_OF = SUBJECTS | bag("NUM ENDS LOWEST HIGHEST OUTSIDE CLUE SMALLNUM TOTALWORD SUM")
_OTHER_WAY = re.compile(
    r"\b(?:(?:to the left(?! (?:edge|side|end|border|margin|hand))|leftwards?|upwards?|backwards?)\b|"
    r"(?:or|and|go|going) up(?= \(| and| until|,|\.))",
    re.I,
)
"""Where walks to the right and down are told, these make another rule of them."""
_FEW = frozenset({1, 2})
"""Numbers that any sentence may name."""


def told_together(
    parts: Sequence[Sentence],
    silent: Collection[int],
    told: Sequence[Statement],
    unsure: Sequence[Found],
    heard: Senses,
) -> list[Found]:
    """What runs of sentences state together of kinds that the text states nowhere else; `silent` are the places of
    those that state nothing surely, `unsure` what single ones of them most likely state: one of a run at the most, and
    of its kind."""
    known, found, taken = list(told), list[Found](), set[int]()
    for places in _windows(parts, silent, heard):
        if taken.isdisjoint(places):
            singly = [one for one in unsure if any(parts[at] is s for at in places for s in one.sentences)]
            elsewhere = [s for one in unsure if one not in singly for s in one.statements]
            statements = _stated([parts[at] for at in places], [*known, *elsewhere]) if len(singly) <= 1 else ()
            kinds = {s.kind for s in statements}
            if statements and all(s.kind in kinds for one in singly for s in one.statements):
                known += statements
                taken.update(places)
                found.append(Found(tuple(statements), [parts[at] for at in places]))
    return found


def _windows(parts: Sequence[Sentence], silent: Collection[int], heard: Senses) -> Iterator[range]:
    """The runs of sentences that may tell a rule together, the longest first; they begin and end with what speaks of
    marks or numbers."""
    fits = [at in silent and _fits(part, heard.chances(part)) for at, part in enumerate(parts)]
    tells = [fits[at] and _tells(heard.chances(part)) for at, part in enumerate(parts)]
    ends = [tells[at] or (fits[at] and not _SPOKEN_OF.isdisjoint(map(named, s.concepts))) for at, s in enumerate(parts)]
    for length in range(MOST, 1, -1):
        for start in range(len(parts) - length + 1):
            window = range(start, start + length)
            if ends[start] and ends[window[-1]] and all(fits[at] for at in window) and any(tells[at] for at in window):
                yield window


def _fits(sentence: Sentence, said: Mapping[str, float]) -> bool:
    """Whether a sentence may be a part of what several tell, or stand between its parts and say nothing."""
    concepts = _concepts([sentence])
    if makes_an_exception(sentence.text) or may_fall_short(sentence.text) or damaged(sentence.text)[0] > 0:
        return False
    if not OTHERWISE.isdisjoint(concepts):
        return False
    return _tells(said) or not (is_claim(sentence) or _REPEATING.intersection(map(named, concepts)))


def _tells(said: Mapping[str, float]) -> bool:
    """Whether something is heard in a sentence: what only goes on, or begins, may be heard as a rule of no kind."""
    return any(chance >= A_PART for answer, chance in said.items() if answer != DIGITS)


def _stated(sentences: Sequence[Sentence], known: Sequence[Statement]) -> tuple[Statement, ...]:
    """What is surely heard in sentences that are put as one; nothing where they may tell of two kinds, or name numbers
    that the rule does not have."""
    one = Sentence("; ".join(s.text.rstrip(" .;:!?") for s in sentences), _concepts(sentences))
    joined = Senses([one])
    heard = {(answer.lstrip("!").partition(" ")[0], chance) for answer, chance in joined.chances(one).items()}
    kinds = {kind for kind, chance in heard if chance >= BESIDE} - {DIGITS, HALF}
    if (
        len(kinds) != 1
        or kinds & (_BY_WORDS | {s.kind for s in known})
        or max(c for k, c in heard if k in kinds) < SURE
    ):
        return ()
    statements = tuple(s for found in joined.found_in({0}, known) for s in found.statements)
    numbers = {int(v) for v in values(one.concepts, "NUM") if v.isdecimal()} - _FEW
    turned = any(s.fields.get("wrap") for s in statements) and _OTHER_WAY.search(one.text)
    return statements if numbers <= _named_by(statements) and not turned else ()


def _concepts(sentences: Sequence[Sentence]) -> tuple[str, ...]:
    return tuple(c for s in sentences for concept in s.concepts for c in concept.split())


def _named_by(statements: Sequence[Statement]) -> set[int]:
    """The numbers in what is stated."""
    told = [value for s in statements for value in s.fields.values()]
    return {n for value in told for n in (value if isinstance(value, tuple) else (value,)) if type(n) is int}
