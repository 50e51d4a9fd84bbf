"""What the lattice network says, put together to marks; the network itself is measured, not tested."""

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Corner, Edge, Labels, Link, Node, Pointer, Side
from ingest.page import Box
from recognise.evidence import Evidence, Glyph, Guess, Shape
from recognise.glyphs import GlyphReader
from recognise.marks.picture import lattice_picture, normalised
from recognise.marks.pointers import POINTERS, is_pointer, pointers
from recognise.marks.spoken import SILENT, Spoken
from recognise.support import claims
from schema.cells import Cell
from schema.kinds._outline import inset_outline
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, changed, linked, looked_at, sure

RED, GREY, BLACK = (200, 30, 30), (150, 150, 150), (0, 0, 0)


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def _paths(evidence: Evidence) -> set[frozenset[str]]:
    return {frozenset(map(str, trace.nodes)) for trace in evidence.traces}


def test_crossing_lines_of_one_colour_go_straight_on(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r2c2 r3c3 r4c4", "r3c1 r3c2 r3c3 r3c4"):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.12)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert _paths(evidence) == {
        frozenset(("r1c1", "r2c2", "r3c3", "r4c4")),
        frozenset(("r3c1", "r3c2", "r3c3", "r3c4")),
    }
    assert all(not trace.ambiguous for trace in evidence.traces)
    assert all(trace.confidence > 0.99 for trace in evidence.traces)


def test_two_lines_that_end_in_one_cell_are_two(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r2c2 r3c3", "r3c3 r4c4 r5c5"):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.12)
    assert len(looked_at(sheet, sure(labels), glyphs).traces) == 2
    labels.node[3, 3] = 0
    assert len(looked_at(sheet, sure(labels), glyphs).traces) == 1


def test_where_the_network_hardly_thinks_that_a_line_ends_it_goes_on_if_its_look_does(glyphs) -> None:
    end = (0, list(Node).index(Node.END), 3, 3)
    for width, colour, lines in ((0.12, GREY, 1), (0.12, RED, 2), (0.25, GREY, 2)):
        sheet, labels = Sheet(), Labels.empty(6, 6)
        sheet.path(linked(labels, "r1c1 r2c2 r3c3", Link.LINE), GREY, 0.12)
        sheet.path(linked(labels, "r3c3 r4c4 r5c5", Link.LINE), colour, width)
        traces = looked_at(sheet, changed(sure(labels), "node", end, 0.7), glyphs).traces
        assert len(traces) == lines
        asked = any("another begins" in words for trace in traces for words in trace.ambiguous)
        assert asked == (lines == 1)


def test_lines_that_end_in_one_cell_may_be_one_to_the_proof(glyphs) -> None:
    for end, chance in ((0.3, 0.5), (0.99, 0.01)):
        sheet, labels = Sheet(), Labels.empty(6, 6)
        sheet.path(linked(labels, "r1c1 r2c2 r3c3", Link.LINE), GREY, 0.12)
        sheet.path(linked(labels, "r3c3 r4c4 r5c5", Link.LINE), RED, 0.12)
        chances = changed(sure(labels), "node", (0, list(Node).index(Node.END), 3, 3), end)
        (one, other) = looked_at(sheet, chances, glyphs).traces
        for trace in (one, other):
            (slip,) = [slip for slip in trace.slips if slip.first == slip.second]
            assert (str(slip.first), slip.drawn, slip.chance) == ("r3c3", False, pytest.approx(chance))
            assert trace.extent == pytest.approx((1 - chance) ** 0.6, abs=0.002)


def test_dots_of_a_line_and_a_mark_upon_it_leave_no_gap(glyphs) -> None:
    def drawn(gap: bool) -> tuple[str, ...]:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        linked(labels, "r2c2 r2c3 r2c4", Link.LINE)
        for k in range(21):
            if not (gap and 3 <= k <= 7):
                sheet.circle((1.5 + 0.1 * k, 1.5), 0.03, BLACK, 0)
        return looked_at(sheet, sure(labels), glyphs).traces[0].ambiguous

    assert drawn(gap=False) == ()
    assert any("little ink" in words for words in drawn(gap=True))


def test_lines_that_meet_in_a_fork_are_asked_about(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r2c2 r3c3", "r3c3 r3c4 r3c5", "r3c3 r4c3"):
        sheet.path(linked(labels, cells, Link.LINE), GREY, 0.12)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert any("meet in r3c3" in words for trace in evidence.traces for words in trace.ambiguous)


def test_an_arrow_has_its_circle_and_its_head(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4", Link.SHAFT)
    sheet.path(path, BLACK, 0.05)
    sheet.circle(path[0].centre, 0.36, BLACK)
    sheet.line((3.5, 2.5), (3.3, 2.4), BLACK, 0.05)
    sheet.line((3.5, 2.5), (3.3, 2.6), BLACK, 0.05)
    labels.node[2, 2] = Node.CIRCLE | Node.OUTLINED
    labels.node[3, 4] = Node.HEAD | Node.END
    evidence = looked_at(sheet, sure(labels), glyphs)
    (trace,) = evidence.traces
    assert [str(trace.nodes[n]) for n in trace.heads] == ["r3c4"]
    ((node, radius),) = trace.discs
    assert str(trace.nodes[node]) == "r2c2"
    assert radius == pytest.approx(0.39, abs=0.05)
    assert max(trace.colour) < 60
    ((_, beyond),) = trace.tips
    assert beyond == pytest.approx(0.03, abs=0.05)
    head = claims(trace)[-1]
    assert min(x for x, _ in head) == pytest.approx(3.2, abs=0.1)
    assert max(x for x, _ in head) == pytest.approx(3.6, abs=0.1)
    assert evidence.discs == ()
    assert evidence.unexplained == ()


@pytest.mark.parametrize(("links", "heads"), [(("SHAFT",), ["r3c4"]), (("SHAFT", "LINE"), ["r3c4"]), (("LINE",), [])])
def test_an_arrow_whose_head_a_digit_hides_ends_away_from_its_circle(links, heads: list[str], glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4", Link.SHAFT)
    sheet.path(path, BLACK, 0.05)
    sheet.circle(path[0].centre, 0.36, BLACK)
    labels.node[2, 2] = Node.CIRCLE | Node.OUTLINED
    chances = changed(sure(labels), "node", (0, list(Node).index(Node.HEAD), 3, 4), 0.3)
    (trace,) = looked_at(sheet, chances, glyphs, Spoken(links=frozenset(links))).traces
    assert [str(trace.nodes[n]) for n in trace.heads] == heads
    assert not heads or "its head is not seen" in trace.ambiguous


def test_a_shaft_enters_a_capsule_once(glyphs) -> None:
    """The outline of the capsule looks like another shaft from the same cell."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r4c2 r3c2 r2c2", Link.SHAFT)
    linked(labels, "r2c2 r1c2", Link.SHAFT)
    linked(labels, "r2c2 r1c1", Link.SHAFT)
    sheet.path((*path, Cell(1, 2)), BLACK, 0.05)
    labels.link[0, 1, 1] = Link.CAPSULE
    labels.node[1, 1] = labels.node[1, 2] = Node.CAPSULE
    labels.node[2, 2] = 0
    labels.node[4, 2] = Node.HEAD | Node.END
    assert _paths(looked_at(sheet, sure(labels), glyphs)) == {frozenset(("r4c2", "r3c2", "r2c2", "r1c2"))}


def test_a_line_with_a_circle_on_each_of_its_cells_has_beads(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4", Link.LINE)
    sheet.path(path, GREY, 0.1)
    for cell in path:
        sheet.circle(cell.centre, 0.18, GREY, 0)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.FILLED
    evidence = looked_at(sheet, sure(labels), glyphs)
    (trace,) = evidence.traces
    assert len(trace.discs) == 3
    assert len({radius for _, radius in trace.discs}) == 1
    assert evidence.discs == ()


@pytest.mark.parametrize(
    ("spoken", "lines"),
    [
        (Spoken(links=frozenset(("SHAFT",))), 0),
        (Spoken(links=frozenset(("TUBE",))), 0),
        (Spoken(cells=frozenset(("circle",)), whole=True), 0),
        (Spoken(links=frozenset(("LINE",))), 1),
        (Spoken(links=frozenset(("LINE", "SHAFT"))), 1),
        (SILENT, 1),
    ],
)
def test_a_line_in_doubt_that_ends_in_nothing_the_rules_know_is_none(spoken: Spoken, lines: int, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r3c3 r3c4", Link.LINE), GREY, 0.1)
    chances = changed(sure(labels), "link", (0, Link.LINE, 3, 3), 0.8)
    assert len(looked_at(sheet, chances, glyphs, spoken).traces) == lines


def test_of_two_bulbs_of_a_tube_the_one_that_is_drawn_counts(glyphs) -> None:
    """A letter around the end of a tube looks like a bulb."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4 r3c5", Link.TUBE)
    sheet.path(path, GREY, 0.25)
    sheet.circle(path[0].centre, 0.38, GREY, 0)
    labels.node[2, 2] = Node.BULB
    labels.node[3, 5] |= Node.BULB
    bulb = (0, 0, 3, 5)
    (trace,) = looked_at(sheet, changed(sure(labels), "node", bulb, 0.7), glyphs).traces
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r2c2"]
    assert any("bulb" in words for words in trace.ambiguous)
    (trace,) = looked_at(sheet, changed(sure(labels), "node", bulb, 0.99), glyphs).traces
    assert len(trace.discs) == 2


def test_a_circle_at_one_end_of_a_line_is_a_mark_of_its_own(glyphs) -> None:
    """A trace with one disc is a tube to those who say what it means."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4", Link.LINE)
    sheet.path(path, GREY, 0.1)
    sheet.circle(path[0].centre, 0.36, BLACK)
    labels.node[2, 2] |= Node.CIRCLE | Node.OUTLINED
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert evidence.traces[0].discs == ()
    assert len(evidence.discs) == 1


def _caged(labels: Labels, sheet: Sheet, cells: str, colour: tuple[int, int, int] = BLACK) -> None:
    group = [Cell.parse(text) for text in cells.split()]
    for cell in group:
        for side, down, right in ((Side.TOP, -1, 0), (Side.LEFT, 0, -1), (Side.BOTTOM, 1, 0), (Side.RIGHT, 0, 1)):
            if cell.stepped(down, right) not in group:
                labels.side[cell.row, cell.column] |= side
    for loop in inset_outline(group, 0.08):
        for start, end in zip(loop, [*loop[1:], loop[0]], strict=True):
            sheet.dashes(start, end, colour)


def test_walls_close_cages(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    _caged(labels, sheet, "r2c1 r3c1")
    _caged(labels, sheet, "r4c4 r4c5 r4c6 r5c4 r5c5 r5c6 r6c4 r6c5 r6c6")
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert {len(fence.cells) for fence in evidence.fences} == {2, 3, 9}
    assert {fence.style for fence in evidence.fences} == {"dashed"}
    assert evidence.notes == ()
    assert evidence.unexplained == ()


def test_a_cage_as_pale_as_the_other_side_is_none_where_rules_speak_of_none(glyphs) -> None:
    def fences(grey: int, chance: float, spoken: Spoken) -> int:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        _caged(labels, sheet, "r1c1 r1c2 r2c2", (grey,) * 3)
        chances = changed(sure(labels), "side", (0, 3, 1, 2), chance)
        return len(looked_at(sheet, chances, glyphs, spoken).fences)

    none_known = Spoken(no_cages=True)
    assert [fences(250, 0.999, spoken) for spoken in (SILENT, none_known)] == [1, 0]
    assert [fences(250, 0.7, spoken) for spoken in (SILENT, none_known)] == [0, 0]
    assert [fences(190, 0.7, spoken) for spoken in (SILENT, none_known)] == [1, 1]


@pytest.mark.parametrize(("grey", "lines"), [(253, 0), (225, 1)])
def test_a_line_without_ink_shows_through(grey: int, lines: int, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r3c3 r3c4", Link.LINE), (grey,) * 3, 0.12)
    assert len(looked_at(sheet, sure(labels), glyphs).traces) == lines


def test_a_wall_missed_by_a_little_is_put_back_and_asked_about(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    chances = changed(sure(labels), "side", (0, 3, 1, 2), 0.4)
    evidence = looked_at(sheet, chances, glyphs)
    assert [len(fence.cells) for fence in evidence.fences] == [3]
    assert any("r1c2" in note for note in evidence.notes)
    assert evidence.fences[0].confidence < 0.9


def test_a_wall_that_is_not_there_closes_no_cage(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    labels.side[1, 2] = Side.TOP
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert evidence.fences == ()
    assert any("do not close" in note for note in evidence.notes)


def test_a_speck_that_the_network_takes_for_no_mark_is_stray_ink(glyphs) -> None:
    sheet = Sheet()
    sheet.line((2.3, 1.5), (2.7, 1.5), BLACK, 0.08)
    evidence = looked_at(sheet, sure(Labels.empty(6, 6)), glyphs)
    assert evidence.shapes == ()
    assert len(evidence.stray) == 1


def test_edges_corners_and_the_ring(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 1.5), 0.12, BLACK, 0)
    labels.edge[0, 2, 2] = Edge.DARK_DOT
    labels.edge[1, 3, 4] = Edge.SIGN_UP
    labels.pointer[0, 2] = Pointer.SE
    for n in range(1, 7):
        labels.node[n, n] |= Node.DOWN
    sheet.line((0, 0), (6, 6), BLACK, 0.03)
    evidence = looked_at(sheet, sure(labels), glyphs)
    (dot,) = evidence.discs
    assert dot.centre == (2, 1.5)
    assert dot.radius == pytest.approx(0.12, abs=0.03)
    assert dot.fill is not None and max(dot.fill) < 60
    shapes = {(shape.name, shape.direction) for shape in evidence.shapes}
    assert shapes == {("sign", "up"), ("arrow", "down-right"), ("diagonal", "down")}


@pytest.mark.parametrize(
    ("head", "place", "words"),
    [
        ("edge", (0, 0, 2, 2), "between r2c2 and r2c3"),
        ("corner", (0, 0, 2, 2), "corner of r2c2"),
        ("link", (0, 0, 2, 2), "joins r2c2 and r2c3"),
        ("node", (0, 1, 2, 2), "circle stands in r2c2"),
        ("node", (0, 9, 2, 2), "small characters stand in r2c2"),
    ],
)
def test_what_may_be_there_is_asked_about(glyphs, head: str, place: tuple[int, ...], words: str) -> None:
    """Never silently dropped: a place of middling probability becomes words for a person where there is ink."""
    labels = Labels.empty(6, 6)
    assert looked_at(Sheet(), sure(labels), glyphs).notes == ()
    exclusive = head in ("edge", "corner", "link")
    chances = changed(sure(labels), head, place, 0.8 if exclusive else 0.2)
    if exclusive:
        chances = changed(chances, head, (place[0], 1, *place[2:]), 0.2)
    sheet = Sheet()
    sheet.line((1.5, 1.5), (2.5, 1.5), GREY, 0.1)
    sheet.line((1.8, 1.85), (2.2, 1.85), GREY, 0.1)
    if "characters" in words:
        sheet.line((1.15, 1.3), (1.4, 1.12), GREY, 0.05)
    evidence = looked_at(sheet, chances, glyphs)
    assert any(words in note for note in evidence.notes)
    assert not any(words in note for note in looked_at(Sheet(), chances, glyphs).notes)


def test_a_number_in_a_frame_on_an_edge_is_no_other_mark(glyphs) -> None:
    """The network may know no such frames: what is read in one is a text, and the frame is explained."""

    def looked(framed: bool, text: str, ringed: bool = False) -> Evidence:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        x, y = sheet._at((2.0, 1.5))
        sheet.image[y - 14 : y + 14, x - 14 : x + 14] = 255
        if ringed:
            cv2.circle(sheet.image, (x, y), 17, BLACK, -1)
            cv2.circle(sheet.image, (x, y), 15, (255, 255, 255), -1)
        if framed:
            sheet.image[y - 14 : y + 14, x - 14 : x + 14] = 60
            sheet.image[y - 12 : y + 12, x - 12 : x + 12] = 255
        cv2.putText(sheet.image, text, (x - 6, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.6, BLACK, 2, cv2.LINE_AA)
        labels.edge[0, 2, 2], labels.edge_text[0, 2, 2] = Edge.CHARACTERS, 1
        chances = changed(sure(labels), "edge", (0, list(Edge).index(Edge.CHARACTERS), 2, 2), 0.8)
        return looked_at(sheet, changed(chances, "edge", (0, 0, 2, 2), 0.2), glyphs)

    for text, framed, asked in (("7", True, False), ("7", False, True), ("5", False, False)):
        evidence = looked(framed, text)
        assert [glyph.text for glyph in evidence.glyphs] == [text]
        assert [shape.name for shape in evidence.shapes] == ["square"] * framed
        assert any("r2c2 and r2c3" in note for note in evidence.notes) == asked
        assert evidence.stray == ()
    # Rings are told by the network: a dot with a text in it may mean something else than the text.
    assert looked(False, "5", ringed=True).discs == ()


def test_a_little_arrow_in_doubt_is_asked_about_where_numbers_stand_beside_the_grid() -> None:
    chances = changed(sure(Labels.empty(6, 6)), "pointer", (0, 0, 0, 2), 0.2)
    assert any("row 0, column 2" in note for note in pointers(chances, numbers=True).notes)
    assert pointers(chances, numbers=False).notes == ()
    # A clue says the same with an arrow straight into its column as without one.
    straight = changed(sure(Labels.empty(6, 6)), "pointer", (0, list(POINTERS).index("S"), 0, 2), 0.2)
    assert pointers(straight, numbers=True).notes == ()


def test_the_network_sees_paper_as_nothing() -> None:
    sheet = Sheet()
    sheet.image[:] = np.rint(sheet.image * 0.7)
    picture = lattice_picture(sheet.flat)
    assert picture.shape == (8 * 32, 8 * 32, 3)
    blob = normalised(picture)
    assert blob.shape == (1, 3, 256, 256)
    assert np.median(blob) == pytest.approx(0, abs=0.01)
    assert blob.min() < -0.5


def test_a_wall_in_doubt_is_asked_about_where_it_could_be_of_a_cage(glyphs) -> None:
    sheet, chances = Sheet(), sure(Labels.empty(6, 6))
    alone = changed(chances, "side", (0, 1, 2, 2), 0.2)
    for side in range(4):
        chances = changed(chances, "side", (0, side, 2, 2), 0.2)
    assert looked_at(sheet, chances, glyphs).notes == ()  # no ink, no wall
    _caged(Labels.empty(6, 6), sheet, "r2c2")
    assert looked_at(sheet, alone, glyphs).notes == ()  # one wall closes nothing
    assert any("wall in r2c2" in note for note in looked_at(sheet, chances, glyphs).notes)


def test_a_little_arrow_stands_where_it_is_drawn(glyphs) -> None:
    """Not in the middle of its place: numbers find their arrows by nearness."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    labels.pointer[0, 2] = Pointer.SE
    sheet.line((1.7, -0.35), (1.9, -0.12), BLACK, 0.05)
    sheet.line((1.9, -0.12), (1.76, -0.13), BLACK, 0.05)
    sheet.line((1.9, -0.12), (1.89, -0.26), BLACK, 0.05)
    (arrow,) = [shape for shape in looked_at(sheet, sure(labels), glyphs).shapes if shape.name == "arrow"]
    assert arrow.box == pytest.approx((1.7, -0.35, 1.9, -0.12), abs=0.08)


def test_two_little_arrows_may_share_a_place(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    labels.pointer[0, 2] = Pointer.SE | Pointer.SW
    for way in (-1, 1):
        tip = (1.5 + way * 0.42, -0.14)
        for tail in ((tip[0] - way * 0.22, -0.36), (tip[0] - way * 0.14, -0.15), (tip[0] - way * 0.01, -0.28)):
            sheet.line(tail, tip, BLACK, 0.05)
    arrows = [shape for shape in looked_at(sheet, sure(labels), glyphs).shapes if shape.name == "arrow"]
    boxes = {arrow.direction: arrow.box for arrow in arrows}
    assert boxes["down-left"] == pytest.approx((1.08, -0.36, 1.3, -0.14), abs=0.08)
    assert boxes["down-right"] == pytest.approx((1.7, -0.36, 1.92, -0.14), abs=0.08)


def _write(sheet: Sheet, text: str, x: float, y: float, colour: tuple[int, int, int], scale: float = 0.5) -> None:
    """Characters with their middle at a place, in cells."""
    (wide, high), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, scale, 2)
    left, top = (round((v + MARGIN) * CELL) for v in (x, y))
    cv2.putText(
        sheet.image, text, (left - wide // 2, top + high // 2), cv2.FONT_HERSHEY_SIMPLEX, scale, colour, 2, cv2.LINE_AA
    )


@pytest.mark.parametrize(
    ("ground", "print_"), [((230, 180, 60), BLACK), (BLACK, (255, 255, 255)), ((255, 255, 255), BLACK)]
)
def test_digits_are_read_in_circles_of_any_colour(ground, print_, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 2), 0.32, ground, 0)
    sheet.circle((2, 2), 0.32, BLACK, 0.04)
    _write(sheet, "4", 1.87, 2, print_)
    _write(sheet, "7", 2.13, 2, print_)
    labels.corner[2, 2] = Corner.CIRCLE
    read = "".join(glyph.text for glyph in looked_at(sheet, sure(labels), glyphs).glyphs)
    assert sorted(read) == ["4", "7"]


def test_circles_on_corners_are_of_one_size(glyphs) -> None:
    """A dark ring within one of them shows better than its outline."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for column in (1, 2, 3, 4):
        sheet.circle((column, 2), 0.27, BLACK if column < 4 else (170, 170, 170), 0.04)
        labels.corner[2, column] = Corner.CIRCLE
    sheet.circle((4, 2), 0.14, BLACK, 0.06)
    radii = [disc.radius for disc in looked_at(sheet, sure(labels), glyphs).discs]
    assert len(radii) == 4
    assert max(radii) - min(radii) < 0.06


def test_what_was_hard_to_read_at_the_tip_of_a_little_arrow_is_the_arrow() -> None:
    arrow = Shape("arrow", (9.15, 5.49, 9.51, 5.85), BLACK, "shape", 0.95, direction="down-left")
    tail, number = (9.1, 5.78, 9.34, 5.99), (9.52, 5.66, 9.73, 5.85)
    assert is_pointer(_read("2", tail, 0.27), arrow)
    assert not is_pointer(_read("2", tail, 0.8), arrow)
    assert not is_pointer(_read("15", number, 0.27), arrow)


def _read(text: str, box: Box, confidence: float) -> Glyph:
    return Glyph(box, (Guess(text, confidence),), box[3] - box[1], BLACK, "shape")
