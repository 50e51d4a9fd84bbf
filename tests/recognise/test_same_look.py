"""A doubtful mark that looks like the sure ones of its page is no longer in doubt; what does not stays as it was."""

import cv2
import numpy as np
import pytest

from recognise.marks.looking import Looking
from recognise.marks.same_in_cells import ASKED, in_cells_alike, surer_in_cells
from recognise.marks.same_look import in_the_same_look
from recognise.pixels.frame import Raster
from schema.cells import Cell

CELL, MARGIN = 64, 1
RASTER = Raster(4, 4, CELL, MARGIN * CELL)
PLACES = [(0.5, 0.5), (1.5, 1.5), (2.5, 0.5), (3.5, 3.5)]
TOLD = [0.99, 0.995, 0.985, 0.9]
HALF = 0.46
CELLS = [Cell(int(y) + 1, int(x) + 1) for x, y in PLACES]
BARE = [Cell(row, column) for row in range(1, 5) for column in range(1, 5) if Cell(row, column) not in CELLS]


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _page(rings: list[tuple[float, float]]) -> np.ndarray:
    page = np.random.default_rng(3).normal(240, 4, (6 * CELL, 6 * CELL)).astype(np.float32)
    for place in rings:
        cv2.circle(page, _at(*place), round(0.36 * CELL), 90.0, 2)
    return cv2.GaussianBlur(page, (0, 0), 1.2)


def _looking(page: np.ndarray) -> Looking:
    relative = np.repeat((page / 240)[:, :, None], 3, axis=2).astype(np.float32)
    ink = np.clip(1 - relative[..., 0], 0, 1)
    return Looking(ink, ink, relative, RASTER, 0.05, None)  # type: ignore[arg-type]


def test_a_copy_of_the_sure_marks_is_sure() -> None:
    chances = in_the_same_look(PLACES, TOLD, HALF, _looking(_page(PLACES)))
    assert chances[3] > 0.995
    assert all(after >= before for after, before in zip(chances, TOLD, strict=True))


def test_the_grey_of_a_page_is_worked_out_once() -> None:
    looking = _looking(_page(PLACES))
    assert looking.grey is looking.grey
    assert np.allclose(looking.grey, looking.relative[..., 0])


@pytest.mark.parametrize("half_a_ring", [True, False])
def test_what_looks_otherwise_stays_in_doubt(half_a_ring: bool) -> None:
    page = _page(PLACES[:3])
    x, y = _at(*PLACES[3])
    if half_a_ring:
        cv2.ellipse(page, (x, y), (23, 23), 0, 0, 180, 90.0, 2)
    else:
        cv2.circle(page, (x, y), 15, 120.0, -1)
    assert in_the_same_look(PLACES, TOLD, HALF, _looking(page))[3] < 0.97


@pytest.mark.parametrize("there", [True, False])
def test_marks_on_thin_and_thick_lines_are_compared_beside_these(there: bool) -> None:
    page = np.random.default_rng(3).normal(240, 4, (6 * CELL, 6 * CELL)).astype(np.float32)
    edges = [(1.0, 0.5), (1.0, 2.5), (1.0, 3.5), (3.0, 1.5)]
    for x, width in ((1, 1), (3, 7)):
        cv2.line(page, _at(x, 0), _at(x, 4), 40.0, width)
    for place in edges if there else edges[:3]:
        cv2.circle(page, _at(*place), 9, 240.0, -1)
        cv2.circle(page, _at(*place), 9, 120.0, 1)
    chances = in_the_same_look(edges, TOLD, 0.24, _looking(cv2.GaussianBlur(page, (0, 0), 0.8)))
    assert (chances[3] > 0.99) == there
    assert there or chances[3] < 0.92


def test_a_digit_in_a_mark_is_not_compared() -> None:
    page = _page(PLACES)
    x, y = _at(*PLACES[3])
    cv2.polylines(page, [np.array([(x - 8, y - 11), (x + 8, y - 11), (x - 2, y + 11)])], False, 60.0, 3)
    assert in_cells_alike(CELLS, TOLD, BARE, _looking(page))[3] > 0.995


def test_dark_dots_on_the_rims_of_pale_discs_do_not_make_cells_with_such_dots_alike() -> None:
    page = np.random.default_rng(3).normal(240, 2, (6 * CELL, 6 * CELL)).astype(np.float32)
    for place in PLACES:
        cv2.circle(page, _at(*place), round(0.36 * CELL), 215.0, -1)
    for cell in (*CELLS, *BARE):
        x, y = _at(*cell.centre)
        cv2.circle(page, (x - 32, y), 9, 30.0, -1)
        cv2.circle(page, (x, y + 32), 9, 30.0, -1)
    assert in_cells_alike(CELLS, TOLD, BARE, _looking(page))[3] > 0.998


def test_other_marks_that_run_over_its_rim_are_not_compared() -> None:
    page = _page(PLACES)
    x, y = _at(*PLACES[3])
    cv2.circle(page, (x - 32, y), 9, 30.0, -1)
    cv2.circle(page, (x, y + 32), 9, 30.0, 2)
    assert in_cells_alike(CELLS, TOLD, BARE, _looking(page))[3] > 0.99


@pytest.mark.parametrize("other", ["half a ring", "a blot", "a square", "a smaller ring"])
def test_another_mark_in_a_cell_stays_in_doubt(other: str) -> None:
    page = _page(PLACES[:3])
    x, y = _at(*PLACES[3])
    if other == "half a ring":
        cv2.ellipse(page, (x, y), (23, 23), 0, 0, 180, 90.0, 2)
    elif other == "a blot":
        cv2.circle(page, (x, y), 15, 120.0, -1)
    elif other == "a square":
        cv2.rectangle(page, (x - 22, y - 22), (x + 22, y + 22), 90.0, 2)
    else:
        cv2.circle(page, (x, y), 17, 90.0, 2)
    assert in_cells_alike(CELLS, TOLD, BARE, _looking(page))[3] < 0.98


def test_one_sure_mark_alone_vouches_for_none() -> None:
    told = [0.99, 0.9, 0.9, 0.9]
    assert in_the_same_look(PLACES, told, HALF, _looking(_page(PLACES))) == told


@pytest.mark.parametrize(("square", "chance"), [(True, 0.93), (True, 0.75), (False, 0.93), (False, 0.75)])
def test_what_looks_like_many_likely_marks_is_one_and_asked_about(square: bool, chance: float) -> None:
    """No square of the page is sure; one more has a dot on its side, or is the tint of its whole cell."""
    likely = [Cell(1, 1), Cell(1, 3), Cell(2, 4), Cell(3, 1), Cell(4, 2)]
    last = Cell(3, 3)
    page = _page([])
    for cell in likely + [last] * square:
        (x, y), half = _at(*cell.centre), round(0.41 * CELL)
        cv2.rectangle(page, (x - half, y - half), (x + half, y + half), 200.0, -1)
    x, y = _at(*last.centre)
    if not square:
        cv2.rectangle(page, (x - CELL // 2, y - CELL // 2), (x + CELL // 2, y + CELL // 2), 200.0, -1)
    cv2.circle(page, (x - CELL // 2, y), 8, 20.0, -1)
    cells = [Cell(row, column) for row in range(1, 5) for column in range(1, 5)]
    told = {cell: {"SQUARE": chance if cell in likely else 0.2 if cell == last else 0.0} for cell in cells}
    found = surer_in_cells(told, set(), _looking(page))
    assert found[last]["SQUARE"] == (ASKED if square else 0.2)
    assert all(found[cell]["SQUARE"] == chance for cell in likely)
