"""Lines of a grey picture whose colours say little: what is printed with a line, and how it ends, say more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from recognise.interpret.colours import SAME, apart
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
    and of no others, circles at the ends of some. Where they can be nothing else, their colour is not asked about."""
    marks = list(marks)
    words = sorted({s.mark.colour for s in (*(sheet.statements if sheet else ()), *house) if _is_of_lines(s)})
    for mark in marks:
        if BY_DARKNESS not in mark.unsaid or mark.seen.family not in FAMILIES["line"]:
            yield mark
            continue
        fitting = {word: _fitting(replace(mark.seen, colour=word), sheet, house) for word in words}
        best = [word for word, how in fitting.items() if how == max(fitting.values())]
        if len(best) != 1:
            yield mark
            continue
        told = replace(mark, seen=replace(mark.seen, colour=best[0]))
        alone = [how > 0 for how in fitting.values()].count(True) == 1
        sure = alone and (len(words) > 1 or _is_one_shade(mark, marks))
        yield replace(told, unsaid=tuple(why for why in told.unsaid if why != BY_DARKNESS)) if sure else told


def _is_one_shade(mark: Mark, marks: Sequence[Mark]) -> bool:
    """Whether all lines that are drawn like this one are as dark as it: of another colour, of which the rules do not
    speak, there may be others."""
    paints = [other.paint for other in marks if other.seen.family == mark.seen.family and other.paint]
    return all(mark.paint is not None and apart(mark.paint, paint) <= SAME for paint in paints)


def _is_of_lines(statement: Statement) -> bool:
    marks = kind_named(statement.kind).marks
    return bool(statement.mark.colour) and not statement.negated and any(f in marks for f in FAMILIES["line"])


def _fitting(seen: Seen, sheet: RuleSheet | None, house: Sequence[Statement]) -> int:
    """How well the rules explain a line: not, as what is printed so now and then, or as what is always printed so."""
    meaning = meaning_of(seen, sheet, house)
    if not meaning.constraints or not meaning.statements:
        return 0
    return 2 if all(kind_named(s.kind).marks[0] == seen.family for s in meaning.statements) else 1
