"""Rules texts that break off in the middle of a sentence, or begin in one: the line that ends them, or those before
their first, were not read.

What stands on it may be the rule (`digits may | repeat in a cage`), and what is read of it states nothing or, worse,
what its first words say. A sentence that has its stop is whole, whatever word is its last.
"""

from __future__ import annotations

import re

_UNENDING = (
    r"the|an?|every|its|their|which|whose|where|when|if|as|than|of|and|or|but|nor|so|"
    r"may|must|can|cannot|should|shall|will|is|are|exactly|contains?"
)
"""Words after which a sentence goes on; in capitals they are names, or dirt. Prepositions may end one (`the row it
stands in`), and so may `each` and `no` in lists (`boxes: no`)."""
_BROKEN_OFF = re.compile(rf"(?:^|\s)(?:(?:{_UNENDING})|\w+-)\s*$")


def breaks_off(text: str) -> bool:
    """Whether a text ends in the middle of a sentence."""
    return _BROKEN_OFF.search(text) is not None


_SMALL = re.compile(r"\W*[a-z]{2,}")
_CAPITAL = re.compile(r"\W*[A-Z]")


def begins_midway(first: str, second: str) -> bool:
    """Whether a text begins in the middle of a sentence: its first sentence with a small letter, the second with a
    capital."""
    return _SMALL.match(first) is not None and _CAPITAL.match(second) is not None
