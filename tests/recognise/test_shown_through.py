"""Marks of the other side of the paper that show through are no marks."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fixtures.training.lattice_labels import Corner, Edge, Labels, Link, Node
from recognise.evidence import Disc
from recognise.glyphs import GlyphReader
from recognise.marks.lines import Course
from recognise.marks.looking import Looking
from recognise.marks.network import BY_NAME
from recognise.marks.shown_through import (
    FIGURE,
    PALEST,
    PALEST_FIGURE,
    WITH_LINE,
    _ink_at,
    ghosts_of_circles,
    hardly_printed,
    is_no_print,
    is_none_of_them,
    lacks_walls,
    palest_printed,
    printed_looks,
)
from recognise.marks.sights import Sight
from recognise.marks.spoken import Spoken
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, changed, linked, looked_at, sure

BLACK, PALEST_PRINT, GHOST = 0, 200, 243


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _signs(last: int, patch: float = 0.0) -> tuple[Sheet, Labels]:
    """Five signs between cells, the last in another grey, on a patch of paper that reaches so far to both sides."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        x, y, grey = 3.0, row - 0.5, last if row == 5 else BLACK
        if row == 5 and patch:
            sheet.line((x, y - patch), (x, y + patch), (255, 255, 255), 0.16)
        for way in (-0.15, 0.15):
            sheet.line((x - 0.12, y), (x + 0.12, y + way), (grey,) * 3, 0.05)
        labels.edge[0, row, 3] = Edge.SIGN_LEFT
    if not patch:
        sheet.line((3, 0), (3, 6), (BLACK,) * 3, 0.03)  # what shows through lies under the line
    return sheet, labels


@pytest.mark.parametrize(("grey", "marks"), [(BLACK, 5), (PALEST_PRINT, 5), (GHOST, 4)])
def test_a_sign_that_is_hardly_printed_is_told_and_none(glyphs: GlyphReader, grey: int, marks: int) -> None:
    sheet, labels = _signs(grey)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "sign" for shape in evidence.shapes) == marks
    assert any("r5c3 and r5c4 is hardly printed" in note for note in evidence.notes) == (marks == 4)


def test_a_pale_sign_on_a_patch_of_paper_is_printed_on_this_side(glyphs: GlyphReader) -> None:
    """The patch cuts the lattice line off, which what shows through does not."""
    sheet, labels = _signs(GHOST, patch=0.2)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "sign" for shape in evidence.shapes) == 5
    assert not any("hardly printed" in note for note in evidence.notes)


@pytest.mark.parametrize(("dots", "grey", "marks"), [(4, GHOST, 0), (0, GHOST, 1), (4, PALEST_PRINT, 1)])
def test_a_dot_that_shows_through_is_no_mark_of_another_kind(
    glyphs: GlyphReader, dots: int, grey: int, marks: int
) -> None:
    """The network is sure that it is no plain dot. Where none stands beside it, it may be printed so pale."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((3, 5.5), 0.14, (grey,) * 3, 0)
    sheet.line((3, 5), (3, 6), (BLACK,) * 3, 0.03)
    labels.edge[0, 6, 3] = Edge.OTHER
    for row in range(1, dots + 1):
        sheet.circle((3, row - 0.5), 0.14, (BLACK,) * 3, 0)
        labels.edge[0, row, 3] = Edge.DARK_DOT
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "mark" for shape in evidence.shapes) == marks


@pytest.mark.parametrize(("greys", "marks"), [((215, 205), 0), ((215, 180), 1), ((190, 190), 2)])
def test_marks_of_no_kind_as_pale_as_those_that_surely_show_through_do_so_too(
    glyphs: GlyphReader, greys: tuple[int, int], marks: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row, grey in enumerate((*greys, BLACK, BLACK, BLACK, BLACK), 1):
        sheet.circle((3, row - 0.5), 0.14, (grey,) * 3, 0)
        labels.edge[0, row, 3] = Edge.DARK_DOT if grey == BLACK else Edge.OTHER
    sheet.line((3, 0), (3, 6), (BLACK,) * 3, 0.03)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "mark" for shape in evidence.shapes) == marks
    assert any("hardly printed" in note for note in evidence.notes) == (marks < 2)


@pytest.mark.parametrize(("grey", "circles"), [(GHOST, 4), (PALEST_PRINT, 5)])
def test_a_circle_on_a_corner_that_is_hardly_printed_is_asked_about(
    glyphs: GlyphReader, grey: int, circles: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row, ink in enumerate((BLACK, BLACK, BLACK, BLACK, grey), 1):
        sheet.circle((3, row), 0.25, (255, 255, 255), 0)
        sheet.circle((3, row), 0.25, (ink,) * 3, 0.03)
        labels.corner[row, 3] = Corner.CIRCLE
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert len(evidence.discs) == circles
    words = "what looks like a circle on the lower right corner of r5c3 is hardly printed"
    assert (words in evidence.notes) == (circles == 4)


@pytest.mark.parametrize(("gap", "cut"), [(0.1, True), (0.48, True), (0.6, False)])
def test_a_thick_line_is_cut_off_by_a_gap_that_its_blur_half_fills(gap: float, cut: bool) -> None:
    whole = np.zeros((320, 320), np.float32)
    whole[:, 152:169] = 0.92
    for middle in (143, 177):
        whole[middle - 2 : middle + 3] = np.minimum(whole[middle - 2 : middle + 3], gap)
    looking = Looking(whole, whole, np.ones((320, 320, 3), np.float32), Raster(1, 1, 160, 80), 0.05, None)  # type: ignore[arg-type]
    assert looking.is_cut((0.5, 0.5), upright=True) == cut


@pytest.mark.parametrize(("patch", "cut"), [(18, True), (0, False)])
def test_a_line_is_cut_off_by_a_patch_though_a_circle_on_the_next_corner_hides_it_farther_out(
    patch: int, cut: bool
) -> None:
    whole = np.zeros((320, 320), np.float32)
    whole[:, 156:165] = 0.8
    whole[160 - patch : 160 + patch] = 0.0
    whole[206:] = 0.15  # the pale ground of the circle, which covers the line
    looking = Looking(whole, whole, np.ones((320, 320, 3), np.float32), Raster(1, 1, 160, 80), 0.05, None)  # type: ignore[arg-type]
    assert looking.is_cut((0.5, 0.5), upright=True) == cut


def test_where_all_are_as_pale_they_are_what_is_printed(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        sheet.circle((3.0, row - 0.5), 0.12, (240, 240, 240), 0)
        labels.edge[0, row, 3] = Edge.DARK_DOT
    assert len(looked_at(sheet, sure(labels), glyphs).discs) == 5


def test_a_thick_rim_makes_no_light_dot_dark(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2.0, 1.5), 0.1, (0, 0, 0), 0.03)
    labels.edge[0, 2, 2] = Edge.WHITE_DOT
    told = changed(sure(labels), "edge", (0, Edge.WHITE_DOT, 2, 2), 0.6)
    (disc,) = looked_at(sheet, told, glyphs).discs
    assert disc.fill == (255, 255, 255)


@pytest.mark.parametrize(("grey", "chance", "faded"), [(150, 0.9, False), (GHOST, 0.9, True), (GHOST, 0.998, False)])
def test_a_number_in_doubt_that_is_hardly_printed_is_none_where_others_are(
    glyphs: GlyphReader, grey: int, chance: float, faded: bool
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        x, y, shade = 3.0, row - 0.5, grey if row == 5 else BLACK
        for below in (-0.08, 0.08):
            sheet.circle((x, y + below), 0.08, (shade,) * 3, 0.05)
        labels.edge[0, row, 3] = Edge.CHARACTERS
    sheet.line((3, 0), (3, 6), (BLACK,) * 3, 0.03)  # what shows through lies under the line
    told = changed(sure(labels), "edge", (0, Edge.CHARACTERS, 5, 3), chance)
    notes = looked_at(sheet, told, glyphs).notes
    assert any("r5c3 and r5c4 is hardly printed" in note for note in notes) == faded


@pytest.mark.parametrize("upright", [True, False])
def test_a_number_that_goes_with_a_thick_line_shows_beside_it(upright: bool) -> None:
    """Where the line is taken out, nothing is left of the number: `drawn` is bare."""
    bare = np.zeros((320, 320), np.float32)
    for ink, shows in ((0.5, True), (0.08, False)):
        whole = bare.copy()
        whole[120:200, 150:171] = ink
        whole[:, 156:165] = 0.9
        whole = whole if upright else np.ascontiguousarray(whole.T)
        looking = Looking(whole, bare, np.ones((320, 320, 3), np.float32), Raster(1, 1, 160, 80), 0.05, None)  # type: ignore[arg-type]
        assert (looking.beside_line((0.5, 0.5), upright=upright) > PALEST_FIGURE) == shows


@pytest.mark.parametrize(("ink", "printed_here"), [(0.6, True), (0.06, False)])
def test_a_small_letter_that_goes_with_a_thin_line_is_darker_than_that(ink: float, printed_here: bool) -> None:
    bare = np.zeros((320, 320), np.float32)
    whole = bare.copy()
    whole[:, 158:162] = 0.5
    whole[::20] = 0.0  # its dashes
    for way in (-1, 1):
        for along in range(-8, 9):
            at = 160 + way * along // 2
            whole[160 + along, at - 1 : at + 1] = np.maximum(whole[160 + along, at - 1 : at + 1], ink)
    looking = Looking(whole, bare, np.ones((320, 320, 3), np.float32), Raster(1, 1, 160, 80), 0.05, None)  # type: ignore[arg-type]
    assert (looking.over_line((0.5, 0.5), upright=True) > PALEST_FIGURE) == printed_here
    turned = replace(looking, whole=np.ascontiguousarray(whole.T))
    assert (turned.over_line((0.5, 0.5), upright=False) > PALEST_FIGURE) == printed_here
    sight = Sight((0.5, 0.5), 0, {"CHARACTERS": 0.95, "NONE": 0.05})
    assert (_ink_at(sight, FIGURE, looking) > PALEST_FIGURE) == printed_here


@pytest.mark.parametrize(("ink", "frame"), [(0.5, 0), (0.5, 18), (0.08, 0), (0.08, 18)])
def test_a_small_sign_of_which_hardly_the_ends_stand_out_of_a_thick_line(ink: float, frame: int) -> None:
    """Also beside the frame, which is as dark as nothing farther along the line."""
    bare = np.zeros((320, 320), np.float32)
    whole = bare.copy()
    for along in range(-14, 15):
        at = 168 - abs(along) // 3
        whole[160 + along, at - 2 : at] = ink
    whole[:, 152:165] = 0.9
    whole[: 80 + frame] = 0.9 if frame else whole[:80]
    looking = Looking(whole, bare, np.ones((320, 320, 3), np.float32), Raster(1, 1, 160, 80), 0.05, None)  # type: ignore[arg-type]
    sight = Sight((0.5, 0.5), 0, {"SIGN_RIGHT": 0.95, "NONE": 0.05})
    assert (_ink_at(sight, WITH_LINE, looking) > PALEST) == (ink > PALEST)


@pytest.mark.parametrize(("shade", "marks"), [(BLACK, 5), (GHOST, 4)])
def test_a_sign_that_goes_with_a_thick_line_is_printed_where_it_shows_beside_it(
    glyphs: GlyphReader, shade: int, marks: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        # The last stands on a thick line, and next to nothing of it is left without that.
        x, y = (2.0, row - 0.5) if row < 5 else (3.0, 4.5)
        for way in (-0.09, 0.09):
            grey = shade if row == 5 else BLACK
            sheet.line((x - 0.06, y), (x + 0.07, y + way), (grey,) * 3, 0.04)
        labels.edge[0, row, round(x)] = Edge.SIGN_LEFT
    sheet.line((3, 0), (3, 6), (BLACK,) * 3, 0.08)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "sign" for shape in evidence.shapes) == marks


@pytest.mark.parametrize(("grey", "chance", "ways"), [(190, 0.8, 2), (GHOST, 1.0, 2), (GHOST, 0.8, 1)])
def test_a_diagonal_in_doubt_without_ink_is_none_where_the_other_is_plain(
    glyphs: GlyphReader, grey: int, chance: float, ways: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.line((0, 6), (6, 0), (120,) * 3, 0.04)
    sheet.line((0, 0), (6, 6), (grey,) * 3, 0.04)
    told = sure(labels)
    classes = BY_NAME["node"].classes
    for n in range(1, 7):
        told = changed(told, "node", (0, classes.index("UP"), 7 - n, n), 0.99)
        told = changed(told, "node", (0, classes.index("DOWN"), n, n), chance)
    evidence = looked_at(sheet, told, glyphs)
    assert sum(shape.name == "diagonal" for shape in evidence.shapes) == ways
    assert any("line down from corner to corner is hardly printed" in note for note in evidence.notes) == (ways == 1)


def _line(cells: str, *strokes: Stroke) -> Course:
    path = [Cell.parse(cell) for cell in cells.split()]
    told = {"LINE": 0.99, "SHAFT": 0.0, "TUBE": 0.0}
    steps = (Step(*sorted(pair), told, stroke) for pair, stroke in zip(pairwise(path), strokes, strict=True))
    return Course("LINE", tuple(steps))


BARE = Stroke(0.0, (0.998, 0.997, 0.997), 0.0, 0.0, outlined=False, dashed=False, strong=False)
BY_A_NUMBER = Stroke(0.17, (0.56, 0.53, 0.51), 0.09, 0.54, outlined=False, dashed=True, strong=False)
PLAIN = Stroke(0.06, (0.65, 0.63, 0.63), 0.36, 1.0, outlined=False, dashed=False)
DARK = Stroke(0.09, (0.27, 0.66, 0.45), 0.72, 1.0, outlined=False, dashed=False)
FAINT = Stroke(0.05, (0.92, 0.92, 0.93), 0.075, 0.2, outlined=False, dashed=True, strong=False)


@pytest.mark.parametrize(
    ("strokes", "beside", "faded"),
    [
        ((BY_A_NUMBER, BARE), PLAIN, True),
        ((BY_A_NUMBER, BARE), BY_A_NUMBER, False),  # nothing of its page is plainer
        ((PLAIN, BARE), PLAIN, False),
        ((BY_A_NUMBER, BY_A_NUMBER, BARE), PLAIN, False),
        ((FAINT, FAINT), DARK, True),
        ((FAINT, FAINT), PLAIN, False),  # a fifth of that is as pale
    ],
)
def test_ink_of_a_number_on_its_way_makes_no_line(strokes: tuple[Stroke, ...], beside: Stroke, faded: bool) -> None:
    line = _line("r4c3 r4c4 r5c4 r6c4"[: 5 * len(strokes) + 4], *strokes)
    assert hardly_printed(line, [line, _line("r1c1 r1c2", beside)]) == faded


SHOWN = Stroke(0.08, (0.93, 0.94, 0.94), 0.067, 0.7, outlined=False, dashed=True, strong=False)
CROSSED = Stroke(0.08, (0.53, 0.55, 0.56), 0.47, 0.17, outlined=False, dashed=True, open=0.17)


@pytest.mark.parametrize(
    ("own", "beside", "told", "paler"),
    [
        (SHOWN, DARK, 1, True),
        (SHOWN, replace(PLAIN, shade=(0.7, 0.7, 0.7)), 1, False),  # a fifth of that is as pale
        (SHOWN, DARK, 2, False),  # it may be of the other kind
        (SHOWN, DARK, 0, False),  # nobody knows what the rules say
        (replace(SHOWN, strong=True), DARK, 1, False),
        (CROSSED, DARK, 1, True),
        (CROSSED, DARK, 2, False),
    ],
)
def test_what_is_far_paler_than_the_lines_of_all_kinds_on_a_page_is_none(
    own: Stroke, beside: Stroke, told: int, paler: bool
) -> None:
    lines = [_line("r1c1 r1c2 r1c3 r1c4 r1c5", *[beside] * 4), _line("r3c1 r3c2 r3c3", own, own)]
    steps = [replace(step, chance=step.chance | {"LINE": 0.999}) for line in lines for step in line.steps]
    assert is_none_of_them(lines[1], palest_printed(printed_looks(steps, told))) == paler


@pytest.mark.parametrize("grey", [GHOST, 90])
def test_an_arrow_that_shows_through_has_neither_circle_nor_outline(glyphs: GlyphReader, grey: int) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row, shade in ((1, 40), (3, 40), (5, grey)):
        path = linked(labels, f"r{row}c2 r{row}c3 r{row}c4 r{row}c5", Link.SHAFT)
        sheet.path(path, (shade,) * 3, 0.05)
        sheet.circle(path[0].centre, 0.3, (255,) * 3, 0)
        sheet.circle(path[0].centre, 0.3, (shade,) * 3, 0.05)
        labels.node[row, 2] |= Node.CIRCLE | Node.OUTLINED
        labels.node[row, 5] |= Node.HEAD
    evidence = looked_at(sheet, sure(labels), glyphs, Spoken(links=frozenset(("SHAFT",)), lines=1, whole=True))
    assert (len(evidence.traces), len(evidence.discs)) == ((2, 0) if grey == GHOST else (3, 0))


def test_a_line_has_the_colour_of_the_steps_that_no_dot_hides(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r3c2 r3c1 r4c2", Link.LINE)
    sheet.path(path, (224, 150, 108), 0.08)
    for cell in (path[0], path[-1]):
        sheet.circle(cell.centre, 0.25, (255,) * 3, 0)
        sheet.circle(cell.centre, 0.25, (224, 150, 108), 0.05)
        labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    sheet.circle((1.0, 2.5), 0.2, (20,) * 3, 0)
    labels.edge[0, 3, 1] = Edge.DARK_DOT
    (line,) = looked_at(sheet, sure(labels), glyphs).traces
    assert line.colour[0] > 200


def test_a_line_that_another_crosses_is_as_dark_as_beside_it(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r3c1 r3c2 r4c3", Link.LINE), (225,) * 3, 0.08)
    sheet.path(linked(labels, "r5c1 r4c2 r3c3", Link.LINE), (60,) * 3, 0.16)
    pale = next(trace for trace in looked_at(sheet, sure(labels), glyphs).traces if Cell(3, 1) in trace.nodes)
    assert min(pale.colour) > 200


@pytest.mark.parametrize("printed", [True, False])
def test_circles_without_ink_are_none_where_those_of_lines_are_plain(glyphs: GlyphReader, printed: bool) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for cells in ("r1c1 r1c2 r1c3", "r2c1 r2c2 r2c3"):
        path = linked(labels, cells, Link.LINE)
        sheet.path(path, (120,) * 3, 0.08)
        for cell in (path[0], path[-1]):
            sheet.circle(cell.centre, 0.3, (255,) * 3, 0)
            sheet.circle(cell.centre, 0.3, (120,) * 3, 0.05)
            labels.node[cell.row, cell.column] |= Node.CIRCLE | Node.OUTLINED
    alone = Cell(5, 5)
    sheet.circle(alone.centre, 0.3, (120 if printed else 253,) * 3, 0.05)
    labels.node[alone.row, alone.column] |= Node.CIRCLE | Node.OUTLINED
    assert len(looked_at(sheet, sure(labels), glyphs).discs) == printed


@pytest.mark.parametrize(("grey", "rules", "ways"), [(GHOST, True, 0), (GHOST, False, 2), (190, True, 2)])
def test_faint_diagonals_are_none_where_the_rules_speak_of_none(
    glyphs: GlyphReader, grey: int, rules: bool, ways: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for n in range(1, 7):
        labels.node[n, n] |= Node.DOWN
        labels.node[7 - n, n] |= Node.UP
    sheet.line((0, 6), (6, 0), (grey,) * 3, 0.04)
    sheet.line((0, 0), (6, 6), (grey,) * 3, 0.04)
    evidence = looked_at(sheet, sure(labels), glyphs, Spoken(no_diagonals=rules))
    assert sum(shape.name == "diagonal" for shape in evidence.shapes) == ways


@pytest.mark.parametrize(("grey", "circles", "marks"), [(250, True, 2), (250, False, 0), (120, False, 2)])
def test_faint_circles_and_capsules_are_none_where_the_rules_speak_of_none(
    glyphs: GlyphReader, grey: int, circles: bool, marks: int
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r1c1 r1c2 r1c3", Link.LINE), (BLACK,) * 3, 0.08)
    linked(labels, "r5c4 r5c5", Link.CAPSULE)
    sheet.circle((2.5, 2.5), 0.3, (grey,) * 3, 0.05)
    labels.node[3, 3] |= Node.CIRCLE | Node.OUTLINED
    for y in (4.15, 4.85):
        sheet.line((3.15, y), (4.85, y), (grey,) * 3, 0.04)
    sheet.circle((3.5, 4.5), 0.2, (BLACK,) * 3, 0.08)  # a digit in it
    known = frozenset(("LINE", "SHAFT") if circles else ("LINE",))
    evidence = looked_at(sheet, sure(labels), glyphs, Spoken(links=known, circles=circles))
    assert len(evidence.discs) + sum(shape.name == "capsule" for shape in evidence.shapes) == marks


@pytest.mark.parametrize(
    ("grey", "rim", "ghosts"), [(241, False, []), (254, False, [Cell(6, 6)]), (241, True, [Cell(6, 6)])]
)
def test_the_ground_of_a_filled_circle_is_its_ink_also_where_its_rim_was_not_found(
    grey: int, rim: bool, ghosts: list[Cell]
) -> None:
    pale = (240, 240, 240)
    circles = {Cell(n, n): (Disc(Cell(n, n).centre, 0.33, pale, None, "shape"), True) for n in range(1, 6)}
    circles[Cell(6, 6)] = (Disc((5.5, 5.5), 0.38, (grey,) * 3, (grey,) * 3 if rim else None, "shape"), False)
    assert ghosts_of_circles(circles, {}) == ghosts


@pytest.mark.parametrize(
    ("grey", "rim", "others", "none"),
    [(252, False, 5, True), (250, False, 5, False), (252, True, 5, False), (252, False, 2, False)],
)
def test_the_ground_of_a_circle_far_paler_than_all_printed_ones_needs_no_second_look(
    grey: int, rim: bool, others: int, none: bool
) -> None:
    printed = [Disc((n + 0.5, 0.5), 0.33, (240, 240, 240), None, "shape") for n in range(others)]
    ghost = Disc((5.5, 5.5), 0.38, (grey,) * 3, (grey,) * 3 if rim else None, "shape")
    assert is_no_print(ghost, printed) == none


TUBE = Stroke(0.39, (0.47, 0.41, 0.36), 0.62, 1.0, outlined=True, dashed=False)
CROSSED = replace(TUBE, width=0.05, inked=0.12, outlined=False, walled=0.4)


@pytest.mark.parametrize(
    ("step", "others", "expected"),
    [
        (CROSSED, [TUBE, TUBE, CROSSED], True),
        (CROSSED, [TUBE, CROSSED], False),  # that may be how the tubes of the page are measured
        (replace(CROSSED, walled=1.0), [TUBE, TUBE], False),  # at a sharp bend the walls lie askew
        (replace(CROSSED, inked=1.0), [TUBE, TUBE], False),
    ],
)
def test_a_step_of_a_hollow_tube_without_walls_shows_through(
    step: Stroke, others: list[Stroke], expected: bool
) -> None:
    assert lacks_walls(step, others) == expected


def test_the_walls_of_a_step_are_looked_for_to_its_sides(glyphs: GlyphReader) -> None:
    """A step that the network is sure of leaves the tube that it would go on from, and is asked about."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r2c3 r2c4 r2c5", Link.TUBE)
    linked(labels, "r2c5 r3c6", Link.TUBE)
    sheet.path(path, (BLACK,) * 3, 0.36)
    sheet.path(path, (255,) * 3, 0.3)
    labels.node[2, 2] |= Node.BULB
    labels.node[3, 6] |= Node.END
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert [len(trace.links) for trace in evidence.traces] == [3]
