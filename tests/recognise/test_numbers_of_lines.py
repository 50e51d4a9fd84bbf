"""Small numbers at the ends of lines that the network does not see: they are looked for where other lines have one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.evidence import Glyph, Guess
from recognise.marks.characters import Characters, by_look
from recognise.marks.network import BY_NAME
from recognise.marks.text_places import Place, corner_of, in_circle, on_edge, small_places
from recognise.pixels.glyphs import DIGITS, OPERATIONS
from schema.cells import Cell
from tests.recognise.chances_maker import changed, sure
from tests.recognise.evidence_maker import trace

ENDS = [(Cell(1, 1), Cell(1, 4)), (Cell(3, 1), Cell(4, 4)), (Cell(6, 6), Cell(5, 3))]


@pytest.mark.parametrize(
    ("numbered", "places"),
    [(2, {"r1c1", "r3c1", "r6c6"}), (1, {"r1c1"}), (3, {"r1c1", "r3c1", "r6c6"})],
    ids=["most", "one", "all"],
)
def test_where_most_lines_have_a_number_it_is_looked_for_at_the_ends_of_all(numbered: int, places: set[str]) -> None:
    labels = Labels.empty(6, 6)
    for first, _ in ENDS[:numbered]:
        labels.node[first.row, first.column] = Node.SMALL
    inked = {corner_of(first) for first, _ in ENDS}
    found, notes = small_places(sure(labels), (), lambda box: box in inked, (), [ENDS])
    assert {str(Cell(int(p.box[1]) + 1, int(p.box[0]) + 1)) for p in found} == places
    assert [p.perhaps for p in found].count(True) == (numbered == 2)
    assert notes == []


@pytest.mark.parametrize(("cages", "places"), [((), 2), ((Cell(1, 1),), 1)], ids=["its own", "that of a cage"])
def test_of_two_lines_one_with_a_number_shows_that_both_have_one(cages: tuple[Cell, ...], places: int) -> None:
    labels = Labels.empty(6, 6)
    labels.node[1, 1] = Node.SMALL
    inked = {corner_of(first) for first, _ in ENDS}
    found, _ = small_places(sure(labels), (), lambda box: box in inked, cages, [ENDS[:2]])
    assert [place.perhaps for place in found] == [False, True][:places]


def test_no_sign_stands_behind_the_number_of_a_line_but_may_behind_that_of_a_cage() -> None:
    labels = Labels.empty(6, 6)
    for first, _ in ENDS[:2]:
        labels.node[first.row, first.column] = Node.SMALL
    found, _ = small_places(sure(labels), (), lambda _: False, (ENDS[1][0],), [ENDS[:1], ENDS[1:]])
    assert [place.allowed for place in found] == [DIGITS, DIGITS + OPERATIONS]


def test_lines_of_another_look_have_no_say_in_where_numbers_are_expected() -> None:
    labels = Labels.empty(6, 6)
    for first, _ in ENDS[:2]:
        labels.node[first.row, first.column] = Node.SMALL
    others = [(Cell(row, 2), Cell(row, 3)) for row in (1, 2, 3, 4)]
    inked = {corner_of(first) for first, _ in ENDS}
    found = [
        small_places(sure(labels), (), lambda box: box in inked, (), lines)[0]
        for lines in ([ENDS, others], [ENDS + others])
    ]
    assert [len(places) for places in found] == [3, 2]


@pytest.mark.parametrize(("size", "places"), [(0.25, ["r3c1"]), (0.6, [])], ids=["small", "as large as a given"])
def test_at_the_end_of_a_line_a_small_figure_may_be_the_rest_of_a_number(size: float, places: list[str]) -> None:
    figure = Glyph((0.2, 2.1, 0.35, 2.1 + size), (Guess("0", 0.99),), size, (0, 0, 0), "ocr")
    found, _ = small_places(sure(Labels.empty(6, 6)), [figure], lambda _: False, (), [ENDS])
    assert [str(Cell(int(p.box[1]) + 1, int(p.box[0]) + 1)) for p in found] == places
    assert not any(place.perhaps or place.box[2] > 0.7 for place in found)
    elsewhere, _ = small_places(sure(Labels.empty(6, 6)), [figure], lambda _: False, (), [ENDS[:1]])
    assert elsewhere == []
    circle = in_circle((0.0, 2.0), 0.3)
    of_circle, _ = small_places(sure(Labels.empty(6, 6)), [figure], lambda _: False, (), [ENDS], [circle])
    assert of_circle == []


@pytest.mark.parametrize(("place", "begun"), [(on_edge((1.0, 2.5)), True), (on_edge((1.0, 2.5), 0.36), False)])
def test_a_number_at_the_start_of_a_line_is_none_of_the_text_on_the_edge_beside_it(place: Place, begun: bool) -> None:
    figure = Glyph((1.08, 2.08, 1.2, 2.23), (Guess("4", 0.99),), 0.15, (0, 0, 0), "ocr")
    ends = [(Cell(3, 2), Cell(3, 3))]
    found, _ = small_places(sure(Labels.empty(6, 6)), [figure], lambda _: False, (), [ends], [place])
    assert bool(found) == begun
    read = Characters((replace(figure, box=(0.95, 2.41, 1.05, 2.58)),), (place,), (), (figure,), (), ())
    assert bool(read.replaced(())) != begun


def test_lines_of_one_look_are_of_one_colour_and_width() -> None:
    thin, thick, red = (
        [trace(f"r{row}c1 r{row}c2", colour=colour, width=width) for row in rows]
        for rows, colour, width in (
            ((1, 2), (140, 140, 140), 0.15),
            ((3,), (140, 140, 140), 0.3),
            ((4,), (200, 40, 40), 0.15),
        )
    )
    assert by_look([*thin, *thick, *red]) == [thin, thick, red]


@pytest.mark.parametrize(("radius", "asked"), [(0.22, []), (0.0, [Cell(3, 3)])], ids=["circle", "bare"])
def test_digits_of_a_circle_on_the_corner_of_a_cell_are_no_small_characters_in_doubt(
    radius: float, asked: list[Cell]
) -> None:
    chances = changed(sure(Labels.empty(6, 6)), "node", (0, BY_NAME["node"].classes.index("SMALL"), 3, 3), 0.3)
    marked = [in_circle((2.0, 2.0), radius)] if radius else []
    assert small_places(chances, (), lambda _: True, marked=marked) == ([], asked)
