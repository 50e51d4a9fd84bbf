"""Questions about kinds of lines and about bulbs that the proof of the page answers."""

import pytest

from recognise.doubt.line_kinds import without_kinds
from recognise.doubt.proof import proven
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.marks.agree import BULB_ELSEWHERE
from recognise.marks.line_questions import BULB_UNSEEN, KIND_UNSURE, bulb_words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.gap_line import GapLine
from schema.kinds.palindrome import Palindrome
from schema.kinds.rows import Rows
from schema.kinds.run_line import RunLine
from schema.kinds.thermometer import Thermometer

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
# 1 2 3 4 / 3 4 1 2 / 2 1 4 3 / 4 3 2 1 is one filled grid of it, and these givens leave no other.
FULL = {(1, 1): 1, (1, 2): 2, (1, 3): 3, (1, 4): 4, (2, 1): 3, (2, 2): 4, (2, 3): 1, (2, 4): 2, (3, 1): 2, (3, 2): 1}
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
OTHER_WORDS = "there is little ink between r1c3 and r1c4"


def path(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


ROW = Thermometer(path=path("r1c1 r1c2 r1c3 r1c4"))
RISE = Thermometer(path=path("r3c2 r3c1"))
MIRROR = Palindrome(path=path("r2c3 r3c2"))
EQUAL = Palindrome(path=path("r2c2 r3c3"))
RUN = RunLine(path=path("r2c1 r2c2"))


def _asked(
    why: str,
    line: Constraint,
    *more: Constraint,
    lost: tuple[str, ...] = (),
    rules: str = "Rules.",
    unread: bool = False,
) -> bool:
    """Whether a question about a line, on a page with other lines, stays."""
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), line, *more)
    lines = tuple(Item((constraint,), WHERE, 0.9, "shape") for constraint in stated)
    digits = tuple(Item(Given(Cell(*cell), digit), WHERE, 1.0, "shape") for cell, digit in FULL.items())
    doubts = (Doubt(why, item=3), Doubt(OTHER_WORDS, item=3))
    draft = Draft(GRID, (*lines, *digits), Words(rules_text=rules, unread=unread), doubts, lost=lost)
    assert proven(draft).is_unique
    left = [doubt.why for doubt in without_kinds(draft).doubts]
    assert left in ([why, OTHER_WORDS], [OTHER_WORDS])
    return why in left


@pytest.mark.parametrize("why", [KIND_UNSURE, BULB_ELSEWHERE, bulb_words(Cell(1, 1)), bulb_words(Cell(1, 2))])
def test_a_line_that_can_be_nothing_else_that_the_page_has_is_what_it_was_read_as(why: str) -> None:
    assert not _asked(why, ROW)
    assert not _asked(why, ROW, EQUAL)


def test_a_tube_may_be_two_where_another_bulb_is_in_doubt() -> None:
    assert _asked(bulb_words(Cell(1, 3)), ROW)


def test_a_line_that_may_be_another_kind_of_the_page_stays_in_doubt() -> None:
    assert _asked(KIND_UNSURE, RISE, RUN)
    assert not _asked(KIND_UNSURE, RISE, EQUAL)


def test_a_bulb_amidst_a_line_makes_two_tubes_of_it() -> None:
    vee = RunLine(path=path("r1c2 r2c3 r1c3"))  # 2 1 3: both arms rise from the middle
    assert _asked(BULB_UNSEEN, vee, ROW)
    assert not _asked(BULB_UNSEEN, RunLine(path=path("r1c2 r1c3 r2c3")), RISE)


def test_lines_taken_for_one_kind_are_tried_together() -> None:
    """With 1 and 2 exchanged in the first two columns both lines obey the other kind, with neither exchanged none."""
    one, other = RunLine(path=path("r1c2 r1c3")), RunLine(path=path("r3c1 r2c1"))
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), one, other, GapLine(path=path("r3c4 r4c4"), gap=2))
    lines = tuple(Item((constraint,), WHERE, 0.9, "shape") for constraint in stated)
    given = {place: digit for place, digit in FULL.items() if place not in OPEN} | {(4, 1): 4, (3, 4): 3}
    digits = tuple(Item(Given(Cell(*cell), digit), WHERE, 1.0, "shape") for cell, digit in given.items())
    draft = Draft(GRID, (*lines, *digits), Words(rules_text="Rules."))
    assert proven(draft).is_unique
    assert not without_kinds(draft.doubting(Doubt(KIND_UNSURE, item=3))).doubts
    assert len(without_kinds(draft.doubting(Doubt(KIND_UNSURE, item=3), Doubt(KIND_UNSURE, item=4))).doubts) == 2


OPEN = ((1, 1), (1, 2), (3, 1), (3, 2))


def test_lines_of_two_kinds_may_have_been_taken_for_each_other() -> None:
    """No one of the two can be the other kind alone; both together can, and then the puzzle has one solution too."""
    run, gap = RunLine(path=path("r1c3 r2c2")), GapLine(path=path("r1c4 r2c3"), gap=3)
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), run, gap)
    lines = tuple(Item((constraint,), WHERE, 0.9, "shape") for constraint in stated)
    given = {(1, 2): 2, (1, 4): 4, (2, 2): 4, (3, 3): 4, (4, 3): 2, (4, 4): 1}
    digits = tuple(Item(Given(Cell(*cell), digit), WHERE, 1.0, "shape") for cell, digit in given.items())
    draft = Draft(GRID, (*lines, *digits), Words(rules_text="Rules."))
    assert proven(draft).is_unique
    both = tuple(Doubt(KIND_UNSURE, item=index) for index in (3, 4))
    assert not without_kinds(draft.doubting(both[0])).doubts
    assert without_kinds(draft.doubting(*both)).doubts == both


@pytest.mark.parametrize(("lost", "rules"), [(("A sentence.",), "Rules."), ((), "")])
def test_where_a_sentence_is_lost_or_none_is_printed_a_line_may_be_anything(lost: tuple[str, ...], rules: str) -> None:
    assert _asked(KIND_UNSURE, ROW, lost=lost, rules=rules)


def test_where_text_was_not_read_a_line_may_be_anything() -> None:
    assert _asked(KIND_UNSURE, ROW, unread=True)


def test_the_mirror_is_no_tube() -> None:
    assert not _asked(BULB_UNSEEN, MIRROR, RISE)


@pytest.mark.parametrize(
    ("ways", "cell", "stays"),
    [
        (("r1c1 r1c2 r1c3 r1c4", "r1c1 r1c2 r2c2"), "r2c2", False),
        (("r1c1 r1c2 r1c3", "r1c1 r1c2 r2c1 r2c2"), "r2c2", False),
        (("r1c1 r1c2 r2c1 r2c2", "r1c1 r1c2 r1c3"), "r1c1", True),
    ],
)
def test_a_tube_with_branches_has_no_bulb_where_none_can_be(ways: tuple[str, ...], cell: str, stays: bool) -> None:
    """Its last cell is asked about; of its own bulb that question says nothing."""
    tube = tuple(Thermometer(path=path(way)) for way in ways)
    plain = (Rows(), Columns(), Boxes.regular(GRID, 2, 2))
    items = [Item((rule,), None, 1.0, "text") for rule in plain] + [Item(tube, WHERE, 0.9, "shape")]
    items += [Item(Given(Cell(*place), digit), WHERE, 1.0, "shape") for place, digit in FULL.items()]
    doubt = Doubt(bulb_words(Cell.parse(cell)), item=3)
    draft = Draft(GRID, tuple(items), Words(rules_text="Rules."), (doubt,))
    assert proven(draft).is_unique
    assert bool(without_kinds(draft).doubts) == stays
