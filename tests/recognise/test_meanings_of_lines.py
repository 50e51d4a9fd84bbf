"""Lines and arrows to constraints, from evidence made by hand."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc, Glyph, Guess, How, Shape
from recognise.interpret.lines import HARD_TO_READ
from recognise.interpret.undecided import NO_SUCH_COLOUR
from recognise.rules import MarkHint, Statement
from schema.cells import Cell
from tests.recognise.evidence_maker import given, glyph, trace
from tests.recognise.ideal_evidence import GREY
from tests.recognise.meanings import drafted, parsed, reasons, stated


def test_several_shafts_from_one_circle() -> None:
    fork = trace("r5c5 r4c5 r3c5 r5c6 r5c7", "0-1 1-2 0-3 3-4", discs=(0,), heads=(2, 4))
    other = trace("r6c5 r7c5", heads=(1,))
    draft = drafted(Statement("arrow", {}, MarkHint("arrow")), traces=(fork, other))
    assert {(c.circle, c.shaft) for c in stated(draft, "arrow")} == {
        (parsed("r5c5"), parsed("r4c5 r3c5")),
        (parsed("r5c5"), parsed("r5c6 r5c7")),
    }
    assert len(stated(draft, "unread-mark")) == 1
    lone = Disc((4.5, 4.5), 0.38, None, GREY, "vector")
    draft = drafted(Statement("arrow", {}, MarkHint("arrow")), traces=(other,), discs=(lone,))
    assert {(c.circle, c.shaft) for c in stated(draft, "arrow")} == {(parsed("r5c5"), parsed("r6c5 r7c5"))}
    assert reasons(draft) == []


def test_several_shafts_from_one_cell_of_a_capsule() -> None:
    """Every end of the line has a head: the shafts run from the place between them that the capsule holds."""
    fork = trace("r5c5 r4c5 r3c5 r5c6 r5c7", "0-1 1-2 0-3 3-4", heads=(2, 4))
    capsule = Shape("capsule", (3.1, 4.1, 4.9, 4.9), GREY, "shape", filled=False)
    draft = drafted(Statement("arrow", {}, MarkHint("arrow")), traces=(fork,), shapes=(capsule,))
    assert {(c.circle, c.shaft) for c in stated(draft, "arrow")} == {
        (parsed("r5c4 r5c5"), parsed("r4c5 r3c5")),
        (parsed("r5c4 r5c5"), parsed("r5c6 r5c7")),
    }
    assert reasons(draft) == []


def test_the_crossbar_at_the_end_of_a_stem_is_no_head_where_the_rules_speak_of_thermometers_alone() -> None:
    stems = (
        trace("r5c5 r4c5 r3c5", discs=(0,), heads=(2,)),
        trace("r7c2 r7c3 r8c3 r7c1", "0-1 1-2 0-3", (0,), heads=(2,)),
    )
    thermometer, arrow = Statement("thermometer", {}, MarkHint("tube")), Statement("arrow", {}, MarkHint("arrow"))
    draft = drafted(thermometer, traces=stems)
    assert {c.path for c in stated(draft, "thermometer")} == {
        parsed("r5c5 r4c5 r3c5"),
        parsed("r7c2 r7c3 r8c3"),
        parsed("r7c2 r7c1"),
    }
    assert sum("head of an arrow" in reason for reason in reasons(draft)) == 2
    assert stated(drafted(thermometer, arrow, traces=stems), "thermometer") == []
    plain = trace("r1c1 r1c2 r1c3", discs=(0,))
    assert len(stated(drafted(thermometer, traces=(*stems, plain)), "arrow")) == 2


def test_two_lines_told_apart_by_the_colours_that_the_rules_name() -> None:
    lines = (trace("r1c1 r1c2 r1c3", how="vector"), trace("r3c1 r3c2 r3c3", how="vector"))
    bluish = tuple(_coloured(line, c) for line, c in zip(lines, ((120, 120, 200), (176, 176, 176)), strict=True))
    two = (Statement("run-line", {}, MarkHint("line", "purple")), Statement("palindrome", {}, MarkHint("line", "grey")))
    draft = drafted(*two, traces=bluish)
    assert [c.path[0] for c in stated(draft, "run-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(3, 1)]


@pytest.mark.parametrize("solid", [True, False], ids=["beside a solid line of that colour", "alone"])
def test_a_hollow_line_is_white_whatever_the_colour_of_its_outline(solid: bool) -> None:
    """`Solid grey lines are palindromes; along a hollow line ...`; not where the rules speak of the outline's colour
    and no line is drawn whole in it."""
    hollow = replace(_coloured(trace("r3c1 r3c2 r3c3", discs=(0, 2), how="vector"), (64, 64, 64)), outlined=True)
    whole = _coloured(trace("r1c1 r1c2 r1c3", how="vector"), (199, 199, 199))
    two = (
        Statement("palindrome", {}, MarkHint("line", "grey")),
        Statement("between-line", {}, MarkHint("line", "white")),
    )
    draft = drafted(*two, traces=(whole, hollow) if solid else (hollow,))
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(1 if solid else 3, 1)]
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(3, 1)] * solid


def test_ringed_lines_share_the_colour_words_of_plain_ones() -> None:
    plain = _coloured(trace("r1c1 r1c2 r1c3", how="vector"), (246, 168, 82))
    ringed = _coloured(trace("r3c1 r3c2 r3c3", discs=(0, 2), how="vector"), (181, 140, 103))
    two = (
        Statement("gap-line", {"gap": 5}, MarkHint("line", "orange")),
        Statement("between-line", {}, MarkHint("line", "brown")),
    )
    draft = drafted(*two, traces=(plain, ringed))
    assert [c.path[0] for c in stated(draft, "gap-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(3, 1)]


def test_a_colour_that_the_rules_name_for_other_marks_does_not_name_these() -> None:
    lines = (_coloured(trace("r1c1 r1c2 r1c3"), (203, 203, 203)), trace("r3c1 r3c2 r3c3", discs=(0, 2)))
    pale = Statement("gap-line", {"gap": 5}, MarkHint("line", "white"))
    draft = drafted(pale, Statement("odd", {}, MarkHint("circle", "grey")), traces=lines)
    assert len(stated(draft, "gap-line")) == 1


def test_a_plain_line_is_no_line_with_ringed_ends_where_another_rule_speaks_of_lines() -> None:
    two = (Statement("between-line", {}, MarkHint("line")), Statement("palindrome", {}, MarkHint("line")))
    lines = (trace("r1c1 r1c2 r1c3"), trace("r3c1 r3c2 r3c3", discs=(0, 2)))
    draft = drafted(*two, traces=lines)
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(3, 1)]
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(1, 1)]


def _coloured(line, colour):
    return replace(line, colour=colour)


@pytest.mark.parametrize("shape", ["diamond", "square"])
def test_tubes_may_begin_at_squares_or_diamonds(shape: str) -> None:
    """Of one in a picture the reservoir passes for a circle as well. A frame that stands elsewhere, or a line of their
    colour without one, says that the frames mark cells."""

    def frame(x: float, y: float) -> Shape:
        return Shape(shape, (x - 0.35, y - 0.35, x + 0.35, y + 0.35), (150, 150, 150), "shape")

    lines = (trace("r1c1 r1c2 r1c3", discs=(0,)), trace("r4c4 r5c4 r6c4"))
    stated_ones = Statement("thermometer", {}, MarkHint("tube")), Statement("even", {}, MarkHint(shape))
    frames = (frame(0.5, 0.5), frame(3.5, 5.5))
    draft = drafted(*stated_ones, traces=lines, shapes=frames)
    assert {c.path for c in stated(draft, "thermometer")} == {parsed("r1c1 r1c2 r1c3"), parsed("r6c4 r5c4 r4c4")}
    assert not stated(draft, "even") and not stated(draft, "unread-mark")
    elsewhere = drafted(*stated_ones, traces=lines, shapes=(*frames, frame(7.5, 7.5)))
    assert [len(each.cells) for each in stated(elsewhere, "even")] == [3]
    without = drafted(*stated_ones, traces=(*lines, trace("r8c1 r8c2 r8c3")), shapes=frames)
    assert [len(each.cells) for each in stated(without, "even")] == [2]


@pytest.mark.parametrize("outlined", [True, False])
def test_outlined_tubes_may_begin_at_open_squares(outlined: bool) -> None:
    """A full tube does not: an open square at its end is a mark of the cell."""
    at = [Cell.parse(cell).centre for cell in ("r1c1", "r6c4")]
    frames = [
        Shape("square", (x - 0.35, y - 0.35, x + 0.35, y + 0.35), (150, 150, 150), "shape", filled=False) for x, y in at
    ]
    lines = [replace(trace(way), outlined=outlined) for way in ("r1c1 r1c2 r1c3", "r4c4 r5c4 r6c4")]
    rules = Statement("thermometer", {}, MarkHint("tube")), Statement("even", {}, MarkHint("square"))
    draft = drafted(*rules, traces=tuple(lines), shapes=tuple(frames))
    assert (len(stated(draft, "thermometer")), len(stated(draft, "even"))) == ((2, 0) if outlined else (0, 1))


@pytest.mark.parametrize("shape", ["diamond", "square"])
def test_lines_that_end_in_diamonds_or_squares_end_as_others_do_in_circles(shape: str) -> None:
    lines = trace("r1c1 r1c2 r1c3"), trace("r5c5 r6c5 r7c6")
    at = [Cell.parse(cell).centre for cell in ("r1c1", "r1c3", "r5c5", "r7c6", "r9c9")]
    frames = [Shape(shape, (x - 0.3, y - 0.3, x + 0.3, y + 0.3), GREY, "shape") for x, y in at]
    rims = [replace(frame, filled=False) for frame in frames[:4]]  # a PDF may draw ground and rim one by one
    rule = Statement("between-line", {}, MarkHint("line", place="ends"))
    draft = drafted(rule, traces=lines, shapes=(*frames[:4], *rims))
    assert {c.path for c in stated(draft, "between-line")} == {line.nodes for line in lines}
    assert stated(draft, "unread-mark") == []
    circled = replace(lines[1], discs=((0, 0.29), (2, 0.29)), confidence=0.6, extent=0.99)
    taken_for_circles = drafted(rule, traces=(lines[0], circled), shapes=tuple(frames[:4]))
    assert {c.path for c in stated(taken_for_circles, "between-line")} == {line.nodes for line in lines}
    assert stated(taken_for_circles, "unread-mark") == []
    assert min(item.confidence for item in taken_for_circles.items) > 0.9, "frame or circle, it means the same"
    corners = [(x - 0.27, y + 0.27) for x, y in at[:4]]
    polygons = [np.asarray(polygon, np.float32) for item in draft.items for polygon in item.claims or ()]
    covered = [any(cv2.pointPolygonTest(polygon, corner, False) > 0 for polygon in polygons) for corner in corners]
    assert covered == [shape == "square"] * 4, "a diamond has no ink in the corners of its box"
    with_another = drafted(rule, traces=lines, shapes=tuple(frames))
    assert stated(with_another, "between-line") == [], "they are marks of cells"


def test_thick_and_thin_lines() -> None:
    lines = (trace("r1c1 r1c2 r1c3", width=0.3), trace("r3c1 r3c2 r3c3", width=0.06))
    two = (
        Statement("gap-line", {"gap": 5}, MarkHint("line", style="thick")),
        Statement("palindrome", {}, MarkHint("line", style="thin")),
    )
    draft = drafted(*two, traces=lines)
    assert [c.path[0] for c in stated(draft, "gap-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(3, 1)]


def test_a_line_with_a_bead_in_each_cell_is_a_plain_line_that_rules_may_call_dotted() -> None:
    three = trace("r1c1 r1c2 r1c3", discs=(0, 1, 2))
    two = trace("r3c1 r3c2", discs=(0, 1))
    for hint in (MarkHint("line", style="dotted"), MarkHint("dot"), MarkHint("line"), MarkHint()):
        draft = drafted(Statement("gap-line", {"gap": 4}, hint), traces=(three, two))
        assert [c.path for c in stated(draft, "gap-line")] == [parsed("r1c1 r1c2 r1c3"), parsed("r3c1 r3c2")]
        assert reasons(draft) == []
    # Two by themselves are the rings of its ends.
    draft = drafted(Statement("between-line", {}, MarkHint("dot")), traces=(two,))
    assert [c.path for c in stated(draft, "between-line")] == [parsed("r3c1 r3c2")]


def test_a_number_that_is_rather_none_stands_at_the_start_of_a_line_that_has_one() -> None:
    number = glyph(0.14, 0.14, ("", 0.7), ("7", 0.3), size=0.2)
    line = trace("r1c1 r1c2 r1c3")
    draft = drafted(Statement("sum-line"), traces=(line,), glyphs=(number,))
    assert [(c.path[0], c.value) for c in stated(draft, "sum-line")] == [(Cell(1, 1), 7)]
    assert HARD_TO_READ in reasons(draft)
    draft = drafted(Statement("palindrome"), traces=(line,), glyphs=(number,))
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(1, 1)]
    assert reasons(draft) == [HARD_TO_READ]


def test_the_circle_in_which_a_line_ends_is_no_nought() -> None:
    line = trace("r1c1 r1c2 r1c3", discs=(0, 2))
    ring = Glyph((0.12, 0.12, 0.88, 0.88), (Guess("0", 0.99),), 0.76, (20, 20, 20), "ocr")
    small = Glyph((2.31, 0.31, 2.69, 0.69), (Guess("0", 0.99),), 0.38, (150, 150, 155), "ocr")
    draft = drafted(Statement("between-line"), traces=(line,), glyphs=(ring, small, given("r5c5", "5")))
    assert reasons(draft) == []
    assert set(draft.givens) == {Cell(5, 5)}
    with_line = Glyph((0.1, 0.12, 1.05, 0.88), (Guess("0", 0.7),), 0.76, (90, 20, 20), "ocr")
    around = Glyph((0.3, 0.15, 0.7, 0.85), (Guess("0", 0.7),), 0.7, (0, 0, 0), "ocr")
    circles = trace("r1c1 r1c2 r1c3", discs=(0, 2)), replace(line, discs=((0, 0.18), (2, 0.18)))
    for circled, nought in zip(circles, (with_line, around), strict=True):
        assert reasons(drafted(Statement("between-line"), traces=(circled,), glyphs=(nought,))) == []
    alone = Disc((4.5, 4.5), 0.36, (200, 200, 200), (0, 0, 0), "shape")
    none = Glyph(
        (4.13, 4.13, 4.87, 4.87), (Guess("", 0.63), Guess("0", 0.36), Guess("8", 0.01)), 0.74, (0, 0, 0), "ocr"
    )
    assert set(drafted(Statement("odd"), discs=(alone,), glyphs=(none,)).givens) == set()
    arc = replace(none, box=(4.13, 4.13, 4.6, 4.87), guesses=(Guess("", 0.51), Guess("C", 0.45), Guess("6", 0.04)))
    assert set(drafted(Statement("odd"), discs=(alone,), glyphs=(arc,)).givens) == set()
    assert reasons(drafted(Statement("odd"), discs=(alone,), glyphs=(arc,))) == []
    three = replace(none, guesses=(Guess("3", 0.5), Guess("", 0.5)))
    assert set(drafted(Statement("odd"), discs=(alone,), glyphs=(three,)).givens) == {Cell(5, 5)}
    narrow = Glyph((0.3, 0.25, 0.7, 0.75), (Guess("0", 0.99),), 0.5, (150, 150, 150), "ocr")
    assert reasons(drafted(Statement("between-line"), traces=(line,), glyphs=(narrow,)))


def test_a_line_of_a_picture_whose_colour_is_none_of_the_rules_is_the_only_line_that_they_know() -> None:
    line = _coloured(trace("r1c1 r1c2 r1c3", discs=(0, 2)), (120, 140, 220))
    between = Statement("between-line", {}, MarkHint("line", "orange"))
    run = Statement("run-line", {}, MarkHint("line", "red"))
    orange = _coloured(trace("r3c1 r3c2 r3c3", discs=(0, 2)), (235, 150, 60))
    draft = drafted(between, traces=(line,))
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(1, 1)]
    assert reasons(draft) == [NO_SUCH_COLOUR]
    drawn = drafted(between, traces=(replace(line, how="vector"),))
    assert any("no rule calls such a mark so" in why for why in reasons(drawn)), "a PDF's colours are what they are"
    assert stated(drafted(run, traces=(line,)), "run-line") == [], "a line between circles is something else"
    two = stated(drafted(between, traces=(line, orange)), "between-line")
    assert [c.path[0] for c in two] == [Cell(3, 1)], "the page has lines of the colour that the rules name"


@pytest.mark.parametrize(("how", "asked"), [("shape", True), ("vector", False)])
def test_a_line_of_a_picture_that_crosses_itself_may_be_two(how: How, asked: bool) -> None:
    line = replace(trace("r6c7 r7c7 r8c7 r9c6 r9c7 r8c6 r7c5"), how=how)
    draft = drafted(Statement("gap-line", {"gap": 4}), traces=(line,))
    assert any("it crosses itself" in why for why in reasons(draft)) == asked
    assert not reasons(drafted(Statement("gap-line", {"gap": 4}), traces=(trace("r6c7 r7c7 r8c6 r9c6 r8c5"),)))


@pytest.mark.parametrize(("colour", "lines"), [((90, 130, 200), 1), ((220, 150, 60), 2)], ids=["another", "theirs"])
def test_a_plain_line_of_a_colour_that_no_ringed_line_has_is_none_between_circles(
    colour: tuple[int, int, int], lines: int
) -> None:
    """The sentence that speaks of it was lost; of a line in their colour the rings may have been."""
    ringed = trace("r1c1 r1c2 r1c3", discs=(0, 2), colour=(220, 150, 60))
    plain = trace("r5c5 r5c6 r6c7", colour=colour)
    draft = drafted(Statement("between-line", {}, MarkHint("line")), traces=(ringed, plain))
    assert len(stated(draft, "between-line")) == lines
    assert (len(stated(draft, "unread-mark")), len(draft.undecided)) == (2 - lines, 2 - lines)


def test_a_number_in_the_upper_right_and_a_dot_say_where_a_line_starts() -> None:
    """As far as a PDF's text and paths say it."""
    line = trace("r1c1 r1c2 r1c3")
    number = glyph(2.8, 0.14, ("7", 0.99), size=0.2, how="vector")
    dots = [Disc((x, 0.5), 0.07, line.colour, None, "vector") for x in (2.5, 0.5)]
    draft = drafted(Statement("sum-line"), traces=(line,), glyphs=(number,), discs=tuple(dots[:1]))
    assert [(c.path[0], c.value) for c in stated(draft, "sum-line")] == [(Cell(1, 3), 7)]
    assert reasons(draft) == []
    draft = drafted(Statement("sum-line"), traces=(line,), glyphs=(number,), discs=tuple(dots))
    assert len(reasons(draft)) == 1


DOTTED = ("r1c1 r1c2 r2c3", "r5c5 r6c5 r7c6")


def _dots(*cells: str, grey: int = 0) -> tuple[Disc, ...]:
    return tuple(Disc(Cell.parse(cell).centre, 0.07, (grey, grey, grey), None, "vector") for cell in cells)


@pytest.mark.parametrize("elsewhere", [(), ("r9c9",)])
def test_dots_at_the_ends_of_all_lines_are_a_part_of_them_where_no_such_dot_stands_elsewhere(elsewhere) -> None:
    lines = tuple(trace(cells, colour=(0, 0, 0), how="vector") for cells in DOTTED)
    rule = Statement("palindrome", {}, MarkHint("line"))
    draft = drafted(rule, traces=lines, discs=_dots("r1c1", "r2c3", "r5c5", "r7c6", *elsewhere))
    assert len(stated(draft, "palindrome")) == 2
    assert len(stated(draft, "unread-mark")) == (5 if elsewhere else 0)


def test_a_dot_elsewhere_is_measured_in_hardly_another_colour() -> None:
    lines = tuple(trace(cells, colour=(0, 0, 0), how="vector") for cells in DOTTED)
    dots = _dots("r1c1", "r2c3", "r5c5", "r7c6") + _dots("r9c9", grey=3)
    draft = drafted(Statement("palindrome", {}, MarkHint("line")), traces=lines, discs=dots)
    assert len(stated(draft, "unread-mark")) == 5


def test_lines_with_dots_at_their_ends_among_others_are_those_that_end_in_circles() -> None:
    plain = trace("r9c1 r9c2 r9c3", colour=(0, 0, 0), how="vector")
    lines = tuple(trace(cells, colour=(0, 0, 0), how="vector") for cells in DOTTED)
    rules = Statement("palindrome", {}, MarkHint("line")), Statement("between-line", {}, MarkHint("", place="ends"))
    draft = drafted(*rules, traces=(*lines, plain), discs=_dots("r1c1", "r2c3", "r5c5", "r7c6"))
    assert len(stated(draft, "between-line")) == 2
    assert len(stated(draft, "palindrome")) == 1
