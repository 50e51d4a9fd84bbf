"""Whether a sentence that OCR read can be read at all: words whose letters never stand together like that in English.

A rule without a mark (a knight's move, neighbours) is told by its sentence alone. Where OCR lost that sentence nothing
else on the page shows the rule, so that a sentence which cannot be read is put to a person.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from recognise.rules.repair import ENGLISH, FORMS, is_word, mended

_FIGURE_WITHIN = re.compile(r"[a-z][0-9|!]|[0-9|!][a-z]{2}", re.I)
_WORD = re.compile(r"[A-Za-z0-9|!]{3,}")
_FEWEST, _SHARE = 2, 0.3
"""Damaged words, and their part of all, from which a sentence cannot be read: 5 of 3,000 undamaged sentences have so
many, and of rules with three letters in ten damaged two thirds."""


def _threes(word: str) -> Iterator[str]:
    framed = f"^{word}$"
    return (framed[at : at + 3] for at in range(len(framed) - 2))


@lru_cache(maxsize=1)
def _usual() -> frozenset[str]:
    # In one go over all words, one after the other; what lies across two of them is looked up by nobody.
    text = f"^{'$^'.join(ENGLISH | FORMS)}$"
    return frozenset(map("".join, zip(text, text[1:], text[2:], strict=False)))


@lru_cache(maxsize=4096)
def _is_damaged(word: str) -> bool:
    plain = word.lower()
    if is_word(word):
        return False
    return _FIGURE_WITHIN.search(word) is not None or not _usual().issuperset(_threes(plain))


def damaged(text: str) -> tuple[int, int]:
    """How many words of a text are damaged beyond mending, and how many it has; names are not counted."""
    words = [w for w in _WORD.findall(mended(text)) if any(c.isalpha() for c in w)]
    words = [w for at, w in enumerate(words) if at == 0 or not w[0].isupper()]
    return sum(map(_is_damaged, words)), len(words)


def is_illegible(text: str) -> bool:
    """Whether too many words of a text are damaged to tell what it says."""
    lost, words = damaged(text)
    return lost >= max(_FEWEST, _SHARE * words)
