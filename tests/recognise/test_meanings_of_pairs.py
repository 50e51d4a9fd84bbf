"""Marks between cells and on their corners to constraints, from evidence made by hand."""

import pytest

from recognise.draft import box_polygon
from recognise.evidence import Disc, Glyph, Guess, Shape
from recognise.rules import MarkHint, Statement
from schema.cells import Cell
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.evidence_maker import glyph
from tests.recognise.ideal_evidence import BLACK, WHITE, small
from tests.recognise.meanings import drafted, parsed, reasons, stated


@pytest.mark.parametrize(
    ("hint", "expected"),
    [(MarkHint("dot", "white"), "r1c1 r1c2"), (MarkHint("dot", "black"), "r2c1 r2c2"), (MarkHint("bar"), "r3c1 r3c2")],
    ids=["white", "black", "bar"],
)
def test_marks_between_two_cells_by_colour_and_shape(hint: MarkHint, expected: str) -> None:
    discs = (Disc((1, 0.5), 0.12, None, BLACK, "vector"), Disc((1.02, 1.47), 0.12, (40, 40, 60), None, "vector"))
    shapes = (Shape("bar", (0.9, 2.47, 1.1, 2.53), BLACK, "vector"),)
    draft = drafted(Statement("consecutive-pair", {}, hint), discs=discs, shapes=shapes)
    assert [c.cells for c in stated(draft, "consecutive-pair")] == [parsed(expected)]
    assert len(stated(draft, "unread-mark")) == 2


def test_a_mark_that_two_rules_may_speak_of_is_a_query() -> None:
    two = (Statement("consecutive-pair", {}, MarkHint("dot")), Statement("ratio-pair", {}, MarkHint("dot")))
    draft = drafted(*two, discs=(Disc((1, 0.5), 0.12, WHITE, BLACK, "vector"),))
    assert len(stated(draft, "unread-mark")) == 1
    assert any("several rules" in why for why in reasons(draft))


@pytest.mark.parametrize("hint", [MarkHint(), MarkHint("sign")], ids=["bare", "sign"])
def test_signs_beside_numbers_on_edges_are_signs(hint: MarkHint) -> None:
    rules = (Statement("greater", {}, hint), Statement("sum-pair", {}, MarkHint("number", place="edge")))
    signs = tuple(
        Shape("sign", (x - 0.1, 0.4, x + 0.1, 0.6), BLACK, "vector", direction=way, filled=False)
        for x, way in ((1, "left"), (3, "right"))
    )
    draft = drafted(*rules, shapes=signs, glyphs=(glyph(2, 2.5, ("8", 0.9999), size=0.2),))
    assert [str(c.greater) for c in stated(draft, "greater")] == ["r1c2", "r1c3"]
    assert [c.value for c in stated(draft, "sum-pair")] == [8]


def test_what_is_said_of_circles_in_cells_names_no_dots_on_edges() -> None:
    """The page's ink is dark grey: nearer to grey than to black, and no rule speaks of grey dots."""
    rules = (
        Statement("ratio-pair", {"ratio": 2}, MarkHint("dot", "black")),
        Statement("odd", {}, MarkHint("circle", "grey")),
    )
    discs = (Disc((1, 0.5), 0.12, (79, 79, 79), None, "shape"), Disc((4.5, 4.5), 0.36, (217, 217, 217), None, "shape"))
    draft = drafted(*rules, discs=discs)
    assert [c.kind for c in draft.constraints if c.kind in ("ratio-pair", "odd")] == ["ratio-pair", "odd"]
    assert stated(draft, "unread-mark") == []


@pytest.mark.parametrize(("way", "greater"), [("left", "r1c2"), ("right", "r1c1")])
def test_a_sign_points_to_the_smaller_cell(way: str, greater: str) -> None:
    drawn = Shape("sign", (0.9, 0.4, 1.1, 0.6), BLACK, "vector", direction=way, filled=False)
    (found,) = stated(drafted(Statement("greater"), shapes=(drawn,)), "greater")
    assert found.greater == Cell.parse(greater)


def test_a_sign_that_points_along_its_edge_is_asked_for() -> None:
    drawn = Shape("sign", (0.9, 0.4, 1.1, 0.6), BLACK, "vector", direction="up", filled=False)
    assert reasons(drafted(Statement("greater"), shapes=(drawn,))) != []


def test_corner_digits_in_reading_order_and_as_often_as_they_stand() -> None:
    disc = Disc((3.0, 2.0), 0.25, WHITE, BLACK, "vector")
    glyphs = (small(3.08, 2.09, "1"), small(2.92, 1.91, "4"), small(3.08, 1.91, "4"))
    (found,) = stated(drafted(Statement("corner-digits"), discs=(disc,), glyphs=glyphs), "corner-digits")
    assert (min(found.cells), found.digits) == (Cell(2, 3), (4, 4, 1))
    joined = (small(3.0, 2.0, "44"),)
    (found,) = stated(drafted(Statement("corner-digits"), discs=(disc,), glyphs=joined), "corner-digits")
    assert found.digits == (4, 4)


@pytest.mark.parametrize(("y", "asked"), [(1.9, True), (1.97, False)])
def test_digits_at_one_side_of_their_circle_are_asked_about(y: float, asked: bool) -> None:
    """Of two rows of digits one was lost under the wall of a cage."""
    disc = Disc((3.0, 2.0), 0.21, WHITE, BLACK, "vector")
    glyphs = (small(2.93, y, "1"), small(3.07, y, "2"))
    draft = drafted(Statement("corner-digits"), discs=(disc,), glyphs=glyphs)
    assert [c.digits for c in stated(draft, "corner-digits")] == [(1, 2)]
    assert any("to one side of the circle" in why for why in reasons(draft)) == asked


def test_a_circle_on_a_corner_without_a_digit_is_a_query() -> None:
    draft = drafted(Statement("corner-digits"), discs=(Disc((3.0, 2.0), 0.25, WHITE, BLACK, "vector"),))
    assert len(stated(draft, "unread-mark")) == 1


@pytest.mark.parametrize("half", [0.15, 0.45])
def test_signs_between_cells_may_have_long_arms(half: float) -> None:
    sign = Shape("sign", (1 - half / 2, 0.5 - half, 1 + half / 2, 0.5 + half), BLACK, "vector", direction="right")
    (found,) = stated(drafted(Statement("greater", {}, MarkHint("sign")), shapes=(sign,)), "greater")
    assert (found.greater, found.less) == (Cell(1, 1), Cell(1, 2))


def test_a_mark_is_unread_and_not_lost_where_its_text_is_no_number() -> None:
    draft = drafted(Statement("sandwich", {}, MarkHint(place="outside")), glyphs=(glyph(2.5, -0.5, ("Q", 0.9)),))
    assert [c.kind for c in draft.constraints if isinstance(c, UnreadMark)] or reasons(draft)


def test_what_is_said_of_the_number_in_a_dot_has_the_word_over_dots_and_numbers() -> None:
    dot, number = MarkHint("dot", "black"), MarkHint("number")
    rules = (
        Statement("ratio-pair", {"ratio": 2}, dot),
        Statement("ratio-pair", {"ratio": "printed"}, dot),
        Statement("sum-pair", {}, number),
    )
    discs = (Disc((1, 0.5), 0.16, BLACK, None, "vector"), Disc((1, 1.5), 0.16, BLACK, None, "vector"))
    draft = drafted(
        *rules, discs=discs, glyphs=(glyph(1, 0.5, ("3", 0.999), size=0.2), glyph(2, 2.5, ("7", 0.999), size=0.2))
    )
    assert sorted(c.ratio for c in stated(draft, "ratio-pair")) == [2, 3]
    assert [c.value for c in stated(draft, "sum-pair")] == [7]


@pytest.mark.parametrize("bare", [False, True])
def test_numbers_in_squares_are_numbers_where_no_rule_speaks_of_squares(bare: bool) -> None:
    squares = [Shape("square", (x - 0.15, 0.35, x + 0.15, 0.65), BLACK, "vector", filled=False) for x in (1, 3)]
    numbers = [glyph(1, 0.5, ("9", 0.999), size=0.2), glyph(3, 0.5, ("11", 0.999), size=0.2)]
    draft = drafted(
        Statement("sum-pair", {}, MarkHint("number")), shapes=tuple(squares), glyphs=tuple(numbers[: 1 if bare else 2])
    )
    assert [c.value for c in stated(draft, "sum-pair")] == ([] if bare else [9, 11])


@pytest.mark.parametrize("frame", ["diamond", "square"])
def test_digits_on_a_corner_may_stand_in_a_frame(frame: str) -> None:
    outline = Shape(frame, (2.67, 2.67, 3.33, 3.33), BLACK, "vector", filled=False)
    held = (small(2.93, 3, "2"), small(3.07, 3, "4"))
    draft = drafted(Statement("corner-digits", {}, MarkHint("number")), shapes=(outline,), glyphs=held)
    (corner,) = stated(draft, "corner-digits")
    assert corner.cells == parsed("r3c3 r3c4 r4c3 r4c4") and corner.digits == (2, 4)
    assert reasons(draft) == []


def test_numerals_among_numbers_are_numbers_and_asked_about() -> None:
    numbers = Statement("sum-pair", {}, MarkHint("number", place="edge"))
    texts = (glyph(1, 0.5, ("7", 0.9999), size=0.25), glyph(2, 0.5, ("V", 0.9999), size=0.25))
    draft = drafted(numbers, glyphs=texts)
    assert [c.value for c in stated(draft, "sum-pair")] == [7, 5]
    assert reasons(draft) == ["“V” is taken for a numeral among numbers"]
    signs = Statement("greater", {}, MarkHint("sign", place="edge"))
    assert len(stated(drafted(numbers, signs, glyphs=texts), "sum-pair")) == 1
    tens = (texts[0], glyph(2, 0.5, ("X", 0.9999), size=0.25))
    assert [c.value for c in stated(drafted(numbers, signs, glyphs=tens), "sum-pair")] == [7, 10]


def test_a_text_of_which_the_rules_make_nothing_is_read_otherwise_and_asked_about() -> None:
    numbers = Statement("sum-pair", {}, MarkHint("number", place="edge"))
    texts = (glyph(1, 0.5, ("1B", 0.8), ("18", 0.1), ("13", 0.05), size=0.25),)
    draft = drafted(numbers, glyphs=texts)
    assert [c.value for c in stated(draft, "sum-pair")] == [18]
    assert reasons(draft) == ["as it was read, “1B”, it means nothing here"]
    (item,) = [item for item in draft.items if item.value == tuple(stated(draft, "sum-pair"))]
    assert [other.value[0].value for other in item.alternatives][-1] == 13  # type: ignore[index]


def test_a_figure_that_was_read_in_the_place_of_a_sign_is_a_part_of_it_and_asked_about() -> None:
    sign = Shape("sign", (0.8, 0.3, 1.2, 0.7), BLACK, "shape", direction="right", filled=False)
    part = Glyph((0.95, 0.42, 1.05, 0.6), (Guess("4", 0.99),), 0.18, BLACK, "ocr")
    draft = drafted(Statement("greater", {}, MarkHint("sign")), shapes=(sign,), glyphs=(part,))
    (found,) = stated(draft, "greater")
    assert (str(found.greater), str(found.less)) == ("r1c1", "r1c2")
    assert any("“4” was read in its place" in doubt.why for doubt in draft.doubts)


def test_a_number_of_a_text_layer_between_the_arms_of_a_sign_is_none_of_it() -> None:
    sign = Shape("sign", (0.8, 0.1, 1.2, 0.9), BLACK, "vector", direction="right", filled=False)
    number = Glyph((1.02, 0.05, 1.26, 0.23), (Guess("26", 0.99),), 0.18, BLACK, "vector")
    draft = drafted(Statement("greater", {}, MarkHint("sign")), shapes=(sign,), glyphs=(number,))
    (found,) = [item for item in draft.items if item.value == tuple(stated(draft, "greater"))]
    assert box_polygon(number.box) not in found.claimed


@pytest.mark.parametrize("kind", ["sum-pair", "greater"])
def test_signs_that_stand_for_a_sum_may_point_along_their_edge(kind: str) -> None:
    """A print sets the same wedge on every edge; as an inequality it would have to point across."""
    rule = Statement(kind, {"value": 8} if kind == "sum-pair" else {}, MarkHint("sign"))
    boxes = ((0.9, 0.4, 1.1, 0.6), (0.4, 0.9, 0.6, 1.1))
    signs = tuple(Shape("sign", box, BLACK, "vector", direction="down") for box in boxes)
    draft = drafted(rule, shapes=signs)
    assert len(stated(draft, kind)) == 2
    assert any("along the edge" in why for why in reasons(draft)) == (kind == "greater")
