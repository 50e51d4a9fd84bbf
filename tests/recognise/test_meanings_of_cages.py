"""Cages and their totals to constraints, from evidence made by hand."""

from dataclasses import replace

import pytest

from ingest.page import Colour
from recognise.evidence import Disc, Fence, How, Shape, Tint, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.interpret.cages import NO_NUMBER, NO_SIGN, cages
from recognise.interpret.mark import Left, Mark
from recognise.rules import MarkHint, RuleSheet, Statement
from recognise.rules.reader import read_rules
from schema.cells import Cell
from tests.recognise.evidence_maker import evidence, given, glyph
from tests.recognise.ideal_evidence import BLACK, GREY, small
from tests.recognise.meanings import drafted, parsed, reasons, stated

TWO_CAGES = tuple(Fence(parsed(cells), "dashed", BLACK, "vector") for cells in ("r1c1 r2c1", "r3c1 r3c2"))

CAGE = Statement("cage", {"operation": "sum", "repeats": False}, MarkHint("cage"))


def test_a_total_serves_one_cage_and_givens_are_none() -> None:
    glyphs = (small(0.2, 0.18, "12"), given("r3c1", "7"), small(0.2, 2.18, "9"))
    draft = drafted(CAGE, fences=TWO_CAGES, glyphs=glyphs)
    assert {(c.cells, c.value) for c in stated(draft, "cage")} == {(parsed("r1c1 r2c1"), 12), (parsed("r3c1 r3c2"), 9)}
    assert draft.givens == {Cell(3, 1): 7}
    assert reasons(draft) == []


@pytest.mark.parametrize("framed", [True, False], ids=["pads", "circles"])
def test_digits_on_a_corner_are_no_total_and_push_the_total_aside(framed: bool) -> None:
    pad = Shape("square", (0.8, 1.8, 1.2, 2.2), GREY, "vector")
    corner = {"shapes": (pad,)} if framed else {"discs": (Disc((1.0, 2.0), 0.2, GREY, None, "vector"),)}
    fence = Fence(parsed("r3c2 r3c3"), "solid", BLACK, "vector")
    boxes = {"3": (0.87, 1.87, 0.97, 2.01), "8": (1.03, 2.06, 1.13, 2.2)}
    digits = tuple(replace(small(1.0, 2.0, text), box=box) for text, box in boxes.items())
    total = replace(small(1.6, 2.27, "12"), box=(1.46, 2.18, 1.71, 2.35))
    both = (CAGE, Statement("corner-digits", {}, MarkHint("", place="corner")))
    draft = drafted(*both, fences=(fence,), glyphs=(*digits, total), **corner)
    assert [c.value for c in stated(draft, "cage")] == [12]
    assert [c.digits for c in stated(draft, "corner-digits")] == [(3, 8)]


@pytest.mark.parametrize(("gap", "operations"), [(0.08, ["product"]), (0.3, [])])
def test_a_sign_behind_a_space_belongs_to_its_long_number(gap: float, operations: list[str]) -> None:
    """A sign is lower than the figures; the space before it is one of their size. What stands farther off is none."""
    number = replace(small(1.3, 0.18, "900"), box=(1.09, 0.09, 1.44, 0.25), size=0.16)
    sign = replace(small(1.5, 0.18, "×"), box=(1.44 + gap, 0.13, 1.54 + gap, 0.24), size=0.11)
    fence = Fence(parsed("r1c2 r1c3 r2c3"), "solid", BLACK, "vector")
    rule = Statement("cage", {"operation": None, "repeats": True}, MarkHint("cage"))
    draft = drafted(rule, fences=(fence,), glyphs=(number, sign))
    assert [c.operation for c in stated(draft, "cage") if c.value == 900] == operations


def test_a_number_on_the_middle_of_an_edge_is_no_total_of_the_cage_below() -> None:
    cages = tuple(Fence(parsed(cells), "dashed", BLACK, "vector") for cells in ("r1c1 r2c1", "r3c2 r3c3"))
    pair = Statement("sum-pair", {}, MarkHint("edge-number"))
    glyphs = (small(0.2, 0.18, "12"), replace(small(1.5, 2.02, "11"), box=(1.36, 1.92, 1.64, 2.12)))
    draft = drafted(CAGE, pair, fences=cages, glyphs=glyphs)
    assert [c.value for c in stated(draft, "cage")] == [12, None]
    assert [(c.cells, c.value) for c in stated(draft, "sum-pair")] == [(parsed("r2c2 r3c2"), 11)]


def test_a_cage_without_a_number_among_cages_with_one_is_asked_for() -> None:
    seen = tuple(replace(fence, how="shape") for fence in TWO_CAGES)
    total = (small(0.2, 0.18, "12"),)
    draft = drafted(CAGE, fences=seen, glyphs=total)
    assert [c.value for c in stated(draft, "cage")] == [12, None]
    assert len(reasons(draft)) == 1
    assert reasons(drafted(CAGE, fences=seen)) == []
    # What a PDF draws is known: a number that is not there was not missed.
    assert reasons(drafted(CAGE, fences=TWO_CAGES, glyphs=total)) == []
    # Totals read by the pixels may be missed.
    assert len(reasons(drafted(CAGE, fences=TWO_CAGES, glyphs=(replace(total[0], how="ocr"),)))) == 1


def test_where_totals_are_paths_a_bare_corner_has_none() -> None:
    total = (replace(small(0.2, 0.18, "12"), how="shape"),)
    assert reasons(drafted(CAGE, fences=TWO_CAGES, glyphs=total)) == []
    unread = Shape("glyph-path", (0.1, 2.08, 0.3, 2.28), BLACK, "vector")
    asked = reasons(drafted(CAGE, fences=TWO_CAGES, glyphs=total, shapes=(unread,)))
    assert any("without a number" in why for why in asked)


def test_a_cage_is_no_query_where_the_rules_say_that_some_have_no_number() -> None:
    glyphs = (glyph(0.2, 0.2, ("7", 0.999), size=0.25),)
    told = read_rules("Digits in a cage add up to the number in its corner. The total of some cages is not told.")
    (cage,) = (s for s in told.statements if s.kind == "cage")
    drawn = tuple(replace(fence, style="border") for fence in TWO_CAGES)
    assert reasons(drafted(cage, fences=drawn, glyphs=glyphs)) == []
    assert any("without a number" in why for why in reasons(drafted(CAGE, fences=drawn, glyphs=glyphs)))
    seen = tuple(replace(fence, how="shape") for fence in drawn)
    assert any("without a number" in why for why in reasons(drafted(cage, fences=seen, glyphs=glyphs)))


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
    assert any("5 cells" in why for why in reasons(drafted(region, tints=tints))) == asked


def test_a_cage_claims_its_line_and_its_total_and_nothing_inside() -> None:
    fences = (Fence(parsed("r1c1 r1c2 r2c1 r2c2"), "dashed", BLACK, "vector"),)
    draft = drafted(CAGE, fences=fences, glyphs=(small(0.2, 0.18, "12"),))
    (item,) = (i for i in draft.items if isinstance(i.value, tuple) and i.value[0].kind == "cage")
    for x0, y0, x1, y1 in (_bounds(p) for p in item.claimed):
        assert not (x0 < 0.5 < x1 and y0 < 0.5 < y1)
        assert min(x1 - x0, y1 - y0) < 0.3


def _bounds(polygon) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def test_thick_blocks_with_signs_are_cages_and_no_boxes() -> None:
    blocks = (parsed("r1c1 r1c2"), parsed("r2c1 r2c2"))
    fences = tuple(Fence(cells, "border", BLACK, "vector") for cells in blocks)
    sheet = RuleSheet((Statement("rows"), Statement("columns"), Statement("cage", {"operation": "printed"})))
    glyphs = (small(0.2, 0.18, "2+"), small(0.2, 1.18, "3"), small(0.36, 1.18, "-"))
    draft = interpret(evidence(2, 2, fences=fences, glyphs=glyphs), SeenBoxes(blocks, "irregular", 0.9), sheet, Words())
    assert {(c.value, c.operation) for c in stated(draft, "cage")} == {(2, "sum"), (3, "difference")}
    draft = interpret(
        evidence(2, 2, fences=fences, glyphs=glyphs[1:]), SeenBoxes(blocks, "irregular", 0.9), sheet, Words()
    )
    assert any("number" in why for why in reasons(draft))


def test_a_number_without_its_sign_is_asked_for_where_sums_have_one() -> None:
    sheet = Statement("cage", {"operation": "printed"})
    glyphs = (small(0.2, 0.18, "12"), small(0.2, 2.18, "9+"))
    assert any("sign" in why for why in reasons(drafted(sheet, fences=TWO_CAGES, glyphs=glyphs)))
    glyphs = (small(0.2, 0.18, "12"), small(0.2, 2.18, "9×"))
    assert reasons(drafted(sheet, fences=TWO_CAGES, glyphs=glyphs)) == []


TOTALS = (small(0.2, 0.18, "12"), small(0.2, 2.18, "9"))


def _tinted(*cells_and_colours: tuple[str, Colour]) -> tuple[Tint, ...]:
    return tuple(Tint(cell, colour, 1.0, "vector") for cells, colour in cells_and_colours for cell in parsed(cells))


def test_tints_that_fill_all_cages_are_how_these_are_drawn() -> None:
    tints = _tinted(("r1c1 r2c1", (220, 235, 200)), ("r3c1 r3c2", (245, 225, 205)))
    draft = drafted(CAGE, fences=TWO_CAGES, glyphs=TOTALS, tints=tints)
    assert len(stated(draft, "cage")) == 2
    assert reasons(draft) == []


@pytest.mark.parametrize("tinted", ["r1c1 r2c1", "r1c1 r2c1 r3c1", "r1c1 r2c1 r3c1 r3c2 r3c3"])
def test_tints_that_do_not_are_asked_about(tinted: str) -> None:
    draft = drafted(CAGE, fences=TWO_CAGES, glyphs=TOTALS, tints=_tinted((tinted, (220, 235, 200))))
    assert reasons(draft) != []


def test_tinted_cages_keep_what_a_rule_says_of_the_tint() -> None:
    even = Statement("even", {}, MarkHint("tint"))
    tints = _tinted(("r1c1 r2c1 r3c1 r3c2", (220, 235, 200)))
    draft = drafted(CAGE, even, fences=TWO_CAGES, glyphs=TOTALS, tints=tints)
    assert len(stated(draft, "even")) == 1


def test_a_cell_by_itself_between_thick_borders_that_has_no_number_is_no_cage() -> None:
    cells = ("r1c1 r2c1", "r3c1")
    fences = tuple(Fence(parsed(each), "border", BLACK, "vector") for each in cells)
    draft = drafted(CAGE, fences=fences, glyphs=(small(0.2, 0.18, "12"),))
    assert [c.cells for c in stated(draft, "cage")] == [parsed("r1c1 r2c1")]
    assert reasons(draft) == []


@pytest.mark.parametrize(("style", "totals", "stays"), [("border", (), 0), ("border", ("22",), 1), ("dashed", (), 1)])
def test_thick_lines_around_a_box_are_no_cage(style: str, totals: tuple[str, ...], stays: int) -> None:
    box = parsed("r1c1 r1c2 r1c3 r2c1 r2c2 r2c3 r3c1 r3c2 r3c3")
    seen = evidence(
        fences=(Fence(box, style, BLACK, "vector"),), glyphs=tuple(small(0.2, 0.18, total) for total in totals)
    )
    boxes = tuple(
        tuple(Cell(r + row, c + column) for row in (1, 2, 3) for column in (1, 2, 3))
        for r in (0, 3, 6)
        for c in (0, 3, 6)
    )
    draft = interpret(seen, SeenBoxes(boxes, "tint", 1.0), None, Words())
    assert len(stated(draft, "cage")) == stays


@pytest.mark.parametrize(
    ("text", "plus", "expected"),
    [
        ("74", True, (7, "sum")),  # no two digits of nine come to 74
        ("21", True, (2, "quotient")),
        ("14", True, (14, "sum")),
        ("95", True, (95, "sum")),  # a figure that looks like no sign
        ("74", False, (74, "sum")),
    ],
)
def test_a_sign_read_as_a_figure_is_the_sign_where_the_number_is_none_of_a_sum(
    text: str, plus: bool, expected: tuple[int, str]
) -> None:
    printed = Statement("cage", {"operation": "printed", "repeats": True}, MarkHint("cage"))
    glyphs = (small(0.2, 0.18, "12+" if plus else "12×"), replace(small(0.2, 2.18, text), how="ocr"))
    draft = drafted(printed, fences=TWO_CAGES, glyphs=glyphs)
    _, cage = stated(draft, "cage")
    assert (cage.value, cage.operation) == expected
    assert (NO_SIGN in reasons(draft)) == plus


def test_a_number_of_two_cells_without_a_sign_may_be_a_quotient_and_no_reading_says_the_same_twice() -> None:
    printed = Statement("cage", {"operation": "printed", "repeats": True}, MarkHint("cage"))
    plus, bare = small(0.2, 0.18, "12+"), glyph(0.2, 2.18, ("74", 0.5), ("7", 0.1), size=0.2, how="ocr")
    items = drafted(printed, fences=TWO_CAGES, glyphs=(plus, bare)).items
    (item,) = [item for item in items if item.alternatives]
    assert item.value[0].value == 7
    assert all(other.value != item.value for other in item.alternatives)
    quotient = drafted(printed, fences=TWO_CAGES, glyphs=(plus, glyph(0.2, 2.18, ("4", 0.9), size=0.2, how="ocr")))
    others = [other.value[0] for item in quotient.items for other in item.alternatives]
    assert [(cage.value, cage.operation) for cage in others] == [(4, "quotient")]


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (("4+", "9", "12"), ["quotient", "sum", "sum"]),
        (("4+", "9+", "12"), ["sum", "sum", "sum"]),  # a plus that was lost, more likely
        (("14+", "9", "12"), ["sum", "sum", "sum"]),  # no quotient
        (("4+", "9-", "12×"), ["sum", "difference", "product"]),
    ],
)
def test_a_plus_where_the_sums_of_the_page_have_none_is_a_blurred_division(
    texts: tuple[str, ...], expected: list[str]
) -> None:
    printed = Statement("cage", {"operation": "printed", "repeats": True}, MarkHint("cage"))
    fences = tuple(Fence(parsed(f"r{row}c1 r{row}c2"), "dashed", BLACK, "shape") for row in (1, 2, 3))
    glyphs = tuple(glyph(0.2, row + 0.18, (text, 0.99), size=0.2, how="ocr") for row, text in enumerate(texts))
    draft = drafted(printed, fences=fences, glyphs=glyphs)
    assert [cage.operation for cage in stated(draft, "cage")] == expected
    if "quotient" in expected:
        (item,) = [item for item in draft.items if item.alternatives]
        assert item.confidence < 0.9 and [other.value[0].operation for other in item.alternatives] == ["sum"]


def _blocks(totals: int) -> tuple[list[Mark], tuple[tuple[Cell, ...], ...]]:
    """The cages that are made of three rows between thick lines, the first of them with a total in their corner."""
    rows = tuple(parsed(f"r{row}c1 r{row}c2 r{row}c3") for row in (1, 2, 3))
    glyphs = tuple(small(0.2, row + 0.18, "12") for row in range(totals))
    return list(cages(Left.of(evidence(3, 3, glyphs=glyphs)), rows)), rows


def test_most_blocks_of_a_picture_have_a_total_where_they_are_cages() -> None:
    marks, rows = _blocks(2)
    assert [mark.seen.cells for mark in marks] == list(rows)
    assert [mark.asks for mark in marks] == [(), (), (NO_NUMBER,)]
    assert _blocks(1)[0] == []


def test_ground_between_thick_cages_is_none_where_their_digits_may_repeat() -> None:
    drawn = tuple(replace(fence, style="border", how="shape") for fence in TWO_CAGES)
    again = replace(CAGE, fields={"operation": "sum", "repeats": True})
    for rule, left in ((again, [12]), (CAGE, [12, None])):
        draft = drafted(rule, fences=drawn, glyphs=(small(0.2, 0.18, "12"),))
        assert [c.value for c in stated(draft, "cage")] == left
        assert reasons(draft) == [NO_NUMBER]
