"""Givens that stand at the top left of their cells, as a word processor sets them."""

import pytest

from recognise.evidence import Glyph
from schema.cells import Cell
from tests.recognise.evidence_maker import given, glyph, trace
from tests.recognise.interpreting import drafted

CELLS = {"r1c1": "4", "r2c5": "7", "r4c3": "2", "r6c8": "9", "r9c9": "1"}


def _set_off(x: float = 0.15, y: float = 0.3, texts: dict[str, str] = CELLS) -> list[Glyph]:
    corners = [(Cell.parse(cell), text) for cell, text in texts.items()]
    return [glyph(c.column - 1 + x, c.row - 1 + y, (text, 0.999), size=0.28) for c, text in corners]


@pytest.mark.parametrize(("x", "y"), [(0.15, 0.3), (0.5, 0.2), (0.15, 0.5), (0.85, 0.8)])
def test_figures_that_stand_alike_in_their_cells_are_givens(x: float, y: float) -> None:
    draft = drafted(glyphs=_set_off(x, y))
    assert {str(cell): str(digit) for cell, digit in draft.givens.items()} == CELLS


@pytest.mark.parametrize(
    "parts",
    [
        {"glyphs": [*_set_off(), given("r5c5", "3")]},
        {"glyphs": _set_off(texts={**CELLS, "r5c5": "12"})},
        {"glyphs": _set_off(texts={"r1c1": "4", "r2c5": "7"})},
        {"glyphs": [*_set_off()[:-1], glyph(8.5, 8.2, ("1", 0.999), size=0.28)]},
        {"glyphs": _set_off(), "traces": [trace("r1c1 r1c2"), trace("r2c5 r2c6"), trace("r4c3 r4c4")]},
    ],
    ids=["beside givens", "totals", "few", "not alike", "numbers of lines"],
)
def test_other_numbers_near_lattice_lines_are_none(parts: dict) -> None:
    assert "r2c5" not in {str(cell) for cell in drafted(**parts).givens}
