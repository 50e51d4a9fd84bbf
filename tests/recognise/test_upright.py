"""Which way up a page is: what counts for it."""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from ingest.page import Frame, Page
from recognise.evidence import Lattice, Shape
from recognise.upright import best_turn, is_clear, readable
from tests.recognise.evidence_maker import BLACK, evidence, given, glyph


def test_what_looks_the_same_on_its_side_does_not_say_which_way_up_a_page_is() -> None:
    figures = [given(f"r{row}c2", text) for row, text in enumerate("4978", 1)]
    signs = [glyph(3.0, row + 0.5, ("×", 0.7)) for row in range(6)]
    seen = evidence(glyphs=(*figures, *signs))
    assert is_clear(seen)
    assert readable(seen) == 4
    assert readable(evidence(glyphs=tuple(glyph(row + 0.5, 3.0, ("×", 1.0)) for row in range(6)))) == 0


def test_figures_that_do_not_read_say_that_a_page_may_be_turned() -> None:
    assert not is_clear(evidence(glyphs=tuple(given(f"r{row}c2", "4", 0.6) for row in range(1, 5))))


def test_clues_beside_a_grid_tell_which_way_up_a_page_is() -> None:
    """Those of a text layer alone; the tags round them are no characters that nobody could read."""
    mark, tag = (Shape(name, (4.1, -0.9, 4.9, -0.1), BLACK, "vector") for name in ("mark", "outline"))
    assert is_clear(evidence(glyphs=(glyph(4.5, -0.5, ("31", 0.999), how="vector"),), shapes=(mark,)))
    assert not is_clear(evidence(glyphs=(glyph(4.5, -0.5, ("31", 0.999)),), shapes=(mark,)))
    assert is_clear(evidence(glyphs=(given("r5c5", "4"),), shapes=(tag, tag)))


@pytest.mark.parametrize(
    ("figures", "beside", "ways"),
    [("475", "", [2]), ("698", "", [1, 2, 3]), ("", "35 14", [2]), ("7", "28 31", [2]), ("6", "18 11 7", [1, 2, 3])],
)
def test_what_reads_as_figures_that_read_one_way_only_is_not_on_its_side(
    figures: str, beside: str, ways: list[int]
) -> None:
    givens = tuple(given(f"r{row}c2", text) for row, text in enumerate(figures, 1))
    clues = tuple(glyph(row + 0.5, -0.5, (text, 0.99)) for row, text in enumerate(beside.split()))
    upright = evidence(glyphs=(*givens, *clues))
    page = Page(Path("page.png"), "", 1, Frame(60, 90, "px"), np.zeros((90, 60, 3), np.uint8), 1.0)
    points = np.stack(np.meshgrid(np.linspace(5, 55, 10), np.linspace(5, 55, 10)), axis=-1)
    seen = []

    def look(turned: Page, _: Lattice) -> SimpleNamespace:
        seen.append(turned.turned)
        return SimpleNamespace(evidence=evidence())

    assert best_turn(page, Lattice(points), look, upright) == (0, None)
    assert seen == ways
