"""Marks of every family to constraints, from evidence without fault and from evidence made by hand."""

from dataclasses import replace
from random import Random

import pytest

from fixtures.bench.same import differences
from fixtures.generator import FLAVOURS, make_puzzle
from fixtures.printer.wording import rules_text
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft
from recognise.evidence import Disc, Fence, How, Shape, Tint, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.interpret.colours import is_grey, names_for, names_in_grey, plain_name
from recognise.rules import MarkHint, RuleSheet, Statement
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.unread_mark import UnreadMark
from schema.puzzle import Puzzle
from tests.recognise.evidence_maker import evidence, given, glyph, trace
from tests.recognise.ideal_evidence import BLACK, GREY, WHITE, ideal_evidence, small

BASIC = (Statement("rows"), Statement("columns"), Statement("boxes"))
NINE = tuple(tuple(Cell(r + i, c + j) for i in range(3) for j in range(3)) for r in (1, 4, 7) for c in (1, 4, 7))
SEEN = SeenBoxes(NINE, "regular", 0.9999)


def _boxes(puzzle: Puzzle) -> SeenBoxes:
    cells = next((c.cells for c in puzzle.constraints if isinstance(c, Boxes)), None)
    return SeenBoxes(cells, "regular" if cells else "none", 0.9999)


def _read(puzzle: Puzzle, sheet: RuleSheet | None) -> Draft:
    return interpret(ideal_evidence(puzzle), _boxes(puzzle), sheet, Words())


def _looks(puzzle: Puzzle) -> dict:
    return {c.kind: c.look for c in puzzle.constraints}


@pytest.mark.parametrize("seed", range(1))
@pytest.mark.parametrize("flavour", FLAVOURS)
def test_what_is_drawn_and_said_comes_back(flavour: str, seed: int) -> None:
    rng = Random(f"{flavour}-{seed}")
    puzzle = make_puzzle(rng, [flavour], digits="usual")
    text = rules_text(puzzle, _looks(puzzle), rng)
    sheet = read_rules(text, (1, 9))
    if sheet.not_understood or sheet.unsure:
        pytest.skip(f"the rules are not understood, or only in the main: {sheet.not_understood + sheet.unsure}")
    draft = _read(puzzle, sheet)
    if not _apart(puzzle):
        assert _why(draft) != []
        return
    assert differences(as_puzzle(draft), puzzle) == [], text
    assert _why(draft) == [], text


def _apart(puzzle: Puzzle) -> bool:
    """Whether tinted regions, if there are any, can be told apart and can hold every digit."""
    regions = [set(c.cells) for c in puzzle.constraints if c.kind == "extra-region"]
    touch = any(
        one.beside(other) or one == other
        for n, region in enumerate(regions)
        for later in regions[n + 1 :]
        for one in region
        for other in later
    )
    return not touch and all(len(region) == len(puzzle.grid.digits) for region in regions)


@pytest.mark.parametrize("flavours", [("cage", "thermometer", "sandwich"), ("arrow", "odd", "consecutive-pair")])
def test_kinds_on_one_page_do_not_take_each_others_marks(flavours: tuple[str, ...]) -> None:
    rng = Random("-".join(flavours))
    puzzle = make_puzzle(rng, flavours, digits="usual")
    draft = _read(puzzle, read_rules(rules_text(puzzle, _looks(puzzle), rng), (1, 9)))
    assert differences(as_puzzle(draft), puzzle) == []


def _draft(*statements: Statement, boxes: SeenBoxes = SEEN, **parts) -> Draft:
    return interpret(evidence(**parts), boxes, RuleSheet((*BASIC, *statements)), Words())


def _stated(draft: Draft, kind: str) -> list[Constraint]:
    return [c for c in draft.constraints if c.kind == kind]


def _why(draft: Draft) -> list[str]:
    return [doubt.why for doubt in draft.doubts]


def _cells(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


TWO_CAGES = tuple(Fence(_cells(cells), "dashed", BLACK, "vector") for cells in ("r1c1 r2c1", "r3c1 r3c2"))
CAGE = Statement("cage", {"operation": "sum", "repeats": False}, MarkHint("cage"))


def test_a_total_serves_one_cage_and_givens_are_none() -> None:
    glyphs = (small(0.2, 0.18, "12"), given("r3c1", "7"), small(0.2, 2.18, "9"))
    draft = _draft(CAGE, fences=TWO_CAGES, glyphs=glyphs)
    assert {(c.cells, c.value) for c in _stated(draft, "cage")} == {(_cells("r1c1 r2c1"), 12), (_cells("r3c1 r3c2"), 9)}
    assert draft.givens == {Cell(3, 1): 7}
    assert _why(draft) == []


def test_a_cage_without_a_number_among_cages_with_one_is_asked_for() -> None:
    seen = tuple(replace(fence, how="shape") for fence in TWO_CAGES)
    total = (small(0.2, 0.18, "12"),)
    draft = _draft(CAGE, fences=seen, glyphs=total)
    assert [c.value for c in _stated(draft, "cage")] == [12, None]
    assert len(_why(draft)) == 1
    assert _why(_draft(CAGE, fences=seen)) == []
    # What a PDF draws is known: a number that is not there was not missed.
    assert _why(_draft(CAGE, fences=TWO_CAGES, glyphs=total)) == []
    # Totals drawn as paths are read by the pixels, and may be missed.
    assert len(_why(_draft(CAGE, fences=TWO_CAGES, glyphs=(replace(total[0], how="ocr"),)))) == 1


def test_a_cage_is_no_query_where_the_rules_say_that_some_have_no_number() -> None:
    glyphs = (glyph(0.2, 0.2, ("7", 0.999), size=0.25),)
    told = read_rules("Digits in a cage add up to the number in its corner. The total of some cages is not told.")
    (cage,) = (s for s in told.statements if s.kind == "cage")
    drawn = tuple(replace(fence, style="border") for fence in TWO_CAGES)
    assert _why(_draft(cage, fences=drawn, glyphs=glyphs)) == []
    assert any("without a number" in why for why in _why(_draft(CAGE, fences=drawn, glyphs=glyphs)))
    seen = tuple(replace(fence, how="shape") for fence in drawn)
    assert any("without a number" in why for why in _why(_draft(cage, fences=seen, glyphs=glyphs)))


@pytest.mark.parametrize(
    ("told", "how", "asked"),
    [
        ("No digit repeats inside a shaded area.", "vector", False),
        ("No digit repeats inside a shaded area.", "shape", True),
        ("Each shaded area contains every digit once.", "vector", True),
    ],
)
def test_a_small_region_is_a_query_unless_the_rules_only_forbid_repeats(told: str, how: How, asked: bool) -> None:
    (region,) = read_rules(told).statements
    tints = tuple(Tint(Cell(2, column), GREY, 1.0, how) for column in range(2, 7))
    assert any("5 cells" in why for why in _why(_draft(region, tints=tints))) == asked


def test_a_cage_claims_its_line_and_its_total_and_nothing_inside() -> None:
    fences = (Fence(_cells("r1c1 r1c2 r2c1 r2c2"), "dashed", BLACK, "vector"),)
    draft = _draft(CAGE, fences=fences, glyphs=(small(0.2, 0.18, "12"),))
    (item,) = (i for i in draft.items if isinstance(i.value, tuple) and i.value[0].kind == "cage")
    for x0, y0, x1, y1 in (_bounds(p) for p in item.claimed):
        assert not (x0 < 0.5 < x1 and y0 < 0.5 < y1)
        assert min(x1 - x0, y1 - y0) < 0.3


def _bounds(polygon) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def test_thick_blocks_with_signs_are_cages_and_no_boxes() -> None:
    blocks = (_cells("r1c1 r1c2"), _cells("r2c1 r2c2"))
    fences = tuple(Fence(cells, "border", BLACK, "vector") for cells in blocks)
    sheet = RuleSheet((Statement("rows"), Statement("columns"), Statement("cage", {"operation": "printed"})))
    glyphs = (small(0.2, 0.18, "2+"), small(0.2, 1.18, "3"), small(0.36, 1.18, "-"))
    draft = interpret(evidence(2, 2, fences=fences, glyphs=glyphs), SeenBoxes(blocks, "irregular", 0.9), sheet, Words())
    assert {(c.value, c.operation) for c in _stated(draft, "cage")} == {(2, "sum"), (3, "difference")}
    draft = interpret(
        evidence(2, 2, fences=fences, glyphs=glyphs[1:]), SeenBoxes(blocks, "irregular", 0.9), sheet, Words()
    )
    assert any("number" in why for why in _why(draft))


def test_a_number_without_its_sign_is_asked_for_where_sums_have_one() -> None:
    sheet = Statement("cage", {"operation": "printed"})
    glyphs = (small(0.2, 0.18, "12"), small(0.2, 2.18, "9+"))
    assert any("sign" in why for why in _why(_draft(sheet, fences=TWO_CAGES, glyphs=glyphs)))
    glyphs = (small(0.2, 0.18, "12"), small(0.2, 2.18, "9×"))
    assert _why(_draft(sheet, fences=TWO_CAGES, glyphs=glyphs)) == []


def test_several_shafts_from_one_circle() -> None:
    fork = trace("r5c5 r4c5 r3c5 r5c6 r5c7", "0-1 1-2 0-3 3-4", discs=(0,), heads=(2, 4))
    other = trace("r6c5 r7c5", heads=(1,))
    draft = _draft(Statement("arrow", {}, MarkHint("arrow")), traces=(fork, other))
    assert {(c.circle, c.shaft) for c in _stated(draft, "arrow")} == {
        (_cells("r5c5"), _cells("r4c5 r3c5")),
        (_cells("r5c5"), _cells("r5c6 r5c7")),
    }
    assert len(_stated(draft, "unread-mark")) == 1
    lone = Disc((4.5, 4.5), 0.38, None, GREY, "vector")
    draft = _draft(Statement("arrow", {}, MarkHint("arrow")), traces=(other,), discs=(lone,))
    assert {(c.circle, c.shaft) for c in _stated(draft, "arrow")} == {(_cells("r5c5"), _cells("r6c5 r7c5"))}
    assert _why(draft) == []


@pytest.mark.parametrize(
    ("hint", "expected"),
    [(MarkHint("dot", "white"), "r1c1 r1c2"), (MarkHint("dot", "black"), "r2c1 r2c2"), (MarkHint("bar"), "r3c1 r3c2")],
    ids=["white", "black", "bar"],
)
def test_marks_between_two_cells_by_colour_and_shape(hint: MarkHint, expected: str) -> None:
    discs = (Disc((1, 0.5), 0.12, None, BLACK, "vector"), Disc((1.02, 1.47), 0.12, (40, 40, 60), None, "vector"))
    shapes = (Shape("bar", (0.9, 2.47, 1.1, 2.53), BLACK, "vector"),)
    draft = _draft(Statement("consecutive-pair", {}, hint), discs=discs, shapes=shapes)
    assert [c.cells for c in _stated(draft, "consecutive-pair")] == [_cells(expected)]
    assert len(_stated(draft, "unread-mark")) == 2


def test_a_mark_that_two_rules_may_speak_of_is_a_query() -> None:
    two = (Statement("consecutive-pair", {}, MarkHint("dot")), Statement("ratio-pair", {}, MarkHint("dot")))
    draft = _draft(*two, discs=(Disc((1, 0.5), 0.12, WHITE, BLACK, "vector"),))
    assert len(_stated(draft, "unread-mark")) == 1
    assert any("several rules" in why for why in _why(draft))


@pytest.mark.parametrize(("way", "greater"), [("left", "r1c2"), ("right", "r1c1")])
def test_a_sign_points_to_the_smaller_cell(way: str, greater: str) -> None:
    drawn = Shape("sign", (0.9, 0.4, 1.1, 0.6), BLACK, "vector", direction=way, filled=False)
    (found,) = _stated(_draft(Statement("greater"), shapes=(drawn,)), "greater")
    assert found.greater == Cell.parse(greater)


def test_a_sign_that_points_along_its_edge_is_asked_for() -> None:
    drawn = Shape("sign", (0.9, 0.4, 1.1, 0.6), BLACK, "vector", direction="up", filled=False)
    assert _why(_draft(Statement("greater"), shapes=(drawn,))) != []


def test_corner_digits_in_reading_order_and_as_often_as_they_stand() -> None:
    disc = Disc((3.0, 2.0), 0.25, WHITE, BLACK, "vector")
    glyphs = (small(3.08, 2.09, "1"), small(2.92, 1.91, "4"), small(3.08, 1.91, "4"))
    (found,) = _stated(_draft(Statement("corner-digits"), discs=(disc,), glyphs=glyphs), "corner-digits")
    assert (min(found.cells), found.digits) == (Cell(2, 3), (4, 4, 1))
    joined = (small(3.0, 2.0, "44"),)
    (found,) = _stated(_draft(Statement("corner-digits"), discs=(disc,), glyphs=joined), "corner-digits")
    assert found.digits == (4, 4)


def test_a_circle_on_a_corner_without_a_digit_is_a_query() -> None:
    draft = _draft(Statement("corner-digits"), discs=(Disc((3.0, 2.0), 0.25, WHITE, BLACK, "vector"),))
    assert len(_stated(draft, "unread-mark")) == 1


def test_tints_are_regions_or_cells_by_what_the_rules_say() -> None:
    region = "r2c2 r2c3 r2c4 r3c2 r3c3 r3c4 r4c2 r4c3 r4c4"
    tints = tuple(
        Tint(cell, (200, 220, 240), 1.0) for cell in _cells(region + " r6c6 r6c7 r6c8 r7c6 r7c7 r7c8 r8c6 r8c7 r8c8")
    )
    draft = _draft(Statement("extra-region", {}, MarkHint("tint")), tints=tints)
    assert [len(c.cells) for c in _stated(draft, "extra-region")] == [9, 9]
    assert _why(draft) == []
    draft = _draft(Statement("even", {}, MarkHint("tint")), tints=tints)
    assert [len(c.cells) for c in _stated(draft, "even")] == [18]
    draft = _draft(Statement("extra-region", {}, MarkHint("tint")), tints=tints[:-1])
    assert any("8 cells" in why for why in _why(draft))


def test_tints_of_two_colours_are_two_rules() -> None:
    tints = (Tint(Cell(1, 1), (190, 210, 250), 1.0), Tint(Cell(5, 5), (250, 230, 150), 1.0))
    two = (Statement("even", {}, MarkHint("tint", "blue")), Statement("odd", {}, MarkHint("tint", "yellow")))
    draft = _draft(*two, tints=tints)
    assert [c.cells for c in _stated(draft, "even")] == [_cells("r1c1")]
    assert [c.cells for c in _stated(draft, "odd")] == [_cells("r5c5")]


def test_two_lines_told_apart_by_the_colours_that_the_rules_name() -> None:
    lines = (trace("r1c1 r1c2 r1c3", how="vector"), trace("r3c1 r3c2 r3c3", how="vector"))
    bluish = tuple(_coloured(line, c) for line, c in zip(lines, ((120, 120, 200), (176, 176, 176)), strict=True))
    two = (Statement("run-line", {}, MarkHint("line", "purple")), Statement("palindrome", {}, MarkHint("line", "grey")))
    draft = _draft(*two, traces=bluish)
    assert [c.path[0] for c in _stated(draft, "run-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in _stated(draft, "palindrome")] == [Cell(3, 1)]


def test_a_colour_that_the_rules_name_for_other_marks_does_not_name_these() -> None:
    lines = (_coloured(trace("r1c1 r1c2 r1c3"), (203, 203, 203)), trace("r3c1 r3c2 r3c3", discs=(0, 2)))
    pale = Statement("gap-line", {"gap": 5}, MarkHint("line", "white"))
    draft = _draft(pale, Statement("odd", {}, MarkHint("circle", "grey")), traces=lines)
    assert len(_stated(draft, "gap-line")) == 1


def test_a_plain_line_is_no_line_with_ringed_ends_where_another_rule_speaks_of_lines() -> None:
    two = (Statement("between-line", {}, MarkHint("line")), Statement("palindrome", {}, MarkHint("line")))
    lines = (trace("r1c1 r1c2 r1c3"), trace("r3c1 r3c2 r3c3", discs=(0, 2)))
    draft = _draft(*two, traces=lines)
    assert [c.path[0] for c in _stated(draft, "between-line")] == [Cell(3, 1)]
    assert [c.path[0] for c in _stated(draft, "palindrome")] == [Cell(1, 1)]


def _coloured(line, colour):
    return replace(line, colour=colour)


def test_thick_and_thin_lines() -> None:
    lines = (trace("r1c1 r1c2 r1c3", width=0.3), trace("r3c1 r3c2 r3c3", width=0.06))
    two = (
        Statement("gap-line", {"gap": 5}, MarkHint("line", style="thick")),
        Statement("palindrome", {}, MarkHint("line", style="thin")),
    )
    draft = _draft(*two, traces=lines)
    assert [c.path[0] for c in _stated(draft, "gap-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in _stated(draft, "palindrome")] == [Cell(3, 1)]


@pytest.mark.parametrize(
    ("at", "way", "start"),
    [
        ((2.5, -0.5), "down-left", "r1c2"),
        ((2.2, -0.2), "down-left", "r1c2"),
        ((-0.3, -0.3), "down-right", "r1c1"),
        ((-0.5, 4.5), "up-right", "r4c1"),
        ((9.4, 9.4), "up-left", "r9c9"),
        ((9.4, 3.6), "down-left", "r5c9"),
    ],
)
def test_a_diagonal_sum_starts_where_its_arrow_points(at: tuple[float, float], way: str, start: str) -> None:
    (x, y), (dx, dy) = at, {"down-left": (1, -1), "down-right": (-1, -1), "up-right": (-1, 1), "up-left": (1, 1)}[way]
    arrow = Shape("arrow", (x - 0.1, y - 0.1, x + 0.1, y + 0.1), BLACK, "vector", direction=way)
    number = glyph(x + 0.4 * dx, y + 0.4 * dy, ("21", 0.999), size=0.36)
    (found,) = _stated(_draft(Statement("diagonal-sum"), shapes=(arrow,), glyphs=(number,)), "diagonal-sum")
    assert (found.start, found.direction, found.value) == (Cell.parse(start), way, 21)


def test_crossing_arrows_have_the_numbers_behind_their_tails() -> None:
    up = Shape("arrow", (-0.46, 3.06, -0.06, 3.46), BLACK, "vector", direction="up-right")
    down = Shape("arrow", (-0.46, 3.54, -0.06, 3.94), BLACK, "vector", direction="down-right")
    numbers = (glyph(-0.55, 3.36, ("22", 0.999), size=0.3), glyph(-0.55, 3.64, ("21", 0.999), size=0.3))
    found = _stated(_draft(Statement("diagonal-sum"), shapes=(up, down), glyphs=numbers), "diagonal-sum")
    assert {(c.direction, c.value) for c in found} == {("up-right", 21), ("down-right", 22)}


ABOVE_LEFT = Shape("arrow", (3.06, -0.22, 3.22, -0.06), BLACK, "vector", direction="down-left")
ABOVE_RIGHT = Shape("arrow", (3.78, -0.22, 3.94, -0.06), BLACK, "vector", direction="down-right")


def test_numbers_side_by_side_above_their_arrows_are_not_those_of_the_other() -> None:
    numbers = (glyph(3.22, -0.66, ("21", 0.999), size=0.3), glyph(3.77, -0.66, ("25", 0.999), size=0.3))
    arrows = (ABOVE_LEFT, ABOVE_RIGHT)
    draft = _draft(Statement("diagonal-sum"), shapes=arrows, glyphs=numbers)
    assert {(c.direction, c.value) for c in _stated(draft, "diagonal-sum")} == {("down-left", 21), ("down-right", 25)}
    assert not any("as near to its arrow" in why for why in _why(draft))


def test_numbers_that_stand_as_others_do_to_their_arrows_are_theirs() -> None:
    """In line, far behind the tails: with no other arrow to compare, it is asked for."""
    numbers = (glyph(3.26, -0.74, ("21", 0.999), size=0.3), glyph(3.74, -0.74, ("25", 0.999), size=0.3))
    lone = Shape("arrow", (6.06, -0.22, 6.22, -0.06), BLACK, "vector", direction="down-left")
    its = glyph(6.74, -0.74, ("9", 0.999), size=0.3)
    arrows = (ABOVE_LEFT, ABOVE_RIGHT)
    alone = _draft(Statement("diagonal-sum"), shapes=arrows, glyphs=numbers)
    assert sum("as near to its arrow" in why for why in _why(alone)) == 2
    draft = _draft(Statement("diagonal-sum"), shapes=(*arrows, lone), glyphs=(*numbers, its))
    found = {(c.start, c.direction, c.value) for c in _stated(draft, "diagonal-sum")}
    assert {pair[1:] for pair in found} == {("down-left", 25), ("down-right", 21), ("down-left", 9)}
    assert not any("as near to its arrow" in why for why in _why(draft))


def test_numbers_that_may_be_either_arrows_are_asked_for() -> None:
    up = Shape("arrow", (-0.4, 3.2, -0.1, 3.5), BLACK, "vector", direction="up-right")
    down = Shape("arrow", (-0.4, 3.5, -0.1, 3.8), BLACK, "vector", direction="down-right")
    numbers = (glyph(-0.7, 3.5, ("22", 0.999), size=0.3), glyph(-1.1, 3.5, ("21", 0.999), size=0.3))
    why = _why(_draft(Statement("diagonal-sum"), shapes=(up, down), glyphs=numbers))
    assert sum("as near to its arrow" in each for each in why) == 2


def test_a_number_in_the_middle_of_its_row_is_rather_a_clue_of_its_own_than_an_arrows() -> None:
    up = Shape("arrow", (-0.455, 6.065, -0.065, 6.455), BLACK, "vector", direction="up-right")
    numbers = (glyph(-0.8, 6.64, ("36", 0.999), size=0.3), glyph(-0.62, 6.5, ("2", 0.999), size=0.3))
    draft = _draft(Statement("diagonal-sum"), Statement("skyscraper"), shapes=(up,), glyphs=numbers)
    assert [c.value for c in _stated(draft, "diagonal-sum")] == [36]
    assert any("as near to its arrow" in why for why in _why(draft))


def test_an_arrow_between_two_diagonals_and_one_without_a_number_are_queries() -> None:
    arrow = Shape("arrow", (2.65, -0.35, 2.85, -0.15), BLACK, "vector", direction="down-left")
    number = glyph(3.2, -0.6, ("21", 0.999), size=0.36)
    assert any(
        "two diagonals" in why for why in _why(_draft(Statement("diagonal-sum"), shapes=(arrow,), glyphs=(number,)))
    )
    assert _why(_draft(shapes=(arrow,))) != []


@pytest.mark.parametrize("half", [0.15, 0.45])
def test_signs_between_cells_may_have_long_arms(half: float) -> None:
    sign = Shape("sign", (1 - half / 2, 0.5 - half, 1 + half / 2, 0.5 + half), BLACK, "vector", direction="right")
    (found,) = _stated(_draft(Statement("greater", {}, MarkHint("sign")), shapes=(sign,)), "greater")
    assert (found.greater, found.less) == (Cell(1, 1), Cell(1, 2))


def test_every_digit_on_the_drawn_diagonal_is_one_diagonal() -> None:
    drawn = Shape("diagonal", (0, 0, 9, 9), GREY, "vector", direction="down")
    told = Statement("diagonal", {}, sentence="The long diagonal that is drawn holds every digit once as well.")
    draft = _draft(told, shapes=(drawn,))
    assert [c.direction for c in _stated(draft, "diagonal")] == ["down"]
    assert not draft.doubts
    assert any("not drawn" in why for why in _why(_draft(told))), "which of the two is meant, nothing tells"


def test_both_diagonals_where_the_rules_speak_of_both_and_one_is_drawn() -> None:
    drawn = Shape("diagonal", (0, 0, 9, 9), GREY, "vector", direction="down")
    both = Statement("diagonal", {}, sentence="Both long diagonals hold every digit once.")
    draft = _draft(both, shapes=(drawn,))
    assert {c.direction for c in _stated(draft, "diagonal")} == {"down", "up"}
    assert len(_why(draft)) == 1
    one = Statement("diagonal", {}, sentence="No digit twice on the marked diagonal.")
    draft = _draft(one, shapes=(drawn,))
    assert [c.direction for c in _stated(draft, "diagonal")] == ["down"]
    assert _why(draft) == []


def test_circles_and_squares_in_cells() -> None:
    discs = (Disc((0.5, 0.5), 0.36, GREY, None, "vector"), Disc((4.5, 4.5), 0.36, GREY, None, "vector"))
    shapes = (Shape("square", (2.2, 2.2, 2.8, 2.8), GREY, "vector"),)
    two = (Statement("odd", {}, MarkHint("circle", "grey")), Statement("even", {}, MarkHint("square")))
    draft = _draft(*two, discs=discs, shapes=shapes)
    assert [c.cells for c in _stated(draft, "odd")] == [_cells("r1c1 r5c5")]
    assert [c.cells for c in _stated(draft, "even")] == [_cells("r3c3")]
    assert _why(draft) == []


@pytest.mark.parametrize(
    "part",
    [
        {"discs": (Disc((3.3, 3.3), 0.1, BLACK, None, "vector"),)},
        {"fences": (Fence(_cells("r1c1 r1c2"), "dashed", BLACK, "vector"),)},
        {"traces": (trace("r1c1 r1c2", heads=(1,)),)},
        {"shapes": (Shape("capsule", (0.1, 0.1, 1.9, 0.9), GREY, "vector", filled=False),)},
        {"shapes": (Shape("bar", (0.9, 2.47, 1.1, 2.53), BLACK, "vector"),)},
        {"glyphs": (small(1.0, 0.5, "Q"),)},
        {"tints": (Tint(Cell(3, 3), GREY, 1.0),)},
    ],
    ids=["dot nowhere", "cage", "arrow without circle", "capsule", "bar", "letter", "tint"],
)
def test_no_evidence_is_dropped_without_a_rule_for_it(part: dict) -> None:
    draft = _draft(**part)
    assert _why(draft) != []


def test_colours_by_their_plain_words() -> None:
    named = {"#b0b0b0": "grey", "#7fb2d6": "blue", "#a98fd6": "purple", "#fdf1dc": "yellow", "#ffffff": "white"}
    for colour, word in named.items():
        assert plain_name(tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))) == word


def test_the_words_of_the_rules_decide_among_the_colours_of_the_page() -> None:
    mauve, grey = (150, 140, 190), (180, 180, 180)
    assert names_for([mauve], ["purple"])[mauve] == "purple"
    assert names_for([mauve, grey], ["purple", "grey"]) == {mauve: "purple", grey: "grey"}
    assert names_for([(60, 60, 70)], ["black", "white"]) == {(60, 60, 70): "black"}
    green, red = (80, 180, 90), (200, 60, 60)
    assert names_for([green, red], ["red"]) == {green: "green", red: "red"}


def test_in_a_grey_picture_words_of_colour_mean_shades() -> None:
    pale, dark = (219, 219, 219), (105, 105, 105)
    assert names_in_grey([pale], ["yellow"]) == ({pale: "yellow"}, True)
    assert names_in_grey([dark, pale], ["yellow", "purple"]) == ({dark: "purple", pale: "yellow"}, True)
    assert not names_in_grey([dark, pale], ["red", "purple"])[1], "these words are as dark as each other"
    assert names_in_grey([dark], ["red", "yellow"]) == ({dark: "red"}, False)
    assert not is_grey([pale, (240, 220, 120)])


def test_a_mark_is_unread_and_not_lost_where_its_text_is_no_number() -> None:
    draft = _draft(Statement("sandwich", {}, MarkHint(place="outside")), glyphs=(glyph(2.5, -0.5, ("Q", 0.9)),))
    assert [c.kind for c in draft.constraints if isinstance(c, UnreadMark)] or _why(draft)


def test_what_is_said_of_the_number_in_a_dot_has_the_word_over_dots_and_numbers() -> None:
    dot, number = MarkHint("dot", "black"), MarkHint("number")
    rules = (
        Statement("ratio-pair", {"ratio": 2}, dot),
        Statement("ratio-pair", {"ratio": "printed"}, dot),
        Statement("sum-pair", {}, number),
    )
    discs = (Disc((1, 0.5), 0.16, BLACK, None, "vector"), Disc((1, 1.5), 0.16, BLACK, None, "vector"))
    draft = _draft(
        *rules, discs=discs, glyphs=(glyph(1, 0.5, ("3", 0.999), size=0.2), glyph(2, 2.5, ("7", 0.999), size=0.2))
    )
    assert sorted(c.ratio for c in _stated(draft, "ratio-pair")) == [2, 3]
    assert [c.value for c in _stated(draft, "sum-pair")] == [7]
