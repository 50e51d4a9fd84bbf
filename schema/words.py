"""Words that reasons and problems are made of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def listed(things: Iterable[object], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    words = [str(thing) for thing in things]
    return f" {last} ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def with_article(name: str) -> str:
    """A name with its article: `a cage`, `an arrow`, `an x-sum`."""
    return f"{'an' if name[:1] in 'aeiou' or name[:2] == 'x-' else 'a'} {name}"


def added(terms: Sequence[int]) -> str:
    """`8 + 4 + 7 = 19`; a single term stands alone, and nothing adds up to `0`."""
    return worked(terms, "+", sum(terms))


def worked(terms: Sequence[int], sign: str, result: int) -> str:
    """Terms joined by a sign, and what they come to: `3 x 4 = 12`."""
    if len(terms) < 2:
        return str(result)
    return f"{f' {sign} '.join(map(str, terms))} = {result}"


def counted(number: int, one: str) -> str:
    """`1 cell`, `2 cells`."""
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def with_empty(words: str, empty: int) -> str:
    """What is known of a total, and how many cells of it are still empty: `8 + 4 = 12 and 1 empty cell`."""
    return f"{words} and {counted(empty, 'empty cell')}" if empty else words
