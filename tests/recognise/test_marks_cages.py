"""Cages put together from walls inside cells."""

import cv2
import pytest

from fixtures.training.lattice_labels import Labels, Node, Side
from recognise.glyphs import GlyphReader
from recognise.marks.found import Marks
from recognise.marks.read import MarkReader
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.read import read_stages
from schema.cells import Cell
from schema.kinds._outline import inset_outline
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, Told, changed, looked_at, sure

BLACK = (0, 0, 0)


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def _caged(labels: Labels, sheet: Sheet, cells: str, colour: tuple[int, int, int] = BLACK) -> None:
    group = [Cell.parse(text) for text in cells.split()]
    for cell in group:
        for side, down, right in ((Side.TOP, -1, 0), (Side.LEFT, 0, -1), (Side.BOTTOM, 1, 0), (Side.RIGHT, 0, 1)):
            if cell.stepped(down, right) not in group:
                labels.side[cell.row, cell.column] |= side
    for loop in inset_outline(group, 0.08):
        for start, end in zip(loop, [*loop[1:], loop[0]], strict=True):
            sheet.dashes(start, end, colour)


def test_walls_close_cages(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    _caged(labels, sheet, "r2c1 r3c1")
    _caged(labels, sheet, "r4c4 r4c5 r4c6 r5c4 r5c5 r5c6 r6c4 r6c5 r6c6")
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert {len(fence.cells) for fence in evidence.fences} == {2, 3, 9}
    assert {fence.style for fence in evidence.fences} == {"dashed"}
    assert evidence.notes == ()
    assert evidence.unexplained == ()


def test_a_cage_as_pale_as_the_other_side_is_none_where_rules_speak_of_none(glyphs) -> None:
    def fences(grey: int, chance: float, spoken: Spoken) -> int:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        _caged(labels, sheet, "r1c1 r1c2 r2c2", (grey,) * 3)
        chances = changed(sure(labels), "side", (0, 3, 1, 2), chance)
        return len(looked_at(sheet, chances, glyphs, spoken).fences)

    none_known = Spoken(no_cages=True)
    assert [fences(250, 0.999, spoken) for spoken in (SILENT, none_known)] == [1, 0]
    assert [fences(250, 0.7, spoken) for spoken in (SILENT, none_known)] == [0, 0]
    assert [fences(190, 0.7, spoken) for spoken in (SILENT, none_known)] == [1, 1]


def test_a_cage_of_hardly_any_ink_of_which_the_network_is_sure_is_asked_about_where_it_is_the_only_one(glyphs) -> None:
    def notes(chance: float, others: str, spoken: Spoken = SILENT) -> list[str]:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        _caged(labels, sheet, "r1c1 r1c2 r2c2", (254,) * 3)
        if others:
            _caged(labels, sheet, others, (120,) * 3)
        evidence = looked_at(sheet, changed(sure(labels), "side", (0, 3, 1, 2), chance), glyphs, spoken)
        return [note for note in evidence.notes if "pale cage" in note]

    asked = ["perhaps a pale cage is drawn at r1c1"]
    assert notes(0.85, "") == notes(0.85, "", Spoken(no_cages=True, whole=True)) == asked
    assert notes(0.4, "") == notes(0.85, "r4c4 r5c4") == []


def test_a_pale_cage_in_doubt_is_one_where_the_sure_ones_are_as_pale(glyphs) -> None:
    def fences(grey: int) -> int:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        for cells in ("r4c1 r4c2", "r4c4 r5c4", "r6c1 r6c2 r6c3"):
            _caged(labels, sheet, cells, (grey,) * 3)
        _caged(labels, sheet, "r1c1 r1c2 r2c2", (244,) * 3)
        return len(looked_at(sheet, changed(sure(labels), "side", (0, 3, 1, 2), 0.7), glyphs).fences)

    assert [fences(grey) for grey in (244, 120)] == [4, 3]


def test_a_wall_missed_by_a_little_is_put_back_and_asked_about(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    chances = changed(sure(labels), "side", (0, 3, 1, 2), 0.4)
    evidence = looked_at(sheet, chances, glyphs)
    assert [len(fence.cells) for fence in evidence.fences] == [3]
    assert any("r1c2" in note for note in evidence.notes)
    assert evidence.fences[0].confidence < 0.9


def test_walls_without_ink_beside_a_cage_are_none_where_the_sure_ones_of_the_page_are_plain(glyphs) -> None:
    """A cage of the other side of the paper, whose fourth wall would be one of the cage beside it."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c2 r2c2 r3c2")
    _caged(labels, sheet, "r5c3 r5c4 r6c4")
    chances = changed(sure(labels), "side", (0, 1, 2, 2), 0.83)
    for side, chance in ((0, 0.85), (1, 0.9), (2, 0.95)):
        chances = changed(chances, "side", (0, side, 2, 1), chance)
    evidence = looked_at(sheet, chances, glyphs)
    assert sorted(tuple(map(str, fence.cells)) for fence in evidence.fences) == [
        ("r1c2", "r2c2", "r3c2"),
        ("r5c3", "r5c4", "r6c4"),
    ]
    assert any("wall in r2c2" in note for note in evidence.notes)


def test_a_wall_that_is_not_there_closes_no_cage(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r1c1 r1c2 r2c2")
    labels.side[1, 2] = Side.TOP
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert evidence.fences == ()
    assert any("do not close" in note for note in evidence.notes)


def test_a_wall_in_doubt_is_asked_about_where_it_could_be_of_a_cage(glyphs) -> None:
    sheet, chances = Sheet(), sure(Labels.empty(6, 6))
    alone = changed(chances, "side", (0, 1, 2, 2), 0.2)
    for side in range(4):
        chances = changed(chances, "side", (0, side, 2, 2), 0.2)
    assert looked_at(sheet, chances, glyphs).notes == ()  # no ink, no wall
    _caged(Labels.empty(6, 6), sheet, "r2c2")
    assert looked_at(sheet, alone, glyphs).notes == ()  # one wall closes nothing
    assert any("wall in r2c2" in note for note in looked_at(sheet, chances, glyphs).notes)


@pytest.mark.parametrize(
    ("spoken", "asked"),
    [(SILENT, True), (Spoken(no_cages=True), True), (Spoken(no_cages=True, whole=True), False)],
    ids=["no rules", "rules in part", "rules without cages"],
)
def test_walls_in_doubt_that_close_nothing_are_rims_where_the_rules_know_no_cage(glyphs, spoken, asked) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r2c2 r2c3 r3c3", (120,) * 3)
    told = sure(labels)
    for cell in (Cell(2, 2), Cell(2, 3), Cell(3, 3)):
        for side in range(4):
            if told.heads["side"][0, side, cell.row, cell.column] > 0.5:
                told = changed(told, "side", (0, side, cell.row, cell.column), 0.3)
    evidence = looked_at(sheet, told, glyphs, spoken)
    assert evidence.fences == ()
    assert any("whether a cage has a wall" in note for note in evidence.notes) == asked


class Twice(MarkReader):
    """Reads marks when all that it reads is known already."""

    def __call__(self, flat, ink, pieces, known, tubes) -> Marks:
        first = super().__call__(flat, ink, pieces, known, tubes)
        again = super().__call__(flat, ink, pieces, (*known, *first.glyphs), tubes)
        assert set(first.glyphs) & set(again.replaced), "a total that was known is replaced by one like it"
        return again


def test_a_total_that_is_read_as_it_was_before_stays(glyphs) -> None:
    """What it replaces may equal it to the last digit of its box and its chances."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _caged(labels, sheet, "r2c2 r2c3 r3c2")
    labels.node[2, 2] |= Node.SMALL
    corner = round((1.12 + MARGIN) * CELL), round((1.34 + MARGIN) * CELL)
    cv2.putText(sheet.image, "13", corner, cv2.FONT_HERSHEY_SIMPLEX, 0.42, BLACK, 1, cv2.LINE_AA)
    evidence, *_ = read_stages(sheet.flat, None, glyphs, Twice(glyphs, Told(sure(labels))))
    assert [glyph.text for glyph in evidence.glyphs] == ["13"]
