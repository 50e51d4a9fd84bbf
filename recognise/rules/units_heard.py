"""Rows, columns and boxes that a sentence names beside others by a word of its own: `rows, columns and nests`, `just as
the rows and columns do`.

The patterns know some of them and take the rest for talk; the language network hears all three. Of 61 such rows,
columns and boxes in texts of the voices all were meant, and so were 8 in two hundred texts that it had never seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set
from dataclasses import replace

from recognise.rules.agreed import BASE, OTHERWISE
from recognise.rules.by_sense import ELSE, Senses, has_strange_words
from recognise.rules.exceptions import makes_an_exception, may_fall_short
from recognise.rules.readings import Reading
from recognise.rules.sheet import Statement
from recognise.rules.words import Sentence

HEARD, IN_A_WORD = 0.995, 0.95
"""The chance from which a row, column or box that no word names is surely meant, and where there is a word that the
lexicon does not have."""

_NAMES = {
    "rows": re.compile(r"\brows?\b", re.I),
    "columns": re.compile(r"\bcolumns?\b", re.I),
    "boxes": re.compile(
        r"\b(?:box(?:es)?|blocks?|nonets?|regions?|areas?|pieces?|jigsaws?|squares?|quarters?)\b", re.I
    ),
}
"""What calls them by their name: where all words are known and none of these is among them (`row, column or diagonal`),
what is heard is the habit of such sentences."""

Readings = Sequence[tuple[range, Reading | None]]


def with_units_heard(
    readings: Readings, found: Sequence[Sentence], heard: Senses
) -> list[tuple[range, Reading | None]]:
    """The readings, those that state some of rows, columns and boxes with the others that are surely heard there and
    that no reading states or denies."""
    known = {s.kind for _, reading in readings if reading is not None for s in reading.statements}
    made: list[tuple[range, Reading | None]] = []
    for where, reading in readings:
        new: tuple[Statement, ...] = ()
        if reading is not None and _states_units(reading) and not known >= BASE:
            new = tuple(_missing([found[i] for i in where], known, found, heard))
            known |= {s.kind for s in new}
        made.append((where, reading if reading is None else replace(reading, statements=(*reading.statements, *new))))
    return made


def _states_units(reading: Reading) -> bool:
    return not reading.gloss and any(s.kind in BASE and not s.negated for s in reading.statements)


def _missing(
    sentences: Sequence[Sentence], known: Set[str], text: Sequence[Sentence], heard: Senses
) -> Iterator[Statement]:
    """What some sentences of a text surely name besides what is `known`; nothing that is denied anywhere in it."""
    concepts = {c for s in sentences for concept in s.concepts for c in concept.split()}
    if any(makes_an_exception(s.text) or may_fall_short(s.text) for s in sentences) or OTHERWISE & concepts:
        return
    strange = any(map(has_strange_words, sentences))
    least = IN_A_WORD if strange else HEARD
    named = [kind for kind in sorted(BASE - known) if strange or any(_NAMES[kind].search(s.text) for s in sentences)]
    for kind in named:
        if _chance(kind, sentences, heard) >= least and _chance(f"!{kind}", text, heard) < ELSE:
            irregular = kind == "boxes" and _chance("boxes irregular", sentences, heard) >= least
            yield Statement(kind, {"irregular": True} if irregular else {})


def _chance(answer: str, sentences: Sequence[Sentence], heard: Senses) -> float:
    return max(heard.chances(s).get(answer, 0.0) for s in sentences)
