"""Wide lines that one look alone sees: print of the other side, or lines that the network is in doubt of."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.glyphs import GlyphReader
from recognise.marks.agree import agreed, faded, seen_alone
from recognise.marks.network import BY_NAME
from recognise.marks.strokes import Stroke
from recognise.marks.traces import Lines, _width
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure
from tests.recognise.evidence_maker import trace

PLAIN, PALE = (234, 188, 162), (237, 235, 237)


@pytest.mark.parametrize(
    ("colour", "chance", "shown"),
    [(PALE, 0.05, True), (PALE, 0.7, False), (PLAIN, 0.05, False)],
    ids=["pale and likely none", "pale", "likely none"],
)
def test_what_is_far_paler_than_the_lines_of_its_page_and_likely_none_shows_through(
    colour: tuple[int, int, int], chance: float, shown: bool
) -> None:
    labels = Labels.empty(6, 6)
    linked(labels, "r1c1 r1c2 r1c3", Link.LINE)
    told = sure(labels)
    for name, likely in (("LINE", chance), ("NONE", 1 - chance)):
        told = changed(told, "link", (0, BY_NAME["link"].classes.index(name), 5, 2), likely)
    plain, other = trace("r1c1 r1c2 r1c3", colour=PLAIN), trace("r5c2 r5c3", colour=colour)
    lines = Lines((plain,), ("LINE",), frozenset(), ())
    alone = seen_alone(lines, [plain, other], told)
    assert alone == [other]
    assert faded(alone, lines.traces, told) == ([other] if shown else [])
    assert faded(alone, (), told) == [], "there is nothing to hold it against"
    assert [found.nodes for found in agreed(lines, [plain, other], told)] == [plain.nodes, other.nodes]


def test_a_step_without_any_ink_is_none_where_the_network_is_fairly_sure() -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3 r2c4 r3c5", Link.LINE)[:3], (90, 90, 90), 0.08)
    told = sure(labels)
    for name, likely in (("LINE", 0.96), ("NONE", 0.04)):
        told = changed(told, "link", (1, BY_NAME["link"].classes.index(name), 2, 4), likely)
    found = looked_at(sheet, told, GlyphReader())
    assert [trace.nodes for trace in found.traces] == [tuple(map(Cell.parse, ("r2c2", "r2c3", "r2c4")))]
    assert "perhaps a line joins r2c4 and r3c5" in found.notes


@pytest.mark.parametrize(
    ("links", "width", "alone"),
    [("0-1 1-2", 0.1, False), ("0-1 1-2", 0.24, True), ("0-1 1-3", 0.1, True)],
    ids=["the diagonal itself", "wider than it", "beside it"],
)
def test_what_runs_along_a_printed_diagonal_only_is_that(links: str, width: float, alone: bool) -> None:
    labels = Labels.empty(6, 6)
    linked(labels, "r6c1 r6c2", Link.LINE)
    labels.node[range(1, 7), range(1, 7)] |= 1 << BY_NAME["node"].classes.index("DOWN")
    told = sure(labels)
    nodes = "r2c2 r3c3 r4c4 r3c4"
    for one in ((1, 2, 2), (1, 3, 3), (0, 3, 3)):
        told = changed(told, "link", (one[0], BY_NAME["link"].classes.index("TUBE"), *one[1:]), 0.04)
        told = changed(told, "link", (one[0], BY_NAME["link"].classes.index("NONE"), *one[1:]), 0.96)
    other = trace(nodes, links, width=width)
    assert seen_alone(Lines((), (), frozenset(), ()), [other], told) == ([other] if alone else [])


def test_a_step_whose_width_was_not_measured_makes_its_line_no_narrower() -> None:
    measured = Stroke(0.4, (0.8, 0.8, 0.8), 0.2, 1.0, False, False)
    unmeasured = replace(measured, width=0.0)
    assert _width([measured, unmeasured]) == 0.4
    assert _width([unmeasured]) == 0.0
