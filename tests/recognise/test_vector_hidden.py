"""Marks that lie under others: the file has them, and print does not show them."""

from __future__ import annotations

import pytest


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
