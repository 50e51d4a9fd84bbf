"""Bits of marks that hardly pass for small characters: a dash of a cage's wall, of a ring or of a diagonal.

Nobody expects a character there, and all of its ink is that of a mark which was read."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from recognise.evidence import Glyph
from recognise.marks.lines import MIDDLING
from recognise.marks.seen import Seen
from recognise.pixels.frame import Mask

HARDLY, SMALLER = 0.6, 0.25
"""How sure what is such a bit is read at most; in cells, givens are higher than that."""
WITHIN = 0.95
"""The part of its ink that lies on marks at least."""


def bits(known: Iterable[Glyph], of_marks: Callable[[], Mask], seen: Seen) -> list[Glyph]:
    """Those of some characters that are bits of marks, which take up the pixels `of_marks`."""
    unexpected = [glyph for glyph in known if _is_unexpected(glyph, seen)]
    if not unexpected:
        return []
    marks = of_marks()
    return [glyph for glyph in unexpected if _is_within(glyph, marks, seen)]


def _is_unexpected(glyph: Glyph, seen: Seen) -> bool:
    """Whether a small character in a cell is hardly one, and the network sees none there."""
    cell = seen.raster.cell_of(*glyph.centre)
    if cell is None or glyph.confidence >= HARDLY or glyph.size >= SMALLER:
        return False
    return max(seen.told.node(cell, name) for name in ("CHARACTERS", "SMALL")) < MIDDLING[0]


def _is_within(glyph: Glyph, marks: Mask, seen: Seen) -> bool:
    """Whether all ink of a character lies on marks."""
    window = seen.raster.slices(glyph.box)
    ink = seen.ink.drawn[window]
    ink = ink * (ink > seen.ink.floor)
    return bool(ink.sum() > 0 and (ink * marks[window]).sum() >= WITHIN * ink.sum())
