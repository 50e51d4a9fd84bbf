"""Lines of a grey picture whose colours say little: what is printed with a line, and how it ends, say more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from recognise.interpret.hints import FAMILIES
from recognise.interpret.mark import Mark
from recognise.interpret.meaning import meaning_of
from recognise.rules import RuleSheet, Statement
from schema.kinds import kind_named
from schema.marks import Seen

BY_DARKNESS = "the picture is grey, and its colour was told by how dark it is"
"""How a doubt about a colour that may as well be another is put."""


def by_what_they_are(marks: Iterable[Mark], sheet: RuleSheet | None, house: Sequence[Statement]) -> Iterator[Mark]:
    """The marks; lines whose colour was told by how dark they are, and which cannot be what the rules say of lines of
    that colour, in the one colour of which the rules say what they can be: a number stands at the start of some lines
    and of no others, circles at the ends of some."""
    words = sorted({s.mark.colour for s in (*(sheet.statements if sheet else ()), *house) if _is_of_lines(s)})
    for mark in marks:
        if BY_DARKNESS in mark.unsaid and mark.seen.family in FAMILIES["line"]:
            fitting = {word: _fitting(replace(mark.seen, colour=word), sheet, house) for word in words}
            best = [word for word, how in fitting.items() if how == max(fitting.values())]
            yield replace(mark, seen=replace(mark.seen, colour=best[0])) if len(best) == 1 else mark
        else:
            yield mark


def _is_of_lines(statement: Statement) -> bool:
    marks = kind_named(statement.kind).marks
    return bool(statement.mark.colour) and not statement.negated and any(f in marks for f in FAMILIES["line"])


def _fitting(seen: Seen, sheet: RuleSheet | None, house: Sequence[Statement]) -> int:
    """How well the rules explain a line: not, as what is printed so now and then, or as what is always printed so."""
    meaning = meaning_of(seen, sheet, house)
    if not meaning.constraints or not meaning.statements:
        return 0
    return 2 if all(kind_named(s.kind).marks[0] == seen.family for s in meaning.statements) else 1
