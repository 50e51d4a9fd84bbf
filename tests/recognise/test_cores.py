"""Wide lines with a dashed line along their middle: the dashes are part of their drawing."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess, Trace
from recognise.marks.cores import core_bands, is_of_core, with_cores
from recognise.pixels.frame import Raster
from schema.cells import Cell

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
