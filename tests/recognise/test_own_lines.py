"""Ink that is nothing but a lattice line that bows, and what stands beside such a line."""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np
import pytest

from recognise.doubt.own_lines import is_of_line, runs_on, without_own_lines
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Flat, Words
from schema.grid import Grid

CELL, MARGIN, SIZE = 64, 1, 4
SIDE = (SIZE + 2 * MARGIN) * CELL
REST = (1.2, 2.03, 1.8, 2.09)
"""Where a line that should run at 2.0 bows by 0.06 of a cell."""


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _page(paint: Callable[[np.ndarray], object] = lambda _: None) -> Flat:
    grey = np.full((SIDE, SIDE), 220, np.uint8)
    for line in range(SIZE + 1):
        cv2.line(grey, _at(line, 0), _at(line, SIZE), 40, 3)
        bowed = [
            _at(x, line + 0.06 * np.sin(np.pi * (x - 1)) * (line == 2) * (1 < x < 2)) for x in np.arange(0, 4.01, 0.05)
        ]
        cv2.polylines(grey, [np.array(bowed, np.int32)], False, 40, 3)
    paint(grey)
    image = np.repeat(cv2.GaussianBlur(grey, (0, 0), 0.7)[..., None], 3, axis=2)
    nowhere = np.zeros((SIDE, SIDE), np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, nowhere, nowhere)


def _bar(grey: np.ndarray) -> None:
    cv2.line(grey, _at(1.2, 2.16), _at(1.8, 2.16), 40, 3)


def _thicker(grey: np.ndarray) -> None:
    cv2.line(grey, _at(1.2, 2.09), _at(1.8, 2.09), 40, 4)


def _pale(grey: np.ndarray) -> None:
    cv2.rectangle(grey, _at(1.2, 2.12), _at(1.8, 2.17), 180, -1)


def test_what_a_bowed_line_leaves_is_the_line() -> None:
    assert is_of_line(REST, _page())
    assert not is_of_line((1.2, 2.4, 1.8, 2.6), _page()), "no lattice line is near"


@pytest.mark.parametrize("paint", [_bar, _thicker, _pale])
def test_what_stands_beside_a_line_or_makes_it_thicker_is_not(paint: Callable[[np.ndarray], None]) -> None:
    assert not is_of_line((REST[0], REST[1], REST[2], 2.18), _page(paint))


def _mark_below(grey: np.ndarray) -> None:
    cv2.line(grey, _at(1.3, 2.21), _at(1.8, 2.21), 40, 3)


def _grain(grey: np.ndarray) -> None:
    grey[:] = np.clip(grey + np.random.default_rng(1).normal(0, 24, grey.shape), 0, 255)


@pytest.mark.parametrize("paint", [_mark_below, _grain])
def test_other_marks_farther_off_and_the_grain_of_paper_say_nothing(paint: Callable[[np.ndarray], None]) -> None:
    assert is_of_line(REST, _page(paint))


def _dotted(grey: np.ndarray) -> None:
    """The bowed line in dots."""
    for x in range(MARGIN * CELL, (MARGIN + SIZE) * CELL):
        if x % 8 > 3 and x % CELL > 4:
            grey[round((2 + MARGIN - 0.15) * CELL) : round((2 + MARGIN + 0.15) * CELL), x] = WHITE


def _dotted_with_bar(grey: np.ndarray) -> None:
    _dotted(grey)
    cv2.line(grey, _at(1.3, 2.06), _at(1.7, 2.06), 40, 3)


def test_a_bowed_line_of_dots_is_the_line_and_a_bar_in_its_place_is_none() -> None:
    assert is_of_line(REST, _page(_dotted))
    assert not is_of_line(REST, _page(_dotted_with_bar))


END, WHITE = (1.4, 2.95, 1.6, 3.05), 220
"""The end of a line at a mark, with some paper beyond it."""


def _cut(grey: np.ndarray) -> None:
    cv2.rectangle(grey, _at(1.57, 2.9), _at(1.9, 3.1), WHITE, -1)


def _cut_short(grey: np.ndarray) -> None:
    _cut(grey)
    cv2.rectangle(grey, _at(1.1, 2.9), _at(1.42, 3.1), WHITE, -1)


def _cut_with_dot(grey: np.ndarray) -> None:
    _cut(grey)
    cv2.circle(grey, _at(1.6, 3.1), 2, 40, -1)


def test_the_end_of_a_line_at_a_mark_is_the_line_with_the_paper_beyond_it() -> None:
    assert is_of_line(END, _page(_cut))
    assert not is_of_line((END[0], END[1], 1.75, END[3]), _page(_cut)), "there is more of the mark than paper"
    assert not is_of_line(END, _page(_cut_short)), "what is as wide as a line, and no end of one"
    assert not is_of_line(END, _page(_cut_with_dot)), "a dot beside the end"


WALL = (((1.0, 1.83), (2.0, 1.83), (2.0, 1.93), (1.0, 1.93)),)
"""Where an item claims the wall of a cage, above the line that bows."""


def _wall(grey: np.ndarray) -> None:
    """Dashes that bow as the line below them does, and reach out of their claim."""
    for x in range(*(_at(at, 0)[0] for at in (1.1, 1.9))):
        y = _at(0, 1.88 + 0.06 * np.sin(np.pi * (x / CELL - MARGIN - 1)))[1]
        if x % 8 < 5:
            grey[y - 1 : y + 2, x] = 20


def _wall_and_bar(grey: np.ndarray) -> None:
    _wall(grey)
    cv2.line(grey, _at(1.3, 2.14), _at(1.7, 2.14), 40, 2)


def _wall_and_gap(grey: np.ndarray) -> None:
    """A figure of a stroke where the line breaks off for it."""
    cv2.rectangle(grey, _at(1.35, 1.98), _at(1.65, 2.15), WHITE, -1)
    cv2.line(grey, _at(1.5, 2.0), _at(1.5, 2.14), 40, 3)
    _wall(grey)


def test_a_bowed_line_beside_the_wall_of_a_cage_is_the_line():
    assert not is_of_line(REST, _page(_wall)), "nobody says what the dashes are"
    assert is_of_line(REST, _page(_wall), WALL)
    assert not is_of_line((1.2, 2.03, 1.8, 2.18), _page(_wall_and_bar), WALL)
    assert not is_of_line((1.2, 1.98, 1.8, 2.16), _page(_wall_and_gap), WALL)
    assert not is_of_line((1.4, REST[1], 1.6, REST[3]), _page(_wall), WALL), "so short may a mark be"


def test_a_line_that_seems_to_break_off_may_run_on_beside_the_wall_of_a_cage():
    gap = (1.2, 1.95, 1.8, 2.0)
    assert runs_on(gap, _page(_wall), WALL)
    assert not runs_on(gap, _page(_wall), ())
    assert not runs_on(gap, _page(_wall_and_gap), WALL)
    assert not runs_on(gap, _page(_wall_and_bar), WALL)


def _figure_on_dashes(grey: np.ndarray) -> None:
    """A thin figure in a gap of the line, which stands down to the dashes of a cage."""
    cv2.rectangle(grey, _at(2.3, 1.85), _at(2.7, 2.1), WHITE, -1)
    cv2.putText(grey, "13", _at(2.36, 2.09), cv2.FONT_HERSHEY_SIMPLEX, 0.35, 90, 1, cv2.LINE_AA)
    for x in np.arange(0.05, 3.95, 0.15):
        cv2.line(grey, _at(x, 2.1), _at(x + 0.09, 2.1), 30, 3)


def test_a_figure_between_the_ends_of_a_line_that_dashes_touch_is_none() -> None:
    page = _page(_figure_on_dashes)
    dashes = [box_polygon((0.0, 2.08, 4.0, 2.2))]
    assert not is_of_line((2.2, 1.92, 2.64, 2.1), page, dashes)


def _thick_and_bowed(grey: np.ndarray) -> None:
    bowed = [_at(x, 2 + 0.12 * np.sin(np.pi * (x - 1))) for x in np.arange(0, 4.01, 0.05)]
    cv2.rectangle(grey, _at(0, 1.8), _at(4, 2.2), WHITE, -1)
    cv2.polylines(grey, [np.array(bowed, np.int32)], False, 40, 8)


def test_a_thick_line_is_as_thick_where_it_runs_farther_to_the_other_side() -> None:
    assert is_of_line((1.3, 2.1, 1.7, 2.18), _page(_thick_and_bowed))


def _half_circle(grey: np.ndarray) -> None:
    cv2.circle(grey, _at(1.35, 2.05), 12, WHITE, -1)
    cv2.circle(grey, _at(1.35, 2.05), 12, 40, 2)


def test_what_a_mark_on_a_bowed_line_claims_is_not_looked_at() -> None:
    page, circle = _page(_half_circle), box_polygon((1.15, 1.85, 1.55, 2.25))
    assert not is_of_line(REST, page)
    assert is_of_line(REST, page, [circle])
    assert not is_of_line((1.15, 2.0, 1.56, 2.1), page, [circle]), "all of it is the mark's"


def test_only_questions_about_stray_ink_are_dropped() -> None:
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4)), (), Words())
    stray, other = Doubt("ink", where=box_polygon(REST), stray=True), Doubt("a sign", where=box_polygon(REST))
    assert without_own_lines(draft.doubting(stray, other), _page()).doubts == (other,)
    beside = without_own_lines(draft.doubting(stray), _page(_thicker))
    assert beside.doubts == (stray,)
