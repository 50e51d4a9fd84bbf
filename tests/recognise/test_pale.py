"""Pale characters where characters stand, and places in tints that are bare: what no guard for full ink finds."""

import cv2
import numpy as np

from recognise.doubt.bare import bare_places
from recognise.doubt.ink import unexplained_ink
from recognise.draft import box_polygon
from recognise.evidence import Flat, Tint
from recognise.glyphs import GlyphReader
from schema.cells import Cell

CELL, MARGIN, FLOOR = 64, 1.0, 0.05
PAPER, GREY = 248, 225
TINT = Tint(Cell(2, 2), (GREY, GREY, GREY), 1.0)
"""A pale tint, as a screen of one tenth prints it."""


def _flat(image: np.ndarray) -> Flat:
    maps = np.zeros(image.shape[:2], np.float32)
    return Flat(image, 4, 4, CELL, MARGIN, maps, maps)


def _paper() -> np.ndarray:
    return np.full((6 * CELL, 6 * CELL, 3), PAPER, np.uint8)


def _written(x: float, y: float, strength: float, noise: float = 0.01, text: str = "5") -> np.ndarray:
    """Ink of a character whose lower left corner lies there, in cells, on grainy paper."""
    letters = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    at = round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)
    cv2.putText(letters, text, at, cv2.FONT_HERSHEY_SIMPLEX, 1.1, 255, 3)
    grain = np.random.default_rng(1).normal(0, noise, letters.shape)
    return np.clip(strength * letters / 255 + grain, 0, 1).astype(np.float32)


def _left(ink: np.ndarray, *claimed) -> list:
    return unexplained_ink(ink, FLOOR, _flat(_paper()), claimed, lattice=np.zeros(ink.shape, np.bool_))


def test_a_pale_figure_in_the_middle_of_a_cell_is_found() -> None:
    (box,) = _left(_written(1.33, 1.7, 0.11))
    assert 1 < box[0] < box[2] < 2
    assert 1 < box[1] < box[3] < 2


def test_a_pale_figure_in_the_row_of_the_clues_is_found() -> None:
    clue = box_polygon((0.3, -0.8, 0.7, -0.2))
    (box,) = _left(_written(2.33, -0.3, 0.11), clue)
    assert 2 < box[0] < 3
    assert box[3] < 0


def test_print_of_the_other_side_that_is_as_pale_elsewhere_is_none() -> None:
    soft = cv2.GaussianBlur(_written(1.33, 1.7, 0.3), (0, 0), 8)
    assert _left(soft) == []
    on_a_line = _written(1.85, 1.7, 0.11)
    assert _left(on_a_line) == []


def test_what_is_fainter_still_is_found_where_it_reads_as_a_digit() -> None:
    faint, lattice = _written(1.33, 1.7, 0.08, noise=0.03), np.zeros((6 * CELL, 6 * CELL), np.bool_)
    assert _left(faint) == []
    (box,) = unexplained_ink(faint, FLOOR, _flat(_paper()), [], lattice=lattice, reader=GlyphReader())
    assert 1 < box[0] < box[2] < 2
    blank = _written(9, 9, 0.0, noise=0.05)
    assert unexplained_ink(blank, FLOOR, _flat(_paper()), [], lattice=lattice, reader=GlyphReader()) == []


def test_a_figure_of_a_twentieth_of_the_ink_of_print_is_found_where_it_reads_as_a_digit() -> None:
    lattice = np.zeros((6 * CELL, 6 * CELL), np.bool_)
    for strength in (0.04, 0.05, 0.06, 0.07):
        for noise in (0.005, 0.02):
            faint = _written(1.33, 1.7, strength, noise)
            (box,) = unexplained_ink(faint, FLOOR, _flat(_paper()), [], lattice=lattice, reader=GlyphReader())
            assert 1 < box[0] < box[2] < 2


def test_grain_that_reaches_as_far_hides_nothing_that_stands_out() -> None:
    assert _left(_written(9, 9, 0.0, noise=0.05)) == []


def test_paper_in_a_tint_is_a_bare_place() -> None:
    image = _paper()
    y = x = round((1 + MARGIN) * CELL)
    image[y : y + CELL, x : x + CELL] = GREY
    assert list(bare_places(_flat(image), [TINT], [])) == []
    image[y + 16 : y + 44, x + 20 : x + 40] = PAPER
    (box,) = bare_places(_flat(image), [TINT], [])
    assert 1.2 < box[0] < box[2] < 1.8
    halo = box_polygon((1.35, 1.3, 1.6, 1.65))
    assert list(bare_places(_flat(image), [TINT], [halo])) == []


def test_a_place_no_lighter_than_paper_is_uneven_is_not_bare() -> None:
    image = _paper()
    y = x = round((1 + MARGIN) * CELL)
    image[y : y + CELL, x : x + CELL] = PAPER - 10
    image[y + 16 : y + 44, x + 20 : x + 40] = PAPER - 3
    pale = Tint(Cell(2, 2), (PAPER - 10,) * 3, 1.0)
    assert len(list(bare_places(_flat(image), [pale], []))) == 1
    for cell in range(4):
        left = round((cell + MARGIN) * CELL)
        image[left + 10 : left + 40, -3 * CELL : -2 * CELL] -= 12
        image[round(MARGIN * CELL) : round(MARGIN * CELL) + CELL, left + 20 : left + 56] -= 12
        image[-2 * CELL : -CELL, left + 20 : left + 56] -= 12
    assert list(bare_places(_flat(image), [pale], [])) == []


def test_a_tint_that_fills_a_part_of_its_cell_has_paper_beside_it() -> None:
    image = _paper()
    y = x = round((1 + MARGIN) * CELL)
    image[y + 10 : y + CELL - 10, x + 10 : x + CELL - 10] = GREY
    assert list(bare_places(_flat(image), [Tint(TINT.cell, TINT.colour, 0.5)], [])) == []


def test_a_digit_that_the_paper_shows_from_its_other_side_is_none_and_the_same_as_printed_is_one() -> None:
    lattice, printed = np.zeros((6 * CELL, 6 * CELL), np.bool_), _written(1.33, 1.7, 0.11)
    mirrored = printed.copy()
    mirrored[:, 2 * CELL : 3 * CELL] = printed[:, 2 * CELL : 3 * CELL][:, ::-1]
    flat = _flat(_paper())
    assert len(unexplained_ink(printed, FLOOR, flat, [], lattice=lattice, reader=GlyphReader())) == 1
    assert unexplained_ink(mirrored, FLOOR, flat, [], lattice=lattice, reader=GlyphReader()) == []
    assert len(unexplained_ink(mirrored, FLOOR, flat, [], lattice=lattice)) == 1, "without a reader it is asked about"


def test_beside_several_of_the_other_side_one_that_is_alike_in_a_mirror_goes_with_them() -> None:
    lattice, flat = np.zeros((6 * CELL, 6 * CELL), np.bool_), _flat(_paper())
    other_side = np.max([_written(x + 0.33, y + 0.7, 0.11) for x, y in ((1, 2), (2, 2), (1, 1))], axis=0)[:, ::-1]
    eight = _written(1.33, 1.7, 0.11, text="8")
    together = np.ascontiguousarray(np.maximum(other_side, eight))
    assert unexplained_ink(together, FLOOR, flat, [], lattice=lattice, reader=GlyphReader()) == []
    assert len(unexplained_ink(eight, FLOOR, flat, [], lattice=lattice, reader=GlyphReader())) == 1
    darker = np.ascontiguousarray(np.maximum(other_side, _written(1.33, 1.7, 0.2, text="8")))
    assert unexplained_ink(darker, FLOOR, flat, [], lattice=lattice, reader=GlyphReader())
