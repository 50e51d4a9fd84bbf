"""Shade and paper are sifted from what the reader looks at, never from what the guard looks at."""

import cv2
import numpy as np
import pytest

from recognise.doubt.ink import unexplained_ink
from recognise.evidence import Flat
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink

CELL, MARGIN, SIZE = 64, 3.0, 9


def _noisy_page(mark: int | None) -> Flat:
    side = round((SIZE + 2 * MARGIN) * CELL)
    image = np.full((side, side, 3), 225, np.uint8)
    first, last = round(MARGIN * CELL), round((MARGIN + SIZE) * CELL)
    for k in range(SIZE + 1):
        at = first + k * CELL
        cv2.line(image, (first, at), (last, at), (40, 40, 40), 3 if k % 3 else 6)
        cv2.line(image, (at, first), (at, last), (40, 40, 40), 3 if k % 3 else 6)
    if mark is not None:
        centre = (round((MARGIN + 4.5) * CELL), round((MARGIN + 2.5) * CELL))
        cv2.circle(image, centre, round(0.25 * CELL), (mark, mark, mark), -1)
    noise = np.random.default_rng(5).normal(0, 8, image.shape[:2])[..., None]
    soft = cv2.GaussianBlur(image.astype(np.float32) + noise, (0, 0), 1.0)
    maps = np.zeros((side, side), np.float32)
    return Flat(np.clip(soft, 0, 255).astype(np.uint8), SIZE, SIZE, CELL, MARGIN, maps, maps)


@pytest.mark.parametrize("grey", [60, 120, 170])
def test_a_mark_on_noisy_paper_is_never_sifted_from_the_guards_view(grey: int) -> None:
    flat = _noisy_page(grey)
    ink = measure_ink(flat, measure_ground(flat))
    found = unexplained_ink(ink.level, ink.floor, flat, ())
    assert any(x0 < 4.5 < x1 and y0 < 2.5 < y1 for x0, y0, x1, y1 in found)


def test_what_the_reader_sees_is_part_of_what_the_guard_sees() -> None:
    flat = _noisy_page(170)
    ink = measure_ink(flat, measure_ground(flat))
    assert ink.drawn is not ink.unsifted
    assert (ink.drawn <= ink.unsifted + 1e-6).all()
    assert (ink.unsifted > ink.floor).sum() >= (ink.drawn > ink.floor).sum()
