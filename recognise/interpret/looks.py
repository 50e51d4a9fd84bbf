"""What marks look like in the words of the rules: colours, and whether a line is thick or thin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product

from ingest.page import Colour
from recognise.interpret.colours import SAME, apart, has_hue, is_grey, names_for, names_in_grey, plain_name
from recognise.interpret.greyed import BY_DARKNESS
from recognise.interpret.hints import DOUBLE, FAMILIES
from recognise.interpret.mark import Mark
from recognise.interpret.spoken import families_of
from recognise.rules import MarkHint, Statement
from schema.marks import Family, Seen

LINES: tuple[Family, ...] = ("tube", "line", "ringed-line")
PLAIN = "lines"
"""Lines and tubes, as a family that the rules speak of with one set of colours."""
CLEARLY = 1.6
"""How many times as wide thick lines are as thin ones where a page has both."""


def settled_looks(marks: Sequence[Mark], rules: Sequence[Statement]) -> list[Mark]:
    """Marks with their colours named, and lines told apart by width where the rules do: the words of the rules decide
    among the looks that a page has."""
    found = list(marks)
    grey = all(mark.how != "vector" for mark in marks) and is_grey(mark.paint for mark in marks if mark.paint)
    ringed = _share_a_name(marks, rules)
    # Lines with circles at their ends come first: the colour that they have is seldom that of others.
    families = sorted(dict.fromkeys(_together(mark.seen, ringed) for mark in marks), key=lambda name: name == PLAIN)
    for family in families:
        places = [index for index, mark in enumerate(found) if _together(mark.seen, ringed) == family]
        spoken = _spoken(rules, {found[i].seen.family for i in places})
        paints = [paint for i in places if (paint := found[i].paint)]
        if family == PLAIN:
            spoken = _not_taken(spoken, paints, found)
        # A line takes on something of the tints that it crosses in a picture; a PDF states its own colour.
        strokes = all(found[i].seen.family in LINES and found[i].how != "vector" for i in places)
        names, asks = _names(paints, spoken, grey, strokes)
        for i in places:
            mark = found[i]
            if mark.paint is not None:
                name = _rimmed(names[mark.paint], mark, spoken)
                found[i] = replace(mark, seen=replace(mark.seen, colour=name), unsaid=(*mark.unsaid, *asks))
    found = _with_insides(found, rules)
    styles = {rule.mark.style for rule in rules}
    if DOUBLE in styles:
        found = _with_strokes(found)
    return _with_widths(found) if styles & {"thick", "thin"} else found


def _names(
    colours: Sequence[Colour], spoken: Sequence[str], grey: bool, strokes: bool = False
) -> tuple[dict[Colour, str], tuple[str, ...]]:
    """The name of each colour, and what a person must look at about them."""
    if not grey or not any(map(has_hue, spoken)):
        return names_for(colours, spoken, strokes), ()
    names, sure = names_in_grey(colours, spoken)
    asks = () if sure else (BY_DARKNESS,)
    return names, asks


def _spoken(rules: Sequence[Statement], families: set[Family]) -> list[str]:
    """The colours by which the rules call marks of these families. What is said of circles in cells, for a kind that
    stands nowhere else, names no dot on an edge, but may speak of the circles of lines and arrows."""
    return [
        rule.mark.colour
        for rule in rules
        if rule.mark.colour and families.intersection((*families_of(rule), *_of_lines(rule.mark)))
    ]


def _not_taken(spoken: Sequence[str], paints: Sequence[Colour], named: Sequence[Mark]) -> list[str]:
    """The colours by which the rules call lines, without what the ringed lines are called, which are `named`, where no
    other line has that colour or their shade: of two words that none of the others has by itself, one is left."""

    def is_like(paint: Colour, mark: Mark) -> bool:
        return mark.paint is None or plain_name(paint) == mark.seen.colour or apart(paint, mark.paint) <= 2 * SAME

    ringed = [mark for mark in named if mark.seen.family == "ringed-line"]
    taken = {mark.seen.colour for mark in ringed if not any(is_like(paint, mark) for paint in paints)}
    return [word for word in spoken if word not in taken] or list(spoken)


def _of_lines(hint: MarkHint) -> Iterable[Family]:
    """The lines and arrows that have marks of a shape."""
    return (family for family in FAMILIES.get(hint.shape, ()) if family in (*LINES, "arrow"))


def _share_a_name(marks: Sequence[Mark], rules: Sequence[Statement]) -> bool:
    """Whether a ringed line and another line would both have a colour that the rules speak of, in shades that differ:
    then another of their words may mean one of the two."""
    spoken = _spoken(rules, {"line"})
    paints = [(mark.seen.family == "ringed-line", mark.paint) for mark in marks if mark.seen.family in LINES]
    shades = [{paint for ringed, paint in paints if paint and ringed == which} for which in (False, True)]
    return any(
        plain_name(a) == plain_name(b) and plain_name(a) in spoken and apart(a, b) > SAME for a, b in product(*shades)
    )


def _together(seen: Seen, ringed: bool) -> str:
    """Families that the rules speak of with one set of colours; `ringed` says that ringed lines are among the lines."""
    return (
        PLAIN
        if seen.family in ("line", "tube") or (ringed and seen.family == "ringed-line")
        else f"{seen.family} {seen.shape}"
    )


def _rimmed(name: str, mark: Mark, spoken: Sequence[str]) -> str:
    """An outline's colour names a mark that is white inside, where the rules speak of that colour and of no white. A
    black outline does not: every white mark has one."""
    if name != "white" or mark.rim is None or "white" in spoken:
        return name
    rim = plain_name(mark.rim)
    return rim if rim in spoken and rim != "black" else name


def _with_insides(marks: Sequence[Mark], rules: Sequence[Statement]) -> list[Mark]:
    """Lines drawn as outlines called white, as what they enclose is, where the rules speak of white (hollow, empty)
    lines and none drawn whole is the palest; not where the outline's own colour is a word of the rules that no line
    drawn whole has."""
    spoken = _spoken(rules, set(LINES))
    whole = {mark.seen.colour for mark in marks if mark.seen.family in LINES and mark.seen.shape != "outline"}
    if "white" not in spoken or "white" in whole:
        return list(marks)
    return [
        replace(mark, seen=replace(mark.seen, colour="white"))
        if mark.seen.family in LINES
        and mark.seen.shape == "outline"
        and (mark.seen.colour not in spoken or mark.seen.colour in whole)
        else mark
        for mark in marks
    ]


def _with_strokes(marks: Sequence[Mark]) -> list[Mark]:
    """Lines of the colour in which most lines are drawn as two strokes, where the rules speak of such: on worn print a
    second stroke may be lost, which is asked about."""
    plain = [mark for mark in marks if mark.seen.family in LINES and not mark.seen.shape and mark.how == "shape"]
    double = [mark.paint for mark in marks if mark.seen.family in LINES and mark.seen.shape == "outline" and mark.paint]

    def is_double(mark: Mark) -> bool:
        alike = sum(apart(paint, mark.paint) <= SAME for paint in double if mark.paint)
        others = sum(apart(other.paint, mark.paint) <= SAME for other in plain if mark.paint and other.paint)
        return alike > others

    asks = ("whether it is drawn as two strokes was hard to tell",)
    return [
        replace(mark, seen=replace(mark.seen, shape="outline"), unsaid=(*mark.unsaid, *asks))
        if mark in plain and is_double(mark)
        else mark
        for mark in marks
    ]


def _with_widths(marks: Sequence[Mark]) -> list[Mark]:
    widths = [mark.width for mark in marks if mark.seen.family in LINES and mark.width]
    if not widths or max(widths) < CLEARLY * min(widths):
        return list(marks)
    limit = (max(widths) * min(widths)) ** 0.5
    return [
        replace(mark, seen=replace(mark.seen, shape="thick" if mark.width > limit else "thin"))
        if mark.seen.family in LINES and mark.width and not mark.seen.shape
        else mark
        for mark in marks
    ]


def tint_names(
    colours: Sequence[Colour], rules: Sequence[Statement], drawn: bool = True
) -> tuple[dict[Colour, str], tuple[str, ...]]:
    """The names of the tints of a page, and what a person must look at about them; `drawn` says that a PDF draws them,
    in their own colours."""
    return _names(colours, _spoken(rules, {"cell", "area"}), not drawn and is_grey(colours))
