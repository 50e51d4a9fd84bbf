"""Statements found by leaving words out, of which the second opinion has no doubt either: two readers that know nothing
of each other agree.

One leaves out words of place and manner and reads the grammar of the rest (`loose.py`), the other looks at which
concepts keep company (`opinion.py`). On texts that neither had learnt from they agreed on 42 statements, all of them
right; on those that the opinion was learnt from on 122, of which 2 were wrong (counted with gists, which are left out
here since, and before the denials and strange words that are left out too).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recognise.rules.lexicon import bag
from recognise.rules.loose import GIST_COST
from recognise.rules.opined import STRANGE, answers_of, looked_at
from recognise.rules.opinion import RULE_OF_NO_KIND, opinion
from recognise.rules.pattern import named
from recognise.rules.readings import Reading
from recognise.rules.words import Sentence

LEAST = 0.6
"""The opinion's chance from which it agrees; on the texts measured those between 0.3 and 0.6 were right as well, but
fewer."""


_NEVER = bag("SIGNED OTHER EXCEPT SECOND UNKNOWN")
_UNITS = bag("ROW COLUMN SUDOKU")


def borne_out(reading: Reading | None, sentences: Sequence[Sentence]) -> Reading | None:
    """The reading, no longer unsure where the second opinion of its sentences agrees with all that it states.

    The opinion knows of company and not of order: it does not hear a second denial, nor whose word a strange one is,
    and the gist of a sentence is too near to what it looks at itself to be another reader's. Of rows and columns that
    are told together with boxes none may be lost."""
    if reading is None or not reading.unsure or not reading.statements or reading.cost >= GIST_COST:
        return reading
    concepts = [named(c) for s in sentences for c in s.concepts]
    if concepts.count("NEG") > 1 or _NEVER.intersection(concepts):
        return reading
    kinds = {s.kind for s in reading.statements}
    if kinds & {"rows", "columns"} and (_UNITS.isdisjoint(concepts) or ("BOX" in concepts and "boxes" not in kinds)):
        return reading
    chances = opinion(looked_at([s.text for s in sentences]))
    if chances.get(RULE_OF_NO_KIND, 0.0) >= STRANGE:
        return reading
    answers = [answer for s in reading.statements for answer in answers_of(s.kind, s.fields, s.negated)]
    agreed = bool(answers) and all(chances.get(answer, 0.0) >= LEAST for answer in answers)
    return replace(reading, unsure=False) if agreed else reading
