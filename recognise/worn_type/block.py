"""The lines of a block of worn type: found, cut out in several sizes, and read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from recognise.worn_type.reader import Character, LineReader, line_reader
from recognise.worn_type.strips import Grey, Line, across, lines_in, strip

SIZES = (0.72, 0.9)
"""As parts of the small letters' height that is measured: what is larger in its strip is read better, what is less so
keeps its neighbours out. The surer reading counts."""
GRAIN = 0.4
"""Sureness below which what was read is grain and no type, which a second look would not change: of worn type 0.6 and
more is told, of the grain of tables mostly 0.1 to 0.4."""
WIDEST, WORD = 2, 3
"""So many of its widest lines tell whether a block is grain, none of which then has a word of so many letters and
figures: grain is read as long dashes, too."""


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A line as it was read: its text, how sure its words are (0 to 1, in the mean), and its box in the picture."""

    text: str
    sure: float
    box: tuple[float, float, float, float]


def read_block(
    part: Grey, letter: float, known: Sequence[tuple[float, float]] = (), *, perhaps_grain: bool = False
) -> list[ReadLine]:
    """The lines of a block of level type whose letters are so many pixels high, top to bottom; of dark type on light
    ground. What stands between two heights that are `known` (pixels down) is left out. A block that is `perhaps_grain`
    is given up where its widest lines read as such."""
    reader = line_reader()
    lines = [line for line in lines_in(part, letter) if not any(a < line.middle < b for a, b in known)]
    looks: dict[Line, ReadLine] = {}
    if perhaps_grain:
        widest = sorted(lines, key=lambda line: line.begin - line.end)[:WIDEST]
        looks = {line: _read(reader, part, line) for line in widest}
        if not any(map(_is_type, looks.values())):
            return []
    found = [looks.get(line) or _read(reader, part, line) for line in lines]
    return [line for line in found if line.text]


def _is_type(look: ReadLine) -> bool:
    return look.sure >= GRAIN and any(sum(map(str.isalnum, word)) >= WORD for word in look.text.split())


def _read(reader: LineReader, part: Grey, line: Line) -> ReadLine:
    looks: list[ReadLine] = []
    for size in SIZES:
        seen = replace(line, small=line.small * size)
        looks.append(_told(reader.read(strip(part, seen)), seen, line))
        if looks[0].sure < GRAIN:
            break
    return max(looks, key=lambda look: look.sure)


def _told(characters: Sequence[Character], seen: Line, line: Line) -> ReadLine:
    words = _words(characters)
    if not words:
        return ReadLine("", 0.0, (0.0, line.base - line.small, 0.0, line.base))
    sure = sum(len(word) * min(c.chance for c in word) for word in words) / sum(map(len, words))
    text = " ".join("".join(c.text for c in word) for word in words)
    by, half = across(seen), line.small / 2
    left, right = (line.begin + at / by for at in (words[0][0].at, words[-1][-1].at))
    box = (left - half, line.base - 1.5 * line.small, right + half, line.base + half)
    return ReadLine(text, sure, box)


def _words(characters: Sequence[Character]) -> list[list[Character]]:
    """The characters between spaces."""
    words: list[list[Character]] = [[]]
    for character in characters:
        if character.text != " ":
            words[-1].append(character)
        elif words[-1]:
            words.append([])
    return words if words[-1] else words[:-1]
