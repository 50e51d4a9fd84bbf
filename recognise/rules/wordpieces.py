"""Words to the pieces that the network of senses knows: lower case, accents taken off, each sign for itself, and of a
strange word the longest pieces that it has, from the left (Schuster and Nakajima, "Japanese and Korean voice search",
ICASSP 2012; the inner pieces written `##ing` as by Devlin et al., "BERT", NAACL 2019)."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

START, END, UNKNOWN = "[CLS]", "[SEP]", "[UNK]"
LONGEST_WORD = 40
"""Letters of a word that is looked up; a longer one is no word."""

_TOKEN = re.compile(r"[^\W_]+|[^\w\s]|_")
_PLAIN = str.maketrans({"’": "'", "‘": "'", "“": '"', "”": '"', "–": "-", "—": "-", "−": "-", "…": "."})


class WordPieces:
    """A vocabulary of pieces and their places in it."""

    def __init__(self, vocabulary: Sequence[str]) -> None:
        self._places = {piece: at for at, piece in enumerate(vocabulary)}
        self.start, self.end = self._places[START], self._places[END]
        self._unknown = self._places[UNKNOWN]

    def of(self, text: str) -> list[int]:
        """The places of the pieces of a text."""
        bare = unicodedata.normalize("NFD", unicodedata.normalize("NFKC", text).lower().translate(_PLAIN))
        bare = "".join(letter for letter in bare if unicodedata.category(letter) != "Mn")
        return [place for token in _TOKEN.findall(bare) for place in self._of_word(token)]

    def _of_word(self, word: str) -> list[int]:
        found: list[int] = []
        at = 0
        while at < len(word) <= LONGEST_WORD:
            inner = "##" if at else ""
            ends = range(len(word), at, -1)
            end = next((end for end in ends if inner + word[at:end] in self._places), 0)
            if not end:
                break
            found.append(self._places[inner + word[at:end]])
            at = end
        return found if at == len(word) else [self._unknown]
