"""Sentences that are asked about and most likely bind nothing: talk, remarks on the drawing (`none of the lines crosses
itself`), permissions, and notes that not all marks are there.

The language network hears no rule in them, and no word tells of one. On 1,313 texts that the network had not learnt
from, that holds of 47 of 248 sentences of talk that were asked about and of 34 notes, but also of 12 of 650 rules of no
kind and of 13 of 3,854 others: whether a page has anything left for such a sentence to say, its proof must tell
(`recognise/doubt/telling.py`). Numbers stay asked about, and words of repetition that do not merely permit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from recognise.rules.agreed import OTHERWISE
from recognise.rules.by_sense import ANOTHER, CERTAIN, DIGITS, ELSE, HALF, NOTHING, Senses
from recognise.rules.claims import is_claim
from recognise.rules.exceptions import makes_an_exception, may_fall_short
from recognise.rules.legible import damaged
from recognise.rules.lexicon import bag
from recognise.rules.pattern import named
from recognise.rules.sheet import Statement
from recognise.rules.words import Sentence

_NOT_ALL = "!all-marked"
_FEW = frozenset({"NUM=1", "NUM=2"})
"""Numbers that talk may name; any other may be the number of a rule."""
_REPEATING = bag("REPEAT MAYREPEAT NOREPEAT TWICE EQUAL SAMEAS DIFFER ONCE")
_RISING = bag("INCREASE DECREASE NOTDECREASE")
"""Ways that digits go: `at borders they may drop` takes something from what is told of them."""
_PERMITTING = bag("MAY MAYREPEAT")
_WITH_REPEATS = bag("CAGE BOUNDED REGION UNKNOWN")
"""Marks in which digits repeat or not as the rules say, and what may be called one."""


def idle(
    sentences: Sequence[Sentence], asked: Set[str], statements: Sequence[Statement], heard: Senses
) -> tuple[str, ...]:
    """Those of the sentences asked about that most likely bind nothing."""
    binding = {s.sentence for s in statements if not (s.negated and s.kind == "all-marked")}
    notes = {s.sentence for s in statements} - binding
    left = [s for s in sentences if s.text in asked - binding and not _may_bind(s, s.text in notes)]
    return tuple(s.text for s in left if _hears_nothing(heard.chances(s), s.text in notes))


def _may_bind(sentence: Sentence, is_note: bool) -> bool:
    """Whether words of a sentence may be those of a rule, or cannot be read, whatever is heard: what is denied of a
    digit too (`A tower of height 1 is never seen`), but for a note that not all marks are there."""
    concepts = [c for concept in sentence.concepts for c in concept.split()]
    names = set(map(named, concepts))
    if (
        is_claim(sentence)
        or makes_an_exception(sentence.text)
        or may_fall_short(sentence.text)
        or damaged(sentence.text)[0] > 0
    ):
        return True
    if not OTHERWISE.isdisjoint(concepts) or any(c.startswith("NUM=") and c not in _FEW for c in concepts):
        return True
    if names & _RISING or ({"NEG", "NUM"} <= names and not is_note):
        return True
    permits = bool(names & _PERMITTING) and "NEG" not in names and not names & _WITH_REPEATS
    return bool(names & _REPEATING) and not permits


def _hears_nothing(said: Mapping[str, float], is_note: bool) -> bool:
    """Whether nothing is heard in a sentence, or no more than that not all marks are there; of a note words tell that
    as well."""
    rules = {answer: chance for answer, chance in said.items() if answer not in (HALF, DIGITS)}
    others = max((c for answer, c in rules.items() if not answer.startswith(_NOT_ALL)), default=1.0)
    if is_note:
        return others < ANOTHER
    if rules.get(_NOT_ALL, 0.0) >= CERTAIN:
        return others < ELSE
    return max(others, rules.get(_NOT_ALL, 0.0), said.get(HALF, 0.0)) < NOTHING and said.get(DIGITS, 0.0) < ANOTHER
