"""Sentences that say only that marks are there: `There are some grey lines in the grid`, `Dashed lines form cages`.

They state nothing. What the marks mean has to be said elsewhere in the text, else they are not understood (`conclude`).
"""

from __future__ import annotations

from collections.abc import Sequence

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, named

_MARKS = bag("THERMO ARROW CAGE DOT BAR DIAMOND SIGN LINE CIRCLE SQUARE SHADED LETTER SHAFT BULB DIAGONAL OUTSIDE")
_AROUND = (
    (NEUTRAL - bag("ALLOWED"))
    | _MARKS
    | bag(
        "COLOUR STYLE EDGE BETWEEN ADJACENT JOIN OUTSIDE CLUE MARK SMALLNUM CORNER END TIP SIDE QUOTIENT SEE REGION "
        "BOUNDED LETTERWORD SUDOKU FOURMEET SIZE START AMONG ROW COLUMN RUN SLOW BOTHENDS HEAD POINT"
    )
)
_CLUES = bag("DIGIT CLUE OUTSIDE GRID ALL TOTALWORD")
_EVERY = bag("ALL POSSIBLE"), bag("ALL PAIR"), bag("ALL ADJACENT")
"""Words by which a sentence says that no mark is left out, which is a rule: all possible ones, all pairs of a sort."""
_THERE = bag("SOME HOLD GIVEN QUOTIENT RUN START JOIN")


def presented(concepts: Sequence[str]) -> frozenset[str]:
    """The marks that a clause of reduced concepts says to be in the grid, when it says nothing else."""
    names = frozenset(map(named, concepts))
    if names <= _CLUES and "OUTSIDE" in names:
        return frozenset(("OUTSIDE", "CLUE"))
    if not names & _THERE or names - _AROUND or concepts[0] == "ALONG" or any(names >= every for every in _EVERY):
        return frozenset()
    return names & _MARKS
