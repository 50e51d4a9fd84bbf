"""Rules texts whose last line was not read."""

from __future__ import annotations

import pytest

from recognise.rules.broken_off import breaks_off
from recognise.rules.reader import read_rules

WHOLE = "Place the digits 1 to 9 in every row, column and box. Digits on an arrow sum to the digit in its circle."


@pytest.mark.parametrize(
    "end", ["Digits on an arrow may", "Digits may", "Neither the", "Digits in a", "The bar is a bor-"]
)
def test_a_text_that_breaks_off_in_a_sentence_is_asked_about(end: str) -> None:
    sheet = read_rules(f"{WHOLE} {end}")
    assert any(end in sentence for sentence in (*sheet.not_understood, *sheet.unsure))


@pytest.mark.parametrize("start", ["region.", "and column or marked box.", "meion."])
def test_a_text_that_begins_in_a_sentence_is_asked_about(start: str) -> None:
    assert not {*read_rules(WHOLE, confidence=0.95).not_understood}
    sheet = read_rules(f"{start} {WHOLE}", confidence=0.95)
    assert any(start in sentence for sentence in (*sheet.not_understood, *sheet.unsure))


@pytest.mark.parametrize(
    "start", ["by Ann Wren.", "a) Sudoku.", "1. ", "each digit on a thermometer is larger than the one before."]
)
def test_a_text_with_something_before_it_begins_in_no_sentence(start: str) -> None:
    assert not read_rules(f"{start} {WHOLE}", confidence=0.95).not_understood


@pytest.mark.parametrize("end", ["", " Boxes: no", " Row, column: 1-9 each", " Say as you may."])
def test_a_text_that_is_whole_does_not_break_off(end: str) -> None:
    assert not breaks_off(f"{WHOLE}{end}")
