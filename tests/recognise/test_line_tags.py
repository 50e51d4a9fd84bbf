"""Numbers of lines in tags that stand on them."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from recognise.draft import Draft
from recognise.evidence import Disc, Shape
from recognise.rules import MarkHint, Statement
from tests.recognise.evidence_maker import glyph, trace
from tests.recognise.meanings import drafted, stated

GOLD, GREY = (215, 169, 74), (120, 120, 120)
ON_LINES = [(1.0, 0.5, "12"), (5.0, 6.0, "13")]
"""On the edge of r1c1 and r1c2, and on the corner over which the other line goes from r6c5 to r7c6."""
PAIRS = Statement("sum-pair", {}, MarkHint("number", place="edge"))


def _read(rules: Sequence[Statement], tags: Sequence[tuple[float, float, str]], colour: tuple[int, int, int]) -> Draft:
    """What is made of two lines, and of numbers in frames of a colour between cells."""
    boxes = [(x - 0.24, y - 0.19, x + 0.24, y + 0.19) for x, y, _ in tags]
    return drafted(
        *rules,
        traces=(trace("r1c1 r1c2 r1c3", colour=GOLD), trace("r6c5 r7c6", colour=GOLD)),
        shapes=tuple(Shape("square", box, colour, "vector", filled=False) for box in boxes),
        glyphs=tuple(glyph(x, y, (text, 0.999), size=0.17) for x, y, text in tags),
    )


def test_a_number_in_a_tag_of_its_colour_is_that_of_the_line() -> None:
    draft = _read([Statement("sum-line"), PAIRS], ON_LINES, GOLD)
    assert sorted(c.value for c in stated(draft, "sum-line")) == [12, 13]
    assert not stated(draft, "sum-pair") and not stated(draft, "unread-mark")


@pytest.mark.parametrize(
    ("rules", "tags", "colour"),
    [
        ([Statement("sum-line"), PAIRS], ON_LINES[:1], GOLD),
        ([Statement("sum-line"), PAIRS], [*ON_LINES, (3.0, 3.5, "9")], GOLD),
        ([Statement("sum-line"), PAIRS], ON_LINES, GREY),
        ([Statement("palindrome"), PAIRS], ON_LINES, GOLD),
    ],
    ids=["one line without", "a frame without a line", "another colour", "no sums of lines"],
)
def test_a_number_on_an_edge_that_a_line_crosses_may_be_that_of_two_cells(
    rules: Sequence[Statement], tags: Sequence[tuple[float, float, str]], colour: tuple[int, int, int]
) -> None:
    draft = _read(rules, tags, colour)
    assert not stated(draft, "sum-line")
    assert 12 in [c.value for c in stated(draft, "sum-pair")]


@pytest.mark.parametrize("own", [True, False], ids=["its own", "a circle in the cell"])
@pytest.mark.parametrize(("numbers", "sums"), [("19 27", [19, 27]), ("19 ", []), ("5 7", [])])
def test_a_number_in_the_circle_at_one_end_of_each_line_is_that_of_the_line(
    own: bool, numbers: str, sums: list[int]
) -> None:
    lines = [trace(cells, colour=GOLD, discs=(0,) if own else ()) for cells in ("r2c1 r2c2 r3c3", "r7c5 r8c5")]
    ends = [line.nodes[0].centre for line in lines]
    draft = drafted(
        Statement("sum-line"),
        traces=lines,
        discs=() if own else tuple(Disc(end, 0.3, None, GOLD, "vector") for end in ends),
        glyphs=tuple(
            glyph(*end, (text, 0.999), size=0.3) for end, text in zip(ends, numbers.split(" "), strict=True) if text
        ),
    )
    assert sorted(c.value for c in stated(draft, "sum-line")) == sums
    assert all(line.path[0] in (lines[0].nodes[0], lines[1].nodes[0]) for line in stated(draft, "sum-line"))
