"""Marks of every family to constraints, from evidence without fault; what has no rule is not lost."""

from dataclasses import replace
from random import Random
from typing import get_args

import pytest

from fixtures.bench.same import differences
from fixtures.generator import FLAVOURS, make_puzzle
from fixtures.printer.wording import rules_text
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft
from recognise.evidence import Disc, Fence, Shape, Tint, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.interpret.meaning import meaning_of
from recognise.rules import MarkHint, RuleSheet, Statement
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.grid import Side
from schema.kinds.boxes import Boxes
from schema.marks import Seen
from schema.puzzle import Puzzle
from tests.recognise.evidence_maker import trace
from tests.recognise.ideal_evidence import BLACK, GREY, ideal_evidence, small
from tests.recognise.meanings import drafted, parsed, reasons


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
        assert reasons(draft) != []
        return
    assert differences(as_puzzle(draft), puzzle) == [], text
    assert reasons(draft) == [], text


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


@pytest.mark.parametrize(
    "part",
    [
        {"discs": (Disc((3.3, 3.3), 0.1, BLACK, None, "vector"),)},
        {"fences": (Fence(parsed("r1c1 r1c2"), "dashed", BLACK, "vector"),)},
        {"traces": (trace("r1c1 r1c2", heads=(1,)),)},
        {"shapes": (Shape("capsule", (0.1, 0.1, 1.9, 0.9), GREY, "vector", filled=False),)},
        {"shapes": (Shape("bar", (0.9, 2.47, 1.1, 2.53), BLACK, "vector"),)},
        {"glyphs": (small(1.0, 0.5, "Q"),)},
        {"tints": (Tint(Cell(3, 3), GREY, 1.0),)},
    ],
    ids=["dot nowhere", "cage", "arrow without circle", "capsule", "bar", "letter", "tint"],
)
def test_no_evidence_is_dropped_without_a_rule_for_it(part: dict) -> None:
    draft = drafted(**part)
    assert reasons(draft) != []


def _kind_of(seen: Seen, *statements: Statement) -> list[str]:
    return [c.kind for c in meaning_of(seen, RuleSheet(statements)).constraints]


def test_numbers_beside_the_grid_mean_what_the_rules_say_of_their_side() -> None:
    two = (
        Statement("x-sum", {}, MarkHint("number", place="outside", sides=("top", "left"))),
        Statement("sandwich", {}, MarkHint("number", place="outside", sides=("bottom",))),
    )
    beside = {side: _kind_of(Seen("outside", text="12", side=side, index=3), *two) for side in get_args(Side)}
    assert beside == {"top": ["x-sum"], "left": ["x-sum"], "bottom": ["sandwich"], "right": []}


def test_double_lines_are_told_from_lines_of_a_named_colour() -> None:
    double = Statement("gap-line", {"gap": 5}, MarkHint("line", style="double"))
    grey = Statement("palindrome", {}, MarkHint("line", "grey"))
    plain = Statement("palindrome", {}, MarkHint("line"))
    line = Seen("line", paths=(parsed("r1c1 r1c2 r1c3"),), colour="grey")
    strokes = replace(line, shape="outline", colour="black")
    assert _kind_of(line, double, grey) == ["palindrome"]
    assert _kind_of(strokes, double, grey) == ["gap-line"]
    assert _kind_of(strokes, double, plain) == ["gap-line"]
    assert _kind_of(line, double, plain) == []  # two strokes may be seen as one
    assert _kind_of(replace(line, shape="dashed"), double) == []


def test_letters_between_cells_may_stand_in_rings() -> None:
    five = Statement("sum-pair", {"value": 5}, MarkHint("letter", letter="V"))
    ring = Seen("edge", parsed("r1c1 r1c2"), shape="dot", text="V", colour="white")
    assert _kind_of(ring, five) == ["sum-pair"]
    assert _kind_of(replace(ring, text=""), five) == []
