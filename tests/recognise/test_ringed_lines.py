"""Lines that end in circles: small circles, several lines that meet in them, and what stands beside a thin stroke."""

import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Trace
from recognise.glyphs import GlyphReader
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.strokes import measure
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure

GREY, GREEN, ORANGE, BLACK = (190, 190, 190), (219, 227, 202), (220, 130, 40), (0, 0, 0)
RINGED = Spoken(links=frozenset({"LINE"}), ringed=True, ringed_only=True, circles=False, whole=True)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _ring(sheet: Sheet, labels: Labels, cell: str, radius: float) -> None:
    at = Cell.parse(cell)
    sheet.circle(at.centre, radius, (255, 255, 255), 0)
    sheet.circle(at.centre, radius, GREY, 0.04)
    labels.node[at.row, at.column] |= Node.CIRCLE | Node.OUTLINED


def _traces(glyphs: GlyphReader, sheet: Sheet, chances: Chances, spoken: Spoken = SILENT) -> tuple[Trace, ...]:
    return looked_at(sheet, chances, glyphs, spoken).traces


def test_the_circle_of_a_line_may_be_smaller_than_any_that_marks_a_cell(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3 r2c4", Link.LINE), GREY, 0.1)
    for cell in ("r2c2", "r2c4"):
        _ring(sheet, labels, cell, 0.14)
    (trace,) = _traces(glyphs, sheet, sure(labels))
    assert [radius for _, radius in trace.discs] == [pytest.approx(0.16, abs=0.03)] * 2


def test_lines_that_meet_in_circles_have_them_all(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r2c1 r2c2 r2c3 r3c4 r4c3", "r4c3 r3c2 r2c3", "r4c3 r5c3 r5c4"):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.1)
    for cell in ("r2c1", "r2c3", "r4c3", "r5c4"):
        _ring(sheet, labels, cell, 0.25)
    (trace,) = _traces(glyphs, sheet, sure(labels))
    assert {str(trace.nodes[node]) for node, _ in trace.discs} == {"r2c1", "r2c3", "r4c3", "r5c4"}


def test_a_dot_on_a_step_says_nothing_of_its_colour(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3", Link.LINE), GREY, 0.06)
    sheet.circle((2.0, 1.5), 0.12, BLACK, 0)
    labels.edge[0, 2, 2] = BY_NAME["edge"].classes.index("DARK_DOT")
    (trace,) = _traces(glyphs, sheet, sure(labels))
    assert not trace.dashed
    assert max(abs(value - 190) for value in trace.colour) < 15


def test_circles_to_both_sides_of_a_thin_stroke_are_no_walls_of_it() -> None:
    sheet = Sheet()
    sheet.image[:] = 255
    for middle in ((1.5, 1.5), (2.5, 2.5)):
        sheet.circle(middle, 0.45, ORANGE, 0.05)
    ends = Cell(2, 3), Cell(3, 2)
    sheet.path(ends, GREEN, 0.04)
    ink = np.float32(1 - sheet.image.min(axis=2) / 255)
    stroke = measure(ends, (0.3, 0.7), ink, np.float32(sheet.image / 255), Raster.of(sheet.flat), 0.03)
    assert not stroke.outlined
    assert stroke.width < 0.15
    assert max(abs(255 * a - b) for a, b in zip(stroke.shade, GREEN, strict=True)) < 10


@pytest.mark.parametrize("cells", [(Cell(3, 2), Cell(3, 3)), (Cell(2, 2), Cell(3, 3))])
def test_an_outline_as_narrow_as_a_line_is_drawn_thick_is_hollow(cells: tuple[Cell, Cell]) -> None:
    sheet = Sheet()
    sheet.path(cells, BLACK, 0.19)
    sheet.path(cells, (255, 255, 255), 0.1)
    ink = np.float32(1 - sheet.image.min(axis=2) / 255)
    stroke = measure(cells, (0.2, 0.4), ink, np.float32(sheet.image / 255), Raster.of(sheet.flat), 0.03)
    assert stroke.outlined
    assert stroke.width == pytest.approx(0.19, abs=0.04)


@pytest.mark.parametrize(("grey", "circles"), [(248, 3), (215, 4)])
def test_circles_of_the_other_side_of_the_paper_are_none(grey: int, circles: int, glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cell, shade in (("r1c1", 60), ("r2c4", 60), ("r5c5", 60), ("r4c2", grey)):
        at = Cell.parse(cell)
        sheet.circle(at.centre, 0.35, (shade, shade, shade), 0.06)
        labels.node[at.row, at.column] |= Node.CIRCLE | Node.OUTLINED
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert len(evidence.discs) == circles
    assert any("r4c2 is hardly printed" in note for note in evidence.notes) == (circles == 3)


@pytest.mark.parametrize("digit", [BLACK, (250, 250, 250)])
def test_the_colour_of_a_circle_is_told_beside_a_bold_digit_in_it(digit, glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    colour = (200, 200, 200) if digit == BLACK else (60, 60, 60)
    for column in (2, 4):
        sheet.circle((column - 0.5, 1.5), 0.35, colour, 0)
        sheet.circle((column - 0.5, 1.5), 0.35, BLACK, 0.05)
        labels.node[2, column] |= Node.CIRCLE | Node.OUTLINED | Node.FILLED
    for y in (1.3, 1.5, 1.7):
        sheet.line((1.36, y), (1.64, y), digit, 0.09)
    sheet.line((1.64, 1.3), (1.64, 1.7), digit, 0.09)
    discs = looked_at(sheet, sure(labels), glyphs).discs
    assert len(discs) == 2
    assert all(disc.fill and max(abs(v - colour[0]) for v in disc.fill) < 12 for disc in discs)


@pytest.mark.parametrize(("spoken", "steps"), [(RINGED, 2), (SILENT, 1)])
def test_a_line_reaches_the_only_circle_left_where_all_lines_end_in_circles(
    spoken: Spoken, steps: int, glyphs: GlyphReader
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(list(map(Cell.parse, ("r2c2", "r2c3", "r2c4"))), GREY, 0.1)
    linked(labels, "r2c2 r2c3", Link.LINE)
    for cell in ("r2c2", "r2c4"):
        _ring(sheet, labels, cell, 0.3)
    chances = sure(labels)
    names = BY_NAME["link"].classes
    link = chances.heads["link"].copy()
    link[0, names.index("NONE"), 2, 3], link[0, names.index("LINE"), 2, 3] = 0.9, 0.1
    (trace,) = _traces(glyphs, sheet, Chances(6, 6, chances.heads | {"link": link}), spoken)
    assert len(trace.links) == steps
    if steps == 2:
        assert "perhaps r2c3 and r2c4 are not joined" in trace.ambiguous
        assert not any("also goes" in words for words in trace.ambiguous)


@pytest.mark.parametrize(
    ("spoken", "through", "asked"),
    [(RINGED, "r3c3 r4c3 r5c3", False), (RINGED, "r4c3 r5c3", True), (SILENT, "r3c3 r4c3 r5c3", True)],
    ids=["no line branches", "the rest of another may go on there", "lines may end anywhere"],
)
def test_a_step_out_of_a_circle_that_makes_no_line_is_not_asked_about(
    spoken: Spoken, through: str, asked: bool, glyphs: GlyphReader
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r4c4 r4c5 r4c6", through):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.1)
    for cell in ("r4c4", "r4c6", "r5c3", *(["r3c3"] if through.startswith("r3") else [])):
        _ring(sheet, labels, cell, 0.3)
    sheet.line((2.5, 3.5), (3.2, 3.5), GREY, 0.1)
    chances = sure(labels)
    names = BY_NAME["link"].classes
    link = chances.heads["link"].copy()
    link[0, names.index("NONE"), 4, 3], link[0, names.index("LINE"), 4, 3] = 0.7, 0.3
    traces = _traces(glyphs, sheet, Chances(6, 6, chances.heads | {"link": link}), spoken)
    assert any("also goes from r4c4" in words for trace in traces for words in trace.ambiguous) == asked


def test_a_circle_in_which_another_line_ends_is_none_of_the_line_that_passes_it(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    passing, ending = "r1c3 r2c3 r3c3 r4c3", "r5c1 r4c2 r3c3"
    for cells in (passing, ending):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.1)
    for cell in ("r1c3", "r4c3", "r5c1", "r3c3"):
        _ring(sheet, labels, cell, 0.3)
    at = 0, BY_NAME["node"].classes.index("CIRCLE"), 3, 3
    spoken = Spoken(links=frozenset({"LINE"}), ringed=True, circles=False, whole=True)
    traces = _traces(glyphs, sheet, changed(sure(labels), "node", at, 0.45), spoken)
    rings = {tuple(sorted(str(trace.nodes[node]) for node, _ in trace.discs)) for trace in traces}
    assert rings == {("r1c3", "r4c3"), ("r3c3", "r5c1")}


@pytest.mark.parametrize(("circle", "asked"), [(1.0, False), (0.9, True)])
def test_lines_end_in_a_circle_that_they_share_where_the_rules_know_no_other(
    circle: float, asked: bool, glyphs: GlyphReader
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r2c2 r3c3", "r3c3 r4c4 r5c5"):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.1)
    for cell in ("r1c1", "r3c3", "r5c5"):
        _ring(sheet, labels, cell, 0.3)
    names = BY_NAME["node"].classes
    chances = changed(sure(labels), "node", (0, names.index("END"), 3, 3), 0.89)
    traces = _traces(glyphs, sheet, changed(chances, "node", (0, names.index("CIRCLE"), 3, 3), circle), RINGED)
    assert len(traces) == 2
    assert any(any("another begins" in words for words in trace.ambiguous) for trace in traces) == asked
    assert all(any(slip.first == slip.second for slip in trace.slips) == asked for trace in traces)
