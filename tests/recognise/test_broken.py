"""Gaps in lattice lines, in which a small number hides from the guard that looks at all ink."""

import numpy as np

from recognise.doubt.broken import bare_gaps, broken_edges
from recognise.doubt.own_lines import is_of_line
from recognise.draft import box_polygon
from recognise.evidence import Flat
from recognise.pixels.frame import Raster
from recognise.pixels.ground import Ground
from recognise.pixels.ink import measure_ink

CELL, MARGIN, SIZE = 64, 1.0, 6
RASTER = Raster(SIZE, SIZE, CELL, CELL)
SIDE = round((SIZE + 2 * MARGIN) * CELL)
READ = box_polygon((1.9, 0.35, 2.1, 0.65))
"""What a number claims that was read, on the edge between r1c2 and r1c3."""
HALF = 3
"""Half the width of a lattice line, in pixels."""


def _page() -> np.ndarray:
    """Thick lattice lines on white."""
    page = np.full((SIDE, SIDE), 255, np.uint8)
    for line in range(SIZE + 1):
        at = CELL + line * CELL
        page[at - HALF : at + HALF, CELL:-CELL] = page[CELL:-CELL, at - HALF : at + HALF] = 0
    return page


def _gap(page: np.ndarray, row: int, line: int, ink: bool = True) -> None:
    """A white ground on a vertical line, in it a stroke as small as that of a number."""
    x, y = CELL + line * CELL, CELL + round((row - 0.5) * CELL)
    page[y - 7 : y + 7, x - 6 : x + 6] = 255
    if ink:
        page[y - 4 : y + 4, x] = 90


def _flat(page: np.ndarray) -> Flat:
    image, nowhere = np.repeat(page[..., None], 3, axis=2), np.zeros(page.shape, np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, nowhere, nowhere)


def _found(page: np.ndarray, *claimed, look=broken_edges) -> list:
    flat = _flat(page)
    ground = Ground(np.full((SIDE, SIDE, 3), 255, np.float32), ())
    return look(measure_ink(flat, ground), flat, claimed)


def test_a_number_that_lies_within_the_band_of_its_line_is_found() -> None:
    page = _page()
    _gap(page, 1, 2)
    _gap(page, 4, 3)
    (box,) = _found(page, READ)
    assert box[0] < 3 < box[2]
    assert 3.3 < box[1] < box[3] < 3.7
    assert len(_found(page.T, box_polygon((0.35, 1.9, 0.65, 2.1)))) == 1


def test_a_bare_gap_is_none_nor_any_where_no_mark_was_read_on_an_edge() -> None:
    page = _page()
    _gap(page, 4, 3)
    assert _found(page, box_polygon((1.2, 0.2, 1.8, 0.8))) == []
    bare = _page()
    _gap(bare, 4, 3, ink=False)
    assert _found(bare, READ) == []


def _read(row: int, line: int) -> tuple:
    """What a number claims that was read in a gap."""
    return box_polygon((line - 0.08, row - 0.6, line + 0.08, row - 0.4))


def test_a_bare_gap_as_those_that_numbers_stand_in_is_asked_about_where_it_lies_in_the_middle() -> None:
    page = _page()
    others = [(1, 2), (2, 4), (6, 1)]
    for row, line in (*others, (4, 3)):
        _gap(page, row, line, ink=False)
    (box,) = _found(page, *(_read(row, line) for row, line in others), look=bare_gaps)
    assert box[0] < 3 < box[2]
    assert 3.3 < box[1] < box[3] < 3.7
    # Two numbers are too few, a gap of another length is none of theirs, and one off the middle is wear.
    assert _found(page, *(_read(row, line) for row, line in others[:2]), look=bare_gaps) == []
    longer, aside = page.copy(), page.copy()
    longer[CELL + round(3.5 * CELL) - 13 : CELL + round(3.5 * CELL) + 13, CELL * 4 - 6 : CELL * 4 + 6] = 255
    aside[CELL + round(3.5 * CELL) - 13 : CELL + round(3.5 * CELL), CELL * 4 - HALF : CELL * 4 + HALF] = 0
    assert _found(longer, *(_read(row, line) for row, line in others), look=bare_gaps) == []
    assert _found(aside, *(_read(row, line) for row, line in others), look=bare_gaps) == []


def test_lines_that_are_broken_in_many_places_tell_nothing() -> None:
    page = _page()
    for row in range(1, SIZE + 1):
        _gap(page, row, 3)
    assert _found(page, READ) == []


def _figure(page: np.ndarray, row: float, line: int) -> None:
    """A figure as wide as a vertical line, with a little paper above and below it."""
    x, y = CELL + line * CELL, CELL + round((row - 0.5) * CELL)
    page[y - 9 : y + 9, x - HALF : x + HALF] = 255
    page[y - 6 : y + 6, x - HALF : x + HALF] = 0


def test_a_figure_as_wide_as_its_line_is_found_between_two_narrow_gaps_about_the_middle_of_an_edge() -> None:
    page, worn = _page(), _page()
    _figure(page, 4, 3)
    (box,) = _found(page, READ)
    assert 3.3 < box[1] < box[3] < 3.7
    _figure(worn, 4.2, 3)
    assert _found(worn, READ) == []


def test_a_figure_as_wide_as_its_line_is_not_taken_for_the_line() -> None:
    page = _page()
    _figure(page, 4, 3)
    (box,) = _found(page, READ)
    assert not is_of_line(box, _flat(page))
    assert is_of_line(box, _flat(_page()))


def test_dotted_lines_whose_gaps_happen_to_lie_about_a_middle_tell_nothing() -> None:
    page = _page()
    for line in range(1, SIZE):
        for row in range(SIZE):
            y, x = CELL + row * CELL + 14 + 3 * line, CELL + line * CELL
            page[y : y + 2, x - HALF : x + HALF] = 255
    _figure(page, 4, 3)
    assert _found(page, READ) == []
