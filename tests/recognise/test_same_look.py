"""A doubtful mark that looks like the sure ones of its page is no longer in doubt; what does not stays as it was."""

import cv2
import numpy as np
import pytest

from recognise.marks.looking import Looking
from recognise.marks.same_in_cells import in_cells_alike
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


@pytest.mark.parametrize("half_a_ring", [True, False])
def test_what_looks_otherwise_stays_in_doubt(half_a_ring: bool) -> None:
    page = _page(PLACES[:3])
    x, y = _at(*PLACES[3])
    if half_a_ring:
        cv2.ellipse(page, (x, y), (23, 23), 0, 0, 180, 90.0, 2)
    else:
        cv2.circle(page, (x, y), 15, 120.0, -1)
    assert in_the_same_look(PLACES, TOLD, HALF, _looking(page))[3] < 0.97


def test_a_digit_in_a_mark_is_not_compared() -> None:
    page = _page(PLACES)
    x, y = _at(*PLACES[3])
    cv2.polylines(page, [np.array([(x - 8, y - 11), (x + 8, y - 11), (x - 2, y + 11)])], False, 60.0, 3)
    assert in_cells_alike(CELLS, TOLD, BARE, _looking(page))[3] > 0.995


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
