"""What sentences that no pattern accounts for most likely state, by the second opinion: always put to a person.

The opinion names kinds, of a sentence and of the text as a whole; what a kind needs besides (the gap, the ratio, which
way a tube runs) has to stand in the sentence, and one with a word of other rules, with an exception or about some
marks only is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence, Set

from recognise.rules.frames import made
from recognise.rules.lexicon import bag
from recognise.rules.opinion import RULE_OF_NO_KIND, features, opinion
from recognise.rules.pattern import NEUTRAL, Fields, named
from recognise.rules.phrases import reduced
from recognise.rules.second import looked_at_again
from recognise.rules.sheet import Statement
from recognise.rules.stating import hedged, in_part
from recognise.rules.words import UNKNOWN

LIKELY = 0.6
"""Chance from which a kind is stated."""
HINTED = 0.2
"""Chance from which a sentence may be where a kind is told that the text as a whole likely states."""
UNLIKELY = 0.005
"""Chance in the text as a whole below which no frame is believed."""
UNLIKELY_HERE = 0.01
"""The same of the sentences that a frame was found in."""
STRANGER = 0.3
"""Chance of a rule of another kind from which no frame is believed."""
STRANGE = 0.15
"""Chance of a rule of another kind from which nothing is stated."""
_FEWEST_TOLD = 2
"""Telling concepts that a sentence needs for an opinion to rest on."""
_NEVER = bag("EXCEPT SECOND LIMIT")
_DENIED_BOXES = re.compile(r"(?<!\S)(?:NEG|UNMARKED) (?:ALL |SIZE=\S+ )*BOX")


def looked_at(sentences: Iterable[str]) -> frozenset[str]:
    """The features of sentences as printed."""
    found: frozenset[str] = frozenset()
    for sentence in sentences:
        clauses = looked_at_again(sentence)
        concepts = [c for clause in clauses for c in reduced(clause.concepts)]
        found |= features(concepts, frozenset().union(*(clause.besides for clause in clauses)))
    return found


VARIANT_FIELDS: Mapping[str, tuple[str, object]] = {
    "slow": ("strict", False),
    "strict": ("strict", True),
    "repeats": ("repeats", True),
    "differ": ("repeats", False),
    "up": ("direction", "up"),
    "down": ("direction", "down"),
    "pill": ("pill", True),
    "irregular": ("irregular", True),
    "wrap": ("wrap", True),
}
"""What tells the variants of a kind apart, by the last word of their answers."""


def answers_of(kind: str, fields: Fields, negated: bool = False) -> list[str]:
    """The opinion's answers that a statement stands for; `fields` may hold booleans or their words."""
    told = {key: str(value).lower() for key, value in fields.items()}
    if kind == "thermometer":
        return [f"{kind} {'slow' if told.get('strict') == 'false' else 'strict'}"]
    if kind == "sandwich":
        return [f"{kind} wrap" if told.get("wrap") == "true" else kind]
    if kind == "cage":
        repeats = {"true": ["cage repeats"], "false": ["cage differ"]}.get(told.get("repeats", ""), [])
        return repeats + ([f"cage {told['operation']}"] if "operation" in told else [])
    return [f"{'!' if negated else ''}{kind}"]


class Opinion:
    """What a text as a whole likely states."""

    def __init__(self, sentences: Sequence[str]) -> None:
        self._whole: Mapping[str, float] = opinion(looked_at(sentences))

    def denies(self, statement: Statement, sentences: Sequence[str]) -> bool:
        """Whether the text as a whole, or the sentences that a statement was taken from, speak against it."""
        answers = answers_of(statement.kind, statement.fields, statement.negated)
        here = opinion(looked_at(sentences))
        if here.get(RULE_OF_NO_KIND, 0.0) > STRANGER:
            return True
        return bool(answers) and any(
            max(chances.get(answer, 1.0) for answer in answers) < least
            for chances, least in ((self._whole, UNLIKELY), (here, UNLIKELY_HERE))
        )

    def of(self, sentence: str, told: Set[str]) -> tuple[Statement, ...]:
        """What a sentence most likely states, but for the answers that are told already."""
        clauses = looked_at_again(sentence)
        concepts = tuple(c for clause in clauses for c in reduced(clause.concepts))
        if not _may_be_judged(concepts):
            return ()
        chances = opinion(looked_at([sentence]))
        if chances.get(RULE_OF_NO_KIND, 0.0) > STRANGE:
            return ()
        found: list[Statement] = []
        for answer, chance in chances.items():
            likely = chance > LIKELY or (chance > HINTED and self._whole.get(answer, 0.0) > LIKELY)
            if likely and answer != RULE_OF_NO_KIND and answer not in told:
                found += _statements(answer, concepts)
        return tuple(found)


def _may_be_judged(concepts: Sequence[str]) -> bool:
    names = {named(c) for c in concepts}
    if names & _NEVER or len(names - NEUTRAL) < _FEWEST_TOLD:
        return False
    return not (in_part(concepts) or hedged([c for c in concepts if c != UNKNOWN]))


def _statements(answer: str, concepts: Sequence[str]) -> list[Statement]:
    """The statements of one answer; none where the sentence lacks what the kind needs."""
    told = tuple(c for c in concepts if c != UNKNOWN)
    if len({c for c in told if named(c) == "COLOUR"}) > 1:
        told = tuple(c for c in told if named(c) != "COLOUR")  # whose colour is whose is not known
    if answer == "boxes" and _DENIED_BOXES.search(" ".join(told)):
        return []
    kind, _, variant = answer.partition(" ")
    if kind.startswith("!"):
        return [Statement(kind[1:], negated=True)]
    statements = made(kind, variant, told)
    key, value = VARIANT_FIELDS.get(variant, ("", None))
    return [s for s in statements if s.fields.get(key, value) == value]
