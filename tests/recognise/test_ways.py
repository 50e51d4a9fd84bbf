"""What the proof of a page lets through where a mark may go another way."""

import itertools
from dataclasses import replace
from functools import partial

import pytest

from recognise.doubt.by_chance import chance_of_one_more
from recognise.doubt.policy import EXTENT, GIVEN, KIND, RISK, is_clean, passing, risk
from recognise.doubt.proof import proven
from recognise.doubt.values import REFUTED
from recognise.doubt.ways import UNNAMED, other_way, weighed
from recognise.draft import Alternative, Draft, Given, Item
from recognise.evidence import Slip, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.arrow import Arrow
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.even import Even
from schema.kinds.gap_line import GapLine
from schema.kinds.palindrome import Palindrome
from schema.kinds.rows import Rows
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
# 1 2 3 4 / 3 4 1 2 / 2 1 4 3 / 4 3 2 1 is one filled grid of it.
FULL = {(1, 1): 1, (1, 2): 2, (1, 3): 3, (1, 4): 4, (2, 1): 3, (2, 2): 4, (2, 3): 1, (2, 4): 2, (3, 1): 2, (3, 2): 1}
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


def cells(*names: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, names))


def _draft(line: Item, givens: dict[tuple[int, int], int]) -> Draft:
    rules = [Item((rule,), None, 1.0, "text") for rule in (Rows(), Columns(), Boxes.regular(GRID, 2, 2))]
    digits = [Item(Given(Cell(*cell), digit), WHERE, 1.0, "shape") for cell, digit in givens.items()]
    return Draft(GRID, (*rules, *digits, line), Words())


def _line(path: tuple[Cell, ...], *slips: Slip) -> Item:
    doubt = sum(slip.chance for slip in slips)
    return Item((Thermometer(path=path),), WHERE, 1 - doubt, "shape", extent=1 - doubt, slips=slips)


END = Slip(*cells("r1c3", "r1c4"), True, 0.01)


def test_a_line_without_which_the_puzzle_has_no_single_solution_is_as_read() -> None:
    path = cells("r1c1", "r1c2", "r1c3", "r1c4")
    enough, few = {(4, 2): 3, (4, 3): 2, (3, 3): 4}, {(4, 1): 4, (4, 4): 1}
    loose, short = _draft(_line(path, END), enough), _draft(_line(path[:3]), enough)
    assert [proven(draft).proof.outcome for draft in (loose, short)] == ["one", "one"]  # type: ignore[union-attr]
    assert weighed(loose).items[-1].escape == 1.0
    solution = proven(loose).proof.solution  # type: ignore[union-attr]
    told = weighed(loose, solution).items[-1].escape  # type: ignore[arg-type]
    assert told == 0.25, "of the four digits a cell too many may hold, the 4 goes on with 1 2 3"
    tight, short = _draft(_line(path, END), few), _draft(_line(path[:3]), few)
    outcomes = [proven(draft).proof.outcome for draft in (tight, short)]  # type: ignore[union-attr]
    assert outcomes == ["one", "several"]
    assert weighed(tight).items[-1].escape == 0.0
    assert risk(tight.items) > RISK > risk(weighed(tight).items)
    assert is_clean(weighed(tight), "one")


def test_a_second_arrow_out_of_a_circle_seldom_comes_out_where_there_is_none() -> None:
    first, second = (Arrow(circle=cells("r1c4"), shaft=cells(*way)) for way in (("r1c3", "r2c3"), ("r2c4", "r3c4")))
    draft = _draft(replace(_line(cells("r1c4", "r2c4")), value=(first, second)), FULL)
    solution = {Cell(*cell): digit for cell, digit in {**FULL, (3, 4): 3}.items()}
    told = partial(chance_of_one_more, draft, len(draft.items) - 1, solution=solution)
    assert told((first,)) == 0.25, "of four digits in a cell of the second shaft one comes to the 4 in the circle"
    assert told((first, second)) == 1.0


def test_what_may_go_on_can_only_go_where_the_solution_lets_it() -> None:
    path = cells("r1c1", "r1c2", "r1c3")
    up, down = (Slip(*cells("r1c3", to), False, 0.01) for to in ("r1c4", "r2c3"))
    givens = {cell: digit for cell, digit in FULL.items() if cell[0] > 1}
    for slip, escape in ((up, 1.0), (down, 0.0)):
        assert weighed(_draft(_line(path, slip), {**givens, (1, 1): 1})).items[-1].escape == escape


def test_two_lines_that_end_in_one_cell_may_be_one() -> None:
    joined = Slip(*cells("r1c3", "r1c3"), False, 0.1)
    one, other = _line(cells("r1c1", "r1c2", "r1c3"), joined), _line(cells("r1c3", "r1c4"))
    back = _line(cells("r1c3", "r2c3"))
    for rest, escape in ((other, 1.0), (back, None)):
        draft = _draft(one, FULL)
        value = rest.value if escape else (Thermometer(path=cells("r2c3", "r1c3")),)
        draft = replace(draft, items=(*draft.items, replace(rest, value=value)))
        found = weighed(draft).items[-2].escape
        assert found == (escape if escape else 0.0)


def test_a_way_of_which_nothing_is_left_counts_as_in_most_puzzles() -> None:
    slip = Slip(*cells("r1c1", "r1c2"), True, 0.01)
    assert weighed(_draft(_line(cells("r1c1", "r1c2"), slip), FULL)).items[-1].escape == EXTENT


def test_the_kind_of_a_line_is_another_doubt_than_where_it_goes() -> None:
    line = replace(_line(cells("r1c1", "r1c2")), confidence=0.98, extent=0.99)
    assert passing(line) == pytest.approx(0.01 * EXTENT + 0.01 * KIND)
    assert passing(replace(line, escape=0.0)) == pytest.approx(0.01 * KIND)
    assert passing(replace(line, extent=None)) == pytest.approx(0.02 * EXTENT)


def test_other_ways_of_lines_and_sets() -> None:
    path = cells("r1c1", "r1c2", "r1c3", "r1c4")
    cut = Slip(path[1], path[2], True, 0.1)
    assert other_way((Palindrome(path=path),), cut) == (Palindrome(path=path[:2]), Palindrome(path=path[2:]))
    assert other_way((Arrow(circle=path[:1], shaft=path[1:]),), cut) == (Arrow(circle=path[:1], shaft=path[1:2]),)
    longer = Slip(*cells("r1c4", "r2c4"), False, 0.1)
    assert other_way((Thermometer(path=path),), longer) == (Thermometer(path=(*path, Cell(2, 4))),)
    before = Slip(*cells("r1c1", "r2c1"), False, 0.1)
    assert other_way((Palindrome(path=path),), before) == (Palindrome(path=(Cell(2, 1), *path)),)
    assert other_way((Even(cells=path),), Slip(path[0], path[0], True, 0.1)) == (Even(cells=path[1:]),)
    assert other_way((Even(cells=path[:1]),), Slip(path[0], path[0], True, 0.1)) is None
    assert other_way((Rows(),), cut) is None


def test_no_line_runs_into_itself() -> None:
    path = cells("r1c1", "r1c2", "r2c2", "r2c1")
    into_second, into_first = (Slip(*cells(to, "r2c1"), False, 0.1) for to in ("r1c2", "r1c1"))
    assert other_way((Palindrome(path=path),), into_second) == (Palindrome(path=cells("r1c1", "r1c2", "r2c1", "r2c2")),)
    assert other_way((Thermometer(path=path),), into_first) == (
        Thermometer(path=cells("r1c1", "r2c1", "r2c2", "r1c2")),
    )
    from_start = Slip(*cells("r1c1", "r2c2"), False, 0.1)
    assert other_way((Palindrome(path=path),), from_start) == (Palindrome(path=cells("r1c2", "r1c1", "r2c2", "r2c1")),)
    assert other_way((GapLine(path=path, gap=2),), into_first) == (GapLine(path=(*path, path[0]), gap=2),)


def _given(cell: str, digit: int, *others: tuple[int | None, float]) -> Item:
    place = Cell.parse(cell)
    doubt = sum(chance for _, chance in others)
    alternatives = tuple(Alternative(Given(place, d) if d else (), chance) for d, chance in others)
    return Item(Given(place, digit), WHERE, 1 - doubt, "ocr", alternatives)


def test_a_given_is_no_other_digit_with_which_the_puzzle_has_no_single_solution() -> None:
    others = {(1, 1): 1, (2, 1): 3, (2, 4): 2, (3, 4): 3}
    outcomes = [proven(_draft(_given("r4c3", digit), others)).proof.outcome for digit in (2, 1, 4)]  # type: ignore[union-attr]
    assert outcomes == ["one", "none", "one"]
    blurred, twofold = (_draft(_given("r4c3", 2, (other, 0.1)), others) for other in (1, 4))
    assert risk(blurred.items) > RISK > risk(weighed(blurred).items)
    assert is_clean(weighed(blurred), "one")
    assert risk(weighed(twofold).items) > risk(twofold.items)


def test_what_may_be_a_stain_is_a_given_where_the_puzzle_has_no_single_solution_without_it() -> None:
    spare = {(1, 1): 1, (2, 1): 3, (2, 4): 2, (3, 4): 3, (4, 3): 2}
    needed, needless = _given("r4c3", 2, (None, 0.1)), _given("r4c2", 3, (None, 0.1))
    assert is_clean(weighed(_draft(needed, {place: d for place, d in spare.items() if place != (4, 3)})), "one")
    assert not is_clean(weighed(_draft(needless, spare)), "one")


def test_a_given_that_can_be_no_other_digit_at_all_is_as_read() -> None:
    others = {(1, 1): 1, (1, 4): 4, (3, 1): 2, (4, 1): 4, (4, 4): 1}
    outcomes = [proven(_draft(_given("r4c3", digit), others)).proof for digit in (2, 1, 3, 4)]
    assert [proof is not None and proof.outcome == "one" for proof in outcomes] == [True, False, False, False]
    blurred = _given("r4c3", 2, (1, 0.4))
    assert weighed(_draft(blurred, others)).items[-1].escape == 0.0
    loose = {(1, 1): 1, (2, 1): 3, (2, 4): 2, (3, 4): 3}
    assert weighed(_draft(blurred, loose)).items[-1].escape == pytest.approx(UNNAMED * GIVEN)
    unlikely = replace(blurred, confidence=0.4)
    assert weighed(_draft(unlikely, others)).items[-1].escape == pytest.approx(UNNAMED * GIVEN)


def test_a_given_of_which_nobody_thought_otherwise_may_be_any_other_digit_or_a_stain(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    tight = {(1, 1): 1, (1, 4): 4, (3, 1): 2, (4, 1): 4, (4, 4): 1}
    loose = {(1, 1): 1, (2, 1): 3, (2, 4): 2, (3, 4): 3}
    unsure = replace(_given("r4c3", 2), confidence=0.9)
    assert not unsure.alternatives
    found = [weighed(_draft(unsure, others)).items[-1].escape for others in (tight, loose)]
    stain = UNNAMED / len(GRID.digits)
    assert found == [pytest.approx(stain), GIVEN], "no other digit leaves one solution, one of three does"
    assert weighed(_draft(replace(unsure, confidence=0.4), tight)).items[-1].escape == GIVEN
    monkeypatch.setattr("recognise.doubt.ways.Instead", lambda *_, **__: lambda *_: 0.0)
    assert weighed(_draft(unsure, tight)).items[-1].escape == REFUTED, "something else may be misread"


def test_a_busy_machine_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    path = cells("r1c1", "r1c2", "r1c3", "r1c4")
    tight = _draft(_line(path, END), {(4, 1): 4, (4, 4): 1})
    idle = weighed(tight)
    ticks = itertools.count(step=1000.0)
    monkeypatch.setattr("time.monotonic", lambda: next(ticks))
    assert weighed(tight) == idle
    assert proven(tight).puzzle == proven(idle).puzzle


def test_what_no_work_is_left_for_is_not_refuted(monkeypatch: pytest.MonkeyPatch) -> None:
    path = cells("r1c1", "r1c2", "r1c3", "r1c4")
    monkeypatch.setattr("recognise.doubt.instead.ONE", 0.0)
    assert weighed(_draft(_line(path, END), {(4, 1): 4, (4, 4): 1})).items[-1].escape == 1.0


def test_without_its_first_step_there_is_no_arrow_and_with_another_there_are_two() -> None:
    circle, *shaft = cells("r1c1", "r1c2", "r1c3")
    arrow = Arrow(circle=(circle,), shaft=tuple(shaft))
    below = Cell.parse("r2c1")
    assert other_way((arrow,), Slip(circle, shaft[0], True, 0.01)) == ()
    two = (arrow, Arrow(circle=(circle,), shaft=(below,)))
    assert other_way((arrow,), Slip(circle, below, False, 0.01)) == two


def test_a_shaft_that_goes_into_another_cell_of_its_capsule_states_the_same() -> None:
    capsule, shaft = cells("r3c1", "r4c1"), cells("r3c2", "r2c2")
    again = Slip(capsule[1], shaft[0], False, 0.01)
    assert _escape_of(Arrow(circle=capsule, shaft=shaft), again) == 0.0


def test_a_shorter_way_into_the_circle_of_an_arrow_is_another_arrow() -> None:
    circle, *shaft = cells("r1c4", "r2c3", "r1c3")  # 4 = 1 + 3
    arrow = Arrow(circle=(circle,), shaft=tuple(shaft))
    assert proven(_draft(_arrow(arrow), FULL)).is_unique
    assert _escape_of(arrow, Slip(circle, shaft[1], False, 0.01)) == 0.0


def _arrow(arrow: Arrow, *slips: Slip) -> Item:
    return Item((arrow,), WHERE, 0.99, "shape", extent=0.99, slips=slips)


def _escape_of(arrow: Arrow, slip: Slip) -> float | None:
    return weighed(_draft(_arrow(arrow, slip), FULL)).items[-1].escape
