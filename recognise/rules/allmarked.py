"""`All possible dots are given`, `not all dots are given`, `unmarked pairs are not consecutive`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from recognise.rules.pattern import NEUTRAL, Concepts, hint, named
from recognise.rules.sheet import MarkHint, Statement

PAIR_KINDS = ("consecutive-pair", "ratio-pair", "sum-pair", "greater")

_NOUNS = {"MARK", "DOT", "BAR", "CIRCLE", "DIAMOND", "SIGN", "LETTER", "SQUARE"}
_AROUND = (
    NEUTRAL
    | _NOUNS
    | {"COLOUR", "STYLE", "EDGE", "BETWEEN", "ADJACENT", "SHARESIDE", "JOIN", "MARK", "POSSIBLE", "THIS"}
)
_RELATIONS = {"CONSECUTIVE": "consecutive-pair", "DIFF": "consecutive-pair", "TIMES": "ratio-pair", "SUM": "sum-pair"}


_ABSENCE_TELLS_NOTHING = re.compile(r"(?<!\S)UNMARKED (?:\S+ )*?(?:NEG|NEEDNOT) (?:HOLD )?(?:MEAN|SEE|GIVEN)(?!\S)")
"""`A missing dot does not mean anything`."""


def all_marked(concepts: Concepts) -> list[Statement] | None:
    """Whether a mark stands wherever it could stand. `of` is missing where the clause names no relation: `settled`
    finds the pair kinds that the rest of the text gives to such a mark."""
    names = {named(c) for c in concepts}
    look = hint([c for c in concepts if c != "LINE"])
    relations = {kind for name, kind in _RELATIONS.items() if name in names}
    if _ABSENCE_TELLS_NOTHING.search(" ".join(concepts)):
        return [Statement("all-marked", {"of": kind}, look, negated=True) for kind in sorted(relations)] or [
            Statement("all-marked", {}, look, negated=True)
        ]
    told = _whether_all(names)
    if told is not None:
        return [Statement("all-marked", {}, look, negated=not told)]
    if _all_pairs_are_given(concepts, names, relations):
        return [Statement("all-marked", {"of": kind}, MarkHint()) for kind in sorted(relations)]
    not_all = _not_all(names, relations, look)
    if not_all is not None:
        return not_all
    denied = "UNMARKED" in names and names & {"NEG", "NONCONSECUTIVE", "EXCLUDED"} and not _relation_first(concepts)
    if (
        not relations
        or not denied
        or names - _AROUND - set(_RELATIONS) - {"UNMARKED", "NEG", "NUM", "NONCONSECUTIVE", "CLUE", "COUNT", "EXCLUDED"}
    ):
        return None
    return [Statement("all-marked", {"of": kind}, look) for kind in sorted(relations)]


def _all_pairs_are_given(concepts: Concepts, names: set[str], relations: set[str]) -> bool:
    """`All pairs of neighbours with this sum are marked`: without a word of the marks, which are told elsewhere."""
    if len(relations) != 1 or names & _NOUNS or names - _AROUND - set(_RELATIONS) - {"NUM"}:
        return False
    return (
        [named(c) for c in concepts if c != "AND"][:1] == ["ALL"] and {"PAIR", "GIVEN"} <= names and "MAY" not in names
    )


def _not_all(names: set[str], relations: set[str], look: MarkHint) -> list[Statement] | None:
    """What a clause says that has no noun for the marks, or names their relation: `consecutive digits need not be
    marked`, `there may be consecutive pairs without a dot`."""
    if "NOTALL" in names and not names - _AROUND - {"NOTALL", "CLUE", "OUTSIDE", "UNMARKED"}:
        of_pairs = not names & {"CLUE", "OUTSIDE", "DIGIT", "CELL", "GRID"}
        return [Statement("all-marked", {}, MarkHint(), negated=True)] if of_pairs else []
    not_marked = {"NEEDNOT", "GIVEN"} <= names or {"MAY", "UNMARKED"} <= names or ("NOTALL" in names and names & _NOUNS)
    if not not_marked or len(relations) != 1 or names - _AROUND - set(_RELATIONS) - {"NEEDNOT", "UNMARKED", "NOTALL"}:
        return None
    return [Statement("all-marked", {"of": kind}, look, negated=True) for kind in relations]


def _whether_all(names: set[str]) -> bool | None:
    """What a clause says of all marks, or of what has none, without naming their relation; None for no such clause."""
    rest = names - _AROUND
    if "NOTALL" in names and names & (_NOUNS | {"COLOUR"}) and not rest - {"NOTALL", "NEG", "NEEDNOT"}:
        return False
    if "EVERYMARK" in names and not rest - {"EVERYMARK", "NUM", "NEG"}:
        return "NEG" not in names
    if "UNMARKED" in names and not rest - {"UNMARKED", "NOTHINGMEANS", "NEG"} and rest & {"NOTHINGMEANS", "NEG"}:
        return "NOTHINGMEANS" not in names
    return None


def _relation_first(concepts: Concepts) -> bool:
    """Whether a mark's meaning is told before what its absence says: two rules, and not one."""
    order = [named(c) for c in concepts]
    return min((order.index(r) for r in _RELATIONS if r in order), default=len(order)) < order.index("UNMARKED")


def says_every_pair(concepts: Concepts) -> bool:
    """Whether a clause that gives a mark its meaning also says that every such pair is marked: the relation has to
    belong to `all pairs` (`every pair of consecutive digits is marked by a bar`), not to the marked pairs."""
    order = [named(c) for c in concepts]
    related = [i for i, name in enumerate(order) if name in _RELATIONS]
    mark = next((i for i, name in enumerate(order) if name in _NOUNS - {"MARK"}), None)
    every = next(
        (
            i
            for i, n in enumerate(order)
            if n == "ALL"
            and order[i + 1 : i + 2]
            and (order[i + 1] in ("PAIR", "ADJACENT", "TWO", "NEUTRALNOUN") or "IF" in order[i + 1 : i + 3])
        ),
        None,
    )
    if not related or mark is None or "SOME" in order[:mark]:
        return False  # `a few X, at each of which two neighbours make 10`
    if "IFF" in order:
        return True  # `a bar stands between two cells if and only if they are consecutive`
    relation = related[0]
    if "IF" in order[: relation - 1] and relation < mark and not _NOUNS & set(order[:relation]):
        return "MAY" not in order[relation:mark]  # `whenever two cells are consecutive, a bar is printed`
    if every is None or related[-1] < every:
        return False
    relation = next(i for i in related if i > every)
    return not every < mark < relation


def settled(statements: Sequence[Statement]) -> tuple[list[Statement], list[Statement]]:
    """Give each `all-marked` its `of` from the pair kinds that the text states for such a mark. Returns the statements
    and those `all-marked` for which the text states none."""
    pairs = [s for s in statements if s.kind in PAIR_KINDS]
    # `Every white dot is given, so neighbours without one are not consecutive`: without one of those just named.
    named_marks = {s.sentence for s in statements if s.kind == "all-marked" and s.mark != MarkHint()}
    statements = [s for s in statements if not (_says_no_mark(s) and s.sentence in named_marks)]
    found: list[Statement] = []
    lost: list[Statement] = []
    for statement in statements:
        if statement.kind != "all-marked":
            found.append(statement)
            continue
        # `Not every such pair is marked`: such as was told before, where any was.
        before = [s for s in found if s.kind in PAIR_KINDS] if _says_no_mark(statement) else []
        kinds = (
            [str(statement.fields["of"])] if "of" in statement.fields else _kinds_of(statement.mark, before or pairs)
        )
        if not kinds and not statement.negated:  # that not all are there changes nothing where nothing is said of them
            lost.append(statement)
        found += [replace(statement, fields={"of": kind}) for kind in kinds]
    return found, lost


def _says_no_mark(statement: Statement) -> bool:
    return statement.kind == "all-marked" and statement.mark == MarkHint() and "of" not in statement.fields


def _kinds_of(mark: MarkHint, pairs: Sequence[Statement]) -> list[str]:
    fits = [p for p in pairs if _could_be(mark, p.mark)]
    return list(dict.fromkeys(p.kind for p in fits))


def _could_be(said: MarkHint, mark: MarkHint) -> bool:
    shapes = {"circle": "dot"}
    same_shape = shapes.get(said.shape, said.shape) in ("", shapes.get(mark.shape, mark.shape))
    return same_shape and said.colour in ("", mark.colour) and (not said.letter or said.letter == mark.letter)
