"""Marks that lie under others: the file has them, and print does not show them."""

from __future__ import annotations

import pytest

from schema.cells import Cell
from tests.recognise.drawn_pages import SIDE, ends
from tests.recognise.test_vector_arrows import GREY, RADIUS, WIDTH, arrow, open_head, read, triangle


@pytest.mark.parametrize("rim", [True, False])
def test_a_dot_under_another_is_a_mark_where_one_like_it_is_seen(sheet, rim):
    sheet.grid()
    for x, y in [(3, 1.5), (6, 4.5)]:
        sheet.disc(x, y, 0.14, "#ffffff", "#000000" if rim else None)
    sheet.disc(4, 7.5, 0.14, "#ffffff", "#000000")
    for x, y in [(3, 1.5), (2, 2.5), (7, 3.5)]:
        sheet.disc(x, y, 0.14, "#000000", "#000000")
    # A number on white hides one of the black dots.
    sheet.bar(6.8, 3.3, 7.2, 3.7, "#ffffff")
    found = sheet.evidence()
    hidden = [disc for disc in found.discs if max(abs(disc.centre[0] - 3), abs(disc.centre[1] - 1.5)) < 0.01]
    fills = {disc.fill for disc in hidden}
    assert fills == ({(0, 0, 0), (255, 255, 255)} if rim else {(0, 0, 0)})
    (covered,) = [disc for disc in found.discs if abs(disc.centre[0] - 7) < 0.01]
    assert covered.fill == (0, 0, 0)
    assert any("lies under another" in note for note in found.notes)


@pytest.mark.parametrize("others", [0, 3])
def test_a_dot_under_a_dot_is_asked_about_unless_most_dots_have_none_under_them(sheet, others: int) -> None:
    """Two rules may mark one pair, and their dots are drawn one upon the other."""
    sheet.grid()
    sheet.disc(4, 7.5, 0.14, "#ffffff", "#000000")
    sheet.disc(3, 1.5, 0.14, "#ffffff", "#000000")
    for x, y in [(3, 1.5), (2, 2.5), (7, 3.5), (5, 6.5)][: 1 + others]:
        sheet.disc(x, y, 0.14, "#000000", "#000000")
    found = sheet.evidence()
    fills = {disc.fill for disc in found.discs if max(abs(disc.centre[0] - 3), abs(disc.centre[1] - 1.5)) < 0.01}
    assert fills == {(0, 0, 0), (255, 255, 255)}
    assert any("lies under another" in note for note in found.notes) == (not others)


@pytest.mark.parametrize(("rim", "seen"), [(0.018, True), (0.004, False)])
def test_a_circle_of_which_a_thin_rim_is_left_is_a_ring(sheet, rim: float, seen: bool) -> None:
    sheet.grid()
    sheet.disc(4.5, 4.5, 0.4, "#000000")
    sheet.disc(4.5, 4.5, 0.4 - rim, "#ffffff")
    found = sheet.evidence()
    assert [(disc.fill, disc.outline) for disc in found.discs] == [((255, 255, 255), (0, 0, 0))]
    assert any("lies under another" in note for note in found.notes) != seen


@pytest.mark.parametrize("like_it", [False, True])
def test_the_ground_of_a_bulb_is_no_hidden_circle_where_none_like_it_is_seen(sheet, like_it: bool) -> None:
    sheet.grid()
    sheet.canvas.setLineCap(1)
    for colour, less in (("#000000", 0.0), ("#ffffff", 0.02), ("#000000", 0.0), ("#dddddd", 0.02)):
        if colour != "#ffffff":
            sheet.line([(4.5, 4.5), (6.5, 4.5)], 0.3 - 2 * less, colour)
        sheet.disc(4.5, 4.5, 0.33 - less, colour)
    if like_it:
        sheet.disc(1.5, 1.5, 0.31, "#ffffff", "#000000")
    assert any("lies under another" in note for note in sheet.evidence().notes) == like_it


@pytest.mark.parametrize("arrows", [True, False])
def test_a_head_under_the_circle_of_another_line_is_one_where_lines_drawn_like_its_own_are_arrows(
    sheet, arrows
) -> None:
    sheet.grid()
    for path in ("r2c2 r2c3 r2c4", "r8c2 r8c3 r8c4") if arrows else ():
        sheet.disc(*ends(path)[0], RADIUS, None, GREY, WIDTH)
        arrow(sheet, path, triangle)
    left, bottom = sheet.at(1.15, 5.85)
    sheet.canvas.setLineWidth(WIDTH * SIDE)
    sheet.canvas.setStrokeColor(GREY)
    sheet.canvas.roundRect(left, bottom, 0.7 * SIDE, 1.7 * SIDE, 0.35 * SIDE, stroke=1, fill=0)
    arrow(sheet, "r5c2 r5c3 r5c4 r6c5", triangle)
    sheet.line(ends("r6c5 r6c6 r6c7"), 0.03, "#b05020")
    for x in (4.5, 6.5):
        sheet.disc(x, 5.5, 0.32, "#ffffff", "#b05020")
    found = sheet.evidence()
    (heads,) = [read(trace)[2] for trace in found.traces if Cell(5, 3) in trace.nodes]
    assert heads == ({"r6c5"} if arrows else set())
    assert any("lies under another" in note for note in found.notes) != arrows


def test_a_head_in_the_circle_of_another_line_of_nearly_its_colour_is_a_head(sheet) -> None:
    sheet.grid()
    sheet.line(ends("r6c5 r6c6 r6c7"), 0.1, "#5b8b80")
    for x in (4.5, 6.5):
        sheet.disc(x, 5.5, 0.27, "#ffffff", "#5b8b80")
    sheet.disc(*ends("r3c5")[0], RADIUS, "#eeeeee", GREY, WIDTH)
    arrow(sheet, "r3c5 r4c5 r5c5 r6c5", open_head, RADIUS, 0.0)
    (own,) = [trace for trace in sheet.evidence().traces if Cell(4, 5) in trace.nodes]
    assert read(own)[1:] == ({"r3c5"}, {"r6c5"})


@pytest.mark.parametrize("other_end", [True, False])
def test_a_circle_under_another_is_no_question_where_a_line_ends_in_it(sheet, other_end: bool) -> None:
    sheet.grid()
    for x, y in [(1.5, 1.5), *([(6.5, 5.5)] if other_end else []), (4.5, 5.5)]:
        sheet.disc(x, y, 0.27, "#ffffff", "#b05020")
    sheet.line([(4.5, 5.5), (6.5, 5.5)], 0.05, "#b05020")
    sheet.disc(4.5, 5.5, RADIUS, "#eeeeee", GREY, WIDTH)
    arrow(sheet, "r6c5 r5c5 r4c5", triangle)
    assert any("a circle at r6c5 lies under another" in note for note in sheet.evidence().notes) != other_end
