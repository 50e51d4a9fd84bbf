"""Marks that a text calls by a name of its own: `a dotted tray` is a cage, and so is `the tray` after that."""

from __future__ import annotations

import re
from collections.abc import Mapping

from recognise.rules.repair import is_known

_DASHED = re.compile(r"\b(?:dotted|dashed) ([a-z]{3,}?)s?\b(?! (?:line|lines)\b)", re.I)
_OUTLINES = frozenset(("outline", "shape", "border", "frame"))
"""Words that rules have for much else; dashed ones are cages."""


def nicknames(text: str) -> Mapping[str, str]:
    """What a text calls its marks, to the word that rules have for them; names that rules use otherwise are none."""
    names = {match[1].lower() for match in _DASHED.finditer(text)}
    return {name: "cage" for name in names if name in _OUTLINES or not is_known(name)}


def by_their_names(sentence: str, names: Mapping[str, str]) -> str:
    """The sentence with each nickname put as the word that rules have."""
    for name, word in names.items():
        sentence = re.sub(rf"\b(?:dotted |dashed )?{name}(s?)\b", rf"{word}\1", sentence, flags=re.I)
    return sentence
