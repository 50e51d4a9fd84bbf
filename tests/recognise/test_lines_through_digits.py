"""A pale line that runs through a tall digit keeps its colour: the digit's ink is none of it."""

import cv2
import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.glyphs import GlyphReader
from recognise.marks.network import BY_NAME
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, changed, linked, looked_at, sure

GREY = (170, 170, 170)
END = 3, 2


@pytest.mark.parametrize("tall", [0.4, 0.52])
def test_a_grey_line_through_a_black_digit_is_one_line(tall: float) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r2c2 r3c2 r4c2", Link.LINE)
    sheet.path(path, GREY, 0.08)
    labels.node[END] |= Node.CHARACTERS
    scale = tall * CELL / 21  # the height of a Hershey figure at scale 1
    (wide, high), _ = cv2.getTextSize("3", cv2.FONT_HERSHEY_SIMPLEX, scale, 8)
    x, y = (round((at + MARGIN) * CELL) for at in path[1].centre)
    cv2.putText(sheet.image, "3", (x - wide // 2, y + high // 2), cv2.FONT_HERSHEY_SIMPLEX, scale, (0, 0, 0), 8)
    unsure = changed(sure(labels), "node", (0, BY_NAME["node"].classes.index("END"), *END), 0.15)
    (trace,) = looked_at(sheet, unsure, GlyphReader()).traces
    assert len(trace.links) == 2
    assert not trace.dashed
    assert max(abs(a - b) for a, b in zip(trace.colour, GREY, strict=True)) < 50
