"""Evidence and rules to a draft: what each mark means, and that none is dropped."""

from dataclasses import replace

import pytest

from recognise.doubt.calibration import calibrated
from recognise.draft import Given
from recognise.evidence import Disc, Fence, Glyph, Guess, Shape, Tint
from recognise.interpret.regions import usual_boxes
from recognise.rules import MarkHint, RuleSheet, Statement
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.kinds.boxes import Boxes
from schema.kinds.cage import Cage
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.even import Even
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.palindrome import Palindrome
from schema.kinds.ratio_pair import RatioPair
from schema.kinds.sum_line import SumLine
from schema.kinds.sum_pair import SumPair
from schema.kinds.thermometer import Thermometer
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.evidence_maker import given, glyph, trace
from tests.recognise.ideal_evidence import small
from tests.recognise.interpreting import BASIC, NINE, PLAIN, cells_in, drafted, of_kind


def test_a_grid_with_givens_is_a_classic() -> None:
    draft = drafted(glyphs=(given("r1c2", "5"), given("r9c9", "7")))
    assert draft.givens == {Cell(1, 2): 5, Cell(9, 9): 7}
    assert [c.kind for c in draft.constraints] == ["rows", "columns", "boxes"]
    assert draft.doubts == ()


def test_the_other_readings_of_a_given_are_kept() -> None:
    draft = drafted(glyphs=(glyph(0.5, 0.5, ("1", 0.7), ("7", 0.25), ("Q", 0.04), ("", 0.01)),))
    (item,) = (i for i in draft.items if isinstance(i.value, Given))
    assert item.confidence == pytest.approx(calibrated(0.7))
    assert [(a.value, a.confidence) for a in item.alternatives] == [(Given(Cell(1, 1), 7), 0.25), ((), 0.01)]


def test_a_thermometer_needs_no_rule_where_none_is_printed() -> None:
    draft = drafted(traces=(trace("r1c1 r2c2 r3c2", discs=(0,)),))
    assert of_kind(draft, Thermometer) == [Thermometer(path=cells_in("r1c1 r2c2 r3c2"))]
    assert draft.doubts == ()


def test_a_thermometer_that_the_printed_rules_do_not_mention_is_read_and_put_to_a_person() -> None:
    draft = drafted(RuleSheet(BASIC), traces=(trace("r1c1 r2c2 r3c2", discs=(0,)),))
    assert len(of_kind(draft, Thermometer)) == 1
    assert any("thermometer" in doubt.why for doubt in draft.doubts)


def test_the_rules_say_whether_a_thermometer_is_strict() -> None:
    sheet = RuleSheet((*BASIC, Statement("thermometer", {"strict": False})))
    draft = drafted(sheet, traces=(trace("r1c1 r1c2", discs=(1,)),))
    assert of_kind(draft, Thermometer) == [Thermometer(path=cells_in("r1c2 r1c1"), strict=False)]


def test_a_branched_thermometer_is_one_path_for_each_tip() -> None:
    forked = trace("r5c5 r4c5 r3c5 r3c6 r4c6", links="0-1 1-2 2-3 1-4", discs=(0,))
    draft = drafted(traces=(forked,))
    assert {t.path for t in of_kind(draft, Thermometer)} == {
        cells_in("r5c5 r4c5 r3c5 r3c6"),
        cells_in("r5c5 r4c5 r4c6"),
    }


@pytest.mark.parametrize(
    ("cells", "links", "discs"),
    [
        ("r1c1 r1c2 r2c2 r2c1", "0-1 1-2 2-3 3-0", (0,)),
        ("r1c1 r1c2 r1c3", "", ()),
        ("r1c1 r1c2 r1c3", "", (0, 1)),
    ],
    ids=["loop", "no bulb", "two bulbs, one inside"],
)
def test_a_line_that_nothing_explains_is_an_unread_mark_and_a_query(cells: str, links: str, discs: tuple) -> None:
    draft = drafted(traces=(trace(cells, links, discs),))
    assert len(of_kind(draft, UnreadMark)) == 1
    assert len(draft.doubts) == 1


WHITE_DOTS_AND_NUMBERS = "White dots join consecutive digits. A number between two cells is the sum of their digits."


def _dot(x: float) -> Disc:
    return Disc((x, 0.5), 0.17, (255, 255, 255), (0, 0, 0), "vector")


def _edge_number(x: float, text: str = "7") -> Glyph:
    return glyph(x, 0.5, (text, 0.999), size=0.2)


def test_a_number_on_a_dot_is_two_marks_where_numbers_and_dots_stand_alone_as_well() -> None:
    draft = drafted(
        read_rules(WHITE_DOTS_AND_NUMBERS), glyphs=(_edge_number(3), _edge_number(6)), discs=(_dot(1), _dot(3))
    )
    assert [c.cells for c in of_kind(draft, ConsecutivePair)] == [cells_in("r1c1 r1c2"), cells_in("r1c3 r1c4")]
    assert [c.cells for c in of_kind(draft, SumPair)] == [cells_in("r1c3 r1c4"), cells_in("r1c6 r1c7")]


def test_numbers_that_all_stand_in_dots_are_numbers() -> None:
    draft = drafted(
        read_rules(WHITE_DOTS_AND_NUMBERS),
        glyphs=tuple(map(_edge_number, (3, 5, 7))),
        discs=tuple(map(_dot, (1, 3, 5, 7))),
    )
    assert [c.cells for c in of_kind(draft, ConsecutivePair)] == [cells_in("r1c1 r1c2")]
    assert len(of_kind(draft, SumPair)) == 3


def test_a_single_number_in_a_dot_may_be_both_and_is_asked_for() -> None:
    draft = drafted(read_rules(WHITE_DOTS_AND_NUMBERS), glyphs=(_edge_number(3),), discs=(_dot(1), _dot(3)))
    assert [mark.cells for mark in of_kind(draft, UnreadMark)] == [cells_in("r1c3 r1c4")]


def test_a_number_in_a_dot_is_what_the_rules_say_that_it_is() -> None:
    told = "White dots join consecutive digits. The number in a black dot is the ratio of the two digits beside it."
    dots = (Disc((3, 0.5), 0.17, (0, 0, 0), None, "vector"), Disc((6, 0.5), 0.17, (0, 0, 0), None, "vector"))
    draft = drafted(read_rules(told), glyphs=(glyph(3, 0.5, ("3", 0.999), size=0.2),), discs=dots)
    assert of_kind(draft, RatioPair) == [RatioPair(cells=cells_in("r1c3 r1c4"), ratio=3)]
    assert [mark.cells for mark in of_kind(draft, UnreadMark)] == [cells_in("r1c6 r1c7")], "a dot without its number"


def test_marks_that_the_rules_speak_of_and_nobody_found_are_asked_for() -> None:
    sheet = RuleSheet((*BASIC, Statement("thermometer", sentence="Digits rise from the bulb.")))
    assert any("none was found" in doubt.why for doubt in drafted(sheet).doubts)


def test_every_sentence_is_accounted_for() -> None:
    draft = drafted(RuleSheet(BASIC, not_understood=("The fog lifts at noon.",)))
    assert any("The fog lifts at noon." in doubt.why for doubt in draft.doubts)


@pytest.mark.parametrize(
    "part",
    [
        {"shapes": (Shape("star", (1.2, 1.2, 1.8, 1.8), (0, 0, 0), "shape"),)},
        {"unexplained": ((1.2, 1.2, 1.8, 1.8),)},
        {"glyphs": (given("r9c9", "5", size=0.6), glyph(1.15, 1.15, ("7", 0.99), size=0.25))},
    ],
    ids=["shape", "ink", "total in a corner"],
)
def test_nothing_seen_is_dropped(part: dict) -> None:
    draft = drafted(**part)
    assert [m.cells for m in of_kind(draft, UnreadMark)] == [(Cell(2, 2),)]
    assert len(draft.doubts) == 1


def _tinted(*cells: str) -> dict:
    return {"tints": tuple(Tint(Cell.parse(cell), (210, 210, 210), 1.0) for cell in cells)}


def test_tints_that_no_box_explains_are_an_unread_mark_that_claims_no_ink() -> None:
    draft = drafted(**_tinted("r2c2", "r2c3", "r6c7"))
    (mark,) = of_kind(draft, UnreadMark)
    assert set(mark.cells) == set(cells_in("r2c2 r2c3 r6c7"))
    assert len(draft.doubts) == 1
    assert draft.items[-1].claimed == ()


def test_two_areas_of_nearly_one_tint_that_touch_are_two() -> None:
    first, other = (tuple(f"r{row}c{column}" for row in (2, 3, 4) for column in columns) for columns in ("234", "567"))
    shades = {**dict.fromkeys(first, (221,) * 3), **dict.fromkeys(other, (230,) * 3)}
    tints = tuple(Tint(Cell.parse(cell), shade, 1.0) for cell, shade in shades.items())
    sheet = RuleSheet((*BASIC, Statement("extra-region", {}, MarkHint(shape="tint"))))
    found = of_kind(drafted(sheet, tints=tints), ExtraRegion)
    assert [sorted(map(str, region.cells)) for region in found] == [sorted(first), sorted(other)]


@pytest.mark.parametrize(("how", "areas"), [("shape", 1), ("vector", 2)])
def test_light_that_fades_over_a_tint_parts_no_region_in_a_picture(how: str, areas: int) -> None:
    cells, shades = (
        cells_in("r1c1 r1c2 r1c3 r1c4 r1c5"),
        ((255, 254, 140), (255, 247, 136), (255, 243, 133), (253, 238, 131)),
    )
    shades = (*shades, (250, 234, 129))
    tints = tuple(Tint(cell, shade, 1.0, how) for cell, shade in zip(cells, shades, strict=True))
    sheet = RuleSheet((*BASIC, Statement("extra-region", {}, MarkHint(shape="tint"))))
    assert len(of_kind(drafted(sheet, tints=tints), ExtraRegion)) == areas


def test_a_cell_whose_tint_a_mark_hides_is_of_the_region_around_it() -> None:
    region, stain = "r6c6 r6c7 r6c8 r7c6 r7c7 r7c8 r8c6 r8c7", "r3c1 r4c1"
    shades = {**dict.fromkeys(region.split(), 221), **dict.fromkeys(stain.split(), 246), "r6c6": 213, "r8c8": 239}
    tints = tuple(Tint(Cell.parse(cell), (shade,) * 3, 1.0) for cell, shade in shades.items())
    sheet = RuleSheet((*BASIC, Statement("extra-region", {}, MarkHint(shape="tint", colour="grey"))))
    for line, cells in ((trace("r8c8 r9c8"), 9), (trace("r1c8 r2c8"), 8)):
        sizes = {len(found.cells) for found in of_kind(drafted(sheet, tints=tints, traces=(line,)), ExtraRegion)}
        assert cells in sizes


@pytest.mark.parametrize("certain", [True, False])
def test_a_small_region_is_asked_about_unless_none_of_it_can_have_been_missed(certain: bool) -> None:
    tints = tuple(Tint(cell, (221, 221, 221), 1.0, certain=certain) for cell in cells_in("r2c2 r2c3 r3c3"))
    sheet = RuleSheet((*BASIC, Statement("extra-region", {"partial": True}, MarkHint(shape="tint"))))
    asked = [doubt.why for doubt in drafted(sheet, tints=tints).doubts]
    assert asked == ([] if certain else ["it has 3 cells, and there are 9 digits"])


def test_whole_boxes_that_are_tinted_are_no_mark_of_their_own() -> None:
    box = (usual_boxes(NINE) or ())[4]
    assert drafted(**_tinted(*map(str, box))).doubts == ()
    assert len(drafted(**_tinted(*map(str, box[1:]))).doubts) == 1


def test_a_lone_circle_is_a_query() -> None:
    draft = drafted(discs=(Disc((3.5, 3.5), 0.4, (180, 180, 180), None, "vector"),))
    assert [mark.cells for mark in of_kind(draft, UnreadMark)] == [(Cell(4, 4),)]


@pytest.mark.parametrize(
    ("sheet", "sure", "stated"),
    [
        (RuleSheet(BASIC), 0.8, False),
        (RuleSheet(BASIC), 0.99, True),
        (RuleSheet(BASIC, not_understood=("Some marks help.",)), 0.8, True),
        (None, 0.8, True),
    ],
)
@pytest.mark.parametrize("name", ["disc", "line", "shape"])
def test_what_no_rule_speaks_of_and_nobody_saw_surely_is_asked_about_and_not_stated(
    name: str, sheet: RuleSheet | None, sure: float, stated: bool
) -> None:
    parts = {
        "disc": {"discs": (Disc((3.5, 3.5), 0.4, (180, 180, 180), None, "shape", sure),)},
        "line": {"traces": (trace("r1c1 r1c2 r1c3", confidence=sure),)},
        "shape": {"shapes": (Shape("mark", (2.2, 2.2, 2.8, 2.8), (0, 0, 0), "shape", sure),)},
    }
    draft = drafted(sheet, **parts[name])
    assert bool(of_kind(draft, UnreadMark)) == stated
    assert draft.doubts


def test_a_number_at_one_end_of_a_line_belongs_to_it() -> None:
    line, number = trace("r1c1 r1c2 r2c3", width=0.16), small(2.14, 1.14, "12")
    sheet = RuleSheet((*BASIC, Statement("sum-line")))
    draft = drafted(sheet, traces=(line,), glyphs=(number,))
    assert of_kind(draft, SumLine) == [SumLine(path=cells_in("r2c3 r1c2 r1c1"), value=12)]
    other = RuleSheet((*BASIC, Statement("palindrome")))
    assert of_kind(drafted(other, traces=(line,), glyphs=(number,)), UnreadMark)
    assert not of_kind(drafted(other, traces=(line,), glyphs=(number,)), Palindrome)
    assert of_kind(drafted(other, traces=(line,)), Palindrome)


def test_the_number_of_a_line_may_begin_across_the_left_edge_of_its_cell() -> None:
    sheet = RuleSheet((*BASIC, Statement("sum-line")))
    number = replace(glyph(2.0, 1.2, ("12", 0.999), size=0.2), box=(1.9, 1.1, 2.1, 1.3))
    draft = drafted(sheet, traces=(trace("r1c1 r1c2 r2c3"),), glyphs=(number,))
    assert of_kind(draft, SumLine) == [SumLine(path=cells_in("r2c3 r1c2 r1c1"), value=12)]


def test_a_small_given_that_is_set_high_is_not_the_number_of_the_line_that_starts_there() -> None:
    sheet = RuleSheet((*BASIC, Statement("run-line")))
    high = replace(glyph(0.5, 0.4, ("7", 0.999), size=0.39), box=(0.37, 0.21, 0.63, 0.6))
    draft = drafted(sheet, traces=(trace("r1c1 r1c2 r2c3"),), glyphs=(high,))
    assert draft.givens == {Cell(1, 1): 7}
    assert [c.kind for c in draft.constraints if c.kind == "run-line"]


def test_tints_are_regions_where_squares_have_the_rule_about_squares() -> None:
    sheet = read_rules("Digits in a shaded region are all different. A grey square holds an even digit.")
    tints = tuple(Tint(Cell(4, column), (210, 210, 210), 1.0, "vector") for column in range(1, 10))
    square = Shape("square", (4.2, 6.2, 4.8, 6.8), (200, 200, 200), "vector")
    draft = drafted(sheet, tints=tints, shapes=(square,))
    assert [c.cells for c in of_kind(draft, ExtraRegion)] == [tuple(tint.cell for tint in tints)]
    assert [c.cells for c in of_kind(draft, Even)] == [cells_in("r7c5")]


def test_what_tints_mean_is_tried_where_a_sentence_is_understood_in_the_main_only() -> None:
    tints = {how: (Tint(Cell(2, 2), (210, 210, 210), 1.0, how),) for how in ("vector", "shape")}
    told = RuleSheet(BASIC, unsure=("In a pond all of them come.",))
    tried = {how: any(d.meaning for d in drafted(told, tints=seen).doubts) for how, seen in tints.items()}
    assert tried == {"vector": True, "shape": False}, "in a picture a stain may be the tint"
    assert not any(d.meaning for d in drafted(RuleSheet(BASIC), tints=tints["vector"]).doubts)


def test_stray_ink_is_a_query_and_no_mark_of_the_puzzle() -> None:
    draft = drafted(stray=((3.2, 4.2, 3.5, 4.6),))
    assert [item for item in draft.items if item.where is not None] == []
    assert [doubt.where is not None for doubt in draft.doubts] == [True]


def test_rules_without_marks_are_stated_by_the_text() -> None:
    sheet = RuleSheet((*BASIC, Statement("king-apart")))
    assert [c.kind for c in drafted(sheet).constraints][3:] == ["king-apart"]


def test_boxes_are_what_the_lines_show() -> None:
    assert of_kind(drafted(), Boxes)[0].cells == usual_boxes(NINE)
    assert of_kind(drafted(boxes=PLAIN), Boxes) == []
    assert any("boxes" in doubt.why for doubt in drafted(boxes=PLAIN).doubts)


def test_digits_in_a_circle_on_a_corner_are_no_part_of_a_total_beside_it() -> None:
    sheet = RuleSheet((*BASIC, Statement("cage"), Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.25, (255, 255, 255), (0, 0, 0), "vector")
    digits = (glyph(0.9, 1.0, ("3", 0.999), size=0.12), glyph(1.1, 1.05, ("8", 0.999), size=0.12))
    total = glyph(1.3, 1.12, ("21", 0.999), size=0.2)
    cage = Fence(cells_in("r2c2 r2c3"), "dashed", (0, 0, 0), "vector")
    draft = drafted(sheet, glyphs=(*digits, total), discs=(circle,), fences=(cage,))
    assert [c.value for c in of_kind(draft, Cage)] == [21]
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(3, 8)]


def test_a_digit_of_a_corner_that_was_read_twice_counts_once() -> None:
    sheet = RuleSheet((*BASIC, Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.25, (255, 255, 255), (0, 0, 0), "shape")
    upper = Glyph((0.88, 0.84, 1.12, 0.98), (Guess("15", 0.999),), 0.14, (0, 0, 0), "shape")
    lower = Glyph((0.88, 1.03, 1.12, 1.17), (Guess("89", 0.999),), 0.14, (0, 0, 0), "shape")
    again = Glyph((1.02, 1.03, 1.12, 1.17), (Guess("9", 0.5),), 0.14, (0, 0, 0), "shape")
    draft = drafted(sheet, glyphs=(upper, lower, again), discs=(circle,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(1, 5, 8, 9)]
    assert not draft.doubts


def test_commas_between_the_digits_of_a_corner_are_no_digits() -> None:
    sheet = RuleSheet((*BASIC, Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.25, (255, 255, 255), (0, 0, 0), "vector")
    digits = [glyph(x, 1.0, (text, 0.999), size=0.12) for x, text in ((0.9, "3"), (1.0, ","), (1.1, "8"))]
    draft = drafted(sheet, glyphs=tuple(replace(each, how="vector") for each in digits), discs=(circle,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(3, 8)]
    assert not draft.doubts


def test_a_number_that_reaches_into_a_circle_on_a_corner_is_not_one_of_its_digits() -> None:
    sheet = RuleSheet((*BASIC, Statement("cage"), Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.2, (255, 255, 255), (0, 0, 0), "vector")
    total = Glyph((1.0, 1.06, 1.27, 1.2), (Guess("21", 0.999),), 0.14, (0, 0, 0), "vector")
    cage = Fence(cells_in("r2c2 r2c3"), "dashed", (0, 0, 0), "vector")
    draft = drafted(sheet, glyphs=(glyph(1.0, 1.0, ("1", 0.999), size=0.12), total), discs=(circle,), fences=(cage,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(1,)]
    assert [c.value for c in of_kind(draft, Cage)] == [21]


def test_a_number_nearly_as_small_that_reaches_out_of_a_circle_is_not_one_of_its_digits() -> None:
    """Only with it they would stand to one side."""
    sheet = RuleSheet((*BASIC, Statement("sum-line"), Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.24, (255, 255, 255), (0, 0, 0), "vector")
    number = Glyph((1.03, 1.06, 1.25, 1.22), (Guess("24", 0.999),), 0.16, (0, 0, 0), "vector")
    line = trace("r2c2 r2c3 r3c3", colour=(127, 183, 167))
    draft = drafted(sheet, glyphs=(glyph(1.0, 1.0, ("6", 0.999), size=0.13), number), discs=(circle,), traces=(line,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(6,)]
    assert [c.value for c in of_kind(draft, SumLine)] == [24]


@pytest.mark.parametrize(("size", "text"), [(0.22, "27"), (0.1, "7")])
def test_a_number_of_another_size_in_a_circle_on_a_corner_is_that_of_the_cage(size: float, text: str) -> None:
    """It stands in the corner of its cell, and the digits of the circle around its middle."""
    sheet = RuleSheet((*BASIC, Statement("cage"), Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.25, (255, 255, 255), (0, 0, 0), "vector")
    digits = (glyph(0.91, 1.0, ("3", 0.999), size=0.15), glyph(1.09, 1.0, ("8", 0.999), size=0.15))
    total = Glyph((1.06, 1.05, 1.18, 1.05 + size), (Guess(text, 0.999),), size, (0, 0, 0), "vector")
    cage = Fence(cells_in("r2c2 r2c3"), "dashed", (0, 0, 0), "vector")
    draft = drafted(sheet, glyphs=(*digits, total), discs=(circle,), fences=(cage,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [(3, 8)]
    assert [c.value for c in of_kind(draft, Cage)] == [int(text)]


@pytest.mark.parametrize(("text", "digits"), [("1", (1, 5, 6)), ("7", (5, 6))], ids=["a low figure", "a small number"])
def test_low_figures_in_a_circle_are_of_one_size_with_those_beside_them(text: str, digits: tuple[int, ...]) -> None:
    """Old-style figures: a 1 is as low as a small letter, and a 7 never is."""
    sheet = RuleSheet((*BASIC, Statement("corner-digits")))
    circle = Disc((1.0, 1.0), 0.26, (255, 255, 255), (0, 0, 0), "ocr")
    small = glyph(0.915, 0.905, (text, 0.999), size=0.11)
    large = (glyph(1.065, 0.925, ("5", 0.999), size=0.15), glyph(1.0, 1.095, ("6", 0.999), size=0.15))
    draft = drafted(sheet, glyphs=(small, *large), discs=(circle,))
    assert [c.digits for c in of_kind(draft, CornerDigits)] == [digits]
