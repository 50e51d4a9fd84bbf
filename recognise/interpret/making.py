"""A draft while it grows: items with what a person must look at about them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from recognise.draft import Alternative, Doubt, HowRead, Item, Polygon, Undecided
from recognise.draft import Reading as Named
from recognise.interpret.cages import NO_NUMBER
from recognise.interpret.edges import ALONG
from recognise.interpret.glyphs import WORTH_NAMING
from recognise.interpret.mark import Mark
from recognise.interpret.meaning import Meaning, fields_for, meaning_of, readings_as
from recognise.interpret.numbers_said import numbers_for
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import KINDS, kind_named
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.kinds.unread_mark import UnreadMark
from schema.marks import Seen
from schema.words import with_article

Stated = tuple[Constraint, ...]

SURELY_SEEN = 0.95
"""From this confidence on a mark is taken for print though no rule speaks of it."""


def unspoken(constraint: Constraint) -> str:
    """What a person is asked of a mark of which no sentence on a page with rules speaks."""
    return f"it is drawn as {with_article(constraint.name)}, and the printed rules do not speak of one"


@dataclass
class Making:
    """What is known so far. `used` holds the `id` of each statement that gave a constraint, `settled` the marks whose
    meaning a sentence gave."""

    grid: Grid
    sheet: RuleSheet | None
    house: tuple[Statement, ...] = ()
    items: list[Item] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    used: set[int] = field(default_factory=set)
    settled: list[tuple[Seen, Statement]] = field(default_factory=list)
    undecided: list[Undecided] = field(default_factory=list)

    def add(self, item: Item, *why: str, unsaid: Sequence[str] = ()) -> None:
        """Take an item, with what a person must look at about it, and about what it means."""
        self.doubts.extend(Doubt(words, item=len(self.items)) for words in why)
        self.doubts.extend(Doubt(words, item=len(self.items), meaning=True) for words in unsaid)
        self.items.append(item)

    def unread(
        self,
        shape: str,
        where: Polygon,
        cells: Sequence[Cell],
        why: str,
        claims: tuple[Polygon, ...] | None = None,
        sure: float = 1.0,
    ) -> None:
        """Take a mark that nothing explains: an item where it stands on cells, a doubt in any case. What goes round all
        cells is of the page and not of the puzzle. Where every sentence is understood and none speaks of such a mark,
        one that was not surely seen is a doubt alone: dirt and folds look like marks of every kind, and setters hardly
        print a mark without its rule."""
        inside = tuple(sorted({cell for cell in cells if cell in self.grid}))
        mark = UnreadMark(shape=shape, cells=inside)
        dirt = sure < SURELY_SEEN and self.sheet is not None and not self.sheet.not_understood
        around = len(inside) == self.grid.rows * self.grid.columns
        if not inside or around or dirt or any(item.value == (mark,) for item in self.items):
            self.doubts.append(Doubt(why, where=where))
        else:
            self.add(Item((mark,), where, 1.0, "shape", claims=claims), why)

    def meaning(self, seen: Seen) -> Meaning:
        """What a mark means; the sentences that say so are accounted for."""
        meaning = meaning_of(seen, self.sheet, self.house)
        self.used.update(id(statement) for statement in meaning.statements)
        self.settled.extend((seen, statement) for statement in meaning.statements)
        return meaning

    @property
    def is_open(self) -> bool:
        """Whether a mark that no rule explains may still have one: where no rules are printed, or where a sentence that
        is not understood, or one of several that tell something together, may be the one that says it."""
        return self.sheet is None or bool(self.sheet.not_understood or self.sheet.together)

    def speaks_of(self, seen: Seen) -> bool:
        """Whether the page's rules, or the house style, speak of such a mark."""
        meaning = meaning_of(seen, self.sheet, self.house)
        return bool(meaning.statements or meaning.house)

    def take(self, mark: Mark, meaning: Meaning) -> None:
        """Take a mark with its meaning."""
        asks, unsaid = [*mark.asks], [*mark.unsaid, *meaning.asks]
        if _told(mark, meaning, "untold"):
            asks = [why for why in asks if why != NO_NUMBER]
        if all(constraint.kind != "greater" for constraint in meaning.constraints):
            asks = [why for why in asks if why != ALONG]
        if mark.seen.shape == "border" and NO_NUMBER in mark.asks and all(map(_says_nothing, meaning.constraints)):
            self.doubts.extend(Doubt(why, where=mark.where) for why in asks)
            return
        if not meaning.statements and not meaning.house and self.sheet is not None:
            unsaid.append(unspoken(meaning.constraints[0]))
        whole = any(list(constraint.wholes(self.grid)) for constraint in meaning.constraints)
        if mark.seen.family == "area" and not whole and not _told(mark, meaning, "partial", mark.certain):
            unsaid.append(f"it has {len(mark.seen.cells)} cells, and there are {len(self.grid.digits)} digits")
        how: HowRead = "house-style" if meaning.house else mark.how
        stated, where = meaning.constraints, mark.where
        # Another reading that says the same is none: the proof would be left with two that settle the puzzle.
        others = tuple(other for other in self._others(mark) if other.value != stated)
        nothing = sum(guess.probability for guess in mark.texts if not guess.text)
        item = Item(stated, where, mark.confidence, how, others, mark.claims, mark.extent, mark.slips, nothing=nothing)
        self.add(item, *asks, unsaid=unsaid)

    def restate(self, place: int, meaning: Meaning, claims: Sequence[Polygon]) -> None:
        """Take an item for something else than it was taken for, with the ink that `claims` cover: what was asked about
        its meaning is answered."""
        item = self.items[place]
        self.items[place] = replace(item, value=meaning.constraints, claims=(*item.claimed, *claims))
        self.doubts = [doubt for doubt in self.doubts if not (doubt.item == place and doubt.meaning)]
        self.doubts.extend(Doubt(words, item=place, meaning=True) for words in meaning.asks)

    def _others(self, mark: Mark) -> tuple[Alternative, ...]:
        """What the mark states if its text is read otherwise."""
        found = []
        for guess in mark.texts:
            if guess.probability > WORTH_NAMING:
                other = meaning_of(replace(mark.seen, text=guess.text), self.sheet, self.house)
                if other.constraints:
                    found.append(Alternative(other.constraints, guess.probability))
        return tuple(found)

    def leave_open(self, looks: str, readings: Sequence[Named], marks: Sequence[Mark]) -> None:
        """Take marks that look alike as unread, with all that they may mean."""
        first = len(self.items)
        for mark in marks:
            cells = dict.fromkeys((*mark.seen.cells, *(cell for path in mark.seen.paths for cell in path)))
            unread = UnreadMark(shape=mark.seen.shape or mark.seen.family, cells=tuple(cells))
            self.add(
                Item((unread,), mark.where, mark.confidence, mark.how, claims=mark.claims),
                *mark.asks,
                unsaid=mark.unsaid,
            )
        items = tuple(range(first, len(self.items)))
        self.ask(Undecided(looks, items, tuple(readings), all_said=not self.is_open), marks[0].where)

    def ask(self, undecided: Undecided, where: Polygon) -> None:
        """Leave it to the checker, and to a person, what items mean that are taken as unread."""
        self.undecided.append(undecided)
        self.doubts.append(Doubt(undecided.question, item=undecided.items[0], where=where, meaning=True))


def _says_nothing(constraint: Constraint) -> bool:
    """Whether it is a cage that asks nothing of its digits: where thick lines are the walls of cages, the ground
    between those with a number is none."""
    return isinstance(constraint, Cage) and constraint.value is None and constraint.repeats


def _told(mark: Mark, meaning: Meaning, field: str, certain: bool = False) -> bool:
    """Whether the rules say that such marks may lack something (`untold`, `partial`), and this one is drawn so; in a
    picture what it lacks may have been missed, unless that is `certain`."""
    statements = meaning.statements
    return (mark.how == "vector" or certain) and bool(statements) and all(s.fields.get(field) for s in statements)


def readings_of(marks: Sequence[Mark], house: Sequence[Statement] = (), sentences: Sequence[str] = ()) -> list[Named]:
    """Every reading that all of these marks allow; with the fields that the house style gives to kinds, too, and with
    the numbers that are named in `sentences` which are not understood."""
    found: dict[tuple[Stated, ...], Named] = {}
    for kind in KINDS:
        stated = [fields_for(kind, statement) for statement in house if kind_named(statement.kind) is kind]
        stated += numbers_for(kind, sentences)
        options = [readings_as(kind, mark.seen, stated) for mark in marks]
        for fields, _ in options[0]:
            values = [next((made for said, made in option if said == fields), None) for option in options]
            if all(values):
                switched = [name if value is True else f"{name} {value}" for name, value in fields.items() if value]
                name = f"{kind.name} ({', '.join(switched)})" if switched else kind.name
                chosen = tuple(value for value in values if value)
                found.setdefault(chosen, Named(name, chosen))
    return list(found.values())
