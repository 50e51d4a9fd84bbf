"""Small numbers that touch the lattice lines of their cell."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.marks.lifted import OVER, _of_line, lifted
from recognise.marks.text_places import SMALL_TALLEST, Place
from tests.recognise.test_characters_of_marks import print_of, texts_at
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

PLACE = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
X, Y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL


def _page(number: str, right: int, line: int = 3) -> Drawing:
    """A number that begins so many pixels to the right of the grey upright line of its cell, which is so thick."""
    drawing = Drawing()
    drawing.flat()
    cv2.line(drawing.image, (X, Y - CELL), (X, Y + CELL), (120,) * 3, line)
    over = np.full_like(drawing.image, 255)
    start = X + line // 2 + right, Y + 17
    cv2.putText(over, number, start, cv2.FONT_HERSHEY_SIMPLEX, 0.42, (40, 40, 40), 1, cv2.LINE_AA)
    drawing.image[:] = np.minimum(drawing.image, over)
    return drawing


@pytest.mark.parametrize("number", ["36", "23"])
@pytest.mark.parametrize(("right", "line"), [(-1, 3), (-3, 6)], ids=["thin", "thick"])
def test_a_number_that_runs_into_a_lattice_line_is_read_whole(number: str, right: int, line: int) -> None:
    assert texts_at(PLACE, _page(number, right, line).flat()) == [number]


@pytest.mark.parametrize(("right", "regained"), [(-1, True), (12, False)], ids=["on the line", "clear of it"])
def test_only_where_ink_is_lost_with_the_lattice_a_corner_is_looked_at_again(right: int, regained: bool) -> None:
    assert bool(lifted([PLACE], print_of(_page("36", right).flat()))[1]) == regained


def test_a_wide_line_below_is_not_taken_off_the_number() -> None:
    drawing = _page("36", 14)
    cv2.line(drawing.image, (X + CELL // 4, Y + CELL // 2), (X + CELL // 4, Y + CELL), (120, 120, 120), CELL // 4)
    seen = print_of(drawing.flat())
    own = seen.raster.slices((1.12, 1.05, 1.6, 1.3))
    assert lifted([PLACE], seen)[0][own].sum() == pytest.approx(seen.whole[own].sum(), rel=0.05)


def test_where_paper_is_in_shade_a_line_ends_before_the_next_mark() -> None:
    """Shade is more than the least ink, and a tube beside it is darker than that."""
    seen = print_of(Drawing().flat())
    before = seen.raster.px(OVER)
    profile = np.array([0.08] * (before - 2) + [0.5, 0.9, 0.9, 0.5, 0.1, 0.09, 0.08, 0.6, 0.6, 0.6, 0.08])
    line = _of_line(profile, seen)
    assert line[before - 2 : before + 2].tolist() == [0.5, 0.9, 0.9, 0.5]
    assert line[before + 2 :].max() <= 0.1
