"""A pattern: which concepts a clause must have, and which it may have, to state one kind.

A clause is a bag of reduced concepts. It fits a pattern when every needed group is there and nothing else is there
that the pattern does not allow: each content word has to be accounted for, so a rule with one condition more than the
contract's is not understood rather than understood wrongly.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from recognise.rules.lexicon import bag
from recognise.rules.sheet import MarkHint

Fields = Mapping[str, object]
Concepts = Sequence[str]

NEUTRAL = bag(
    "DIGIT CELL GRID PAIR NEUTRALNOUN ALL SOME HOLD RUN IT ONE FROM TOWARDS OR AND THAN BY IF SO ALONG "
    "MEAN GIVEN MAY TWO SELF ADDITIONALLY APPLY RULE POSSIBLE ALLOWED START ALLDIGITS REST IFF"
)
"""Concepts that change nothing by themselves; whatever makes a difference is named by a pattern."""


@lru_cache(maxsize=4096)
def named(concept: str) -> str:
    """The name of a concept without its value: `COLOUR` of `COLOUR=grey`."""
    return concept.partition("=")[0]


def values(concepts: Concepts, name: str) -> list[str]:
    """The values of all concepts of that name, in order."""
    return [c.partition("=")[2] for c in concepts if c.startswith(name + "=")]


@dataclass(frozen=True, slots=True)
class Pattern:
    """`needs`: groups parted by blanks, the alternatives of a group by `|`. `allows`: further concepts. `settle` looks
    at the clause as a whole and gives the fields, or None when it is no such rule after all. `gloss` marks a clause
    that explains a kind stated elsewhere in the same text and states nothing itself. `known` is all that a clause may
    have."""

    kind: str
    needs: str
    allows: str = ""
    fields: Fields = field(default_factory=dict)
    settle: Callable[[Concepts], Fields | None] | None = None
    gloss: bool = False
    cost: float = 1.0

    _groups: tuple[frozenset[str], ...] = field(init=False, repr=False)
    known: frozenset[str] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        groups = tuple(frozenset(group.split("|")) for group in self.needs.split())
        object.__setattr__(self, "_groups", groups)
        object.__setattr__(self, "known", NEUTRAL.union(self.allows.split(), *groups))

    def fit(self, concepts: Concepts, names: frozenset[str]) -> Fields | None:
        """The fields that the clause states, or None where it does not fit; `names` are its concepts' names."""
        if not names <= self.known or any(group.isdisjoint(names) for group in self._groups):
            return None
        if self.settle is None:
            return self.fields
        settled = self.settle(concepts)
        return None if settled is None else {**self.fields, **settled}


# ------------------------------------------------------------------------------------------ what a mark looks like

_SHAPES = (
    ("THERMO", "tube"), ("BULB", "tube"), ("ARROW", "arrow"), ("SHAFT", "arrow"), ("CAGE", "cage"), ("BAR", "bar"),
    ("DOT",
    "dot"), ("DIAMOND", "diamond"), ("SIGN", "sign"), ("HEAD", "sign"), ("LETTER", "letter"), ("LINE", "line"),
    ("CIRCLE",
    "circle"), ("SHADED", "tint"), ("SQUARE", "square"), ("DIAGONAL", "diagonal"), ("MAINDIAG", "diagonal"),
)  # fmt: skip

MARKS = frozenset(name for name, _ in _SHAPES)
"""Concepts that name a drawn mark."""
SUBJECTS = MARKS | {
    "OUTSIDE",
    "CLUE",
    "REGION",
    "BOX",
    "ROW",
    "COLUMN",
    "KNIGHT",
    "KING",
}
"""Concepts that say what a clause speaks of; a clause without any speaks of what the one before it spoke of."""


def hint(concepts: Concepts, shape: str = "") -> MarkHint:
    """What the clause says about the look of its mark; `shape` is the pattern's own, where it knows better."""
    names = {named(c) for c in concepts}
    found = shape or next((look for name, look in _SHAPES if name in names), "")
    if not found and "COLOUR" in names and {"CELL", "REGION", "BOX"} & names:
        found = "tint"
    colours, letters, styles = (values(concepts, name) for name in ("COLOUR", "LETTER", "STYLE"))
    if found == "tube" and shape == "" and "THERMO" not in names and "LINE" in names:
        found = "line"
    return MarkHint(
        shape=found,
        colour=colours[0] if len(set(colours)) == 1 else "",
        letter=letters[0] if found == "letter" and len(set(letters)) == 1 else "",
        style=styles[0] if len(set(styles)) == 1 else "",
    )
