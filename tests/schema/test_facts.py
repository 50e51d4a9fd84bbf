"""Kinds against values from outside the project; the source stands beside each."""

from __future__ import annotations

from collections import Counter
from itertools import permutations, product
from math import comb

import pytest

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import kind_named
from schema.kinds._totals import sums_of
from schema.kinds.base import Setting
from schema.kinds.rows import Rows

NINE = tuple(range(1, 10))


def row_setting(size=9):
    return Setting(Grid(rows=1, columns=size, digits=tuple(range(1, size + 1))), (Rows(),))


def row(*digits):
    return {Cell(1, column): digit for column, digit in enumerate(digits, 1) if digit}


def path(length):
    return tuple(Cell(1, column) for column in range(1, length + 1))


def sandwich(value, wrap=False):
    return kind_named("sandwich")(side="left", index=1, value=value, wrap=wrap)


@pytest.mark.parametrize("value", [1, 34, 36])
def test_sandwich_sums_that_cannot_be(value):
    """1 and 34: computed, no source; above 35: the digits that can stand between are 2 to 8 (common practice)."""
    assert sandwich(value).broken(row_setting(), {}) != []


@pytest.mark.parametrize("value", [0, 2, 26, 33, 35])
def test_sandwich_sums_that_can_be(value):
    assert sandwich(value).broken(row_setting(), {}) == []


def test_sandwich_of_26_needs_four_digits():
    """At least 5, 6, 7, 8 (common practice, no source)."""
    assert sandwich(26).broken(row_setting(), row(1, 0, 0, 0, 9)) != []
    assert sandwich(26).broken(row_setting(), row(1, 0, 0, 0, 0, 9)) == []
    assert sandwich(26).broken(row_setting(), row(1, 5, 7, 6, 8, 9)) == []
    assert sandwich(26).broken(row_setting(), row(1, 4, 0, 0, 0, 9)) != []


def test_sandwich_of_7():
    """7 alone, 2 and 5, or 3 and 4 (common practice, no source)."""
    found = {
        frozenset(inner)
        for length in (1, 2, 3)
        for inner in permutations(range(2, 9), length)
        if sandwich(7).broken(row_setting(), row(1, *inner, 9)) == []
    }
    assert found == {frozenset({7}), frozenset({2, 5}), frozenset({3, 4})}


def test_wrapped_sandwich_of_0_has_the_9_after_the_1():
    """Common practice, no source."""
    rule = sandwich(0, wrap=True)
    assert rule.broken(row_setting(), row(9, 2, 3, 4, 5, 6, 7, 8, 1)) == []
    assert rule.broken(row_setting(), row(2, 1, 9, 4, 5, 6, 7, 8, 3)) == []
    assert rule.broken(row_setting(), row(2, 9, 1, 4, 5, 6, 7, 8, 3)) != []


def test_forward_sums_of_a_wrapped_sandwich_make_35():
    """From the 1 to the 9 and on from the 9 to the 1 (common practice, no source): reversing the row swaps the two."""
    line = (4, 1, 8, 3, 9, 2, 6, 7, 5)
    assert sandwich(11, wrap=True).broken(row_setting(), row(*line)) == []
    assert sandwich(24, wrap=True).broken(row_setting(), row(*reversed(line))) == []


def test_wording_of_a_wrapped_sandwich():
    setting = Setting(Grid(rows=9, columns=9, digits=NINE), (Rows(),))
    filled = {Cell(2, column): digit for column, digit in enumerate((4, 7, 9, 2, 3, 5, 6, 1, 8), 1)}
    rule = kind_named("sandwich")(side="left", index=2, value=22, wrap=True)
    assert rule.broken(setting, filled) == [
        "left clue 22 of row 2, from the 1 rightwards round the edge to the 9: 8 + 4 + 7 = 19"
    ]


def test_skyscraper_rows_of_4_seen_twice_from_both_ends():
    """Khovanova & Lewis, J. Integer Sequences 16 (2013) 13.7.2."""
    left, right = (kind_named("skyscraper")(side=side, index=1, value=2) for side in ("left", "right"))
    setting = row_setting(4)
    found = [
        "".join(map(str, line))
        for line in permutations(range(1, 5))
        if left.broken(setting, row(*line)) == right.broken(setting, row(*line)) == []
    ]
    assert found == ["1423", "2143", "2413", "3142", "3241", "3412"]


def test_skyscraper_rows_of_6():
    """Stirling numbers of the first kind, OEIS A132393; Abramowitz & Stegun pp. 833-834."""
    setting = row_setting(6)
    rules = [kind_named("skyscraper")(side="left", index=1, value=value) for value in range(1, 7)]
    counts = [sum(rule.broken(setting, row(*p)) == [] for p in permutations(range(1, 7))) for rule in rules]
    assert counts == [120, 274, 225, 85, 15, 1]


def test_thermometers_of_n_cells():
    """C(9, n): binomial coefficients."""
    setting = row_setting()
    for length in (2, 3):
        rule = kind_named("thermometer")(path=path(length))
        assert sum(rule.broken(setting, row(*p)) == [] for p in product(NINE, repeat=length)) == comb(9, length)


@pytest.mark.parametrize("length", range(2, 10))
def test_room_on_a_thermometer(length):
    """The k-th of n cells is at least k and at most 9 - n + k (common practice, no source)."""
    setting, rule = row_setting(), kind_named("thermometer")(path=path(length))
    for k in range(1, length + 1):
        left = [d for d in NINE if rule.broken(setting, {Cell(1, k): d}) == []]
        assert left == list(range(k, 9 - length + k + 1))


def test_gap_lines_with_repeats():
    """9, 20, 60, 170: computed, no source."""
    setting = row_setting()
    counts = []
    for length in (2, 3, 4):
        rule = kind_named("gap-line")(path=path(length), gap=5)
        counts.append(sum(rule.broken(setting, row(*p)) == [] for p in product(NINE, repeat=length)))
    assert counts == [20, 60, 170]


def test_rows_of_8_with_neighbours_2_apart():
    """OEIS A002464, whose term for 9 is 47,622 (reproduced); its term for 8, 5,242, from memory."""
    rule = kind_named("neighbours-not-consecutive")()
    setting = row_setting(8)
    assert sum(rule.broken(setting, row(*p)) == [] for p in permutations(range(1, 9))) == 5242


def test_sums_of_three_different_digits():
    """6 to 24, by 1,1,2,3,4,5,7,7,8,8,8,7,7,5,4,3,2,1,1 sets: reproduced, no source."""
    sets = Counter(sum(three) for three in permutations(NINE, 3))
    assert [sets[total] // 6 for total in range(6, 25)] == [1, 1, 2, 3, 4, 5, 7, 7, 8, 8, 8, 7, 7, 5, 4, 3, 2, 1, 1]
    assert sums_of(3, NINE, True) == set(sets)
    cages = [kind_named("cage")(cells=path(3), value=value) for value in range(30)]
    assert [c.value for c in cages if c.broken(row_setting(), {}) == []] == list(range(6, 25))


def test_sums_of_nine_digits():
    """Every sum from 0 to 45 is one of some subset of 1 to 9: OEIS A053632, row 9, has no zero."""
    assert set().union(*(sums_of(count, NINE, True) for count in range(10))) == set(range(46))
