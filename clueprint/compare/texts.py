"""Texts of a proof against those of its source: only words count, not case, spacing, hyphens or punctuation."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

_WORD = re.compile(r"[^\W_]+|[<>=+×÷≤≥≠]")
"""A run of letters and digits, or a sign that means something in a rule."""
_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_GONE = 0.5
"""A sentence of which less than this share of the words is found stands nowhere."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word as it is compared, and where it stands in its text."""

    plain: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class TextChange:
    """A sentence that differs: what the source has and what the proof has, each as printed; None for nothing.
    `expected_words` and `found_words` are the words that differ."""

    expected: str | None
    found: str | None
    expected_words: str = ""
    found_words: str = ""


def words_of(text: str) -> list[Word]:
    """The words of a text, without case, accents of ligatures, hyphens and punctuation."""
    return [
        Word(unicodedata.normalize("NFKC", match[0]).casefold(), match.start(), match.end())
        for match in _WORD.finditer(text)
    ]


def same_words(one: str, other: str) -> bool:
    """Whether two texts say the same words; how they are parted by blanks and hyphens does not count."""
    return _run_together(words_of(one)) == _run_together(words_of(other))


def _run_together(words: Sequence[Word]) -> str:
    """The letters of words without what parts them, but for numbers: 1 2 is not 12."""
    said = ""
    for word in words:
        said += "|" if said[-1:].isdigit() and word.plain[:1].isdigit() else ""
        said += word.plain
    return said


def holds_words(text: str, wanted: str) -> bool:
    """Whether a text holds all words of another in a row."""
    inside, sought = ("|".join(word.plain for word in words_of(t)) for t in (text, wanted))
    return f"|{sought}|" in f"|{inside}|"


def sentences_of(text: str) -> list[str]:
    """A text in sentences, as printed."""
    return [part for part in (piece.strip() for piece in _SENTENCE.split(text)) if words_of(part)]


def text_changes(expected: str, found: str) -> list[TextChange]:
    """Every sentence in which two texts differ in words, in reading order."""
    ours, theirs = sentences_of(expected), sentences_of(found)
    partners = _aligned(ours, theirs)
    lost = [sentence for i, sentence in enumerate(ours) if i not in partners]
    new = [sentence for j, sentence in enumerate(theirs) if j not in partners.values()]
    if same_words(" ".join(lost), " ".join(new)):  # the same words, cut into sentences otherwise
        lost, new = [], []
    changes = [_compared(sentence, theirs[partners[i]]) for i, sentence in enumerate(ours) if i in partners]
    gone = [TextChange(sentence, None) for sentence in lost]
    return [*filter(None, changes), *gone, *(TextChange(None, sentence) for sentence in new)]


def _aligned(ours: Sequence[str], theirs: Sequence[str]) -> dict[int, int]:
    """The sentence of the proof for each of the source that has one: the likeliest, each once."""
    likely = []
    for i, one in enumerate(ours):
        for j, other in enumerate(theirs):
            share = _shared(one, other)
            if share >= _GONE:
                likely.append((-share, abs(i - j), i, j))
    partners: dict[int, int] = {}
    for _, _, i, j in sorted(likely):
        if i not in partners and j not in partners.values():
            partners[i] = j
    return partners


def _shared(one: str, other: str) -> float:
    """The share of the words of the longer sentence that the other has too, in order."""
    if same_words(one, other):
        return 1.0
    ours, theirs = ([word.plain for word in words_of(text)] for text in (one, other))
    blocks = SequenceMatcher(None, ours, theirs, autojunk=False).get_matching_blocks()
    return sum(block.size for block in blocks) / max(len(ours), len(theirs))


def _compared(expected: str, found: str) -> TextChange | None:
    pieces = list(differing(expected, found))
    ours, theirs = (" … ".join(piece[side] for piece in pieces if piece[side]) for side in (0, 1))
    return TextChange(expected, found, ours, theirs) if pieces else None


def differing(expected: str, found: str) -> Iterator[tuple[str, str]]:
    """The stretches in which two sentences differ, each as printed in both."""
    ours, theirs = words_of(expected), words_of(found)
    matcher = SequenceMatcher(None, [w.plain for w in ours], [w.plain for w in theirs], autojunk=False)
    for tag, i0, i1, j0, j1 in matcher.get_opcodes():
        if tag != "equal" and _run_together(ours[i0:i1]) != _run_together(theirs[j0:j1]):
            yield _printed(expected, ours[i0:i1]), _printed(found, theirs[j0:j1])


def _printed(text: str, words: Sequence[Word]) -> str:
    return text[words[0].start : words[-1].end] if words else ""
