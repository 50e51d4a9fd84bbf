"""The words of rules texts and the concepts that they stand for, from lexicon.txt."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

_FILLER = "-"
"""The concept of words that change nothing in what a rule says."""


def bag(words: str) -> frozenset[str]:
    """The words of a text, as a set."""
    return frozenset(words.split())


def _entries(name: str) -> Iterator[tuple[tuple[str, ...], str]]:
    """Each phrase of a file with its concept, in order."""
    text = Path(__file__).with_name(name).read_text("utf-8")
    for line in text.replace("\n  ", " ").splitlines():
        if line and not line.startswith("#"):
            concept, _, words = line.partition(":")
            yield from ((tuple(part.split()), concept) for part in words.split(",") if part.strip())


def _table() -> dict[tuple[str, ...], str]:
    """Each phrase to its concept. Filler comes last in the file and gives way to a concept that has the same words."""
    table: dict[tuple[str, ...], str] = {}
    for phrase, concept in _entries("lexicon.txt"):
        if concept != _FILLER:
            table[phrase] = concept
        else:
            table.setdefault(phrase, "")
    return table


def _second() -> dict[tuple[str, ...], tuple[str, ...]]:
    """Each phrase of wilful voices to the concepts that it may stand for, the likeliest first."""
    table: dict[tuple[str, ...], tuple[str, ...]] = {}
    for phrase, concept in _entries("second.txt"):
        table[phrase] = (*table.get(phrase, ()), concept)
    return table


PHRASES = _table()
"""Each phrase in plain form to its concept, an empty string for filler."""

SECOND = _second()
"""Each phrase that stands for a concept in wilful voices only, to what it may stand for, the likeliest first."""

LONGEST = max(map(len, PHRASES))
"""The most words that a phrase has."""

VOCABULARY = frozenset(word for phrase in PHRASES for word in phrase)
"""Every word that occurs in a phrase."""

SECOND_VOCABULARY = VOCABULARY | frozenset(word for phrase in SECOND for word in phrase)
"""The same with the words of wilful voices."""

_NUMBER_WORDS = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
NUMBERS = {word: value for value, word in enumerate(_NUMBER_WORDS.split())} | {
    "nought": 0,
    "twenty": 20,
    "twentyfive": 25,
}
"""Numbers in words."""
