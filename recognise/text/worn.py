"""Lines of worn type as the network of lines reads them, put in where Tesseract is not sure."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.rules.repair import is_word
from recognise.text.engine import Grey, OcrLine
from recognise.worn_type.block import read_block

_MODEST = 0.97
"""What the network takes for certain was right so often: 9 of 10 words at 0.9, 97 of 100 at the end."""
_GOOD = 0.92
"""Confidence from which on a line of Tesseract's stands: it gives 0.95 to 0.97 to lines without an error, and of the
words of lines at 0.8 to 0.9 a quarter are wrong."""
_ALONE = 0.6
"""Confidence from which on a line counts that Tesseract did not see at all."""
_LETTERS = 3
"""Letters and figures of such a line, at least: specks pass for stops and dashes."""
_STOPS = ".,;:!?()\"'"
_MOST = 0.5
"""Letters of known words in all of an English text, at least: of worn type nine in ten are read right."""
_NOISE = 0.35
"""Confidence of lines that are none."""
LEGIBLE = 0.4
"""Confidence of all that Tesseract read in a block from which on there is text at all: of the grain of a table some
letters are read too, at 0.1 to 0.35."""


def is_well_read(lines: Sequence[OcrLine]) -> bool:
    """Whether nothing is left to read again."""
    return bool(lines) and all(line.confidence >= _GOOD for line in lines)


def surely(lines: Sequence[OcrLine]) -> float:
    """How surely lines are read, long ones counting for more."""
    return sum(len(line.text) * line.confidence for line in lines) / max(1, sum(len(line.text) for line in lines))


def with_worn(lines: Sequence[OcrLine], part: Grey, letter: float) -> list[OcrLine]:
    """The lines that Tesseract read in a block of dark type on light ground, whose letters are so many pixels high; the
    network's instead of those of which it reads more."""
    kept = list(lines)
    known = [
        (line.box[1], line.box[3])
        for line in lines
        if all(other.confidence >= _GOOD for other in lines if _is_same(line, other))
    ]
    for seen in read_block(part, letter, known, perhaps_grain=surely(lines) < LEGIBLE):
        own = OcrLine(seen.text, seen.box, seen.box[3] - seen.box[1], _MODEST * seen.sure)
        same = [line for line in kept if _is_same(line, own)]
        alone = own.confidence >= _ALONE and sum(map(str.isalnum, own.text)) >= _LETTERS
        if (same or alone) and _is_english(own.text) and _read(own) > sum(map(_read, same)):
            kept = [line for line in kept if line not in same] + [own]
    return sorted(kept, key=lambda line: line.box[1] + line.box[3])


def _is_same(line: OcrLine, other: OcrLine) -> bool:
    """Whether two lines are one, by where they stand."""
    shared = min(line.box[3], other.box[3]) - max(line.box[1], other.box[1])
    return shared > min(line.box[3] - line.box[1], other.box[3] - other.box[1]) / 2


def _read(line: OcrLine) -> float:
    """How much is read, in letters of words that there are, by how surely."""
    return _known(line.text) * max(0.0, line.confidence - _NOISE)


def _is_english(text: str) -> bool:
    """Whether most of a text is: other languages the network was not taught, nor their accents."""
    return _known(text) >= _MOST * sum(map(len, text.split()))


def _known(text: str) -> int:
    """Letters of words that English has, and figures."""
    words = [word.strip(_STOPS) for word in text.split()]
    return sum(len(word) for word in words if word.isdigit() or is_word(word))
