"""Givens that the network of short texts sees or denies, on cells with lines in them."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.evidence import Disc, Glyph, Guess, Trace
from recognise.marks import whole_givens
from recognise.marks.characters import Characters
from recognise.marks.read import _is_end, _may_be_of_mark
from recognise.marks.text_places import SMALL_TALLEST, Place
from recognise.marks.whole_givens import LEAST, heard, in_part, is_ring, lost, not_there
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import sure

CELL = 64
RASTER = Raster(4, 4, CELL, CELL)
PLACE = Cell(2, 2)
LINE, INK, FINE = (150, 150, 150), (20, 20, 20), 4
"""Greys of a line and of digits; so many times finer than the picture they are drawn."""
WAY = Trace((PLACE, Cell(3, 2), Cell(4, 2)), ((0, 1), (1, 2)), LINE, 0.13, False, "shape")


def _seen(
    text: str = "", *, line: bool = True, character: bool = False, ink: tuple[int, int, int] = INK
) -> SimpleNamespace:
    """A grid with a line that comes from below and ends in one cell, a digit in that, and what the lattice network says
    of it; another digit in its last cell."""
    wide = 6 * CELL * FINE
    picture = np.full((wide, wide, 3), 255, np.uint8)
    for at in range(CELL * FINE, wide - CELL * FINE + 1, CELL * FINE):
        cv2.line(picture, (CELL * FINE, at), (wide - CELL * FINE, at), INK, FINE)
        cv2.line(picture, (at, CELL * FINE), (at, wide - CELL * FINE), INK, FINE)
    middle = round(2.5 * CELL * FINE)
    if line:
        cv2.line(picture, (middle, middle), (middle, middle + 2 * CELL * FINE), LINE, round(0.13 * CELL * FINE))
    if text:
        at = middle - 5 * CELL // 8, middle + 5 * CELL // 8
        cv2.putText(picture, text, at, cv2.FONT_HERSHEY_DUPLEX, 5.4, ink, 5 * FINE, cv2.LINE_AA)
        at = at[0] + 2 * CELL * FINE, at[1] + 2 * CELL * FINE
        cv2.putText(picture, "3", at, cv2.FONT_HERSHEY_DUPLEX, 5.4, INK, 5 * FINE, cv2.LINE_AA)
    labels = Labels.empty(4, 4)
    labels.node[PLACE.row, PLACE.column] |= Node.CHARACTERS if character else 0
    small = cv2.resize(picture, (6 * CELL, 6 * CELL), interpolation=cv2.INTER_AREA)
    return SimpleNamespace(
        told=sure(labels), raster=RASTER, ink=SimpleNamespace(relative=small.astype(np.float32) / 255)
    )


def _glyph(text: str, cell: Cell = PLACE, confidence: float = 0.9) -> Glyph:
    x, y = cell.centre
    return Glyph((x - 0.1, y - 0.2, x + 0.1, y + 0.2), (Guess(text, confidence),), 0.4, (0, 0, 0), "ocr")


def test_the_end_of_a_line_is_no_given() -> None:
    one = _glyph("1")
    assert not_there([one], _seen()) == [one]


@pytest.mark.parametrize("pointed", [True, False])
def test_what_stands_where_an_arrow_has_its_head_is_looked_at(pointed: bool) -> None:
    """A filled head with its shaft is like a 4."""
    way = replace(WAY, heads=(2,) if pointed else ())
    head = _glyph("4", cell=WAY.nodes[2])
    assert _is_end(head, [way], _seen()) == pointed  # type: ignore[arg-type]
    assert not_there([head], _seen()) == [head]


@pytest.mark.parametrize("speaks", [True, False])
def test_what_stands_on_a_line_or_in_a_circle_is_looked_at_where_rules_speak_of_marks(speaks: bool) -> None:
    """Of what is written by hand on other pages neither network knows."""
    seen = _seen()
    seen.spoken = SimpleNamespace(speaks=speaks)
    circle = Disc((2.5, 3.5), 0.35, (255, 255, 255), (20, 20, 20), "shape", 0.9)
    on_line, in_circle, alone = (_glyph("6", cell=cell) for cell in (WAY.nodes[1], Cell(4, 3), Cell(1, 4)))
    assert _may_be_of_mark(on_line, [WAY], [], seen) == speaks  # type: ignore[arg-type]
    assert _may_be_of_mark(in_circle, [], [circle], seen) == speaks  # type: ignore[arg-type]
    assert not _may_be_of_mark(alone, [WAY], [circle], seen)  # type: ignore[arg-type]
    assert not_there([on_line], seen) == [on_line]


@pytest.mark.parametrize("text", ["1", "4", "7"])
def test_a_digit_on_the_end_of_a_line_is_one(text: str) -> None:
    assert not not_there([_glyph(text)], _seen(text))


def test_what_is_surely_read_or_seen_by_the_lattice_network_stays() -> None:
    assert not not_there([_glyph("1", confidence=0.995)], _seen())
    assert not not_there([_glyph("1")], _seen(character=True))


@pytest.mark.parametrize("text", ["2", "5", "8"])
def test_a_given_that_nobody_cut_out_of_a_line_is_read_and_stays_in_doubt(text: str) -> None:
    elsewhere = _glyph("3", Cell(4, 4), 1.0)
    (found,) = lost([elsewhere], [WAY], _seen(text, character=True))
    assert found.text == text
    assert RASTER.cell_of(*found.centre) == PLACE
    assert found.size == elsewhere.size
    assert found.confidence == pytest.approx(0.8)


def test_nothing_is_lost_where_one_was_read_or_no_network_sees_any() -> None:
    elsewhere = _glyph("3", Cell(4, 4), 1.0)
    assert not lost([elsewhere, _glyph("2")], [WAY], _seen("2", character=True))
    (x, y), small = PLACE.centre, replace(_glyph("2"), size=0.22)
    number = replace(small, box=(x - 0.1, y - 0.11, x + 0.1, y + 0.11))
    assert not lost([elsewhere, number], [WAY], _seen("2", character=True)), "a number in a circle"
    corner = replace(small, box=(x - 0.45, y - 0.45, x - 0.25, y - 0.23))
    assert lost([elsewhere, corner], [WAY], _seen("2", character=True)), "a number in the corner of the cell"
    assert not lost([elsewhere], [WAY], _seen("2"))
    assert not lost([elsewhere], [WAY], _seen(character=True))
    assert not lost([], [WAY], _seen("2", character=True))


def test_a_large_total_is_no_given_of_its_cell() -> None:
    elsewhere, (x, y) = _glyph("3", Cell(4, 4), 1.0), PLACE.centre
    total = replace(_glyph("15"), size=0.26, box=(x - 0.42, y - 0.42, x + 0.02, y - 0.16))
    corner = Place(
        (x - 0.5, y - 0.5, x + 0.42, y - 0.08), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True
    )
    read = Characters((total,), (), (corner,), (), (), ())
    assert not lost([elsewhere, total], [], _seen("2", line=False, character=True))
    left = [glyph for glyph in (elsewhere, total) if not read.is_small(glyph)]
    assert [glyph.text for glyph in lost(left, [], _seen("2", line=False, character=True))] == ["2"]


def test_a_given_of_a_fount_that_nobody_knows_is_what_it_most_likely_is_and_stays_in_doubt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What is written by hand is told apart later (`recognise/hand/tell.py`), by what the print of the page is like."""
    elsewhere = _glyph("3", Cell(4, 4), 1.0)
    (found,) = lost([elsewhere], [], _seen("2", line=False, character=True))
    assert (found.text, found.confidence) == ("2", pytest.approx(0.8))
    for chances, texts in (((0.3, 0.45, 0.2), [["6", "9", ""]]), ((0.3, 0.6, 0.1), [])):
        guesses = tuple(map(Guess, ("6", "", "9"), chances))
        monkeypatch.setattr(whole_givens, "_read", lambda cells, _, guesses=guesses: [guesses for _ in cells])
        found_now = lost([elsewhere], [], _seen("2", line=False, character=True))
        assert [[guess.text for guess in glyph.guesses] for glyph in found_now] == texts
        assert not lost([elsewhere], [WAY], _seen("2", character=True)), "in a line the network has to be sure"


@pytest.mark.parametrize(("grey", "found"), [(229, 0), (150, 1)])
def test_what_is_far_paler_than_the_givens_shows_through(grey: int, found: int) -> None:
    seen = _seen("8", line=False, character=True, ink=(grey,) * 3)
    assert len(lost([_glyph("3", Cell(4, 4), 1.0)], [WAY], seen)) == found


def test_what_both_read_of_a_given_is_as_sure_as_the_surer_and_another_is_likelier() -> None:
    ((before, after),) = heard([_glyph("8", confidence=0.7)], _seen("8", line=False))
    assert (before.text, after.text) == ("8", "8")
    assert after.confidence > 0.97
    ((_, after),) = heard([_glyph("3", confidence=0.7)], _seen("8", line=False))
    assert [guess.text for guess in after.guesses] == ["8", "3"]
    assert after.confidence == pytest.approx(0.8), "it stays in doubt"
    assert not heard([_glyph("3", confidence=0.9), _glyph("8", confidence=0.995)], _seen("8", line=False))


@pytest.mark.parametrize(("text", "taken", "whole"), [("8", (), True), ("C", (), True), ("8", (PLACE,), False)])
def test_a_given_of_which_fine_strokes_were_lost_is_as_large_as_the_others(
    text: str, taken: tuple[Cell, ...], whole: bool
) -> None:
    others = [_glyph("3", Cell(4, column), 1.0) for column in range(1, 5)]
    x, y = PLACE.centre
    part = replace(_glyph(text), size=0.26, box=(x - 0.05, y - 0.1, x + 0.1, y + 0.16))
    found = in_part([*others, part], taken, _seen("8", line=False, character=True))
    assert [after.size for _, after in found] == ([0.4] if whole else [])
    assert all((after.text, after.size >= LEAST) == ("8", True) for _, after in found)


def test_a_character_that_was_cut_out_with_the_ring_that_it_touches_is_not_read() -> None:
    def boxed(*box: float) -> Glyph:
        return Glyph(box, (Guess("0", 0.95),), box[3] - box[1], INK, "ocr")

    ring, plain = Disc((1.5, 1.5), 0.4, None, INK, "shape"), Disc((1.5, 1.5), 0.4, LINE, None, "shape")
    with_ring, inside = boxed(1.09, 1.09, 1.91, 1.91), boxed(1.33, 1.2, 1.67, 1.8)
    assert is_ring(with_ring, [ring]) and not is_ring(inside, [ring])
    assert not is_ring(with_ring, [plain]) and not is_ring(boxed(2.09, 1.09, 2.91, 1.91), [ring])
