"""What a person reads of a doubt: where to look, what was read there, what else it may be."""

from __future__ import annotations

import pytest

from ingest.page import Box
from recognise.asked import asked
from recognise.draft import Alternative, Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Words
from recognise.place_words import place_words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage
from schema.kinds.palindrome import Palindrome
from schema.kinds.unread_mark import UnreadMark

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4), labels={"4": "D"})
CAGE = Cage(cells=(Cell(2, 1), Cell(2, 2)), value=72)
PATH = (Cell(1, 1), Cell(1, 2), Cell(2, 3))
BLURRED = "it was hard to read"


def _item(value, *others, how="shape", where=(1.0, 0.0, 2.0, 1.0)):
    alternatives = tuple(Alternative(other, 0.1 / (n + 1)) for n, other in enumerate(others))
    return Item(value, box_polygon(where), 0.8, how, alternatives)


def _asked(doubt, *items):
    return asked(Draft(GRID, items, Words()), doubt)


def test_a_given_is_told_with_its_cell_and_what_else_it_may_be():
    given = _item(Given(Cell(1, 2), 4), Given(Cell(1, 2), 1), ())
    assert _asked(Doubt(BLURRED, item=0), given) == "the D in r1c2: it was hard to read; it may be 1 or nothing"


def test_a_total_that_may_be_another():
    cage = _item((CAGE,), (CAGE.model_copy(update={"value": 12}),), (UnreadMark(shape="cage", cells=CAGE.cells),))
    assert _asked(Doubt(BLURRED, item=0), cage) == (
        "the cage 72 at r2c1 and r2c2: it was hard to read; it may be 12 or another mark"
    )


def test_a_line_that_may_run_otherwise_between_the_same_ends():
    other = Palindrome(path=(PATH[0], Cell(2, 2), PATH[-1]))
    line = _item((Palindrome(path=PATH),), (other,))
    assert _asked(Doubt("perhaps r1c1 and r1c2 are not joined", item=0), line).endswith(
        "r1c1 and r1c2 are not joined; it may be one that goes r1c1 r2c2 r2c3"
    )


def test_a_doubt_that_names_its_place_is_told_in_its_own_words():
    why = "what stands between r1c1 and r1c2 was hard to tell"
    assert _asked(Doubt(why, where=box_polygon((0.8, 0.3, 1.2, 0.7)))) == why
    assert _asked(Doubt(why, item=0), _item((Palindrome(path=PATH),))) == why


def test_a_place_is_named_by_its_cell():
    doubt = Doubt("there is ink that nothing explains", where=box_polygon((2.3, 1.2, 2.6, 1.7)))
    assert _asked(doubt) == "in r2c3: there is ink that nothing explains"


def test_marks_that_look_alike_are_asked_about_once_with_their_number():
    mark = _item((UnreadMark(shape="star", cells=(Cell(1, 2),)),))
    doubt = Doubt("a star stands there, and what it means is not known", item=0, also=(1, 2), meaning=True)
    assert _asked(doubt, mark, mark, mark).startswith("in r1c2 and 2 more: a star stands there")


def test_what_the_proof_settled_says_itself_what_it_looked_like():
    given = _item(Given(Cell(1, 2), 3), Given(Cell(1, 2), 1), how="inferred")
    why = "it looks like a 1 in r1c2, but only a 3 in r1c2 leaves exactly one solution"
    assert _asked(Doubt(why, item=0), given) == why


def test_a_query_about_the_whole_puzzle_has_no_place():
    assert _asked(Doubt("there are several solutions")) == "there are several solutions"


@pytest.mark.parametrize(
    ("box", "words"),
    [
        ((2.1, 0.1, 2.9, 0.9), "in r1c3"),
        ((2.8, 0.1, 3.2, 0.9), "at r1c3 and r1c4"),
        ((2.9, 1.9, 3.1, 2.1), "at r2c3, r2c4, r3c3 and r3c4"),
        ((0.1, 0.1, 3.0, 2.9), "from r1c1 to r3c3"),
        ((1.2, -0.8, 1.6, -0.2), "above column 2"),
        ((1.2, 4.2, 1.6, 4.6), "below column 2"),
        ((-0.9, 2.1, -0.3, 2.8), "left of row 3"),
        ((4.2, 2.1, 4.8, 2.8), "right of row 3"),
        ((-0.9, -0.9, -0.3, -0.2), "above and left of the grid"),
        ((1.0, 1.0, 1.0, 1.0), "in r2c2"),
    ],
)
def test_where_something_lies(box: Box, words: str):
    assert place_words(box, (4, 4)) == words
