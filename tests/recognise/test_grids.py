"""Grids drawn, bent and photographed with known truth: rows, columns and lattice points must come back."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Lattice
from recognise.grids import find_grids, fit, flatten, looks_filled
from recognise.grids.candidates import Outline
from recognise.grids.ink import luminance
from recognise.grids.verify import without_made_up
from recognise.grids.warp import Pyramid

CELL, PAD = 40, 120


def drawn(rows: int, columns: int, box: tuple[int, int] | None, text: str = "") -> np.ndarray:
    """A page with one grid; every third cell, or each cell when `text` is given, holds a character."""
    page = np.full((rows * CELL + 2 * PAD, columns * CELL + 2 * PAD, 3), 255, np.uint8)
    for axis, count, step in ((0, rows, box and box[0]), (1, columns, box and box[1])):
        for line in range(count + 1):
            thick = 4 if step and line % step == 0 else 1
            at, end = PAD + line * CELL, PAD + (columns if axis == 0 else rows) * CELL
            ends = ((PAD, at), (end, at)) if axis == 0 else ((at, PAD), (at, end))
            cv2.line(page, *ends, (0, 0, 0), thick)
    for index in range(0, rows * columns, 1 if text else 3):
        spot = PAD + index % columns * CELL + 12, PAD + index // columns * CELL + 29
        cv2.putText(page, text or str(index % 9 + 1), spot, cv2.FONT_HERSHEY_SIMPLEX, 0.8, (0, 0, 0), 2)
    return page


def bent(page: np.ndarray, seed: int, deep: float = 0.012) -> tuple[np.ndarray, np.ndarray]:
    """The page under a random homography and a curl, `deep` as part of its width; and the homography (page to picture,
    before the curl)."""
    height, width = page.shape[:2]
    rng = np.random.default_rng(seed)
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    matrix = cv2.getPerspectiveTransform(
        corners, (corners + rng.uniform(-0.06, 0.06, (4, 2)) * width).astype(np.float32)
    )
    turned = cv2.warpPerspective(page, matrix, (width, height), borderValue=(255, 255, 255))
    x, y = np.meshgrid(np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32))
    picture = cv2.remap(turned, x, y - curl(x, width, deep), cv2.INTER_LINEAR, borderValue=(255, 255, 255))
    return picture, matrix


def curl(x: np.ndarray, width: int, deep: float = 0.012) -> np.ndarray:
    return (deep * width * np.sin(np.pi * x / width)).astype(np.float32)


@pytest.mark.parametrize("size", [(4, 4), (6, 6), (9, 9), (6, 8), (16, 16), (25, 25)])
@pytest.mark.parametrize("seed", [1, 2])
def test_every_lattice_point_of_a_curled_photo_is_found(size: tuple[int, int], seed: int) -> None:
    picture, matrix = bent(drawn(*size, None), seed)
    (lattice,) = find_grids(picture)
    assert (lattice.rows, lattice.columns) == size
    row, column = np.indices((size[0] + 1, size[1] + 1))
    flat = np.stack([column, row], -1).reshape(-1, 1, 2) * float(CELL) + PAD
    truth = cv2.perspectiveTransform(flat, matrix).reshape(*row.shape, 2)
    truth[..., 1] += curl(truth[..., 0], picture.shape[1])
    assert np.abs(lattice.points - truth).max() < 0.1 * CELL


def test_a_deep_curl_is_no_lattice_gone_astray() -> None:
    deep = 0.07
    picture, matrix = bent(drawn(9, 9, (3, 3)), 1, deep)
    (lattice,) = find_grids(picture)
    row, column = np.indices((10, 10))
    flat = np.stack([column, row], -1).reshape(-1, 1, 2) * float(CELL) + PAD
    truth = cv2.perspectiveTransform(flat, matrix).reshape(*row.shape, 2)
    truth[..., 1] += curl(truth[..., 0], picture.shape[1], deep)
    assert np.abs(lattice.points - truth).max() < 0.1 * CELL


def test_pale_lines_are_found_under_the_grain_of_a_photo_in_dim_light() -> None:
    page = np.where(drawn(9, 9, (3, 3)) < 128, 60, 130).astype(np.float32)
    for line in (1, 2, 4, 5, 7, 8):
        at, end = PAD + line * CELL, PAD + 9 * CELL
        page[at, PAD:end] = np.maximum(page[at, PAD:end], 95)
        page[PAD:end, at] = np.maximum(page[PAD:end, at], 95)
    page = cv2.GaussianBlur(cv2.resize(page, None, fx=1.6, fy=1.6), (0, 0), 0.8)
    page += cv2.GaussianBlur(np.random.default_rng(4).normal(0, 20, page.shape[:2]), (0, 0), 0.7)[..., None]
    (lattice,) = find_grids(np.clip(page, 0, 255).astype(np.uint8))
    assert (lattice.rows, lattice.columns) == (9, 9)


@pytest.mark.parametrize(("noise", "tried"), [(3, [1]), (16, [1, fit.GRAIN])])
def test_where_grain_swallows_the_palest_lines_it_is_evened_out_as_well(
    monkeypatch: pytest.MonkeyPatch, noise: int, tried: list[int]
) -> None:
    """Whatever else was made of the lines that are left: it may have no support."""
    grains: list[int] = []
    monkeypatch.setattr(fit, "_pairs", lambda _, __, grain=1: grains.append(grain) or [])
    flat = np.random.default_rng(4).normal(150, noise, (fit.SIDE + 100,) * 2)
    flat = np.clip(cv2.GaussianBlur(flat, (0, 0), 1.2), 0, 255).astype(np.uint8)
    corners = np.array([[50, 50], [690, 50], [690, 690], [50, 690]], float)
    laid = fit.LaidFlat(Pyramid(flat), Outline(corners, corners))
    assert list(fit.fits(laid, keen=True)) == []
    assert grains == tried
    grains.clear()
    assert list(fit.fits(laid)) == []
    assert grains == [1], "only where no puzzle was found"


def test_of_lines_that_stand_out_little_from_grain_none_is_lost_where_it_is_evened_out() -> None:
    rim = round(fit.SIDE * fit.MARGIN)
    flat = np.full((fit.SIDE + 2 * rim,) * 2, 150.0)
    for line, at in enumerate(np.linspace(rim, rim + fit.SIDE, 10).astype(int)):
        dark = 5 if 0 < line < 9 else 120
        flat[at - 1 : at + 1, rim:-rim] -= dark
        flat[rim:-rim, at - 1 : at + 1] -= dark
    flat += cv2.GaussianBlur(np.random.default_rng(4).normal(0, 18, flat.shape), (0, 0), 1.2)
    pairs = fit._pairs(np.clip(flat, 0, 255).astype(np.uint8), (fit.FINE,), fit.GRAIN)
    assert [(row.count, column.count) for row, column in pairs] == [(9, 9)]


def test_a_filled_answer_is_no_puzzle() -> None:
    page = drawn(9, 9, None, text="8")
    assert find_grids(page) == []
    row, column = np.indices((10, 10))
    lattice = Lattice(np.stack([column, row], -1) * float(CELL) + PAD)
    assert looks_filled(flatten(page, lattice))


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize(("printed", "columns"), [(None, 4), (245, 4), (225, 8)])
def test_every_second_line_of_one_direction_is_printed_or_no_line(
    printed: int | None, columns: int, turned: bool
) -> None:
    page = drawn(4, 4, None, text="8")
    for column in range(4) if printed else ():
        x = PAD + column * CELL + CELL // 2
        page[PAD : PAD + 4 * CELL, x : x + 1] = np.minimum(page[PAD : PAD + 4 * CELL, x : x + 1], printed)
    rows, halves = np.indices((5, 9)).astype(np.float64)
    points = np.stack([halves / 2, rows], -1) * CELL + PAD
    if turned:
        page, points = page.swapaxes(0, 1), points.swapaxes(0, 1)[..., ::-1]
    found = without_made_up(Pyramid(luminance(np.ascontiguousarray(page))), np.ascontiguousarray(points))
    assert found.shape[:2] == ((columns + 1, 5) if turned else (5, columns + 1))


def test_a_blocked_word_grid_is_no_puzzle() -> None:
    page = drawn(9, 9, None)
    for row, column in ((0, 0), (2, 3), (4, 4), (5, 7), (8, 8), (7, 1)):
        x, y = PAD + column * CELL, PAD + row * CELL
        page[y : y + CELL, x : x + CELL] = 0
    assert find_grids(page) == []


def test_a_shadow_over_part_of_a_grid_is_no_black_cells() -> None:
    page = drawn(9, 9, (3, 3))
    page[:, : PAD + 3 * CELL + 10] = page[:, : PAD + 3 * CELL + 10] // 5 * 2
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (9, 9)


def test_tinted_cells_in_a_shadow_are_no_black_cells() -> None:
    page = drawn(9, 9, (3, 3)).astype(np.float32)
    for row, column in ((1, 8), (2, 7), (3, 8), (5, 7), (7, 8)):
        y, x = PAD + row * CELL, PAD + column * CELL
        page[y + 3 : y + CELL - 2, x + 3 : x + CELL - 2] *= 0.82
    page[:, PAD + 5 * CELL :] *= 0.55
    (lattice,) = find_grids(page.astype(np.uint8))
    assert (lattice.rows, lattice.columns) == (9, 9)


def test_grey_squares_in_a_shadow_that_ends_beside_them_are_no_black_cells() -> None:
    page = drawn(9, 9, (3, 3)).astype(np.float32)
    for row, column in ((1, 1), (3, 1), (4, 1), (5, 2), (6, 2), (8, 2)):
        y, x = PAD + row * CELL, PAD + column * CELL
        page[y + 5 : y + CELL - 4, x + 5 : x + CELL - 4] *= 0.75
    for row in range(9):
        page[PAD + row * CELL : PAD + (row + 1) * CELL, : PAD + (2 + row // 5) * CELL] *= 0.6
    assert [lattice.rows for lattice in find_grids(page.astype(np.uint8))] == [9]


def test_blurred_black_cells_are_black() -> None:
    page = drawn(9, 9, None)
    for row, column in ((0, 0), (2, 3), (4, 4), (5, 7), (8, 8), (7, 1)):
        x, y = PAD + column * CELL, PAD + row * CELL
        page[y : y + CELL, x : x + CELL] = 20
    for sigma in (1.5, 3, 5):
        assert find_grids(cv2.GaussianBlur(page, (0, 0), sigma)) == []


def test_black_cells_that_meet_at_a_side_are_no_shadow() -> None:
    page = drawn(9, 9, None)
    page[PAD : PAD + 3 * CELL, PAD : PAD + 2 * CELL] = 20
    assert find_grids(page) == []


@pytest.mark.parametrize("shape", [(1, 20000), (9000, 3), (1, 1)])
def test_a_strip_of_a_few_pixels_has_no_grid(shape: tuple[int, int]) -> None:
    assert find_grids(np.random.default_rng(1).integers(0, 256, (*shape, 3), np.uint8)) == []


def test_blank_paper_has_no_grid() -> None:
    assert find_grids(np.full((600, 400, 3), 255, np.uint8)) == []


@pytest.mark.parametrize("degrees", [30, 90, 135, 180, 270])
def test_a_turned_grid_is_found_and_counted_from_its_top_left_as_it_lies(degrees: int) -> None:
    page = drawn(9, 9, (3, 3))
    height, width = page.shape[:2]
    side = int(np.hypot(height, width))
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), degrees, 1)
    matrix[:, 2] += (side - width) / 2, (side - height) / 2
    (lattice,) = find_grids(cv2.warpAffine(page, matrix, (side, side), borderValue=(255, 255, 255)))
    assert (lattice.rows, lattice.columns) == (9, 9)
    across, down = lattice.points[0, -1] - lattice.points[0, 0], lattice.points[-1, 0] - lattice.points[0, 0]
    assert across[0] * down[1] - across[1] * down[0] > 0, "mirrored"
    assert lattice.points[0, 0].sum() <= lattice.points[[0, -1, -1], [-1, -1, 0]].sum(axis=1).min() + 1


def test_a_thick_frame_around_few_cells_is_a_line() -> None:
    page = drawn(4, 4, None)
    cv2.rectangle(page, (PAD, PAD), (PAD + 4 * CELL, PAD + 4 * CELL), (0, 0, 0), 7)
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (4, 4)


def test_pale_hairlines_beside_thick_borders_are_lines() -> None:
    page = drawn(9, 9, None)
    page[page < 128] = 200
    for at in range(0, 10, 3):
        cv2.line(page, (PAD, PAD + at * CELL), (PAD + 9 * CELL, PAD + at * CELL), (0, 0, 0), 4)
        cv2.line(page, (PAD + at * CELL, PAD), (PAD + at * CELL, PAD + 9 * CELL), (0, 0, 0), 4)
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (9, 9)


def test_hairlines_between_tints_are_told_by_the_step_from_one_to_the_other() -> None:
    """Between tint and paper a hairline hardly darker than the tint does not show."""
    page, far = drawn(6, 6, None), PAD + 6 * CELL
    for at in range(PAD + CELL, far, CELL):
        cv2.line(page, (PAD, at), (far, at), (175,) * 3, 1)
        cv2.line(page, (at, PAD), (at, far), (175,) * 3, 1)
    for row in (2, 4):
        cells = page[PAD + row * CELL : PAD + (row + 1) * CELL + 1, PAD + 1 : far]
        cells[cells > 190] = 190
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (6, 6)


def digits_in_blocks(offset: float, digits: int = 20) -> np.ndarray:
    """A frame of 3 x 3 blocks without the thin lines between their cells, and digits that stand `offset` of a cell off
    the middles of these."""
    page = np.full((9 * CELL + 2 * PAD, 9 * CELL + 2 * PAD, 3), 255, np.uint8)
    for at in range(PAD, PAD + 9 * CELL + 1, 3 * CELL):
        cv2.line(page, (PAD, at), (PAD + 9 * CELL, at), (0, 0, 0), 4)
        cv2.line(page, (at, PAD), (at, PAD + 9 * CELL), (0, 0, 0), 4)
    for index in range(digits):
        row, column = divmod(index * 4, 9)
        spot = PAD + round((column + offset) * CELL) + 12, PAD + row * CELL + 29
        cv2.putText(page, str(index % 9 + 1), spot, cv2.FONT_HERSHEY_SIMPLEX, 0.8, (0, 0, 0), 2)
    return page


def test_digits_tell_the_cells_of_blocks_whose_thin_lines_are_lost() -> None:
    (lattice,) = find_grids(digits_in_blocks(0))
    assert (lattice.rows, lattice.columns, lattice.broken) == (9, 9, True)
    truth = PAD + CELL * np.stack(np.meshgrid(np.arange(10.0), np.arange(10.0)), axis=-1)
    assert np.abs(lattice.points - truth).max() < 0.1 * CELL
    assert find_grids(digits_in_blocks(0.4)) == []


@pytest.mark.parametrize(("digits", "found"), [(6, True), (5, False)])
def test_few_digits_tell_the_cells_of_blocks_where_all_stand_in_the_middle(digits: int, found: bool) -> None:
    assert len(find_grids(digits_in_blocks(0, digits))) == found


def test_marks_on_the_lost_lines_of_blocks_and_text_close_above_tell_nothing_else() -> None:
    page = digits_in_blocks(0)
    for row, column in ((1, 1), (4, 2), (4, 7), (7, 4), (8, 8)):
        cv2.circle(page, (PAD + column * CELL, PAD + row * CELL - CELL // 2), 7, (0, 0, 0), 1)
    text = "each of the two marked diagonals also"
    cv2.putText(page, text, (PAD, PAD - CELL // 2), cv2.FONT_HERSHEY_SIMPLEX, 0.55, (0, 0, 0), 1)
    (lattice,) = find_grids(page)
    truth = PAD + CELL * np.stack(np.meshgrid(np.arange(10.0), np.arange(10.0)), axis=-1)
    assert np.abs(lattice.points - truth).max() < 0.1 * CELL


@pytest.mark.parametrize(("lost", "found"), [((2,), True), ((2, 7), False), ((0,), False)])
def test_one_line_inside_a_large_grid_may_be_lost(lost: tuple[int, ...], found: bool) -> None:
    page = drawn(9, 9, None)
    for line in lost:
        page[:, PAD + line * CELL] = 255
    for line in range(10):
        cv2.line(page, (PAD, PAD + line * CELL), (PAD + 9 * CELL, PAD + line * CELL), (0, 0, 0), 1)
    sizes = [(lattice.rows, lattice.columns, lattice.broken) for lattice in find_grids(page)]
    assert (sizes == [(9, 9, True)]) == found


def test_a_title_close_above_does_not_pull_the_top_line() -> None:
    page = drawn(8, 8, None)
    cv2.putText(page, "MMM BORROWED", (PAD, PAD - 9), cv2.FONT_HERSHEY_SIMPLEX, 0.9, (0, 0, 0), 4)
    (lattice,) = find_grids(page)
    assert np.abs(lattice.points[0, :, 1] - PAD).max() < 0.05 * CELL


def test_a_calendar_is_no_puzzle() -> None:
    page = drawn(7, 7, None)
    for index in range(49):
        row, column = divmod(index, 7)
        x, y = PAD + column * CELL, PAD + row * CELL
        page[y + 3 : y + CELL - 2, x + 3 : x + CELL - 2] = 255
        text = str(index - 6) if 7 <= index < 38 else ""
        cv2.putText(page, text, (x + 8, y + 26), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (0, 0, 0), 1)
    assert find_grids(page) == []


def numbered_corners(share: float, size: float = 0.75) -> np.ndarray:
    """A 9 x 9 grid of large cells with numbers of two figures, so large, in the top left corners of so many cells."""
    page = cv2.resize(drawn(9, 9, (3, 3), text=" "), None, fx=2, fy=2, interpolation=cv2.INTER_NEAREST)
    for index in range(round(81 * share)):
        row, column = divmod(index * 7 % 81, 9)
        x, y = 2 * (PAD + column * CELL), 2 * (PAD + row * CELL)
        for left, figure in ((13, "2"), (13 + round(21.5 * size), str(3 + index % 6))):
            base = (x + left, y + 9 + round(30 * size))
            cv2.putText(page, figure, base, cv2.FONT_HERSHEY_SIMPLEX, size, (0, 0, 0), 2)
    return page


def test_the_totals_of_cages_make_no_table_but_a_number_in_each_cell_does() -> None:
    assert len(find_grids(numbered_corners(0.4))) == 1
    assert find_grids(numbered_corners(1.0)) == []


def test_nor_do_totals_that_are_nearly_as_high_as_givens() -> None:
    assert len(find_grids(numbered_corners(0.12, 0.85))) == 1
    assert find_grids(numbered_corners(1.0, 0.85)) == []


def test_a_lattice_that_vectors_draw_and_the_picture_shows_needs_no_searching() -> None:
    page = drawn(9, 9, (3, 3))
    points = PAD + CELL * np.stack(np.meshgrid(np.arange(10.0), np.arange(10.0)), axis=-1)
    (found,) = find_grids(page, [Lattice(points)])
    assert np.array_equal(found.points, points)
    assert np.abs(find_grids(page, [Lattice(points + CELL / 2)])[0].points - points).max() < 2


def test_a_sideways_puzzle_is_a_puzzle() -> None:
    (lattice,) = find_grids(np.ascontiguousarray(np.rot90(drawn(9, 9, (3, 3)))))
    assert (lattice.rows, lattice.columns) == (9, 9)


def with_boxed_clues(page: np.ndarray, rows: tuple[int, ...], thick: int) -> np.ndarray:
    """A 9 x 9 grid with that frame, and boxes of a cell's size for clues that touch it on the left."""
    cv2.rectangle(page, (PAD, PAD), (PAD + 9 * CELL, PAD + 9 * CELL), (0, 0, 0), thick)
    for row in rows:
        cv2.rectangle(page, (PAD - CELL, PAD + row * CELL), (PAD, PAD + (row + 1) * CELL), (90, 90, 90), 1)
    return page


@pytest.mark.parametrize("rows", [(0, 1, 2, 3, 5, 6, 7, 8), tuple(range(9))])
def test_a_grid_ends_at_its_frame_though_boxes_for_clues_touch_it(rows: tuple[int, ...]) -> None:
    (lattice,) = find_grids(with_boxed_clues(drawn(9, 9, None), rows, 5))
    assert (lattice.rows, lattice.columns) == (9, 9)
    assert np.abs(lattice.points[0, 0] - PAD).max() < 3


def test_a_frame_with_boxes_for_clues_on_all_sides_is_where_the_grid_ends() -> None:
    page = np.full(((9 * CELL + 4 * PAD),) * 2 + (3,), 255, np.uint8)
    inner = drawn(9, 9, None)[PAD : PAD + 9 * CELL + 1, PAD : PAD + 9 * CELL + 1]
    page[2 * PAD : 2 * PAD + len(inner), 2 * PAD : 2 * PAD + len(inner)] = inner
    low, high = 2 * PAD, 2 * PAD + 9 * CELL
    for at in range(low, high, CELL):
        for x, y in ((at, low - CELL), (at, high), (low - CELL, at), (high, at)):
            cv2.rectangle(page, (x, y), (x + CELL, y + CELL), (90, 90, 90), 1)
    cv2.rectangle(page, (low, low), (high, high), (0, 0, 0), 5)
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (9, 9)
    assert np.abs(lattice.points[0, 0] - low).max() < 3


def test_tiles_with_an_outline_are_cells_to_the_last() -> None:
    """Two lines stand between two tiles, and one on the outside: that is no frame with boxes around it."""
    page = np.full(((9 * CELL + 4 * PAD),) * 2 + (3,), 255, np.uint8)
    for index in range(81):
        row, column = divmod(index, 9)
        near, away = ((2 * PAD + column * CELL + off, 2 * PAD + row * CELL + off) for off in (1, CELL - 1))
        cv2.rectangle(page, near, away, (230, 230, 230), -1)
        cv2.rectangle(page, near, away, (120, 120, 120), 1)
        if index % 4 == 0:
            spot = near[0] + CELL // 2 - 8, near[1] + CELL // 2 + 8
            cv2.putText(page, str(index % 9 + 1), spot, cv2.FONT_HERSHEY_SIMPLEX, 0.8, (0, 0, 0), 2)
    (lattice,) = find_grids(page)
    assert (lattice.rows, lattice.columns) == (9, 9)


def test_without_a_frame_nothing_tells_where_a_grid_ends() -> None:
    found = find_grids(with_boxed_clues(drawn(9, 9, None), (0, 1, 2, 3, 5, 6, 7, 8), 1))
    assert not any((lattice.rows, lattice.columns) == (9, 9) for lattice in found)


def test_a_candidate_is_laid_flat_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages have many frames that hold no lattice; each is looked at for fine lines, coarse ones, and blocks."""
    framed = np.full((600, 600, 3), 255, np.uint8)
    cv2.rectangle(framed, (100, 100), (500, 500), (0, 0, 0), 3)
    laid: list[Outline] = []
    flat = fit._flat
    monkeypatch.setattr(fit, "_flat", lambda *args: (laid.append(args[1]), flat(*args))[1])
    assert find_grids(framed) == []
    places = [outline.corners.tobytes() for outline in laid]
    # A second look, at lighter lines and with grain evened out, is a look at other outlines or another picture.
    assert laid and len(places) <= 2 * len(set(places))
