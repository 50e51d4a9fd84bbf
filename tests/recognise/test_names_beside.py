"""Names of rows and columns beside a grid in a picture: painted over as a row, and never clues."""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat, Guess
from recognise.glyphs import GlyphReader
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from recognise.pixels.names_beside import are_names, rows_beside, without_names

CELL, MARGIN, SIDE = 48, 3, 6
PAPER, INK, PALE = 244, 20, 150


@cache
def _reader() -> GlyphReader:
    return GlyphReader()


def _flat(top: str = "", left: str = "", off: float = 0.0, words: str = "") -> Flat:
    """A grid with characters over its columns and before its rows, all of them so far `off` the middles, and `words`
    in line with those over it."""
    image = np.full(((SIDE + 2 * MARGIN) * CELL,) * 2, PAPER, np.uint8)
    low, high = MARGIN * CELL, (MARGIN + SIDE) * CELL
    for line in range(low, high + 1, CELL):
        cv2.line(image, (low, line), (high, line), INK, 2)
        cv2.line(image, (line, low), (line, high), INK, 2)

    def put(text: str, x: float, y: float) -> None:
        (wide, tall), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_DUPLEX, 0.5, 1)
        at = round((x + MARGIN) * CELL - wide / 2), round((y + MARGIN) * CELL + tall / 2)
        cv2.putText(image, text, at, cv2.FONT_HERSHEY_DUPLEX, 0.5, PALE, 1, cv2.LINE_AA)

    for place, text in enumerate(top):
        put(text, place + 0.5 + off, -0.4)
    for place, text in enumerate(left):
        put(text, -0.4, place + 0.5)
    if words:
        put(words, SIDE - 1, -0.4)
    none = np.zeros((1, 1), np.float32)
    return Flat(np.repeat(image[..., None], 3, axis=2), SIDE, SIDE, CELL, MARGIN, none, none)


@pytest.mark.parametrize(("top", "left"), [("ABCDEF", "123456"), ("ABCDEF", "654321"), ("", "ABCDEF")])
def test_names_of_rows_and_columns_are_paper(top: str, left: str) -> None:
    bare = without_names(_flat(top, left), _reader())
    assert np.abs(bare.image.astype(int) - _flat().image).max() <= 12


@pytest.mark.parametrize(
    "flat",
    [
        _flat("ABCDE"),
        _flat("ABCXYF"),
        _flat("", "123956"),
        _flat("", "12 456"),
        _flat("ABCDEF", off=0.4),
        _flat("ABCDEF", words="OF"),
        _flat("713246"),
    ],
    ids=["one is missing", "others", "a figure that breaks the series", "a gap", "off", "words in line", "clues"],
)
def test_what_is_no_series_stays(flat: Flat) -> None:
    assert without_names(flat, _reader()) is flat


def _read(texts: str, sure: float = 0.99) -> list[tuple[Guess, ...]]:
    return [(Guess(text.strip("?"), sure if text != "?" else 0.4),) for text in texts]


@pytest.mark.parametrize(
    ("texts", "letters"),
    [("ABCDEFGHI", True), ("48CDEFGH1", True), ("AB??EF?H?", True), ("AB??EF???", False), ("ABCDEFGHJ", True),
     ("IHGFEDCBA", True), ("ABC", False), ("ABCDXFGHI", False)],
)  # fmt: skip
def test_letters_in_order_name_lines_where_most_are_read_and_none_is_another(texts: str, letters: bool) -> None:
    assert are_names(_read(texts)) == letters


def test_a_doubtful_reading_says_nothing_against_a_letter() -> None:
    assert are_names([*_read("ABCD"), (Guess("X", 0.6),), *_read("FGHI")])


@pytest.mark.parametrize(
    ("texts", "figures", "across"),
    [("123456789", True, True), ("987654321", True, True), ("1234?6789", True, True), ("12?45?78?", False, True),
     ("1?3?5????", False, False), ("I234S6789", True, True), ("123856789", False, False)],
)  # fmt: skip
def test_figures_in_order_name_lines_where_nearly_all_are_read(texts: str, figures: bool, across: bool) -> None:
    """They may be clues; where names stand across to them that is no question."""
    assert are_names(_read(texts)) == figures
    assert are_names(_read(texts), beside=True) == across


def test_a_letter_that_came_apart_is_read_as_one() -> None:
    assert are_names([*_read("A"), (Guess("13", 0.99), Guess("B", 0.99)), *_read("CDEF")])
    assert not are_names([*_read("A"), (Guess("13", 0.99),), *_read("CDEF")])


def test_numerals_name_lines() -> None:
    numerals = [(Guess(text, 0.99),) for text in ("I", "II", "III", "IV", "V", "VI")]
    assert are_names(numerals)
    assert not are_names(numerals[::2])


@pytest.mark.parametrize(
    ("texts", "across"), [("?BC???9?1", True), ("?6CD??G?1", True), ("?8????9??", False), ("?2C???9?1", False)]
)
def test_small_letters_name_lines_only_across_to_other_names(texts: str, across: bool) -> None:
    """The network knows no small letters, but what some of them look like."""
    assert not are_names(_read(texts))
    assert are_names(_read(texts), beside=True) == across


def test_a_letter_and_a_figure_name_rows_or_columns() -> None:
    assert not are_names([(Guess(text, 0.99),) for text in ("R1", "", "", "R4", "", "", "", "", "")])
    assert are_names([(Guess(text, 0.99),) for text in ("C1", "", "C3", "C4", "", "", "", "C8", "")])
    assert not are_names([(Guess(text, 0.99),) for text in ("C1", "C2", "C3", "R4", "", "", "", "C8", "")])


def test_what_stands_on_the_last_lattice_line_names_no_column() -> None:
    raster = Raster(rows=SIDE, columns=SIDE, cell=CELL, origin=96)
    on_line = Blob(x=96 + SIDE * CELL - 10, y=56, width=20, height=20, area=200, labels=(1,))
    assert rows_beside([on_line], "top", raster) == []
