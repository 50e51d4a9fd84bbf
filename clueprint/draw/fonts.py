"""The fonts of drawn puzzles: PDF's own Helvetica where its characters do, else an embedded open font."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from clueprint.errors import ClueprintError

_FOLDER = Path(__file__).parent / "faces"
_EMBEDDED = {"": "DejaVuSans-Drawn.ttf", "bold": "DejaVuSans-Bold-Drawn.ttf"}


@dataclass(frozen=True, slots=True)
class FontPair:
    """The names under which reportlab knows the regular and the bold face."""

    regular: str
    bold: str

    def name(self, weight: str) -> str:
        """The face for a weight."""
        return self.bold if weight == "bold" else self.regular

    def width(self, text: str, size: float, weight: str = "") -> float:
        """How wide a text sets, in points."""
        from reportlab.pdfbase.pdfmetrics import stringWidth  # noqa: PLC0415 - heavy, and only drawing needs it

        return float(stringWidth(text, self.name(weight), size))


HELVETICA = FontPair("Helvetica", "Helvetica-Bold")
"""One of the 14 standard fonts of PDF (ISO 32000-1, 9.6.2.2): every viewer has a face of its metrics."""


def fonts_for(text: str) -> FontPair:
    """Fonts that can print the text. Raises ClueprintError, naming the character, where there is none."""
    try:
        text.encode("cp1252")
    except UnicodeEncodeError:
        return _embedded_for(text)
    return HELVETICA


def _embedded_for(text: str) -> FontPair:
    pair, known = _embedded()
    for character in text:
        if ord(character) not in known and not character.isspace():
            raise ClueprintError(
                f"no font here prints {character!r} (U+{ord(character):04X})",
                "draw it as .svg, which leaves fonts to the viewer, or change the text",
            )
    return pair


@lru_cache(maxsize=1)
def _embedded() -> tuple[FontPair, frozenset[int]]:
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415 - heavy, and only drawing needs it
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415

    names = {}
    known: set[int] = set()
    for weight, file in _EMBEDDED.items():
        names[weight] = Path(file).stem
        font = TTFont(names[weight], _FOLDER / file)
        pdfmetrics.registerFont(font)
        characters = set(font.face.charToGlyph)
        known = known & characters if known else characters
    return FontPair(names[""], names["bold"]), frozenset(known)
