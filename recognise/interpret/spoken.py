"""Which looks of marks the rules of a page speak of, in the words of those who look for marks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from recognise.interpret.hints import FAMILIES, PLACES
from recognise.marks.spoken import SILENT, Spoken
from recognise.rules import RuleSheet, Statement
from schema.kinds import kind_named
from schema.marks import Family

LINES: dict[Family, str] = {"line": "LINE", "ringed-line": "LINE", "tube": "TUBE", "arrow": "SHAFT"}
DOTS = frozenset(("white dot", "dark dot"))
ON_EDGES: dict[str, frozenset[str]] = {
    "dot": DOTS,
    "circle": DOTS,
    "bar": frozenset(("bar",)),
    "diamond": frozenset(("diamond",)),
    "square": frozenset(("square",)),
    "letter": frozenset(("text", "sign", *DOTS)),
    "sign": frozenset(("sign", "text")),
    "number": frozenset(("text", *DOTS)),
}
"""What a mark on an edge looks like that rules call so; a letter or number may stand in a dot."""
AS_LARGE: frozenset[Family] = frozenset(("outside",))
"""Marks that are figures set as large as givens: no picture loses them sooner."""
IN_CELLS: dict[str, frozenset[str]] = {
    "circle": frozenset(("circle",)),
    "dot": frozenset(("circle",)),
    "square": frozenset(("square", "tint")),
    "tint": frozenset(("square", "tint")),
    "diamond": frozenset(("diamond",)),
}


def spoken_of(sheet: RuleSheet | None, house: Sequence[Statement] = ()) -> Spoken:
    """What a page's rules, and the house style beside them, say of the looks of its marks; nothing where no rules are
    printed."""
    if sheet is None:
        return SILENT
    stated = [s for s in (*sheet.statements, *house) if not s.negated]
    by_statement = [(s, families_of(s)) for s in stated]
    families = {family for _, found in by_statement for family in found}
    lines = [s for s, found in by_statement if "line" in found or "ringed-line" in found]
    ringed = [s for s in lines if kind_named(s.kind).marks[0] == "ringed-line" or s.mark.place == "ends"]
    in_cells = [s for s, found in by_statement if "cell" in found]
    whole = not sheet.unsure and not sheet.not_understood
    return Spoken(
        links=frozenset(LINES[family] for family in families if family in LINES),
        lines=len({(s.kind, s.mark.colour) for s, found in by_statement if not LINES.keys().isdisjoint(found)}),
        edges=_looks(_on_edge(s) for s, found in by_statement if "edge" in found),
        no_edges="edge" not in families,
        cells=_looks(IN_CELLS.get(s.mark.shape, frozenset()) for s in in_cells),
        by_colour=_have_own_colours(by_statement),
        ringed=bool(ringed),
        ringed_only=bool(ringed) and len(ringed) == len(lines),
        circles="arrow" in families or any(s.mark.shape in ("", "circle", "dot") for s in in_cells),
        written=any("edge" in found and _has_number(s) for s, found in by_statement),
        arrowed="outside-diagonal" in families,
        bare="outside" in families,
        no_cages=bool(stated) and "cage" not in families,
        markless=whole and bool(stated) and families <= AS_LARGE,
        no_diagonals=bool(families) and "diagonal" not in families,
        whole=whole,
    )


def families_of(statement: Statement) -> tuple[Family, ...]:
    """The marks that a sentence may speak of: those of its kind that look as it says, or all of them where none do."""
    marks: tuple[Family, ...] = tuple(family for family in kind_named(statement.kind).marks if family != "rule")
    hint = statement.mark
    looks = [FAMILIES.get(hint.shape, marks), PLACES[hint.place] if hint.place else marks]
    fitting = tuple(family for family in marks if all(family in look for look in looks))
    return fitting or marks


def _has_number(statement: Statement) -> bool:
    """Whether a number may stand with a mark: all of its kind have one, or its sentence says that some do."""
    return "value" in kind_named(statement.kind).model_fields or statement.fields.get("ratio") == "printed"


def _have_own_colours(by_statement: Sequence[tuple[Statement, tuple[Family, ...]]]) -> bool:
    """Whether every sentence on plain lines names a colour, and none on tubes or arrows the same one."""
    colours: dict[str, set[str]] = {}
    for statement, families in by_statement:
        for name in {LINES[family] for family in families if family in LINES}:
            colours.setdefault(name, set()).add(statement.mark.colour)
    plain = colours.pop("LINE", set())
    return bool(plain) and bool(colours) and "" not in plain and plain.isdisjoint(set().union(*colours.values()))


def _on_edge(statement: Statement) -> frozenset[str]:
    hint = statement.mark
    if hint.shape in ("dot", "circle") and hint.colour in ("white", "black"):
        return frozenset(("white dot" if hint.colour == "white" else "dark dot",))
    return ON_EDGES.get("letter" if hint.letter else hint.shape, frozenset())


def _looks(found: Iterable[frozenset[str]]) -> frozenset[str]:
    """All looks together; none where one sentence leaves open what its mark looks like."""
    sets = list(found)
    return frozenset().union(*sets) if all(sets) else frozenset()
