"""What a sentence that no pattern accounts for most likely states, by the second opinion: always put to a person.

The opinion names kinds; what a kind needs besides (the gap, the ratio, which way a tube runs) has to stand in the
sentence, and one with a word of other rules, with an exception or about some marks only is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set

from recognise.rules.gist import GISTS, SETTLE
from recognise.rules.lexicon import bag
from recognise.rules.loose import decides
from recognise.rules.opinion import RULE_OF_NO_KIND, opinion
from recognise.rules.pattern import NEUTRAL, Concepts, Fields, named
from recognise.rules.phrases import clauses, reduced
from recognise.rules.sheet import Statement
from recognise.rules.stating import hedged, in_part, stated
from recognise.rules.words import UNKNOWN, Sentence

LIKELY, RIVAL = 0.8, 0.2
"""Chance from which a kind is stated, and chance of another from which nothing is: so high that on the texts held back
nothing was stated that is wrong."""
STRANGE = 0.1
"""Chance of a rule of another kind from which nothing is stated."""
_FEWEST_TOLD = 3
"""Telling concepts that a sentence needs for an opinion to rest on."""
_UNITS = bag("rows columns boxes")
_WHOLE = bag("ALLDIGITS ONCE RANGE NOREPEAT DIFFER STANDARD SUDOKU LETTERS LATIN")
_GRID = bag("ROW COLUMN BOX REGION SUDOKU LATIN RULE")
_DENIED_BOXES = re.compile(r"(?<!\S)(?:NEG|UNMARKED) (?:ALL |SIZE=\S+ )*BOX")
_NEVER = bag("OTHER EXCEPT SECOND MORETHAN LIMIT")
_VARIANTS: Mapping[str, tuple[str, Fields]] = {
    "strict": ("thermometer", {"strict": True}),
    "slow": ("thermometer", {"strict": False}),
    "wrap": ("sandwich", {"wrap": True}),
    "repeats": ("cage", {"repeats": True}),
    "differ": ("cage", {"repeats": False}),
}


def sentence_concepts(sentence: Sentence) -> tuple[str, ...]:
    """The concepts of a sentence, put together clause by clause."""
    return tuple(concept for clause in clauses(sentence) for concept in reduced(clause))


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


def opined(sentence: Sentence) -> tuple[Statement, ...]:
    """The statements that a sentence most likely makes; none where that is not clear."""
    concepts = sentence_concepts(sentence)
    names = {named(c) for c in concepts}
    if not _may_be_judged(sentence, concepts, names):
        return ()
    found: list[Statement] = []
    for answer in _likely(concepts):
        denied = answer == "boxes" and _DENIED_BOXES.search(" ".join(concepts))
        made = None if denied or not _has_what_it_needs(answer, names) else _statements(answer, concepts)
        if made is None:
            return ()
        found += made
    return tuple(found)


def _may_be_judged(sentence: Sentence, concepts: Sequence[str], names: Set[str]) -> bool:
    if names & _NEVER or len(names - NEUTRAL) < _FEWEST_TOLD or sentence.asks:
        return False
    return not (in_part(concepts) or hedged(concepts) or any(map(decides, clauses(sentence))))


def _likely(concepts: Sequence[str]) -> list[str]:
    """The answers that are likely, where no other is half so and it is no rule of another kind."""
    chances = opinion(concepts)
    strange = chances.pop(RULE_OF_NO_KIND, 0.0) > STRANGE
    unclear = any(RIVAL < chance <= LIKELY for chance in chances.values())
    return [] if strange or unclear else [answer for answer, chance in chances.items() if chance > LIKELY]


def _has_what_it_needs(answer: str, names: Set[str]) -> bool:
    """Whether a sentence holds what some wording of the kind cannot do without."""
    kind = next(
        (k for k, _ in (_VARIANTS[v] for v in answer.split()[1:] if v in _VARIANTS)), answer.split(maxsplit=1)[0]
    )
    if answer in _UNITS:
        return bool(names & _WHOLE and names & _GRID)
    needs = [gist.needs for gist in GISTS if gist.kind == kind]
    return not needs or any(all(group & names for group in groups) for groups in needs)


def _statements(answer: str, concepts: Sequence[str]) -> list[Statement] | None:
    """The statements of one answer, None where the sentence lacks what the kind needs."""
    concepts = tuple(c for c in concepts if c != UNKNOWN)
    kind, _, variant = answer.partition(" ")
    if kind.startswith("!"):
        return [Statement(kind[1:], negated=True)]
    fields: Fields = {"operation": variant} if kind == "cage" else {}
    if variant in _VARIANTS:
        kind, fields = _VARIANTS[variant]
    settle = SETTLE.get(answer, SETTLE.get(kind, _nothing)) if variant not in ("repeats", "differ") else _nothing
    settled = settle(concepts)
    if settled is None or any(settled.get(key, value) != value for key, value in fields.items()):
        return None
    return list(stated(kind, {**fields, **settled}, concepts))


def _nothing(_: Concepts) -> Fields:
    return {}
