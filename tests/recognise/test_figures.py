"""Figures that were lost beside small numbers."""

import cv2
import numpy as np
import pytest

from recognise.doubt.figures import lost_figures
from recognise.draft import Draft, Item, box_polygon
from recognise.evidence import Glyph, Guess, Words
from recognise.geometry import disc_polygon
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.even import Even

CELL, MARGIN, SIZE = 64, 1.0, 4
RASTER = Raster(SIZE, SIZE, CELL, round(MARGIN * CELL))
SIDE = round((SIZE + 2 * MARGIN) * CELL)
GRID = Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4))
BARE = np.zeros((SIDE, SIDE), np.bool_)


def _page(*words: tuple[str, float, float]) -> np.ndarray:
    """Words whose lower left corners lie at these places, in cells; each figure is 0.12 wide and 0.17 high."""
    ink = np.zeros((SIDE, SIDE), np.uint8)
    for word, x, y in words:
        for number, figure in enumerate(word):
            at = round((x + 0.16 * number + MARGIN) * CELL), round((y + MARGIN) * CELL)
            cv2.putText(ink, figure, at, cv2.FONT_HERSHEY_SIMPLEX, 0.5, 255, 1)
    return np.asarray(ink / 255, np.float32)


def _found(ink: np.ndarray, box: tuple[float, float, float, float], *claims: tuple, text: str = "4") -> list:
    glyph = Glyph(box, (Guess(text, 0.99),), box[3] - box[1], (0, 0, 0), "shape")
    item = Item((Even(cells=(Cell(1, 1),)),), box_polygon(box), 0.99, "shape", claims=(box_polygon(box), *claims))
    return list(lost_figures(Draft(GRID, (item,), Words()), [glyph], ink, BARE, RASTER))


FOUR, NINE = (1.85, 1.91, 2.0, 2.1), (2.01, 1.91, 2.16, 2.1)
CIRCLE = disc_polygon((2.0, 2.0), 0.3)


@pytest.mark.parametrize(("read", "lost"), [(FOUR, NINE), (NINE, FOUR)])
def test_one_of_two_digits_in_a_circle_is_missed(read, lost):
    ink = _page(("49", 1.85, 2.09))
    cv2.circle(ink, (3 * CELL, 3 * CELL), round(0.3 * CELL), 1.0, 2)
    (found,) = _found(ink, read, CIRCLE)
    assert lost[0] <= (found[0] + found[2]) / 2 <= lost[2]


def test_a_digit_alone_in_its_circle_lacks_nothing():
    ink = _page(("4", 1.92, 2.09))
    cv2.circle(ink, (3 * CELL, 3 * CELL), round(0.3 * CELL), 1.0, 2)
    assert _found(ink, (1.92, 1.91, 2.07, 2.1), CIRCLE) == []


def test_a_slice_of_a_thick_rim_is_no_figure_where_the_circle_was_measured_too_large():
    ink = np.zeros((SIDE, SIDE), np.float32)
    cv2.line(ink, (3 * CELL, round(2.78 * CELL)), (3 * CELL, round(3.22 * CELL)), 1.0, 5)
    # The lower left of the ring: elsewhere a broad pen draws it thin.
    cv2.ellipse(ink, (3 * CELL, 3 * CELL), (20, 20), 0, 115, 210, 1.0, 3)
    assert _found(ink, (1.89, 1.78, 2.11, 2.22), disc_polygon((2.0, 2.0), 0.386), text="1") == []


@pytest.mark.parametrize("bent", [True, False])
def test_a_slice_of_a_rim_is_bent_as_the_circle_is_and_a_figure_is_not(bent: bool) -> None:
    """A large digit in the circle of a line, which claims more than its ring: the left of the ring, or a 1 there."""
    ink = np.zeros((SIDE, SIDE), np.float32)
    cv2.line(ink, (3 * CELL, round(2.82 * CELL)), (3 * CELL, round(3.18 * CELL)), 1.0, 5)
    if bent:
        cv2.ellipse(ink, (3 * CELL, 3 * CELL), (16, 16), 0, 125, 235, 1.0, 3)
    else:
        cv2.line(ink, (3 * CELL - 13, round(2.82 * CELL)), (3 * CELL - 13, round(3.18 * CELL)), 1.0, 3)
    found = _found(ink, (1.9, 1.8, 2.1, 2.2), disc_polygon((2.0, 2.0), 0.34), text="1")
    assert bool(found) != bent


def test_the_ground_beside_a_light_digit_on_a_dark_disc_is_no_figure():
    ink = np.zeros((SIDE, SIDE), np.float32)
    cv2.circle(ink, (3 * CELL, 3 * CELL), round(0.15 * CELL), 1.0, -1)
    cv2.line(ink, (3 * CELL, round(2.92 * CELL)), (3 * CELL, round(3.08 * CELL)), 0.0, 3)
    assert _found(ink, (1.95, 1.91, 2.05, 2.1), disc_polygon((2.0, 2.0), 0.15), text="1") == []


def test_one_of_two_light_digits_on_a_dark_disc_is_missed():
    ink = np.zeros((SIDE, SIDE), np.float32)
    cv2.circle(ink, (3 * CELL, 3 * CELL), round(0.3 * CELL), 1.0, -1)
    ink = np.clip(ink - _page(("49", 1.85, 2.09)), 0, 1)
    (found,) = _found(ink, FOUR, CIRCLE)
    assert NINE[0] <= (found[0] + found[2]) / 2 <= NINE[2]


def test_the_second_figure_of_a_total_is_missed_and_lines_beside_it_are_none():
    ink = _page(("49", 1.2, 1.35))
    assert len(_found(ink, (1.2, 1.17, 1.35, 1.36))) == 1
    alone = _page(("4", 1.2, 1.35))
    cv2.line(alone, (round(2.12 * CELL), CELL), (round(2.12 * CELL), 4 * CELL), 1.0, 2)
    cv2.line(alone, (round(2.4 * CELL), round(2.25 * CELL)), (3 * CELL, round(2.25 * CELL)), 1.0, 2)
    assert _found(alone, (1.2, 1.17, 1.35, 1.36)) == []


def test_what_another_item_claims_is_no_figure_of_this_one():
    nine = box_polygon((1.35, 1.17, 1.53, 1.36))
    assert _found(_page(("49", 1.2, 1.35)), (1.2, 1.17, 1.35, 1.36), nine) == []


def test_a_lower_and_wider_figure_that_was_read_is_no_line_with_the_number_below():
    four, nine = (1.2, 1.18, 1.36, 1.36), (1.37, 1.17, 1.5, 1.36)
    glyphs = [Glyph(box, (Guess(text, 0.99),), 0.19, (0, 0, 0), "shape") for box, text in ((four, "4"), (nine, "9"))]
    item = Item(
        (Even(cells=(Cell(1, 1),)),), box_polygon(nine), 0.99, "shape", claims=tuple(map(box_polygon, (four, nine)))
    )
    ink = _page(("49", 1.2, 1.35))
    assert list(lost_figures(Draft(GRID, (item,), Words()), glyphs, ink, BARE, RASTER)) == []
