"""Steps of lines that show through from the other side of the paper, and meet lines that are printed on this one."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.marks.ghosts import branches, is_ghost
from recognise.marks.lines import Course
from recognise.marks.shown_through import is_unwalled, printed_looks, shows_through
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from recognise.marks.traces import has_little_ink
from schema.cells import Cell
from tests.recognise.chances_maker import sure

PLAIN = Stroke(0.15, (0.68, 0.68, 0.68), 0.3, 1.0, outlined=False, dashed=False)
BARE = Stroke(0.0, (0.97, 0.97, 0.97), 0.0, 0.0, outlined=False, dashed=False, strong=False, open=0.0)
BY_A_NUMBER = Stroke(0.08, (0.33, 0.33, 0.33), 0.66, 0.3, outlined=False, dashed=True, open=0.3)


def _steps(cells: str, stroke: Stroke, kind: str = "LINE") -> list[Step]:
    path = [Cell.parse(cell) for cell in cells.split()]
    told = {"LINE": 0.0, "SHAFT": 0.0, "TUBE": 0.0} | {kind: 0.999}
    return [Step(*sorted(pair), told, stroke) for pair in pairwise(path)]


@pytest.mark.parametrize(
    ("ghost", "circled", "hung"),
    [
        ("r3c3 r4c4 r5c4", "", True),
        ("r3c3 r4c4 r5c4", "r5c4", False),  # as far as the circle the line may have faded
        ("r1c6 r2c6 r3c5", "", False),  # it meets no line, and is told as one of its own
        ("r3c3 r4c4 r4c5", "r6c6", False),  # it lies between two lines
    ],
)
def test_what_hangs_on_a_printed_line_without_ink_is_none_of_it(ghost: str, circled: str, hung: bool) -> None:
    labels = Labels.empty(6, 6)
    if circled:
        at = Cell.parse(circled)
        labels.node[at.row, at.column] |= Node.CIRCLE
    printed = _steps("r1c1 r2c2 r3c3 r3c2 r3c1", PLAIN) + _steps("r4c5 r5c5 r6c5", PLAIN)
    pale = _steps(ghost, BARE)
    found = branches([*printed, *pale], printed_looks(printed, 1), sure(labels), ringed=False)
    assert found == (pale if hung else [])


@pytest.mark.parametrize(("ringed", "met", "hung"), [(True, "r2c1", True), (False, "r2c1", False), (True, "", False)])
def test_where_all_lines_end_in_circles_a_pale_branch_without_one_is_no_line(
    ringed: bool, met: str, hung: bool
) -> None:
    # All lines of the page are dotted and pale: none shows how dark print is.
    dotted = replace(PLAIN, dashed=True, open=0.5, inked=0.5)
    printed = _steps(f"r1c1 r2c2 {met}", dotted)
    pale = _steps("r2c2 r2c3", BARE)
    assert branches([*printed, *pale], [], sure(Labels.empty(6, 6)), ringed=ringed) == (pale if hung else [])


@pytest.mark.parametrize(
    ("stroke", "kind", "ghost"),
    [
        (BY_A_NUMBER, "LINE", True),
        (replace(BY_A_NUMBER, open=0.6), "LINE", True),  # as much as a sign on its middle takes up
        (replace(BY_A_NUMBER, open=0.7), "LINE", False),
        (replace(PLAIN, open=0.3), "LINE", False),  # in the look of the lines of the page
        (BARE, "TUBE", False),  # its walls are elsewhere
    ],
)
def test_ink_of_other_marks_on_its_way_makes_no_step_where_lines_are_drawn_whole(
    stroke: Stroke, kind: str, ghost: bool
) -> None:
    looks = printed_looks(_steps("r1c1 r2c2 r3c3 r3c2 r3c1", PLAIN), 1)
    (step,) = _steps("r5c5 r5c6", stroke, kind)
    assert is_ghost(step, looks) == ghost
    assert not is_ghost(step, [])


@pytest.mark.parametrize(("gap", "ghost"), [(0.15, False), (0.4, True)], ids=["dots", "bits of other marks"])
def test_dotted_lines_are_a_look_of_their_page_beside_whole_ones(gap: float, ghost: bool) -> None:
    dots = _steps("r5c1 r5c2 r6c3 r6c4", replace(BY_A_NUMBER, gap=gap))
    wide, grey = (_steps(cells, PLAIN) for cells in ("r1c1 r2c2 r3c3 r3c2 r3c1", "r1c3 r1c4 r1c5 r1c6"))
    looks = printed_looks([*wide, *(replace(s, stroke=replace(PLAIN, width=0.4)) for s in grey), *dots], 2)
    assert is_ghost(dots[0], looks) == ghost


WALLS = Stroke(0.31, (0.35, 0.35, 0.35), 0.6, 1.0, outlined=True, dashed=False, walled=1.0)
CROSSED = replace(BARE, inked=0.37, open=0.27, walled=0.5)
DOTTED = replace(BARE, width=0.31, walled=0.8)


def _tube(cells: str, stroke: Stroke) -> Course:
    return Course("TUBE", tuple(_steps(cells, stroke, "TUBE")))


@pytest.mark.parametrize(
    ("own", "beside", "ghost"),
    [
        (CROSSED, WALLS, True),
        (replace(CROSSED, walled=0.7), WALLS, False),
        (replace(CROSSED, strong=True), WALLS, False),  # drawn in one piece, and not as an outline
        (CROSSED, replace(WALLS, walled=0.8), False),  # the tubes of its page are worn as well
    ],
)
def test_a_tube_that_has_but_the_walls_of_others_on_its_way_is_hardly_printed(
    own: Stroke, beside: Stroke, ghost: bool
) -> None:
    lines = [_tube("r1c1 r2c2 r3c3 r4c3", beside), _tube("r1c2 r2c1", own)]
    assert is_unwalled(lines[1], lines) == ghost
    assert not is_unwalled(lines[0], lines)


@pytest.mark.parametrize(("ink", "ghost"), [(0.07, True), (0.2, False)])
def test_steps_like_a_tube_with_next_to_no_ink_are_no_line_beside_walled_tubes(ink: float, ghost: bool) -> None:
    own = Course("LINE", tuple(_steps("r1c2 r2c1", replace(CROSSED, walled=0.7, ink=ink), "TUBE")))
    assert is_unwalled(own, [own, _tube("r1c1 r2c2 r3c3 r4c3", WALLS)]) == ghost


@pytest.mark.parametrize(("stroke", "through"), [(DOTTED, False), (replace(DOTTED, walled=0.3), True)])
def test_a_tube_with_dotted_walls_is_printed_on_this_side(stroke: Stroke, through: bool) -> None:
    assert shows_through(_tube("r1c1 r2c2 r3c3", stroke)) == through


@pytest.mark.parametrize(("kind", "walled", "asked"), [("TUBE", 0.8, False), ("TUBE", 0.5, True), ("LINE", 0.8, True)])
def test_a_tube_shows_by_its_walls_and_a_line_by_what_stands_on_its_way(kind: str, walled: float, asked: bool) -> None:
    line = Course(kind, tuple(_steps("r1c1 r1c2", replace(DOTTED, walled=walled, gap=0.5), kind)))
    assert has_little_ink(line.steps[0], line) == asked
