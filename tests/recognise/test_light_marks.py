"""Marks lighter than what they stand on: white diagonals, numbers on dark dots, pale cells of a tinted page."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc, Evidence, Flat, Tint
from recognise.interpret.mark import Left
from recognise.interpret.tints import light_cells
from recognise.marks.dark_dots import beside_plain, on_dark
from recognise.marks.looking import Looking
from recognise.marks.spoken import Spoken
from recognise.pixels.frame import Raster
from recognise.pixels.light_diagonals import light_diagonals
from schema.cells import Cell

CELL, MARGIN, SIZE = 64, 3, 9
PIXELS = (SIZE + 2 * MARGIN) * CELL


def page(white: bool, falls: bool) -> Flat:
    """A yellow grid with givens, and a line from corner to corner, white or black."""
    image = np.full((PIXELS, PIXELS, 3), (235, 200, 100), np.uint8)
    low, high = MARGIN * CELL, (MARGIN + SIZE) * CELL
    ends = ((low, low), (high, high)) if falls else ((low, high), (high, low))
    cv2.line(image, *ends, (255, 240, 200) if white else (90, 80, 60), 4)
    for n in range(SIZE + 1):
        at = low + n * CELL
        cv2.line(image, (low, at), (high, at), (40, 30, 60), 2)
        cv2.line(image, (at, low), (at, high), (40, 30, 60), 2)
    for n in (1, 4, 6):
        spot = low + n * CELL + 20, low + n * CELL + 45
        cv2.putText(image, "8", spot, cv2.FONT_HERSHEY_SIMPLEX, 1.2, (20, 20, 20), 3)
    noise = np.random.default_rng(1).normal(0, 4, image.shape)
    image = np.clip(cv2.GaussianBlur(image, (0, 0), 1.2) + noise, 0, 255).astype(np.uint8)
    none = np.zeros((1, 1), np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, none, none)


@pytest.mark.parametrize(("falls", "way"), [(True, "down"), (False, "up")])
def test_a_diagonal_lighter_than_its_ground_is_seen(falls: bool, way: str) -> None:
    flat = page(white=True, falls=falls)
    assert [shape.direction for shape in light_diagonals(flat, Raster.of(flat))] == [way]
    dark = page(white=False, falls=falls)
    assert list(light_diagonals(dark, Raster.of(dark))) == []


def looking(*strokes: tuple[int, int, int, int]) -> Looking:
    """A black dot of a fifth of a cell in the middle of a page, with light strokes on it."""
    relative = np.full((3 * CELL, 3 * CELL, 3), 0.98, np.float32)
    cv2.circle(relative, (96, 96), 13, (0.1, 0.1, 0.12), -1, cv2.LINE_AA)
    for x0, y0, x1, y1 in strokes:
        cv2.line(relative, (x0, y0), (x1, y1), (0.9, 0.9, 0.9), 2, cv2.LINE_AA)
    relative = cv2.GaussianBlur(relative, (0, 0), 1.2)
    ink = 1 - relative.mean(axis=2)
    return Looking(ink, ink, relative, Raster(1, 1, CELL, CELL), 0.05, None)  # type: ignore[arg-type]


def test_light_strokes_on_a_dark_dot_are_told_from_a_plain_one() -> None:
    seven = looking((92, 90, 101, 90), (101, 90, 95, 103))
    ground = seven.written_light((0.5, 0.5), 0.2)
    assert ground is not None
    assert max(ground) < 80  # that of the dot, not of its strokes
    assert looking().written_light((0.5, 0.5), 0.2) is None


@pytest.mark.parametrize(
    ("written", "whole", "strokes"), [(False, True, False), (True, True, True), (False, False, True)]
)
def test_a_small_blurred_dot_has_no_number_where_rules_speak_of_none(written: bool, whole: bool, strokes: bool) -> None:
    """It is lighter to its edge; the network thinks characters possible."""
    blurred = looking()
    blurred = replace(blurred, relative=cv2.GaussianBlur(blurred.relative, (0, 0), 5.5))
    dot = Disc((0.5, 0.5), 0.2, (60, 60, 60), None, "shape", 1.0)
    spoken = Spoken(edges=frozenset({"dark dot"}), written=written, whole=whole)
    assert on_dark(dot, 0.05, blurred, spoken)[2] == strokes


@pytest.mark.parametrize("written", [True, False])
def test_a_plain_number_on_a_dark_dot_counts_where_rules_speak_of_such(written: bool) -> None:
    """The network may overlook it: small light figures are rare."""
    dot = Disc((0.5, 0.5), 0.2, (60, 60, 60), None, "shape", 1.0)
    spoken = Spoken(edges=frozenset({"dark dot"}), written=written)
    seven = looking((92, 90, 101, 90), (101, 90, 95, 103))
    found, text, strokes = on_dark(dot, 0.0, seven, spoken)
    assert (strokes, text > 0.5, found.fill != dot.fill) == (written, written, written)
    assert not on_dark(dot, 0.0, looking(), spoken)[2]


def _dots(*lights: float) -> tuple[Looking, list[Disc]]:
    """Black dots in a row, each with a stroke on it that is so light where it is lightest."""
    relative = np.full((3 * CELL, (len(lights) + 2) * CELL, 3), 0.98, np.float32)
    for at, light in enumerate(lights):
        x = CELL * (at + 1) + CELL // 2
        cv2.circle(relative, (x, 96), 9, (0.1, 0.1, 0.12), -1, cv2.LINE_AA)
        cv2.rectangle(relative, (x - 3, 93), (x - 1, 99), (light, light, light), -1)
    ink = 1 - relative.mean(axis=2)
    places = [(at + 0.5, 0.5) for at in range(len(lights))]
    dots = [Disc(place, 0.14, (60, 60, 60), None, "shape", 1.0) for place in places]
    return Looking(ink, ink, relative, Raster(1, len(lights), CELL, CELL), 0.05, None), dots  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("lights", "numbers"), [((0.12, 0.35, 0.36), {1, 2}), ((0.3, 0.35, 0.36), set()), ((0.12, 0.2), set())]
)
def test_a_number_on_a_dark_dot_shows_beside_the_plain_dots_of_its_page(
    lights: tuple[float, ...], numbers: set[int]
) -> None:
    """By itself none is light enough to be sure of; small blurred dots of one page are all as light."""
    looked, dots = _dots(*lights)
    spoken = Spoken(edges=frozenset({"dark dot"}), written=True, whole=True)
    assert not any(on_dark(dot, 0.0, looked, spoken)[2] for dot in dots)
    assert {dots.index(dot) for dot, _ in beside_plain(dots, looked, spoken)} == numbers
    assert not list(beside_plain(dots, looked, replace(spoken, written=False)))


def test_where_nearly_all_cells_have_one_tint_the_others_are_light() -> None:
    pale = {Cell(4, 4), Cell(4, 5), Cell(5, 4)}
    cells = [Cell(row, column) for row in range(1, 10) for column in range(1, 10)]

    def left(colour: tuple[int, int, int], own: set[Cell]) -> Left:
        tints = tuple(Tint(cell, colour, 1.0) for cell in cells if cell in own)
        return Left.of(Evidence(rows=9, columns=9, tints=tints, edges=None))  # type: ignore[arg-type]

    yellow = left((247, 226, 158), set(cells) - pale)
    assert {tint.cell for tint in light_cells(yellow)} == pale
    boxes = left((247, 226, 158), {cell for cell in cells if ((cell.row - 1) // 3 + (cell.column - 1) // 3) % 2 == 0})
    assert light_cells(boxes) == boxes.tints
