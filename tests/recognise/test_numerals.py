"""Numerals for sums: told in one sentence, and worn."""

import pytest

from recognise.draft import box_polygon
from recognise.interpret.numerals import nearest_numeral
from recognise.rules import MarkHint, Statement
from schema.numerals import numeral, roman
from tests.recognise.evidence_maker import glyph
from tests.recognise.meanings import drafted, stated

BOTH = tuple(Statement("sum-pair", {"value": value}, MarkHint("letter", letter="X")) for value in (10, 13))


def test_numerals_up_to_39_are_read_as_they_are_written() -> None:
    assert [roman(numeral(number)) for number in range(1, 40)] == list(range(1, 40))
    assert [roman(text) for text in ("", "IIII", "VX", "XXXX", "12", "K")] == [None] * 6
    with pytest.raises(ValueError, match="40 has no numeral"):
        numeral(40)


@pytest.mark.parametrize(("text", "value"), [("X", 10), ("×", 10), ("XIII", 13), ("13", 13), ("XII", 13)])
def test_a_numeral_says_itself_which_sum_of_a_sentence_it_is(text: str, value: int) -> None:
    """`X for ten, XIII for thirteen`: whatever letter the sentence was understood to name for the second."""
    draft = drafted(*BOTH, glyphs=(glyph(1.0, 0.5, (text, 0.999), size=0.2),))
    assert [c.value for c in stated(draft, "sum-pair")] == [value]


def test_a_sign_is_no_numeral_of_a_sentence_that_leaves_the_sum_to_the_number() -> None:
    """`A sign points at the smaller digit. The number between two cells is their sum`: the first says nothing of looks,
    so that the second would have the word over it."""
    rules = (Statement("greater", {}), Statement("sum-pair", {}, MarkHint("number", place="edge")))
    marks = tuple(glyph(x, 0.5, (text, 0.999), size=0.2) for x, text in ((1.0, "<"), (3.0, "8")))
    draft = drafted(*rules, glyphs=marks)
    assert [(str(c.greater), str(c.less)) for c in stated(draft, "greater")] == [("r1c2", "r1c1")]
    assert [c.value for c in stated(draft, "sum-pair")] == [8]


@pytest.mark.parametrize(("text", "found"), [("XII", "XIII"), ("<II", "XIII"), ("XI", None), ("X", None), ("QR", None)])
def test_a_worn_numeral_is_the_one_that_it_is_most_like(text: str, found: str | None) -> None:
    assert nearest_numeral(text, BOTH) == found


def test_each_letter_of_a_numeral_is_accounted_for() -> None:
    letters = [glyph(0.9 + 0.07 * n, 0.5, (letter, 0.999), size=0.1) for n, letter in enumerate("XIII")]
    draft = drafted(*BOTH, glyphs=tuple(letters))
    (item,) = (item for item in draft.items if item.claims)
    assert {box_polygon(letter.box) for letter in letters} <= set(item.claimed)
