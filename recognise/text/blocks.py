"""Blocks: lines that were set as one paragraph, and their text with line breaks undone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ingest.page import Box
from recognise.evidence import TextLine
from recognise.rules.lexicon import bag
from recognise.rules.reader import read_rules
from recognise.rules.words import known, sentences
from recognise.text.setter import named_setter

_SAME_SIZE = 0.12
"""Relative difference of font sizes within one paragraph; OCR measures sizes less surely."""
_SAME_SIZE_OCR = 0.22
_LEADING = 1.15
"""White between two lines of a paragraph, in heights of its text, at most."""
_SIDE = 1.5
"""How far two lines of a paragraph may start apart, in heights, when they are not centred on each other."""
_HANGING = 5.0
"""And how far right of the first line of a paragraph that hangs, with its number or without, the others start."""
_LETTER = 0.6
"""Width of a letter in font sizes, a blank's share included; taken wide, so that ragged lines are not cut apart."""
_FULL = 0.8
"""A line that leaves more than this free, in widths of its paragraph, could have taken the next line's first word."""


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of one paragraph, top to bottom, in page frame units."""

    lines: tuple[TextLine, ...]

    @property
    def box(self) -> Box:
        """What its lines cover."""
        boxes = [line.box for line in self.lines]
        return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)

    @property
    def size(self) -> float:
        """Its font size."""
        return self.lines[0].size

    @property
    def bold(self) -> bool:
        """Whether it is set bold."""
        return all(line.bold for line in self.lines)

    @property
    def text(self) -> str:
        """Its text on one line: words divided at a line's end are put together."""
        return joined(_with_stops(self.lines))


_OPENS = re.compile(r"(?:A |An |[A-Z][a-z]+)")
_STOPS = (".", "!", "?", ":", ";", ",", "-", "\u2013", "\u2014", "\u2010", "/")


def _with_stops(lines: Sequence[TextLine]) -> Iterator[str]:
    """The lines' texts, with the full stop put back that OCR lost at a line's end: the next line opens a sentence, with
    a word that is spelt with a capital only there."""
    for line, following in zip(lines, (*lines[1:], None), strict=True):
        lost = following is not None and line.how == "ocr" and _stops_before(line.text, following.text)
        yield line.text + "." if lost else line.text


def as_sentences(paragraphs: Sequence[str]) -> str:
    """Paragraphs as one text; where one ends without a stop and the next opens a sentence, or both say all that they
    have to say by themselves, as the rows of a legend do, a stop parts them."""
    pairs = zip(paragraphs, (*paragraphs[1:], ""), strict=True)
    return joined(
        text + "." if _stops_before(text, following) or _are_rows(text, following) else text
        for text, following in pairs
    )


_UNENDED = re.compile(
    r"\b(?:the|an?|of|and|or|in|on|to|with|by|from|each|every|these|those)"
    r"(?: (?:two|three|four|five|six|seven|eight|nine|ten|same|other))?",
    re.I,
)
"""What no sentence ends with, whatever OCR makes of the next line's first letter: a small s looks like a capital."""


def _stops_before(text: str, following: str) -> bool:
    return _may_end(text) and _opens(following)


def _may_end(text: str) -> bool:
    unended = list(_UNENDED.finditer(text))
    return not text.endswith(_STOPS) and not (unended and unended[-1].end() == len(text))


def _are_rows(text: str, following: str) -> bool:
    """Whether the last sentence of one paragraph and the first of the next are each understood by themselves; of one
    that goes on below hardly both halves are."""
    if not _may_end(text):
        return False
    above, below = sentences(text), sentences(following)
    return bool(above and below) and _is_understood(above[-1].text) and _is_understood(below[0].text)


def _is_understood(text: str) -> bool:
    """Whether a sentence states something, and nothing in it is not understood."""
    sheet = read_rules(text)
    return bool(sheet.statements) and not sheet.not_understood


def _opens(text: str) -> bool:
    match = _OPENS.match(text)
    return match is not None and known(match[0].strip())


def joined(texts: Iterable[str]) -> str:
    """Lines as one text. A hyphen at a line's end goes when a small letter follows; a dash stays."""
    whole = ""
    for text in texts:
        if not whole:
            whole = text
        elif re.search(r"[a-z][-\u2010]$", whole) and text[:1].islower() and not _compound(whole, text):
            whole = whole[:-1] + text
        elif whole.endswith(("-", "\u2010", "/")):
            whole += text
        else:
            whole = f"{whole} {text}"
    return whole


_HEADS = bag("two three four five six seven eight nine top bottom left right bold heavy anti non king odd side pill")


def _compound(before: str, after: str) -> bool:
    """Whether the hyphen at a line's end belongs to a compound such as `two-cell`: both of its words are known from
    rules, and together they are none."""
    head, tail = re.search(r"([a-z]+)[-\u2010]$", before), re.match(r"[a-z]+", after)
    if head is None or tail is None:
        return False
    return head[1] in _HEADS or (known(head[1]) and known(tail[0]) and not known(head[1] + tail[0]))


def blocks(lines: Sequence[TextLine]) -> list[Block]:
    """Group lines to paragraphs: same size and weight, set close below each other, aligned left, right or centred."""
    groups: list[list[TextLine]] = []
    for line in sorted(lines, key=lambda item: (item.box[1], item.box[0])):
        fits = [group for group in groups if _follows(group, line) and not _ended(group, line)]
        if fits:
            min(fits, key=lambda group: line.box[1] - group[-1].box[3]).append(line)
        else:
            groups.append([line])
    return [Block(tuple(group)) for group in groups]


def _ended(group: Sequence[TextLine], line: TextLine) -> bool:
    """Whether the paragraph ended with its last line: the next word would have fitted there."""
    last = group[-1].box
    word = len(line.text.split()[0]) * line.size * _LETTER
    widest = max([line.box[2] - line.box[0], *(member.box[2] - member.box[0] for member in group)])
    return last[2] - last[0] + word < _FULL * widest


_NUMBERED = re.compile(r"(?:\(?(?:[a-z]|[ivx]{1,4}|\d{1,2})[.):]|§ ?\d{1,2}[.):]?)\s", re.I)
"""What numbers the paragraphs of a list: `3.`, `b)`, `(iv)`, `§2`."""


def _hangs(text: str, following: str) -> bool:
    """Whether a line that starts further right may belong to the one above: that one has its number to the left, or
    breaks off in a sentence."""
    return bool(_NUMBERED.match(text)) or (_may_end(text) and following[:1].islower())


def _follows(group: Sequence[TextLine], line: TextLine) -> bool:
    above = group[-1]
    if named_setter(above.text) or named_setter(line.text):
        return False
    size = max(above.size, line.size)
    tolerance = _SAME_SIZE if "vector" == above.how == line.how else _SAME_SIZE_OCR
    # The box of a line that slants on a photo reaches into the next line; its middle does not.
    between = (line.box[1] + line.box[3] - above.box[1] - above.box[3]) / 2
    white = max(line.box[1] - above.box[3], min(0.0, between - size))
    if abs(above.size - line.size) > tolerance * size or above.bold != line.bold or above.italic != line.italic:
        return False
    if not -0.5 * size < white < _LEADING * size or line.box[1] <= above.box[1]:
        return False
    a, b = above.box, line.box
    # The line above may begin with a clue of the grid beside it: any line of the paragraph shows where those begin.
    aligned = any(abs(member.box[0] - b[0]) < _SIDE * size for member in group)
    aligned |= abs(a[0] + a[2] - b[0] - b[2]) < 2 * size or abs(a[2] - b[2]) < size
    aligned |= len(group) == 1 and 0 < b[0] - a[0] < _HANGING * size and _hangs(above.text, line.text)
    return aligned and min(a[2], b[2]) > max(a[0], b[0])
