"""Characters of a PDF that have ink and no name.

Mostly they are ligatures, which some programs write without saying which letters they stand for. One may as well be
the number of a rule (`at least 3 apart`): what cannot be told from the rest of its word stays a hole, which no rule is
understood across.
"""

from __future__ import annotations

import re

from recognise.rules.lexicon import bag
from recognise.rules.repair import is_word

HOLE = "\ufffd"
"""Unicode's own character for one that is not known."""
_LIGATURES = bag("fi fl ff ffi ffl fr ft fb fh fj fk tt Th ct st ch ck sp")
_HOLES = re.compile(rf"{HOLE}+")
_BULLET = re.compile(rf"^{HOLE}+ (?=[A-Z])")
_WORD = re.compile(rf"[A-Za-z{HOLE}]*{HOLE}[A-Za-z{HOLE}]*")


def filled(text: str) -> str:
    """A line with the letters of ligatures put where only one makes an English word; a drawn bullet before its first
    word is left out."""
    return _WORD.sub(_told, _BULLET.sub("", text)) if HOLE in text else text


def _told(word: re.Match[str]) -> str:
    parts = _HOLES.split(word[0])
    if not any(parts):
        return word[0]
    found = {joined for letters in _LIGATURES if is_word(joined := letters.join(parts))}
    return found.pop() if len(found) == 1 else word[0]
