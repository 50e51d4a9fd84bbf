"""Lines, tubes and arrows put together from what the lattice network says of links between cells."""

import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks.looks import UNSHOWN
from recognise.marks.network import BY_NAME
from recognise.marks.spoken import SILENT, Spoken
from recognise.support import claims
from schema.cells import Cell
from tests.recognise.chances_maker import WAYS, Sheet, changed, linked, looked_at, sure

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


def test_lines_of_two_colours_that_bend_in_one_cell_leave_no_doubt_of_each_other(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells, colour in (("r3c1 r3c2 r3c3 r2c3", RED), ("r5c3 r4c3 r3c3 r3c4", GREY)):
        sheet.path(linked(labels, cells, Link.LINE), colour, 0.12)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert _paths(evidence) == {
        frozenset(("r3c1", "r3c2", "r3c3", "r2c3")),
        frozenset(("r5c3", "r4c3", "r3c3", "r3c4")),
    }
    assert not any(trace.ambiguous for trace in evidence.traces)


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


@pytest.mark.parametrize(("width", "lines"), [(0.12, 2), (0.26, 1)])
def test_a_line_that_ends_where_a_tube_does_is_none_of_it_though_the_network_sees_no_end(
    width: float, lines: int, glyphs
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r1c1 r2c2 r3c3", Link.LINE), GREY, width)
    tube = linked(labels, "r3c3 r3c4 r3c5", Link.TUBE)
    sheet.path(tube, GREY, 0.36)
    sheet.path(tube, (255, 255, 255), 0.28)
    sheet.circle(tube[-1].centre, 0.25, GREY, 0)
    labels.node[3, 5] |= Node.BULB
    told = changed(sure(labels), "node", (0, list(Node).index(Node.END), 3, 3), 0.03)
    for kind, chance in ((Link.LINE, 0.57), (Link.TUBE, 0.43)):
        told = changed(told, "link", (1, int(kind), 2, 2), chance)
    assert len(looked_at(sheet, told, glyphs).traces) == lines


def test_a_branch_of_a_tube_of_which_only_the_ground_was_met_is_of_it(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    pale, hollow = (225, 225, 225), "r3c1 r3c2 r3c3 r3c4 r3c5"
    for width, colour in ((0.36, GREY), (0.28, pale)):
        sheet.path(linked(labels, hollow, Link.TUBE), colour, width)
    sheet.path(linked(labels, "r3c3 r4c3 r5c3", Link.TUBE), pale, 0.36)
    sheet.circle(Cell(3, 1).centre, 0.25, GREY, 0)
    labels.node[3, 1] |= Node.BULB
    labels.node[3, 3] = 0
    (whole,) = looked_at(sheet, sure(labels), glyphs).traces
    assert len(whole.nodes) == 7
    assert not whole.ambiguous


@pytest.mark.parametrize(("end", "drawn", "cells"), [(0.002, True, 5), (0.3, True, 3), (0.002, False, 3)])
def test_a_line_goes_on_as_its_ink_does_where_the_network_is_sure_that_it_does_not_end(
    end: float, drawn: bool, cells: int, glyphs
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r3c1 r3c2 r3c3 r3c4 r3c5", Link.LINE)
    sheet.path(path if drawn else path[:3], GREY, 0.12)
    told = changed(sure(labels), "node", (0, list(Node).index(Node.END), 3, 3), end)
    for column in (3, 4):
        for kind, chance in ((Link.LINE, 0.4), (Link.NONE, 0.6)):
            told = changed(told, "link", (0, int(kind), 3, column), chance)
    (line,) = looked_at(sheet, told, glyphs).traces
    assert len(line.nodes) == cells
    assert any("r3c4 and r3c5 are not joined" in words for words in line.ambiguous) == (cells == 5)


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
    head = claims(trace)[-1 - len(trace.barbs)]
    assert min(x for x, _ in head) == pytest.approx(3.2, abs=0.1)
    assert max(x for x, _ in head) == pytest.approx(3.6, abs=0.1)
    assert evidence.discs == ()
    assert evidence.unexplained == ()


def test_the_circle_of_another_line_hides_the_head_of_an_arrow_and_is_not_its_start(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r1c1 r1c2 r2c3", Link.LINE), RED, 0.12)
    sheet.path(linked(labels, "r6c3 r5c3 r4c3 r3c3 r2c3", Link.SHAFT), BLACK, 0.06)
    labels.node[6, 3] |= Node.HEAD
    for cell, colour in ((Cell(1, 1), RED), (Cell(2, 3), RED), (Cell(4, 3), BLACK)):
        sheet.circle(cell.centre, 0.36, (255, 255, 255), 0)
        sheet.circle(cell.centre, 0.36, colour, 0.05)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    arrow = next(t for t in looked_at(sheet, sure(labels), glyphs).traces if Cell(4, 3) in t.nodes)
    assert [arrow.nodes[at] for at, _ in arrow.discs] == [Cell(4, 3)]
    assert {arrow.nodes[at] for at in arrow.heads} == {Cell(2, 3), Cell(6, 3)}
    assert arrow.confidence < 0.9, "nobody sees that head"


def test_the_circle_of_another_line_is_no_start_of_an_arrow_that_begins_in_a_capsule(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r1c1 r1c2 r2c3", Link.LINE), RED, 0.12)
    sheet.path(linked(labels, "r5c3 r4c3 r3c3 r2c3", Link.SHAFT), BLACK, 0.06)
    linked(labels, "r5c3 r5c4", Link.CAPSULE)
    for column in (3, 4):
        labels.node[5, column] |= Node.CAPSULE
    for cell in (Cell(1, 1), Cell(2, 3)):
        sheet.circle(cell.centre, 0.36, (255, 255, 255), 0)
        sheet.circle(cell.centre, 0.36, RED, 0.05)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    arrow = next(t for t in looked_at(sheet, sure(labels), glyphs).traces if Cell(4, 3) in t.nodes)
    assert not arrow.discs
    assert [arrow.nodes[at] for at in arrow.heads] == [Cell(2, 3)]


def test_whether_a_shaft_goes_into_the_other_cell_of_its_capsule_too_is_not_asked(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    shaft = linked(labels, "r2c2 r3c2 r4c2", Link.SHAFT)
    sheet.path(shaft, BLACK, 0.05)
    sheet.line((2.1, 1.9), (1.5, 2.5), BLACK, 0.05)
    linked(labels, "r2c2 r2c3", Link.CAPSULE)
    for column in (2, 3):
        labels.node[2, column] |= Node.CAPSULE
    labels.node[4, 2] |= Node.HEAD
    told = changed(sure(labels), "link", (3, Link.SHAFT, 2, 3), 0.3)
    asked = []
    for joined in (0.99, 0.01):
        chances = changed(told, "link", (0, Link.CAPSULE, 2, 2), joined)
        asked.append([words for t in looked_at(sheet, chances, glyphs).traces for words in t.ambiguous])
    assert not any("r3c2 to r2c3" in words for words in asked[0])
    assert any("r3c2 to r2c3" in words for words in asked[1])


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


def test_a_shaft_enters_its_capsule_where_ink_shows_it_though_the_network_hardly_sees_it(glyphs) -> None:
    """It rather thinks of the other cell of the capsule."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r4c2 r3c2 r2c2", Link.SHAFT)
    sheet.path((*path, Cell(1, 2)), BLACK, 0.05)
    labels.link[0, 1, 1] = Link.CAPSULE
    labels.node[1, 1] = labels.node[1, 2] = Node.CAPSULE
    labels.node[2, 2], labels.node[4, 2] = 0, Node.HEAD | Node.END
    chances, classes = sure(labels), BY_NAME["link"].classes
    for way, at, drawn in ((WAYS[1, 0], (1, 2), 0.17), (WAYS[1, 1], (1, 1), 0.63)):
        for name, chance in (("SHAFT", drawn), ("NONE", 1 - drawn)):
            chances = changed(chances, "link", (way, classes.index(name), *at), chance)
    assert _paths(looked_at(sheet, chances, glyphs)) == {frozenset(("r4c2", "r3c2", "r2c2", "r1c2"))}


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


@pytest.mark.parametrize(("grey", "lines"), [(253, 0), (225, 1)])
def test_a_line_without_ink_shows_through(grey: int, lines: int, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r3c3 r3c4", Link.LINE), (grey,) * 3, 0.12)
    assert len(looked_at(sheet, sure(labels), glyphs).traces) == lines


@pytest.mark.parametrize(
    ("chance", "lines"), [(0.7, {"r1c1", "r1c2", "r1c3"}), (0.99, {"r1c1", "r1c2", "r1c3", "r2c4"})]
)
def test_a_step_in_doubt_without_ink_is_none_of_a_plain_line(chance: float, lines: set[str], glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    linked(labels, "r1c1 r1c2 r1c3 r2c4", Link.LINE)
    sheet.line((0.5, 0.5), (2.5, 0.5), GREY, 0.1)
    told = changed(sure(labels), "link", (1, Link.LINE, 1, 3), chance)
    evidence = looked_at(sheet, changed(told, "link", (1, Link.NONE, 1, 3), 1 - chance), glyphs)
    assert _paths(evidence) == {frozenset(lines)}
    asked = [*evidence.notes, *(words for trace in evidence.traces for words in trace.ambiguous)]
    assert any("r1c3 and r2c4" in words for words in asked)


def test_what_goes_on_out_of_the_circle_in_which_a_line_ends_is_another_line(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3 r3c4", Link.LINE), GREY, 0.1)
    beyond = (0, list(Link).index(Link.LINE), 3, 4)
    asked = []
    for ringed in (False, True):
        for row, column in ((2, 2), (3, 4)) if ringed else ():
            sheet.circle((column - 0.5, row - 0.5), 0.36, GREY)
            labels.node[row, column] |= Node.CIRCLE | Node.OUTLINED
        (trace,) = looked_at(sheet, changed(sure(labels), "link", beyond, 0.05), glyphs).traces
        asked.append([str(slip.second) for slip in trace.slips if not slip.drawn and slip.chance > 0.005])
    assert asked == [["r3c5"], []]


@pytest.mark.parametrize(("chance", "inked", "left"), [(0.01, False, UNSHOWN), (0.01, True, 1.0), (0.05, False, 1.0)])
def test_a_step_that_a_plain_line_would_show_is_less_likely_where_its_way_is_bare(
    chance: float, inked: bool, left: float, glyphs
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3 r3c4", Link.LINE), GREY, 0.1)
    if inked:
        sheet.line((3.5, 2.5), (4.5, 2.5), GREY, 0.1)
    beyond = (0, list(Link).index(Link.LINE), 3, 4)
    (trace,) = looked_at(sheet, changed(sure(labels), "link", beyond, chance), glyphs).traces
    (slip,) = [slip for slip in trace.slips if (str(slip.first), str(slip.second)) == ("r3c4", "r3c5")]
    assert slip.chance == pytest.approx(left * chance, rel=0.1)
