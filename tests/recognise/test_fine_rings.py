"""Light dots whose line is so fine that a bit of it looks like a dark dot."""

import cv2
import pytest

from fixtures.training.lattice_labels import Edge, Labels
from recognise.evidence import Disc
from recognise.glyphs import GlyphReader
from tests.recognise.chances_maker import CELL, Sheet, looked_at, sure


def _dot(radius: float, name: Edge, width: int) -> Disc:
    """What is measured of a dot whose middle is a little off its edge."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    x, y = sheet._at((3.0, 2.5))
    place = round(16 * (x + 2.0)), round(16 * (y - 1.4))
    for colour, thick in (((255, 255, 255), -1), ((60, 60, 60), width)):
        cv2.circle(sheet.image, place, round(16 * radius * CELL), colour, thick, cv2.LINE_AA, shift=4)
    sheet.image = cv2.GaussianBlur(sheet.image, (0, 0), 0.4)
    labels.edge[0, 3, 3] = name
    return looked_at(sheet, sure(labels), GlyphReader()).discs[0]


@pytest.mark.parametrize("radius", [0.1, 0.12])
def test_a_light_dot_is_as_large_as_its_ring(radius: float) -> None:
    found = _dot(radius, Edge.WHITE_DOT, 1)
    assert found.radius == pytest.approx(radius, abs=0.035)
    assert found.fill == (255, 255, 255)


def test_a_small_dark_dot_stays_one() -> None:
    found = _dot(0.04, Edge.DARK_DOT, -1)
    assert found.radius < 0.07
    assert found.fill is not None and max(found.fill) < 150
