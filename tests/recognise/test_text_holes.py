"""Characters of a PDF's text without a name: told from their word where one word alone fits, else left open."""

from __future__ import annotations

import pytest

from ingest.page import VectorGlyph
from recognise.rules.reader import read_rules
from recognise.text.glyph_lines import glyph_lines
from recognise.text.holes import HOLE, filled


@pytest.mark.parametrize(
    ("printed", "read"),
    [
        (f"The outer {HOLE}gures: {HOLE}nd the 1", "The outer figures: find the 1"),
        (f"They di{HOLE}er by {HOLE}{HOLE}ve", "They differ by five"),
        (f"{HOLE} Along each line", "Along each line"),
        (f"at least {HOLE} apart", f"at least {HOLE} apart"),
        (f"Mothgat{HOLE}", f"Mothgat{HOLE}"),
    ],
)
def test_holes_are_filled_where_one_word_fits(printed: str, read: str) -> None:
    assert filled(printed) == read


def test_a_number_without_a_name_leaves_its_rule_open() -> None:
    assert read_rules(f"Neighbouring digits on a green line differ by at least {HOLE}.").not_understood


def _glyphs(names: list[str]) -> list[VectorGlyph]:
    boxes = [(6.0 * at, 0.0, 6.0 * at + 5.5, 7.0) for at in range(len(names))]
    return [VectorGlyph(n, box, 10.0, "Serif", (0, 0, 0), True, True) for n, box in zip(names, boxes, strict=True)]


def test_an_unnamed_character_among_letters_is_not_lost() -> None:
    (line,) = glyph_lines(_glyphs(["", "g", "u", "r", "e", "s"]))
    assert line.text == "figures"
    assert glyph_lines(_glyphs(["", ""])) == []
