"""How chatty columns, bulletins and stiff translations, and strangers' pages, speak of marks, put plainly."""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_MARKS = in_any_case(patterns_of("homely_marks.txt"))


def marks_put_plainly(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    return substituted(sentence, _MARKS)
