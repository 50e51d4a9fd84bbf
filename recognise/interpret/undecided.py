"""Marks to items; those that look alike and that nothing explains are left open together."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from recognise.draft import Doubt
from recognise.interpret.glyphs import WORTH_NAMING
from recognise.interpret.greyed import by_what_they_are
from recognise.interpret.hints import FAMILIES
from recognise.interpret.making import SURELY_SEEN, Making, readings_of
from recognise.interpret.mark import Left, Mark
from recognise.interpret.meaning import UNSAID, Meaning, built, meaning_of
from recognise.interpret.numerals import nearest_numeral
from recognise.interpret.overprints import as_printed
from recognise.interpret.paired import CALLED_OTHERWISE, paired, statements_alone
from recognise.rules import Statement
from schema.cells import Cell
from schema.kinds import kind_named
from schema.marks import Family, Seen

NO_SUCH_COLOUR = "its colour is none that the rules name"

TRIANGLES = "triangle between two cells"
LEAST_TRIANGLES = 3
"""So many inequalities of one page hardly all point one way."""

SHAPE_NAMES = {"line": "line", "ringed-line": "line with ringed ends", "tube": "line with a bulb", "outside": "number"}


def take_marks(making: Making, marks: Sequence[Mark], left: Left) -> None:
    """Take each mark with its meaning; `left` is the evidence that is looked at after them."""
    unexplained: dict[str, list[Mark]] = {}
    by_practice: list[tuple[Mark, Meaning]] = []
    triangles = _triangles(making, marks)
    for mark, meaning in _with_meanings(making, marks):
        plain = triangles.get(mark.seen.cells) if mark.seen.shape == "sign" else None
        if plain is not None and making.speaks_of(plain.seen):
            making.take(plain, making.meaning(plain.seen))
        elif plain is not None:
            unexplained.setdefault(TRIANGLES, []).append(plain)
            by_practice.append((mark, meaning))
        elif meaning.constraints:
            making.take(mark, meaning)
        elif meaning.others and (making.is_open or _is_unsaid(meaning, mark)):
            unexplained.setdefault(looks_of(mark), []).append(mark)
        else:
            _unread(making, mark, meaning)
    pairs = paired(unexplained, statements_alone(making.sheet, making.used, left), making.sheet)
    for looks, alike in unexplained.items():
        if looks in pairs:
            take_paired(making, alike, pairs[looks])
        elif looks == TRIANGLES:
            for mark, meaning in by_practice:
                making.take(mark, meaning)
        else:
            leave_open(making, looks, alike)


def _with_meanings(making: Making, marks: Sequence[Mark]) -> Iterator[tuple[Mark, Meaning]]:
    """Each mark, as it makes sense on its page, with its meaning."""
    marks = list(by_what_they_are(marks, making.sheet, making.house))
    printed = list(as_printed(marks, lambda seen: meaning_of(seen, making.sheet, making.house)))
    known = {mark.seen.family for mark in printed if making.speaks_of(mark.seen)}
    bare = _without_their_ends(printed, making)
    for mark in printed:
        yield (mark, meaning_of(mark.seen, None)) if mark in bare else _as_it_makes_sense(making, mark, known)


def _triangles(making: Making, marks: Sequence[Mark]) -> dict[tuple[Cell, ...], Mark]:
    """Signs between two cells as marks that do not point, by their cells, where several all point one way and the
    printed rules know no inequality: triangles stand there for dots."""
    signs = [mark for mark in marks if mark.seen.family == "edge" and mark.seen.shape == "sign"]
    stated = making.sheet.statements if making.sheet is not None else ()
    spoken = not stated or making.house or any(s.kind == "greater" for s in stated)
    if spoken or len(signs) < LEAST_TRIANGLES or len({mark.seen.text for mark in signs}) != 1:
        return {}
    return {mark.seen.cells: replace(mark, seen=replace(mark.seen, text="", shape="triangle")) for mark in signs}


def _without_their_ends(marks: Sequence[Mark], making: Making) -> list[Mark]:
    """Plain lines of which only what is said of lines with ringed ends can speak, and that have another colour than
    all lines with such ends: their own sentence was lost."""
    ringed = {mark.seen.colour for mark in marks if mark.seen.family == "ringed-line"}

    def is_of_others(mark: Mark) -> bool:
        stated = meaning_of(mark.seen, making.sheet, making.house).statements
        return bool(stated) and all(kind_named(s.kind).marks[0] == "ringed-line" and not s.mark.colour for s in stated)

    plain = (mark for mark in marks if ringed and mark.seen.family == "line" and mark.seen.colour not in ringed)
    return [mark for mark in plain if is_of_others(mark)]


def _is_unsaid(meaning: Meaning, mark: Mark) -> bool:
    """Whether nothing says what a mark means that is surely print."""
    return meaning.why_not == UNSAID and (mark.how == "vector" or mark.confidence >= SURELY_SEEN)


def take_paired(making: Making, marks: Sequence[Mark], statement: Statement) -> None:
    """Take marks for what a sentence speaks of that calls them otherwise."""
    making.used.add(id(statement))
    why = CALLED_OTHERWISE.format(statement.sentence)
    for mark in marks:
        meaning = Meaning(built(statement, mark.seen), (statement,))
        making.take(replace(mark, unsaid=(*mark.unsaid, why)), meaning)


def leave_open(making: Making, looks: str, marks: Sequence[Mark]) -> None:
    """Leave it to the checker what marks of one look mean; where they can mean nothing they are unread."""
    sentences = making.sheet.not_understood if making.sheet is not None else ()
    readings = readings_of(marks, making.house, sentences)
    if readings:
        making.leave_open(looks, readings, marks)
    else:
        for mark in marks:
            _unread(making, mark, making.meaning(mark.seen))


def _as_it_makes_sense(making: Making, mark: Mark, known: Collection[Family]) -> tuple[Mark, Meaning]:
    """A mark with its meaning: where the rules make nothing of its text, in another reading of that text of which they
    do, or else, in a picture, in another colour; with a question. `known` are the families of which some marks are
    explained as they are."""
    meaning = making.meaning(mark.seen)
    if meaning.statements:
        return mark, meaning
    other = _as_stated_numeral(making, mark)
    if other is None and not meaning.constraints:
        other = _in_other_words(making, mark) or _in_any_colour(making, mark, known)
    return (mark, meaning) if other is None else (other, making.meaning(other.seen))


def _in_other_words(making: Making, mark: Mark) -> Mark | None:
    """A mark in the likeliest other reading of its text that the rules explain."""
    for guess in mark.texts:
        if guess.text and guess.probability > WORTH_NAMING:
            as_number = mark.seen.shape == "letter" and guess.text.isdecimal()
            shape = "number" if as_number else mark.seen.shape
            seen = replace(mark.seen, text=guess.text, shape=shape)
            if meaning_of(seen, making.sheet, making.house).statements:
                return _read_as(mark, seen, guess.probability)
    return None


def _as_stated_numeral(making: Making, mark: Mark) -> Mark | None:
    """A worn mark between two cells as the numeral of the rules that its text is most like."""
    if mark.seen.family != "edge" or mark.how == "vector" or making.sheet is None:
        return None
    nearest = nearest_numeral(mark.seen.text, making.sheet.statements)
    seen = replace(mark.seen, text=nearest or "", shape="letter")
    return _read_as(mark, seen, mark.confidence) if nearest else None


def _read_as(mark: Mark, seen: Seen, confidence: float) -> Mark:
    asks = (*mark.asks, f"as it was read, “{mark.seen.text}”, it means nothing here")
    return replace(mark, seen=seen, confidence=confidence, asks=asks)


def _in_any_colour(making: Making, mark: Mark, known: Collection[Family]) -> Mark | None:
    """A line or a mark in a cell of a picture, where every sentence is understood and only its colour is none that they
    name, as what is said of such marks, if that is one thing: print fades, and light has a colour. Not a line where the
    page has lines of the colours that are named."""
    is_line = mark.seen.family in FAMILIES["line"]
    if mark.how == "vector" or making.is_open or (mark.seen.family in known if is_line else mark.seen.family != "cell"):
        return None
    uncoloured = replace(mark.seen, colour="")
    said = meaning_of(uncoloured, making.sheet, making.house).statements
    if not said or any(kind_named(s.kind).marks[0] != mark.seen.family for s in said):
        return None
    return replace(mark, seen=uncoloured, unsaid=(*mark.unsaid, NO_SUCH_COLOUR))


def looks_of(mark: Mark) -> str:
    """What a mark looks like, in a few words: those that share them are taken for marks of one rule."""
    seen = mark.seen
    shape = SHAPE_NAMES.get(seen.family, seen.shape or seen.family)
    place = {"outside": "outside the grid", "edge": "between two cells", "cell": "in a cell"}.get(seen.family, "")
    plain = seen.shape in ("letter", "number", "sign") or seen.family == "outside"
    return " ".join(filter(None, ("" if plain else seen.colour, shape, place)))


def _unread(making: Making, mark: Mark, meaning: Meaning) -> None:
    seen = mark.seen
    cells = dict.fromkeys((*seen.cells, *(cell for path in seen.paths for cell in path)))
    sure = 1.0 if mark.how == "vector" else mark.confidence
    why = f"{mark.name}: {_why(meaning)}"
    making.unread(seen.shape or seen.family, mark.where, tuple(cells), why, mark.claims, sure)
    making.doubts.extend(Doubt(why, where=mark.where) for why in (*mark.asks, *mark.unsaid))


def _why(meaning: Meaning) -> str:
    if meaning.others:
        return f"{meaning.why_not} ({', '.join(kind.name for kind in meaning.others)})"
    return meaning.why_not or "its meaning is not known"
