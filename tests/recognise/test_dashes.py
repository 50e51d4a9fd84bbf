"""Dashes are told from characters, and the figures of a total are kept together."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np

from recognise.evidence import Guess
from recognise.pixels.blobs import Blob, whole_pieces
from recognise.pixels.dashes import dashes
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character, standing_in_cells
from tests.recognise.test_pixels import CELL


def _dashed_cage(step: int, dash: int, thick: int) -> np.ndarray:
    """A dashed square whose corners are drawn, with a 12 close to its first corner; 1 is ink."""
    ink = np.zeros((160, 160), np.uint8)
    for at in range(20, 140 - dash, step):
        for first, last in (((at, 20), (at + dash, 20)), ((at, 140), (at + dash, 140))):
            cv2.line(ink, first, last, 1, thick)
            cv2.line(ink, first[::-1], last[::-1], 1, thick)
    cv2.putText(ink, "12", (26, 44), cv2.FONT_HERSHEY_SIMPLEX, 0.45, 1, 1)
    return ink


def _pieces(ink: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    _, labels, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    return labels, stats[:, :4].astype(np.int64)


def test_rows_of_dashes_and_their_corners_are_found_and_the_figures_beside_them_are_not() -> None:
    for step, dash, thick in ((12, 6, 2), (6, 1, 3), (15, 9, 2)):
        labels, boxes = _pieces(_dashed_cage(step, dash, thick))
        chosen = np.arange(1, len(boxes))
        found = dashes(labels, boxes, chosen, CELL)
        left = boxes[np.setdiff1d(chosen, found)]
        figures = [box for box in left if 24 <= box[0] <= 46 and 30 <= box[1] <= 46]
        assert len(figures) == 2, "both figures stay"
        assert len(left) <= 4, "the rest are dashes but for a corner or two where the row does not come out even"


def test_one_dash_or_a_number_of_two_strokes_is_no_row() -> None:
    ink = np.zeros((64, 64), np.uint8)
    ink[20:32, 20:23] = ink[20:32, 27:30] = ink[50:52, 20:30] = 1
    labels, boxes = _pieces(ink)
    assert dashes(labels, boxes, np.arange(1, len(boxes)), CELL).size == 0


def _figure(text: str, x: float, sure: float = 0.999, y: float = 0.15) -> Character:
    guesses = (Guess(text, sure), Guess("", 1 - sure))
    return Character(Blob(0, 0, 1, 1, 1, (1,)), (x, y - 0.07, x + 0.06, y + 0.07), guesses, guesses)


def test_the_first_figure_of_a_total_belongs_to_it_however_near_to_the_line_it_stands() -> None:
    one, nine = _figure("1", 0.04), _figure("9", 0.13)
    assert standing_in_cells([one, nine]) == [one, nine]
    assert standing_in_cells([_figure("1", 0.04, 0.8), nine]) == [nine], "a dash looks like a 1 that is not sure"
    assert standing_in_cells([one]) == []
    plate = replace(_figure("0", 0.98), box=(0.81, 0.0, 1.19, 0.3))
    given = replace(_figure("3", 1.25), box=(1.3, 0.0, 1.6, 0.4))
    assert standing_in_cells([plate, given]) == [given], "a plate on the line is no figure of the given beside it"
    on_edge = [_figure("1", 0.93), _figure("2", 1.01)]
    assert standing_in_cells(on_edge) == []


def test_a_sign_on_a_line_is_not_joined_with_the_figure_below_it() -> None:
    raster = Raster(6, 6, CELL, 3 * CELL)
    x, line = round(3.4 * CELL), 5 * CELL
    sign, figure = Blob(x, line - 8, 14, 16, 60, (1,)), Blob(x, line + 10, 14, 24, 120, (2,))
    bar, rest = Blob(x, line + 10, 14, 3, 42, (3,)), Blob(x, line + 15, 14, 20, 100, (4,))
    assert whole_pieces([sign, figure], raster) == [sign, figure]
    assert len(whole_pieces([bar, rest], raster)) == 1
