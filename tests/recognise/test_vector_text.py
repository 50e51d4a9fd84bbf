"""Numbers in and around a grid, by the text layer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from recognise.doubt.ledger import not_accounted_for
from recognise.draft import Draft, Given, Item, box_polygon
from recognise.evidence import Guess, Words
from recognise.vectors import read_vectors
from schema.cells import Cell
from schema.grid import Grid
from tests.recognise.drawn_pages import SIDE
from tests.recognise.test_vector_little_arrows import DIAGONAL, shaft_and_head


def test_numbers_in_and_around_a_grid(sheet):
    sheet.grid()
    sheet.text(0.5, 0.5, "16")
    sheet.text(8.5, 8.5, "A", font="Times-Roman")
    for column, clue in ((1, "11"), (2, "23"), (5, "7")):
        sheet.text(column - 0.5, -0.5, clue, 0.45)
    sheet.text(-1.5, 2.5, "4", 0.45)
    sheet.text(-0.6, 2.5, "12", 0.45)
    sheet.text(4.5, 10.2, "Place 1 to 9 in every row, column and box, as 3, 4.", 0.4)
    sheet.text(4.5, -2, "Number 12 of the Fixture Press", 0.7)
    found = sheet.evidence()
    read = {glyph.text: glyph for glyph in found.glyphs}
    assert sorted(read) == sorted(["16", "A", "11", "23", "7", "4", "12"])
    assert read["12"].centre == pytest.approx((-0.6, 2.5), abs=0.06)
    assert read["16"].size == pytest.approx(0.36, abs=0.03)
    assert not (found.shapes or found.unexplained)


def test_numbers_of_neighbouring_cells_stay_apart(sheet):
    sheet.grid()
    for column, given in enumerate(("15", "16", "13", "9"), start=1):
        sheet.text(column - 0.5, 0.5, given, 0.66)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["13", "15", "16", "9"]


def test_a_number_with_its_shadow_is_one_number(sheet):
    sheet.grid()
    for row, clue in ((1, "26"), (6, "28"), (7, "24"), (8, "27"), (9, "11")):
        sheet.text(9.5, row - 0.5, clue, 0.65)
        sheet.text(9.7, row - 0.37, clue, 0.65)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["11", "24", "26", "27", "28"]


def test_two_numbers_that_touch_are_two_where_each_is_a_text_of_its_own(sheet):
    sheet.grid()
    sheet.text(2.26, 2.3, "27", 0.4)
    sheet.text(2.71, 2.3, "12", 0.4)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["12", "27"]


def test_figures_set_one_by_one_are_one_number_where_the_next_arrow_is_that_of_another(sheet):
    sheet.grid()
    for column, (tens, ones) in ((2, "31"), (3, "24")):
        shaft_and_head(sheet, column + 0.81, -0.18, DIAGONAL["down-right"])
        sheet.text(column + 0.25, -0.6, tens, 0.37)
        sheet.text(column + 0.47, -0.6, ones, 0.37)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["24", "31"]


def test_a_table_beside_a_grid_is_none_of_its_clues(sheet):
    sheet.grid()
    for row in range(9):
        sheet.text(-2.6, 0.5 + row, "Oaks", 0.4)
        for column in range(3):
            sheet.text(-1.6 + 0.5 * column, 0.5 + row, str((row * 3 + column) % 10), 0.4)
    assert not sheet.evidence().glyphs


def test_numbers_within_another_grid_are_its_own(sheet):
    sheet.grid()
    for k in range(5):
        sheet.line([(9.6 + 0.5 * k, 1), (9.6 + 0.5 * k, 3)], 0.02)
        sheet.line([(9.6, 1 + 0.5 * k), (11.6, 1 + 0.5 * k)], 0.02)
    for row in range(4):
        sheet.text(9.85, 1.25 + 0.5 * row, str(row + 1), 0.35)
    assert not sheet.evidence().glyphs


def test_small_totals_keep_their_size(sheet):
    sheet.grid()
    sheet.text(0.5, 0.5, "8", 0.6)
    sheet.text(2.2, 0.2, "15", 0.25)
    sizes = {glyph.text: glyph.size for glyph in sheet.evidence().glyphs}
    assert sizes["15"] < 0.5 * sizes["8"]


def test_a_small_number_beside_a_given_is_not_part_of_it(sheet):
    sheet.grid()
    sheet.text(2.5, 4.5, "2", 0.6)
    sheet.text(2.9, 4.5, "10", 0.4)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["10", "2"]


@pytest.mark.parametrize("in_cells", [81, 30])
def test_figures_for_crossing_out_are_none_of_the_puzzle_where_most_cells_have_them(sheet, in_cells):
    sheet.grid()
    for place in range(in_cells):
        row, column = divmod(place, 9)
        for digit in range(9):
            at = column + 0.25 + 0.25 * (digit % 3), row + 0.25 + 0.25 * (digit // 3)
            sheet.text(*at, str(digit + 1), 0.15, colour="#999999")
    sheet.text(4.5, 8.5, "7", 0.6)
    found = sheet.evidence()
    assert ("".join(glyph.text for glyph in found.glyphs) == "7") == (in_cells == 81)
    assert len(found.characters) == (1 if in_cells == 81 else 1 + 9 * in_cells)


def test_the_words_of_a_heading_and_the_numbers_among_them_are_no_clues(sheet):
    sheet.grid()
    sheet.text(1.5, -0.6, "Puzzle 444", 0.5)
    sheet.text(5.5, -0.6, "17", 0.5)
    found = sheet.evidence()
    ((left, _, right, _),) = found.phrases
    assert left < 0.7 and 2.2 < right < 3.5
    assert [glyph.text for glyph in found.glyphs] == ["17"]


def test_a_line_of_text_that_is_one_path_beside_a_grid_is_text(sheet):
    sheet.grid()
    path = sheet.canvas.beginPath()
    for n in range(8):
        seven = (0, 0), (0.1, 0), (0.1, 0.03), (0.04, 0.2), (0, 0.2), (0.06, 0.03), (0, 0.03)
        for place, (x, y) in enumerate(seven):
            (path.lineTo if place else path.moveTo)(*sheet.at(6 + 0.14 * n + x, 9.3 + y))
        path.close()
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    assert {shape.name for shape in sheet.evidence().shapes} == {"glyph-path"}


def clues_of(sheet) -> list[str]:
    return sorted(glyph.text for glyph in sheet.evidence().glyphs)


def test_a_lone_number_far_below_the_grid_is_that_of_the_page(sheet):
    sheet.grid()
    sheet.text(4.5, 11.2, "9", 0.4)
    assert clues_of(sheet) == []


@pytest.mark.parametrize(("x", "y", "clues"), [(4.5, 10.6, ["5", "9"]), (7.5, 11.2, [])])
def test_a_number_far_below_the_grid_is_a_clue_behind_another(sheet, x, y, clues):
    sheet.grid()
    sheet.text(4.5, 11.2, "9", 0.4)
    sheet.text(x, y, "5", 0.4)
    assert clues_of(sheet) == clues


def test_the_axis_of_a_chart_beside_the_grid_holds_no_clues(sheet):
    """Four numbers in a column of another step: three of them happen to stand near the middle of a row."""
    sheet.grid()
    for place, text in enumerate(("80", "60", "40", "20")):
        sheet.text(10.0, 1.45 + 2.42 * place, text, 0.3)
    assert clues_of(sheet) == []


def test_the_numbers_of_a_table_are_accounted_for(sheet):
    """Those of a calendar whose columns keep twice the step of the grid's, below it: they are words of the page."""
    sheet.grid()
    for week in range(4):
        for day in range(4):
            sheet.text(0.5 + 2 * day, 9.9 + 0.7 * week, str(7 * week + day + 1), 0.4)
    found = sheet.evidence()
    assert not found.glyphs
    assert len(found.phrases) == 16


def test_a_number_at_its_arrow_is_no_word_of_the_text_beside_it(sheet):
    """The text stands as close to it as its words to each other, but in another fount."""
    sheet.grid()
    shaft_and_head(sheet, 9.3, 5.3, DIAGONAL["up-left"])
    sheet.text(9.75, 5.6, "8", 0.4, "Helvetica-Bold")
    sheet.text(10.7, 5.6, "digits may", 0.4)
    sheet.text(10.7, 7.6, "repeat", 0.4)
    assert clues_of(sheet) == ["8"]


def test_letters_that_name_rows_are_words_beside_the_grid(sheet):
    sheet.grid()
    for row, letter in enumerate("ABCDEFGHI"):
        sheet.text(-0.4, 0.5 + row, letter, 0.24)
    found = sheet.evidence()
    assert not found.glyphs
    assert len(found.phrases) == 9


def test_letters_in_another_order_name_nothing(sheet):
    sheet.grid()
    for row, letter in enumerate("ABDCEFGHI"):
        sheet.text(-0.4, 0.5 + row, letter, 0.24)
    assert not sheet.evidence().phrases


def test_a_page_number_between_dashes_is_no_clue(sheet):
    sheet.grid()
    sheet.text(6.5, 10.2, "\u2013 47 \u2013", 0.4)
    found = sheet.evidence()
    assert (found.glyphs, len(found.phrases)) == ((), 1)


def test_the_number_of_an_issue_above_a_column_is_no_clue(sheet):
    sheet.grid()
    sheet.text(8.5, -0.6, "No. 78", 0.33, "Helvetica-Bold")
    assert not sheet.evidence().glyphs


@pytest.mark.parametrize("amount", ["1.80", "20%", "0,99"])
def test_prices_beside_the_grid_are_no_clues(sheet, amount):
    sheet.grid()
    sheet.text(10.2, 2.5, amount, 0.45, "Helvetica-Bold")
    sheet.text(9.6, 5.5, "12", 0.45)
    assert [glyph.text for glyph in sheet.evidence().glyphs] == ["12"]


def _asked(seen, *left_out: str) -> list[str]:
    """The characters of which the ledger asks where the draft has only the givens, some of them left out."""
    givens = [(glyph, Cell(int(glyph.centre[1]) + 1, int(glyph.centre[0]) + 1)) for glyph in seen.glyphs]
    items = [
        Item(Given(cell, int(glyph.text[:1])), box_polygon(glyph.box), 1.0, "vector")
        for glyph, cell in givens
        if glyph.text not in left_out and 1 <= cell.row <= 9 and glyph.centre[0] > 0
    ]
    draft = Draft(Grid(rows=9, columns=9, digits=tuple(range(1, 10))), tuple(items), Words())
    return sorted(glyph.text for glyph in not_accounted_for(draft, seen))


@pytest.mark.parametrize("last", [9, 8])
def test_numbers_that_name_the_rows_are_accounted_for(sheet, last: int) -> None:
    sheet.grid()
    for row in range(1, last + 1):
        sheet.text(-0.3, row - 0.5, str(row), 0.25)
    assert _asked(sheet.evidence()) == ([] if last == 9 else [str(row) for row in range(1, last + 1)])


def test_every_character_on_the_grid_is_stated_or_asked_about(sheet):
    sheet.grid()
    for column, given in enumerate("1234", start=1):
        sheet.text(column - 0.5, 0.5, given)
    sheet.text(4.5, 10.2, "Place 1 to 9 in every row, column and box, as 3, 4.", 0.4)
    seen = sheet.evidence()
    assert _asked(seen) == []
    assert _asked(seen, "3") == ["3"]


def test_a_figure_that_a_line_hides_is_asked_about_where_the_rest_of_its_number_is_seen(sheet):
    sheet.grid()
    for x, given in ((0.5, "1"), (1.5, "2"), (3.5, "4")):
        sheet.text(x, 0.5, given)
    sheet.text(2.5, 2.5, "1 4 7 8", 0.2)
    sheet.line([(2.41, 2.2), (2.41, 2.8)], 0.16, "#5b87c7")
    sheet.disc(3.5, 0.5, 0.45, "#202020")  # nothing of this given is left, nor of its number
    assert _asked(sheet.evidence()) == ["4"]


@pytest.mark.parametrize(("until", "asked"), [(-0.5, ["2"]), (-0.1, [])])
def test_a_clue_that_is_painted_over_in_part_is_asked_about(sheet, until, asked):
    sheet.grid()
    sheet.text(-0.5, 3.5, "2", 0.5)
    sheet.bar(-0.9, 3.0, until + 0.02, 4.0, "#ffffff")
    assert _asked(sheet.evidence()) == asked


@pytest.mark.parametrize(("wide", "high", "asked"), [(0.85, 0.015, 0), (0.3, 0.015, 1), (0.85, 0.2, 1)])
def test_a_row_of_dashes_that_is_one_path_is_no_character(sheet, wide, high, asked):
    sheet.grid()
    path = sheet.canvas.beginPath()
    for start in np.linspace(0, wide, 5, endpoint=False):
        path.rect(*sheet.at(1.06 + start, 1.1), 0.6 * wide / 5 * SIDE, high * SIDE)
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    assert len(sheet.evidence().characters) == asked


def test_a_small_number_beside_the_grid_is_asked_about_and_a_table_is_not(sheet):
    sheet.grid()
    sheet.text(-0.5, 2.5, "7", 0.2)
    for row in range(9):
        for column in range(3):
            sheet.text(9.8 + 0.4 * column, 0.3 + 0.45 * row, str((row * 3 + column) % 10), 0.4)
    assert _asked(sheet.evidence()) == ["7"]


def test_the_day_of_a_calendar_is_no_clue(sheet):
    """Twice as tall as a cell, and in line with a column."""
    sheet.grid()
    sheet.text(1.5, -1.5, "14", 2.2, "Helvetica-Bold")
    sheet.text(4.5, -0.6, "14", 0.5, "Helvetica-Bold")
    found = sheet.evidence()
    assert [glyph.text for glyph in found.glyphs] == ["14"]
    assert found.glyphs[0].centre[0] == pytest.approx(4.5, abs=0.1)


def test_two_numbers_that_touch_are_accounted_for_one_by_one(sheet):
    sheet.grid()
    sheet.text(3.5, 0.5, "925")
    seen = sheet.evidence()
    (whole,) = seen.glyphs
    left, top, right, bottom = whole.box
    middle = left + (right - left) / 3
    parts = [
        replace(whole, box=box, guesses=(Guess(text, 1.0),))
        for text, box in (("9", (left, top, middle, bottom)), ("25", (middle, top, right, bottom)))
    ]
    apart = replace(seen, glyphs=tuple(parts), characters=(whole,))
    assert _asked(apart) == []
    assert _asked(apart, "9") == ["925"]
    assert _asked(apart, "25") == ["925"]


@pytest.mark.parametrize(("x", "y", "text"), [(0.05, -1.2, "118"), (1.5, -1.2, "118"), (0.05, -1.2, "")])
def test_a_tile_with_the_number_of_the_puzzle_is_no_mark_of_the_grid(sheet, x, y, text):
    """It stands where no clue could; one in the middle of a column is asked about, and an empty one."""
    sheet.grid()
    sheet.bar(x - 0.5, y - 0.4, x + 0.5, y + 0.4, "#222222")
    sheet.text(x, y, text, 0.4, colour="#ffffff")
    found = sheet.evidence()
    assert bool(found.shapes) == (not text or x > 1)


@pytest.mark.parametrize("lower", [False, True])
def test_a_small_number_at_the_foot_of_the_page_is_its_own(sheet, lower):
    """What stands lower is more of the page's text, and the number may be a small clue."""
    sheet.grid()
    sheet.text(4.5, 9.8, "176", 0.18)
    if lower:
        sheet.text(2, 10.4, "Salt Meadow Press", 0.18)
    assert [glyph.text for glyph in sheet.evidence().characters] == (["176"] if lower else [])


@pytest.mark.parametrize("others", [(), (2.5, 6.5)])
def test_a_number_with_words_between_it_and_the_grid_is_no_clue(sheet, others):
    """A page number below a setter's name; one of several may be a clue."""
    sheet.grid()
    sheet.text(4.5, 9.3, "Ida Quill", 0.3)
    for x in (4.5, *others):
        sheet.text(x, 10.2, "9", 0.4)
    found = sheet.evidence()
    assert len(found.glyphs) == len(found.characters) == (3 if others else 0)


def test_a_total_on_a_plate_reaches_over_the_frame(sheet):
    """Its plate is white on tinted paper and no bar; what stands beside the frame as another text is none of it."""
    sheet.bar(-0.5, -0.5, 9.5, 9.5, "#f2f0e4")
    sheet.grid()
    sheet.bar(8.05, 4.05, 9.16, 4.35, "#ffffff")
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.setFont("Helvetica", 0.34 * SIDE)
    for text, x in (("1512\u00d7", 8.16), ("7", 9.07)):
        sheet.canvas.drawString(*sheet.at(x, 4.32 if text == "7" else 4.3), text)
    found = sheet.evidence()
    assert [glyph.text for glyph in found.glyphs] == ["1512\u00d7"]
    assert not found.shapes


def test_a_character_upon_its_own_halo_is_one(sheet):
    sheet.grid()
    sheet.text(4.5, 4.5, "7", 0.6)
    page = sheet.page()
    (glyph,) = page.vectors.glyphs
    halo = replace(glyph, colour=(255, 255, 255))
    page = replace(page, vectors=replace(page.vectors, glyphs=(halo, glyph)))
    (found,) = read_vectors(page, sheet.lattice(page)).glyphs
    assert (found.text, found.colour) == ("7", (0, 0, 0))


def test_tags_that_point_at_the_grid_part_no_number_that_stands_in_them(sheet):
    """Figures set one by one: the left one is nearest to the ground of their tag, the right one to its rim."""
    sheet.grid()
    for row, (tens, ones) in ((7, "45"), (8, "31")):
        x, y = -0.48, row - 0.5
        corners = [
            (x - 0.28, y - 0.22),
            (x + 0.18, y - 0.22),
            (x + 0.38, y),
            (x + 0.18, y + 0.22),
            (x - 0.28, y + 0.22),
        ]
        sheet.area(corners, "#f3ede4")
        sheet.line([(across + 0.01, down) for across, down in [*corners, corners[0]]], 0.02)
        sheet.text(x - 0.1, y + 0.05, tens, 0.32)
        sheet.text(x + 0.1, y + 0.05, ones, 0.32)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["31", "45"]
