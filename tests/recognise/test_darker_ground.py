"""Filled marks in cells told by how dark their ground is."""

import cv2
import numpy as np
import pytest

from recognise.marks.darker_ground import LEAST, Grounds, is_elsewhere, with_shapes_open
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.same_in_cells import surer_in_cells
from schema.cells import Cell
from tests.recognise.test_same_look import CELL, _at, _looking

SURE = [Cell(1, 1), Cell(1, 4), Cell(4, 1)]
DOUBTFUL = Cell(3, 3)
CELLS = [Cell(row, column) for row in range(1, 5) for column in range(1, 5)]


def _page(marked: list[Cell], depth: float = 25.0, grain: float = 12.0) -> np.ndarray:
    """Grainy paper with pale squares, and a digit in each cell of the diagonal."""
    page = np.full((6 * CELL, 6 * CELL), 255.0, np.float32)
    for cell in marked:
        (x, y), half = _at(*cell.centre), round(0.36 * CELL)
        cv2.rectangle(page, (x - half, y - half), (x + half, y + half), 255.0 - depth, -1)
    for cell in CELLS:
        if cell.row == cell.column:
            (x, y), half = _at(*cell.centre), round(0.2 * CELL)
            cv2.line(page, (x, y - half), (x, y + half), 30.0, 8)
    return page + np.random.default_rng(1).normal(0, grain, page.shape).astype(np.float32)


def _grounds(marked: list[Cell]) -> Grounds:
    told = dict.fromkeys(SURE, 0.99) | {DOUBTFUL: 0.9}
    found = Grounds.of(told, [cell for cell in CELLS if cell not in told], _looking(_page(marked)))
    assert found is not None
    return found


def test_a_ground_as_dark_as_that_of_sure_marks_is_no_bare_cell() -> None:
    marked, bare = _grounds([*SURE, DOUBTFUL]), _grounds(SURE)
    assert marked.left(DOUBTFUL) == LEAST and not marked.is_bare(DOUBTFUL)
    assert bare.left(DOUBTFUL) == 1.0 and bare.is_bare(DOUBTFUL)


def test_where_the_sure_marks_have_no_ground_it_tells_nothing() -> None:
    rings = _grounds([])
    assert rings.left(DOUBTFUL) == 1.0
    assert not rings.is_bare(DOUBTFUL)


def test_where_one_of_the_sure_marks_has_no_ground_a_bare_cell_may_hold_another_such() -> None:
    mixed = _grounds(SURE[1:])
    assert mixed.left(DOUBTFUL) == 1.0
    assert not mixed.is_bare(DOUBTFUL)


def test_few_bare_cells_do_not_say_how_even_the_paper_is() -> None:
    told = dict.fromkeys(SURE, 0.99)
    assert Grounds.of(told, CELLS[-4:], _looking(_page(SURE))) is None


def test_of_which_shape_a_mark_is_the_ground_does_not_tell() -> None:
    assert with_shapes_open(0.1, LEAST, [0.04]) == 0.04
    assert with_shapes_open(0.1, LEAST, []) == pytest.approx(LEAST * 0.1)


HARDLY = 0.3


def _told(look: dict[str, float], marked: list[Cell], unspoken: tuple[str, ...]) -> dict[str, float]:
    """What is told of the cell in doubt, where the sure marks are squares."""
    told = {cell: {"CIRCLE": 0.0, "SQUARE": 0.99 if cell in SURE else 0.0} for cell in CELLS} | {DOUBTFUL: look}
    return surer_in_cells(told, set(), _looking(_page(marked)), unspoken)[DOUBTFUL]


def test_what_hardly_seems_to_be_a_mark_is_none_where_its_ground_is_bare_and_that_of_marks_is_not() -> None:
    assert _told({"SQUARE": HARDLY}, SURE, ())["SQUARE"] == MIDDLING[0]
    assert _told({"SQUARE": HARDLY}, [*SURE, DOUBTFUL], ())["SQUARE"] > MIDDLING[0]


@pytest.mark.parametrize(
    ("square", "marked", "is_none"),
    [(0.99, True, True), (0.0, False, True), (0.0, True, False), (0.3, True, False)],
    ids=["a square is there", "nothing is", "something is", "perhaps a square"],
)
def test_what_hardly_seems_to_be_a_mark_of_which_no_rule_speaks(square: float, marked: bool, is_none: bool) -> None:
    own = [*SURE, DOUBTFUL] if marked else SURE
    look = {"CIRCLE": HARDLY, "SQUARE": square}
    assert (_told(look, own, ("CIRCLE",))["CIRCLE"] == MIDDLING[0]) == is_none
    assert MIDDLING[0] < HARDLY <= DRAWN


@pytest.mark.parametrize(("faint", "stands", "elsewhere"), [(0, False, False), (1, True, False), (4, True, True)])
def test_one_faint_ground_may_be_a_mark_and_many_are_the_other_side(faint: int, stands: bool, elsewhere: bool) -> None:
    bare = [cell for cell in CELLS if cell not in SURE]
    pale = [DOUBTFUL, Cell(2, 1), Cell(2, 3), Cell(4, 3)][:faint]
    page = np.minimum(_page(SURE, grain=1.0), _page(pale, depth=5.0, grain=1.0))
    grounds = Grounds.of(dict.fromkeys(CELLS, 0.0) | dict.fromkeys(SURE, 0.99), bare, _looking(page))
    assert grounds is not None and grounds.stands_out(DOUBTFUL) == stands
    dark = np.minimum(page, _page([DOUBTFUL], depth=20.0, grain=1.0))
    grounds = Grounds.of(dict.fromkeys(CELLS, 0.0) | dict.fromkeys(SURE, 0.99), bare, _looking(dark))
    assert grounds is not None and not grounds.stands_out(DOUBTFUL), "a bulb, or a wide line"
    assert is_elsewhere(DOUBTFUL, [cell for cell in bare if cell != DOUBTFUL], _looking(page)) == (
        elsewhere or not faint
    )
