"""Which lines of a page are the title, the setter and the rules of which of its puzzles."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from ingest.page import Box, VectorGlyph
from recognise.text import assign_words
from recognise.text.blocks import blocks
from recognise.text.engine import NoEngine, engine
from recognise.text.glyph_lines import glyph_lines
from tests.recognise.test_text import FRAME, GRID, RULES, line


def test_running_text_table_and_footer_are_neither_rules_nor_title() -> None:
    lines = [
        line("GULL POINT OBSERVER", 150, 40, 20, bold=True),
        line("Salt Meadow", 200, 120, 14, bold=True),
        line("by Thrift", 200, 138, 8),
        line(RULES[0], 100, 160),
        line("The tide tables below are given for Gull Point and should not be used", 100, 600, 8),
        line("for anything that floats.", 100, 610, 8),
        line("Duck", 480, 300, 8),
        line("64", 520, 300, 8),
        line("Gull Point Observer 25", 250, 820, 8),
    ]
    words = assign_words(lines, [GRID], FRAME)[0]
    assert (words.title, words.setter, words.rules_text) == ("Salt Meadow", "Thrift", RULES[0])


def test_rules_beside_the_grid_and_a_bare_name() -> None:
    lines = [line("Old Quay", 40, 40, 16, bold=True), line("M. Petrel", 40, 60, 9)]
    lines += [
        line(t, 470, 200 + 12 * i) for i, t in enumerate(("Place 1 to 9", "once in every row,", "column and box."))
    ]
    words = assign_words(lines, [GRID], FRAME)[0]
    assert (words.title, words.setter) == ("Old Quay", "M. Petrel")
    assert words.rules_text == "Place 1 to 9 once in every row, column and box."


def test_two_puzzles_each_get_their_own_words() -> None:
    grids: list[Box] = [(50, 150, 280, 380), (320, 150, 550, 380)]
    lines = [
        line("First", 50, 120, 14, bold=True),
        line("Second", 320, 120, 14, bold=True),
        line(RULES[0], 50, 390, 8),
        line("Grey lines are palindromes.", 320, 390, 8),
    ]
    first, second = assign_words(lines, grids, FRAME)
    assert (first.title, first.rules_text) == ("First", RULES[0])
    assert (second.title, second.rules_text) == ("Second", "Grey lines are palindromes.")


def test_rules_that_head_a_lower_grid_are_not_those_of_the_higher_one_beside_them() -> None:
    grids: list[Box] = [(50, 190, 280, 420), (310, 240, 550, 480)]
    told = (
        "Place 1 to 9 once in every row, in",
        "every column and in each box. Grey",
        "lines are palindromes. Circles are",
    )
    told += ("on odd digits. Squares are on even", "digits. White dots join digits that", "are consecutive.")
    own = line("White dots join consecutive digits.", 50, 150, 7)
    heading = [line(text, 300, 130 + 11 * number, 9) for number, text in enumerate(told)]
    first, second = assign_words([own, *heading], grids, FRAME)
    assert (first.rules_text, second.rules_text) == (own.text, " ".join(told))


def test_rules_at_the_head_of_the_page_serve_all_puzzles() -> None:
    grids: list[Box] = [(50, 150, 280, 380), (320, 150, 550, 380)]
    head = "Place 1 to 9 once in every row, column and box of both grids."
    words = assign_words([line(head, 50, 100, 16)], grids, FRAME)
    assert [w.rules_text for w in words] == [head, head]


def test_central_rules_above_two_grids_serve_both() -> None:
    grids: list[Box] = [(50, 150, 280, 380), (320, 150, 550, 380)]
    words = assign_words([line("Place 1 to 9 once in every row.", 230, 110, 9)], grids, FRAME)
    assert [w.rules_text for w in words] == ["Place 1 to 9 once in every row."] * 2


def test_a_paragraph_below_rules_that_speaks_as_they_do_is_never_dropped() -> None:
    strange = "Every third digit of a row is larger than both of its neighbours."
    lines = [line("Cells with a white dot between them hold consecutive digits.", 100, 600)]
    lines += [line("Every possible white dot has been marked.", 100, 624), line(strange, 100, 648)]
    lines += [line("Beginners may wish to start with the smaller grids, which take ten minutes.", 100, 672)]
    text = assign_words(lines, [GRID], FRAME)[0].rules_text
    assert text == " ".join(item.text for item in lines[:3])


def test_a_heading_of_the_rules_is_no_title() -> None:
    lines = [line("Amber Meadow", 40, 44, 17, bold=True), line("Ansel Quib", 40, 67, 11)]
    lines += [line("How to solve", 470, 120, 11, bold=True), line(RULES[0], 470, 140, 11)]
    words = assign_words(lines, [GRID], FRAME)[0]
    assert (words.title, words.setter) == ("Amber Meadow", "Ansel Quib")


def test_bullets_and_hyphens_at_line_ends() -> None:
    lines = [line("\u2022 Place 1 to 9 once in every row, in every column and in every bold-", 60, 600)]
    lines += [line("edged box.", 60, 612), line("\u2022 Digits do not repeat on the diag-", 60, 630)]
    lines += [line("onals.", 60, 642)]
    told = assign_words(lines, [GRID], FRAME)[0].rules_text
    assert told is not None
    assert told.startswith("Place 1 to 9")
    assert "bold-edged box. Digits do not repeat on the diagonals." in told


def test_a_sentence_that_breaks_off_in_one_column_goes_on_in_the_next() -> None:
    left = [
        line("Standard sudoku constraints apply (1-9 in rows,", 40, 600),
        line("columns and boxes). Any number which stands right", 40, 613),
    ]
    left.append(line("between two cells is", 40, 626))
    right = [line("their sum; there is no converse.", left[0].box[2] + 25, 600)]
    scanned = [replace(one, how="ocr") for one in (*left, *right)]
    assert assign_words(scanned, [GRID], FRAME)[0].rules_text == " ".join(one.text for one in scanned)


def test_clues_and_givens_are_no_words() -> None:
    words = assign_words([line("5", 110, 210, 20), line("23 35 19", 120, 180, 14)], [GRID], FRAME)[0]
    assert (words.title, words.setter, words.rules_text, words.lines) == (None, None, None, ())


def test_page_without_grid_has_no_words() -> None:
    assert assign_words([line("Harbour Lights", 10, 10, 20)], [], FRAME) == []


def test_a_title_with_a_name_at_the_other_margin_is_no_sentence_of_the_rules() -> None:
    """OCR reads what stands level as one line, however far apart it is."""
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    page = np.full((200, 1500), 255, np.uint8)
    for words, x, y in (("Keep Your Distance", 40, 60), ("by Wader", 1250, 60), (RULES[0], 40, 120)):
        cv2.putText(page, words, (x, y), cv2.FONT_HERSHEY_SIMPLEX, 1.0, 0, 2, cv2.LINE_AA)
    assert [found.text for found in engine().read(page)] == ["Keep Your Distance", "by Wader", RULES[0]]


def test_a_title_that_names_a_kind_is_no_rule_where_sentences_state_it() -> None:
    title, below = line("Odd Squares", 100, 100, 12), line("A grey square holds an odd digit.", 100, 700)
    words = assign_words([title, line(RULES[0], 100, 680), below], [GRID], FRAME)[0]
    assert words.title == "Odd Squares"
    assert words.rules_text == f"{RULES[0]} A grey square holds an odd digit."
    alone = assign_words([title, line(RULES[0], 100, 680)], [GRID], FRAME)[0]
    assert alone.rules_text == f"Odd Squares. {RULES[0]}"


def test_a_name_and_a_difficulty_are_no_sentence_beside_rules() -> None:
    lines = [replace(line(text, 100, y), how="ocr") for text, y in (("E. Hay - : Medium", 140), (RULES[0], 165))]
    assert assign_words(lines, [GRID], FRAME)[0].rules_text == RULES[0]


def test_lines_of_which_half_is_a_list_of_digits_are_words_and_those_that_go_on_with_it() -> None:
    said = [
        "Put 1, 2, 3, 4, 5, 6, 7, 8, 9 in",
        "each row, column and",
        "box. The figures are",
        "1, 2, 3, 4, 5, 6, 7,",
        "8 and 9, once each.",
    ]
    lines = [line(text, 100, 600 + 12 * at) for at, text in enumerate(said)]
    told = assign_words([*lines, line("23, 35, 19", 120, 180, 14)], [GRID], FRAME)[0]
    assert told.rules_text == " ".join(each.text for each in lines)


def test_a_line_of_rules_that_a_heading_in_bold_opens_is_of_their_paragraph() -> None:
    """Most of the line is the heading; the paragraph goes on beneath it."""
    text, after = ("And the arrow? It points", "from a digit to a smaller one.")
    glyphs = [
        VectorGlyph(c, (100 + 5 * at, 600, 104 + 5 * at, 607), 10, font, (0, 0, 0), True, True)
        for at, (c, font) in enumerate(zip(text, ["Face-Bold"] * 14 + ["Face"] * 10, strict=True))
    ]
    (first,) = glyph_lines(glyph for glyph in glyphs if glyph.text != " ")
    (block,) = blocks([first, line(after, 100, 612)])
    assert block.text == f"{text} {after}"


@pytest.mark.parametrize("white", [15, 23])
def test_a_paragraph_right_below_rules_that_states_one_in_words_of_its_own_is_never_dropped(white: float) -> None:
    """Farther off it may be an article."""
    lines = [line(RULES[0], 100, 600), line(RULES[1], 100, 612)]
    said = [
        "And everywhere in this quarry it is forbidden to lay a",
        "stone against the wall of its next number: 4 will not",
    ]
    said += ["abide 3 or 5 above, below, left or right of it."]
    lines += [line(text, 100, 622 + white + 12 * at) for at, text in enumerate(said)]
    told = assign_words(lines, [GRID], FRAME)[0].rules_text
    assert told is not None and ("quarry" in told) == (white < 20)


def test_sentences_that_bind_nothing_cost_no_paragraph_its_rule() -> None:
    said = ["The figures inside a dashed pen are all different, and where"]
    said += ["a small number stands in its top corner they come to that"]
    said += ["number. One pen has lost its number; its figures still must", "differ."]
    lines = [line(RULES[0], 100, 600), *(line(text, 100, 630 + 12 * at) for at, text in enumerate(said))]
    assert assign_words(lines, [GRID], FRAME)[0].rules_text == " ".join((RULES[0], *said))


def test_numbered_paragraphs_that_hang_keep_their_short_last_lines_and_the_digits_that_they_name() -> None:
    hanging = [
        ("a) Ten digits for a change: 0, 1, 2, 3, 4, 5, 6, 7, 8, 9.", 0),
        ("b) They appear once in every row, every column and every tall block (two across, five", 0),
        ("down).", 20),
        ("c) Dotted cages: no digit twice in a cage; the small number is their sum. One cage keeps its", 0),
        ("sum to itself.", 20),
    ]
    lines = [line(text, 100 + indent, 600 + 14 * number) for number, (text, indent) in enumerate(hanging)]
    text = assign_words(lines, [GRID], FRAME)[0].rules_text
    assert text == " ".join(told for told, _ in hanging)
