"""A sentence that nobody understands is not lost in the one after it."""

import pytest

from recognise.rules.reader import read_rules

BETWEEN = "On a line between two squares, every digit lies strictly between the digits in the squares."
JOINED = "Some pairs of digits are joined by a bar."


@pytest.mark.parametrize(
    ("first", "then", "kind"),
    [(BETWEEN, "Black diamond: one digit is twice the other.", "ratio-pair"), (JOINED, "Dots: consecutive.", "")],
    ids=["lines and diamonds", "bars and dots"],
)
def test_a_sentence_on_other_marks_than_the_next_is_no_part_of_it(first: str, then: str, kind: str) -> None:
    sheet = read_rules(f"{first} {then}")
    told = {statement.kind for statement in sheet.statements if statement.sentence == first}
    assert (told and kind not in told) or first in (*sheet.unsure, *sheet.not_understood)
    assert any(statement.sentence == then for statement in sheet.statements)
