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
    """A pattern and what is put in its place. It is tried, and compiled, only where a text has one of the words that
    it cannot do without: of the patterns that a sentence meets one in twenty is."""

    pattern: str
    replacement: str
    flags: int = 0
    words: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", words_of(self.pattern, self.flags) or ("",))

    @cached_property
    def compiled(self) -> re.Pattern[str]:
        """The pattern, ready to be tried."""
        return re.compile(self.pattern, self.flags)


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
        told = rule.compiled.sub(rule.replacement, sentence)
        if told != sentence:
            sentence, plain = told, folded(told)
    return sentence
