"""Steps of a line that the network hardly sees are drawn where ink shows them between steps that it sees."""

from dataclasses import replace

import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.evidence import Trace
from recognise.glyphs import GlyphReader
from recognise.marks.looks import is_shown
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.steps import Step, other_width
from recognise.marks.strokes import Stroke
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure

BLUE, RED, PAPER = (40, 60, 200), (200, 60, 40), (255, 255, 255)
MIDDLE = 2, 3
"""Row and column of the cell from which the doubtful step goes to the right."""


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _hardly_seen(chances: Chances, drawn: float) -> Chances:
    classes = BY_NAME["link"].classes
    link = chances.heads["link"].copy()
    link[0, :, *MIDDLE] = 0.0
    link[0, classes.index("NONE"), *MIDDLE], link[0, classes.index("LINE"), *MIDDLE] = 1 - drawn, drawn
    return Chances(chances.rows, chances.columns, chances.heads | {"link": link})


def _read(
    glyphs: GlyphReader, colour: tuple[int, int, int], drawn: float, ends: float = 0.0, spoken: Spoken = SILENT
) -> tuple[Trace, ...]:
    """A blue line from r2c2 to r2c5, its middle step in a colour; so likely a line ends on either side of that."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r2c3 r2c4 r2c5", Link.LINE)
    sheet.path(path[1:3], colour, 0.08)
    sheet.path(path[:2], BLUE, 0.08)
    sheet.path(path[2:], BLUE, 0.08)
    chances = _hardly_seen(sure(labels), drawn)
    for cell in path[1:3]:
        at = 0, BY_NAME["node"].classes.index("END"), cell.row, cell.column
        chances = changed(chances, "node", at, ends)
    return looked_at(sheet, chances, glyphs, spoken).traces


PLAIN = Stroke(0.047, (0.3, 0.3, 0.3), 0.7, 1.0, outlined=False, dashed=False)


@pytest.mark.parametrize(("width", "shown"), [(0.031, True), (0.063, True), (0.08, False)])
def test_thin_lines_are_of_one_look_that_are_a_pixel_apart(width: float, shown: bool) -> None:
    """Two or three pixels are one line, and half as many again."""
    one = Step(Cell(1, 1), Cell(1, 2), {}, PLAIN)
    assert is_shown(one, [Step(Cell(1, 2), Cell(1, 3), {}, replace(PLAIN, width=width))]) == shown


def test_widths_say_nothing_of_what_other_marks_hide() -> None:
    wide = replace(PLAIN, width=0.3)
    assert other_width(PLAIN, wide)
    assert not other_width(replace(PLAIN, seen=False), wide)


@pytest.mark.parametrize(("drawn", "ends"), [(0.35, 0.3), (0.1, 0.0)], ids=["in doubt", "unlikely, but none ends"])
def test_a_step_in_doubt_that_ink_shows_is_drawn_and_asked_about(
    glyphs: GlyphReader, drawn: float, ends: float
) -> None:
    (trace,) = _read(glyphs, BLUE, drawn, ends)
    assert len(trace.links) == 3
    assert "perhaps r2c3 and r2c4 are not joined" in trace.ambiguous


@pytest.mark.parametrize(("colour", "drawn"), [(PAPER, 0.35), (RED, 0.35), (BLUE, 0.1)])
def test_no_step_is_drawn_without_ink_of_its_line_or_where_it_is_unlikely(
    glyphs: GlyphReader, colour: tuple[int, int, int], drawn: float
) -> None:
    assert {len(trace.links) for trace in _read(glyphs, colour, drawn, 0.3)} == {1}


@pytest.mark.parametrize(("beside", "links"), [(RED, 2), (PAPER, 1)], ids=["upon a line", "nowhere"])
def test_a_step_in_doubt_that_ink_shows_may_end_upon_a_line_of_another_look(
    glyphs: GlyphReader, beside: tuple[int, int, int], links: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c5 r2c4 r2c3", Link.LINE)
    if beside == RED:
        sheet.path(linked(labels, "r1c3 r2c3 r3c3", Link.LINE), RED, 0.3)
    sheet.path(path, BLUE, 0.08)
    at = 0, BY_NAME["node"].classes.index("END"), path[1].row, path[1].column
    chances = changed(_hardly_seen(sure(labels), 0.35), "node", at, 0.3)
    lines = [trace for trace in looked_at(sheet, chances, glyphs).traces if path[0] in trace.nodes]
    assert [len(trace.links) for trace in lines] == [links]


@pytest.mark.parametrize("as_far", [1.0, 0.2], ids=["all the way", "a dot of them"])
def test_a_dotted_line_goes_on_as_far_as_its_dots_do(glyphs: GlyphReader, as_far: float) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c5 r2c4 r2c3", Link.LINE)
    (x, y), pitch = path[1].centre, 0.4
    sheet.dashes(path[0].centre, (x, y), BLUE, 0.08, pitch)
    sheet.dashes((x, y), (x - as_far, y), BLUE, 0.08, min(pitch, as_far))
    at = 0, BY_NAME["node"].classes.index("END"), path[1].row, path[1].column
    chances = changed(_hardly_seen(sure(labels), 0.35), "node", at, 0.0)
    (trace,) = looked_at(sheet, chances, glyphs).traces
    assert (path[2] in trace.nodes) == (as_far == 1.0)


@pytest.mark.parametrize(("kind", "links"), [("SHAFT", {3}), ("LINE", {1})], ids=["arrows", "lines"])
def test_an_arrow_goes_on_where_it_has_neither_head_nor_circle(glyphs: GlyphReader, kind: str, links: set[int]) -> None:
    """Whatever the network thinks of its end: where the rules know arrows only, none ends so."""
    spoken = Spoken(links=frozenset((kind,)))
    assert {len(trace.links) for trace in _read(glyphs, BLUE, 0.1, 0.3, spoken)} == links


def test_widths_say_nothing_of_dashes_that_lattice_lines_cut() -> None:
    dashes = replace(PLAIN, dashed=True)
    assert not other_width(dashes, replace(dashes, width=0.3))
    assert other_width(dashes, replace(PLAIN, width=0.3))
