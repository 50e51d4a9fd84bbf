"""What the proof says of the other kinds that a line may be."""

from dataclasses import replace

import pytest

from recognise.doubt.kinds import REFUTED, escape_of_kind
from recognise.doubt.policy import KIND, passing
from recognise.draft import Draft, Item, Value
from recognise.evidence import Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.kinds.palindrome import Palindrome
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
RULES = Words(rules_text="Lines are palindromes. Digits rise along thermometers. Arrows add up to their circles.")
WAY = tuple(map(Cell.parse, ("r1c1", "r1c2", "r2c3")))
OTHER = tuple(map(Cell.parse, ("r4c1", "r4c2", "r3c3")))


def _item(*stated: Constraint) -> Item:
    return Item(stated, ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), 0.97, "shape", extent=0.999)


def _tried(first: Constraint, *rest: Constraint, words: Words = RULES) -> tuple[float | None, list[Value]]:
    tried: list[Value] = []

    def proves(value: Value) -> float:
        tried.append(value)
        return 0.0

    return escape_of_kind(Draft(GRID, (_item(first), *map(_item, rest)), words), 0, proves), tried


def test_every_other_kind_of_the_page_is_tried_both_ways() -> None:
    escape, tried = _tried(
        Thermometer(path=WAY), Palindrome(path=OTHER), Arrow(circle=OTHER[:1], shaft=OTHER[1:]), Palindrome(path=OTHER)
    )
    assert escape == REFUTED
    back = WAY[::-1]
    assert tried[0] == (Thermometer(path=back),)
    assert {value[0].kind for value in tried} == {"thermometer", "palindrome", "arrow"}  # type: ignore[index]
    assert (Arrow(circle=back[:1], shaft=back[1:]),) in tried


def test_a_line_that_reads_the_same_both_ways_is_no_other_from_its_end() -> None:
    assert _tried(Palindrome(path=WAY), Palindrome(path=OTHER)) == (REFUTED, [])


def test_an_arrow_that_begins_in_a_circle_over_several_cells_begins_in_the_nearest() -> None:
    pill = Arrow(circle=(WAY[0], Cell(2, 1)), shaft=WAY[1:])
    _, tried = _tried(pill, Palindrome(path=OTHER))
    assert (Palindrome(path=WAY),) in tried or (Palindrome(path=WAY[::-1]),) in tried
    assert (Arrow(circle=WAY[:1], shaft=WAY[1:]),) in tried


def test_a_kind_that_leaves_one_solution_too_keeps_its_doubt() -> None:
    draft = Draft(GRID, (_item(Thermometer(path=WAY)), _item(Palindrome(path=OTHER))), RULES)
    assert escape_of_kind(draft, 0, lambda value: float(value[0].kind == "palindrome")) is None  # type: ignore[index]


def test_without_rules_a_line_may_be_anything() -> None:
    assert _tried(Thermometer(path=WAY), Palindrome(path=OTHER), words=Words()) == (None, [])
    branched = Draft(GRID, (_item(Thermometer(path=WAY), Thermometer(path=WAY[:2])),), RULES)
    assert escape_of_kind(branched, 0, lambda value: 0.0) is None


def test_what_is_refuted_counts_for_less() -> None:
    item = _item(Palindrome(path=WAY))
    cells, of_kind = 0.001, 0.03 - 0.001
    assert passing(replace(item, escape=0.0)) == pytest.approx(of_kind * KIND)
    assert passing(replace(item, escape=0.0, kind_escape=REFUTED)) == pytest.approx(of_kind * REFUTED)
    assert passing(replace(item, escape=1.0, kind_escape=REFUTED)) == pytest.approx(cells + of_kind * REFUTED)
