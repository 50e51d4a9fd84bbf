"""Cages without a number: printed so, or with a number that was missed."""

from collections.abc import Sequence, Set

import numpy as np
import pytest

from recognise.doubt.alternatives import LOOKS_LIKE
from recognise.doubt.numberless import without_numberless
from recognise.draft import Doubt, Draft, Item
from recognise.evidence import Fence, Glyph, Guess, Words
from recognise.interpret.cages import NO_NUMBER
from recognise.marks.text_places import hard_in_corner
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage

CELL, SIZE, INSET = 64, 4, 0.08
RASTER = Raster(SIZE, SIZE, CELL, CELL)
FENCES = tuple(
    Fence(
        (Cell(row, 1), Cell(row, 2)),
        "dashed",
        (0, 0, 0),
        "shape",
        where=((INSET, row - 1 + INSET), (2 - INSET, row - 1 + INSET), (2 - INSET, row - INSET), (INSET, row - INSET)),
    )
    for row in range(1, SIZE + 1)
)
LAST = len(FENCES) - 1


def _page(breaks: set[int], numbers: set[int], across_only: Set[int] = frozenset()) -> np.ndarray:
    """Dashed walls of four cages, broken off in the first corner of some (the upper ones of some alone), and numbers in
    the corners of some."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.float32)
    dash = np.arange(2 * CELL) % 6 < 4
    for place in range(SIZE):
        x, y = CELL + round(INSET * CELL), CELL + round((place + INSET) * CELL)
        across, down = dash[: round(1.8 * CELL)].copy(), dash[: round(0.8 * CELL)].copy()
        if place in breaks:
            across[:16] = down[:16] = False
        if place in across_only:
            across[:16] = False
        ink[y, x : x + len(across)] = across
        ink[y : y + len(down), x] = np.maximum(ink[y : y + len(down), x], down)
        if place in numbers:
            ink[y + 4 : y + 14, x + 4 : x + 14 : 3] = 1.0
    return ink


def _asked(level: np.ndarray, *also: Doubt, glyphs: Sequence[Glyph] = (), why: str = NO_NUMBER) -> tuple[Doubt, ...]:
    """What is asked when the last cage is read without a number, for `why`, and what is asked `also`."""
    values = (7, 8, 9, None)
    items = (
        Item((Cage(cells=fence.cells, value=value),), fence.where, 0.999, "shape")
        for fence, value in zip(FENCES, values, strict=True)
    )
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4)), tuple(items), Words())
    asked = draft.doubting(Doubt(why, item=LAST), *also)
    return without_numberless(asked, FENCES, glyphs, level, RASTER).doubts


def test_a_wall_that_runs_through_its_corner_has_no_number() -> None:
    assert _asked(_page({0, 1, 2}, {0, 1, 2})) == ()


def test_nor_has_a_bare_corner_where_numbers_stand_inside_of_their_walls() -> None:
    assert _asked(_page(set(), {0, 1, 2})) == ()
    page = _page(set(), {0, 1, 2})
    x, y = CELL + round(INSET * CELL), CELL + round((LAST + INSET) * CELL)
    page[y, x : x + CELL // 2] = 0.0
    assert _asked(page) == (), "one of the walls is lost in a thick line"
    page[y : y + CELL // 2, x] *= 0.3
    assert len(_asked(page)) == 1, "the whole corner may have faded"


@pytest.mark.parametrize(("broken", "asked"), [({0, 1}, 0), ({0, 1, LAST}, 1)])
def test_where_wide_numbers_alone_break_off_one_wall_both_are_whole(broken: set[int], asked: int) -> None:
    assert len(_asked(_page(set(), {0, 1, 2}, broken))) == asked


def test_what_was_hard_to_read_in_a_bare_corner_is_no_number() -> None:
    others = tuple(Doubt(hard_in_corner(Cell(row, 1))) for row in (1, SIZE))
    assert _asked(_page(set(), {0, 1, 2}), *others) == others[:1]
    assert len(_asked(_page(set(), {0, 1, 2, 3}), *others)) == 3


@pytest.mark.parametrize(
    ("breaks", "numbers"),
    [({0, 1, 2, 3}, {0, 1, 2}), ({0, 1, 2}, {0, 1, 2, 3}), (set(), {0, 1, 2, 3}), ({0, 1}, {0, 1, 2})],
    ids=["rubbed out", "missed", "missed inside its walls", "not every wall breaks off"],
)
def test_else_it_is_asked_about(breaks: set[int], numbers: set[int]) -> None:
    assert [doubt.item for doubt in _asked(_page(breaks, numbers))] == [LAST]


@pytest.mark.parametrize(("written", "asked"), [(False, 0), (True, 1)])
def test_a_small_figure_that_stands_on_the_wall_is_a_number(written: bool, asked: int) -> None:
    """It leaves the corner inside of the wall bare, as do the others of the page that have one figure."""
    page, glyphs = _page(set(), {0, 1, 2}), []
    for place in range(SIZE if written else LAST):
        x, y = CELL + round(INSET * CELL), CELL + round((place + INSET) * CELL)
        page[y : y + 10, x - 2 : x + 3] = np.maximum(page[y : y + 10, x - 2 : x + 3], 0.4 if place == LAST else 0.9)
        box = (INSET - 0.05, place + INSET, INSET + 0.2, place + INSET + 0.2)
        glyphs += [Glyph(box, (Guess("7", 1.0),), 1.0, (0, 0, 0), "ocr")] if place != LAST else []
    assert len(_asked(page, glyphs=glyphs)) == asked


def test_a_figure_that_stands_on_the_wall_is_one_where_another_number_shows_no_more_of_its_own() -> None:
    """A narrow figure upon the dots of a wall hides as much of these as it inks."""
    page, glyphs = _page(set(), {0, 1, 2}), []
    for place, ink in enumerate((0.2, 0.9, 0.9, 0.2)):
        x, y = CELL + round(INSET * CELL), CELL + round((place + INSET) * CELL)
        page[y : y + 10, x - 2 : x + 3] = np.maximum(page[y : y + 10, x - 2 : x + 3], ink)
        box = (INSET - 0.05, place + INSET, INSET + 0.2, place + INSET + 0.2)
        glyphs += [Glyph(box, (Guess("7", 1.0),), 1.0, (0, 0, 0), "ocr")] if place != LAST else []
    assert len(_asked(page, glyphs=glyphs)) == 1


@pytest.mark.parametrize(
    "why", [NO_NUMBER, f"{LOOKS_LIKE} a cage 1 at r4c1 and r4c2, but only a cage at r4c1 and r4c2"]
)
@pytest.mark.parametrize(("written", "asked"), [(False, 0), (True, 1)])
def test_the_dashes_with_which_both_walls_begin_are_no_figure(why: str, written: bool, asked: int) -> None:
    """They have as much ink as a narrow figure, and more than a wall has farther on, which is one dash of two."""
    page, glyphs = _page(set(), {0, 1, 2, 3} if written else {0, 1, 2}), []
    for place in range(SIZE):
        x, y = CELL + round(INSET * CELL), CELL + round((place + INSET) * CELL)
        dashed = np.repeat(np.arange(100) % 6 < 4, 3)[: round(0.8 * CELL)]
        page[y : y + 3, x : x + len(dashed)] = dashed
        page[y : y + len(dashed), x : x + 3] = np.maximum(page[y : y + len(dashed), x : x + 3], dashed[:, None])
        box = (INSET, place + INSET, INSET + 0.2, place + INSET + 0.2)
        glyphs += [Glyph(box, (Guess("7", 1.0),), 1.0, (0, 0, 0), "ocr")] if place != LAST else []
    assert len(_asked(page, glyphs=glyphs, why=why)) == asked
