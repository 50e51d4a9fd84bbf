"""Marks that the press left nearly bare, and what must not pass for them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.doubt.bleached import bleached
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Flat, Words
from recognise.geometry import box_at
from recognise.looking import lattice_reader
from recognise.marks.line_questions import cells_of_faded
from recognise.pixels.frame import Grey
from schema.cells import Cell
from schema.grid import Grid
from tests.recognise.chances_maker import linked, sure

CELL, MARGIN, SIZE = 64, 3, 6
DOT, CORNER = ((3.0, 1.5), 0.14), ((2.0, 4.0), 0.22)
INK = {"": 0.1, "dot": 0.06, "corner": 0.15}
"""The part of its ink that a mark has: the network sees dots that are darker as they are."""
DIGITS = {(0.5, 0.5): "4", (2.5, 2.5): "7", (4.5, 1.5): "2", (1.5, 3.5): "5"}


def _page(pale: str, shown_through: bool = False) -> Flat:
    """A grid with digits and dark dots, and one mark more with a part of its ink."""
    side = (SIZE + 2 * MARGIN) * CELL
    page = np.full((side, side), 0.97, np.float32)
    for at in range(SIZE + 1):
        start, far, width = MARGIN * CELL, (MARGIN + SIZE) * CELL, 4 if at % 3 == 0 else 2
        cv2.line(page, (start + at * CELL, start), (start + at * CELL, far), 0.1, width)
        cv2.line(page, (start, start + at * CELL), (far, start + at * CELL), 0.1, width)
    for place in ((1.0, 4.5), (5.0, 0.5), (3.5, 5.0)):
        cv2.circle(page, _pixel(place), round(DOT[1] * CELL), 0.1, -1, cv2.LINE_AA)
    page -= 0.87 * _digits(page)
    ink = np.zeros_like(page)
    if pale == "dot":
        cv2.circle(ink, _pixel(DOT[0]), round(DOT[1] * CELL), 1.0, -1, cv2.LINE_AA)
    if pale == "corner":
        cv2.circle(ink, _pixel(CORNER[0]), round(CORNER[1] * CELL), 1.0, 2, cv2.LINE_AA)
    if shown_through:
        ink = np.maximum(ink, _digits(page)[:, ::-1])
    page = np.minimum(page, 0.97 - INK[pale] * 0.9 * ink)
    page = cv2.GaussianBlur(page, (0, 0), 0.8) + np.random.default_rng(3).normal(0, 0.004, page.shape)
    none = np.zeros((1, 1), np.float32)
    grey = np.rint(255 * np.clip(page, 0, 1)).astype(np.uint8)
    return Flat(np.repeat(grey[..., None], 3, axis=2), SIZE, SIZE, CELL, MARGIN, none, none)


def _digits(page: Grey) -> Grey:
    """The ink of the digits of a page as large as this one."""
    ink = np.zeros(page.shape, np.uint8)
    for place, digit in DIGITS.items():
        x, y = _pixel(place)
        cv2.putText(ink, digit, (x - 14, y + 16), 0, 1.4, 255, 4, cv2.LINE_AA)
    return np.asarray(ink / 255, np.float32)


def _pixel(place: tuple[float, float]) -> tuple[int, int]:
    return round((place[0] + MARGIN) * CELL), round((place[1] + MARGIN) * CELL)


def _asked(flat: Flat, *doubts: Doubt) -> list[str]:
    relative = np.minimum(flat.image / (0.97 * 255), 1.0).astype(np.float32)
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=tuple(range(1, SIZE + 1))), (), Words(), doubts)
    return [doubt.why for doubt in bleached(flat, relative, draft, lattice_reader().look)]


@cache
def _asked_of(pale: str, shown_through: bool = False) -> list[str]:
    return _asked(_page(pale, shown_through))


@pytest.mark.parametrize(
    ("pale", "words"),
    [
        ("dot", "what looks like signs, dots or characters between r2c3 and r2c4 is hardly printed"),
        ("corner", "what looks like a circle between r4c2, r4c3, r5c2 and r5c3 is hardly printed"),
    ],
)
def test_a_mark_with_next_to_no_ink_is_asked_about(pale: str, words: str) -> None:
    assert _asked_of(pale) == [words]


def test_nothing_is_asked_of_plain_paper_nor_of_what_is_asked_about_already() -> None:
    assert _asked_of("") == []
    known = Doubt("what stands between r2c3 and r2c4 was hard to tell", where=box_polygon(box_at(DOT[0], 0.3)))
    assert _asked(_page("dot"), known) == []


def test_marks_are_not_asked_about_where_the_digits_of_the_other_side_show_as_well() -> None:
    assert _asked_of("dot", shown_through=True) == []


@pytest.mark.parametrize(
    ("lines", "asked"),
    [
        (["r1c1 r1c2 r2c3"], [{"r1c1", "r1c2", "r2c3"}]),
        (["r1c1 r1c2", "r4c4 r5c5"], [{"r1c1", "r1c2"}, {"r4c4", "r5c5"}]),
        (["r1c1 r1c2", "r4c4 r5c5", "r6c1 r6c2", "r3c1 r4c1"], []),
    ],
    ids=["one line", "two", "so many show through"],
)
def test_the_steps_of_a_line_are_one_question_and_many_marks_are_none(
    lines: Sequence[str], asked: list[set[str]]
) -> None:
    bare, labels = Labels.empty(SIZE, SIZE), Labels.empty(SIZE, SIZE)
    for line in lines:
        linked(labels, line, Link.LINE)
    flat = _page("")
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=tuple(range(1, SIZE + 1))), (), Words())
    relative = np.ones(flat.image.shape, np.float32)
    found = bleached(flat, relative, draft, lambda seen: sure(bare if seen is flat else labels))
    assert [cells_of_faded(doubt.why) for doubt in found] == [set(map(Cell.parse, cells)) for cells in asked]
