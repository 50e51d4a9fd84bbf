"""Characters of a text layer that are printed twice, wherever on the page they stand."""

import itertools

import pytest

from ingest.page import Colour, VectorGlyph
from recognise.vectors.copies import without_halos, without_shadows
from recognise.vectors.letters import Mark

BLACK, WHITE = (0, 0, 0), (255, 255, 255)
PLACES = [k / 8 for k in range(9)]
SIZE = 0.5


def _mark(x: float, y: float, colour: Colour = BLACK, text: str = "7") -> Mark:
    box = (x - SIZE / 2, y - SIZE / 2, x + SIZE / 2, y + SIZE / 2)
    return Mark(VectorGlyph(text, box, SIZE, "F", colour, True, True), box, SIZE)


@pytest.mark.parametrize(("x", "y"), itertools.product(PLACES, PLACES))
def test_a_copy_is_found_wherever_it_stands(x: float, y: float) -> None:
    figure, other = _mark(x, y), _mark(x + 3, y, text="4")
    for across, down in itertools.product((-1, 1), repeat=2):
        shadow = _mark(x + across * 0.25 * SIZE, y + down * 0.15 * SIZE)
        assert without_shadows([other, shadow, figure]) == [other, figure]
        halo = _mark(x + across * 0.09 * SIZE, y + down * 0.09 * SIZE, WHITE)
        assert without_halos([other, halo, figure]) == [other, figure]


def test_marks_far_apart_are_not_held_against_one_another() -> None:
    """A page of text has thousands of each letter."""
    looked_at = []

    class Watched(Mark):
        @property
        def middle(self) -> tuple[float, float]:
            looked_at.append(self)
            return super().middle

    marks = [Watched(mark.glyph, mark.box, mark.size) for mark in (_mark(k % 40, k // 40) for k in range(1000))]
    assert without_shadows(marks) == marks
    assert len(looked_at) < 10 * len(marks)


def test_one_of_two_figures_side_by_side_is_no_copy() -> None:
    number = [_mark(1.0, 1.0), _mark(1.25, 1.0)]
    assert without_halos(without_shadows(number)) == number
