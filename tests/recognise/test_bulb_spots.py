"""Spots in the middle of bulbs are part of their drawing; anything else that stands there is asked about."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.doubt.bulb_spots import without_bulb_spots
from recognise.evidence import Trace
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

RASTER = Raster(4, 4, 64, 64)
BULBS = (Cell(1, 1), Cell(2, 3), Cell(4, 1))


def _lines() -> list[Trace]:
    ends = [(bulb, Cell(bulb.row, bulb.column + 1)) for bulb in BULBS]
    return [Trace(nodes, ((0, 1),), (90, 90, 90), 0.3, True, "shape", discs=((0, 0.38),)) for nodes in ends]


def _asked(*drawn: str) -> set[Cell]:
    """The bulbs that are still asked about, all of them, where a spot, a figure or nothing is drawn in each."""
    size = RASTER.origin * 2 + 4 * RASTER.cell
    picture = np.full((size, size), 230, np.uint8)
    for bulb, what in zip(BULBS, drawn, strict=True):
        x, y = (round(RASTER.at(v)) for v in bulb.centre)
        cv2.circle(picture, (x, y), 24, 60, 2, cv2.LINE_AA)
        if what in ("spot", "light figure", "large spot"):
            cv2.circle(picture, (x, y), 17 if what == "large spot" else 13, 110, cv2.FILLED, cv2.LINE_AA)
        if what == "light figure":
            cv2.putText(picture, "3", (x - 6, y + 7), cv2.FONT_HERSHEY_SIMPLEX, 0.6, 230, 2, cv2.LINE_AA)
        if what.isdigit():
            cv2.putText(picture, what, (x - 9, y + 10), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 110, 3, cv2.LINE_AA)
        if what == "oval":
            cv2.ellipse(picture, (x, y), (9, 14), 0, 0, 360, 110, cv2.FILLED, cv2.LINE_AA)
    ink: Grey = np.asarray(1 - cv2.GaussianBlur(picture, (0, 0), 1.0) / np.float32(230), np.float32)
    where = dict.fromkeys(BULBS, (0.0, 0.0, 1.0, 1.0))
    return set(without_bulb_spots(where, _lines(), ink, RASTER))


def test_spots_of_one_size_in_several_bulbs_are_no_characters() -> None:
    assert _asked("spot", "spot", "spot") == set()
    assert _asked("spot", "spot", "") == {BULBS[2]}


@pytest.mark.parametrize("other", ["0", "6", "8", "1", "oval", "light figure", "large spot"])
def test_what_is_no_such_spot_is_asked_about(other: str) -> None:
    assert _asked("spot", other, "spot") == {BULBS[1]}
    assert _asked(other, other, other) == ({*BULBS} if other != "large spot" else set())


def test_a_spot_in_one_bulb_alone_is_asked_about() -> None:
    assert _asked("spot", "", "") == {*BULBS}
