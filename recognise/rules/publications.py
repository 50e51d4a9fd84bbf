"""How magazines, beginners' books and competition booklets say what other pages say in fewer words.

Shapes that take the place of the boxes, digits that may come again, and lines, tubes and signs by how they look. Works
on a sentence as printed, before the other tables.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_PUBLISHED = in_any_case(patterns_of("publications.txt"))


def published(sentence: str) -> str:
    """The sentence with these turns of phrase put plainly."""
    return substituted(sentence.replace("’", "'"), _PUBLISHED)
