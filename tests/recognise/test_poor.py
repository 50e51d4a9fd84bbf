"""A picture too poor to read says so, with what to do; one that can be read does not."""

from pathlib import Path
from random import Random
from types import SimpleNamespace
from typing import cast

import cv2
import numpy as np
import pytest
from PIL import Image

from clueprint.draw import draw
from fixtures.generator import make_puzzle
from recognise import concluding
from recognise.concluding import Result, fault_of_picture
from recognise.doubt.poor import lost_lines
from recognise.evidence import Lattice, Shape, Tint
from recognise.hand import Hand
from recognise.looking import Looked
from recognise.marks.spoken import SILENT, Spoken
from schema.cells import Cell
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.palindrome import Palindrome
from tests.recognise.chances_maker import Sheet
from tests.recognise.evidence_maker import evidence
from tests.recognise.page_files import read_in


@pytest.fixture(scope="module")
def picture(tmp_path_factory) -> np.ndarray:
    path = tmp_path_factory.mktemp("poor") / "page.png"
    draw(make_puzzle(Random("poor"), (), 9, digits="usual").model_copy(update={"rules_text": None}), path)
    return np.asarray(Image.open(path).convert("RGB"))


def _read(picture: np.ndarray, path: Path) -> Result:
    Image.fromarray(picture).save(path)
    (result,) = read_in(path).results
    return result


def test_a_blurred_picture_is_faulty_and_says_what_to_do(picture, tmp_path) -> None:
    blurred = cv2.GaussianBlur(picture, (0, 0), 12)
    result = _read(blurred, tmp_path / "page.png")
    assert result.proven.puzzle is None
    assert not result.clean
    (why,) = [d.why for d in result.proven.draft.doubts if "too poor" in d.why]
    assert "blurred" in why
    assert "hold the camera still" in why


def test_a_picture_that_is_a_little_soft_is_read(picture, tmp_path) -> None:
    result = _read(cv2.GaussianBlur(picture, (0, 0), 3), tmp_path / "page.png")
    assert result.proven.puzzle is not None


def test_a_ring_on_a_border_is_a_mark_in_both_cells(monkeypatch, tmp_path) -> None:
    """Neither cell has a character that would have to be read."""
    puzzle = make_puzzle(Random("rings"), (), 6, digits="usual").model_copy(update={"givens": {}, "rules_text": None})
    pair = Cell(2, 3), Cell(2, 4)
    path = tmp_path / "page.png"
    draw(puzzle.model_copy(update={"constraints": (*puzzle.constraints, ConsecutivePair(cells=pair))}), path)
    apart: list[set[Cell]] = []
    monkeypatch.setattr(concluding, "too_poor", lambda *args: apart.append(set(args[-1])))
    _read(np.asarray(Image.open(path).convert("RGB")), path)
    assert apart[-1] == set(pair)


@pytest.mark.parametrize("name", ["square", "diamond"])
def test_a_shape_that_marks_a_cell_is_no_character(name: str, monkeypatch) -> None:
    apart: list[set[Cell]] = []
    monkeypatch.setattr(concluding, "too_poor", lambda *args: apart.append(set(args[-1])))
    seen = evidence(6, 6, shapes=(Shape(name, (1.2, 2.2, 1.8, 2.8), (200, 220, 190), "shape"),))
    grid = SimpleNamespace(by_vectors=False, evidence=seen, hand=Hand(), ink=None, lattice=None, flat=Sheet().flat)
    fault_of_picture(cast(Looked, grid))
    assert apart == [{Cell(3, 2)}]


def test_a_sign_on_a_border_is_no_character(monkeypatch) -> None:
    apart: list[set[Cell]] = []
    monkeypatch.setattr(concluding, "too_poor", lambda *args: apart.append(set(args[-1])))
    seen = evidence(6, 6, shapes=(Shape("sign", (1.8, 2.3, 2.2, 2.7), (0, 0, 0), "shape", direction="left"),))
    grid = SimpleNamespace(by_vectors=False, evidence=seen, hand=Hand(), ink=None, lattice=None, flat=Sheet().flat)
    fault_of_picture(cast(Looked, grid))
    assert apart == [{Cell(3, 2), Cell(3, 3)}]


def test_the_strokes_of_a_hatched_tint_are_no_characters(monkeypatch) -> None:
    apart: list[set[Cell]] = []
    monkeypatch.setattr(concluding, "too_poor", lambda *args: apart.append(set(args[-1])))
    flat = Sheet().flat
    level = np.zeros(flat.image.shape[:2], np.float32)
    hatched = [Cell(2, 1), Cell(2, 2), Cell(3, 2), Cell(4, 4)]
    for cell in hatched:
        y, x = (round((at - 1 + flat.margin) * flat.cell) for at in (cell.row, cell.column))
        level[y : y + flat.cell, x : x + flat.cell : 6] = level[y : y + flat.cell, x + 1 : x + flat.cell : 6] = 0.8
    tints = tuple(Tint(cell, (240, 230, 220), 1.0) for cell in (*hatched, Cell(1, 1)))
    seen = evidence(flat.rows, flat.columns, tints=tints)
    ink = SimpleNamespace(drawn=level, floor=0.05)
    grid = SimpleNamespace(by_vectors=False, evidence=seen, hand=Hand(), ink=ink, lattice=None, flat=flat)
    fault_of_picture(cast(Looked, grid))
    assert apart == [set(hatched)]


def test_the_corners_that_a_broad_pale_line_takes_are_no_characters(monkeypatch, tmp_path) -> None:
    """Of the cells beside a diagonal step only the corners are in its tint: nothing there has to be read."""
    puzzle = make_puzzle(Random("step"), (), 6, digits="usual").model_copy(update={"givens": {}, "rules_text": None})
    path = tuple(Cell(n, n) for n in range(2, 6))
    page = tmp_path / "page.png"
    draw(puzzle.model_copy(update={"constraints": (*puzzle.constraints, Palindrome(path=path))}), page)
    apart: list[set[Cell]] = []
    monkeypatch.setattr(concluding, "too_poor", lambda *args: apart.append(set(args[-1])))
    _read(np.asarray(Image.open(page).convert("RGB")), page)
    assert apart[-1] == {Cell(r, c) for r in range(2, 6) for c in range(2, 6) if abs(r - c) <= 1}


def test_where_the_rules_know_no_marks_none_are_lost_with_the_lines_of_the_grid() -> None:
    broken, whole = (Lattice(np.zeros((5, 5, 2)), 1.0, broken=lost) for lost in (True, False))
    asked = [
        len(lost_lines(lattice, spoken)) for lattice in (broken, whole) for spoken in (SILENT, Spoken(markless=True))
    ]
    assert asked == [1, 0, 0, 0]
