"""Lines of dots and dashes: their gaps are no missing ink, and say nothing of their colour."""

import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks.read import MarkReader
from recognise.pixels.read import read_stages
from tests.recognise.chances_maker import Sheet, Told, sure

BLUE = (40, 60, 200)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _read(glyphs: GlyphReader, places: np.ndarray) -> Evidence:
    """A line from r2c2 to r2c4 of dots at so many columns."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for x in places:
        sheet.circle((float(x), 1.5), 0.05, BLUE, 0)
    labels.link[0, 2, 2] = labels.link[0, 2, 3] = Link.LINE
    labels.node[2, 2] |= Node.END
    labels.node[2, 4] |= Node.END
    return read_stages(sheet.flat, None, glyphs, MarkReader(glyphs, Told(sure(labels))))[0]


def test_dots_in_a_row_are_a_line_of_their_colour(glyphs: GlyphReader) -> None:
    (trace,) = _read(glyphs, np.arange(1.5, 3.55, 0.2)).traces
    assert trace.dashed
    assert trace.ambiguous == ()
    assert max(abs(a - b) for a, b in zip(trace.colour, BLUE, strict=True)) < 50


def test_a_dotted_line_that_stops_is_asked_about(glyphs: GlyphReader) -> None:
    (trace,) = _read(glyphs, np.array([1.5, 1.7, 1.9, 2.1, 2.3, 2.5, 3.3, 3.5])).traces
    assert any("little ink between r2c3 and r2c4" in why for why in trace.ambiguous)


def test_a_dot_that_a_lattice_line_hides_is_not_missing(glyphs: GlyphReader) -> None:
    """The gap is as wide as two, and the network is sure that the line is drawn there."""
    dots = np.array([1.5, 1.65, 1.8, 1.95, 2.1, 2.25, 2.4, 2.55, 2.7, 2.8, 3.2, 3.3, 3.5])
    (trace,) = _read(glyphs, dots).traces
    assert not any("little ink" in why for why in trace.ambiguous)
