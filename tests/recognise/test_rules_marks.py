"""Sentences about the marks themselves: which of them are rules."""

from recognise.rules.reader import read_rules

_WHITE_DOTS = "Cells joined by a white dot differ by exactly 1. "


def test_every_possible_one_of_the_marks_is_a_rule_of_its_own() -> None:
    sheet = read_rules(_WHITE_DOTS + "Every possible one of the white dots is given.")
    assert [s.kind for s in sheet.statements] == ["consecutive-pair", "all-marked"]
    assert sheet.not_understood == ()


def test_a_sentence_that_no_mark_is_left_out_is_never_one_that_marks_are_there() -> None:
    lost = "Every possible one of the many white dots is somewhere given."
    read = read_rules(_WHITE_DOTS + lost)
    assert lost in (*read.not_understood, *read.unsure)
