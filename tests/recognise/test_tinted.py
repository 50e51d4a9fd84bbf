"""Tints by two readers and, where they disagree, by whether the dark ground ends on lattice lines."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from recognise.evidence import Flat, Tint
from recognise.pixels.borders import Borders
from recognise.pixels.chequered import chequered
from recognise.pixels.ground import measure_ground
from recognise.pixels.tinted import settled_tints
from schema.cells import Cell

SIZE, CELL, MARGIN = 9, 48, 1.0
CELLS = [Cell(row, column) for row in range(1, SIZE + 1) for column in range(1, SIZE + 1)]
BOX = frozenset(cell for cell in CELLS if cell.row <= 3 and cell.column <= 3)


def _flat(light: np.ndarray) -> Flat:
    """A grid on grainy paper under that light."""
    side = round((SIZE + 2 * MARGIN) * CELL)
    paper = 230 + np.random.default_rng(5).normal(0, 3, (side, side))
    for line in range(SIZE + 1):
        at = round((line + MARGIN) * CELL)
        paper[at : at + 2, CELL : side - CELL] = paper[CELL : side - CELL, at : at + 2] = 60
    image = np.repeat(np.clip(paper * light, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    maps = np.zeros((side, side), np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, maps, maps)


def _places() -> tuple[np.ndarray, np.ndarray]:
    """Row and column, in cells, of every pixel."""
    side = round((SIZE + 2 * MARGIN) * CELL)
    y, x = np.mgrid[:side, :side]
    return y / CELL - MARGIN, x / CELL - MARGIN


def _even() -> np.ndarray:
    return np.ones_like(_places()[0])


def _printed(cells: frozenset[Cell], deep: float) -> np.ndarray:
    y, x = _places()
    light = _even()
    for cell in cells:
        light[(y >= cell.row - 1) & (y < cell.row) & (x >= cell.column - 1) & (x < cell.column)] -= deep
    return light


def _settled(light: np.ndarray, measured: frozenset[Cell], seen: dict[Cell, float]):
    tints = [Tint(cell, (235, 235, 235), 1.0) for cell in measured]
    chance = {cell: seen.get(cell, 0.0) for cell in CELLS}
    found, notes = settled_tints(tints, chance, Borders(_flat(light)))
    return {tint.cell for tint in found}, notes


def test_a_pale_tint_that_only_the_network_sees_is_one_where_it_ends_on_lattice_lines() -> None:
    assert _settled(_printed(BOX, 0.06), frozenset(), dict.fromkeys(BOX, 0.99)) == (BOX, ())


def test_a_cell_of_which_the_network_is_in_doubt_belongs_to_the_tint_that_it_completes() -> None:
    seen = {**dict.fromkeys(BOX, 0.99), Cell(3, 3): 0.3, Cell(3, 4): 0.3}
    assert _settled(_printed(BOX, 0.06), frozenset(), seen) == (BOX, ())


def test_a_cell_that_the_network_misses_belongs_to_the_tint_around_it() -> None:
    seen = {cell: 0.99 for cell in BOX if cell != Cell(3, 2)}
    assert _settled(_printed(BOX, 0.06), BOX, seen) == (BOX, ())


def test_light_that_fades_is_no_tint() -> None:
    fading = 1 - 0.08 * np.clip(4 - _places()[0], 0, None)
    top = {cell: 0.99 for cell in CELLS if cell.row == 1}
    assert _settled(fading, frozenset(), top) == (set(), ())


@pytest.mark.parametrize("way", ["across the corner", "past the frame"])
def test_a_shadow_that_was_measured_as_a_tint_is_none(way: str) -> None:
    y, x = _places()
    dark = (x + y > 17) if way == "across the corner" else (y > 8)
    cells = frozenset({Cell(9, 9)}) if way == "across the corner" else frozenset(c for c in CELLS if c.row == 9)
    shadow = 1 - 0.15 * np.where(dark, 1.0, 0.0)
    assert _settled(shadow, cells, {}) == (set(), ())


def test_a_printed_tint_that_the_network_does_not_see_is_asked_about() -> None:
    found, notes = _settled(_printed(frozenset({Cell(5, 5)}), 0.1), frozenset({Cell(5, 5)}), {})
    assert found == set()
    assert notes == ("the ground of r5c5 is dark, and was taken for shade",)


def test_a_dark_patch_that_ends_on_some_lattice_lines_only_is_asked_about() -> None:
    y, x = _places()
    patch = 1 - 0.15 * ((y >= 4) & (y < 5.4) & (x >= 4) & (x < 5))
    found, notes = _settled(patch, frozenset(), {Cell(5, 5): 0.99})
    assert found == set()
    assert notes == ("perhaps r5c5 are tinted",)


@pytest.mark.parametrize(("likely", "tinted"), [(0.03, False), (0.06, True)])
def test_of_a_large_tint_the_network_sees_at_least_one_cell(likely: float, tinted: bool) -> None:
    """The frame of a grid on the other side of the paper runs along a lattice line, and what it holds darkens all cells
    beyond that."""
    beyond = frozenset(cell for cell in CELLS if cell.column > 5)
    seen = {Cell(4, 7): likely}
    found, notes = _settled(_printed(beyond, 0.04), beyond, seen)
    assert found == (beyond if tinted else set())
    assert bool(notes) != tinted


def test_what_both_see_stays() -> None:
    cell = frozenset({Cell(4, 7)})
    assert _settled(_even(), cell, {Cell(4, 7): 0.6}) == (cell, ())


@pytest.mark.parametrize(
    ("beside", "printed", "certain"),
    [(0.03, BOX, True), (0.3, BOX, True), (0.3, BOX | {Cell(1, 4)}, False), (0.6, BOX, True), (0.96, BOX, False)],
)
def test_a_tint_is_certain_where_nothing_of_it_can_have_been_missed(
    beside: float, printed: frozenset[Cell], certain: bool
) -> None:
    tints = [Tint(cell, (235, 235, 235), 1.0) for cell in BOX]
    chance = {cell: 0.95 if cell in BOX else 0.0 for cell in CELLS} | {Cell(1, 4): beside}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(printed, 0.06))))
    assert {tint.certain for tint in found} == {certain}


def test_a_line_along_one_side_of_a_bare_cell_makes_no_tint_of_it() -> None:
    y, x = _places()
    beside = 1 - 0.3 * ((y > 1) & (y < 2) & (x > 3.78) & (x < 3.97))
    tints = [Tint(cell, (235, 235, 235), 1.0) for cell in BOX]
    chance = {cell: 0.95 if cell in BOX else 0.0 for cell in CELLS} | {Cell(2, 4): 0.3}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(BOX, 0.06) * beside)))
    assert all(tint.certain for tint in found)


@pytest.mark.parametrize(("deep", "certain"), [(0.06, True), (0.0, False)])
def test_a_cell_is_surely_tinted_where_its_ground_ends_on_lattice_lines(deep: float, certain: bool) -> None:
    """Row by row of another colour, and the cell in doubt alone in its row."""
    cells = BOX - {Cell(3, 1), Cell(3, 2)}
    tints = [Tint(cell, (235 - 5 * cell.row, 235, 235), 1.0) for cell in cells]
    chance = {cell: 0.95 if cell in cells else 0.0 for cell in CELLS} | {Cell(3, 3): 0.7}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(cells, deep))))
    assert {tint.certain for tint in found} == {certain}


@pytest.mark.parametrize(("colour", "certain"), [((235, 235, 235), True), ((215, 235, 235), False)])
def test_a_cell_is_as_surely_tinted_as_one_beside_it_in_the_same_colour(
    colour: tuple[int, int, int], certain: bool
) -> None:
    tints = [Tint(cell, colour if cell == Cell(3, 3) else (235, 235, 235), 1.0) for cell in BOX]
    chance = {cell: 0.95 if cell in BOX else 0.0 for cell in CELLS} | {Cell(3, 3): 0.7}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(BOX - {Cell(3, 3)}, 0.06))))
    assert {tint.certain for tint in found} == {certain}


@pytest.mark.parametrize(("printed", "certain"), [(BOX, True), (BOX - {Cell(3, 3)}, False)])
def test_a_cell_that_the_network_hardly_sees_is_tinted_where_its_ground_shows_it_on_all_sides(
    printed: frozenset[Cell], certain: bool
) -> None:
    tints = [Tint(cell, (235, 235, 235), 1.0) for cell in BOX]
    chance = {cell: 0.95 if cell in BOX else 0.0 for cell in CELLS} | {Cell(3, 3): 0.4}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(printed, 0.06))))
    assert {tint.certain for tint in found} == {certain}


def test_such_a_cell_may_be_beside_one_that_the_network_rather_sees_and_the_ground_shows() -> None:
    pair = frozenset({Cell(6, 6), Cell(7, 6)})
    tints = [Tint(cell, (235, 235, 235), 1.0) for cell in BOX | pair]
    chance = {cell: 0.95 if cell in BOX else 0.0 for cell in CELLS} | {Cell(6, 6): 0.6, Cell(7, 6): 0.4}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(BOX | pair, 0.06))))
    assert all(tint.certain for tint in found)


@pytest.mark.parametrize(("bare", "certain"), [(frozenset[Cell](), True), (frozenset({Cell(2, 2)}), False)])
def test_cells_that_were_not_measured_are_certain_where_no_step_parts_them_from_the_others(
    bare: frozenset[Cell], certain: bool
) -> None:
    tints = [Tint(Cell(1, 1), (235, 235, 235), 1.0)]
    chance = {cell: 0.99 if cell in BOX else 0.0 for cell in CELLS}
    found, _ = settled_tints(tints, chance, Borders(_flat(_printed(BOX - bare, 0.06))))
    assert {tint.cell for tint in found} == BOX
    assert {tint.certain for tint in found} == {certain}


BOARD = frozenset(cell for cell in CELLS if ((cell.row - 1) // 3 + (cell.column - 1) // 3) % 2 == 0)
"""Every other box."""


def test_where_every_other_box_is_tinted_a_fold_adds_no_cells() -> None:
    y, x = _places()
    fold = 1 - 0.05 * ((y > 3) & (y < 5) & (x > 7))
    found, notes = _settled(_printed(BOARD, 0.06) * fold, BOARD | {Cell(4, 8), Cell(4, 9), Cell(5, 8)}, {})
    assert (found, notes) == (BOARD, ())


def test_every_other_box_is_tinted_however_pale_where_just_its_cells_are_seen() -> None:
    borders = Borders(_flat(_printed(BOARD, 0.015)))
    assert chequered(borders, (SIZE, SIZE), BOARD) == BOARD
    assert chequered(borders, (SIZE, SIZE), BOARD - {Cell(1, 1)}) is None
    assert chequered(Borders(_flat(_printed(frozenset(CELLS) - BOARD, 0.015))), (SIZE, SIZE), BOARD) is None


def test_a_tint_in_a_white_box_beside_tinted_ones_stays() -> None:
    found, notes = _settled(_printed(BOARD | {Cell(5, 2)}, 0.06), BOARD | {Cell(5, 2)}, {})
    assert (found, notes) == (BOARD | {Cell(5, 2)}, ())


def test_a_cell_of_a_tinted_box_that_is_white_stays_white() -> None:
    left = BOARD - {Cell(2, 2)}
    assert _settled(_printed(left, 0.06), left, {}) == (left, ())


def test_white_plates_of_signs_on_its_edges_leave_a_tint_its_shade() -> None:
    region = frozenset({Cell(4, 1), Cell(5, 1), Cell(2, 1), Cell(3, 1), Cell(2, 2)})
    light = _printed(region, 0.2)
    y, x = _places()
    for down, right in ((1.0, 1.5), (2.0, 1.5), (3.5, 1.0), (5.0, 0.5)):
        light[np.hypot(y - down, x - right) < 0.22] = 1.0
    tints = measure_ground(_flat(light)).tints
    assert {tint.cell for tint in tints} == region
    reds = [tint.colour[0] for tint in tints]
    assert max(reds) - min(reds) <= 5


def test_boxes_that_stand_upright_are_told_apart_by_their_tints_too() -> None:
    size = 6
    cells = [Cell(row, column) for row in range(1, size + 1) for column in range(1, size + 1)]
    board = frozenset(cell for cell in cells if ((cell.row - 1) // 3 + (cell.column - 1) // 2) % 2)
    flat = _flat(_printed(board, 0.06))
    side = round((size + 2 * MARGIN) * CELL)
    part = replace(flat, image=flat.image[:side, :side], rows=size, columns=size)
    assert chequered(Borders(part), (size, size), board - {Cell(1, 3), Cell(1, 4)}) == board


def test_cells_between_squares_that_nearly_fill_theirs_are_bare() -> None:
    """The steps of colour are measured on the squares, and these may be a tint to the network as well."""
    squares = frozenset((Cell(1, 1), Cell(2, 2), Cell(2, 3), Cell(3, 3)))
    seen = dict.fromkeys(squares, 0.9)
    tints = [Tint(cell, (246, 246, 246), 1.0) for cell in BOX - {Cell(1, 2), Cell(1, 3)}]
    borders = Borders(_flat(_printed(squares, 0.1)))
    chance = {cell: seen.get(cell, 0.0) for cell in CELLS}
    found, notes = settled_tints(tints, chance, borders, squares)
    assert ({tint.cell for tint in found}, notes) == (squares, ())
    assert len(settled_tints(tints, chance, borders)[0]) == 7, "a tint that the network sees in some of its cells"


def test_each_side_of_a_cell_is_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Groups of cells are tried with one cell more and one less, and each try goes all around them."""
    measured: list[tuple[int, int, tuple[int, int]]] = []
    measure = Borders._measured
    monkeypatch.setattr(Borders, "_measured", lambda self, *side: (measured.append(side), measure(self, *side))[1])
    assert Borders(_flat(_printed(BOX, 0.06))).best(BOX - {Cell(3, 3)}, CELLS) == BOX
    assert measured and len(measured) == len(set(measured))
