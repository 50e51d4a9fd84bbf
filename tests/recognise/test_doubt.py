"""Four guards before `clean`."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.doubt.ink import _without_rests, on_strips, unexplained_ink, without_ground
from recognise.doubt.policy import CLUE, EXTENT, RISK, escape_of, is_clean, least_sure, risk
from recognise.doubt.proof import proven
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Alternative, Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Flat, Tint, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.palindrome import Palindrome
from schema.kinds.rows import Rows
from schema.kinds.sum_line import SumLine

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
# Proven below to have one solution; found by our own checker.
GIVENS = {"r1c1": 1, "r2c3": 2, "r3c2": 3, "r4c4": 4}


def _draft(givens: dict[str, int] | None = None, confidence: float = 0.99999) -> Draft:
    rules = (Rows(), Columns(), Boxes.regular(GRID, 2, 2))
    items = [Item((rule,), None, 1.0, "text") for rule in rules]
    for cell, digit in (givens or GIVENS).items():
        items.append(Item(Given(Cell.parse(cell), digit), ((0, 0), (1, 0), (1, 1)), confidence, "shape"))
    return Draft(GRID, tuple(items), Words())


def test_a_sure_reading_with_one_solution_is_clean() -> None:
    result = proven(_draft())
    assert result.proof is not None
    assert result.proof.outcome == "one"
    assert is_clean(result.draft, result.proof.outcome)


@pytest.mark.parametrize("outcome", ["several", "none", "unknown"])
def test_nothing_is_clean_without_exactly_one_solution(outcome) -> None:
    assert not is_clean(_draft(), outcome)


def test_nothing_is_clean_with_something_in_query() -> None:
    assert not is_clean(_draft().doubting(Doubt("a smudge")), "one")


def test_many_items_that_are_each_nearly_sure_are_not_sure_together() -> None:
    assert risk(_draft(confidence=0.999).items) < RISK
    assert not is_clean(_draft(confidence=0.99), "one")


def test_a_person_is_asked_about_the_least_sure_items_only() -> None:
    draft = _draft()
    doubtful = replace(draft.items[5], confidence=0.9)
    draft = replace(draft, items=(*draft.items[:5], doubtful, *draft.items[6:]))
    assert least_sure(draft) == [5]


def test_an_alternative_that_alone_settles_the_puzzle_is_inferred_and_put_to_a_person() -> None:
    draft = _draft({**GIVENS, "r1c1": 4})
    wrong = next(i for i, item in enumerate(draft.items) if item.value == Given(Cell(1, 1), 4))
    other = Alternative(Given(Cell(1, 1), 1), 0.3)
    items = list(draft.items)
    items[wrong] = replace(items[wrong], confidence=0.7, alternatives=(other,))
    before = replace(draft, items=tuple(items))
    result = proven(before)
    changed = result.draft.items[wrong]
    assert (changed.value, changed.how) == (Given(Cell(1, 1), 1), "inferred")
    assert [doubt.item for doubt in result.draft.doubts] == [wrong]
    assert result.proof is not None
    assert not is_clean(result.draft, result.proof.outcome)


def test_a_draft_that_is_no_valid_puzzle_says_why() -> None:
    draft = _draft({**GIVENS, "r2c2": 7})
    result = proven(draft)
    assert result.puzzle is None
    assert any("7" in doubt.why for doubt in result.draft.doubts)


def test_the_puzzle_is_what_the_draft_states() -> None:
    puzzle = as_puzzle(_draft())
    assert {str(cell): digit for cell, digit in puzzle.givens.items()} == GIVENS


CELL, MARGIN, FLOOR = 48, 1.0, 0.05


def _flat(rows: int = 4, columns: int = 4) -> Flat:
    height, width = (round((n + 2 * MARGIN) * CELL) for n in (rows, columns))
    maps = np.zeros((height, width), np.float32)
    return Flat(np.full((height, width, 3), 255, np.uint8), rows, columns, CELL, MARGIN, maps, maps)


def _blank() -> np.ndarray:
    flat = _flat()
    return np.zeros(flat.image.shape[:2], np.float32)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _written(text: str, x: float, y: float) -> np.ndarray:
    letters = np.zeros(_blank().shape, np.uint8)
    cv2.putText(letters, text, _at(x, y), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 255, 2)
    return (letters / 255).astype(np.float32)


def _left(ink: np.ndarray, *claimed) -> list:
    return unexplained_ink(ink, FLOOR, _flat(), claimed)


def test_an_empty_grid_has_no_ink_left() -> None:
    noise = np.random.default_rng(3).uniform(0, FLOOR, _blank().shape).astype(np.float32)
    assert _left(noise) == []


@pytest.mark.parametrize(("left", "claimed"), [(4.2, (4.45, 1.3, 4.7, 1.7)), (4.45, (4.2, 1.3, 4.45, 1.7))])
def test_a_figure_of_the_only_clue_beside_a_side_is_found_where_the_other_one_is_claimed(left: float, claimed) -> None:
    ink = _blank()
    cv2.rectangle(ink, _at(left + 0.08, 1.3), _at(left + 0.17, 1.7), 1.0, -1)
    (found,) = _left(ink, box_polygon(claimed))
    assert left <= (found[0] + found[2]) / 2 <= left + 0.25


@pytest.mark.parametrize("place", [(2.5, 1.5), (2.0, 1.5), (2.0, 2.0)], ids=["in a cell", "on an edge", "on a corner"])
@pytest.mark.parametrize("shade", [1.0, 0.3])
def test_a_small_dot_that_nothing_claims_is_found_where_it_stands(place, shade: float) -> None:
    ink = _blank()
    cv2.circle(ink, _at(*place), round(0.08 * CELL), shade, -1)
    (box,) = _left(ink)
    assert box[0] < place[0] < box[2]
    assert box[1] < place[1] < box[3]


def test_a_broad_pale_line_is_found() -> None:
    ink = _blank()
    cv2.line(ink, _at(0.5, 0.5), _at(2.5, 0.5), 0.1, round(0.3 * CELL))
    assert len(_left(ink)) == 1


def test_dashes_do_not_hide_by_being_cut_up() -> None:
    ink = _blank()
    for step in range(8):
        x = 1.1 + step * 0.22
        cv2.line(ink, _at(x, 1.15), _at(x + 0.08, 1.15), 1.0, 1)
    assert _left(ink) != []


def test_what_an_item_claims_is_explained() -> None:
    ink = _written("5", 1.3, 1.7)
    claim = ((1.2, 1.2), (1.8, 1.2), (1.8, 1.8), (1.2, 1.8))
    assert _left(ink) != []
    assert _left(ink, claim) == []


def test_a_missed_clue_is_found_in_the_ring_of_the_others() -> None:
    ink = _written("7", 2.3, -0.2)
    clue = ((0.3, -0.7), (0.7, -0.7), (0.7, -0.2), (0.3, -0.2))
    assert _left(ink) == []
    assert len(_left(ink, clue)) == 1


def test_a_slit_between_a_digit_and_a_lattice_line_holds_their_blur() -> None:
    ink = _blank()
    cv2.line(ink, _at(1.3, 1.09), _at(1.7, 1.09), 0.5, 2)
    high, low = (((1.2, y), (1.8, y), (1.8, 1.8), (1.2, 1.8)) for y in (1.2, 1.4))
    assert _left(ink, high) == []
    assert len(_left(ink, low)) == 1


def test_a_wall_that_runs_on_beyond_a_slit_is_found() -> None:
    ink = _blank()
    cv2.line(ink, _at(1.05, 1.09), _at(2.95, 1.09), 0.5, 2)
    assert _left(ink, ((1.2, 1.2), (1.8, 1.2), (1.8, 1.8), (1.2, 1.8))) != []


def test_a_rest_along_one_side_of_a_lattice_line_is_no_mark_and_a_bar_on_it_is() -> None:
    below, above = (1.2, 2.02, 1.8, 2.05), (1.3, 1.95, 1.7, 1.98)
    elsewhere, wide = (2.3, 1.95, 2.7, 1.98), (1.2, 2.02, 1.8, 2.12)
    assert _without_rests([below]) == []
    assert _without_rests([below, elsewhere]) == []
    assert _without_rests([below, above]) == [below, above]
    assert _without_rests([wide]) == [wide]


def test_a_line_with_a_total_is_not_read_a_cell_short_unseen() -> None:
    path = (Cell(1, 1), Cell(1, 2), Cell(2, 3))
    assert escape_of(Item((SumLine(path=path, value=12),), None, 0.9, "vector")) == CLUE
    assert escape_of(Item((Palindrome(path=path),), None, 0.9, "vector")) == EXTENT


def test_odd_pieces_of_a_tint_that_a_pdf_paints_are_no_ink() -> None:
    image = np.full((4 * CELL, 4 * CELL, 3), 255, np.uint8)
    maps = np.zeros(image.shape[:2], np.float32)
    flat = Flat(image, 2, 2, CELL, MARGIN, maps, maps)
    image[CELL : 2 * CELL, CELL : 2 * CELL] = (254, 240, 178)
    image[CELL + 10 : CELL + 20, CELL + 10 : CELL + 20] = (60, 60, 60)
    drawn = (1 - image.min(axis=-1) / 255).astype(np.float32)
    left = without_ground(drawn, flat, (Tint(Cell(1, 1), (254, 240, 178), 1.0, "vector"),), ())
    assert set(zip(*np.nonzero(left), strict=True)) == {
        (CELL + y, CELL + x) for y in range(10, 20) for x in range(10, 20)
    }


def test_the_rims_of_a_patterns_strokes_are_no_ink_and_a_mark_upon_them_is() -> None:
    flat, colour = _flat(), (143, 169, 194)
    cell = flat.image[CELL : 2 * CELL, CELL : 2 * CELL]
    cell[::6] = colour
    cell[1::6] = (210, 220, 230)
    cell[20:40, 24:40] = (70, 70, 70)
    drawn = (1 - flat.image.min(axis=-1) / 255).astype(np.float32)
    left = without_ground(drawn, flat, (Tint(Cell(1, 1), colour, 0.15, "vector"),), ())
    assert (left[CELL + 20 : CELL + 40, CELL + 24 : CELL + 40] > 0).all()
    assert np.count_nonzero(left) == 20 * 16
    # Of a ground all over the cell, such a mixture is a paler mark.
    whole = without_ground(drawn, flat, (Tint(Cell(1, 1), colour, 1.0, "vector"),), ())
    assert np.count_nonzero(whole) > np.count_nonzero(left)


def test_a_light_figure_on_a_dark_strip_beside_the_grid_is_ink_and_the_strip_is_none() -> None:
    flat, dark = _flat(), (60, 74, 62)
    edge = round(MARGIN * CELL)
    flat.image[:edge, edge:-edge] = dark
    flat.image[edge - 20 : edge - 10, edge + 20 : edge + 30] = 255
    ink = (1 - flat.image.min(axis=-1) / 255).astype(np.float32)
    left = on_strips(ink, flat, [((0.0, -MARGIN, 4.0, 0.0), dark)])
    assert (left[edge - 20 : edge - 10, edge + 20 : edge + 30] > 0.5).all()
    assert np.count_nonzero(left) == 100


def test_the_panel_that_a_grid_stands_on_is_no_ink_beside_it() -> None:
    flat, panel = _flat(), (246, 241, 228)
    edge, rim = round(MARGIN * CELL), round((MARGIN - 0.3) * CELL)
    flat.image[rim:-rim, rim:-rim] = panel
    flat.image[rim + 4 : rim + 8, edge : edge + 12] = (90, 90, 90)
    drawn = (1 - flat.image.min(axis=-1) / 255).astype(np.float32)
    left = without_ground(drawn, flat, (), (), (panel,))
    # Something else on it is ink, and so is what has its colour on the grid.
    assert (left[rim + 4 : rim + 8, edge : edge + 12] > 0).all()
    assert (left[edge:-edge, edge:-edge] > 0).all()
    left[rim + 4 : rim + 8, edge : edge + 12] = 0
    left[edge:-edge, edge:-edge] = 0
    assert not left.any()


def test_double_lines_that_a_pdf_draws_between_cells_are_no_ink() -> None:
    drawn = _blank()
    for x in (0.93, 1.07):
        cv2.line(drawn, _at(x, 0), _at(x, 1), 1.0, 2)
    rails = [(0.9, 0.0, 1.1, 1.0)]
    assert _left(drawn)
    assert not _left(without_ground(drawn, _flat(), (), rails))
    cv2.circle(drawn, _at(1.0, 0.5), round(0.25 * CELL), 1.0, -1)
    found = _left(without_ground(drawn, _flat(), (), rails))
    assert min(box[0] for box in found) < 0.8 < 1.2 < max(box[2] for box in found)
