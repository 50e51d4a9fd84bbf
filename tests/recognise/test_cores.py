"""Wide lines with a dashed line along their middle: the dashes are part of their drawing."""

from dataclasses import replace
from itertools import pairwise

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.evidence import Glyph, Guess, Trace
from recognise.glyphs import GlyphReader
from recognise.marks.cores import core_bands, is_of_core, with_cores
from recognise.marks.read import MarkReader
from recognise.pixels.frame import Raster
from recognise.pixels.read import read_stages
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, Told, linked, sure

CELL = 64
RASTER = Raster(4, 4, CELL, CELL)
PATHS = (((1, 1), (1, 2), (2, 3)), ((3, 1), (4, 1), (4, 2)))
WIDTH = 0.26


def _trace(path: tuple[tuple[int, int], ...]) -> Trace:
    links = tuple((at, at + 1) for at in range(len(path) - 1))
    return Trace(tuple(Cell(*place) for place in path), links, (120, 190, 190), WIDTH, False, "shape")


LINES = tuple(map(_trace, PATHS))


def _ink(cored: tuple[Trace, ...]) -> np.ndarray:
    """Both lines in a middling ink, those `cored` with dashes of a darker one."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    for traces, width, shade, share in ((LINES, WIDTH, 90, 1.0), (cored, 0.05, 200, 0.6)):
        for trace in traces:
            for a, b in trace.links:
                start, end = (np.array(trace.nodes[n].centre) for n in (a, b))
                for dash in np.arange(0, 1, 0.2):
                    ends = (start + (end - start) * at for at in (dash, dash + 0.2 * share))
                    one, other = (tuple(int(v) for v in np.rint((at + 1) * CELL)) for at in ends)
                    cv2.line(ink, one, other, shade, max(1, round(width * CELL)))
    return np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8))


def test_lines_with_dashes_along_their_middle_are_cored() -> None:
    found = with_cores(LINES, _ink(LINES), RASTER)
    assert all(trace.cored for trace in found)
    assert len(core_bands(found)) == sum(len(path) - 1 for path in PATHS)


@pytest.mark.parametrize("cored", [(), LINES[:1]])
def test_what_runs_along_one_line_alone_is_no_core(cored: tuple[Trace, ...]) -> None:
    assert not any(trace.cored for trace in with_cores(LINES, _ink(cored), RASTER))


def test_the_same_on_half_of_a_line_is_none() -> None:
    half = replace(LINES[0], links=LINES[0].links[:1])
    assert not any(trace.cored for trace in with_cores(LINES, _ink((half, LINES[1])), RASTER))


@pytest.mark.parametrize(
    ("box", "is_dash"),
    [
        ((0.92, 0.46, 1.08, 0.54), True),
        ((0.9, 0.35, 1.1, 0.65), False),
        ((0.92, 0.6, 1.08, 0.68), False),
        ((2.92, 0.46, 3.08, 0.54), False),
    ],
)
def test_a_dash_on_a_lattice_line_is_of_the_core(box, is_dash) -> None:
    glyph = Glyph(box, (Guess("1", 0.7),), box[3] - box[1], (60, 60, 60), "ocr")
    assert is_of_core(glyph, (replace(LINES[0], cored=True),)) == is_dash
    assert not is_of_core(glyph, LINES)


def test_dashes_that_were_read_before_marks_were_looked_for_are_taken_back(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for path in ("r1c1 r2c1 r3c1", "r5c2 r5c3 r5c4"):
        cells = linked(labels, path, Link.LINE)
        sheet.path(cells, (150, 200, 200), 0.3)
        for one, other in pairwise(cells):
            sheet.dashes(one.centre, other.centre, (40, 80, 80), 0.06)
    dash = Glyph((0.46, 0.9, 0.54, 1.1), (Guess("1", 0.9),), 0.2, (40, 80, 80), "ocr")
    flat = sheet.flat
    _, stages = read_stages(flat, None, glyphs)
    finder = MarkReader(glyphs, Told(sure(labels)))
    found = finder(flat, stages.ink, stages.pieces, [dash], stages.tubes.traces)
    assert [trace.cored for trace in found.traces] == [True, True]
    assert found.replaced == (dash,)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()
