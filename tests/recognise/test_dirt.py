"""Specks off every place of a mark, on a puzzle that needs no marks, are dirt; all else that nothing explains is asked
about."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.doubt.dirt import without_dirt
from recognise.draft import Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Words
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.even import Even
from schema.kinds.rows import Rows
from schema.kinds.unread_mark import UnreadMark

CELL = 64
GRID = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
RASTER = Raster(9, 9, CELL, CELL)
PRINTED = [Cell(row, column) for row in range(1, 10) for column in (1, 5, 8)]
BLACK, PALE = 0.8, 0.3


def _level() -> np.ndarray:
    """Ink with a figure in each cell that holds a given."""
    level = np.zeros((11 * CELL, 11 * CELL), np.float32)
    for cell in PRINTED:
        _inked(level, _figure(cell), BLACK)
    return level


def _figure(cell: Cell) -> tuple[float, float, float, float]:
    x, y = cell.column - 1, cell.row - 1
    return x + 0.3, y + 0.22, x + 0.7, y + 0.78


def _inked(level: np.ndarray, box: tuple[float, float, float, float], ink: float) -> None:
    level[RASTER.slices(box)] = ink


def _draft(*asked: Doubt, items: tuple[Item, ...] = ()) -> Draft:
    rules = [Item((rule,), None, 1.0, "text") for rule in (Rows(), Columns(), Boxes.regular(GRID, 3, 3))]
    givens = [Item(Given(cell, 1), box_polygon(_figure(cell)), 1.0, "ocr") for cell in PRINTED]
    return Draft(GRID, (*rules, *givens, *items), Words(), asked)


def _asked(box: tuple[float, float, float, float]) -> Doubt:
    return Doubt("ink", where=box_polygon(box), stray=True)


def _left(*things: tuple[tuple[float, float, float, float], float], items: tuple[Item, ...] = ()) -> int:
    """How many doubts are left of those about some ink."""
    level = _level()
    for box, ink in things:
        _inked(level, box, ink)
    return len(without_dirt(_draft(*(_asked(box) for box, _ in things), items=items), level, RASTER).doubts)


SPECK = (2.12, 3.35, 2.2, 3.42)


def test_a_speck_and_a_pale_smudge_beside_all_places_of_marks_are_dirt() -> None:
    assert _left((SPECK, BLACK)) == 0
    assert _left(((2.05, 3.28, 2.25, 3.5), PALE)) == 0
    assert _left((SPECK, BLACK), ((6.8, 1.3, 6.9, 1.34), PALE)) == 0
    assert _left(((2.42, 3.6, 2.5, 3.68), BLACK)) == 0  # shorter than any stroke of a figure
    assert _left(((2.1, 2.95, 2.22, 3.08), PALE)) == 0  # on a line, and not in the middle of an edge


@pytest.mark.parametrize(
    ("box", "ink"),
    [
        pytest.param((1.95, 3.45, 2.05, 3.55), BLACK, id="on an edge"),
        pytest.param((1.98, 3.44, 2.12, 3.56), PALE, id="half a dot on an edge"),
        pytest.param((1.95, 2.95, 2.05, 3.05), PALE, id="on a corner"),
        pytest.param((2.38, 3.6, 2.5, 3.7), BLACK, id="where a figure would stand"),
        pytest.param((2.46, 3.46, 2.54, 3.54), BLACK, id="a dot in the middle of a cell"),
        pytest.param((2.35, 3.5, 2.65, 3.75), PALE, id="a pale piece of a figure"),
        pytest.param((2.1, 3.1, 2.2, 3.26), BLACK, id="a small number in a corner"),
        pytest.param((2.1, 3.4, 2.26, 3.56), BLACK, id="a dot"),
        pytest.param((2.05, 3.38, 2.3, 3.42), BLACK, id="a bar"),
        pytest.param((2.05, 3.38, 2.55, 3.42), PALE, id="a line"),
        pytest.param((2.05, 3.38, 2.3, 3.46), PALE, id="a pale bar"),
        pytest.param((9.2, 3.35, 9.3, 3.4), BLACK, id="beside the grid"),
    ],
)
def test_what_may_be_a_mark_is_asked_about(box: tuple[float, float, float, float], ink: float) -> None:
    assert _left((box, ink)) == 1


def test_where_somebody_has_written_no_figure_would_stand() -> None:
    box = (2.38, 3.6, 2.5, 3.7)
    level = _level()
    _inked(level, box, BLACK)
    assert without_dirt(_draft(_asked(box)), level, RASTER, [Cell(4, 3)]).doubts == ()


def test_ink_left_on_a_given_says_that_it_may_be_another_digit() -> None:
    on_it, beyond = (4.35, 3.5, 4.72, 3.8), (4.35, 3.5, 4.95, 3.8)
    bare = without_dirt(_draft(_asked(on_it)), _level(), RASTER)
    assert bare.doubts == ()
    (doubtful,) = (item for item in bare.items if item.confidence < 1)
    assert isinstance(doubtful.value, Given) and doubtful.value.cell == Cell(4, 5)
    assert doubtful.confidence == 0.5
    assert {alternative.value.digit for alternative in doubtful.alternatives} == set(range(2, 10))  # type: ignore[union-attr]
    assert len(without_dirt(_draft(_asked(beyond)), _level(), RASTER).doubts) == 1


def test_where_more_is_asked_about_nothing_is_dirt() -> None:
    far = ((6.8, 1.3, 6.9, 1.34), BLACK)
    assert _left((SPECK, BLACK), far, ((3.1, 6.3, 3.15, 6.35), BLACK)) == 3
    assert _left((SPECK, BLACK), ((1.95, 3.45, 2.05, 3.55), BLACK)) == 2


def test_a_puzzle_with_marks_has_no_dirt() -> None:
    even = Item((Even(cells=(Cell(2, 2),)),), box_polygon((1.1, 1.1, 1.9, 1.9)), 1.0, "shape")
    assert _left((SPECK, BLACK), items=(even,)) == 1


def test_a_speck_smeared_by_a_filter_is_as_small_as_its_ink() -> None:
    long = _asked((1.9, 3.34, 2.45, 3.43))
    level = _level()
    _inked(level, SPECK, BLACK)
    assert without_dirt(_draft(long), level, RASTER).doubts == ()
    _inked(level, (1.9, 3.36, 2.45, 3.42), PALE)
    assert without_dirt(_draft(long), level, RASTER).doubts == (long,)


def test_a_speck_read_as_a_small_character_is_none() -> None:
    speck = box_polygon(SPECK)
    item = Item((UnreadMark(shape="small character", cells=(Cell(4, 3),)),), speck, 1.0, "shape")
    draft = _draft(items=(item,))
    draft = replace(draft, doubts=(Doubt("a character", item=len(draft.items) - 1),))
    level = cv2.GaussianBlur(_level(), (0, 0), 1)
    _inked(level, SPECK, BLACK)
    bare = without_dirt(draft, level, RASTER)
    assert bare.doubts == ()
    assert not any(isinstance(constraint, UnreadMark) for constraint in bare.constraints)
