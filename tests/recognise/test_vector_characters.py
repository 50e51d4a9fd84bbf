"""Characters that a PDF draws as paths."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from fixtures.fonts.catalogue import HERE
from fixtures.printer.face import Face
from recognise.evidence import Guess
from recognise.interpret.mark import sureness
from recognise.looking import glyph_reader
from recognise.vectors import read_vectors
from recognise.vectors.characters import read_alone
from tests.recognise.drawn_pages import SIDE, Sheet

SLAB = Face(HERE / "bundled" / "RobotoSlab-Bold.otf")


def written(
    sheet: Sheet, text: str, x: float, y: float, size: float, whole: bool = False, colour: str = "#000000"
) -> None:
    """A text as filled paths, one a character or one for the `whole`, its base line beginning at a point."""
    left, bottom = sheet.at(x, y)
    for character in [text] if whole else text:
        path = sheet.canvas.beginPath()
        for name, *numbers in SLAB.outline(character):
            at = [v * size * SIDE + (left if i % 2 == 0 else bottom) for i, v in enumerate(numbers)]
            {"m": path.moveTo, "l": path.lineTo, "c": path.curveTo, "h": path.close}[name](*at)
        sheet.canvas.setFillColor(colour)
        sheet.canvas.drawPath(path, stroke=0, fill=1)
        left += SLAB.width(character) * size * SIDE


def _read(sheet: Sheet) -> list[tuple[str, int, int]]:
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    return sorted((g.text, int(g.centre[1]) + 1, int(g.centre[0]) + 1) for g in found.glyphs)


@pytest.mark.parametrize("text", ["24", "105", "8", "16+", "8-"])
def test_a_small_number_beside_dashes_is_read_from_its_outlines(sheet, text: str) -> None:
    sheet.grid()
    written(sheet, text, 1.1, 2.32, 0.3)
    sheet.canvas.setDash(3, 3)
    sheet.line([(1.08, 2.08), (1.92, 2.08), (1.92, 2.92), (1.08, 2.92)], 0.02, closed=True)
    assert _read(sheet) == [(text, 3, 2)]


def test_numbers_of_neighbouring_cells_stay_apart(sheet) -> None:
    sheet.grid()
    written(sheet, "12", 0.5, 0.4, 0.3)
    written(sheet, "7", 1.1, 0.4, 0.3)
    assert _read(sheet) == [("12", 1, 1), ("7", 1, 2)]


def test_a_path_that_is_no_character_is_not_read(sheet) -> None:
    sheet.grid()
    star = [(2.5, 3.2), (2.58, 3.42), (2.8, 3.42), (2.62, 3.55), (2.7, 3.8), (2.5, 3.65), (2.3, 3.8), (2.38, 3.55)]
    sheet.area([*star, (2.2, 3.42), (2.42, 3.42)], "#000000")
    assert _read(sheet) == []


def test_the_number_of_an_arrow_beside_the_grid_is_read(sheet) -> None:
    sheet.grid()
    sheet.line([(-0.5, 6.5), (-0.1, 6.1)], 0.02)
    sheet.line([(-0.25, 6.1), (-0.1, 6.1), (-0.1, 6.25)], 0.02)
    written(sheet, "36", -0.8, 6.76, 0.36)
    written(sheet, "5", -0.8, 2.7, 0.36)
    assert [text for text, *_ in _read(sheet)] == ["36"], "others are told from the page's text in the picture"


def test_a_number_in_a_tag_beside_its_row_is_read(sheet) -> None:
    """A tag of another thing on the page stands in line with no row."""
    sheet.grid()
    for top in (2.0, 5.5):
        tag = [(9.05, top + 0.5), (9.3, top + 0.05), (9.95, top + 0.05), (9.95, top + 0.95), (9.3, top + 0.95)]
        sheet.line(tag, 0.02, closed=True)
        written(sheet, "35", 9.35, top + 0.65, 0.4)
    assert _read(sheet) == [("35", 3, 10)]


def test_low_figures_in_circles_beside_the_grid_are_read(sheet) -> None:
    """Circles of paper on a panel; an old-style nought is a ring, and one without a circle round it may be anything."""
    sheet.bar(-1.5, -1.5, 9.5, 9.5, "#fde8c8")
    sheet.bar(0, 0, 9, 9, "#ffffff")
    sheet.grid()
    for column in (2, 7):
        sheet.disc(column + 0.5, -0.5, 0.32, "#ffffff")
    written(sheet, "5", 2.37, -0.35, 0.4)
    for column in (4, 7):
        path = sheet.canvas.beginPath()
        for radius in (0.1, 0.075):
            path.circle(*sheet.at(column + 0.5, -0.42), radius * SIDE)
        sheet.canvas.setFillColor("#222222")
        sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    assert sorted((g.text, int(g.centre[0])) for g in found.glyphs) == [("0", 7), ("5", 2)]
    assert [int(disc.centre[0]) for disc in found.discs] == [4]


@pytest.mark.parametrize("text", ["26", "28", "12"])
def test_an_arrow_and_the_number_at_its_tail_are_no_arrow_the_other_way(sheet, text: str) -> None:
    sheet.grid()
    sheet.canvas.setLineCap(1)
    sheet.line([(9.44, 0.56), (9.08, 0.92)], 0.03)
    sheet.line([(9.2, 0.92), (9.08, 0.92), (9.08, 0.8)], 0.03)
    written(sheet, text, 9.455, 0.5, 0.36, whole=True)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    assert [(shape.name, shape.direction) for shape in found.shapes] == [("arrow", "down-left")]
    assert [glyph.text for glyph in found.glyphs] == [text]


def test_one_path_for_a_number_across_a_line_is_no_mark_once_it_is_read(sheet) -> None:
    sheet.grid()
    written(sheet, "8", 1.91, 2.06, 0.17)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    assert ([g.text for g in found.glyphs], found.shapes) == (["8"], ())


class _Torn:
    """A reader that takes a nought for the letter nearly as gladly, and may be held to what stands in a place."""

    def read(self, crops: Sequence[npt.NDArray[np.uint8]], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        free = {"0": 0.64, "O": 0.35, "": 0.01}
        kept = {text: chance for text, chance in free.items() if allowed is None or text in allowed or not text}
        whole = sum(kept.values())
        return [tuple(Guess(text, chance / whole) for text, chance in kept.items()) for _ in crops]


@pytest.mark.parametrize("at", [(1.5, 1.5), (2.0, 1.5)], ids=["in a cell", "on an edge"])
def test_a_nought_that_may_be_a_letter_is_a_nought_where_no_letter_stands(at: tuple[float, float]) -> None:
    crop = np.zeros((32, 32), np.uint8)
    assert read_alone([crop], [at], (9, 9), _Torn())[0][0] == Guess("0", 0.64 / 0.65)


def test_paths_of_whole_numbers_stay_apart(sheet) -> None:
    sheet.grid()
    written(sheet, "13", 0.93, 0.32, 0.3, whole=True)
    written(sheet, "12", 1.28, 0.3, 0.3, whole=True)
    assert [text for text, *_ in _read(sheet)] == ["12", "13"]


@pytest.mark.parametrize("beside", [True, False])
def test_a_bar_is_a_figure_1_where_figures_of_its_height_are_drawn_as_paths_too(sheet, beside: bool) -> None:
    sheet.grid()
    high = SLAB.ink("8")[3] * 0.6
    sheet.bar(2.46, 2.72 - high, 2.54, 2.72)
    if beside:
        written(sheet, "8", 4.3, 4.72, 0.6)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    assert ("1" in [glyph.text for glyph in found.glyphs]) == beside
    assert bool([shape for shape in found.shapes if shape.name == "bar"]) != beside


class _Doubtful:
    """Takes every character for one of two."""

    def read(self, crops: Sequence[npt.NDArray[np.uint8]], allowed: str = "") -> list[tuple[Guess, ...]]:
        return [(Guess("X", 0.55), Guess("×", 0.43)) for _ in crops]


def test_what_may_be_a_letter_or_a_sign_is_a_letter_alone_and_a_sign_behind_figures(sheet) -> None:
    sheet.grid()
    written(sheet, "X", 2.9, 3.6, 0.3)
    written(sheet, "XX", 5.1, 5.32, 0.3)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), _Doubtful())
    assert found is not None
    assert sorted((g.text, round(g.confidence, 2)) for g in found.glyphs) == [("X", 0.98), ("××", 0.96)]


def test_copies_of_one_outline_share_their_doubt(sheet) -> None:
    sheet.grid()
    for text, x in (("5", 0.4), ("5", 3.4), ("7", 4.4), ("5", 7.4)):
        written(sheet, text, x, 0.7, 0.5)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), glyph_reader())
    assert found is not None
    assert sorted((g.text, g.copies) for g in found.glyphs) == [("5", 3), ("5", 3), ("5", 3), ("7", 1)]
    one = next(g for g in found.glyphs if g.text == "5")
    assert 1 - sureness(one) == pytest.approx((1 - sureness(replace(one, copies=1))) / 3)


class _Hesitant:
    """Takes what has much ink for a sure 8 and what has little for a 1, or nothing."""

    def read(self, crops: Sequence[npt.NDArray[np.uint8]], allowed: str = "") -> list[tuple[Guess, ...]]:
        sure, unsure = (Guess("8", 0.99),), (Guess("1", 0.7), Guess("", 0.3))
        return [sure if (crop < 128).mean() > 0.16 else unsure for crop in crops]


@pytest.mark.parametrize(("size", "read"), [(0.5, ["1", "8"]), (0.3, ["8"])])
def test_an_outline_among_sure_characters_of_its_height_is_one_too(sheet, size: float, read: list[str]) -> None:
    sheet.grid()
    written(sheet, "8", 0.4, 0.7, 0.5)
    written(sheet, "1", 3.4, 0.7, size)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page), _Hesitant())
    assert found is not None
    assert sorted(g.text for g in found.glyphs) == read


@pytest.mark.parametrize("later", [False, True])
def test_white_figures_drawn_as_paths_on_a_dark_disc_are_read(sheet, later: bool) -> None:
    sheet.grid()
    if not later:
        sheet.disc(4, 4, 0.27, "#000000")
    written(sheet, "5", 3.9, 4.1, 0.3, colour="#ffffff")
    # What a disc was painted over is not seen.
    if later:
        sheet.disc(4, 4, 0.27, "#000000")
    assert [text for text, _, _ in _read(sheet)] == ([] if later else ["5"])


def test_text_drawn_as_paths_beside_the_grid_holds_no_arrows_and_no_circles(sheet) -> None:
    sheet.grid()
    written(sheet, "many", 2.0, -0.4, 0.3)
    # Two letters that nearly touch, as "hi" may, and a full stop.
    sheet.line([(2.9, -0.41), (3.05, -0.41)], 0.02)
    sheet.area([(3.05, -0.5), (3.15, -0.41), (3.05, -0.32)], "#000000")
    sheet.disc(3.3, -0.41, 0.016, "#000000")
    # An arrow with its number stays one.
    sheet.line([(-0.6, 5.5), (-0.3, 5.5)], 0.02)
    sheet.area([(-0.3, 5.4), (-0.15, 5.5), (-0.3, 5.6)], "#000000")
    found = sheet.evidence()
    assert [shape.box[0] for shape in found.shapes if shape.name == "arrow"] == [pytest.approx(-0.6, abs=0.02)]
    assert not found.discs
