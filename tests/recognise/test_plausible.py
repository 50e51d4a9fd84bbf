"""Grids that stand beside puzzles are told by what stands in them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from recognise.evidence import Edges, Evidence, Fence
from recognise.plausible import is_of_the_back, judge
from schema.cells import Cell
from tests.recognise.evidence_maker import edges, evidence, given, glyph, trace


def test_columns_of_numbers_on_made_up_lines_are_a_table() -> None:
    """A price list of 8 rows: every second line is drawn, and the numbers stand where the others were made up."""
    listed = [glyph(x, y + 0.5, (str(10 + 7 * y), 0.99)) for x in (2, 4, 6) for y in range(8)]
    assert judge(evidence(8, 9, glyphs=tuple(listed))).taken_for == "a table"
    level = [glyph(x + 0.5, y, (str(10 + 7 * x), 0.99)) for y in (2, 4, 6) for x in range(8)]
    assert judge(evidence(9, 8, glyphs=tuple(level))).taken_for == "a table"


@pytest.mark.parametrize(("pale", "puzzle"), [(0.2, False), (1.0, True)])
def test_of_a_worn_table_few_numbers_are_read(pale: float, puzzle: bool) -> None:
    """Its columns stand on lines that nobody drew; a puzzle's numbers stand on lines as dark as others."""
    listed = [
        glyph(x - 0.1, y + 0.5, (str(y), 0.99), size=0.15)
        for x, rows in ((2, (0, 3, 4, 6)), (4, (1, 2, 5, 7)))
        for y in rows
    ]
    made = edges(8, 9)
    darkness = made.vertical_darkness.copy()
    darkness[:, [2, 4]] *= pale
    grid = evidence(8, 9, edges=replace(made, vertical_darkness=darkness), glyphs=tuple(listed))
    assert judge(grid).is_puzzle == puzzle


def test_numbers_on_edges_are_marks() -> None:
    """All edges of a puzzle may have one, or all of one line."""
    upright = [glyph(x, y + 0.5, ("5", 0.99), size=0.3) for x in range(1, 6) for y in range(6)]
    level = [glyph(x + 0.5, y, ("5", 0.99), size=0.3) for x in range(6) for y in range(1, 6)]
    assert judge(evidence(6, 6, glyphs=(*upright, *level))).is_puzzle
    one_line = [mark for mark in upright if mark.centre[0] == 3]
    assert judge(evidence(6, 6, glyphs=(*one_line, given("r1c1", "4")))).is_puzzle


@pytest.mark.parametrize("caged", [True, False])
def test_large_totals_of_cages_make_no_table(caged: bool) -> None:
    """Each reaches into the middle of its cell, and is no digit of the grid."""
    corners = [Cell(row, column) for row in (1, 4, 7) for column in (2, 5)]
    totals = [glyph(c.column - 0.6, c.row - 0.69, ("192", 0.99), size=0.3) for c in corners]
    fences = [Fence((c, Cell(c.row, c.column + 1)), "dashed", (90, 90, 90), "shape") for c in corners]
    grid = evidence(glyphs=tuple(totals), fences=tuple(fences) if caged else ())
    assert judge(grid).is_puzzle == caged


def _pale(darkness: float) -> Edges:
    made = edges()
    pale = {name: getattr(made, name) * darkness for name in ("horizontal_darkness", "vertical_darkness")}
    return replace(made, **pale)


FRONT = evidence(glyphs=(given("r1c1", "4"), given("r5c7", "9")))
LETTERS = tuple(given(f"r{row}c{row}", letter) for row, letter in enumerate("PZQBF", 1))
MIRRORED = tuple(replace(given(cell, "4"), colour=(225, 225, 225)) for cell in ("r1c1", "r4c8", "r5c3"))


@pytest.mark.parametrize("glyphs", [(), LETTERS, MIRRORED], ids=["empty", "under letters", "with pale figures"])
def test_a_pale_grid_beside_a_dark_one_shows_through(glyphs: tuple) -> None:
    assert is_of_the_back(evidence(edges=_pale(0.05), glyphs=glyphs), [FRONT])


@pytest.mark.parametrize(
    "grid",
    [evidence(edges=_pale(0.05), glyphs=FRONT.glyphs), evidence(edges=_pale(0.3)), FRONT],
    ids=["with givens", "not so pale", "dark"],
)
def test_a_grid_with_givens_or_lines_of_its_own_is_printed_here(grid: Evidence) -> None:
    assert not is_of_the_back(grid, [FRONT, grid])
    assert not is_of_the_back(grid, [grid])


def test_a_grid_of_which_only_thick_lines_are_left_is_printed_here() -> None:
    """A scan without greys lost its thin lines, and most of what stands in it are letters on edges."""
    made = _pale(0.0)
    for darkness in (made.horizontal_darkness, made.vertical_darkness.T):
        darkness[::3] = 1.0
    grid = evidence(edges=made, glyphs=(given("r1c1", "4"), *LETTERS))
    assert not is_of_the_back(grid, [grid])
    assert not is_of_the_back(grid, [FRONT, grid])


@pytest.mark.parametrize("lines", [True, False])
def test_numbers_where_lines_end_make_no_table(lines: bool) -> None:
    ways = ["r2c1 r2c2 r3c3", "r5c3 r6c2", "r5c4 r5c5", "r7c6 r6c6", "r9c6 r9c7"]
    numbers = [given(way.split()[0], text) for way, text in zip(ways, ("19", "27", "22", "21", "25"), strict=True)]
    grid = evidence(9, 9, glyphs=(*numbers, given("r1c6", "8")), traces=tuple(map(trace, ways)) if lines else ())
    assert judge(grid).is_puzzle == lines
