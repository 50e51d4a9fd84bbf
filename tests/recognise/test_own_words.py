"""The words of a grid where clues could stand."""

import numpy as np
import pytest

from recognise.evidence import TextLine, Words
from recognise.marks.spoken import SILENT, Spoken
from recognise.own_words import not_of_words, without_own_numbers
from recognise.text.page import _in_cells
from tests.recognise.evidence_maker import evidence, glyph

ABOVE, BESIDE = (2.2, -0.8, 6.8, -0.4), (-4.0, 4.3, -0.2, 4.7)


def _words(text: str, box: tuple[float, float, float, float], confidence: float = 0.9) -> Words:
    return Words(rules_text="Fill it.", in_cells=(TextLine(text, box, 0.4, confidence, "ocr"),))


@pytest.mark.parametrize(
    ("text", "box", "spoken", "read", "kept"),
    [
        ("Orchard Threads 332", ABOVE, SILENT, "332", 0),
        ("Orchard Threads 332", ABOVE, SILENT, "32", 0),
        ("Orchard Threads 332", ABOVE, SILENT, "17", 1),
        ("Orchard Threads 332", ABOVE, Spoken(bare=True), "332", 1),
        ("332 Orchard Threads", ABOVE, SILENT, "332", 1),
        ("Orchard Threads 332", BESIDE, SILENT, "332", 1),
        ("Orchard Threads 332 17", ABOVE, SILENT, "17", 1),
    ],
    ids=["of the title", "in part", "another", "clues", "before the words", "to the side", "behind a number"],
)
def test_a_number_of_the_title_is_no_clue(
    text: str, box: tuple[float, float, float, float], spoken: Spoken, read: str, kept: int
) -> None:
    at = box[2] - 0.4, (box[1] + box[3]) / 2
    seen = evidence(glyphs=(glyph(*at, (read, 0.9), size=0.4), glyph(4.5, 4.5, ("3", 0.9))))
    assert len(without_own_numbers(seen, _words(text, box), spoken).glyphs) == 1 + kept


@pytest.mark.parametrize(
    ("confidence", "spoken", "of_words"),
    [(0.9, SILENT, True), (0.4, SILENT, False), (0.9, Spoken(arrowed=True), False)],
    ids=["sure", "hardly read", "clues"],
)
def test_the_ink_of_words_that_are_surely_read_is_theirs(confidence: float, spoken: Spoken, of_words: bool) -> None:
    inside, across = (3.0, -0.85, 4.0, -0.4), (3.0, -2.0, 4.0, -0.5)
    words = _words("Orchard Threads", ABOVE, confidence)
    assert not_of_words([inside, across], evidence(), words, spoken) == ([across] if of_words else [inside, across])


def test_lines_of_words_in_cells_of_their_grid() -> None:
    lattice = np.zeros((10, 7, 2))
    words = Words(lines=(TextLine("Orchard", (130.0, 50.0, 220.0, 80.0), 30.0, 0.9, "ocr"),))
    assert [line.box for line in _in_cells(words, (100.0, 100.0, 160.0, 280.0), lattice)] == [(3.0, -2.5, 12.0, -1.0)]
