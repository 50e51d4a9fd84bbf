"""Which way up a page is: what counts for it."""

from recognise.upright import is_clear, readable
from tests.recognise.evidence_maker import evidence, given, glyph


def test_what_looks_the_same_on_its_side_does_not_say_which_way_up_a_page_is() -> None:
    figures = [given(f"r{row}c2", text) for row, text in enumerate("4978", 1)]
    signs = [glyph(3.0, row + 0.5, ("×", 0.7)) for row in range(6)]
    seen = evidence(glyphs=(*figures, *signs))
    assert is_clear(seen)
    assert readable(seen) == 4
    assert readable(evidence(glyphs=tuple(glyph(row + 0.5, 3.0, ("×", 1.0)) for row in range(6)))) == 0


def test_figures_that_do_not_read_say_that_a_page_may_be_turned() -> None:
    assert not is_clear(evidence(glyphs=tuple(given(f"r{row}c2", "4", 0.6) for row in range(1, 5))))
