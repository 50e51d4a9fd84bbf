"""What a PDF draws is looked for in the picture: marks by their colour, characters by the network."""

from collections.abc import Callable
from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc, Evidence, Fence, Flat, Shape, Tint
from recognise.glyphs import GlyphReader
from recognise.merge import Picture, merge
from recognise.second_look import second_look
from schema.cells import Cell
from schema.kinds._outline import inset_outline
from tests.recognise.evidence_maker import evidence, given, glyph

CELL, MARGIN, PAPER = 64, 1.0, (250, 248, 240)
BLACK, GREY, BLUE = (0, 0, 0), (190, 190, 190), (120, 150, 220)
CAGE = (Cell(1, 1), Cell(1, 2), Cell(2, 1))
Draw = Callable[[np.ndarray], None]


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _picture(*draw: Draw, reader: GlyphReader | None = None, rows: int = 4) -> Picture:
    side = round((rows + 2 * MARGIN) * CELL)
    image = np.full((side, side, 3), PAPER, np.uint8)
    for one in draw:
        one(image)
    maps = np.zeros((side, side), np.float32)
    ink = (1 - image.min(axis=-1) / min(PAPER)).clip(0, 1).astype(np.float32)
    return Picture(ink, 0.05, Flat(image, rows, rows, CELL, MARGIN, maps, maps), reader)


def _dashes(image: np.ndarray) -> None:
    for loop in inset_outline(CAGE, 0.09):
        for (x0, y0), (x1, y1) in zip(loop, (*loop[1:], loop[0]), strict=True):
            for n in range(round(max(abs(x1 - x0), abs(y1 - y0)) / 0.15)):
                x, y = x0 + np.sign(x1 - x0) * n * 0.15, y0 + np.sign(y1 - y0) * n * 0.15
                end = x + np.sign(x1 - x0) * 0.08, y + np.sign(y1 - y0) * 0.08
                cv2.line(image, _at(x, y), _at(*end), BLACK, 1)


def _ring(image: np.ndarray) -> None:
    cv2.circle(image, _at(2.5, 2.5), round(0.36 * CELL), GREY, 2)


def _ground(image: np.ndarray) -> None:
    cv2.rectangle(image, _at(3, 3), _at(4, 4), BLUE, -1)


def _bar(image: np.ndarray) -> None:
    cv2.rectangle(image, _at(0.95, 2.3), _at(1.05, 2.7), BLACK, -1)


MARKS = [
    ("fences", Fence(CAGE, "dashed", BLACK, "vector"), _dashes),
    ("discs", Disc((2.5, 2.5), 0.36, None, GREY, "vector"), _ring),
    ("tints", Tint(Cell(4, 4), BLUE, 1.0), _ground),
    ("shapes", Shape("bar", (0.95, 2.3, 1.05, 2.7), BLACK, "vector"), _bar),
]


@pytest.mark.parametrize(("part", "mark", "draw"), MARKS, ids=[part for part, _, _ in MARKS])
def test_a_mark_of_the_pdf_is_taken_and_what_the_picture_does_not_show_is_a_doubt(part, mark, draw: Draw) -> None:
    vectors = evidence(4, 4, **{part: (mark,)})
    merged, doubts = merge(evidence(4, 4), vectors, _picture(draw))
    assert doubts == ()
    assert len(getattr(merged, part)) == 1
    others = [other for name, _, other in MARKS if name != part]
    merged, doubts = merge(evidence(4, 4), vectors, _picture(*others))
    assert len(doubts) == 1
    assert doubts[0].where
    assert len(getattr(merged, part)) == 1


@pytest.mark.parametrize(("style", "shade", "told"), [("dotted", 180, 0), ("solid", 180, 1), ("dotted", 215, 1)])
def test_the_fine_dots_of_a_cage_show_fainter_than_a_line(style: str, shade: int, told: int) -> None:
    def dots(image: np.ndarray) -> None:
        for loop in inset_outline(CAGE, 0.09):
            for one, other in zip(loop, (*loop[1:], loop[0]), strict=True):
                for x, y in np.linspace(one, other, 13):
                    cv2.circle(image, _at(x, y), 0, (shade, shade, shade), -1)

    vectors = evidence(4, 4, fences=(Fence(CAGE, style, BLACK, "vector"),))
    assert len(merge(evidence(4, 4), vectors, _picture(dots))[1]) == told


@pytest.mark.parametrize(("drawn", "told"), [((0, 4), 0), ((0, 2), 1)])
def test_a_thin_diagonal_shows_all_along_though_it_runs_a_little_aside(drawn: tuple[float, float], told: int) -> None:
    def line(image: np.ndarray) -> None:
        (x0, y0), (x1, y1) = (_at(t + 0.03, t) for t in drawn)
        cv2.line(image, (x0, y0), (x1, y1), (235, 140, 140), 1)

    band = ((-0.01, 0.01), (3.99, 4.01), (4.01, 3.99), (0.01, -0.01))
    shape = Shape("diagonal", (0.0, 0.0, 4.0, 4.0), (220, 60, 60), "vector", 1.0, band, "down")
    assert len(merge(evidence(4, 4), evidence(4, 4, shapes=(shape,)), _picture(line))[1]) == told


def test_marks_on_a_page_by_pixels_alone_are_those_of_the_pixels() -> None:
    seen: Evidence = evidence(4, 4, discs=(Disc((2.5, 2.5), 0.36, None, GREY, "shape"),))
    assert merge(seen, None, _picture())[0].discs == seen.discs


def test_a_piece_of_a_mark_that_the_pixels_took_for_a_character_is_none() -> None:
    pixels = evidence(4, 4, glyphs=(glyph(1.0, 2.5, ("1", 0.9), size=0.4),))
    merged, _ = merge(pixels, evidence(4, 4, shapes=(MARKS[3][1],)), _picture(_bar))
    assert merged.glyphs == ()
    merged, _ = merge(pixels, evidence(4, 4), _picture(_bar))
    assert len(merged.glyphs) == 1


@pytest.fixture(scope="module")
def network() -> GlyphReader:
    return GlyphReader()


def _written(text: str, x: float, y: float, scale: float = 0.5) -> Draw:
    return lambda image: cv2.putText(image, text, _at(x, y), cv2.FONT_HERSHEY_SIMPLEX, scale, BLACK, 1, cv2.LINE_AA)


TOTAL = glyph(0.32, 0.24, ("12", 0.995), size=0.4, how="vector")


def test_a_small_number_that_the_pixel_reader_passed_over_is_read_where_the_pdf_puts_it(network: GlyphReader) -> None:
    guesses = second_look(TOTAL, _picture(_written("12", 0.12, 0.34), reader=network))
    assert guesses
    assert (guesses[0].text, guesses[0].probability > 0.5) == ("12", True)
    merged, doubts = merge(
        evidence(4, 4, glyphs=(glyph(0.4, 0.24, ("2", 0.99), size=0.2),)),
        evidence(4, 4, glyphs=(TOTAL,)),
        _picture(_written("12", 0.12, 0.34), reader=network),
    )
    assert [g.text for g in merged.glyphs] == ["12"]
    assert doubts == ()


def test_another_number_or_none_in_its_place_is_a_doubt(network: GlyphReader) -> None:
    wrong = _picture(_written("47", 0.12, 0.34), reader=network)
    assert len(merge(evidence(4, 4), evidence(4, 4, glyphs=(TOTAL,)), wrong)[1]) == 1
    assert len(merge(evidence(4, 4), evidence(4, 4, glyphs=(TOTAL,)), _picture(reader=network))[1]) == 1


def test_ink_that_cannot_be_read_is_believed_of_a_layer_that_is_right_elsewhere(network: GlyphReader) -> None:
    smudge = _picture(lambda image: cv2.circle(image, _at(0.32, 0.24), 9, BLACK, -1), reader=network)
    alone = merge(evidence(4, 4), evidence(4, 4, glyphs=(TOTAL,)), smudge)
    assert len(alone[1]) == 1
    givens = tuple(given(f"r{r}c{c}", "4", 0.999) for r in (2, 3, 4) for c in (1, 2, 3))
    layer = tuple(replace(one, how="vector") for one in givens)
    merged, doubts = merge(evidence(4, 4, glyphs=givens), evidence(4, 4, glyphs=(*layer, TOTAL)), smudge)
    assert doubts == ()
    assert {g.text for g in merged.glyphs} == {"4", "12"}
