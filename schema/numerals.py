"""Roman numerals, as print puts them on edges for sums."""

from __future__ import annotations

import re

_NUMERAL = re.compile(r"(?=.)(X{0,3})(IX|IV|V?I{0,3})")
"""Up to 39: larger sums of two digits there are none."""
_WORTH = {"I": 1, "V": 5, "X": 10}


def roman(text: str) -> int | None:
    """The number that a numeral states, in capitals or small letters; None for anything else."""
    capitals = text.strip().upper()
    if not _NUMERAL.fullmatch(capitals):
        return None
    worth = [_WORTH[letter] for letter in capitals]
    return sum(-one if one < after else one for one, after in zip(worth, [*worth[1:], 0], strict=True))


def numeral(number: int) -> str:
    """A number as a numeral, in capitals. ValueError where it has none up to 39."""
    if not 0 < number < 40:
        raise ValueError(f"{number} has no numeral here")
    tens, ones = divmod(number, 10)
    return "X" * tens + ("", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX")[ones]
