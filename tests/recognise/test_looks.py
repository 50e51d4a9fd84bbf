"""How likely steps of lines are drawn, by their ink and by the ends of their line."""

from dataclasses import replace

import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.glyphs import GlyphReader
from recognise.marks.line_questions import goes_on_words, not_joined_words
from recognise.marks.looks import (
    ALONE,
    AT_CAPSULE,
    HELD,
    IN_WHOLE_LINE,
    INKED,
    INTO_CAPSULE,
    LIKE_SURE,
    MOST_SHOWN,
    OF_SEVERAL,
    RINGED,
    UNSHOWN,
    WHOLLY_UNSHOWN,
)
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.spoken import Spoken
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure

DOUBT = 0.004
"""How likely the network holds it that the first step is not drawn, or a further one is."""
BLUE = (40, 60, 200)
EAST = 0


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _told(chances: Chances, step: tuple[int, int], kind: str, drawn: float) -> Chances:
    """The chances with what the network says of the step to the right of a cell."""
    classes = BY_NAME["link"].classes
    link = chances.heads["link"].copy()
    link[EAST, :, *step] = 0.0
    link[EAST, classes.index("NONE"), *step], link[EAST, classes.index(kind), *step] = 1 - drawn, drawn
    return replace(chances, heads=chances.heads | {"link": link})


def _node(chances: Chances, cell: Cell, name: str, chance: float) -> Chances:
    return changed(chances, "node", (0, BY_NAME["node"].classes.index(name), cell.row, cell.column), chance)


def _unsure(chances: Chances, path: list[Cell], kind: str) -> Chances:
    """The chances where the network is not quite sure of any step of a line along a row."""
    for cell in path[:-1]:
        chances = _told(chances, (cell.row, cell.column), kind, 0.998)
    return chances


def _left(
    glyphs: GlyphReader,
    cells: str,
    kind: Link,
    first: int = 0,
    last: int = 0,
    spoken: Spoken | None = None,
    doubt: float = DOUBT,
) -> float:
    """What is left of the doubt of the first step of a line that begins and ends so."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, cells, kind)
    sheet.path(path, BLUE, 0.1)
    for cell, node in ((path[0], first), (path[-1], last)):
        labels.node[cell.row, cell.column] |= node
    chances = _told(_unsure(sure(labels), path, kind.name), (path[0].row, path[0].column), kind.name, 1 - doubt)
    (trace,) = looked_at(sheet, chances, glyphs, spoken or Spoken()).traces
    slip = next(slip for slip in trace.slips if slip.drawn and {slip.first, slip.second} == set(path[:2]))
    return slip.chance / doubt


LONG = "r3c2 r3c3 r3c4 r3c5"


@pytest.mark.parametrize(
    ("cells", "kind", "first", "last", "left"),
    [
        (LONG, Link.LINE, 0, 0, OF_SEVERAL),
        ("r3c2 r3c3", Link.LINE, 0, 0, ALONE),
        (LONG, Link.LINE, Node.CIRCLE, Node.CIRCLE, RINGED),
        (LONG, Link.SHAFT, Node.CIRCLE, Node.HEAD, HELD),
        (LONG, Link.SHAFT, Node.CAPSULE, Node.HEAD, HELD),
        ("r3c2 r3c3", Link.SHAFT, Node.CAPSULE, Node.HEAD, INTO_CAPSULE),
        (LONG, Link.LINE, Node.CAPSULE, 0, AT_CAPSULE),
        (LONG, Link.TUBE, Node.BULB, 0, HELD),
    ],
)
def test_the_ends_of_a_line_say_whether_its_steps_are_drawn(
    glyphs: GlyphReader, cells: str, kind: Link, first: int, last: int, left: float
) -> None:
    assert _left(glyphs, cells, kind, first, last) == pytest.approx(left, rel=0.05)


def test_that_a_shaft_goes_into_its_capsule_is_no_doubt_where_ink_shows_it(glyphs: GlyphReader) -> None:
    left = _left(glyphs, LONG, Link.SHAFT, Node.CAPSULE, Node.HEAD, doubt=0.4)
    assert left * 0.4 == pytest.approx(MOST_SHOWN, rel=0.05)


def test_a_step_that_the_network_hardly_sees_is_asked_about_between_sure_ends_too(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, LONG, Link.TUBE)
    sheet.path(path, BLUE, 0.1)
    labels.node[path[0].row, path[0].column] |= Node.BULB
    chances = _told(sure(labels), (path[1].row, path[1].column), "TUBE", 0.3)
    (trace,) = looked_at(sheet, chances, glyphs).traces
    assert trace.nodes == tuple(path)
    assert not_joined_words(path[1], path[2]) in trace.ambiguous


def test_where_all_lines_end_in_circles_a_piece_with_one_is_as_strange_as_a_tube_without_bulb(
    glyphs: GlyphReader,
) -> None:
    spoken = Spoken(links=frozenset({"LINE"}), ringed=True, ringed_only=True, whole=True)
    assert _left(glyphs, LONG, Link.LINE, Node.CIRCLE, Node.CIRCLE, spoken) == pytest.approx(HELD, rel=0.05)


@pytest.mark.parametrize(
    ("inked", "end", "left"), [(False, 0.999, UNSHOWN), (True, 0.5, INKED), (False, 0.5, WHOLLY_UNSHOWN)]
)
def test_a_line_goes_on_where_ink_does_and_its_end_is_not_sure(
    glyphs: GlyphReader, inked: bool, end: float, left: float
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r3c2 r3c3 r3c4", Link.LINE)
    sheet.path([*path, Cell(3, 5)] if inked else path, BLUE, 0.1)
    chances = _node(_told(sure(labels), (3, 4), "LINE", DOUBT), path[-1], "END", end)
    (trace,) = looked_at(sheet, chances, glyphs).traces
    slip = next(slip for slip in trace.slips if not slip.drawn and slip.second == Cell(3, 5))
    assert slip.chance == pytest.approx(left * DOUBT, rel=0.05)


def test_a_line_with_gaps_may_go_on_where_no_ink_is(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r3c2 r3c3 r3c4", Link.LINE)
    sheet.dashes(path[0].centre, path[-1].centre, BLUE, 0.05, 0.4)
    chances = _node(_told(sure(labels), (3, 4), "LINE", DOUBT), path[-1], "END", 0.5)
    (trace,) = looked_at(sheet, chances, glyphs).traces
    slip = next(slip for slip in trace.slips if not slip.drawn and slip.second == Cell(3, 5))
    assert slip.chance == pytest.approx(DOUBT, rel=0.05)


@pytest.mark.parametrize(
    ("width", "own", "ends", "asked"),
    [(0.04, 0.35, 5.5, False), (0.04, 0.35, 4.1, True), (0.35, 0.35, 5.5, True), (0.04, 0.06, 5.5, True)],
    ids=["another line", "some of it", "as wide", "as thin"],
)
def test_a_wide_line_does_not_go_on_where_a_thin_one_runs(
    glyphs: GlyphReader, width: float, own: float, ends: float, asked: bool
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r3c2 r3c3 r3c4", Link.LINE)
    sheet.path(path, (150, 150, 150), own)
    sheet.line((3.5, 2.5), (ends, 2.5), (0, 0, 0), width)
    chances = _told(sure(labels), (3, 4), "LINE", 0.2)
    notes = [words for trace in looked_at(sheet, chances, glyphs).traces for words in trace.ambiguous]
    assert (goes_on_words(Cell(3, 4), Cell(3, 5)) in notes) == asked


RED, CURVE = (200, 60, 40), "r5c2 r5c3 r5c4"


@pytest.mark.parametrize(
    ("colour", "width", "drawn", "left"),
    [
        (BLUE, 0.1, 0.9999, IN_WHOLE_LINE),
        (BLUE, 0.1, 0.99, OF_SEVERAL),
        (RED, 0.1, 0.9999, OF_SEVERAL),
        (BLUE, 0.2, 0.9999, OF_SEVERAL),
    ],
    ids=["like it", "not sure itself", "of another colour", "wider"],
)
def test_a_step_in_the_look_of_a_sure_one_of_another_line_is_hardly_in_doubt(
    glyphs: GlyphReader, colour: tuple[int, int, int], width: float, drawn: float, left: float
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path, other = linked(labels, LONG, Link.LINE), linked(labels, CURVE, Link.LINE)
    sheet.path(path, BLUE, 0.1)
    sheet.path(other, colour, width)
    chances = _unsure(sure(labels), path, "LINE")
    chances = _told(_told(_told(chances, (3, 2), "LINE", 1 - DOUBT), (5, 2), "LINE", drawn), (5, 3), "LINE", drawn)
    traces = looked_at(sheet, chances, glyphs).traces
    slips = (slip for trace in traces for slip in trace.slips)
    slip = next(slip for slip in slips if slip.drawn and {slip.first, slip.second} == set(path[:2]))
    assert slip.chance == pytest.approx(left * DOUBT, rel=0.05)


def test_a_step_with_a_gap_is_in_doubt_whatever_other_lines_look_like(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path, other = linked(labels, LONG, Link.LINE), linked(labels, CURVE, Link.LINE)
    sheet.line((1.5, 2.5), (1.9, 2.5), BLUE, 0.1)
    sheet.line((2.3, 2.5), (4.5, 2.5), BLUE, 0.1)
    sheet.path(other, BLUE, 0.1)
    (trace, _) = looked_at(sheet, _told(sure(labels), (3, 2), "LINE", 1 - DOUBT), glyphs).traces
    slip = next(slip for slip in trace.slips if slip.drawn and {slip.first, slip.second} == set(path[:2]))
    assert slip.chance == pytest.approx(OF_SEVERAL * DOUBT, rel=0.05)


@pytest.mark.parametrize(
    ("gap", "left"), [(False, IN_WHOLE_LINE), (True, LIKE_SURE)], ids=["in ink all along", "with a gap elsewhere"]
)
def test_a_line_in_ink_all_along_is_drawn_in_all_its_steps_where_the_network_is_sure_of_its_look(
    glyphs: GlyphReader, gap: bool, left: float
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path, other = linked(labels, LONG, Link.LINE), linked(labels, CURVE, Link.LINE)
    sheet.line((1.5, 2.5), (3.9, 2.5), BLUE, 0.1)
    sheet.line((4.15 if gap else 3.9, 2.5), (4.5, 2.5), BLUE, 0.1)
    sheet.path(other, BLUE, 0.1)
    traces = looked_at(sheet, _told(sure(labels), (3, 2), "LINE", 1 - DOUBT), glyphs).traces
    slips = (slip for trace in traces for slip in trace.slips)
    slip = next(slip for slip in slips if slip.drawn and {slip.first, slip.second} == set(path[:2]))
    assert slip.chance == pytest.approx(left * DOUBT, rel=0.05)


def test_a_line_of_one_step_is_in_doubt_whatever_it_looks_like(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path, other = linked(labels, "r3c2 r3c3", Link.LINE), linked(labels, CURVE, Link.LINE)
    sheet.path(path, BLUE, 0.1)
    sheet.path(other, BLUE, 0.1)
    traces = looked_at(sheet, _told(sure(labels), (3, 2), "LINE", 1 - DOUBT), glyphs).traces
    slip = next(slip for trace in traces for slip in trace.slips if slip.drawn and slip.first == path[0])
    assert slip.chance == pytest.approx(ALONE * DOUBT, rel=0.05)
