"""Numbers in sentences that are not understood: what they say of a kind that cannot do without one."""

from __future__ import annotations

import re
from collections.abc import Iterable

from recognise.rules.lexicon import NUMBERS
from schema.kinds.base import Constraint

_WORD = re.compile(r"[a-z]+|\d{1,2}")
_LEAST = 2
"""`One` is seldom a number of a rule, and 1 no gap, ratio or sum that anybody prints."""


def numbers_for(kind: type[Constraint], sentences: Iterable[str]) -> list[dict[str, object]]:
    """The one number that a kind needs, as each number that `sentences` name, in digits or words; nothing for kinds
    that need none, or several."""
    needed = [name for name, field in kind.model_fields.items() if field.annotation is int and field.is_required()]
    if len(needed) != 1:
        return []
    return [{needed[0]: number} for number in sorted(set(_numbers(sentences)))]


def _numbers(sentences: Iterable[str]) -> Iterable[int]:
    for word in (word for sentence in sentences for word in _WORD.findall(sentence.lower())):
        number = int(word) if word.isdigit() else NUMBERS.get(word, 0)
        if number >= _LEAST:
            yield number
