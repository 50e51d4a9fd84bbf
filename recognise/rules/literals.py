"""Which words a text must have for a pattern to match it: most patterns need no trying.

A pattern is looked at as `re` parses it. Of the pieces that every match has, the one is taken whose words are rarest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from re import _parser  # type: ignore[attr-defined]
from typing import Any

_MOST = 40
"""Words that a piece may stand for; more are not worth looking for one by one."""
_RARER = 0.45
"""How much rarer a piece of text is for each letter more, roughly; a pattern costs as much as `_A_TRY` words do."""
_RARE = 0.3
"""In what part of all texts a piece is, roughly, that is looked for as well: `of` is nearly everywhere."""
_PIECES = 3
"""So many pieces of a pattern are looked for: with more of them hardly a text is told that does not match."""
_A_TRY = 100

Words = frozenset[str]
_NOTHING: Words = frozenset()
_EMPTY: Words = frozenset({""})


def folded(text: str) -> str:
    """The text as patterns see it that match small letters and capitals alike: what equals it for them is equal."""
    return text if text.isascii() and text.islower() else text.replace("İ", "i").replace("ı", "i").casefold()


def needed(pattern: str, flags: int = 0) -> tuple[tuple[str, ...], ...]:
    """Pieces of which every text that the pattern matches has each, the one that is cheapest to look for first: of a
    piece one of some words at least, all `folded`. None where the pattern has no such pieces."""
    pieces = sorted(
        set(_useful(_pieces(_parser.parse(pattern, flags)))), key=lambda words: (_cost(words), sorted(words))
    )
    rare = [words for words in pieces if _share(words) <= _RARE] or pieces[:1]
    return tuple(dict.fromkeys(tuple(sorted({folded(word) for word in words})) for words in rare))[:_PIECES]


def _share(words: Iterable[str]) -> float:
    """In what part of all texts one of some words is, roughly."""
    return min(1.0, sum(_RARER ** len(word) for word in words))


def _cost(words: Words) -> float:
    """What it costs to look for words and to try the pattern where one of them is there."""
    return len(words) + _A_TRY * _share(words)


def _useful(pieces: Iterable[Words]) -> list[Words]:
    return [_shortest(words) for words in pieces if words and "" not in words]


def _best(pieces: Iterable[Words]) -> Words:
    return min(_useful(pieces), key=_cost, default=_NOTHING)


def _shortest(words: Words) -> Words:
    """The words without those that hold another of them."""
    return frozenset(w for w in words if not any(other != w and other in w for other in words))


def _pieces(parsed: Iterable[tuple[Any, Any]]) -> Iterator[Words]:
    """For each piece of a pattern that every match has: the words of which it has one."""
    run = _EMPTY
    for op, value in parsed:
        words = _spelt(op, value)
        longer = frozenset(a + b for a, b in product(run, words)) if len(run) * len(words) <= _MOST else _NOTHING
        if longer:
            run = longer
            continue
        yield run
        run = words or _EMPTY
        yield from _inner(op, value)
    yield run


def _spelt(op: Any, value: Any) -> Words:
    """All that a part of a pattern may be, where that is a handful of words; nothing where it is more or unknown."""
    found = _NOTHING
    match str(op):
        case "LITERAL":
            found = frozenset({chr(value)})
        case "AT":
            found = _EMPTY
        case "IN" if all(str(kind) == "LITERAL" for kind, _ in value):
            found = frozenset(chr(letter) for _, letter in value)
        case "SUBPATTERN" if not (value[1] or value[2]):  # its flags are the pattern's
            found = _spelt_out(value[3])
        case "BRANCH":
            ways = [_spelt_out(way) for way in value[1]]
            found = frozenset().union(*ways) if all(ways) else _NOTHING
        case "MAX_REPEAT" | "MIN_REPEAT" if value[1] == 1:
            words = _spelt_out(value[2])
            found = words | _EMPTY if words and value[0] == 0 else words
    return found


def _spelt_out(parts: Iterable[tuple[Any, Any]]) -> Words:
    found = _EMPTY
    for op, value in parts:
        words = _spelt(op, value)
        if not words or len(found) * len(words) > _MOST:
            return _NOTHING
        found = frozenset(a + b for a, b in product(found, words))
    return found


def _inner(op: Any, value: Any) -> Iterator[Words]:
    """The pieces within a part of a pattern that is no handful of words."""
    match str(op):
        case "SUBPATTERN" if not (value[1] or value[2]):
            yield from _pieces(value[3])
        case "MAX_REPEAT" | "MIN_REPEAT" if value[0] > 0:
            yield from _pieces(value[2])
        case "ASSERT":
            yield from _pieces(value[1])
        case "BRANCH":
            ways = [_best(_pieces(way)) for way in value[1]]
            if all(ways):
                yield frozenset().union(*ways)
