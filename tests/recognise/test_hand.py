"""Handwriting in a printed grid is no given; print is not taken for handwriting."""

import dataclasses
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import cv2
import numpy as np
import pytest
from PIL import Image

from checker.prove import prove
from clueprint.draw import draw
from fixtures.generator import make_puzzle
from recognise.evidence import Edges, Evidence, Glyph, Guess, Shape
from recognise.hand import tell
from recognise.hand.groups import leaning
from recognise.hand.pencilled import Pencilled
from recognise.hand.strokes import Thing
from recognise.hand.tell import CERTAIN, FAR, _without_totals
from recognise.hand.without import without_hand
from recognise.marks.text_places import perhaps_small
from recognise.pipeline import PageReading
from recognise.pixels.frame import Raster
from recognise.place import to_page
from schema.cells import Cell
from schema.puzzle import Puzzle
from tests.recognise.page_files import read_in

BLUE, BLACK = (40, 50, 170), (30, 30, 30)
EVEN, SMALL = 0.0, 0.4


@cache
def _puzzle() -> Puzzle:
    return make_puzzle(Random("hand"), (), 9, digits="usual").model_copy(update={"rules_text": None})


def _solution(puzzle: Puzzle) -> dict[Cell, int]:
    solution = prove(puzzle).solution
    assert solution is not None
    return dict(solution)


@cache
def _printed() -> PageReading:
    """The page as it is printed, read once for all that write on it."""
    with TemporaryDirectory() as folder:
        draw(_puzzle(), Path(folder) / "page.png")
        return read_in(Path(folder) / "page.png")


def _written(digits: dict[Cell, int], ink: tuple[int, int, int], path: Path, uneven: float = 1.0) -> Path:
    """The page with digits written into its grid in a stroke font: size, slant and place vary by `uneven`."""
    page, (result,) = _printed().page, _printed().results
    flat = result.looked.flat
    rng = Random(7)
    picture = page.image.copy()
    for cell, digit in digits.items():
        x, y = cell.column - 0.72 + rng.uniform(-0.1, 0.2) * uneven, cell.row - 0.25 - rng.uniform(-0.05, 0.25) * uneven
        x, y = (x, y) if uneven else (cell.column - 0.9, cell.row - 0.65)
        ((px, py), (qx, _)) = to_page(page, flat, [(x, y), (x + 1, y)])
        scale = (qx - px) / 40 * (0.75 + rng.uniform(-0.2, 0.3) * uneven if uneven else SMALL)
        face = rng.choice((cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, cv2.FONT_HERSHEY_SIMPLEX)) if uneven else 0
        width = max(1, round((qx - px) / 22))
        cv2.putText(picture, str(digit), (round(px), round(py)), face, scale, ink, width, cv2.LINE_AA)
    Image.fromarray(picture).save(path)
    return path


@pytest.mark.parametrize("ink", [BLUE, BLACK], ids=["blue", "black"])
def test_a_grid_filled_by_hand_has_the_printed_givens_only(ink, tmp_path) -> None:
    puzzle = _puzzle()
    empty = {cell: d for cell, d in _solution(puzzle).items() if cell not in puzzle.givens}
    (result,) = read_in(_written(empty, ink, tmp_path / "filled.png")).results
    givens = result.proven.draft.givens
    assert puzzle.givens.items() <= givens.items()
    # In black, a digit or two as large as print, and standing like it, may be either: a person is asked.
    assert len(givens) == len(puzzle.givens) or (ink == BLACK and not result.clean)
    assert len(givens) <= len(puzzle.givens) + 2
    assert {p.cell for p in result.looked.hand.pencilled} == set(empty) - set(givens)
    told = {p.cell: p.digit for p in result.looked.hand.pencilled if p.digit is not None and p.confidence > 0.9}
    assert len(told) > len(empty) / 3
    assert sum(empty[cell] != digit for cell, digit in told.items()) <= 1


def test_small_print_that_stands_evenly_is_no_handwriting(tmp_path) -> None:
    puzzle = _puzzle()
    some = {cell: d for cell, d in list(_solution(puzzle).items())[::3] if cell not in puzzle.givens}
    path = _written(some, BLACK, tmp_path / "small.png", uneven=EVEN)
    (result,) = read_in(path).results
    assert result.looked.hand.pencilled == ()
    assert not result.clean


def test_print_alone_is_no_handwriting() -> None:
    (result,) = _printed().results
    assert result.looked.hand.pencilled == ()
    assert result.proven.draft.givens == _puzzle().givens


def groups_of(apart: float, near: float = 2.0) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Thirty printed and fifty written things by nine features, of which the last four are `apart`; the written ones
    stand `near` the place of print, and the first printed one far off it. With their likeness, and how far each is
    from the print."""
    rng = np.random.default_rng(4)
    print_, hand = rng.normal(0, 0.7, (30, 9)), rng.normal(0, near, (50, 9))
    hand[:, 5:] = rng.normal(apart, 0.8, (50, 4))
    print_[0, :3] = 5
    features = np.concatenate([print_, hand])
    shapes = rng.normal(0, 1, (80, 60))
    alike = np.corrcoef(shapes)
    np.fill_diagonal(alike, -1.0)
    return features, alike, np.linalg.norm(features, axis=1) / 3


def test_print_that_stands_off_its_place_is_print_where_the_handwriting_is_of_another_ink():
    features, alike, off = groups_of(6.0)
    assert off[0] > 2.5  # by its distance from the print
    lean = leaning(features, alike, off)
    assert (lean[:30] > CERTAIN).all()
    assert (lean[30:] < -CERTAIN).all()


def test_a_neat_hand_that_stands_where_print_does_is_told_by_its_ink():
    features, alike, off = groups_of(3.0, near=1.0)
    assert np.median(off[30:]) < FAR  # by distance from the print most are not surely written
    lean = leaning(features, alike, off)
    assert (lean[1:30] > 0).all()
    assert (lean[30:] < 0).all()


def test_print_and_handwriting_that_run_into_each_other_tell_nothing():
    features, alike, off = groups_of(0.0, near=0.8)
    assert not leaning(features, alike, off).any()
    assert not leaning(features[:12], alike[:12, :12], off[:12]).any()  # or that are not there


def test_a_mark_of_no_kind_in_whose_middle_somebody_has_written_is_no_mark():
    narrow = Pencilled(Cell(1, 1), (0.45, 0.2, 0.55, 0.8), 1, 0.9)
    mark, elsewhere = (Shape("mark", (x + 0.2, 0.2, x + 0.8, 0.8), (0, 0, 0), "shape") for x in (0.0, 2.0))
    none = np.zeros((5, 4))
    evidence = Evidence(4, 4, Edges(none, none.T, none, none.T), shapes=(mark, elsewhere))
    assert without_hand(evidence, [narrow]).shapes == (elsewhere,)


def test_handwriting_in_the_corner_of_a_cell_is_no_small_print_where_the_page_has_none() -> None:
    written = Pencilled(Cell(1, 1), (0.3, 0.2, 0.7, 0.8), 5, 0.9)
    note, other = (perhaps_small(Cell(1, column)) for column in (1, 3))
    none = np.zeros((5, 4))
    total = Glyph((2.1, 2.1, 2.3, 2.3), (Guess("9", 1.0),), 0.2, (0, 0, 0), "ocr")
    evidence = Evidence(4, 4, Edges(none, none.T, none, none.T), notes=(note, other))
    assert without_hand(evidence, [written]).notes == (other,)
    with_totals = dataclasses.replace(evidence, glyphs=(total,))
    assert without_hand(with_totals, [written]).notes == (note, other)


def _thing(rng: np.random.Generator, number: int, top: float, height: float, spread: float) -> Thing:
    place = np.array([top, top + height, 0.5, height, 0.1, 0.8, 0.0, 0.0, 10.0])
    around, shape = rng.normal(0, spread, 9), rng.normal(0, 0.04, 560)
    cell = Cell(1 + number // 9, 1 + number % 9)
    return Thing(cell, (0.2, 0.2, 0.8, 0.8), place + around, shape, np.zeros((9, 9), np.uint8), (0, 0, 1, 1))


def test_totals_of_cages_are_not_the_print_that_givens_are_held_against() -> None:
    rng = np.random.default_rng(2)
    totals = [_thing(rng, number, 0.1, 0.17, 0.004) for number in range(15)]
    givens = [_thing(rng, number, 0.25, 0.5, 0.03) for number in range(15, 22)]
    assert _without_totals([*totals, *givens]) == givens
    assert _without_totals(givens) == givens


@pytest.mark.parametrize("even", ["digits", "lines"])
def test_digits_beside_what_stands_evenly_are_handwriting_only_where_that_is_print(even: str, monkeypatch) -> None:
    rng = np.random.default_rng(3)
    evenly = [_thing(rng, number, 0.25, 0.5, 0.004) for number in range(20)]
    others = [_thing(rng, number, 0.15, 0.65, 0.09) for number in range(20, 29)]
    monkeypatch.setattr(tell, "things", lambda ink, raster: [*evenly, *others])

    def read(seen):
        texts = [str(1 + thing.cell.column) if thing in others or even == "digits" else "" for thing in seen]
        return [(Guess(text, 0.99),) for text in texts]

    none = np.zeros((10, 9))
    evidence = Evidence(9, 9, Edges(none, none.T, none, none.T))
    _, hand = tell.tell_hand(evidence, None, Raster(9, 9, 64, 0), read)  # type: ignore[arg-type]
    assert {pencilled.cell for pencilled in hand.pencilled} == ({t.cell for t in others} if even == "digits" else set())


@pytest.mark.parametrize(
    ("bottom", "sure", "marked"), [(0.95, 1.0, {Cell(1, 1)}), (0.85, 1.0, set()), (0.95, 0.5, set())]
)
def test_a_sign_that_touches_a_printed_digit_makes_no_handwriting_of_it(
    bottom: float, sure: float, marked: set[Cell]
) -> None:
    """A black triangle between two cells and the digit over it are one thing, unlike any digit by itself."""
    blank = np.zeros((1, 1))
    thing = Thing(Cell(1, 1), (0.3, 0.2, 0.7, bottom), blank, blank, np.zeros((1, 1), np.uint8), (0, 0, 1, 1))
    other = dataclasses.replace(thing, cell=Cell(2, 1), box=(0.3, 1.2, 0.7, 1.8))
    sign = Shape("sign", (0.29, 0.79, 0.71, 1.21), (0, 0, 0), "shape", sure, direction="down")
    evidence = Evidence(rows=2, columns=1, shapes=(sign,), edges=None)  # type: ignore[arg-type]
    assert tell._marked(evidence, [thing, other], Raster(2, 1, 64, 64)) == marked
