"""What the rules of a page speak of, in the network's classes, and what the network says in the light of it.

Rules tell what a mark is, not whether one is there: a class that no rule speaks of yields to those that the rules do
speak of, as far as the network itself holds them possible, and nothing else changes. What is still likelier to be
something of which no rule speaks stays that, and is put to a person.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from recognise.marks.network import BY_NAME, Chances, Probabilities
from recognise.marks.squares import walls_beside_squares

UNSPOKEN, UNSURE = 0.01, 0.1
"""How much rarer than one that the rules speak of a mark is of which they do not: about so often is a sentence taken
for another kind, or a mark printed without a rule; where a sentence was not understood, or only in the main, it may be
the one that speaks of the mark."""

LINKS = ("LINE", "SHAFT", "TUBE")
EDGE_LOOKS = {
    "WHITE_DOT": "white dot",
    "DARK_DOT": "dark dot",
    "BAR": "bar",
    "DIAMOND": "diamond",
    "SIGN_LEFT": "sign",
    "SIGN_RIGHT": "sign",
    "SIGN_UP": "sign",
    "SIGN_DOWN": "sign",
    "CHARACTERS": "text",
    "OTHER": "other",
    "SQUARE": "square",
}
"""What each class of marks on edges looks like."""
CELL_LOOKS = {"CIRCLE": "circle", "SQUARE": "square", "DIAMOND": "diamond", "UNKNOWN": "mark"}
"""The same for marks in cells."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """What rules speak of: the classes of drawn lines, the looks of marks on edges and in cells; an empty set where
    they speak of none, or of such without a word on what they look like; `no_edges` says that they speak of nothing on
    edges. `by_colour` says that plain lines have colours of their own, which no tube or arrow has; `ringed` that lines
    may end in circles, `ringed_only` that all do, `circles` that circles stand in cells by themselves or begin arrows;
    `written` that numbers stand in marks on edges; `arrowed` that numbers beside the grid have little arrows, `bare`
    that some have none; `no_cages` that they speak of something, and of no cage; `markless` that all they say is
    understood, and none of it is of a mark but numbers beside it; `no_diagonals` that they speak of something, and
    of no line from corner to corner; `lines` how many kinds of lines they tell apart. `whole` says that every sentence
    was understood."""

    links: frozenset[str] = frozenset()
    lines: int = 0
    edges: frozenset[str] = frozenset()
    no_edges: bool = False
    cells: frozenset[str] = frozenset()
    by_colour: bool = False
    ringed: bool = False
    ringed_only: bool = False
    circles: bool = True
    written: bool = False
    arrowed: bool = False
    bare: bool = False
    no_cages: bool = False
    markless: bool = False
    no_diagonals: bool = False
    whole: bool = False

    @property
    def speaks(self) -> bool:
        """Whether they say anything of what marks look like."""
        return bool(self.links or self.edges or self.cells or self.arrowed or self.bare)

    @property
    def unspoken(self) -> float:
        """The weight of a class of which they do not speak, next to one of which they do."""
        return UNSPOKEN if self.whole else UNSURE

    @property
    def no_circles(self) -> bool:
        """Whether they say what marks look like, and no circle stands in a cell by itself or begins an arrow."""
        return self.speaks and not self.circles and "circle" not in self.cells

    @property
    def no_capsules(self) -> bool:
        """Whether they know lines, and no arrow that might begin in a capsule."""
        return bool(self.links) and "SHAFT" not in self.links

    def weight(self, name: str, spoken: frozenset[str]) -> float:
        """The weight of a class or look among those spoken of."""
        return 1.0 if not spoken or name in spoken else self.unspoken

    @property
    def one_line(self) -> str | None:
        """The only class of lines of which the rules speak."""
        return next(iter(self.links)) if len(self.links) == 1 else None


SILENT = Spoken()
"""Of a page without rules, or of whose rules nobody knows yet."""


def weighed(chances: Chances, spoken: Spoken) -> Chances:
    """The chances in the light of the rules: of round things in cells, and of squares that look like cages of one cell.
    Edges: `recognise.marks.sights`."""
    if not spoken.speaks:
        return chances
    heads = chances.heads | {"node": _rounds(chances.heads["node"], spoken)}
    if "square" in spoken.cells:
        heads["side"] = walls_beside_squares(chances)
    return replace(chances, heads=heads)


def _rounds(told: Probabilities, spoken: Spoken) -> Probabilities:
    """Where no rule speaks of tubes, what looks like a bulb is a circle, and the other way round: a line's end is as
    round by either."""
    if not spoken.links:
        return told
    bulb, circle = (BY_NAME["node"].classes.index(name) for name in ("BULB", "CIRCLE"))
    either = 1 - (1 - told[:, bulb]) * (1 - told[:, circle])
    found = told.copy()
    if "TUBE" not in spoken.links and (spoken.ringed or spoken.circles):
        found[:, circle] = either
    elif "TUBE" in spoken.links and not spoken.ringed and not spoken.circles:
        found[:, bulb] = either
    return found
