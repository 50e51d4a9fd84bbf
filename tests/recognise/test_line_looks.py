"""Lines told apart by what all lines of their page look like, and lines that lie on each other."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks.lines import kinds_of
from recognise.marks.network import BY_NAME
from recognise.marks.spoken import Spoken
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke, measure
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import CELL, Sheet, changed, linked, looked_at, sure

DARK, PALE, PURPLE, BLUE = (165, 165, 165), (178, 178, 178), (160, 110, 160), (60, 90, 190)
WIDE, NARROW = 0.2, 0.08


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _paths(evidence: Evidence) -> set[frozenset[str]]:
    return {frozenset(map(str, trace.nodes)) for trace in evidence.traces}


def _cells(*lines: str) -> set[frozenset[str]]:
    return {frozenset(line.split()) for line in lines}


def _seen(glyphs: GlyphReader, *lines: tuple[str, tuple[int, int, int], float]) -> Evidence:
    """Lines as they are drawn one on another."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells, colour, width in lines:
        sheet.path(linked(labels, cells, Link.LINE), colour, width)
    return looked_at(sheet, sure(labels), glyphs)


BENT, ENDING = "r1c2 r2c2 r2c3 r3c3", "r2c2 r2c1 r3c1 r4c1"


@pytest.mark.parametrize(("shade", "told"), [(PALE, True), (DARK, False)], ids=["two looks", "one look"])
def test_a_line_goes_on_past_the_end_of_one_that_looks_otherwise(
    glyphs: GlyphReader, shade: tuple[int, int, int], told: bool
) -> None:
    narrow = NARROW if told else 0.12
    evidence = _seen(glyphs, (BENT, DARK, 0.12), (ENDING, shade, narrow))
    assert (_paths(evidence) == _cells(BENT, ENDING)) == told
    assert any(trace.ambiguous for trace in evidence.traces) != told


@pytest.mark.parametrize(("shade", "one"), [(PALE, False), (DARK, True)], ids=["two looks", "one look"])
def test_lines_of_two_looks_that_end_in_one_cell_are_two(
    glyphs: GlyphReader, shade: tuple[int, int, int], one: bool
) -> None:
    evidence = _seen(glyphs, (BENT, DARK, 0.12), ("r3c3 r4c3 r4c2 r4c1 r5c1", shade, 0.12 if one else NARROW))
    assert len(evidence.traces) == 2
    assert all(any(slip.first == slip.second for slip in trace.slips) == one for trace in evidence.traces)


UNDER, OVER = "r1c1 r2c1 r3c1 r3c2 r3c3 r3c4 r3c5", "r1c3 r2c3 r3c3 r3c4 r4c4 r5c4 r6c4"


def test_a_narrow_line_that_lies_on_a_wide_one_for_a_step_is_part_of_both(glyphs: GlyphReader) -> None:
    evidence = _seen(glyphs, (UNDER, PALE, WIDE), (OVER, PURPLE, NARROW))
    assert _paths(evidence) == _cells(UNDER, OVER)
    widths = {str(trace.nodes[0]): trace.width for trace in evidence.traces}
    assert widths["r1c1"] > 1.5 * widths["r1c3"]


@pytest.mark.parametrize("ends", [False, True], ids=["goes on", "ends there"])
def test_a_dotted_line_that_lies_on_a_wide_one_for_a_step_is_part_of_both(glyphs: GlyphReader, ends: bool) -> None:
    wide = UNDER.removesuffix(" r3c5") if ends else UNDER
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, wide, Link.LINE), PALE, WIDE)
    for one, other in pairwise(linked(labels, OVER, Link.LINE)):
        sheet.dashes(one.centre, other.centre, BLUE, NARROW, 0.4)
    assert _paths(looked_at(sheet, sure(labels), glyphs)) == _cells(wide, OVER)


def test_dashes_that_are_not_much_darker_than_the_wide_line_under_them_are_seen_on_it(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, UNDER, Link.LINE), (190, 190, 190), WIDE)
    for one, other in pairwise(linked(labels, OVER, Link.LINE)):
        sheet.dashes(one.centre, other.centre, (154, 154, 154), NARROW, 0.4)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert _paths(evidence) == _cells(UNDER, OVER)
    assert not any(trace.ambiguous for trace in evidence.traces)


def test_a_narrow_line_that_ends_where_it_meets_a_wide_one_does_not_lie_on_it(glyphs: GlyphReader) -> None:
    meeting = "r1c3 r2c3 r3c3", "r3c4 r4c4 r5c4 r6c4"
    evidence = _seen(glyphs, *((line, PURPLE, NARROW) for line in meeting), (UNDER, PALE, WIDE))
    assert _paths(evidence) == _cells(UNDER, *meeting)


def test_a_wide_step_between_the_ends_of_lines_of_two_looks_is_a_line_of_its_own(glyphs: GlyphReader) -> None:
    pale = "r1c3 r2c3 r3c3", "r3c4 r4c4 r5c4", "r1c1 r2c1 r3c1 r4c1"
    purple = "r5c1 r4c2 r3c3", "r3c4 r2c5 r1c5", "r6c1 r6c2 r6c3 r6c4"
    lines = [(line, PALE, WIDE) for line in pale] + [(line, PURPLE, NARROW) for line in purple]
    evidence = _seen(glyphs, *lines, ("r3c3 r3c4", PURPLE, WIDE))
    assert len(evidence.traces) == 7
    assert _paths(evidence) == _cells(*pale, *purple, "r3c3 r3c4")


def test_a_narrow_line_that_stops_at_a_wide_one_and_is_there_again_lies_under_it(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, OVER, Link.LINE), PURPLE, NARROW)
    sheet.path(linked(labels, UNDER, Link.LINE), PALE, WIDE)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert _paths(evidence) == _cells(UNDER, OVER)
    (hidden,) = (trace for trace in evidence.traces if str(trace.nodes[0]) == "r1c3")
    assert "perhaps r3c3 and r3c4 are not joined" in hidden.ambiguous


TUBE = Stroke(0.45, (0.87, 0.87, 0.87), 0.13, 1.0, outlined=False, dashed=False, spread=0.47)


@pytest.mark.parametrize(
    ("crossed", "other"),
    [
        (replace(TUBE, width=0.17, spread=0.48), False),  # along the middle of it runs a darker hairline
        (replace(TUBE, width=0.17, spread=0.2), True),
        (replace(TUBE, width=0.17, shade=(0.8, 0.8, 0.8)), True),
    ],
    ids=["a hairline on it", "a narrow line", "a narrow line on it"],
)
def test_a_wide_step_that_a_hairline_crosses_is_no_narrower(crossed: Stroke, other: bool) -> None:
    told = {"LINE": 0.01, "SHAFT": 0.0, "TUBE": 0.98}
    one, two = (Step(Cell(3, 3), Cell(3, column), told, stroke) for column, stroke in ((4, TUBE), (2, crossed)))
    assert one.clashes(two) == other


@pytest.mark.parametrize(("look", "kind"), [(1, "SHAFT"), (0, "LINE")], ids=["two looks", "one look"])
def test_lines_of_another_look_say_nothing_of_the_kind_of_one(look: int, kind: str) -> None:
    """On grey paper the colours of lines and arrows may be near to each other."""
    line, shaft = ({"LINE": told, "SHAFT": 1 - told, "TUBE": 0.0} for told in (0.95, 0.2))
    pale, dark = (replace(TUBE, width=0.1, shade=(grey, grey, grey)) for grey in (0.89, 0.75))
    lines = [[Step(Cell(row, 1), Cell(row, 2), line, pale, 0)] for row in (1, 2, 3)]
    arrow = [Step(Cell(5, 1), Cell(5, 2), shaft, dark, look)]
    spoken = Spoken(links=frozenset({"LINE", "SHAFT"}), by_colour=True)
    place = 0, BY_NAME["node"].classes.index("HEAD"), 5, 2
    chances = changed(sure(Labels.empty(6, 6)), "node", place, 0.94)
    assert kinds_of([*lines, arrow], chances, spoken)[-1][0] == kind


@pytest.mark.parametrize(("bulbs", "kind"), [(3, "LINE"), (2, "TUBE")], ids=["all tubes", "not all"])
def test_wide_lines_without_bulbs_are_no_tubes_where_those_of_another_look_have_them(bulbs: int, kind: str) -> None:
    """A digit at the end of one of them passed for its bulb."""
    wide = [
        [Step(Cell(row, 1), Cell(row, 2), {"LINE": 0.001, "SHAFT": 0.0, "TUBE": 0.98}, TUBE, 0)] for row in (1, 2, 3)
    ]
    outlined = replace(TUBE, outlined=True, shade=(0.4, 0.5, 0.7))
    tubes = [
        [Step(Cell(row, 4), Cell(row, 5), {"LINE": 0.001, "SHAFT": 0.0, "TUBE": 0.98}, outlined, 1)]
        for row in (1, 2, 3)
    ]
    chances = sure(Labels.empty(6, 6))
    seen = {(1, 2): 0.95, (2, 2): 0.3} | {(row, 4): 0.95 for row in range(1, bulbs + 1)}
    for place, bulb in seen.items():
        chances = changed(chances, "node", (0, BY_NAME["node"].classes.index("BULB"), *place), bulb)
    kinds = kinds_of([*wide, *tubes], chances, Spoken(links=frozenset({"LINE", "TUBE"}), by_colour=True))
    assert {told for told, _ in kinds[:3]} == {kind}
    assert {told for told, _ in kinds[3:]} == {"TUBE"}


def _hollow(sheet: Sheet, path: list[Cell], colour: tuple[int, int, int], width: float) -> None:
    """A line drawn as an outline."""
    for drawn, wide in ((colour, width), ((255, 255, 255), width - 0.14)):
        sheet.path(path, drawn, wide)


def test_an_outline_and_a_line_that_fills_it_for_a_step_are_two_though_of_one_colour(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _hollow(sheet, linked(labels, UNDER, Link.LINE), DARK, 0.34)
    sheet.path(linked(labels, OVER, Link.LINE), DARK, 0.22)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert _paths(evidence) == _cells(UNDER, OVER)
    assert {str(trace.nodes[0]): trace.outlined for trace in evidence.traces} == {"r1c1": True, "r1c3": False}


@pytest.mark.parametrize(("off", "outlined"), [(0, True), (4, True), (6, False)], ids=["there", "beside", "too far"])
def test_an_outline_that_lies_beside_its_place_is_one_too(off: int, outlined: bool) -> None:
    raster = Raster(6, 6, CELL, CELL)
    ink = np.zeros((8 * CELL, 8 * CELL), np.float32)
    middle = round(1.5 * CELL) + off
    ink[middle - 9 : middle - 4] = ink[middle + 4 : middle + 9] = 0.4
    relative = np.repeat((1 - ink)[..., None], 3, axis=2)
    stroke = measure((Cell(1, 2), Cell(1, 3)), (0.2, 0.8), ink, relative, raster, 0.05)
    assert stroke.outlined == outlined
    assert not outlined or stroke.width == pytest.approx(18 / CELL, abs=1.5 / CELL)
