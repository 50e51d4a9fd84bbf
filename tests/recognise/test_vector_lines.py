"""Drawn lines of every look: the same path, whatever the pen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np
import pytest
from reportlab.lib.colors import Color
from shapely.geometry import LineString
from shapely.ops import substring

from schema.cells import Cell
from tests.recognise.drawn_pages import Sheet, ends

WAY = "r3c3 r3c4 r4c5 r5c5 r6c4"
RED, GREY = "#cc3333", "#c0c0c0"

pytestmark = pytest.mark.usefixtures("grid_first")


def steps(way: str) -> Iterator[tuple[np.ndarray, np.ndarray, float]]:
    """Start of each step, its direction, its length."""
    for one, other in pairwise(map(np.array, ends(way))):
        length = float(np.hypot(*(other - one)))
        yield one, (other - one) / length, length


def thin(sheet: Sheet) -> None:
    sheet.line(ends(WAY), 0.01, RED)


def thin_area(sheet: Sheet) -> None:
    """The outline of a hairline, filled."""
    there = ends(WAY)
    sheet.area([*there, *((x + 0.006, y - 0.006) for x, y in reversed(there))], RED)


def thick(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    sheet.line(ends(WAY), 0.4, GREY)


def dash_array(sheet: Sheet) -> None:
    sheet.canvas.setDash(3, 2)
    sheet.line(ends(WAY), 0.05, RED)
    sheet.canvas.setDash()


def dot_array(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setDash(0.01, 3)
    sheet.line(ends(WAY), 0.07, RED)
    sheet.canvas.setDash()


def single_dashes(sheet: Sheet) -> None:
    for start, way, length in steps(WAY):
        for at in np.arange(0, length - 0.05, 0.18):
            sheet.line([tuple(start + way * at), tuple(start + way * min(at + 0.1, length))], 0.05, RED)


def filled_dashes(sheet: Sheet) -> None:
    for start, way, length in steps(WAY):
        aside = np.array((-way[1], way[0])) * 0.025
        for at in np.arange(0, length - 0.05, 0.18):
            one, other = start + way * at, start + way * min(at + 0.1, length)
            sheet.area([tuple(p) for p in (one + aside, other + aside, other - aside, one - aside)], RED)


def outlined_dashes(sheet: Sheet, way: str = WAY, colour: str = RED) -> None:
    """The outlines of dashes, bent where the line bends, filled: what programs make of a dashed stroke."""
    line = LineString(ends(way))
    for at in np.arange(0, line.length, 0.36):
        dash = substring(line, at, min(at + 0.22, line.length)).buffer(0.05, cap_style="flat", join_style="mitre")
        sheet.area(list(dash.exterior.coords)[:-1], colour)


def dashes_of_one_path(sheet: Sheet) -> None:
    """The same as one path: the boxes of slanting dashes overlap, the dashes do not."""
    line, path = LineString(ends(WAY)), sheet.canvas.beginPath()
    for at in np.arange(0, line.length, 0.26):
        dash = substring(line, at, min(at + 0.16, line.length)).buffer(0.065, cap_style="flat", join_style="round")
        for number, point in enumerate(list(dash.exterior.coords)[:-1]):
            (path.lineTo if number else path.moveTo)(*sheet.at(*point))
        path.close()
    sheet.canvas.setFillColor(RED)
    sheet.canvas.drawPath(path, stroke=0, fill=1)


def single_dots(sheet: Sheet) -> None:
    for start, way, length in steps(WAY):
        for at in np.arange(0, length - 0.05, 0.18):
            sheet.disc(*(start + way * at), 0.04, RED)


def double(sheet: Sheet) -> None:
    for aside in (0.05, -0.05):
        line = LineString(ends(WAY)).offset_curve(aside, join_style="mitre")
        sheet.line(list(line.coords), 0.025, RED)


def double_by_white(sheet: Sheet) -> None:
    sheet.line(ends(WAY), 0.16, RED)
    sheet.line(ends(WAY), 0.1, "#ffffff")


def wavy(sheet: Sheet) -> None:
    points = []
    for start, way, length in steps(WAY):
        aside = np.array((-way[1], way[0]))
        points += [
            tuple(start + way * t + aside * 0.07 * np.sin(8 * np.pi * t / length)) for t in np.arange(0, length, 0.03)
        ]
    sheet.line(points, 0.04, RED)


def step_by_step(sheet: Sheet) -> None:
    for one, other in pairwise(ends(WAY)):
        sheet.line([one, other], 0.05, RED)


def short_strokes(sheet: Sheet) -> None:
    for start, way, length in steps(WAY):
        for k in range(6):
            sheet.line([tuple(start + way * length * k / 6), tuple(start + way * length * (k + 1) / 6)], 0.05, RED)


def filled_outline(sheet: Sheet) -> None:
    area = LineString(ends(WAY)).buffer(0.1, cap_style="round")
    sheet.area(list(area.exterior.coords), GREY)


BROKEN = (dash_array, dot_array, single_dashes, filled_dashes, outlined_dashes, dashes_of_one_path, single_dots)
MAKES: tuple[Callable[[Sheet], None], ...] = (
    *BROKEN, thin, thin_area, thick, double, double_by_white, wavy, step_by_step, short_strokes, filled_outline,
)  # fmt: skip


@pytest.mark.parametrize("make", MAKES, ids=lambda make: make.__name__)
def test_a_line_is_the_same_in_every_look(sheet, make):
    make(sheet)
    found = sheet.evidence()
    (trace,) = found.traces
    assert " ".join(map(str, trace.nodes)) == WAY
    assert trace.links == ((0, 1), (1, 2), (2, 3), (3, 4))
    assert trace.dashed == (make in BROKEN)
    assert trace.colour == ((192, 192, 192) if make in (thick, filled_outline) else (204, 51, 51))
    assert not (trace.discs or trace.heads or trace.ambiguous)
    assert not (found.shapes or found.discs or found.unexplained)


@pytest.mark.parametrize("colour", [RED, "#000000"])
@pytest.mark.parametrize(
    ("fill", "to_rim"), [("#ffffff", False), ("#e8e8e8", False), ("#ffffff", True), ("#e8e8e8", True), (None, True)]
)
def test_rings_at_both_ends_belong_to_their_line(sheet, colour, fill, to_rim):
    points = [np.array(point) for point in ends(WAY)]
    if to_rim:
        for end, inner in ((0, 1), (-1, -2)):
            way = points[inner] - points[end]
            points[end] = points[end] + way / np.hypot(*way) * 0.35
    sheet.line([tuple(point) for point in points], 0.06, RED)
    for cell in (WAY.split(maxsplit=1)[0], WAY.rsplit(maxsplit=1)[-1]):
        sheet.disc(*ends(cell)[0], 0.35, fill, colour, 0.04)
    found = sheet.evidence()
    (trace,) = found.traces
    assert len(trace.links) == 4
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r3c3", "r6c4"]
    assert not (found.shapes or found.discs or found.unexplained)


def test_dashes_go_on_under_the_rings_and_dots_that_are_painted_on_them(sheet):
    way = "r3c3 r3c4 r4c5 r4c6 r4c7"
    outlined_dashes(sheet, way, GREY)
    for cell in ("r3c3", "r4c7"):
        sheet.disc(*ends(cell)[0], 0.35, "#eeeeee", "#888888", 0.04)
    sheet.disc(5, 3.5, 0.14, "#000000")
    found = sheet.evidence()
    (trace,) = found.traces
    assert " ".join(map(str, trace.nodes)) == way
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r3c3", "r4c7"]
    assert [disc.radius for disc in found.discs] == pytest.approx([0.14], abs=0.01)
    assert not (found.shapes or found.unexplained or found.notes)


def test_a_disc_on_which_dashes_run_is_no_end_of_theirs(sheet):
    sheet.disc(*ends("r3c3")[0], 0.35, "#dddddd")
    outlined_dashes(sheet, "r3c3 r3c4 r3c5")
    (trace,) = sheet.evidence().traces
    assert not trace.discs


def test_large_dots_in_a_row_are_a_line(sheet):
    for start, way, length in steps(WAY):
        for at in np.arange(0, length, 0.25):
            sheet.disc(*(start + way * at), 0.085, RED)
    found = sheet.evidence()
    assert [" ".join(map(str, trace.nodes)) for trace in found.traces] == [WAY]
    assert not found.discs


def test_lines_that_cross_or_overlap_stay_apart(sheet):
    ways = ("r2c2 r3c3 r4c4", "r2c4 r3c3 r4c2", "r6c2 r6c3 r6c4 r6c5", "r5c3 r6c3 r7c3")
    for way in ways:
        sheet.line(ends(way), 0.1, RED)
    traces = sheet.evidence().traces
    assert sorted(tuple(map(str, trace.nodes)) for trace in traces) == sorted(tuple(sorted(w.split())) for w in ways)


def test_a_mark_in_the_cell_at_the_end_of_a_line_is_not_its_own(sheet):
    sheet.line(ends("r2c2 r2c3 r2c4"), 0.06, RED)
    sheet.disc(3.5, 1.5, 0.4, "#bbbbbb")
    found = sheet.evidence()
    (trace,) = found.traces
    assert not trace.discs
    assert len(found.discs) == 1


def test_small_pieces_that_lead_nowhere_are_shown(sheet):
    for x in (2.4, 2.9, 5.3):
        sheet.line([(x, 1.5), (x + 0.1, 1.5)], 0.04, RED)
    found = sheet.evidence()
    assert not found.traces
    assert len(found.shapes) == 3


def test_waves_that_cross_make_no_line_of_their_own(sheet: Sheet) -> None:
    for way in ("r5c2 r6c3 r7c4 r7c5", "r6c1 r6c2 r5c3 r4c4"):
        points = []
        for start, along, length in steps(way):
            for share in np.arange(0, length, 0.03):
                lean = 0.06 * np.sin(2 * np.pi * share / 0.3)
                points.append(tuple(start + along * share + np.array((-along[1], along[0])) * lean))
        sheet.line(points, 0.09, RED)
    found = sheet.evidence().traces
    assert sorted(len(trace.nodes) for trace in found) == [4, 4]


def test_wide_single_dashes_are_a_line(sheet: Sheet) -> None:
    for start, way, length in steps(WAY):
        for at in np.arange(0, length - 0.1, 0.38):
            sheet.line([tuple(start + way * at), tuple(start + way * min(at + 0.19, length))], 0.34, GREY)
    found = sheet.evidence()
    assert [len(trace.nodes) for trace in found.traces] == [5]
    assert not found.shapes


@pytest.mark.parametrize("reach", [0.03, 0.08])
def test_a_wave_between_rings_is_one_line_and_may_be_drawn_twice(sheet: Sheet, reach: float) -> None:
    way: list[tuple[float, float]] = [ends(WAY)[0]]
    for start, direction, length in steps(WAY):
        for share in np.linspace(0, length, 49)[1:]:
            lean = reach * np.sin(2 * np.pi * share / length * 4)
            x, y = start + direction * share + np.array((-direction[1], direction[0])) * lean
            way.append((float(x), float(y)))
    for width in (0.09, 0.07):
        sheet.line(way, width, RED)
    for x, y in (way[0], way[-1]):
        sheet.disc(x, y, 0.3, "#ffffff", RED)
    found = sheet.evidence()
    (trace,) = found.traces
    assert sorted(map(str, trace.nodes)) == sorted(WAY.split())
    assert trace.sway == pytest.approx(reach, abs=0.02)
    assert not found.unexplained


@pytest.mark.parametrize("radius", [0.12, 0.3])
def test_bends_drawn_as_curves_are_bends_in_the_middle_of_their_cells(sheet: Sheet, radius: float) -> None:
    there = [np.array(point) for point in ends(WAY)]
    way = [tuple(there[0])]
    for before, at, after in zip(there, there[1:], there[2:], strict=False):
        first, last = (at + (other - at) / np.hypot(*(other - at)) * radius for other in (before, after))
        way += [tuple((1 - t) ** 2 * first + 2 * t * (1 - t) * at + t**2 * last) for t in np.linspace(0, 1, 9)]
    sheet.line([*way, tuple(there[-1])], 0.03, RED)
    found = sheet.evidence()
    (trace,) = found.traces
    assert " ".join(map(str, trace.nodes)) == WAY
    assert trace.links == ((0, 1), (1, 2), (2, 3), (3, 4))
    assert not (found.shapes or found.unexplained)


def test_discs_that_are_filled_and_stroked_in_the_colour_of_a_line_round_its_bends(sheet: Sheet) -> None:
    sheet.grid()
    there = ends(WAY)
    for step in pairwise(there):
        sheet.line(list(step), 0.17, GREY)
    for x, y in there:
        sheet.disc(x, y, 0.085, GREY, GREY, 0.008)
    found = sheet.evidence()
    (trace,) = found.traces
    assert sorted(map(str, trace.nodes)) == sorted(WAY.split())
    assert not found.discs


def test_a_narrower_line_of_another_colour_along_a_line_is_its_core(sheet: Sheet) -> None:
    sheet.grid()
    for width, colour in ((0.26, "#8fb8e0"), (0.08, "#2d5d8f")):
        sheet.line(ends("r2c2 r2c3 r3c4"), width, colour)
    sheet.line(ends("r6c2 r6c3 r6c4"), 0.26, "#8fb8e0")
    cored = {trace.nodes[0].row: trace.cored for trace in sheet.evidence().traces}
    assert cored == {2: True, 6: False}


def test_the_halo_of_a_figure_in_a_ring_is_no_other_grid(sheet: Sheet) -> None:
    # A 1 with a foot and a cap: two upright and two level sides.
    x, y = ends("r9c7")[0]
    foot, cap, thick, high = 0.09, 0.05, 0.025, 0.14
    one = [(x - foot, y + high), (x + foot, y + high), (x + foot, y + high - 0.02), (x + thick, y + high - 0.02)]
    one += [(x + thick, y - high), (x - cap, y - high), (x - cap, y - high + 0.02), (x - thick, y - high + 0.02)]
    one += [(x - thick, y + high - 0.02), (x - foot, y + high - 0.02)]
    sheet.line(ends("r8c5 r8c6 r8c7 r8c8 r9c7"), 0.1, "#777777")
    for centre in ends("r8c5 r9c7"):
        sheet.disc(*centre, 0.36, "#ffffff", "#777777")
    sheet.line(one, 0.09, "#ffffff", closed=True)
    (found,) = sheet.evidence().traces
    assert len(found.discs) == 2 and len(found.nodes) == 5


def test_the_strokes_that_hatch_a_line_are_no_lines_of_their_own(sheet):
    """One of them runs along a slanting step from cell to cell."""
    way = ends("r3c3 r4c4 r4c5")
    sheet.line(way, 0.22, GREY)
    for off in (-0.06, 0.0, 0.06):
        sheet.line([(2.5 + off, 2.5 - off), (3.5 + off, 3.5 - off)], 0.02, GREY)
    found = sheet.evidence()
    assert [trace.nodes for trace in found.traces] == [tuple(map(Cell.parse, ["r3c3", "r4c4", "r4c5"]))]
    assert not found.shapes and not found.unexplained


@pytest.mark.parametrize(("rim", "own"), [("#9dbb6a", True), ("#333333", False), ("#6a9dbb", False)])
def test_small_rings_in_the_full_colour_of_a_line_that_lets_paper_through_are_its_ends(sheet, rim, own):
    sheet.line(ends("r3c3 r3c4 r4c5"), 0.14, Color(157 / 255, 187 / 255, 106 / 255, 0.5))
    for x, y in (ends("r3c3")[0], ends("r4c5")[0]):
        sheet.disc(x, y, 0.16, "#e4e4e4", rim, 0.06)
    found = sheet.evidence()
    (line,) = found.traces
    assert bool(line.discs) == own and len(found.discs) == (0 if own else 2)


def test_a_line_that_runs_through_the_circles_of_another_ends_in_its_own(sheet):
    ways = ("r2c2 r2c3 r3c3 r4c3 r4c4", "r3c3 r3c4 r4c3")
    for way in ways:
        sheet.line(ends(way), 0.06, RED)
    for way in ways:
        for x, y in ends(way)[:: len(way.split()) - 1]:
            sheet.disc(x, y, 0.23, "#ffd2b0", RED)
    found = sheet.evidence()
    circled = {" ".join(map(str, trace.nodes)): len(trace.discs) for trace in found.traces}
    assert circled == dict.fromkeys(ways, 2)
    assert not found.discs


def test_a_dash_under_the_plate_of_a_number_on_an_edge_is_of_its_line(sheet):
    sheet.line([(1.5, 1.5), (2.5, 1.5)], 0.08, RED)
    for x in np.arange(1.5, 3.4, 0.35):
        sheet.line([(float(x), 4.5), (float(x) + 0.25, 4.5)], 0.08, GREY)
    sheet.bar(1.83, 4.35, 2.17, 4.65, "#ffffff")
    sheet.text(2.0, 4.5, "8", 0.25)
    found = sheet.evidence()
    assert sorted(" ".join(map(str, trace.nodes)) for trace in found.traces) == ["r2c2 r2c3", "r5c2 r5c3 r5c4"]
    assert not found.shapes


def test_a_wave_drawn_by_its_outline_swings_as_far_as_one_drawn_with_a_pen(sheet):
    along = np.linspace(2.5, 5.5, 120)
    wave = LineString(np.stack([along, 4.5 + 0.08 * np.sin(2 * np.pi * 4 * along)], axis=1)).buffer(0.035)
    sheet.area([(float(x), float(y)) for x, y in wave.exterior.coords], GREY)
    (trace,) = sheet.evidence().traces
    assert " ".join(map(str, trace.nodes)) == "r5c3 r5c4 r5c5 r5c6"
    assert trace.sway == pytest.approx(0.08, abs=0.02)


@pytest.mark.parametrize("head", [False, True])
def test_a_thin_area_with_round_bends_goes_through_the_middles_of_its_cells(sheet, head):
    way = LineString(
        [(2.5, 2.5), (3.1, 2.5), (3.4, 2.55), (3.7, 2.75), (4.2, 3.2), (4.42, 3.55), (4.5, 3.9), (4.5, 5.5)]
    )
    area = way.buffer(0.017, cap_style="flat")
    if head:
        area = area.union(LineString([(4.5, 5.3), (4.5, 5.5)]).buffer(0.1))
    sheet.area([(float(x), float(y)) for x, y in area.exterior.coords], GREY)
    found = sheet.evidence()
    nodes = [" ".join(map(str, trace.nodes)) for trace in found.traces]
    assert (nodes == ["r3c3 r3c4 r4c5 r5c5 r6c5"] and not found.unexplained) != head


@pytest.mark.parametrize(("ways", "own"), [(("r2c2 r2c3 r3c4", "r5c5 r5c4 r4c3"), 2), (("r2c2 r2c3", "r5c3 r5c4"), 0)])
def test_dark_discs_laid_on_the_ends_of_pale_tubes_are_their_bulbs(sheet, ways, own):
    """Below each lies a disc of the tube's colour, which is no mark that it hides. Where one disc lies on the way of
    a line, or beside it, they are marks."""
    for way in ways:
        sheet.line(ends(way), 0.3, GREY)
    for x, y in (ends(way)[0] for way in ways):
        sheet.disc(x, y, 0.36, GREY)
        sheet.disc(x, y, 0.36, "#888888")
    if not own:
        sheet.disc(*ends("r6c6")[0], 0.36, "#888888")
    found = sheet.evidence()
    assert sum(len(trace.discs) for trace in found.traces) == own
    assert len(found.discs) == (0 if own else 3)
    assert own == 0 or found.notes == ()
