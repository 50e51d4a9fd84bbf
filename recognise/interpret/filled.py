"""Cages that are drawn as tinted patches, with or without a line around them, and patches with a line around them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from recognise.draft import Item, only_constraint
from recognise.evidence import Fence, How, Tint
from recognise.grouping import areas
from recognise.interpret.colours import SAME, apart
from recognise.interpret.mark import Mark
from recognise.interpret.meaning import Meaning
from recognise.interpret.spoken import families_of
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.cells import Cell
from schema.kinds.cage import Cage
from schema.kinds.extra_region import ExtraRegion

LEAST = 3
"""So many cages that are each one patch show that the cages of a page are its patches."""


def one_for_each_patch(fences: Sequence[Fence], tints: Sequence[Tint]) -> list[Fence]:
    """The fences of a picture, those that divide one patch of one tint between them put together, where the others are
    one patch each: what was seen of a wall inside of a patch is none."""
    patches = [patch.cells for patch in patches_of(tints)]
    inside = {patch: [fence for fence in fences if set(fence.cells) <= set(patch)] for patch in patches}
    single = sum([set(fence.cells) for fence in own] == [set(patch)] for patch, own in inside.items())
    found = list(fences)
    for patch, own in inside.items():
        divides = len(own) > 1 and sorted(cell for fence in own for cell in fence.cells) == list(patch)
        if single >= LEAST and divides and all(fence.how == "shape" for fence in own):
            sure = min(fence.confidence for fence in own)
            whole = replace(own[0], cells=patch, confidence=sure, where=(), claims=())
            found = [fence for fence in found if fence not in own] + [whole]
    return found


def patches_of(tints: Sequence[Tint]) -> list[Fence]:
    """The patches that tints of one colour make, as the cages that they may be."""
    colours = {tint.cell: tint.colour for tint in tints}
    how: How = "vector" if all(tint.how == "vector" for tint in tints) else "shape"
    patches = areas(colours, lambda one, other: apart(colours[one], colours[other]) <= SAME)
    return [Fence(patch, "solid", colours[patch[0]], how) for patch in patches]


def regions_called_cages(sheet: RuleSheet | None, marks: Iterable[Mark], tints: Iterable[Tint]) -> RuleSheet | None:
    """What the rules say, regions where they speak of nothing but tinted patches with a line around each as cages
    (fences, enclosures) in which no digit is repeated: none has a number, and no sentence says what a number means."""
    cages = [mark for mark in marks if mark.seen.family == "cage"]
    tinted = {tint.cell for tint in tints}
    bare = all(not mark.seen.text and tinted.issuperset(mark.seen.cells) for mark in cages)
    if sheet is None or not cages or not bare or any("area" in families_of(s) for s in sheet.statements):
        return sheet
    only = [s for s in sheet.statements if s.kind == "cage" and not s.negated]
    if any(dict(s.fields) != {"repeats": False} for s in only):
        return sheet
    regions = {id(s): replace(s, kind="extra-region", fields={"partial": True}, mark=MarkHint("tint")) for s in only}
    return replace(sheet, statements=tuple(regions.get(id(s), s) for s in sheet.statements))


def outlines_as_regions(
    marks: Sequence[Mark], rules: Sequence[Statement], tints: Iterable[Tint], most: int
) -> list[Mark]:
    """The marks, lines around cells as regions where the rules speak of regions and of no cage, or of neither and each
    of them has as many cells as there are digits, `most`: a region may be tinted or have a line around it. Cages have
    numbers, and where cells are tinted these are the regions."""
    drawn = [mark for mark in marks if mark.seen.family == "cage" and mark.seen.shape != "border"]
    families = {family for rule in rules if not rule.negated for family in families_of(rule)}
    bare = not tuple(tints) and not any(mark.seen.text for mark in drawn)
    told = any(rule.kind == "extra-region" and not rule.negated for rule in rules)
    if not rules or "cage" in families or not bare or not (told or all(len(mark.seen.cells) == most for mark in drawn)):
        return list(marks)
    return [_as_region(mark) if any(mark is one for one in drawn) else mark for mark in marks]


def _as_region(mark: Mark) -> Mark:
    name = f"a line around a region with {min(mark.seen.cells)}"
    return replace(mark, seen=replace(mark.seen, family="area", shape="outline"), name=name)


def says_no_more(meaning: Meaning, taken: Iterable[Item]) -> bool:
    """Whether all that a patch means is that the digits of a cage, which is one of those taken, are different."""
    cages = [
        frozenset(constraint.cells)
        for item in taken
        if isinstance(item.value, tuple)
        for constraint in item.value
        if isinstance(constraint, Cage) and not constraint.repeats
    ]
    return all(isinstance(c, ExtraRegion) and frozenset(c.cells) in cages for c in meaning.constraints)


def parted_by_rims(area: tuple[Cell, ...], taken: Iterable[Item]) -> list[tuple[Cell, ...]]:
    """The patches of an area of one tint: those that lines part which are drawn all round each of them, or the area."""
    cages = [cage for item in taken if isinstance(cage := only_constraint(item.value), Cage) and cage.value is None]
    parts = sorted(tuple(sorted(cage.cells)) for cage in cages if set(cage.cells) < set(area))
    return parts if sorted(cell for part in parts for cell in part) == sorted(area) else [area]


def rim_of(cells: Collection[Cell], taken: Sequence[Item]) -> int | None:
    """The place among the items taken of a cage without a number on just these cells."""
    for place, item in enumerate(taken):
        cage = only_constraint(item.value)
        if isinstance(cage, Cage) and cage.value is None and set(cage.cells) == set(cells):
            return place
    return None
