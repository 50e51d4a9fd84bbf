"""Signs behind totals that look like a figure or another sign."""

from __future__ import annotations

import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.operations import complete_signs
from recognise.pixels.blobs import Blob
from recognise.pixels.glyphs import Character


def _total(*seen: tuple[str, str]) -> tuple[Glyph, list[Character]]:
    """A total by what each of its characters was read as, and what it looks like among all characters."""
    characters = [
        Character(
            Blob(0, 0, 9, 9, 9, (1,)), (0.2 * at, 0.0, 0.2 * at + 0.15, 0.2), (Guess(one, 0.9),), (Guess(free, 0.8),)
        )
        for at, (one, free) in enumerate(seen)
    ]
    text = "".join(one for one, _ in seen)
    return Glyph((0.0, 0.0, 0.2 * len(seen), 0.2), (Guess(text, 0.8),), 0.2, (0, 0, 0), "ocr"), characters


def _read(*totals: tuple[Glyph, list[Character]]) -> list[Glyph]:
    glyphs = [glyph for glyph, _ in totals]
    complete_signs(glyphs, dict(enumerate(characters for _, characters in totals)))
    return glyphs


@pytest.mark.parametrize(
    ("seen", "text"),
    [
        ((("2", "2"), ("1", "/")), "2÷"),
        ((("6", "6"), (">", ">")), "6×"),
        ((("2", "2"), ("1", "1")), "21"),
        ((("1", "/"),), "1"),
    ],
)
def test_what_looks_like_a_sign_is_one_where_totals_have_signs(seen: tuple[tuple[str, str], ...], text: str) -> None:
    glyph = _read(_total(*seen), _total(("5", "5"), ("-", "-")), _total(("3", "3"), ("+", "+")))[0]
    assert glyph.text == text
    assert text != "2÷" or (glyph.guesses[1].text == "21" and glyph.confidence < 0.9)


def test_where_totals_have_no_signs_a_slanted_1_is_a_figure() -> None:
    assert _read(_total(("2", "2"), ("1", "/")), _total(("1", "1"), ("5", "5")))[0].text == "21"
