"""What marks are taken for in the light of what the rules of their page speak of."""

from dataclasses import replace
from itertools import pairwise

import pytest

from fixtures.training.lattice_labels import Edge, Labels, Link, Node
from recognise.evidence import Glyph, Guess, Tint
from recognise.glyphs import GlyphReader
from recognise.interpret.cellmarks import tint_groups
from recognise.interpret.edges import edge_marks
from recognise.interpret.hints import fits
from recognise.interpret.looks import settled_looks
from recognise.interpret.mark import Left, Mark
from recognise.interpret.spoken import spoken_of
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.pointers import pointers
from recognise.marks.sights import Sight, written
from recognise.marks.slanted import slanted
from recognise.marks.spoken import EDGE_LOOKS, SILENT, Spoken
from recognise.pixels.blobs import find_pieces, measure_tones
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.cells import Cell
from schema.marks import Family, Seen
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure

GREY, BLACK = (150, 150, 150), (0, 0, 0)
BETWEEN = Spoken(frozenset(("LINE",)), ringed=True, circles=False, no_edges=True, whole=True)


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def _seen_as(chances: Chances, head: str, place: tuple[int, int, int], told: dict[str, float]) -> Chances:
    """The chances of classes at (plane, row, column); the rest of them as good as none."""
    plane, row, column = place
    for index, name in enumerate(BY_NAME[head].classes):
        chances = changed(chances, head, (plane, index, row, column), told.get(name, 1e-5))
    return chances


BARS = {"BAR": 0.97, "DARK_DOT": 0.02}
SQUARES = Spoken(edges=frozenset(("square",)), whole=True)
DOTS = Spoken(edges=frozenset(("dark dot",)), whole=True)


@pytest.mark.parametrize(
    ("spoken", "drawn", "name"),
    [
        (SILENT, "square", "bar"),
        (SQUARES, "square", "square"),
        (SQUARES, "bar", "bar"),
        (DOTS, "dot", "disc"),
        (DOTS, "bar", "bar"),
    ],
)
def test_on_an_edge_the_rules_and_its_figure_tell_a_mark(spoken: Spoken, drawn: str, name: str, glyphs) -> None:
    """The network takes each for a bar; where the rules know no bars, the figure decides, and a bar stays one."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    middles = {(2, 2): (2.0, 1.5), (4, 3): (3.0, 3.5), (5, 5): (5.0, 4.5)}
    chances = sure(labels)
    for (row, column), (x, y) in middles.items():
        if drawn == "square":
            for step in range(-11, 12):
                sheet.line((x - 0.11, y + step / 100), (x + 0.11, y + step / 100), BLACK, 0.02)
        elif drawn == "dot":
            sheet.circle((x, y), 0.14, BLACK, 0)
        else:
            sheet.line((x - 0.24, y), (x + 0.24, y), BLACK, 0.1)
        chances = _seen_as(chances, "edge", (0, row, column), BARS)
    evidence = looked_at(sheet, chances, glyphs, spoken)
    assert [shape.name for shape in evidence.shapes] == ([] if name == "disc" else [name] * 3)
    assert len(evidence.discs) == (3 if name == "disc" else 0)


@pytest.mark.parametrize(("grey", "chance", "marks"), [(120, 0.8, 2), (235, 0.8, 0), (235, 0.99, 2)])
def test_what_shows_through_the_paper_is_no_mark(grey: int, chance: float, marks: int, glyphs) -> None:
    """A dot between cells and one in a cell, of no kind to the network: paler than print by far, they are of the other
    side unless it is sure of them."""
    sheet, chances = Sheet(), sure(Labels.empty(6, 6))
    for at in ((2.0, 1.5), (4.5, 4.5)):
        sheet.circle(at, 0.14, (grey,) * 3, 0)
    chances = _seen_as(chances, "edge", (0, 2, 2), {"OTHER": chance, "NONE": 1 - chance})
    node = BY_NAME["node"].classes.index("UNKNOWN")
    chances = changed(chances, "node", (0, node, 5, 5), chance)
    evidence = looked_at(sheet, chances, glyphs, SILENT)
    assert [shape.name for shape in evidence.shapes] == ["mark"] * marks


@pytest.mark.parametrize("white", [False, True])
def test_a_bar_between_cells_is_a_mark_of_two_cells(white: bool, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.line((1.75, 1.5), (2.25, 1.5), BLACK, 0.16)
    if white:
        sheet.line((1.75, 1.5), (2.25, 1.5), (255, 255, 255), 0.11)
    labels.edge[0, 2, 2] = Edge.BAR
    (mark,) = edge_marks(Left.of(looked_at(sheet, sure(labels), glyphs, SILENT)))
    assert mark.paint == ((255, 255, 255) if white else BLACK)
    assert (mark.seen.shape, [str(cell) for cell in mark.seen.cells]) == ("bar", ["r2c2", "r2c3"])


@pytest.mark.parametrize(("doubt", "drawn"), [(0.4, False), (1e-4, True)])
def test_rules_without_marks_on_edges_make_doubtful_ones_none(doubt: float, drawn: bool, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.line((1.85, 1.5), (2.15, 1.5), BLACK, 0.08)
    chances = _seen_as(sure(labels), "edge", (0, 2, 2), {"BAR": 1 - doubt, "NONE": doubt})
    assert bool(looked_at(sheet, chances, glyphs, BETWEEN).shapes) == drawn
    assert looked_at(sheet, chances, glyphs, SILENT).shapes


def _line(sheet: Sheet, told: dict[str, float], bulb: float = 1e-4) -> Chances:
    """Two alike lines whose links the network tells so."""
    labels = Labels.empty(6, 6)
    for cells in ("r2c2 r2c3 r2c4", "r4c2 r4c3 r5c4"):
        path = linked(labels, cells, Link.TUBE)
        sheet.path(path, GREY, 0.25)
    chances = sure(labels)
    for plane, row, column in zip(*labels.link.nonzero(), strict=True):
        chances = _seen_as(chances, "link", (plane, row, column), told)
    return changed(changed(chances, "node", (0, 0, 2, 2), bulb), "node", (0, 0, 4, 2), bulb)


@pytest.mark.parametrize(
    ("told", "bulb", "spoken", "family", "asked"),
    [
        ({"TUBE": 0.9, "LINE": 0.1}, 0.6, SILENT, "tube", False),
        ({"TUBE": 0.7, "LINE": 0.3}, 0.1, BETWEEN, "line", False),
        ({"TUBE": 0.999, "LINE": 0.001}, 0.999, BETWEEN, "tube", False),
        ({"TUBE": 0.9, "LINE": 0.1}, 0.6, BETWEEN, "line", True),
    ],
)
def test_lines_are_what_the_rules_know_unless_they_are_clearly_others(
    told: dict[str, float], bulb: float, spoken: Spoken, family: str, asked: bool, glyphs
) -> None:
    sheet = Sheet()
    first = looked_at(sheet, _line(sheet, told, bulb), glyphs, spoken).traces[0]
    assert bool(first.discs) == (family == "tube")
    assert ("what kind of line it is was hard to tell" in first.ambiguous) == asked


@pytest.mark.parametrize(("spoken", "own"), [(SILENT, 0), (BETWEEN, 2)])
def test_a_line_with_a_circle_at_one_end_has_one_at_the_other_where_the_rules_say_so(
    spoken: Spoken, own: int, glyphs
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4", Link.LINE)
    sheet.path(path, GREY, 0.12)
    for cell in (path[0], path[-1]):
        sheet.circle(cell.centre, 0.36, GREY)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    evidence = looked_at(sheet, changed(sure(labels), "node", (0, 1, 3, 4), 0.3), glyphs, spoken)
    assert len(evidence.traces[0].discs) == own
    assert len(evidence.discs) == (1 if own == 0 else 0)


def test_a_thin_line_goes_on_where_nothing_ends_however_wide_its_parts_look(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c3 r3c4 r3c5", Link.LINE)
    sheet.path(path[:2], BLACK, 0.02)
    sheet.path(path[1:], BLACK, 0.09)
    assert len(looked_at(sheet, sure(labels), glyphs, SILENT).traces) == 1


def test_diamonds_in_cells_are_what_the_rules_call_so(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cell in (Cell(2, 2), Cell(4, 5)):
        x, y = cell.centre
        corners = [(x, y - 0.4), (x + 0.4, y), (x, y + 0.4), (x - 0.4, y)]
        for start, end in pairwise([*corners, corners[0]]):
            sheet.line(start, end, BLACK, 0.03)
        labels.node[cell.row, cell.column] = Node.UNKNOWN
    diamonds = Spoken(cells=frozenset(("circle", "diamond")), whole=True)
    assert {s.name for s in looked_at(sheet, sure(labels), glyphs, SILENT).shapes} == {"mark"}
    assert {s.name for s in looked_at(sheet, sure(labels), glyphs, diamonds).shapes} == {"diamond"}


def test_what_rules_speak_of() -> None:
    statements = (
        Statement("ratio-pair", {"ratio": 2}, MarkHint("square", "black")),
        Statement("consecutive-pair", {}, MarkHint("dot", "white")),
        Statement("between-line", {}, MarkHint("line", "grey")),
        Statement("odd", {}, MarkHint("diamond")),
        Statement("thermometer", negated=True),
    )
    spoken = spoken_of(RuleSheet(statements))
    assert spoken.edges == {"square", "white dot"}
    assert (spoken.links, spoken.cells) == ({"LINE"}, {"diamond"})
    assert (spoken.ringed, spoken.ringed_only, spoken.circles, spoken.whole) == (True, True, False, True)
    assert not spoken_of(RuleSheet(statements, unsure=("Perhaps.",))).whole
    assert spoken_of(RuleSheet((*statements, Statement("ratio-pair")))).edges == frozenset()
    assert spoken_of(None) == SILENT
    assert not spoken.markless
    numbered = Statement("ratio-pair", {"ratio": "printed"}, MarkHint("dot", "black"))
    assert [spoken_of(RuleSheet(found)).written for found in (statements, (*statements, numbered))] == [False, True]
    plain = (Statement("rows"), Statement("king-apart"))
    assert [spoken_of(RuleSheet(plain, unsure=unsure)).markless for unsure in ((), ("Perhaps.",))] == [True, False]
    others = (Statement("x-sum"), Statement("diagonal-sum"), Statement("consecutive-pair"))
    assert [spoken_of(RuleSheet((*plain, other))).markless for other in others] == [True, False, False]
    assert [spoken_of(RuleSheet(found)).no_cages for found in ((), statements, (Statement("cage"),))] == [
        False,
        True,
        False,
    ]


def _arrow_sheet() -> Sheet:
    sheet = Sheet()
    sheet.line((-0.35, 0.65), (-0.08, 0.92), BLACK, 0.04)
    sheet.line((3.2, -0.35), (3.2, -0.08), BLACK, 0.04)
    return sheet


def test_a_little_arrow_lies_along_a_diagonal_beside_a_number() -> None:
    flat = _arrow_sheet().flat
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    boxes = ((-0.7, 0.3, -0.5, 0.6), (3.0, -0.8, 3.3, -0.5))
    numbers = [Glyph(box, (Guess("7", 0.99),), 0.3, BLACK, "ocr") for box in boxes]
    (arrow,) = slanted(pieces, raster, numbers)
    assert (arrow.row, arrow.column, arrow.way) == (1, 0, "SE")
    assert list(slanted(pieces, raster, numbers[1:])) == []
    chances = sure(Labels.empty(6, 6))
    (shape,) = pointers(chances, True, [arrow]).shapes
    assert (shape.direction, shape.box) == ("down-right", arrow.box)
    assert pointers(chances, True).shapes == ()
    seen = changed(chances, "pointer", (0, 1, 1, 0), 0.7)
    assert len(pointers(seen, True).shapes) == 1
    assert pointers(seen, True, weight=0.01).notes == pointers(seen, True, weight=0.01).shapes == ()


def _tints(cells: dict[str, tuple[int, int, int]]) -> Left:
    found = [Tint(Cell.parse(name), colour, 1.0) for name, colour in cells.items()]
    return Left((4, 4), [], [], [], [], [], found)


BOXES = [tuple(Cell(r + i, c + j) for i in (0, 1) for j in (0, 1)) for r in (1, 3) for c in (1, 3)]


def test_the_ground_under_a_mark_has_the_tint_of_the_cells_beside_it() -> None:
    blue, mixed = (180, 200, 240), (220, 221, 221)
    seen = {"r2c2": blue, "r2c3": blue, "r3c2": blue, "r3c3": mixed}
    under = frozenset((Cell(3, 3),))
    assert [len(cells) for _, cells in tint_groups(_tints(seen), BOXES, under)] == [4]
    assert [len(cells) for _, cells in tint_groups(_tints(seen), BOXES)] == [3, 1]


def test_tinted_boxes_of_a_picture_may_lack_a_cell() -> None:
    grey = (238, 238, 238)
    both = [cell for box in (BOXES[0], BOXES[3]) for cell in box]
    seen = {str(cell): grey for cell in both}
    assert tint_groups(_tints(seen), BOXES) == []
    del seen["r2c2"]
    assert tint_groups(_tints(seen), BOXES) == []
    del seen["r1c1"]
    assert len(tint_groups(_tints(seen), BOXES)) == 1


def _line_mark(shape: str, paint: tuple[int, int, int], width: float, family: Family = "line") -> Mark:
    seen = Seen(family, paths=((Cell(1, 1), Cell(1, 2)),), shape=shape)
    return Mark(seen, "a line", (), 0.99, "shape", paint=paint, width=width)


def test_a_line_of_the_colour_of_double_ones_is_double_where_the_rules_speak_of_such() -> None:
    grey = (170, 170, 170)
    marks = [_line_mark("outline", BLACK, 0.2)] * 2 + [_line_mark("", BLACK, 0.06), _line_mark("", grey, 0.2)]
    rules = [
        Statement("run-line", {}, MarkHint("line", style="double")),
        Statement("gap-line", {}, MarkHint("line", "grey")),
    ]
    found = settled_looks(marks, rules)
    assert [mark.seen.shape for mark in found] == ["outline", "outline", "outline", ""]
    assert [bool(mark.unsaid) for mark in found] == [False, False, True, False]
    assert [mark.seen.shape for mark in settled_looks(marks, rules[1:])] == ["outline", "outline", "", ""]


@pytest.mark.parametrize(
    ("paint", "called"), [((218, 179, 191), "purple"), ((150, 172, 209), "blue"), ((120, 160, 215), "blue")]
)
def test_a_line_has_not_the_word_of_ringed_lines_of_another_shade(paint: tuple[int, int, int], called: str) -> None:
    # On brown paper a thin purple line looks pink, which is as near to blue.
    blue = (150, 172, 209)
    rules = [
        Statement("between-line", {}, MarkHint("line", "blue")),
        Statement("box-sum-line", {}, MarkHint("line", "purple")),
    ]
    found = settled_looks([_line_mark("", paint, 0.04), _line_mark("", blue, 0.1, "ringed-line")], rules)
    assert [mark.seen.colour for mark in found] == [called, "blue"]


@pytest.mark.parametrize(("circle", "lines"), [(0.0, 0), (0.5, 1)])
def test_a_doubtful_line_without_circles_is_none_where_all_lines_have_them(circle: float, lines: int, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r3c3", Link.LINE), GREY, 0.03)
    chances = _seen_as(sure(labels), "link", (1, 2, 2), {"LINE": 0.6, "NONE": 0.4})
    chances = changed(chances, "node", (0, 1, 2, 2), circle)
    ringed = replace(BETWEEN, ringed_only=True)
    assert len(looked_at(sheet, chances, glyphs, ringed).traces) == lines
    assert len(looked_at(sheet, chances, glyphs, SILENT).traces) == 1


def test_lines_of_a_colour_of_their_own_are_of_one_kind(glyphs) -> None:
    """One of three orange lines looks rather like a tube, and the rules know tubes too, of no such colour."""
    statements = (Statement("run-line", {}, MarkHint("line", "orange")), Statement("thermometer", {}, MarkHint("tube")))
    spoken = spoken_of(RuleSheet(statements))
    assert spoken.by_colour
    orange = (Statement("thermometer", {}, MarkHint("tube", "orange")), statements[0])
    assert not spoken_of(RuleSheet(orange)).by_colour
    assert not spoken_of(RuleSheet((Statement("run-line"), statements[1]))).by_colour
    grey_arrow = Statement("arrow", {}, MarkHint("arrow", "grey"))
    assert spoken_of(RuleSheet((*statements, grey_arrow))).by_colour
    assert not spoken_of(RuleSheet((*orange, grey_arrow))).by_colour
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r1c2 r1c3", "r3c1 r3c2 r3c3", "r5c1 r5c2 r5c3"):
        sheet.path(linked(labels, cells, Link.LINE), (240, 160, 60), 0.12)
    chances = sure(labels)
    for column in (1, 2):
        chances = _seen_as(chances, "link", (0, 5, column), {"TUBE": 0.7, "LINE": 0.3})
    chances = changed(chances, "node", (0, 0, 5, 1), 0.7)
    plain = looked_at(sheet, chances, glyphs, replace(spoken, by_colour=False))
    assert [len(trace.discs) for trace in plain.traces] == [0, 0, 1]
    assert [len(trace.discs) for trace in looked_at(sheet, chances, glyphs, spoken).traces] == [0, 0, 0]


def test_arrows_and_ringed_lines_of_one_grey_are_two_kinds(glyphs) -> None:
    """Four arrows and a line between circles are printed in two colours, which are one in a grey picture."""
    arrows, between = MarkHint("arrow", "purple"), MarkHint("line", "green")
    spoken = spoken_of(RuleSheet((Statement("arrow", {}, arrows), Statement("between-line", {}, between))))
    assert spoken.by_colour
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in (1, 2, 3, 4):
        path = linked(labels, f"r{row}c1 r{row}c2 r{row}c3", Link.SHAFT)
        labels.node[row, 1] |= Node.CIRCLE
        labels.node[row, 3] |= Node.HEAD
        sheet.path(path, GREY, 0.08)
        sheet.circle(path[0].centre, 0.35, GREY)
    ringed = linked(labels, "r6c1 r6c2 r6c3", Link.LINE)
    sheet.path(ringed, GREY, 0.08)
    for end in (ringed[0], ringed[-1]):
        labels.node[end.row, end.column] |= Node.CIRCLE
        sheet.circle(end.centre, 0.35, GREY)
    traces = looked_at(sheet, sure(labels), glyphs, spoken).traces
    assert [(len(trace.discs), len(trace.heads)) for trace in traces] == [(1, 1)] * 4 + [(2, 0)]


def test_two_arrows_of_one_circle_are_no_ringed_line_of_their_grey(glyphs) -> None:
    """More lines than arrows are of this grey, and the two shafts are one drawing with a head at both ends."""
    arrows, between = MarkHint("arrow", "purple"), MarkHint("line", "green")
    spoken = spoken_of(RuleSheet((Statement("arrow", {}, arrows), Statement("between-line", {}, between))))
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in (1, 2, 3):
        path = linked(labels, f"r{row}c1 r{row}c2 r{row}c3 r{row}c4", Link.LINE)
        sheet.path(path, GREY, 0.08)
        for end in (path[0], path[-1]):
            labels.node[end.row, end.column] |= Node.CIRCLE
            sheet.circle(end.centre, 0.35, GREY)
    for cells in ("r6c3 r6c4 r6c5", "r6c3 r6c2 r6c1"):
        path = linked(labels, cells, Link.SHAFT)
        labels.node[path[-1].row, path[-1].column] |= Node.HEAD
        sheet.path(path, GREY, 0.08)
    labels.node[6, 3] = Node.CIRCLE  # where two begin in one circle, neither looks like an end
    sheet.circle(Cell(6, 3).centre, 0.35, GREY)
    traces = looked_at(sheet, sure(labels), glyphs, spoken).traces
    assert sorted((len(trace.discs), len(trace.heads)) for trace in traces) == [(1, 2), (2, 0), (2, 0), (2, 0)]


def test_a_string_of_beads_is_a_line_of_dots() -> None:
    path = ((Cell(1, 1), Cell(1, 2)),)
    assert fits(MarkHint("dot"), Seen("line", paths=path, shape="dashed"))
    assert not fits(MarkHint("dot"), Seen("line", paths=path))


def test_a_disc_in_a_cell_is_a_circle() -> None:
    disc = MarkHint("dot", "grey")
    assert fits(disc, Seen("cell", (Cell(1, 1),), shape="circle", colour="grey"))
    assert not fits(disc, Seen("cell", (Cell(1, 1),), shape="square", colour="grey"))
    assert spoken_of(RuleSheet((Statement("odd", {}, disc),))).cells == {"circle"}


@pytest.mark.parametrize(("ruled", "certain"), [(True, True), (False, False)])
def test_a_number_between_cells_says_the_same_with_and_without_a_dot(ruled: bool, certain: bool, glyphs) -> None:
    """Whether there is a dot around it or a patch of paper, the network cannot tell; where the rules speak of numbers
    there, it need not."""
    chances = {"WHITE_DOT": 0.6, "CHARACTERS": 0.35, "DIAMOND": 0.05}
    spoken = Spoken(edges=frozenset(("text", "white dot", "dark dot")), written=ruled, whole=True)
    sight = Sight((2.0, 1.5), 0, dict.fromkeys(EDGE_LOOKS, 0.0) | chances | {"NONE": 0.0})
    assert written(sight, spoken) > 0.99
    seen = changed(_seen_as(sure(Labels.empty(6, 6)), "edge", (0, 2, 2), chances), "edge_text", (0, 0, 2, 2), 0.9)
    sheet = Sheet()
    sheet.circle((2.0, 1.5), 0.2, BLACK, 0.03)
    (disc,) = looked_at(sheet, seen, glyphs, spoken).discs
    assert (disc.confidence > 0.99) is certain
