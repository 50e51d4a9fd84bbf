"""Four guards before `clean`."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.doubt.ink import unexplained_ink
from recognise.doubt.policy import RISK, is_clean, least_sure, risk
from recognise.doubt.proof import as_puzzle, proven
from recognise.draft import Alternative, Doubt, Draft, Given, Item
from recognise.evidence import Flat, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from tests.recognise.evidence_maker import edges

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


CELL, MARGIN = 48, 1.0


def _flat(rows: int = 4, columns: int = 4, ground: int = 255) -> Flat:
    height, width = (round((n + 2 * MARGIN) * CELL) for n in (rows, columns))
    image = np.full((height, width, 3), ground, np.uint8)
    for r in range(rows + 1):
        y = round((r + MARGIN) * CELL)
        cv2.line(image, (CELL, y), (width - CELL, y), (0, 0, 0), 2)
    for c in range(columns + 1):
        x = round((c + MARGIN) * CELL)
        cv2.line(image, (x, CELL), (x, height - CELL), (0, 0, 0), 2)
    ys, xs = np.mgrid[0:height, 0:width].astype(np.float32)
    return Flat(image, rows, columns, CELL, MARGIN, xs, ys)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


@pytest.mark.parametrize("ground", [255, 200])
def test_an_empty_grid_has_no_ink_left(ground: int) -> None:
    assert unexplained_ink(_flat(ground=ground), edges(4, 4, (2, 2)), []) == []


def test_a_tinted_cell_is_ground_and_no_ink() -> None:
    flat = _flat()
    cv2.rectangle(flat.image, _at(1.03, 1.03), _at(1.97, 1.97), (190, 190, 190), -1)
    assert unexplained_ink(flat, edges(4, 4, (2, 2)), []) == []


@pytest.mark.parametrize("shade", [0, 150])
def test_a_small_dot_that_nothing_claims_is_found_where_it_stands(shade: int) -> None:
    flat = _flat()
    cv2.circle(flat.image, _at(2.5, 1.5), round(0.08 * CELL), (shade, shade, shade), -1)
    (box,) = unexplained_ink(flat, edges(4, 4, (2, 2)), [])
    assert box[0] < 2.5 < box[2]
    assert box[1] < 1.5 < box[3]


def test_a_dot_on_a_grid_line_is_found() -> None:
    flat = _flat()
    cv2.circle(flat.image, _at(2.0, 1.5), round(0.12 * CELL), (0, 0, 0), -1)
    assert unexplained_ink(flat, edges(4, 4, (2, 2)), []) != []


def test_dashes_do_not_hide_by_being_cut_up() -> None:
    flat = _flat()
    for step in range(8):
        x = 1.1 + step * 0.22
        cv2.line(flat.image, _at(x, 1.15), _at(x + 0.08, 1.15), (0, 0, 0), 1)
    assert unexplained_ink(flat, edges(4, 4, (2, 2)), []) != []


def test_what_an_item_claims_is_explained() -> None:
    flat = _flat()
    cv2.putText(flat.image, "5", _at(1.3, 1.7), cv2.FONT_HERSHEY_SIMPLEX, 0.8, (0, 0, 0), 2)
    claim = ((1.2, 1.2), (1.8, 1.2), (1.8, 1.8), (1.2, 1.8))
    assert unexplained_ink(flat, edges(4, 4, (2, 2)), []) != []
    assert unexplained_ink(flat, edges(4, 4, (2, 2)), [claim]) == []
