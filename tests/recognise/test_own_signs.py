"""Signs of a publication's own, frames of numbers, and circles parted into fields."""

from __future__ import annotations

import pytest

from recognise.evidence import Disc, Shape
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.cells import Cell
from tests.recognise.evidence_maker import BLACK, glyph, trace
from tests.recognise.interpreting import BASIC, drafted
from tests.recognise.meanings import reasons, stated

GREY = (102, 102, 102)
ODD = Statement("odd", {}, MarkHint(), "A cell whose corner is turned down holds an odd digit.")
RATIO = Statement("ratio-pair", {"ratio": 2}, MarkHint("", "black", "edge"), "Black triangles: one digit is double.")

CALLED_TILES = Statement("ratio-pair", {"ratio": 2}, MarkHint("tint", "black"), "A black triangle: one is double.")


def _fold(row: int, column: int, size: float = 0.36) -> Shape:
    return Shape("arrow", (column - size, row - 1.0, float(column), row - 1 + size), GREY, "vector")


FOLDS = (_fold(1, 7), _fold(2, 1), _fold(5, 5))


def test_signs_alike_in_cells_are_what_the_one_sentence_speaks_of() -> None:
    draft = drafted(RuleSheet((*BASIC, ODD)), shapes=FOLDS)
    assert {cell for c in stated(draft, "odd") for cell in c.cells} == {Cell(1, 7), Cell(2, 1), Cell(5, 5)}
    assert stated(draft, "unread-mark") == []
    assert any(ODD.sentence in why for why in reasons(draft))


@pytest.mark.parametrize(
    ("sentences", "shapes"),
    [((), FOLDS), ((ODD,), FOLDS[:1]), ((ODD,), (FOLDS[0], _fold(2, 1, 0.2)))],
    ids=["no sentence", "one sign", "two sizes"],
)
def test_other_signs_stay_unread(sentences: tuple[Statement, ...], shapes: tuple[Shape, ...]) -> None:
    draft = drafted(RuleSheet((*BASIC, *sentences)), shapes=shapes)
    assert stated(draft, "odd") == []
    assert len(stated(draft, "unread-mark")) == len(shapes)


def test_where_a_sentence_is_not_understood_it_is_left_open_what_signs_mean() -> None:
    draft = drafted(RuleSheet(BASIC, not_understood=("Dog-eared cells are strange.",)), shapes=FOLDS)
    assert [{reading.name for reading in one.readings} for one in draft.undecided] == [{"odd", "even"}]


@pytest.mark.parametrize(("apart", "odd"), [(0.0, 3), (0.3, 0)], ids=["alike", "at other places"])
def test_ink_that_stands_alike_in_cells_of_a_picture_is_a_sign_too(apart: float, odd: int) -> None:
    boxes = tuple(
        (c - 0.3 - n * apart, r - 0.98, c - n * apart, r - 0.7) for n, (r, c) in enumerate(((1, 7), (2, 1), (5, 5)))
    )
    draft = drafted(RuleSheet((*BASIC, ODD)), stray=boxes)
    assert sum(len(c.cells) for c in stated(draft, "odd")) == odd
    assert sum("ink" in why for why in reasons(draft)) == (0 if odd else 3)


def _triangle(x: float, y: float, direction: str = "up") -> Shape:
    return Shape("sign", (x - 0.1, y - 0.1, x + 0.1, y + 0.1), BLACK, "vector", direction=direction)


@pytest.mark.parametrize("sentence", [RATIO, CALLED_TILES], ids=["between cells", "called tiles"])
@pytest.mark.parametrize(("last", "pairs"), [("up", 3), ("left", 0)], ids=["all one way", "some another"])
def test_triangles_that_all_point_up_are_no_inequalities(sentence: Statement, last: str, pairs: int) -> None:
    signs = (_triangle(1, 0.5), _triangle(4, 2.5), _triangle(6, 6.5, last))
    draft = drafted(RuleSheet((*BASIC, sentence)), shapes=signs)
    assert len(stated(draft, "ratio-pair")) == pairs


def test_triangles_are_inequalities_where_no_sentence_speaks_of_them() -> None:
    draft = drafted(RuleSheet(BASIC), shapes=tuple(_triangle(k, 0.5) for k in (1, 4, 7)))
    assert len(stated(draft, "greater")) == 3


def _flag(x: float, y: float) -> Shape:
    return Shape("mark", (x - 0.19, y - 0.15, x + 0.19, y + 0.15), GREY, "vector", filled=False)


@pytest.mark.parametrize("flags", [2, 1])
def test_frames_round_the_numbers_of_all_lines_say_nothing(flags: int) -> None:
    lines = (trace("r2c1 r3c1 r4c1", how="vector"), trace("r2c6 r2c7 r3c7", how="vector"))
    places = ((0.27, 1.22), (5.27, 1.22))
    numbers = tuple(
        glyph(x, y, (text, 0.999), size=0.16, how="vector") for (x, y), text in zip(places, ("18", "12"), strict=True)
    )
    shapes = tuple(_flag(x, y) for x, y in places[:flags])
    draft = drafted(RuleSheet((*BASIC, Statement("sum-line"))), traces=lines, glyphs=numbers, shapes=shapes)
    assert sorted(c.value for c in stated(draft, "sum-line")) == [12, 18]
    assert len(stated(draft, "unread-mark")) == (0 if flags == 2 else 1)


@pytest.mark.parametrize("parted", [True, False])
def test_digits_in_the_fields_of_a_parted_frame_stand_where_they_do(parted: bool) -> None:
    around = Disc((4.0, 4.0), 0.2, (255, 255, 255), BLACK, "vector")
    digits = (glyph(4.0, 3.88, ("4", 0.999), size=0.12, how="vector"),)
    strokes = tuple(Shape("bar", (3.87, 3.87, 4.13, 4.13), BLACK, "vector", filled=False) for _ in range(2))
    sheet = RuleSheet((*BASIC, Statement("corner-digits", {}, MarkHint("diamond"))))
    draft = drafted(sheet, discs=(around,), glyphs=digits, shapes=strokes if parted else ())
    assert [c.digits for c in stated(draft, "corner-digits")] == [(4,)]
    assert stated(draft, "unread-mark") == []
    assert any("to one side" in why for why in reasons(draft)) == (not parted)
