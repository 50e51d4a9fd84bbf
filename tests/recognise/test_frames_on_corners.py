"""Frames on corners that hold digits: where a page sets such, one that is lower than circles of digits is one too; and
capsules."""

from __future__ import annotations

from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.evidence import Fence, Shape
from recognise.marks import text_ink
from recognise.marks.boxed import frame_at
from recognise.marks.looking import Looking
from recognise.marks.places import _as_others, _boxed
from recognise.marks.text_ink import Print, cut_out
from recognise.marks.text_places import in_frame
from recognise.pixels.frame import Raster
from recognise.rules import RuleSheet, Statement
from schema.kinds.cage import Cage
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.evidence_maker import glyph
from tests.recognise.interpreting import BASIC, cells_in, drafted, of_kind

CELL = 64
RASTER = Raster(4, 4, CELL, CELL)
PLACES = [(1.0, 1.0), (2.0, 2.0), (3.0, 1.0)]
LOW = (3.0, 3.0)
HIGH = 0.16
"""In cells: half the height of a capsule."""


def _looking() -> Looking:
    """Three frames with two digits each, and one that is lower."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    for place in (*PLACES, LOW):
        x, y = (round((at + 1) * CELL) for at in place)
        high = round((0.12 if place == LOW else 0.15) * CELL)
        cv2.rectangle(ink, (x - 14, y - high), (x + 14, y + high), 200, 2)
        for side in (-6, 6):
            cv2.circle(ink, (x + side, y), 3, 220, 2)
    whole = cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.6)
    relative = np.repeat(1 - whole[..., None], 3, axis=2)
    return Looking(whole, whole, relative, RASTER, 0.05, None)  # type: ignore[arg-type]


@pytest.mark.parametrize(("frames", "found"), [(3, 4), (2, 2)])
def test_a_low_frame_is_one_on_a_page_that_sets_its_digits_in_frames(frames: int, found: int) -> None:
    looking = _looking()
    boxed = [box for place in PLACES[:frames] if (box := _boxed(place, 0.99, looking))]
    assert len(boxed) == frames
    assert _boxed(LOW, 0.99, looking) is None
    rounds, now = _as_others([(LOW, 0.99, None)], boxed, looking)
    assert (len(rounds), len(now)) == (1 - (found - frames), found)
    assert all(place.frame is not None for _, place in now)


def _capsule(place: tuple[float, float], half: float) -> np.ndarray:
    """The ink of a capsule on a lattice line, in which an 8 stands wherever there is room for one."""
    fine = 4 * CELL
    x, y = (round((at + 1) * fine) for at in place)
    ink = np.zeros((6 * fine, 6 * fine), np.uint8)
    cv2.line(ink, (0, y), (6 * fine, y), 200, 16)
    high = round(HIGH * fine)
    left, right = x - round(half * fine) + high, x + round(half * fine) - high
    cv2.line(ink, (left, y), (right, y), 200, 2 * high)
    cv2.line(ink, (left, y), (right, y), 0, 2 * high - 12)
    for at in np.arange(left, right + 1, 0.22 * fine):
        cv2.putText(ink, "8", (round(at) - 20, y + 24), cv2.FONT_HERSHEY_SIMPLEX, 2.2, 220, 5)
    return cv2.resize(ink, (6 * CELL, 6 * CELL), interpolation=cv2.INTER_AREA).astype(np.float32) / 255


@pytest.mark.parametrize(("place", "half"), [(PLACES[0], 0.45), (LOW, 0.24), (PLACES[2], HIGH)])
def test_a_capsule_is_as_long_as_it_is_drawn_however_close_its_digits_stand(
    place: tuple[float, float], half: float
) -> None:
    """Four digits, two, and the circle of one, which is no capsule."""
    whole = _capsule(place, half)
    relative = np.repeat(1 - whole[..., None], 3, axis=2)
    frame = frame_at(place, Looking(whole, whole, relative, RASTER, 0.05, None))  # type: ignore[arg-type]
    assert (frame is not None) == (half > HIGH)
    if frame is not None:
        drawn = place[0] - half, place[1] - HIGH, place[0] + half, place[1] + HIGH
        assert frame.box == pytest.approx(drawn, abs=0.025)


def test_the_line_of_a_capsule_is_no_character_in_it() -> None:
    whole, (x, y) = _capsule(PLACES[0], 0.45), PLACES[0]
    relative = np.repeat(1 - whole[..., None], 3, axis=2)
    place = in_frame((x - 0.45, y - HIGH, x + 0.45, y + HIGH), (x - 0.45, y - HIGH, x + 0.45, y + HIGH))
    cut = cut_out([place], Print(whole, whole, relative, None, RASTER, 0.05))  # type: ignore[arg-type]
    ends = [
        cut[RASTER.slices((at - 0.04, y + side - 0.04, at + 0.04, y + side + 0.04))]
        for at in (x - 0.42, x + 0.42)
        for side in (-0.12, 0.12)
    ]
    assert max(float(end.max()) for end in ends) < 0.1
    assert cut.max() > 0.6


@pytest.mark.parametrize("around", [0.46, 0.13], ids=["four digits", "one digit"])
def test_digits_in_a_capsule_across_a_corner_are_no_total_of_the_cage_beside_it(around: float) -> None:
    capsule = Shape("mark", (2 - around, 0.83, 2 + around, 1.17), (0, 0, 0), "vector", filled=False)
    places = ((1.7, "4"), (1.89, "5"), (2.11, "6"), (2.3, "8")) if around > 0.2 else ((2.0, "7"),)
    digits = tuple(glyph(x, 1.0, (text, 0.999), size=0.18, how="vector") for x, text in places)
    cage = Fence(cells_in("r2c3 r2c4"), "dashed", (0, 0, 0), "vector")
    sheet = RuleSheet((*BASIC, Statement("cage"), Statement("corner-digits")))
    draft = drafted(sheet, glyphs=digits, shapes=(capsule,), fences=(cage,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [tuple(int(text) for _, text in places)]
    assert [c.value for c in of_kind(draft, Cage)] == [None] and of_kind(draft, UnreadMark) == []


def test_a_figure_that_reaches_from_side_to_side_of_its_box_is_no_line_of_it() -> None:
    whole = np.zeros((6 * CELL, 6 * CELL), np.float32)
    box = (1.8, 1.86, 2.2, 2.14)
    x0, y0, x1, y1 = (round((v + 1) * CELL) for v in box)
    cv2.line(whole, (x0 + 4, y0 - 2), (x0 + 4, y1 + 2), 1.0, 2)
    cv2.line(whole, (x0 + 4, (y0 + y1) // 2), (x0 + 14, (y0 + y1) // 2), 1.0, 2)
    seen = SimpleNamespace(whole=whole, raster=RASTER, floor=0.05)
    kept = text_ink._boxed(box, seen)  # type: ignore[arg-type]
    assert kept[y0:y1, x0:x1][whole[y0:y1, x0:x1] > 0.5].mean() > 0.9
