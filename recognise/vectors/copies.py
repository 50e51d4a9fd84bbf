"""Characters of a text layer that are printed twice: upon rims of paper of their own, or with a shadow."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import product

from recognise.vectors.letters import Mark

HALO = 0.1
"""As a part of a character's size: how exactly it stands upon its own halo."""
ALIKE, ASIDE = 0.02, (0.04, 0.6)
"""As parts of a character's size: how little a shadow differs from what it is the shadow of, and how far, both sideways
and upwards, it lies off it; figures of one number differ in one direction only."""


def without_shadows(marks: Sequence[Mark]) -> list[Mark]:
    """Marks without those that are shadows of later ones."""
    return _without_copies(marks, _is_shadow)


def without_halos(marks: Sequence[Mark]) -> list[Mark]:
    """Marks without those that are rims of paper around later ones."""
    return _without_copies(marks, _is_halo)


def _without_copies(marks: Sequence[Mark], is_copy: Callable[[Mark, Mark], bool]) -> list[Mark]:
    """Marks without those that are copies of a later one of the same character. A character without a name is none."""
    pitch = max((ASIDE[1] * mark.size for mark in marks), default=0.0) or 1.0
    later: dict[tuple[str, int, int], list[Mark]] = defaultdict(list)
    kept = []
    for mark in reversed(marks):
        column, row = (int(at // pitch) for at in mark.middle)
        if not (mark.glyph.text and any(is_copy(mark, other) for other in _near(later, mark.glyph.text, column, row))):
            kept.append(mark)
        later[mark.glyph.text, column, row].append(mark)
    return kept[::-1]


def _near(marks: dict[tuple[str, int, int], list[Mark]], text: str, column: int, row: int) -> Iterator[Mark]:
    """Those of the same character that stand so near that they may be copies: in this square or in one beside it."""
    for down, across in product((-1, 0, 1), repeat=2):
        yield from marks.get((text, column + across, row + down), ())


def _is_halo(one: Mark, other: Mark) -> bool:
    """Whether one of two marks of the same character lies in the other's place, as large and in another colour: a rim
    of paper around it."""
    off = max(abs(a - b) for a, b in zip(one.middle, other.middle, strict=True))
    return (
        off <= HALO * one.size
        and abs(one.size - other.size) <= HALO * one.size
        and one.glyph.colour != other.glyph.colour
    )


def _is_shadow(one: Mark, other: Mark) -> bool:
    """Whether one of two marks of the same character is the other's shadow, a little aside and above or below."""
    if abs(one.size - other.size) > ALIKE * one.size:
        return False
    shift = [abs(a - b) / one.size for a, b in zip(one.middle, other.middle, strict=True)]
    return min(shift) > ASIDE[0] and max(shift) < ASIDE[1]
