"""Short texts between cells and in corners that nobody looked at."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks import characters
from recognise.marks import overlooked as module
from recognise.marks.characters import read_at_places, with_found
from recognise.marks.overlooked import overlooked, perhaps_overlooked
from recognise.marks.text_ink import Print
from recognise.marks.text_places import BEGUN, SMALL_TALLEST, Place, corner_of, hard_in_corner, on_edge
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.test_characters import RASTER as FLAT
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import Drawing

SIZE, CELL = 6, 64
RASTER = Raster(SIZE, SIZE, CELL, CELL)


def page(*between: tuple[float, float]) -> Print:
    """A grid with the number 12 on a patch of paper at some points."""
    picture = np.full(((SIZE + 2) * CELL, (SIZE + 2) * CELL, 3), 255, np.uint8)
    for at in range(1, SIZE + 2):
        cv2.line(picture, (CELL, at * CELL), ((SIZE + 1) * CELL, at * CELL), (0, 0, 0), 2)
        cv2.line(picture, (at * CELL, CELL), (at * CELL, (SIZE + 1) * CELL), (0, 0, 0), 2)
    for x, y in between:
        left, middle = round((x + 1) * CELL), round((y + 1) * CELL)
        cv2.rectangle(picture, (left - 16, middle - 12), (left + 16, middle + 12), (255, 255, 255), -1)
        cv2.putText(picture, "12", (left - 13, middle + 8), cv2.FONT_HERSHEY_DUPLEX, 0.7, (0, 0, 0), 1, cv2.LINE_AA)
    relative = picture.astype(np.float32) / 255
    ink = np.asarray(1 - relative.min(axis=-1), np.float32)
    return Print(ink, ink, relative, Pieces.__new__(Pieces), RASTER, 0.1)


def read_at(place: Place) -> Glyph:
    """A number read in the middle of a place."""
    x, y = place.middle
    return Glyph((x - 0.1, y - 0.1, x + 0.1, y + 0.1), (Guess("12", 1.0),), 0.2, (0, 0, 0), "shape")


def test_a_number_between_cells_that_nobody_looked_at_is_seen() -> None:
    known, other = on_edge((2.0, 1.5)), (3.5, 4.0)
    assert overlooked([known], [read_at(known)], [], page(known.middle)) == {}
    assert overlooked([known], [read_at(known)], [], page(known.middle, other)) == {on_edge(other): "12"}


def test_where_perhaps_nothing_stands_and_nobody_read_any_one_looks_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "read_whole", lambda places, _: [(Guess("12", 1.0),)] * len(places))
    corner = Place(corner_of(Cell(1, 1)), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    perhaps = replace(corner, box=corner_of(Cell(2, 3)), perhaps=True)
    found = overlooked([corner, perhaps], [read_at(corner)], [], page())
    assert replace(perhaps, perhaps=False) in found
    assert corner not in found


def test_what_was_known_there_is_asked_about_unless_the_network_reads_the_same() -> None:
    looked, other = on_edge((2.0, 1.5)), on_edge((3.5, 4.0))
    seen = page(looked.middle, other.middle)
    same = read_at(other)
    longer, large = replace(same, guesses=(Guess("112", 1.0),)), replace(same, size=0.8)
    assert overlooked([looked], [read_at(looked)], [same], seen) == {}
    for known in ([longer], [large], [same, same]):
        assert list(overlooked([looked], [read_at(looked)], known, seen)) == [other]


def test_where_no_numbers_stand_between_cells_nobody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[Place] = []

    def nothing(places: list[Place], _: Print) -> list[tuple[Guess, ...]]:
        looked.extend(places)
        return [(Guess("", 1.0),)] * len(places)

    monkeypatch.setattr(module, "read_whole", nothing)
    overlooked([on_edge((2.0, 1.5))], [], [], page((3.5, 4.0)))
    assert looked == []
    corner = Place(corner_of(Cell(1, 1)), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    x0, y0, _, y1 = corner_of(Cell(2, 3))
    begun = replace(corner, box=(x0, y0, x0 + BEGUN, y1))
    overlooked([corner, begun], [read_at(corner)], [], page())
    assert len(looked) == SIZE * SIZE - 2
    assert all(place.in_corner and place.box[:2] != begun.box[:2] for place in looked)


def test_where_small_characters_may_stand_one_asks_unless_the_network_surely_sees_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    seen = page((2.3, 2.2))
    notes = perhaps_overlooked([Cell(3, 3), Cell(5, 2)], seen)
    assert "r3c3" in notes[0]
    assert perhaps_overlooked([], seen) == []
    told = [(Guess("12", 0.9),), (Guess("", 0.9995),)]
    monkeypatch.setattr(module, "read_whole", lambda places, _: told[: len(places)])
    (note,) = perhaps_overlooked([Cell(3, 3), Cell(5, 2)], seen)
    assert "r3c3" in note


def test_where_it_only_thinks_that_none_stand_there_one_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "read_whole", lambda places, _: [(Guess("", 0.99), Guess("1", 0.01))] * len(places))
    assert len(perhaps_overlooked([Cell(3, 3)], page())) == 1


@pytest.mark.parametrize(
    ("numbered", "text", "read"),
    [(True, "38", True), (False, "38", False), (False, "33", True)],
    ids=["a line begins there", "nothing begins there", "both networks read the same"],
)
def test_a_number_that_the_network_sees_in_a_corner_is_read_where_one_may_stand(
    numbered: bool, text: str, read: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    flat = Drawing().flat()
    for x, y in ((1, 1), (3, 3)):
        at = round(FLAT.at(x + 0.06)), round(FLAT.at(y + 0.3))
        cv2.putText(flat.image, "33", at, cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    looked, other = corner_of(Cell(2, 2)), corner_of(Cell(4, 4))
    seen, missed = (
        Place(box, "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True) for box in (looked, other)
    )
    monkeypatch.setattr(characters, "overlooked", lambda *_: {missed: text})
    told = read_at_places([seen], {other} if numbered else (), (), print_of(flat), GlyphReader(), (), ())
    glyphs, notes, more = told
    assert [glyph.text for glyph in glyphs] == ["33"] * (1 + read)
    assert [place.box for place in more] == [other] * read
    assert notes == [hard_in_corner(Cell(4, 4))] * (not read)


def test_nobody_asks_about_cells_that_were_read() -> None:
    place = Place(corner_of(Cell(3, 3)), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    assert perhaps_overlooked([Cell(3, 3)], page((2.3, 2.2)), [place]) == []


def test_a_corner_that_was_found_stands_once_among_the_places_of_small_numbers() -> None:
    """It was one of those at which perhaps nothing stands: twice, its number would be read twice."""
    found = Place(corner_of(Cell(3, 3)), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    other = replace(found, box=corner_of(Cell(1, 2)))
    assert with_found([replace(found, perhaps=True), other], [found, on_edge((2.0, 1.5))]) == [other, found]


@pytest.mark.parametrize(("text", "read"), [("8", True), ("1", False)])
def test_what_looks_like_a_1_between_cells_is_only_asked_about(
    text: str, read: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, box = on_edge((3.5, 4.0)), (3.45, 3.9, 3.55, 4.1)
    glyph = Glyph(box, (Guess(text, 1.0),), 0.2, (0, 0, 0), "ocr")
    monkeypatch.setattr(characters, "overlooked", lambda *_: {place: text})
    monkeypatch.setattr(characters, "read_texts", lambda places, *_: ([glyph] if place in places else [], []))
    glyphs, notes, more = read_at_places([], (), (), page(place.middle), GlyphReader(), (), ())
    assert (glyphs, more) == ([glyph] * read, [place] * read)
    assert len(notes) == (not read)
