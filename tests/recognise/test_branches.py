"""Thermometers drawn as one outline around several branches: the walls of a branch begin late where it leaves at a
sharp bend."""

import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.glyphs import GlyphReader
from tests.recognise.chances_maker import Sheet, linked, looked_at, sure

BLACK, WHITE = (0, 0, 0), (255, 255, 255)
WIDTH, WALL = 0.44, 0.03


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def test_a_branch_whose_walls_are_not_met_half_way_is_of_its_thermometer(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    ways = [linked(labels, cells, Link.TUBE) for cells in ("r2c2 r2c3 r3c4 r4c4", "r2c3 r3c3")]
    for width, colour in ((WIDTH + WALL, BLACK), (WIDTH - WALL, WHITE)):
        for way in ways:
            sheet.path(way, colour, width)
        sheet.circle(ways[0][0].centre, 0.38 + (WALL if colour == BLACK else 0), colour, 0)
    labels.node[2, 2] = Node.BULB
    (trace,) = looked_at(sheet, sure(labels), glyphs).traces
    assert {str(node) for node in trace.nodes} == {"r2c2", "r2c3", "r3c3", "r3c4", "r4c4"}
    assert len(trace.links) == 4
