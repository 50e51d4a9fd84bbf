"""Lines of a grey picture whose colours say little: what is printed with a line, and how it ends, say more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from recognise.interpret.colours import SAME, apart, has_hue, is_grey
from recognise.interpret.hints import FAMILIES
from recognise.interpret.mark import Mark
from recognise.interpret.meaning import meaning_of
from recognise.rules import RuleSheet, Statement
from schema.kinds import kind_named
from schema.marks import Seen

BY_DARKNESS = "the picture is grey, and its colour was told by how dark it is"
"""How a doubt about a colour that may as well be another is put."""


USUALLY = 2
"""How well a line fits what is always printed so; what is printed so now and then, 1."""


def by_what_they_are(marks: Iterable[Mark], sheet: RuleSheet | None, house: Sequence[Statement]) -> Iterator[Mark]:
    """The marks; lines whose colour was told by how dark they are, and which cannot be what the rules say of lines of
    that colour, or are seldom printed so, in the one colour of which the rules say what they can be: a number stands at
    the start of some lines and of no others, circles at the ends of some. Where they can be nothing else, their colour
    is not asked about."""
    marks = list(marks)
    words = sorted({s.mark.colour for s in (*(sheet.statements if sheet else ()), *house) if _is_of_lines(s)})
    grey = _is_grey(marks)
    fittings = {
        id(mark): {word: _fitting(replace(mark.seen, colour=word), sheet, house) for word in words}
        for mark in marks
        if mark.seen.family in FAMILIES["line"]
    }
    usual = {
        (mark.seen.family, word) for mark in marks for word, how in fittings.get(id(mark), {}).items() if how == USUALLY
    }
    for mark in marks:
        fitting = fittings.get(id(mark), {})
        asked = BY_DARKNESS in mark.unsaid
        most = max(fitting.values(), default=0)
        best = [word for word, how in fitting.items() if how == most]
        # What is called grey or black is told by its own shade, and not by how that compares with others.
        misnamed = grey and has_hue(mark.seen.colour) and fitting.get(mark.seen.colour, USUALLY) < most
        if len(best) != 1 or not (asked or misnamed):
            yield mark
            continue
        # What all lines of a colour look like that are drawn as it usually is, one drawn otherwise is not.
        elsewhere = {word for family, word in usual if family != mark.seen.family}
        alone = [how > 0 for word, how in fitting.items() if how == USUALLY or word not in elsewhere].count(True) == 1
        sure = alone and (len(words) > 1 or _is_one_shade(mark, marks))
        unsaid = tuple(why for why in mark.unsaid if why != BY_DARKNESS)
        yield replace(
            mark,
            seen=replace(mark.seen, colour=best[0]),
            unsaid=unsaid if sure else (*unsaid, BY_DARKNESS),
        )


def _is_grey(marks: Sequence[Mark]) -> bool:
    """Whether the marks are those of a picture in shades of grey."""
    return all(mark.how != "vector" for mark in marks) and is_grey(mark.paint for mark in marks if mark.paint)


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
    return USUALLY if all(kind_named(s.kind).marks[0] == seen.family for s in meaning.statements) else 1
