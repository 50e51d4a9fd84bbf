"""What must not be lost when clauses are read together: a rule of its own that the others state nothing of."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.rules.lexicon import bag
from recognise.rules.loose import EVERY_PLACE
from recognise.rules.pattern import MARKS, NEUTRAL, SUBJECTS, named
from recognise.rules.phrases import reduced
from recognise.rules.readings import Reading, explain

Atom = tuple[int, tuple[str, ...]]
"""A clause as concepts, with the place of its sentence."""

_DENIES = bag("NEG NOREPEAT DIFFER NONCONSECUTIVE FORBIDDEN")
_WHERE = bag("CELL APART MOVE ADJACENT SHARESIDE EVENDIAGONALLY CHESS UNKNOWN KNIGHT KING")
_OF_ANOTHER = (SUBJECTS - bag("KNIGHT KING")) | bag("IT UNMARKED BULB TIP")


def swallows(parts: Sequence[tuple[str, ...]]) -> bool:
    """Whether one of several clauses could be a rule of its own about cells (`cells a ... move apart never hold the
    same digit`, with a word that OCR or the lexicon lost) and another states something without it."""
    if len(parts) == 1:
        return False
    if any(_says_all_given(part) for part in parts[1:]) or _adds_regions(parts):
        return True
    if _goes_on(parts[0]):
        rest_whole = tuple(c for other in parts[1:] for c in other)
        alone, together = explain(rest_whole), explain(tuple(c for part in parts for c in part))
        if alone is not None and together is not None and alone.statements and alone.statements == together.statements:
            return True
    for at, part in enumerate(parts):
        if _could_stand_alone(part):
            rest = [*parts[:at], *parts[at + 1 :]]
            whole = tuple(c for other in rest for c in other)
            if _telling(part) and _telling(part) <= _telling(whole):
                continue  # it says again what the others say: `nor neighbours of any sort`
            if any((told := explain(other)) is not None and told.statements for other in (*rest, whole)):
                return True
    return False


def _adds_regions(parts: Sequence[tuple[str, ...]]) -> bool:
    """Whether one of several clauses speaks of additional regions and another of marks or numbers that are none."""
    names = [{named(c) for c in part} for part in parts]
    adding = [at for at, told in enumerate(names) if {"ADDITIONALLY", "REGION"} <= told]
    return any(told & _NO_REGIONS for at, told in enumerate(names) if at not in adding) if adding else False


_NO_REGIONS = bag("TOWER SUM LINE THERMO ARROW CAGE DOT OUTSIDE CLUE SEE")

_RELATES = bag("SUM PRODUCT QUOTIENT DIFFERENCE NOREPEAT DIFFER CONSECUTIVE INCREASE MAYREPEAT")


def _goes_on(clause: Sequence[str]) -> bool:
    """Whether a clause goes on about the marks of the one before: `and do not repeat`, `and sum to it`."""
    names = {named(c) for c in reduced(tuple(clause))}
    return clause[0] == "AND" and bool(names & _RELATES) and not names & (SUBJECTS | _WHERE)


def mixes_colours(atoms: Sequence[Atom]) -> bool:
    """Whether sentences speak of marks of different colours: `White dots: consecutive. Black: double.`"""
    by_sentence: dict[int, set[str]] = {}
    for at, atom in atoms:
        by_sentence.setdefault(at, set()).update(c for c in atom if c.startswith("COLOUR"))
    told = [colours for colours in by_sentence.values() if colours]
    return any(colours != told[0] for colours in told[1:])


def takes_back(atoms: Sequence[Atom]) -> bool:
    """Whether one sentence on cages permits the repeats that another forbids: `No repeats. The blue ones have some`."""
    by_sentence: dict[int, set[str]] = {}
    for at, atom in atoms:
        by_sentence.setdefault(at, set()).update(named(c) for c in reduced(atom))
    if not any("CAGE" in names for names in by_sentence.values()):
        return False
    forbids = {at for at, names in by_sentence.items() if not names.isdisjoint(_FORBIDS)}
    permits = {at for at, names in by_sentence.items() if "MAYREPEAT" in names or names >= _MAY_BE_EQUAL}
    return bool(forbids) and bool(permits - forbids)


_FORBIDS, _MAY_BE_EQUAL = bag("NOREPEAT DIFFER"), bag("MAY EQUAL DIGIT")


def narrows(atoms: Sequence[Atom]) -> bool:
    """Whether a sentence tells of repeats in cages of one colour, and one before it speaks of cages of any: `Cages sum
    to their number. In a grey cage digits may repeat.`"""
    any_cage: set[int] = set()
    for at, atom in atoms:
        names = {named(c) for c in reduced(atom)}
        if "CAGE" in names and "COLOUR" in names and names & (_FORBIDS | {"MAYREPEAT"}) and any_cage - {at}:
            return True
        if "CAGE" in names and "COLOUR" not in names:
            any_cage.add(at)
    return False


def loses_a_sentence(atoms: Sequence[Atom], reading: Reading) -> bool:
    """Whether the first of sentences that are joined states by itself what they do not state together, or more of them
    deny something of cells than rules are stated: `... a knight's move apart differ. They don't touch either.`"""
    denials: dict[int, set[str]] = {}
    for at, atom in atoms:
        denials.setdefault(at, set()).update(named(c) for c in reduced(atom))
    if sum(bool(names & _DENIES and names & (_WHERE | SUBJECTS)) for names in denials.values()) > max(
        1, len(reading.statements)
    ):
        return True
    first = tuple(c for at, atom in atoms for c in atom if at == atoms[0][0])
    alone = explain(first)
    if alone is None or not alone.statements:
        return _is_of_other_marks(first, tuple(c for at, atom in atoms for c in atom if at != atoms[0][0]), reading)
    return not {s.kind for s in alone.statements} <= {s.kind for s in reading.statements}


def _is_of_other_marks(first: tuple[str, ...], rest: tuple[str, ...], reading: Reading) -> bool:
    """Whether a sentence that nobody understands speaks of digits and of marks that those after it do not name, and
    these state without it what all state together: `On a line between two squares, every digit ... Diamond: ...`"""
    own, others = ({named(c) for c in told} for told in (first, rest))
    marks = own & MARKS
    if not marks or marks & others or not others & MARKS or not own & _DIGITS:
        return False
    without = explain(rest)
    told, alone = ([(s.kind, s.fields) for s in r.statements] if r else [] for r in (reading, without))
    return bool(told) and told == alone


_DIGITS = bag("DIGIT ALLDIGITS")

_BY_WORDS = bag("knight-apart king-apart neighbours-not-consecutive")


def swallows_a_sentence(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether the last of several sentences is a rule about cells by itself."""
    last = atoms[end - 1][0]
    if end - start == 1 or atoms[end - 2][0] == last or (end < len(atoms) and atoms[end][0] == last):
        return False
    alone = explain(atoms[end - 1][1])
    return alone is not None and any(s.kind in _BY_WORDS for s in alone.statements)


_UNITS = bag("ROW COLUMN BOX")
_TOUCH = bag("ADJACENT SHARESIDE EVENDIAGONALLY")


def breaks_off(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether clauses of several sentences begin in the midst of a list of rows, columns and boxes, or end with the
    beginning of a sentence that speaks of cells that touch: `... | If two cells touch, | they are different.`"""
    last = atoms[end - 1][0]
    if start and atoms[start - 1][0] == atoms[start][0] and not _UNITS.isdisjoint(map(named, atoms[start][1])):
        return True
    if atoms[start][0] == last or end == len(atoms) or atoms[end][0] != last:
        return False
    return any(named(c) in _TOUCH for at, atom in atoms[start:end] if at == last for c in atom)


def _says_all_given(clause: Sequence[str]) -> bool:
    """Whether a clause says that all pairs of a sort are marked, or all such places: it is a rule, and not more about
    the marks."""
    names = [named(c) for c in clause if c != "AND"]
    pairs = "PAIR" in names and not {"GIVEN", *_SET_BETWEEN}.isdisjoint(names)
    return names[:1] == ["ALL"] and (pairs or EVERY_PLACE.issubset(names))


_SET_BETWEEN = bag("DOT BAR DIAMOND CIRCLE SIGN LETTER ONE")


def _telling(clause: Sequence[str]) -> set[str]:
    return {c for c in reduced(tuple(clause)) if named(c) not in NEUTRAL | _DENIES}


def _could_stand_alone(clause: Sequence[str]) -> bool:
    names = {named(c) for c in clause}
    return bool(names & _DENIES and names & _WHERE) and not names & _OF_ANOTHER
