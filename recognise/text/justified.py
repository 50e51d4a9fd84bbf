"""Lines of justified text whose words stand far apart.

Text that fills its column to both margins has lines of few words with white between them as wide as between columns.
What tells such a line from words of several columns is a line right above or below it that runs from the same left
margin to the same right one in one piece: no column ends there.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from ingest.page import Box, VectorGlyph
from recognise.geometry import box_of_all

Run = list[VectorGlyph]

_FLUSH = 0.5
"""In font sizes: how far off a margin the ink of a line may begin or end."""
_LONG = 16
"""Letters of a line that tells where the margins of a text are, at least."""
_NEXT = 2.2
"""In font sizes: how far apart the middles of lines one above the other are at most."""
_EVEN = 0.5
"""In font sizes: by how much the white between the words of one line may differ; letters have side bearings."""
_SAME_SIZE, _SAME_ROW = 0.05, 0.5
"""Relative difference of size within one text, and how far apart, in font sizes, the middles of its words are."""


def with_words_joined(runs: Sequence[Run]) -> list[Run]:
    """The runs, those that are the words of one line of justified text joined."""
    found = list(runs)
    while (joined := _one_joined(found)) is not None:
        found = joined
    return found


def _one_joined(runs: Sequence[Run]) -> list[Run] | None:
    """The runs with the words of one line joined; None where there is no such line."""
    boxes = [box_of_all(glyph.box for glyph in run) for run in runs]
    for whole, margins in zip(runs, boxes, strict=True):
        size = whole[0].size
        if len(whole) < _LONG:
            continue
        near = [at for at, run in enumerate(runs) if run is not whole and _is_beside(boxes[at], run, margins, size)]
        for first in (at for at in near if abs(boxes[at][0] - margins[0]) <= _FLUSH * size):
            row = sorted(
                (at for at in near if abs(_middle(boxes[at]) - _middle(boxes[first])) <= _SAME_ROW * size),
                key=lambda at: boxes[at][0],
            )
            own = [glyph for at in row for glyph in runs[at]]
            if len(row) > 1 and _are_words(own) and _fills([boxes[at] for at in row], margins, size):
                return [
                    own if at == min(row) else run for at, run in enumerate(runs) if at not in row or at == min(row)
                ]
    return None


def _is_beside(box: Box, run: Run, margins: Box, size: float) -> bool:
    """Whether a run may be a word of a line right above or below a whole one."""
    alike = abs(run[0].size - size) <= _SAME_SIZE * size
    apart = abs(_middle(box) - _middle(margins))
    within = margins[0] - _FLUSH * size <= box[0] and box[2] <= margins[2] + _FLUSH * size
    return alike and within and _SAME_ROW * size < apart <= _NEXT * size


def _are_words(run: Run) -> bool:
    """Whether what stands in a line is text: a row of a table is mostly figures."""
    return sum(glyph.text.isalpha() for glyph in run) * 2 > len(run)


def _fills(row: Sequence[Box], margins: Box, size: float) -> bool:
    """Whether words fill a line between its margins, with as much white between any two."""
    white = [b[0] - a[2] for a, b in itertools.pairwise(row)]
    flush = abs(row[0][0] - margins[0]) <= _FLUSH * size and abs(row[-1][2] - margins[2]) <= _FLUSH * size
    return flush and max(white) - min(white) <= _EVEN * size


def _middle(box: Box) -> float:
    return (box[1] + box[3]) / 2
