"""Marks that a legend prints as characters: `○ consecutive. ● double.` Before small letters, a colon or a dash such a
character is what is explained; before capitals, and alone of its sort in a text, it is the mark of a list."""

from __future__ import annotations

import re

_NAMES = {
    "○": "White circle",
    "◯": "White circle",
    "●": "Black dot",
    "■": "Black square",
    "□": "White square",
    "◆": "Black diamond",
    "◇": "White diamond",
}
_LEGEND = re.compile(rf"(?P<glyph>[{''.join(_NAMES)}])\s*(?:[:=–—-]\s*)?(?=[a-z×\d])")
_FEWEST = 2
"""Characters of different sorts that make a legend; a list has one."""


def with_glyphs_named(text: str) -> str:
    """The text with the marks that it prints as characters called by their names."""
    found = [match["glyph"] for match in _LEGEND.finditer(text)]
    if len(set(found)) < _FEWEST or len(set(found)) < len(found):
        return text
    return _LEGEND.sub(lambda match: f"{_NAMES[match['glyph']]}: ", text)
