"""A page for one of its grids alone."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.evidence import Lattice
from recognise.grids import without_others

PAPER, INK = 240, 20


def _lattice(left: float, rows: int, cell: float) -> Lattice:
    down, across = np.mgrid[0 : rows + 1, 0 : rows + 1].astype(np.float64)
    return Lattice(np.stack([left + across * cell, 40 + down * cell], axis=-1))


def _page(*lattices: Lattice) -> np.ndarray:
    """Each lattice with a number in its first cell."""
    page = np.full((500, 900, 3), PAPER, np.uint8)
    for lattice in lattices:
        x, y = (round(float(at)) for at in lattice.points[0, 0])
        page[y + 8 : y + 20, x + 8 : x + 20] = INK
    return page


OWN, TABLE, STRIP = _lattice(40, 9, 40), _lattice(440, 5, 72), _lattice(440, 2, 40)


@pytest.mark.parametrize(("other", "painted"), [(TABLE, True), (STRIP, False)])
def test_what_stands_in_another_grid_is_painted_over_and_boxes_for_clues_are_not(other: Lattice, painted: bool) -> None:
    page = _page(OWN, other)
    found = without_others(page, OWN, [OWN, other])
    assert (int(found[:, 430:].min()) == PAPER) == painted
    assert np.array_equal(found[:, :430], page[:, :430])


def test_a_grid_within_another_is_the_same_grid() -> None:
    inner = _lattice(120, 5, 40)
    page = _page(OWN, inner)
    assert np.array_equal(without_others(page, OWN, [OWN, inner]), page)


def test_a_table_whose_first_line_was_taken_for_the_frame_beside_it_leaves_that_frame_alone() -> None:
    astray = TABLE.points.copy()
    astray[1, 0, 0] = 399  # within this grid
    page = _page(OWN, TABLE)
    page[:, 396:404] = INK
    found = without_others(page, OWN, [OWN, Lattice(astray)])
    assert int(found[:, 430:].min()) == PAPER
    assert np.array_equal(found[:, 396:404], page[:, 396:404])


def test_the_page_itself_stays_as_it_is_for_the_other_grids_on_it() -> None:
    page = _page(OWN, TABLE)
    before = page.copy()
    without_others(page, OWN, [OWN, TABLE])
    assert np.array_equal(page, before)
