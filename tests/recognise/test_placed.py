"""Where a question stands that names its place in words."""

import pytest

from ingest.page import Box
from recognise.doubt.placed import placed
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Words
from recognise.geometry import bounds
from schema.grid import Grid

GRID = Grid(rows=6, columns=9, digits=(1, 2, 3, 4, 5, 6, 7, 8, 9))
HERE = box_polygon((4.0, 4.0, 5.0, 5.0))


def _where(doubt: Doubt, *notes: str) -> Box | None:
    (told,) = placed(Draft(GRID, (), Words()).doubting(doubt), notes).doubts
    assert told.why == doubt.why
    return None if told.where is None else bounds(told.where)


@pytest.mark.parametrize(
    ("why", "box"),
    [
        ("what stands between r2c3 and r2c4 was hard to tell", (2, 1, 4, 2)),
        ("what looks like circles in r2c5, r4c4, r5c8 is hardly printed", (4, 1, 5, 2)),
        ("what looks like a line through r1c1, r2c2, r2c3 is hardly printed", (0, 0, 3, 2)),
        ("perhaps something stands on the lower right corner of r3c2", (1.7, 2.7, 2.3, 3.3)),
        ("where the little arrow beside row 4, column 10 points was hard to tell", (9, 3, 10, 4)),
        ("characters left of row 2 were hard to read", (-1, 1, 0, 2)),
        ("characters right of row 2 were hard to read", (9, 1, 10, 2)),
        ("characters above column 3 were hard to read", (2, -1, 3, 0)),
        ("characters below column 3 were hard to read", (2, 6, 3, 7)),
    ],
)
def test_a_question_stands_where_its_words_say(why: str, box: Box) -> None:
    assert _where(Doubt(why), why) == pytest.approx(box)


def test_what_names_no_place_has_none_and_what_has_one_keeps_it() -> None:
    assert _where(Doubt("the grid stands on a picture"), "the grid stands on a picture") is None
    pair = "perhaps something stands between r1c1 and r1c2"
    assert _where(Doubt(pair, where=HERE), pair) == bounds(HERE)
    assert _where(Doubt("there are several solutions; they differ in r1c1"), pair) is None, "the puzzle as a whole"
