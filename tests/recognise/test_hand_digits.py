"""The network for handwritten digits, and how it is put together with the one for print."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Guess
from recognise.hand.digits import HandReader, both, squares
from recognise.hand.strokes import Thing
from schema.cells import Cell

STROKES = {
    1: [[(0.3, 0.35), (0.55, 0.0), (0.55, 1.0)]],
    3: [[(0.1, 0.1), (0.5, 0.0), (0.8, 0.2), (0.4, 0.48), (0.85, 0.75), (0.5, 1.0), (0.1, 0.9)]],
    4: [[(0.45, 0.0), (0.05, 0.65), (0.9, 0.65)], [(0.65, 0.35), (0.65, 1.0)]],
    7: [[(0.1, 0.05), (0.85, 0.0), (0.35, 1.0)], [(0.25, 0.5), (0.75, 0.5)]],
}
"""Digits as a hand draws them, in a box of one by one; the 7 has its bar."""


def _thing(digit: int, slant: float = 0.0) -> Thing:
    high, rim = 36, 4
    crop = np.full((high + 2 * rim, high + 2 * rim), 255, np.uint8)
    for stroke in STROKES[digit]:
        points = [(rim + high * (0.8 * x + slant * (0.5 - y)), rim + high * y) for x, y in stroke]
        cv2.polylines(crop, [np.rint(points).astype(np.int32)], False, 0, 4, cv2.LINE_AA)
    ys, xs = np.nonzero(crop < 128)
    inner = int(xs.min()), int(ys.min()), int(xs.max()) + 1, int(ys.max()) + 1
    return Thing(Cell(1, 1), (0.2, 0.2, 0.8, 0.8), np.zeros(9), np.zeros(4), crop, inner)


@pytest.mark.parametrize("slant", [0.0, 0.2])
def test_digits_as_a_hand_draws_them_are_read(slant: float) -> None:
    read = HandReader().read([_thing(digit, slant) for digit in STROKES])
    assert (read.argmax(axis=1) + 1).tolist() == list(STROKES)
    assert np.allclose(read.sum(axis=1), 1)


def test_nothing_to_read() -> None:
    assert HandReader().read([]).shape == (0, 9)


def test_a_digit_keeps_its_proportions() -> None:
    tall = squares(np.ones((40, 10), np.float32))
    assert tall.shape == (8, 8)
    assert tall.sum() == 16
    assert not squares(np.zeros((5, 5), np.float32)).any()


def _says(digit: int, share: float) -> np.ndarray:
    rest = (1 - share) / 8
    return np.array([share if n == digit else rest for n in range(1, 10)])


def test_what_neither_is_sure_of_both_may_be_together() -> None:
    best = both((Guess("7", 0.5), Guess("1", 0.45)), _says(1, 0.8))[0]
    assert best.text == "1"
    assert best.probability > 0.8


def test_a_digit_that_is_none_in_print_is_read_by_the_hand_alone() -> None:
    assert both((Guess("", 0.99), Guess("4", 0.005)), _says(4, 0.97))[0].text == "4"


def test_what_neither_knows_is_none() -> None:
    assert both((Guess("", 0.99),), _says(5, 0.2))[0].text == ""


def test_readers_that_see_the_same_picture_do_not_make_each_other_sure() -> None:
    best = both((Guess("7", 0.9), Guess("1", 0.1)), _says(7, 0.9))[0]
    alone = 0.9 * 0.9 / (0.9 * 0.9 + 0.1 * 0.1 / 8 + 7 * 0.01 * 0.1 / 8)
    assert 0.9 < best.probability < alone - 0.01
