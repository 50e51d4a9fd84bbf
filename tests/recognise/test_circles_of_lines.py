"""Circles in which lines end, of one size on a page."""

from dataclasses import replace

import pytest

from recognise.evidence import Trace
from recognise.marks.traces import with_circles_of_one_size
from tests.recognise.evidence_maker import trace


def _ringed(row: int, first: float, last: float) -> Trace:
    return replace(trace(f"r{row}c1 r{row}c3"), discs=((0, first), (1, last)))


def test_a_circle_measured_by_the_digit_in_it_is_as_large_as_the_others() -> None:
    others = [_ringed(1, 0.38, 0.37), _ringed(2, 0.38, 0.38)]
    arrow = replace(trace("r6c1 r6c3"), discs=((0, 0.2),), heads=(1,))
    found = with_circles_of_one_size([*others, _ringed(4, 0.38, 0.24), arrow])
    assert [radius for line in found[:2] for _, radius in line.discs] == [0.38, 0.37, 0.38, 0.38]
    assert found[2] == _ringed(4, 0.38, pytest.approx(0.38))
    assert found[3] == arrow


def test_circles_in_which_arrows_begin_are_of_one_size_too() -> None:
    arrows = [
        replace(trace(f"r{row}c1 r{row}c3"), discs=((0, size),), heads=(1,))
        for row, size in ((1, 0.41), (3, 0.41), (5, 0.34))
    ]
    assert [radius for line in with_circles_of_one_size(arrows) for _, radius in line.discs] == [0.41, 0.41, 0.41]


def test_two_circles_tell_nothing_of_a_size() -> None:
    small = _ringed(4, 0.38, 0.24)
    assert with_circles_of_one_size([small]) == [small]
