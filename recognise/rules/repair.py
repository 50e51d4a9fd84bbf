"""Undo what OCR does to words: letters taken for each other, words run together, broken, or parted at a line's end.

A noisy channel: of all ways to read a run of characters as words that rules texts use, the cheapest. A word that
English has (`english.txt`) is never mended into another one: `alone` is not `along`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from recognise.rules.lexicon import NUMBERS, PHRASES, VOCABULARY, bag

_CONFUSED = (
    "1:l 1:i 0:o 5:s 8:b 6:b 9:g |:l |:i !:l !:i l:i i:l l:t t:l rn:m m:rn vv:w cl:d d:cl li:h ii:u ri:n nn:m ni:m "
    "in:m mm:rn iv:lu b:h h:b c:e e:c u:n n:u f:t t:f q:g g:q j:i i:j o:a a:o o:e e:o a:e y:v v:y lc:k ln:m "
    "rm:m tl:d tl:h g:y r:t ti:fi t:fi f:fi h:n n:h o:c c:o s:a w:vv ll:u 4:a"
)
"""Characters read, a colon, the characters that were printed; from what print and scan do to similar shapes."""
_ONE_SLIP, _SPACE_LOST, _SPACE_ADDED, _ANY_SLIP, _NOT_KNOWN = 1.0, 1.1, 0.8, 1.6, 3.0
_SHORT = 3
"""Letters up to which a word allows one slip only; longer ones allow two."""
_FUZZY_FROM = 6
"""Letters that a word needs before a slip of any kind is forgiven: shorter words are too near each other."""
_TYPED_FROM, _MISTYPED = 5, 1.0
"""Letters that a word needs before a slip of a typist is undone, and what that costs."""
_COMMON = bag("a an at as be by if in is it no of on or to up we")
_GLUE = bag("a an and are as at by each every for from in into is it no not of on or that the to with")
_COMMON_GAIN = 0.05
"""What it speaks for a lost blank that one of the words is a common one: `columnsand` is no column of sand."""
_WORD = re.compile(r"(?<![\w§=])[A-Za-z0-9|!]*[A-Za-z][A-Za-z0-9|!]*(?![\w=])")
_SINGLE = bag("a i x v b c d e f g h j k l m n o p q r s t u w y z")

_slips: dict[str, list[str]] = {}
for _seen, _printed in (pair.split(":") for pair in _CONFUSED.split()):
    _slips.setdefault(_seen, []).append(_printed)


def _english() -> frozenset[str]:
    text = Path(__file__).with_name("english.txt").read_text("utf-8")
    return bag("\n".join(line for line in text.splitlines() if not line.startswith("#")))


ENGLISH = _english()


def _inflected(word: str) -> Iterator[str]:
    yield from (word, word + "s", word + "es", word + "ed", word + "ing", word + "d")
    if word.endswith("e"):
        yield word[:-1] + "ing"
    if word.endswith("y"):
        yield from (word[:-1] + "ies", word[:-1] + "ied")
    if len(word) > 2:
        yield from (word + word[-1] + "ed", word + word[-1] + "ing")


FORMS = frozenset(f for w in VOCABULARY if w.isalpha() for f in _inflected(w)) | frozenset(NUMBERS)


_COLOURS = bag(
    "grey gray white black blue green red purple pink orange yellow brown cyan magenta teal violet "
    "empty hollow filled solid"
)
_OF_OTHERS = {phrase[0] for phrase, c in PHRASES.items() if c == "OTHER" and len(phrase) == 1}
_RARE = {w for phrase, c in PHRASES.items() if c.startswith("COLOUR=") and len(phrase) == 1 for w in phrase} - _COLOURS
TARGETS = FORMS - {form for word in _RARE for form in _inflected(word)}
"""The words that a damaged one may have been: printers' names of colours (`umber`, `sand`) are too rare for that."""


@lru_cache(maxsize=1)
def _by_halves() -> dict[tuple[int, bool, str], list[str]]:
    """Each known word by its length and its first (True) and second half; made when first needed. A word with one
    slip has one of them as it is."""
    index: dict[tuple[int, bool, str], list[str]] = {}
    for form in TARGETS:
        middle = len(form) // 2
        index.setdefault((len(form), True, form[:middle]), []).append(form)
        index.setdefault((len(form), False, form[middle:]), []).append(form)
    return index


def mended(text: str) -> str:
    """The text with its damaged words put right where there is one cheap way to do so."""
    text = re.sub(r"(?<=[a-z]{2})- ?\s(?=[a-z]{2})(?!\s*(?:or|and|to)\b)", "", text)
    text = re.sub(r"(?<=[a-z])-\s*\n\s*(?=[a-z])", "", text)
    text = re.sub(r"(?<=[a-z]{2})(?=[A-Z]\b)", " ", figured(text))
    return " ".join(_line(tuple(text.split())))


def figured(text: str) -> str:
    """The text with letters and signs that stand where only a figure can as that figure: `between 1 and g`."""
    text = re.sub(r"(?<=\bthe )!(?=\s+(?:and|or|to)\b)", "1", text)
    text = re.sub(r"\b[lI|](?=[0O]\b)", "1", text)
    text = re.sub(r"\b1O\b", "10", text)
    # The 10 of old-style figures: its nought is as small as an o, its one a small capital I.
    text = re.sub(r"(?<![\w'’-])[rli]o(?![\w'’-])", "10", text)
    text = re.sub(r"(\b1 ?(?:-|–|to|through|and(?: the)?) ?)(?:9?[gqQ]|[gqQ]9)(?![\w'])", r"\g<1>9", text)
    text = re.sub(r"(\d, ?\d(?:,? (?:and|or) |, ?))[gq](?![\w'])", r"\g<1>9", text)
    text = re.sub(r"\b1 (?:TO|THROUGH) G(?= (?:IN|ONCE|INTO)\b)", "ALL THE DIGITS", text)
    text = re.sub(r"\b1 ?(?:-|–|to|TO|through) ?(?:[@?&](?!\w)|[‘’'“”](?=\s*[.,;]|\s*$))", "all the digits", text)
    text = re.sub(r"(?<![\w'])[lI|](?=(?: ?[-–] ?| to (?:the )?| through | and (?:the )?)\d)", "1", text)
    text = re.sub(r"(?<=\dx)[^\w\s](?=\d)|(?<=\dx)é(?=\d)", "", text)
    text = re.sub(r"(?<![\w'])[lI|]to (?=\d)", "1 to ", text)
    text = re.sub(r"(\bthe 1\b[^!?]*\bthe )[gq](?![\w'])", r"\g<1>9", text)
    text = re.sub(r"\brom(s?)(?=\W+(?:and |or )?(?:each |every |any )?col)", r"row\1", text)
    text = re.sub(r"(?<![\w'])O(?=(?: ?[-–] ?| to | through | and (?:the )?)\d)", "0", text)
    return re.sub(r"(?<![\w'])l(?![\w'])", "1", text)


@lru_cache(maxsize=2048)
def _line(words: tuple[str, ...]) -> list[str]:
    best: list[tuple[float, tuple[str, ...]]] = [(0.0, ())]
    for end in range(1, len(words) + 1):
        options = []
        for width in (1, 2, 3):
            start = end - width
            if start < 0:
                break
            read = _read(words[start:end])
            if read is not None:
                options.append((best[start][0] + read[0], (*best[start][1], *read[1])))
        best.append(min(options))
    return list(best[-1][1])


def _read(words: tuple[str, ...]) -> tuple[float, tuple[str, ...]] | None:
    """The cost of reading printed pieces as one stretch, and how it reads; None for pieces that are no one word."""
    if len(words) == 1:
        return _alone(words[0])
    stems = [w.lower() for w in words]
    if not all(s.isalpha() for s in stems[:-1]) or all(is_known(s.strip(".,;:")) for s in stems):
        return None
    if any(s in NUMBERS for s in stems):
        return None
    body, tail = _tail("".join(words))
    if not body.isalpha() or body.lower() not in TARGETS:
        return None
    return _SPACE_ADDED * (len(words) - 1) + 0.1, (body + tail,)


def _tail(word: str) -> tuple[str, str]:
    body = word.rstrip(".,;:)!?'\"”’")
    return body, word[len(body) :]


@lru_cache(maxsize=8192)
def _alone(printed: str) -> tuple[float, tuple[str, ...]]:
    body, tail = _tail(printed)
    lead = body[: len(body) - len(body.lstrip("(['\"“‘"))]
    body = body[len(lead) :]
    word = body.lower()
    if len(word) < 2 or not _WORD.fullmatch(body) or is_known(word):
        return 0.0, (printed,)
    if word in ENGLISH or (body[:1].isupper() and body[1:].isdigit()):
        return _NOT_KNOWN, (printed,)
    ways = sorted(_ways(word))
    if ways and ways[0][0] < _NOT_KNOWN:
        cost, found = ways[0]
        found = (lead + found[0], *found[1:]) if len(found) > 1 else (lead + found[0],)
        return cost, (*found[:-1], found[-1] + tail)
    return _NOT_KNOWN, (printed,)


def would_be_mended(word: str) -> bool:
    """Whether a word is near enough to known ones to be taken for a damaged one, English or not."""
    ways = _ways(word)
    return bool(ways) and min(ways)[0] < _NOT_KNOWN


def is_known(word: str) -> bool:
    """Whether rules texts use the word, in any form."""
    return word in FORMS or word in NUMBERS or not any(c.isalpha() for c in word) or word in _SINGLE


def is_word(text: str) -> bool:
    """Whether rules texts use it in any form, or English has it; small letters or capitals."""
    plain = text.lower()
    return is_known(plain) or plain in ENGLISH


@lru_cache(maxsize=8192)
def _ways(word: str) -> tuple[tuple[float, tuple[str, ...]], ...]:
    found: list[tuple[float, tuple[str, ...]]] = [(cost, (w,)) for cost, w in _near(word)]
    for cut in range(1, len(word)):
        left, right = word[:cut], word[cut:]
        if _sound(left) and _sound(right):
            common = left in _GLUE or right in _GLUE
            found.append((_SPACE_LOST - (_COMMON_GAIN if common else 0), (left, right)))
    if not found:
        for cut in range(2, len(word) - 1):
            left, right = word[:cut], word[cut:]
            pairs = ((left, right), (right, left))
            for whole, torn in pairs:
                if not _sound(whole) or len(torn) < 2:
                    continue
                for cost, mend in _near(torn) if torn not in FORMS else ():
                    found.append((_SPACE_LOST + cost, (whole, mend) if whole is left else (mend, whole)))
                if whole is left:
                    for at in range(1, len(torn)):
                        if _sound(torn[:at]) and _sound(torn[at:]):
                            found.append((2 * _SPACE_LOST, (left, torn[:at], torn[at:])))
    return tuple(found)


def _sound(piece: str) -> bool:
    """Whether a piece of a run of letters may stand as a word: of short ones only the commonest, and figures."""
    return (piece in TARGETS and len(piece) >= _SHORT) or piece in _COMMON or piece.isdigit()


@lru_cache(maxsize=8192)
def _near(word: str) -> tuple[tuple[float, str], ...]:
    """Known words that OCR may have printed like this one, with what that costs."""
    once = set(_undone(word))
    found = {(_ONE_SLIP, w) for w in once if w in TARGETS}
    if not found and len(word) > _SHORT:
        found = {(2 * _ONE_SLIP, w) for o in once for w in _undone(o) if w in TARGETS}
    if not found and len(word) >= _TYPED_FROM:
        found = {(_MISTYPED, w) for w in _mistyped(word)}
    if not found and len(word) >= _FUZZY_FROM:
        found = {(_ANY_SLIP, w) for w in _one_edit(word)}
    stems = {w.removesuffix("s") for _, w in found}
    return tuple(found) if len(stems) == 1 else tuple(sorted(found, key=_likelier)[:1]) if len(word) > _SHORT else ()


def _likelier(way: tuple[float, str]) -> tuple[float, bool, str]:
    """In which order words that a damaged one may have been are taken: those of other rules last (a `comer` is sooner a
    corner than a comet)."""
    return way[0], way[1].removesuffix("s") in _OF_OTHERS, way[1]


def _undone(word: str) -> Iterator[str]:
    for at in range(len(word)):
        for length in (1, 2):
            for printed in _slips.get(word[at : at + length], ()) if at + length <= len(word) else ():
                yield word[:at] + printed + word[at + length :]


def _mistyped(word: str) -> set[str]:
    """Known words that a typist may have meant: two letters changed about, or one left out."""
    swapped = {word[:at] + word[at + 1] + word[at] + word[at + 2 :] for at in range(len(word) - 1)}
    return (swapped & TARGETS) or {w for w in _one_edit(word) if len(w) == len(word) + 1}


def _one_edit(word: str) -> set[str]:
    """Known words of which one letter was changed, added or left out."""
    index = _by_halves()
    found: set[str] = set()
    for length in (len(word) - 1, len(word), len(word) + 1):
        middle = length // 2
        found.update(index.get((length, True, word[:middle]), ()))
        found.update(index.get((length, False, word[middle - length :]), ()))
    return {form for form in found if _is_one_edit(form, word)}


def _is_one_edit(a: str, b: str) -> bool:
    """Whether one letter changed, added or left out makes one word of the other."""
    if len(a) > len(b):
        a, b = b, a
    start = next((i for i, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), len(a))
    rest = a[start + 1 :] if len(a) == len(b) else a[start:]
    return rest == b[start + 1 :]
