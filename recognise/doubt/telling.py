"""Questions about sentences that were not understood, and can say nothing but what the page bears out.

A sentence all of whose words belong to one kind (`recognise/rules/within.py`) states that kind, counts its marks, gives
an example or draws a consequence. It is not asked about where that kind stands in the puzzle, with the numbers that the
sentence names, and the proof bears the kind out as it does for sentences understood in the main (`sentences.py`). What
the proof does not see is a condition more that the solution obeys anyway; so where another sentence states the kind,
this one may name no relation that none of the others does."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace

from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.sentences import SECONDS, breaks_all, is_borne_out, may_be_otherwise
from recognise.draft import Doubt, Draft, Given
from recognise.interpret.draft import in_the_main, not_understood
from recognise.interpret.making import unspoken
from recognise.rules import RuleSheet
from recognise.rules.exceptions import makes_an_exception
from recognise.rules.reader import read_rules
from recognise.rules.within import Told, relations_of, told_within
from recognise.rules.words import sentences
from schema.cells import Cell
from schema.kinds import STRUCTURE, kind_named
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle


def without_told(draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None) -> Draft:
    """The draft, which has one `solution`, without the questions about sentences that say nothing but what the page
    bears out. Sentences that are not understood may belong together: of these all are answered or none."""
    open_ones = set() if sheet is None else {*sheet.not_understood, *sheet.unsure}.intersection(_asked(draft, sheet))
    if sheet is None or not open_ones or not breaks_all(draft, solution):
        return draft
    page = _Page.of(draft, sheet, open_ones)
    found = {sentence: page.borne_out(sentence) for sentence in sorted(open_ones)}
    idle = open_ones.intersection(sheet.idle) if sheet.idle and not _lives_on_guesses(draft) and page.settled() else ()
    lost = [s for s in sheet.not_understood if not found.get(s) and s not in idle]
    for sentence, kinds in found.items():
        if (kinds or sentence in idle) and not (lost and sentence in sheet.not_understood):
            draft = _answered(draft, sentence, kinds)
    return draft


def _lives_on_guesses(draft: Draft) -> bool:
    """Whether the draft has something only because it leaves one solution: a sentence may say so, or say otherwise."""
    return any(item.how == "inferred" and item.value for item in draft.items)


def _asked(draft: Draft, sheet: RuleSheet) -> Iterator[str]:
    """The sentences that are asked about."""
    why = {doubt.why for doubt in draft.doubts}
    yield from (s for s in sheet.not_understood if not_understood(s) in why)
    yield from (s for s in sheet.unsure if in_the_main(s) in why)


@dataclass(frozen=True, slots=True)
class _Page:
    """A puzzle, the constraints of each kind that marks show, the kinds that sentences surely state, and the fields of
    these that they name, all relations in the sentences that are not asked about, and those sentences that were
    understood in the main."""

    puzzle: Puzzle
    own: Mapping[str, tuple[Constraint, ...]]
    stated: Set[str]
    told: Set[tuple[str, str]]
    relations: Set[str]
    in_the_main: Collection[str]
    effort: Effort

    @staticmethod
    def of(draft: Draft, sheet: RuleSheet, open_ones: Set[str]) -> _Page:
        """A page as its draft shows it."""
        shown = [c for c in draft.constraints if c.kind not in STRUCTURE and "rule" not in c.marks]
        own = {kind: tuple(c for c in shown if c.kind == kind) for kind in sorted({c.kind for c in shown})}
        surely = [s for s in sheet.statements if s.sentence not in open_ones and not s.negated]
        told = {(s.kind, name) for s in surely for name in s.fields}
        others = [s.text for s in sentences(draft.words.rules_text or "") if s.text not in open_ones]
        relations = frozenset[str]().union(*map(relations_of, others))
        stated = {s.kind for s in surely}
        return _Page(as_puzzle(draft), own, stated, told, relations, sheet.unsure, Effort(SECONDS))

    def borne_out(self, sentence: str) -> tuple[str, ...]:
        """The kinds to which a sentence keeps, where all of them are borne out; else none."""
        if makes_an_exception(sentence):
            return ()
        told = {kind: told for kind in self.own if (told := told_within(sentence, kind_named(kind))) is not None}
        fitting = {kind: t for kind, t in told.items() if self._fits(kind, t)}
        return tuple(fitting) if all(self._bears_out(sentence, kind, t) for kind, t in fitting.items()) else ()

    def settled(self) -> bool:
        """Whether nothing that a sentence may turn without naming a relation is left open: repeats in cages, say, are
        told in so many words, or the other way leaves more than one solution."""
        return not any(
            may_be_otherwise(self.puzzle, own, _turned(own, name), self.effort)
            for kind, own in self.own.items()
            for name, field in type(own[0]).model_fields.items()
            if field.annotation is bool and (kind, name) not in self.told
        )

    def _fits(self, kind: str, told: Told) -> bool:
        """Whether the page has the marks that a sentence counts and the numbers that it names."""
        return told.counts <= {len(self.own[kind])} and told.numbers <= self._numbers(kind)

    def _numbers(self, kind: str) -> set[int]:
        """The numbers that one may name who speaks of the marks of a kind: of their cells and their values, and the
        highest and lowest digit."""
        digits = self.puzzle.grid.digits
        sizes = {len(value) for one in self.own[kind] for _, value in one if isinstance(value, tuple)}
        values = {value for one in self.own[kind] for _, value in one if isinstance(value, int)}
        return {2, min(digits), max(digits)} | sizes | values

    def _bears_out(self, sentence: str, kind: str, told: Told) -> bool:
        """Whether the page shows all that a sentence says of a kind."""
        if told.present and kind in self.stated:
            return True
        if kind not in self.stated:
            said = told.marks and bool(told.relations) and not told.allows
        elif sentence in self.in_the_main:
            said = True
        else:
            said = told.marks and (told.allows or told.relations <= self.relations)
        return said and not _is_clear(sentence) and is_borne_out(self.puzzle, kind, self.effort)


def _turned(own: Sequence[Constraint], name: str) -> Iterator[tuple[Constraint, ...]]:
    """The constraints of one kind with a switch of all of them the other way."""
    yield tuple(one.model_copy(update={name: not getattr(one, name)}) for one in own)


def _is_clear(sentence: str) -> bool:
    """Whether a sentence is understood by itself, so that it was not only because it contradicts another."""
    alone = read_rules(sentence)
    return bool(alone.statements) and not alone.unsure and not alone.not_understood


def _answered(draft: Draft, sentence: str, kinds: Collection[str]) -> Draft:
    """The draft without the questions about a sentence, and whether any sentence speaks of the marks of its kinds."""
    gone = {not_understood(sentence), in_the_main(sentence)}
    return replace(draft, doubts=tuple(d for d in draft.doubts if d.why not in gone and not _unspoken(draft, d, kinds)))


def _unspoken(draft: Draft, doubt: Doubt, kinds: Collection[str]) -> bool:
    """Whether a doubt says of a mark of some kinds that the rules do not speak of it."""
    value = () if doubt.item is None else draft.items[doubt.item].value
    if isinstance(value, Given):
        return False
    return bool(value) and all(c.kind in kinds and doubt.why == unspoken(c) for c in value)
