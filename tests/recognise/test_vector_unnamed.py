"""Characters of fonts that say nothing of what their glyphs mean: read by their looks, alone, in page and form, turned
or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from fixtures.printer.backends.streams import Manner
from fixtures.printer.habits import Habits
from fixtures.printer.page import print_page
from fixtures.printer.pagebox import PageBox
from fixtures.printer.style import sample_style
from fixtures.printer.twists import Twists
from ingest.page import Page
from ingest.pdf import pdf_pages
from ingest.pdf_alone import FREE, TALL
from recognise.evidence import Evidence, Guess
from recognise.glyphs import GlyphReader
from recognise.glyphs.window import Grey
from recognise.vectors import lattices_from_vectors, read_vectors
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage
from schema.puzzle import Puzzle

GIVENS = {Cell(1, 1): 5, Cell(1, 9): 7, Cell(4, 6): 8, Cell(9, 2): 1, Cell(9, 9): 3}
TOTALS = {Cell(2, 2): 17, Cell(6, 7): 4}


def printed(
    path: Path,
    unicode: bool,
    forms: bool = True,
    turn: int = 0,
    signs: bool = False,
    coordinates: bool = False,
    outlined: bool = False,
) -> Page:
    style = sample_style(Random(3), "train", bundled_only=True)
    style = replace(
        style,
        writer="streams",
        manner=Manner(forms=forms, clip=True, unicode=unicode),
        habits=Habits(),
        outline_text=outlined,
        outline_strokes=False,
        page_box=PageBox(turn=turn),  # type: ignore[arg-type]
        paper=(595.0, 842.0),
        twists=Twists(coordinates=coordinates),
    )
    cages = tuple(
        Cage(
            cells=(at, Cell(at.row, at.column + 1)),
            value=value,
            operation="difference" if signs and value < 9 else "sum",
            repeats=signs,
        )
        for at, value in TOTALS.items()
    )
    puzzle = Puzzle(grid=Grid(rows=9, columns=9, digits=tuple(range(1, 10))), givens=GIVENS, constraints=cages)
    path.write_bytes(print_page(Random(1), [puzzle], style).pdf)
    page = next(iter(pdf_pages(path, "0" * 64)))
    assert isinstance(page, Page)
    return page


class _BareI(GlyphReader):
    """A reader of a fount whose I is a bare stroke, as its 1 is."""

    def read(self, crops: Sequence[Grey], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        found = super().read(crops, allowed)
        return [tuple(replace(guess, text=guess.text.replace("I", "1")) for guess in its) for its in found]


def evidence(page: Page, reader: GlyphReader | None = None) -> Evidence:
    found = read_vectors(page, lattices_from_vectors(page)[0], reader or GlyphReader())
    assert found is not None
    return found


@pytest.mark.parametrize(("forms", "turn"), [(True, 0), (False, 0), (True, 90)])
def test_unnamed_characters_are_read_by_their_looks(tmp_path: Path, forms: bool, turn: int) -> None:
    page = printed(tmp_path / "page.pdf", unicode=False, forms=forms, turn=turn)
    assert page.vectors is not None
    assert not any(glyph.text for glyph in page.vectors.glyphs)
    found = evidence(page)
    read = {(Cell(int(g.centre[1]) + 1, int(g.centre[0]) + 1), g.text) for g in found.glyphs}
    assert read == {(cell, str(value)) for cell, value in {**GIVENS, **TOTALS}.items()}
    assert not [shape for shape in found.shapes if shape.name == "glyph-path"]


def test_a_bare_bar_behind_a_figure_is_a_minus(tmp_path: Path) -> None:
    found = evidence(printed(tmp_path / "page.pdf", unicode=False, signs=True))
    assert {g.text for g in found.glyphs if g.size < 0.35} == {"17", "4-"}


@pytest.mark.parametrize("outlined", [False, True], ids=["nameless font", "paths"])
def test_letters_that_name_columns_are_told_by_their_looks(tmp_path: Path, outlined: bool) -> None:
    """Some look like figures, and figures above columns would be clues."""
    found = evidence(printed(tmp_path / "page.pdf", unicode=False, coordinates=True, outlined=outlined))
    named = [box for box in found.phrases if -1 < box[1] < box[3] < 0 and 0 < box[0] < 9]
    assert sorted(int(box[0]) for box in named) == list(range(9))
    assert not [g.text for g in found.glyphs if g.centre[1] < 0]
    assert not [shape for shape in found.shapes if shape.box[3] < 0]
    if outlined:
        rows = [box for box in found.phrases if -1 < box[0] < box[2] < 0]
        assert sorted(int(box[1]) for box in rows) == list(range(9)), "their figures are told as well"
        assert not [shape for shape in found.shapes if shape.box[2] < 0]


def test_a_letter_like_a_figure_names_its_column_all_the_same(tmp_path: Path) -> None:
    found = evidence(printed(tmp_path / "page.pdf", unicode=False, coordinates=True), _BareI())
    assert not [g.text for g in found.glyphs if g.centre[1] < 0]


def test_a_picture_shows_its_character_and_nothing_else(tmp_path: Path) -> None:
    page = printed(tmp_path / "page.pdf", unicode=False)
    for glyph in page.vectors.glyphs if page.vectors else ():
        assert glyph.picture is not None
        inner = glyph.picture[FREE:-FREE, FREE:-FREE]
        assert max(inner.shape) == TALL
        dark = inner < 128
        assert all(side.any() for side in (dark[:3], dark[-3:], dark[:, :3], dark[:, -3:]))


def test_of_characters_that_the_file_names_figures_alone_have_a_picture(tmp_path: Path) -> None:
    page = printed(tmp_path / "page.pdf", unicode=True)
    assert page.vectors is not None and page.vectors.glyphs
    assert all(glyph.text and glyph.text.isdigit() == (glyph.picture is not None) for glyph in page.vectors.glyphs)
