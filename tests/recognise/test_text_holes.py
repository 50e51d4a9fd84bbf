"""What a PDF's text layer leaves out: names of characters, told from their word where one word alone fits; blanks."""

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


def test_blanks_are_told_from_the_other_blanks_of_their_line() -> None:
    glyphs, left, told = [], 0.0, "a taller house fr om there"
    for before, letter in zip(" " + told, told + " ", strict=True):
        if letter != " ":
            slip = letter == "o" and before == " "  # of `fr om`
            left += 0.4 if slip else 3.4 if before == " " else 0.4
            spaced = before == " " and letter != "t"
            glyphs.append(
                VectorGlyph(letter, (left, 0, left + 5, 7), 10.0, "Serif", (0, 0, 0), True, True, spaced=spaced)
            )
            left += 5
    (line,) = glyph_lines(glyphs)
    assert line.text == "a taller house from there"
