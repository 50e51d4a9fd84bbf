"""One query for each cause."""

from recognise.doubt.causes import one_for_each_cause
from recognise.draft import Doubt, Draft
from recognise.evidence import Words
from schema.grid import Grid

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
UNSAID = "it is drawn as an inequality, and the printed rules do not speak of one"


def _left(*doubts: Doubt) -> tuple[Doubt, ...]:
    return one_for_each_cause(Draft(GRID, (), Words(), doubts)).doubts


def test_what_many_marks_mean_is_asked_once() -> None:
    other = Doubt("a grey picture", item=3, meaning=True)
    asked = [Doubt(UNSAID, item=item, meaning=True) for item in (2, 3, 5)]
    one, rest = _left(asked[0], other, *asked[1:])
    assert (one.item, one.also, one.meaning) == (2, (3, 5), True)
    assert one.why == UNSAID
    assert rest == other


def test_what_stands_on_the_page_is_looked_at_item_by_item() -> None:
    doubts = Doubt("it was hard to read", item=1), Doubt("it was hard to read", item=2)
    assert _left(*doubts) == doubts


def test_a_single_question_keeps_its_words() -> None:
    doubt = Doubt(UNSAID, item=1, meaning=True)
    assert _left(doubt) == (doubt,)


def test_one_question_about_two_lines_that_meet_is_asked_once() -> None:
    there, back = (f"perhaps it also goes from {one} to {other}" for one, other in (("r1c2", "r2c2"), ("r2c2", "r1c2")))
    (one,) = _left(Doubt(there, item=1), Doubt(back, item=4))
    assert (one.why, one.item, one.also) == (there, 1, (4,))
    elsewhere = Doubt("perhaps it also goes from r2c2 to r2c3", item=4)
    assert _left(Doubt(there, item=1), elsewhere) == (Doubt(there, item=1), elsewhere)
