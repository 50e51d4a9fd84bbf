"""A line that runs through the circle in which another ends."""

import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.glyphs import GlyphReader
from recognise.marks.spoken import Spoken
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, linked, looked_at, sure

GREY, PAPER = (150, 150, 150), (255, 255, 255)
RINGED = Spoken(links=frozenset(("LINE",)), ringed=True, ringed_only=True)
THROUGH, ENDING = "r1c3 r2c3 r3c3 r4c3", "r3c3 r3c4 r4c5"
"""Two lines between circles; the first runs through the circle of the second."""


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


@pytest.mark.parametrize("drawn_within", [True, False], ids=["through it", "to its rim"])
def test_ink_within_a_circle_says_which_line_runs_through_it(glyphs: GlyphReader, drawn_within: bool) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    paths = [linked(labels, cells, Link.LINE) for cells in (THROUGH, ENDING)]
    for path in paths:
        sheet.path(path, GREY, 0.06)
    for cell in {path[end] for path in paths for end in (0, -1)}:
        sheet.circle(cell.centre, 0.36, PAPER, 0)
        sheet.circle(cell.centre, 0.36, GREY, 0.04)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    labels.node[3, 3] &= ~Node.END
    if drawn_within:
        sheet.path([Cell(3, 3), Cell(2, 3)], GREY, 0.06)
        sheet.line((2.5, 2.5), (2.5, 3.1), GREY, 0.06)
    found = {frozenset(map(str, trace.nodes)) for trace in looked_at(sheet, sure(labels), glyphs, RINGED).traces}
    apart = {frozenset(THROUGH.split()), frozenset(ENDING.split())}
    assert (found == apart) == drawn_within
