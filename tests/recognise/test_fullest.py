"""Of several looks at a number the one that has all its figures counts, however many others lost more than one."""

from dataclasses import dataclass, replace
from typing import cast

import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.run_together import expected, middles_of, numbers_of, usual_aside
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place, beside
from recognise.marks.text_readings import Reading, fullest, longest
from recognise.marks.totals import complete_totals, leave_out_walls, with_lost_figure
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character


@dataclass(frozen=True)
class _Look:
    text: str
    least: float
    score: float
    starts: tuple[float, ...] = (0.0,)
    """Where each character begins, with the next one or the end at 1 behind it."""

    @property
    def characters(self) -> list[Character]:
        ends = (*self.starts[1:], 1.0)
        boxes = [(start, 0.0, end, 0.5) for start, end in zip(self.starts, ends, strict=True)]
        return [Character(Blob(0, 0, 1, 1, 1, (1,)), box, (), ()) for box in boxes]


def _of(*looks: _Look) -> str:
    return fullest(cast("list[Reading]", list(looks))).text


def test_the_longest_of_the_sure_looks_that_have_more_counts() -> None:
    fuller = _Look("59", 1.0, 0.98, (0.3, 0.7)), _Look("597", 1.0, 0.95, (0.3, 0.5, 0.7))
    assert _of(_Look("9", 1.0, 1.0, (0.8,)), *fuller) == "597"


def test_a_longer_look_that_is_unsure_or_reads_otherwise_does_not() -> None:
    nine = _Look("9", 1.0, 1.0, (0.8,))
    assert _of(nine, _Look("59", 1.0, 0.9, (0.3, 0.7)), _Look("597", 0.6, 0.95, (0.3, 0.5, 0.7))) == "59"
    assert _of(nine, _Look("587", 1.0, 0.95, (0.3, 0.5, 0.7))) == "9"


def test_a_letter_that_a_line_cuts_in_two_is_one() -> None:
    assert _of(_Look("V", 1.0, 1.0), _Look("VT", 0.99, 0.99, (0.0, 0.7))) == "V"


@dataclass(frozen=True)
class _Number:
    text: str
    longest: int
    least: float
    score: float


def test_of_totals_the_longest_sure_number_counts_that_two_looks_show() -> None:
    def read(*looks: _Number) -> str:
        return longest(cast("list[Reading]", list(looks))).text

    alone, pale = _Number("3", 1, 1.0, 0.7), _Number("23", 2, 1.0, 0.6)
    assert read(alone, pale, pale) == "23"
    assert read(alone, pale) == "3"
    corner_of_dashes_beside_it = _Number("37", 1, 1.0, 0.6)
    assert read(alone, corner_of_dashes_beside_it, corner_of_dashes_beside_it) == "3"


def test_a_total_that_begins_a_figure_too_far_in_has_lost_its_first() -> None:
    place = Place((2.0, 3.0, 2.92, 3.42), "0123456789", 0.4, on_lattice=False, in_corner=True)
    near, far = (Glyph((2.0 + x, 3.1, 2.1 + x, 3.3), (Guess("7", 1.0),), 0.2, (0, 0, 0), "ocr") for x in (0.09, 0.2))
    assert with_lost_figure(near, place, 0.08) == near
    assert [guess.text for guess in with_lost_figure(far, place, 0.08).guesses] == ["17", "27", "37", "47", "7"]


@pytest.mark.parametrize(("inked", "text"), [((0.0, 0.1), "9"), ((0.14, 0.18), "19"), ((0.1, 0.3), "19")])
def test_before_a_total_that_has_lost_its_first_figure_stands_ink(inked: tuple[float, float], text: str) -> None:
    """Of the figure, or of the wall that it was taken out with; a thick line that only moves the total ends before."""
    raster = Raster(6, 6, 64, 64)
    ink = np.zeros((8 * 64, 8 * 64), np.float32)
    ink[raster.slices((2 + inked[0], 3.0, 2 + inked[1], 4.0))] = 0.8
    seen = Print(ink, ink, np.ones((*ink.shape, 3), np.float32), cast("Pieces", None), raster, 0.05)
    places = [
        Place((2.0, row, 2.92, row + 0.4), "0123456789", 0.4, on_lattice=False, in_corner=True) for row in range(4)
    ]
    starts = (0.08, 0.08, 0.08, 0.2)
    glyphs = [
        Glyph((2.0 + start, row + 0.1, 2.1 + start, row + 0.3), (Guess("9", 1.0),), 0.2, (0, 0, 0), "ocr")
        for row, start in enumerate(starts)
    ]
    complete_totals(glyphs, dict(enumerate(places)), seen)
    assert [glyph.text for glyph in glyphs] == ["9", "9", "9", text]
    assert {"9", "19"} <= {guess.text for guess in glyphs[-1].guesses}
    assert glyphs[0].confidence == 1.0
    glyphs[-1] = replace(glyphs[-1], guesses=(Guess("9-", 1.0),))
    complete_totals(glyphs, dict(enumerate(places)), seen)
    assert glyphs[-1].text == "9-", "no two digits differ by more"


def test_a_sum_of_two_figures_has_lost_none_where_paper_bends() -> None:
    place = Place((2.0, 3.0, 2.92, 3.42), "0123456789", 0.4, on_lattice=False, in_corner=True)
    far = [Glyph((2.2, 3.1, 2.4, 3.3), (Guess(text, 1.0),), 0.2, (0, 0, 0), "ocr") for text in ("18", "20×")]
    assert with_lost_figure(far[0], place, 0.08) == far[0]
    assert with_lost_figure(far[1], place, 0.08).text == "120×"


def test_numbers_that_run_into_one_another_are_parted() -> None:
    def characters(*starts: float) -> list[Character]:
        return [Character(Blob(0, 0, 1, 1, 1, (1,)), (x, 0.0, x + 0.1, 0.2), (), ()) for x in starts]

    four, three = characters(0.0, 0.1, 0.2, 0.3), characters(0.0, 0.15, 0.25)
    assert list(map(len, numbers_of([four], 2))) == [2, 2]
    assert list(map(len, numbers_of([three], 2))) == [1, 2]
    assert list(map(len, numbers_of([characters(0.0, 0.1, 0.25)], 2))) == [2, 1]
    assert numbers_of([four], 1) == [four]
    assert numbers_of([three, four], 2) == [three, four]


@dataclass(frozen=True)
class _Begun:
    text: str
    characters: tuple[Character, ...]
    longest: int = 1
    least: float = 1.0
    score: float = 0.7


def test_a_dash_of_the_wall_before_a_total_is_none_of_its_figures() -> None:
    """But a look that shows as many figures stays, though the wall touches them: it may show the sign, and the other
    look may have lost a part of a figure with the wall."""

    def begun(text: str, start: float, score: float = 0.7) -> _Begun:
        return _Begun(
            text, (Character(Blob(0, 0, 1, 1, 1, (1,)), (start, 0.1, start + 0.1, 0.3), (), ()),), 1, 1.0, score
        )

    places = [
        Place((0.0, float(row), 0.92, row + 0.42), "0123456789", 0.4, on_lattice=False, in_corner=True)
        for row in range(4)
    ]
    found = {place: [begun("7", 0.11)] for place in places[:3]}
    found[places[3]] = [begun("17", 0.05, 0.9), begun("7", 0.11), begun("7", 0.05)]
    leave_out_walls(cast("dict[Place, list[Reading]]", found), places)
    assert [reading.text for reading in found[places[3]]] == ["7", "7"]
    with_the_wall = "5"
    found[places[3]] = [begun("6", 0.05), begun(with_the_wall, 0.11)]
    leave_out_walls(cast("dict[Place, list[Reading]]", found), places)
    assert [reading.text for reading in found[places[3]]] == ["6", with_the_wall]
    found[places[3]] = [begun("7", 0.05), _Begun("", (), 0, 0.0, -1.0)]
    leave_out_walls(cast("dict[Place, list[Reading]]", found), places)
    assert [reading.text for reading in found[places[3]]] == ["7", ""]
    assert [reading.text for reading in found[places[0]]] == ["7"]


def test_numbers_that_run_into_one_another_are_parted_where_print_sets_them() -> None:
    """Of two numbers above one place that with the arrow to the left stands to its right."""

    def figures(middle: float, count: int) -> list[Character]:
        starts = [middle + 0.1 * (n - count / 2) for n in range(count)]
        guesses = (Guess("6", 0.99),)
        return [Character(Blob(0, 0, 1, 1, 1, (1,)), (x, -0.6, x + 0.1, -0.4), guesses, guesses) for x in starts]

    right, left = beside((0.5, -0.5), ((1, 1),)), beside((7.5, -0.5), ((-1, 1),))
    beside_rows = {beside((-0.5, y), ((1, 1),)): figures(-0.55, 2) for y in (2.5, 4.5, 6.5)}
    singles = middles_of({right: figures(0.35, 2), left: figures(7.65, 2), **beside_rows})
    both = beside((2.5, -0.5), ((-1, 1), (1, 1)))
    aside = usual_aside(singles, 9)
    assert expected(both, aside) == pytest.approx((2.35, 2.65))
    three = figures(2.46, 3)
    assert list(map(len, numbers_of([three], 2, expected(both, aside)))) == [2, 1]
    assert list(map(len, numbers_of([figures(2.54, 3)], 2, expected(both, aside)))) == [1, 2]
    assert expected(both, usual_aside([], 9)) == ()
