"""Rules that are put to a person, talk that is none, and what OCR does to either."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from recognise.rules.repair import mended
from tests.recognise.rules_score import kinds, surely, texts, without_unsure


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("What do cages mean? Their digits sum to the clue. Can digits repeat in a cage? No.", False),
        ("What do cages mean? Their digits sum to the clue. May digits repeat in a cage? Yes, of course.", True),
    ],
)
def test_an_answered_question_states(text: str, told: bool) -> None:
    assert [s.fields["repeats"] for s in read_rules(text).statements if "repeats" in s.fields] == [told]


@pytest.mark.parametrize(
    "text",
    [
        "Adjacent digits on the green line are at least 5 apart (1 and 6 is fine, 3 and 7 is not).",
        "Along each green line neighbours differ by 5 or more (1-6-1-7, say).",
    ],
)
def test_examples_in_figures_are_left_out(text: str) -> None:
    assert [s.fields for s in read_rules(text).statements] == [{"gap": 5}]


@pytest.mark.parametrize("aside", ["(1 and 9 not counted)", "(the 1 and the 9 are not included)"])
def test_a_bracket_with_figures_that_states_something_is_read(aside: str) -> None:
    text = f"Clues outside give the sum of the digits between the 1 and the 9 {aside}."
    assert kinds(text) == ["sandwich"]
    denied = text.replace("not counted", "both counted").replace("are not included", "are included")
    assert surely(denied) == []


def test_hints_and_headings_are_no_doubts_unless_they_may_hide_a_rule() -> None:
    rules = "Digits along a thermometer increase from the bulb."
    assert read_rules(f"Hot Stuff. {rules} Hint: start in the middle box. Solution on page 40.").not_understood == ()
    for hiding in (f"Knightly Thermos. {rules}", f"{rules} Hint: never use the king."):
        assert read_rules(hiding).not_understood or read_rules(hiding).unsure


def test_a_heading_takes_no_rule_with_it() -> None:
    assert kinds("Hot Cages by Elin Berg. Normal sudoku rules apply.")[:3] == ["rows", "columns", "boxes"]


_HIDDEN = "Normal sudoku rules apply. Digits along a thermometer increase from the bulb. {}"


@pytest.mark.parametrize(
    "lost",
    [
        "Cells a khight's move apart must not contain the same digit.",
        "Cells a move apart must not contain the same digit.",
        "No digit may be repeated a cn|ght's mova away.",
        "Neiglib0urlng vell are newer ceasecuiye.",
        "Equal dilils never ouch, nol eyon dilgona|dr.",
    ],
)
def test_a_rule_without_marks_that_ocr_lost_is_asked_about(lost: str) -> None:
    sheet = read_rules(_HIDDEN.format(lost), confidence=0.9)
    assert (*sheet.not_understood, *sheet.unsure) == (lost,)
    assert [s.kind for s in without_unsure(sheet).statements][-1] == "thermometer"


def test_talk_that_ocr_read_well_is_no_doubt() -> None:
    for talk in ("The winner gets a book token.", "Have fun with it!", "By Marta Keller"):
        assert read_rules(_HIDDEN.format(talk), confidence=0.9).not_understood == ()


def test_other_opinions_are_asked_where_no_pattern_fits() -> None:
    told = "All digits on a line between circles are exceeded by one of the circled digits and exceed the other."
    sheet = read_rules(told)
    assert [s.kind for s in sheet.statements] == ["between-line"]
    for strange in ("Every second thermometer increases from the bulb.", "A dot means that one is more than double."):
        assert read_rules(strange).statements == ()


@pytest.mark.parametrize(
    "told",
    [
        "Exactly one of the main diagonals contains every digit once.",
        "Only one of the long diagonals holds every digit once.",
        "White dots may mark consecutive digits.",
        "White dots sometimes mark consecutive digits.",
        "Most of the grey lines are palindromes.",
        "Some of the thermometers rise from the bulb.",
        "Digits increase along each thermometer from the bulb; one of them does not.",
        "Identical digits can be a knight's move apart but not a king's move.",
    ],
)
def test_what_holds_for_some_marks_only_is_asked_about(told: str) -> None:
    assert read_rules(told).not_understood or not surely(told)


def test_rules_of_other_kinds_are_never_forced_into_ours_nor_ignored() -> None:
    strange = [t for t in texts("sentences") if t["says"] == ["?"]]
    assert len(strange) > 80
    for item in strange:
        sheet = read_rules(str(item["text"]))
        assert not sheet.statements, item["text"]
        assert sheet.not_understood, item["text"]


def test_talk_is_no_rule() -> None:
    for item in texts("sentences"):
        if not item["says"]:
            sheet = read_rules(str(item["text"]))
            assert not sheet.statements and not sheet.not_understood, item["text"]


def test_a_sentence_understood_in_part_states_nothing() -> None:
    sheet = read_rules("Digits on a thermometer increase from the bulb and are all odd.")
    assert sheet.statements == ()
    assert sheet.not_understood == ("Digits on a thermometer increase from the bulb and are all odd.",)


def test_sandwich_names_the_lowest_and_highest_digit_or_is_not_understood() -> None:
    clue = "Numbers outside give the sum of the digits between the 1 and the {}."
    assert kinds("Place 1 to 6 once in each row and column. " + clue.format(6)) == ["rows", "columns", "sandwich"]
    sheet = read_rules("Place 1 to 6 once in each row and column. " + clue.format(5))
    assert [s.kind for s in sheet.statements] == ["rows", "columns"]
    assert sheet.not_understood == (clue.format(5),)
    assert read_rules(clue.format(9)).statements[0].fields == {"ends": (1, 9)}
    assert read_rules(clue.format(9), digits=(1, 9)).statements[0].fields == {}


@pytest.mark.parametrize(
    "text",
    [
        "Digits joined by a white dot may be consecutive.",
        "Some grey lines are palindromes.",
        "Every row contains exactly eight different digits.",
        "Outside clues: the sum of the digits between the 1 and the 9 or the sum of those outside them.",
    ],
)
def test_rules_that_hold_only_perhaps_or_in_part_are_not_understood(text: str) -> None:
    sheet = read_rules(text)
    assert sheet.statements == ()
    assert sheet.not_understood


def test_an_outlined_thing_that_nobody_knows_is_not_left_out_of_the_units() -> None:
    told = "In each row, each column and each heavily outlined wombat every digit is placed once."
    for text in (told, told.replace("heavily outlined ", "")):
        assert sorted(surely(text)) in ([], ["boxes", "columns", "rows"])
    assert kinds(told.replace("heavily outlined wombat", "thick-lined box")) == ["rows", "columns", "boxes"]


@pytest.mark.parametrize(
    "text",
    [
        "Digits a1ong a thennometer increase frorn the bulb.",
        "Digits along athermometer increase from the buIb.",
        "DIGITS ALONG A THERMOMETER INCREASE FROM THE BULB.",
        "Digits along a thermo-\nmeter increase from the bulb.",
        "Digits along a thermo- meter in crease fr0m the bu1b.",
        "Digit5 alongthe thermometer ìncrease from tbe bulb.".replace("ì", "i"),
        "Digits along a thermometer increasefrom thebulb.",
        "DigIts aIong a therrnometer increa5e frcm the bnlb.",
    ],
)
def test_errors_of_ocr_are_forgiven(text: str) -> None:
    assert kinds(text) == ["thermometer"]


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("PIace l to 9 once in each row.", 1, 9), ("Place 1 t0 9 once in each row.", 1, 9), ("Place O to 8 once.", 0, 8)],
)
def test_figures_that_ocr_took_for_letters_are_put_right(text: str, low: int, high: int) -> None:
    digits = read_rules(text).digits
    assert digits is not None
    assert (digits.low, digits.high) == (low, high)


@pytest.mark.parametrize(
    "told",
    [
        "Each number outside is the sum of the digits between 1 and g in its row or column.",
        "Each number outside is the sum of the digits between the 1 and the 9g in its row or column.",
        "Each number outside is the sum of the digits between the ! and the 9 in its row or column.",
        "Each number outside is the sum of the digits from the I to the 9 in its row or column, both left out.",
        "Look for the 1 and the q in a row or column: the digits between them sum to the number outside.",
    ],
)
def test_the_ends_of_a_sandwich_are_figures_whatever_ocr_made_of_them(told: str) -> None:
    sheet = read_rules(told)
    assert [(s.kind, s.fields["ends"]) for s in sheet.statements] == [("sandwich", (1, 9))]
    assert not sheet.unsure and not sheet.not_understood


@pytest.mark.parametrize("seen", ["ro", "io", "lo"])
def test_a_ten_in_old_style_figures_is_no_word(seen: str) -> None:
    assert mended(f"two cells with total {seen}, XIII with total 13.") == "two cells with total 10, XIII with total 13."
    assert mended(f"the {seen}-ring") == f"the {seen}-ring"


def test_a_stain_between_the_sides_of_a_box_is_no_word() -> None:
    sheet = read_rules("Place 1 to 9 and the letters A to C once in every row, column and 3xé4 block.")
    assert not sheet.unsure and not sheet.not_understood
    assert {s.kind for s in sheet.statements} == {"rows", "columns", "boxes"}


@pytest.mark.parametrize("word", ["alone", "lighthouse", "bold", "lane", "sumo"])
def test_english_words_are_not_mended_into_words_of_rules(word: str) -> None:
    assert mended(f"a {word} here") == f"a {word} here"


def test_a_nine_with_a_tail_is_no_letter_at_the_end_of_a_list_of_figures() -> None:
    assert mended("the digits 5, 6, 7, 8 and g once").split()[-3:] == ["and", "9", "once"]
    assert mended("the digits 6, 7, 8, g").split()[-1] == "9"
    assert mended("8 and q") != "8 and 9"


def test_a_sentence_read_with_known_words_left_out_is_said_to_be_unsure() -> None:
    told = (
        "The diagonal running from bottom left to top right is marked with a dotted line, and on it all digits differ."
    )
    sheet = read_rules(told)
    assert [s.kind for s in sheet.statements] == ["diagonal"]
    assert sheet.unsure == (told,)
    assert sheet.statements[0].confidence < 1


def test_words_that_nobody_foresaw_may_stand_in_a_rule_but_not_decide_it() -> None:
    assert kinds("Digits on a thermometer cheerfully increase from the bulb.") == ["thermometer"]
    for twist in ("may be blorbed or", "increase only zestily from the bulb or", "never blorb but"):
        assert surely(f"Digits on a thermometer {twist} increase from the bulb.") == []


def test_confidence_of_a_statement_follows_that_of_the_words() -> None:
    text = "Cells a knight's move apart (as in chess) never hold the same digit."
    sure, doubtful = read_rules(text).statements[0], read_rules(text, confidence=0.5).statements[0]
    assert sure.confidence == 1
    assert 0.99 < doubtful.confidence < 1


def test_two_ranges_of_digits_are_a_query() -> None:
    text = "Place 1 to 9 once in each row. Place 1 to 8 once in each column."
    sheet = read_rules(text)
    assert sheet.digits is None
    assert len(sheet.not_understood) == 2


def test_a_statement_and_its_denial_are_a_query() -> None:
    sheet = read_rules("Normal sudoku rules apply. There are no boxes.")
    assert len(sheet.not_understood) == 2
    dots = "White dots join consecutive digits. All white dots are given. Not all white dots are given."
    assert kinds(dots) == ["consecutive-pair"]


def test_a_question_states_nothing() -> None:
    assert kinds("Do digits on a thermometer increase from the bulb?") == []


def test_examples_are_no_rules() -> None:
    text = "A white dot joins consecutive digits (for example 3 and 4). For example, a row may have 4 beside 5."
    sheet = read_rules(text)
    assert [s.kind for s in sheet.statements] == ["consecutive-pair"]
    assert sheet.not_understood == ()


def test_contradiction_is_not_understood() -> None:
    sheet = read_rules("Digits may not repeat in cages. Digits may repeat in cages.")
    assert sheet.statements == ()
    assert len(sheet.not_understood) == 2


@pytest.mark.parametrize(
    "text", ["", "   ", "?!", "Le soleil se couche derrière la colline.", "| | |", "1 2 3", "§range=x"]
)
def test_nothing_is_claimed_of_what_is_no_rules_text(text: str) -> None:
    assert read_rules(text).statements == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("The pony never lands on a number equal to its own.", ["knight-apart"]),
        ("Two square friends with a seashell on the wall between them total 7.", ["sum-pair"]),
        ("A green eel swims so that each step is five or more away from the one before it.", ["gap-line"]),
        ("From the kerb one perceives that many mountains.", ["skyscraper"]),
        ("The sudoku part of this thing is as ordinary as porridge.", ["rows", "columns", "boxes"]),
    ],
)
def test_words_of_a_tale_are_taken_for_what_they_stand_for(text: str, told: list[str]) -> None:
    assert set(told) <= set(kinds(text))
    assert sorted(surely(text)) in ([], sorted(told))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Diamonds between cells: the three digits sum to 11.", []),
        ("White dots: consecutive. Black: ratio 3.", ["consecutive-pair", "ratio-pair"]),
        ("Bonus regions: no repeats.", ["extra-region"]),
        ("The thin diagonal is a region of nine different digits.", ["diagonal"]),
        ("V is 5 and X is 10. The two digits beside it add up to that.", ["sum-pair", "sum-pair"]),
        (
            "An X joins two that make ten. And neighbours are never consecutive.",
            ["sum-pair", "neighbours-not-consecutive"],
        ),
        ("THRICE AS NICE: Where a pink dot lies between two cells, one is three times the other.", ["ratio-pair"]),
        ("The long diagonals behave like rows.", ["diagonal"]),
        ("Put 1 to 6 once in each row, each column and each outlined block.", ["rows", "columns", "boxes"]),
        ("The digits in an outlined block sum to its number.", ["cage"]),
        ("White dots: consecutive. Between a 1 and a 2 there may be any dot.", ["consecutive-pair"]),
        ("Sudoku. Tubes: going up from the bulb.", ["rows", "columns", "boxes", "thermometer"]),
    ],
)
def test_what_was_read_surely_and_wrongly_is_not(text: str, told: list[str]) -> None:
    assert surely(text) == told


def test_what_contradicts_the_text_is_not_guessed_at() -> None:
    sheet = read_rules("Place 1 to 6 in each row. Clues outside give the sum of the digits between the 1 and the 5.")
    assert "sandwich" not in [s.kind for s in sheet.statements]


@pytest.mark.parametrize(
    "text", ["NSR.", "NORMAL SUDOKU RULES APPLY.", "NSR. Digits along a thermometer increase from the bulb."]
)
def test_rules_in_capitals_are_no_headlines(text: str) -> None:
    assert surely(text)[:3] == ["rows", "columns", "boxes"]


def test_a_hidden_rule_in_capitals_is_read() -> None:
    text = "NORMAL SUDOKU RULES APPLY. NO NEIGHBOURS ARE CONSECUTIVE. Thermometers rise from the bulb."
    assert "neighbours-not-consecutive" in surely(text)


@pytest.mark.parametrize(
    "text",
    [
        "In all but one cage digits sum to the number in the corner.",
        "Digits in a cage sum to the number in its corner plus one.",
        "In most cases neighbouring digits on a green line differ by 5 or more.",
        "It is not true that orthogonal neighbours are never consecutive.",
        "The first three digits along an arrow add up to the digit in its circle.",
        "The number in a cage is the sum of its outer digits.",
        "A white dot joins three cells with consecutive digits.",
        "Cells two knight's moves apart never hold the same digit.",
        "Cells a king's move apart hold different digits or 2.",
        "Nearly every digit on a line lies between those in the circles at its ends.",
        "Along a thermometer digits never decrease towards the bulb.",
    ],
)
def test_what_qualifies_a_rule_keeps_it_from_being_sure(text: str) -> None:
    assert surely(text) == []


@pytest.mark.parametrize(
    "last",
    ["All such places are marked.", "All the pairs of neighbouring cells with this property have a filled circle."],
)
def test_that_no_mark_is_left_out_is_never_passed_over(last: str) -> None:
    sheet = read_rules(f"The digits 1 to 6 in each row and column. A dot: one digit is half of the other. {last}")
    assert "all-marked" in {s.kind for s in sheet.statements} or last in (*sheet.unsure, *sheet.not_understood)


def test_a_clause_of_which_nothing_is_left_is_read() -> None:
    assert read_rules("Clue! Clue with a plus.").statements == ()
