"""Which digits a grid holds, and what is printed for them."""

from __future__ import annotations

import string
from collections.abc import Iterable

from recognise.rules import DigitRange
from schema.grid import Grid

BEYOND = 2
"""So many different figures of a grid above the highest that the rules speak of show that this was misread: one may be
misread itself."""


def infer_range(size: int, texts: Iterable[str], stated: DigitRange | None) -> tuple[DigitRange, str | None]:
    """The digits of a grid with `size` cells a row, from what the rules state or else from the characters printed in
    it. The second value says what is doubtful about that, if anything."""
    seen = {t for t in texts if t}
    if stated is not None:
        doubt = None
        if stated.high - stated.low + 1 != size:
            doubt = f"the rules speak of digits {stated.low} to {stated.high}, the grid is {size} cells wide"
            if not stated.labels and any(t.isalpha() for t in seen) and any(t.isdecimal() for t in seen):
                # The sentence that names the letters was not made out: what stands in the grid shows them.
                return infer_range(size, seen, None)[0], doubt
            above = {t for t in seen if t.isdecimal() and int(t) > stated.high}
            if stated.high - stated.low + 1 < size and len(above) >= BEYOND:
                # A worn 9 reads as a 4 or a g; no row has room for fewer digits than it has cells.
                return infer_range(size, seen, None)[0], doubt
        # On worn pages a 1 is read as something else more often than a grid is found too wide.
        return (DigitRange(1, size, stated.labels) if doubt and stated.high == size else stated), doubt
    letters = {t for t in seen if t.isalpha()}
    if not letters:
        # 0 to 8 instead of 1 to 9 shows itself by a 0; whether it is right, only the rules can say.
        return (DigitRange(0, size - 1), "a 0 is printed in the grid") if "0" in seen else (DigitRange(1, size), None)
    if letters == seen:
        labels = dict(enumerate(string.ascii_uppercase[:size], start=1))
        return DigitRange(1, size, labels), "letters stand for digits, and no rule says which"
    low = 0 if "0" in seen else 1
    high = size - 1 + low
    labels = dict(zip(range(10, high + 1), string.ascii_uppercase, strict=False))
    return DigitRange(low, high, labels), None


def texts_in_range(read: Iterable[tuple[str, float]], size: int) -> set[str]:
    """The characters of a grid with `size` cells a row, as read with their probabilities, without those that cannot
    stand beside others: a grid that holds a 0 does not hold its size as well, and the surer of them tells. A blurred 9
    looks like a 0."""
    sure: dict[str, float] = {}
    for text, probability in read:
        sure[text] = sure.get(text, 0.0) + probability
    lowest, highest = "0", str(size)
    if lowest in sure and highest in sure:
        del sure[min((lowest, highest), key=lambda text: sure[text])]
    return set(sure)


def make_grid(rows: int, columns: int, digits: DigitRange) -> Grid:
    """The grid with that range of digits."""
    labels = {str(digit): label for digit, label in digits.labels.items()}
    return Grid(rows=rows, columns=columns, digits=tuple(range(digits.low, digits.high + 1)), labels=labels)
