"""Questions about sentences of the rules that the proof of the page answers.

A sentence understood only in the main may say something else of its marks, or something more. But a printed puzzle has
one solution: where the marks are needed for it, where nothing else that the trade says of such marks leaves one, and
where the solution breaks every rule that no mark shows and nobody stated, the sentence was read as it is printed. What
is left is a rule that the trade has no kind for, with which what was read comes out by chance."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.lost_rules import unstated_rules
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Item
from recognise.interpret.draft import in_the_main
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.kinds import KINDS, STRUCTURE
from schema.kinds.all_marked import AllMarked
from schema.kinds.base import Constraint, Setting
from schema.puzzle import Puzzle

SECONDS, ONE = 6.0, 1.0
"""Of work, for all sentences of a page, and for one proof."""
PROVED = 0.999
"""At least so sure is a rule that the text alone states when the proof bears its sentence out: 0.94 of such sentences
are read right, and of 772 other rules for the same marks none would have passed
(`python -m fixtures.bench.escapes sentences`)."""
SMALL = range(2, 7)
"""What gaps and ratios are printed: neither is 1, by which any two digits of a row differ."""
SUMS = range(3, 18)
"""What two different digits add up to."""


Stated = tuple[Constraint, ...]


def without_proved(draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None) -> Draft:
    """The draft, which has one `solution`, without the questions about sentences that the proof answers."""
    if sheet is None or not sheet.unsure:
        return draft
    if not breaks_all(draft, solution):
        return draft
    effort, puzzle = Effort(SECONDS), as_puzzle(draft)
    for sentence in sheet.unsure:
        told = [s for s in sheet.statements if s.sentence == sentence and not s.negated]
        kinds = {s.kind for s in told}
        elsewhere = {s.kind for s in sheet.statements if s.sentence != sentence and not _another_case(s, told)}
        # Where another sentence says it, this one may say something more, of which no kind is known.
        alone = kinds and kinds.isdisjoint(elsewhere)
        if alone and all(is_borne_out(puzzle, kind, effort) for kind in sorted(kinds)):
            for one in next((told for told in sheet.together if told[0] == sentence), (sentence,)):
                draft = _answered(draft, one, kinds)
    return draft


def _another_case(statement: Statement, told: Sequence[Statement]) -> bool:
    """Whether a statement says of its kind another number than all that are `told` of it: `×2`, and elsewhere `×3`."""
    same = [s for s in told if s.kind == statement.kind]
    numbers = [{k: v for k, v in s.fields.items() if type(v) is int} for s in (statement, *same)]
    return bool(same) and all(one and one != numbers[0] for one in numbers[1:]) and bool(numbers[0])


def breaks_all(draft: Draft, solution: Mapping[Cell, int]) -> bool:
    """Whether the solution breaks every rule that no mark shows and that nobody stated."""
    for rule in unstated_rules(draft):
        setting = Setting(draft.grid, (*draft.constraints, *rule))
        if not all(constraint.broken(setting, solution) for constraint in rule):
            return False
    return True


def is_borne_out(puzzle: Puzzle, kind: str, effort: Effort) -> bool:
    """Whether the puzzle has one solution with what is stated of a kind, and with nothing else in its stead."""
    own = tuple(c for c in puzzle.constraints if c.kind == kind)
    if kind in STRUCTURE or not own:
        return kind in STRUCTURE
    return not may_be_otherwise(puzzle, own, ((), *other_meanings(own)), effort)


def may_be_otherwise(puzzle: Puzzle, own: Stated, others: Iterable[Stated], effort: Effort) -> bool:
    """Whether any of other meanings of some constraints, of which none at all is one, leaves the puzzle one solution,
    or may."""
    return any(True for _ in _passing(puzzle, own, others, effort))


def _passing(puzzle: Puzzle, own: Stated, others: Iterable[Stated], effort: Effort) -> Iterator[Stated]:
    for other in others:
        rest = (c for c in puzzle.constraints if c not in own and not _lives_on(c, own, other))
        changed = puzzle.model_copy(update={"constraints": (*rest, *other)})
        if not changed.problems() and (effort.left <= 0 or is_unique(changed, effort.part(ONE)) is not False):
            yield other


def _lives_on(constraint: Constraint, own: Stated, other: Stated) -> bool:
    """Whether a constraint says that all marks of one kind are there, and none is of that kind any more."""
    kinds = {one.kind for one in own} - {one.kind for one in other}
    return isinstance(constraint, AllMarked) and constraint.of in kinds


def other_meanings(own: Stated) -> Iterator[Stated]:
    """All else that marks of one kind may state together: their kind with other fields or along their paths backwards,
    and other kinds for such marks."""
    (first, *_) = own
    for kind in (kind for kind in KINDS if _may_be(first, kind)):
        for fields in _fields(kind, own):
            yield from _all_made(kind, own, fields)
            yield from _all_made(kind, [_backwards(one) for one in own], fields)


def _may_be(one: Constraint, kind: type[Constraint]) -> bool:
    """Whether a mark may be one of another kind: which lines have a bulb or circles is what the sentence says."""
    lines = hasattr(one, "path") and "path" in kind.model_fields
    return lines or (bool(set(kind.marks) & set(one.marks)) and kind.model_fields["kind"].default not in STRUCTURE)


def _fields(kind: type[Constraint], own: Stated) -> Iterator[Mapping[str, object]]:
    """The fields that a sentence may state of all marks of a kind: switches, and numbers that all of them share."""
    yield {}
    for name, field in kind.model_fields.items():
        if field.annotation is bool:
            yield from ({name: value} for value in (False, True))
        elif name in ("gap", "ratio"):
            yield from ({name: number} for number in SMALL)
        elif name == "value" and kind.marks[0] == "edge" and len({getattr(one, name, None) for one in own}) == 1:
            yield from ({name: number} for number in SUMS)


def _backwards(one: Constraint) -> Constraint:
    return one.model_copy(update={"path": one.path[::-1]}) if hasattr(one, "path") else one


def _all_made(kind: type[Constraint], own: Sequence[Constraint], fields: Mapping[str, object]) -> Iterator[Stated]:
    """Marks as another kind; nothing where they cannot be that, or say the same as before."""
    try:
        made = tuple(kind.model_validate({**_shared(kind, one), **fields}) for one in own)
    except ValueError:
        return
    if any(new.kind != one.kind or new.identity() != one.identity() for new, one in zip(made, own, strict=True)):
        yield made


def _shared(kind: type[Constraint], one: Constraint) -> dict[str, object]:
    return {name: value for name, value in one if name in kind.model_fields and name != "kind"}


def _answered(draft: Draft, sentence: str, kinds: Collection[str]) -> Draft:
    """The draft without the question about a sentence, and with the rules that it alone states surer."""
    items = tuple(_surer(item, kinds) for item in draft.items)
    doubts = tuple(doubt for doubt in draft.doubts if doubt.why != in_the_main(sentence))
    return replace(draft, items=items, doubts=doubts)


def _surer(item: Item, kinds: Collection[str]) -> Item:
    told = item.how == "text" and isinstance(item.value, tuple) and any(c.kind in kinds for c in item.value)
    return replace(item, confidence=max(item.confidence, PROVED)) if told else item
