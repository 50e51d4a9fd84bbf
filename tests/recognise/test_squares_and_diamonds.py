"""Squares between cells and diamonds in them, which the rules call by these names."""

from itertools import pairwise

import pytest

from fixtures.training.lattice_labels import Edge, Labels, Node
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks.read import MarkReader
from recognise.pixels.read import read_stages
from tests.recognise.chances_maker import Sheet, Told, changed, sure

BLACK = (0, 0, 0)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _look(sheet: Sheet, labels: Labels, glyphs: GlyphReader) -> Evidence:
    return read_stages(sheet.flat, None, glyphs, MarkReader(glyphs, Told(sure(labels))))[0]


def _outline(sheet: Sheet, corners: list[tuple[float, float]], width: float) -> None:
    for start, end in pairwise([*corners, corners[0]]):
        sheet.line(start, end, BLACK, width)


@pytest.mark.parametrize(("plane", "centre"), [(0, (2.0, 1.5)), (1, (1.5, 2.0))], ids=["upright", "level"])
@pytest.mark.parametrize("filled", [True, False])
def test_a_square_between_two_cells_is_white_or_dark(
    glyphs: GlyphReader, plane: int, centre: tuple[float, float], filled: bool
) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    x, y = centre
    if filled:
        sheet.line((x - 0.1, y), (x + 0.1, y), BLACK, 0.2)
    else:
        sheet.line((x - 0.1, y), (x + 0.1, y), (255, 255, 255), 0.2)
        _outline(sheet, [(x - 0.1, y - 0.1), (x + 0.1, y - 0.1), (x + 0.1, y + 0.1), (x - 0.1, y + 0.1)], 0.03)
    labels.edge[plane, 2, 2] = Edge.SQUARE
    (shape,) = _look(sheet, labels, glyphs).shapes
    assert (shape.name, shape.filled) == ("square", filled)


def test_a_diamond_in_a_cell_is_no_square(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    _outline(sheet, [(2.15, 1.5), (2.5, 1.15), (2.85, 1.5), (2.5, 1.85)], 0.04)
    labels.node[2, 3] |= Node.DIAMOND | Node.OUTLINED
    (shape,) = _look(sheet, labels, glyphs).shapes
    assert (shape.name, shape.filled) == ("diamond", False)


@pytest.mark.parametrize("chance", [0.6, 0.9999])
def test_a_dot_that_is_hardly_called_light_and_is_dark_is_dark(glyphs: GlyphReader, chance: float) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2.0, 1.5), 0.18, BLACK, 0)
    labels.edge[0, 2, 2] = Edge.WHITE_DOT
    told = changed(sure(labels), "edge", (0, Edge.WHITE_DOT, 2, 2), chance)
    evidence = read_stages(sheet.flat, None, glyphs, MarkReader(glyphs, Told(told)))[0]
    assert [disc.fill == BLACK for disc in evidence.discs] == [chance < 0.9]
    assert bool(evidence.notes) == (chance < 0.9), "it is still asked about"
