"""Ink that sticks out of a line within the room of its claim: a character that is printed under the line's end."""

from itertools import pairwise

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.bulges import bulges, own_ends, straight_lines
from recognise.doubt.ink import unexplained_ink
from recognise.draft import box_polygon
from recognise.evidence import Flat, Trace
from recognise.pixels.frame import Raster
from recognise.support import claims
from tests.recognise.evidence_maker import trace

CELL, MARGIN, FLOOR, WIDTH = 64, 1.0, 0.05, 0.16
NONE = np.zeros((8 * CELL, 8 * CELL), np.bool_)
PAPER = np.full((8 * CELL, 8 * CELL, 3), 250, np.uint8)
FLAT = Flat(PAPER, 6, 6, CELL, MARGIN, NONE.astype(np.float32), NONE.astype(np.float32))
LINE = trace("r2c4 r3c3 r4c3 r4c2 r5c1", width=WIDTH)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _line(aside: float = 0.0, ink: float = 1.0, width: float = WIDTH) -> np.ndarray:
    """The ink of the line, drawn so far beside the way on which it is told."""
    level = np.zeros((8 * CELL, 8 * CELL), np.float32)
    points = [_at(cell.centre[0] + aside, cell.centre[1]) for cell in LINE.nodes]
    for start, end in pairwise(points):
        cv2.line(level, start, end, ink, round(width * CELL))
    return cv2.GaussianBlur(level, (0, 0), 0.8)


def _over(level: np.ndarray, text: str, x: float, y: float, height: float, ink: float = 1.0) -> np.ndarray:
    """The same with a character whose middle lies there, in cells."""
    letters = np.zeros(level.shape, np.uint8)
    (wide, high), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, 1.0, 3)
    scale = height * CELL / high
    left, bottom = _at(x - wide * scale / 2 / CELL, y + height / 2)
    cv2.putText(letters, text, (left, bottom), cv2.FONT_HERSHEY_SIMPLEX, scale, 255, 4, cv2.LINE_AA)
    return np.maximum(level, letters.astype(np.float32) * ink / 255)


def _found(level: np.ndarray, line: Trace = LINE, others: tuple[Box, ...] = ()) -> list[Box]:
    claimed = [*claims(line), *map(box_polygon, others)]
    return list(bulges(straight_lines(level, FLOOR, [line], Raster.of(FLAT)), FLAT, claimed, NONE))


@pytest.mark.parametrize("aside", [0.0, 0.03, -0.04])
@pytest.mark.parametrize("width", [0.1, 0.16, 0.24])
def test_a_line_alone_has_no_bulge_wherever_it_lies_in_its_claim(aside: float, width: float) -> None:
    assert _found(_line(aside, width=width)) == []
    assert _found(_line(aside, 0.3, width)) == []


SHARP_BEND = trace("r3c2 r3c4 r2c3", width=0.44, outlined=True)


def test_the_inner_wall_of_a_sharp_bend_is_no_bulge() -> None:
    filled = np.zeros((8 * CELL, 8 * CELL), np.uint8)
    for start, end in pairwise(_at(*cell.centre) for cell in SHARP_BEND.nodes):
        cv2.line(filled, start, end, 1, round(0.4 * CELL))
    walls = cv2.dilate(filled, np.ones((3, 3), np.uint8)) - cv2.erode(filled, np.ones((3, 3), np.uint8))
    level = cv2.GaussianBlur(walls.astype(np.float32), (0, 0), 0.8)
    assert _found(level, SHARP_BEND) == []
    assert _found(_over(level, "3", 2.4, 2.1, 0.5), SHARP_BEND)


@pytest.mark.parametrize(
    ("text", "x", "y", "height"),
    [("9", 3.5, 1.5, 0.5), ("3", 3.5, 1.5, 0.5), ("8", 3.5, 1.5, 0.45), ("6", 2.5, 2.9, 0.5), ("3", 2.5, 2.9, 0.6)],
)
def test_what_a_character_shows_beside_a_line_is_found(text: str, x: float, y: float, height: float) -> None:
    level = _over(_line(), text, x, y, height)
    assert unexplained_ink(level, FLOOR, FLAT, claims(LINE), lattice=NONE) == []
    boxes = _found(level)
    assert boxes
    assert all(abs(v - place) < 0.5 for box in boxes for v, place in zip(box, (x, y, x, y), strict=True))


def test_what_another_mark_claims_is_no_bulge() -> None:
    assert _found(_over(_line(), "9", 3.5, 1.5, 0.5), others=((3.2, 1.2, 3.8, 1.8),)) == []


@pytest.mark.parametrize("gap", [0.0, 0.06])
@pytest.mark.parametrize(("lines", "beyond", "left"), [(3, 0.3, 0), (3, 0.0, 0), (1, 0.3, 0)])
def test_where_all_lines_of_a_page_go_on_into_the_far_half_of_a_cell_that_is_their_ink(
    gap: float, lines: int, beyond: float, left: int
) -> None:
    """Solid lines, and such as are drawn with two strokes and a gap between them."""
    traces = [trace(f"r{row}c2 r{row}c4", width=WIDTH) for row in (1, 3, 5)[:lines]]
    level = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for row in (1, 3, 5)[:lines]:
        ends = _at(1.5 - beyond, row - 0.5), _at(3.5 + beyond, row - 0.5)
        for ink, width in ((1.0, WIDTH), (0.0, gap))[: 2 if gap else 1]:
            cv2.line(level, *ends, ink, round(width * CELL))
    claimed = [polygon for line in traces for polygon in claims(line)]
    claimed += own_ends(straight_lines(level, FLOOR, traces, Raster.of(FLAT)))
    assert len(unexplained_ink(level, FLOOR, FLAT, claimed)) == left


def test_what_stands_behind_the_end_of_one_line_is_not_its_ink() -> None:
    traces = [trace(f"r{row}c2 r{row}c4", width=WIDTH) for row in (1, 3, 5)]
    level = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for row in (1, 3, 5):
        cv2.line(level, _at(1.5, row - 0.5), _at(3.5 + (0.3 if row == 5 else 0), row - 0.5), 1.0, round(WIDTH * CELL))
    claimed = [polygon for line in traces for polygon in claims(line)]
    claimed += own_ends(straight_lines(level, FLOOR, traces, Raster.of(FLAT)))
    assert len(unexplained_ink(level, FLOOR, FLAT, claimed)) == 1


@pytest.mark.parametrize(("before", "behind", "left"), [(0.3, 0.3, 0), (0.3, 0.0, 1), (0.3, 0.2, 1)])
def test_one_line_whose_ends_go_on_equally_far_is_drawn_so(before: float, behind: float, left: int) -> None:
    line = trace("r3c2 r3c4", width=WIDTH)
    level = np.zeros((8 * CELL, 8 * CELL), np.float32)
    cv2.line(level, _at(1.5 - before, 2.5), _at(3.5 + behind, 2.5), 1.0, round(WIDTH * CELL))
    claimed = [*claims(line), *own_ends(straight_lines(level, FLOOR, [line], Raster.of(FLAT)))]
    assert bool(unexplained_ink(level, FLOOR, FLAT, claimed)) == left
