"""Tables of patterns and what is put in their place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from recognise.rules.literals import folded
from recognise.rules.needed_words import words_of

DIGIT = r"(?:digits?|numbers?|figures?|values?)"
"""What a digit is called."""
DIGITS = r"(?:digits?|numbers?|figures?|values?|numerals?|entries|entry|symbols?|characters?)"
"""The same with what it is called now and then."""
MARK = (
    r"(?:dots?|discs?|circles?|rings?|bars?|beads?|blobs?|spots?|marks?|signs?|symbols?|letters?|diamonds?|lozenges?|"
    r"crosses|cross|strokes?|bubbles?|points?|balls?|bullets?|pearls?|markers?|[XV]s?)"
)
"""What a mark between cells is called."""
CELL = r"(?:cells?|squares?|fields?|spaces?)"
"""What a cell is called."""
COLOUR = r"(?:red|blue|green|yellow|orange|purple|pink|brown|gr[ea]y|black|white)"
"""The plain words for colours."""


@dataclass(frozen=True)
class Rule:
    """A pattern and what is put in its place. It is tried, and compiled, only where a text has one of the `words` that
    it cannot do without, and one of each of the `others`: of the patterns that a text meets one in forty is."""

    pattern: str
    replacement: str
    flags: int = 0
    words: tuple[str, ...] = field(init=False)
    others: tuple[tuple[str, ...], ...] = field(init=False)

    def __post_init__(self) -> None:
        first, *others = words_of(self.pattern, self.flags) or (("",),)
        object.__setattr__(self, "words", first)
        object.__setattr__(self, "others", tuple(others))

    @cached_property
    def compiled(self) -> re.Pattern[str]:
        """The pattern, ready to be tried."""
        return re.compile(self.pattern, self.flags)

    def may_match(self, plain: str) -> bool:
        """Whether a text, `folded`, has the words that the pattern cannot do without."""
        return any(word in plain for word in self.words) and self.has_others(plain)

    def has_others(self, plain: str) -> bool:
        """The same of a text that has one of its first words."""
        return all(any(word in plain for word in words) for words in self.others)


Table = tuple[Rule, ...]


def in_any_case(pairs: Iterable[tuple[str, str]]) -> Table:
    """A table of patterns that match small letters and capitals alike."""
    return tuple(Rule(pattern, replacement, re.I) for pattern, replacement in pairs)


def substituted(sentence: str, table: Table) -> str:
    """The sentence with every pattern replaced at all places, first one first."""
    plain = folded(sentence)
    for rule in table:
        for word in rule.words:  # no function of its own: what is looked at here is 6,000 words for each sentence
            if word in plain:
                break
        else:
            continue
        if not rule.has_others(plain):
            continue
        told = rule.compiled.sub(rule.replacement, sentence)
        if told != sentence:
            sentence, plain = told, folded(told)
    return sentence
