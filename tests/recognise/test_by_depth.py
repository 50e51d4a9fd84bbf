"""Tints told by how deep the ground of whole cells is."""

from __future__ import annotations

import numpy as np

from recognise.evidence import Flat, Tint
from recognise.pixels.borders import Borders
from recognise.pixels.depths import Depths
from recognise.pixels.tinted import settled_tints
from schema.cells import Cell

SIZE, CELL = 6, 32
SIDE = (SIZE + 2) * CELL
CELLS = [Cell(row, column) for row in range(1, SIZE + 1) for column in range(1, SIZE + 1)]
AREA = frozenset({Cell(2, 2), Cell(2, 3), Cell(3, 2), Cell(3, 3), Cell(4, 2)})
LAST = Cell(4, 2)
DEEP = 0.06


def _printed(tints: dict[Cell, float], *, round_ones: bool = False) -> np.ndarray:
    """Grainy paper on which each cell has so much of its light; the round ones leave their corners bare."""
    paper = 230 + np.random.default_rng(5).normal(0, 3, (SIDE, SIDE))
    y, x = np.mgrid[:SIDE, :SIDE] / CELL - 1
    for cell, light in tints.items():
        down, right = np.abs(y - cell.row + 0.5), np.abs(x - cell.column + 0.5)
        within = np.hypot(down, right) < 0.5 if round_ones else np.maximum(down, right) < 0.5
        paper[within] *= light
    return paper


def _settled(paper, seen, measured=frozenset(), marked=None):
    image = np.clip(paper, 0, 255).astype(np.uint8)
    image = image if image.ndim == 3 else np.repeat(image[..., None], 3, axis=2)
    flat = Flat(image, SIZE, SIZE, CELL, 1.0, *(np.zeros((SIDE, SIDE), np.float32) for _ in range(2)))
    tints = [Tint(cell, (240, 240, 240), 1.0) for cell in sorted(measured)]
    found, notes = settled_tints(
        tints, {cell: seen.get(cell, 0.0) for cell in CELLS}, Borders(flat), (), Depths(flat, marked)
    )
    return {tint.cell for tint in found}, bool(found) and all(tint.certain for tint in found), notes


def test_cells_whose_borders_are_bare_belong_to_the_area_whose_tint_they_have() -> None:
    page = _printed(dict.fromkeys(AREA, 1 - DEEP), round_ones=True)
    seen = dict.fromkeys(AREA, 0.99) | {LAST: 0.8}
    assert _settled(page, seen, AREA - {LAST}) == (AREA, True, ())


def test_a_cell_as_light_as_paper_is_bare_though_a_step_was_measured_there() -> None:
    page = _printed(dict.fromkeys(AREA, 1 - DEEP))
    seen = dict.fromkeys(AREA, 0.99) | {Cell(3, 4): 0.4}
    assert _settled(page, seen, AREA | {Cell(3, 4)}) == (AREA, True, ())


COVERED = Cell(5, 5)


def _covered(light: float) -> np.ndarray:
    """Some tinted cells, and a disc in a cell of which hardly any ground is left, with so much of its light."""
    page = _printed(dict.fromkeys(AREA, 1 - 3 * DEEP) | {COVERED: light})
    y, x = np.mgrid[:SIDE, :SIDE] / CELL - 1
    page[np.hypot(y - COVERED.row + 0.5, x - COVERED.column + 0.5) < 0.46] = 40
    return page


def test_a_covered_cell_is_bare_where_others_of_its_ground_are() -> None:
    """Steps of colour were measured round several cells, and the depths of the others say that these are bare."""
    marked = np.zeros((SIDE, SIDE), np.bool_)
    marked[5 * CELL : 6 * CELL, 5 * CELL : 6 * CELL] = True
    beside = {COVERED, Cell(5, 4), Cell(5, 6), Cell(6, 5)}
    for likely in (0.2, 0.03):
        seen = dict.fromkeys(AREA, 0.99) | {COVERED: likely}
        assert _settled(_covered(1.0), seen, AREA | beside, marked)[0] == AREA
    assert _settled(_covered(1.0), seen, AREA | beside, marked) == (AREA, True, ())
    asked = ("whether r5c5 is tinted was hard to tell",)
    assert _settled(_covered(1.0), seen, AREA | {COVERED}, marked) == (AREA | {COVERED}, False, asked)


def test_a_cell_at_half_the_tint_is_asked_about_whatever_it_was_taken_for() -> None:
    page = _printed(dict.fromkeys(AREA, 1 - DEEP) | {LAST: 1 - DEEP / 2})
    asked = ("whether r4c2 is tinted was hard to tell",)
    for likely, found in ((0.0, AREA - {LAST}), (0.6, AREA)):
        assert _settled(page, dict.fromkeys(AREA, 0.99) | {LAST: likely}, found) == (found, False, asked)


def test_a_cell_with_hardly_any_tint_is_asked_about_where_paper_is_even() -> None:
    deep = 0.25
    page = _printed(dict.fromkeys(AREA, 1 - deep) | {LAST: 1 - deep / 6})
    seen, found = dict.fromkeys(AREA - {LAST}, 0.99) | {LAST: 0.05}, AREA - {LAST}
    assert _settled(page, seen, found) == (found, False, ("whether r4c2 is tinted was hard to tell",))
    assert _settled(_printed(dict.fromkeys(found, 1 - deep)), seen, found) == (found, True, ())


def test_the_edge_of_a_hard_shadow_parts_no_tinted_cells_from_others() -> None:
    page = _printed(dict.fromkeys(AREA, 1 - 2 * DEEP))
    y, x = np.mgrid[:SIDE, :SIDE] / CELL
    shaded = page * np.where(x + y / 5 < 2.4, 0.7, 1.0)
    assert _settled(shaded, dict.fromkeys(AREA, 0.99), AREA) == (AREA, True, ())
    pale = _printed(dict.fromkeys(AREA - {LAST}, 1 - 2 * DEEP) | {LAST: 1 - DEEP})
    pale *= np.where(x + y / 5 < 2.4, 0.7, 1.0)
    assert not _settled(pale, dict.fromkeys(AREA - {LAST}, 0.99), AREA - {LAST})[1]


def test_brown_stains_are_no_part_of_a_blue_tint() -> None:
    blue, brown = np.array([0.9, 0.95, 1.0]), np.array([1.0, 0.93, 0.85])
    page = np.repeat(_printed({})[..., None], 3, axis=2)
    stained = set(CELLS[::4]) - AREA
    for cells, colour in ((AREA, blue), (stained, brown)):
        page *= np.where(_printed(dict.fromkeys(cells, 0.5))[..., None] < 170, colour, 1.0)
    seen = dict.fromkeys(AREA, 0.99) | {max(stained): 0.4}
    assert _settled(page, seen, AREA | {max(stained)}) == (AREA, True, ())


def test_tints_whose_borders_are_hardly_seen_are_told_by_whole_cells() -> None:
    page = _printed(dict.fromkeys(AREA, 0.97))
    assert _settled(page, dict.fromkeys(AREA, 0.93)) == (AREA, False, ())
    assert _settled(_printed({}), dict.fromkeys(AREA, 0.93)) == (set(), False, ())


def test_cells_of_which_a_mark_covers_the_ground_are_left_to_others() -> None:
    covered = np.zeros((SIDE, SIDE), np.bool_)
    other = Cell(5, 5)
    covered[other.row * CELL : (other.row + 1) * CELL, other.column * CELL : (other.column + 1) * CELL] = True
    page = _printed(dict.fromkeys((*AREA, other), 1 - DEEP))
    seen = dict.fromkeys(AREA, 0.99)
    assert _settled(page, seen, AREA, covered) == (AREA, True, ())
    assert not _settled(page, seen, AREA)[1]


def test_where_depths_do_not_part_the_two_sorts_nothing_is_certain() -> None:
    page = _printed(
        dict.fromkeys(AREA, 1 - DEEP) | {cell: 1 - DEEP for cell in CELLS if (cell.row + cell.column) % 3 == 0}
    )
    assert _settled(page, dict.fromkeys(AREA, 0.99), AREA) == (AREA, False, ())


def test_where_no_cell_is_surely_bare_or_tinted_nothing_is_told_by_depth() -> None:
    """All of a page of tiles was in doubt, and reading it broke off."""
    page = _printed(dict.fromkeys(CELLS, 1 - DEEP))
    found, certain, _ = _settled(page, dict.fromkeys(CELLS, 0.5))
    assert not certain or not found
    flat = Flat(
        np.full((SIDE, SIDE, 3), 230, np.uint8), SIZE, SIZE, CELL, 1.0, *(np.zeros((SIDE, SIDE), np.float32),) * 2
    )
    assert Depths(flat, None).of([], []) == {}
