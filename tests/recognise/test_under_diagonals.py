"""A printed diagonal hides the line that it runs along: both are told apart once it is taken out."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Flat
from recognise.glyphs import GlyphReader
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.read import MarkReader
from recognise.pixels.read import read_stages
from schema.cells import Cell
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, changed, linked, sure

GREY, DARK, RED = (205, 205, 205), (120, 120, 120), (220, 60, 40)
SHORT, LONG = "r2c3 r2c2", "r2c3 r2c2 r3c3"
UNDER = 1, BY_NAME["link"].classes.index("NONE"), 2, 2
"""Where the chance stands that nothing links r2c2 and r3c3."""


class TwoLooks:
    """A lattice reader that says one thing where the picture has its diagonal, and another where it has none."""

    def __init__(self, on: Chances, without: Chances) -> None:
        self._on, self._without = on, without

    def look(self, flat: Flat) -> Chances:
        x, y = (round((place + MARGIN) * CELL) for place in (4.75, 4.75))
        return self._on if flat.image[y, x].max() < 200 else self._without


def _chances(way: str) -> Chances:
    labels = Labels.empty(6, 6)
    linked(labels, way, Link.LINE)
    for n in range(1, 7):
        labels.node[n, n] |= Node.DOWN
    return sure(labels)


@cache
def _glyphs() -> GlyphReader:
    return GlyphReader()


def _read(sheet: Sheet, on: Chances, without: Chances):
    return read_stages(sheet.flat, None, _glyphs(), MarkReader(_glyphs(), TwoLooks(on, without)))[0]


def _sheet(way: str, width: float = 0.3) -> Sheet:
    """A wide line under a diagonal from corner to corner, with a circle on a corner of both."""
    sheet = Sheet()
    sheet.path(list(map(Cell.parse, way.split())), GREY, width)
    sheet.line((0, 0), (6, 6), DARK, 0.04)
    sheet.circle((2, 2), 0.2, (255, 255, 255), 0)
    sheet.circle((2, 2), 0.2, DARK, 0.03)
    return sheet


def test_a_line_under_a_diagonal_is_read_whole_and_in_its_own_look() -> None:
    """With the diagonal the network takes the step along it for none."""
    (trace,) = _read(_sheet(LONG), _chances(SHORT), _chances(LONG)).traces
    assert set(map(str, trace.nodes)) == set(LONG.split())
    assert trace.width == pytest.approx(0.3, abs=0.05)
    assert np.abs(np.array(trace.colour) - GREY).max() < 20


def test_what_no_look_sees_is_none() -> None:
    (trace,) = _read(_sheet(SHORT), _chances(SHORT), _chances(SHORT)).traces
    assert set(map(str, trace.nodes)) == set(SHORT.split())


@pytest.mark.parametrize(
    ("over", "circle", "asked"),
    [(None, 0.2, False), (None, 0.35, False), (RED, 0.2, True)],
    ids=["bare", "but for half of a tube and a large circle", "with another colour on it"],
)
def test_a_step_in_doubt_is_none_where_nothing_lies_under_or_on_the_diagonal(
    over: tuple[int, int, int] | None, circle: float, asked: bool
) -> None:
    """A tube over the diagonal takes as much of its step as it is wide, and a circle on the corner the middle."""
    sheet = _sheet(SHORT)
    if circle > 0.2:
        sheet.path(list(map(Cell.parse, SHORT.split())), GREY, 0.4)
        sheet.circle((2, 2), circle, (255, 255, 255), 0)
        sheet.circle((2, 2), circle, DARK, 0.03)
    if over:
        sheet.path([Cell(2, 2), Cell(3, 3)], over, 0.04)
    doubt = changed(_chances(SHORT), "link", UNDER, 0.6)
    doubt = changed(doubt, "link", (1, BY_NAME["link"].classes.index("LINE"), 2, 2), 0.4)
    seen = _read(sheet, doubt, _chances(SHORT))
    step = {Cell(2, 2), Cell(3, 3)}
    chances = [slip.chance for trace in seen.traces for slip in trace.slips if {slip.first, slip.second} == step]
    assert (max(chances) > 0.1) == asked
