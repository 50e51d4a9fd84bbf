"""Bends and heads of lines that pass for characters."""

from dataclasses import replace
from itertools import pairwise

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Glyph, Guess, Shape, Trace
from recognise.marks.diagonals import as_lines
from recognise.marks.of_line import is_dash, is_of_head, is_of_line
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import linked, sure

CELL, FLOOR = 64, 0.05
RASTER = Raster(4, 4, CELL, CELL)
PATH = "r2c1 r2c2 r3c1"
NODES = tuple(map(Cell.parse, PATH.split()))
BEND = Trace(NODES, ((0, 1), (1, 2)), (120, 120, 120), 0.12, False, "shape")
BOX = (1.0, 1.4, 1.6, 2.0)
SEVEN = Glyph(BOX, (Guess("7", 0.99),), BOX[3] - BOX[1], (120, 120, 120), "ocr")


def _labels(*, head: bool = False, character: bool = False) -> Labels:
    labels = Labels.empty(4, 4)
    linked(labels, PATH, Link.SHAFT if head else Link.LINE)
    labels.node[2, 2] |= (Node.CHARACTERS if character else 0) | (Node.HEAD if head else 0)
    return labels


def _ink(*more: tuple[tuple[float, float], tuple[float, float], int]) -> npt.NDArray[np.float32]:
    """The ink of the line, with strokes more: from, to, how dark."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    bent = [(one.centre, other.centre, 120) for one, other in pairwise(NODES)]
    for one, other, dark in (*bent, *more):
        ends = (tuple(round((v + 1) * CELL) for v in at) for at in (one, other))
        cv2.line(ink, *ends, dark, round(0.12 * CELL))
    return np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8))


def _is_line(ink: npt.NDArray[np.float32], labels: Labels, glyph: Glyph = SEVEN, trace: Trace = BEND) -> bool:
    return is_of_line(glyph, [trace], sure(labels), ink, RASTER, FLOOR)


def test_the_bend_of_a_line_is_no_seven() -> None:
    assert _is_line(_ink(), _labels())


@pytest.mark.parametrize(
    "stroke",
    [((1.4, 1.6), (1.4, 1.9), 120), ((1.5, 1.5), (1.3, 1.7), 250)],
    ids=["beside the line", "darker than it"],
)
def test_what_has_ink_that_is_not_the_lines_is_a_character(stroke) -> None:
    assert not _is_line(_ink(stroke), _labels())


def test_what_the_network_sees_as_one_is_a_character() -> None:
    assert not _is_line(_ink(), _labels(character=True))


def test_a_single_stroke_and_what_lies_within_a_tube_may_be_characters() -> None:
    assert not _is_line(_ink(), _labels(), replace(SEVEN, guesses=(Guess("1", 0.99),)))
    assert not _is_line(_ink(), _labels(), trace=replace(BEND, width=0.4))


ARROW = Trace(tuple(map(Cell.parse, ("r2c2", "r2c3"))), ((0, 1),), (0, 0, 0), 0.05, False, "shape", heads=(0,))


@pytest.mark.parametrize(
    ("left", "likely", "character", "is_head"),
    [(0.57, 0.6, False, True), (0.4, 0.6, False, False), (0.57, 0.99, False, False), (0.57, 0.6, True, False)],
    ids=["behind the tip", "in the middle", "plainly read", "seen as a character"],
)
def test_the_head_of_an_arrow_is_no_four(left: float, likely: float, character: bool, is_head: bool) -> None:
    box = (1 + left, 1.3, 1.2 + left, 1.7)
    four = Glyph(box, (Guess("4", likely),), 0.4, (0, 0, 0), "ocr")
    assert is_of_head(four, [ARROW], sure(_labels(head=True, character=character)), RASTER) == is_head


@pytest.mark.parametrize("upright", [False, True], ids=["a dash", "a letter"])
def test_a_dash_of_a_long_diagonal_is_no_letter(upright: bool) -> None:
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    for at in np.arange(0, 4, 0.25):
        start, end = (tuple(round((v + 1) * CELL) for v in (x, x)) for x in (at, at + 0.12))
        cv2.line(ink, start, end, 200, 2)
    if upright:
        cv2.line(ink, *(tuple(round((v + 1) * CELL) for v in (1.76, y)) for y in (1.7, 1.9)), 200, 2)
    letter = Glyph((1.73, 1.73, 1.9, 1.9), (Guess("N", 0.9),), 0.17, (80, 80, 80), "ocr")
    ways = as_lines([Shape("diagonal", (0.0, 0.0, 4.0, 4.0), (0, 0, 0), "shape", direction="down")], 4)
    level = np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8))
    assert is_of_line(letter, ways, sure(Labels.empty(4, 4)), level, RASTER, FLOOR) != upright


WIDE = Trace(tuple(map(Cell.parse, ("r2c1", "r2c2", "r2c3"))), ((0, 1), (1, 2)), (120, 120, 120), 0.25, False, "shape")


def _dashed(*, whole: bool = False, inside: int = 120) -> npt.NDArray[np.float32]:
    """A wide line in dashes, of which the last is a slice, or a whole line; with a stroke inside the first of its
    dashes."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    y0, y1 = (round((1.5 + side * 0.125 + 1) * CELL) for side in (-1, 1))
    for start in np.arange(0.4, 2.5, 0.4):
        length = 0.05 if start > 2 else 0.4 if whole else 0.25
        x0, x1 = (round((at + 1) * CELL) for at in (start, start + length))
        ink[y0:y1, x0:x1] = 120
    ink[y0 + 4 : y1 - 4, round(1.9 * CELL) : round(1.95 * CELL)] = inside
    return np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8))


@pytest.mark.parametrize(
    ("text", "box", "likely"),
    [("4", (0.8, 1.36, 1.06, 1.64), 0.7), ("1", (2.39, 1.36, 2.46, 1.64), 0.8)],
    ids=["a dash", "the last of it"],
)
def test_a_dash_of_a_wide_line_is_no_digit(text: str, box: tuple[float, float, float, float], likely: float) -> None:
    read = Glyph(box, (Guess(text, likely),), box[3] - box[1], (120, 120, 120), "ocr")
    assert _is_line(_dashed(), _labels(), read, WIDE)
    assert not _is_line(_dashed(whole=True), _labels(), read, WIDE), "within a wide line digits are printed"
    assert not _is_line(_dashed(), _labels(), replace(read, guesses=(Guess(text, 0.96),)), WIDE)


@pytest.mark.parametrize(
    ("text", "box", "inside"),
    [("7", (0.86, 1.4, 0.99, 1.6), 250), ("1", (2.39, 1.42, 2.46, 1.58), 120)],
    ids=["darker than it", "less tall than it"],
)
def test_what_is_more_than_a_dash_is_none(text: str, box: tuple[float, float, float, float], inside: int) -> None:
    read = Glyph(box, (Guess(text, 0.8),), box[3] - box[1], (120, 120, 120), "ocr")
    assert not is_dash(read, [WIDE], _dashed(inside=inside), RASTER, FLOOR)


@pytest.mark.parametrize(("gaps", "likely", "dash"), [(True, 0.8, True), (False, 0.8, False), (True, 0.96, False)])
def test_a_dash_of_a_fine_line_is_no_1(gaps: bool, likely: float, dash: bool) -> None:
    nodes = tuple(map(Cell.parse, ("r1c2", "r2c2", "r3c2")))
    fine = Trace(nodes, ((0, 1), (1, 2)), (120, 120, 120), 0.05, False, "shape")
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    for start in np.arange(0.5, 2.5, 0.25):
        y0, y1 = (round((at + 1) * CELL) for at in (start, start + (0.15 if gaps else 0.25)))
        ink[y0:y1, round(2.48 * CELL) : round(2.52 * CELL)] = 120
    level = np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.6))
    stroke = Glyph((1.48, 1.25, 1.52, 1.4), (Guess("1", likely),), 0.15, (120, 120, 120), "shape")
    assert is_dash(stroke, [fine], level, RASTER, FLOOR) == dash
