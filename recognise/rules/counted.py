"""The clauses of a sentence as concepts, without the numbers that only count its nouns."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from recognise.rules.words import CUT, Sentence

_COUNTED = r"(?=(?:IRREGULAR |SHADED |COLOUR=\w+ |SIZE=\w+ )*(?:DIGIT|BOX|REGION) )"
_DIFFERENT_COUNT = re.compile(r"(?<!\S)EXACTLY NUM=\d+ (?=(?:DIFFER )?DIGIT )")
_TWO_BESIDE = re.compile(r"(?<!\S)NUM=2 (?=(?:ADJACENT )?DIGIT (?:OUTSIDE|ADJACENT|JOIN|BY|HOLD|IT|$))")
"""`The two digits beside it`: that there are two matters to a mark between cells."""
_OF_PAIRS = re.compile(r"(?<!\S)(?:SUM|TIMES|CONSECUTIVE|DIFFERENCE|DIFFER|RATIO|DOUBLE) ")
_MORE_THAN_A_PAIR = re.compile(
    r"^(?:ALL |ONE |IT )*NUM=(?:3|5|6|7) (?=(?:ADJACENT )?DIGIT (?:HOLD )?(?:SUM|TIMES|CONSECUTIVE|DIFFER))"
)
"""`The three digits sum to 10`: no rule of two cells."""
_PAIR_MARK = re.compile(r"(?<!\S)(?:DOT|BAR|DIAMOND|CIRCLE|LETTER=\w|JOIN|BETWEEN) ")
_LONGER_MARK = re.compile(r"(?<!\S)(?:LINE|CAGE|THERMO|ARROW|SHAFT|OUTSIDE|DIAGONAL|ROW|COLUMN|BOX|PILL) ")
_THREE_OR_MORE = re.compile(r"(?<!\S)NUM=[35678] (?=(?:ADJACENT |CONSECUTIVE |NEXTONE )*(?:DIGIT|CELL) )")
"""`A dot joins three cells with consecutive digits`: neither."""
_PLAIN_COUNT = re.compile(r"(?<!\S)NUM=\d+ " + _COUNTED + r"|(?<=\bALL )NUM=\d+ (?=(?:ROW|COLUMN|CAGE=block) )")


def uncounted(clause: Sequence[str]) -> tuple[str, ...]:
    """A clause without the numbers that only count its nouns: `the nine digits`. `Exactly eight digits` is a rule."""
    text = _DIFFERENT_COUNT.sub("OTHER ", "".join(f"{c} " for c in clause))
    if _OF_PAIRS.search(text):
        text = _MORE_THAN_A_PAIR.sub("OTHER ", text)
        if _PAIR_MARK.search(text) and not _LONGER_MARK.search(text):
            text = _THREE_OR_MORE.sub("OTHER ", text)
    text = _TWO_BESIDE.sub("TWO ", text)
    return tuple(_PLAIN_COUNT.sub("", text).split())


def clauses(sentence: Sentence) -> Iterator[tuple[str, ...]]:
    """The clauses of a sentence, as concepts that are not yet put together."""
    clause: list[str] = []
    for concept in sentence.concepts:
        if concept != CUT:
            clause += concept.split()
        elif clause and clause != ["AND"]:
            yield uncounted(clause)
            clause = []
    if clause:
        yield uncounted(clause)
