"""The words of rules texts and the concepts that they stand for, from lexicon.txt."""

from __future__ import annotations

from pathlib import Path

_FILLER = "-"
"""The concept of words that change nothing in what a rule says."""


def bag(words: str) -> frozenset[str]:
    """The words of a text, as a set."""
    return frozenset(words.split())


def _table() -> dict[tuple[str, ...], str]:
    """Each phrase to its concept. Filler comes last in the file and gives way to a concept that has the same words."""
    text = Path(__file__).with_name("lexicon.txt").read_text("utf-8")
    lines = [line for line in text.replace("\n  ", " ").splitlines() if line and not line.startswith("#")]
    table: dict[tuple[str, ...], str] = {}
    for line in lines:
        concept, _, words = line.partition(":")
        for phrase in filter(None, (tuple(part.split()) for part in words.split(","))):
            if concept != _FILLER:
                table[phrase] = concept
            else:
                table.setdefault(phrase, "")
    return table


PHRASES = _table()
"""Each phrase in plain form to its concept, an empty string for filler."""

LONGEST = max(map(len, PHRASES))
"""The most words that a phrase has."""

VOCABULARY = frozenset(word for phrase in PHRASES for word in phrase)
"""Every word that occurs in a phrase."""

_NUMBER_WORDS = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
NUMBERS = {word: value for value, word in enumerate(_NUMBER_WORDS.split())} | {
    "nought": 0,
    "twenty": 20,
    "twentyfive": 25,
}
"""Numbers in words."""
