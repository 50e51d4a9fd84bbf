"""Tinted cells: regions of their own, or cells of one sort."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from ingest.page import Colour
from recognise.draft import Doubt, Given
from recognise.evidence import Shape, Tint
from recognise.geometry import middle
from recognise.grouping import areas
from recognise.interpret.cellmarks import WHITE, tint_groups, tint_mark
from recognise.interpret.colours import SAME, apart
from recognise.interpret.filled import parted_by_rims, rim_of, says_no_more
from recognise.interpret.looks import tint_names
from recognise.interpret.making import Making, readings_of
from recognise.interpret.mark import Left, Mark
from recognise.interpret.meaning import Meaning
from recognise.interpret.paired import paired, statements_alone
from recognise.interpret.places import Size, cell_at
from recognise.interpret.spoken import families_of
from recognise.interpret.touching import PARTED, InkOf, in_two
from recognise.interpret.undecided import take_paired
from recognise.rules import Statement
from schema.cells import Cell
from schema.kinds.boxes import Boxes
from schema.kinds.diagonal import Diagonal
from schema.marks import Seen

GROUND = 0.7
"""The part of all cells in one tint from which that is the page's: tints of boxes fill 5 of 9."""
FAINTEST = 5.0
"""CIE76 difference from paper of the faintest tint that is printed to be seen; shadows, and print of the other side,
are fainter where they are taken for tints."""
PLAINLY = 3.0
"""So many times as far from paper as the faintest tint is one that leaves no doubt which tint the rules mean."""
SAME_SHADE = 2.0
"""CIE76 difference up to which two cells are of one tint: what is no step of colour between them counts as none, and
the least that is one makes more."""

GROUNDS = ("", "dot", "tint")
"""What a sentence calls marks that may be the ground of cells."""


def take_tints(
    making: Making,
    left: Left,
    ink: InkOf,
    cages: Sequence[tuple[Cell, ...]] = (),
    covered: frozenset[Cell] = frozenset(),
) -> None:
    """Tints that do not show boxes, each colour by itself: areas where a rule about areas fits, cells where one about
    cells does. Where no rule is printed both are left open. Tints that fill all `cages` are how these are drawn, and
    one that is a cage without repeats is no region beside it; `covered` are the cells in which other marks stand, `ink`
    says how much the lattice line between two cells has."""
    left.tints = light_cells(left)
    seen = list(left.tints)
    boxes = _boxes(making)
    if boxes and part_boxes(left.tints, boxes):
        making.used |= _said_of_boxes(making.sheet.statements if making.sheet else ())
        if all(tint.how == "shape" for tint in left.tints):
            left.tints = []  # however pale the colours of some boxes are
            return
    groups = tint_groups(left, boxes, covered)
    stated = (*(making.sheet.statements if making.sheet else ()), *making.house)
    drawn = any(tint.how == "vector" for _, tints in groups for tint in tints.values())
    names, asks = tint_names([colour for colour, _ in groups], stated, drawn)
    if fill_cages([frozenset(tints) for _, tints in groups], cages):
        looks = (
            _named(tint_mark(colour, tuple(tints.values()), as_area), names[colour], asks).seen
            for colour, tints in groups
            for as_area in (False, True)
        )
        if not any(map(making.speaks_of, looks)):
            return
    strongest = max((apart(colour, WHITE) for colour, _ in groups), default=0.0)
    for colour, tints in groups:
        if _take_diagonals(making, tints):
            continue
        mixed = {tint.cell for tint in seen if tint.cell in tints and apart(tint.colour, colour) > SAME} & covered
        whole = _named(tint_mark(colour, tuple(tints.values()), as_area=False), names[colour], asks, mixed)
        parts = [
            _named(part, names[colour], asks, mixed) for part in _areas_as_marks(making, colour, tints, ink, boxes)
        ]
        called = _called_otherwise(making, left, whole, parts)
        dotted = called is not None and called[1].mark.shape == "dot"
        if not dotted and _is_shade(making, (whole, *parts), strongest):
            cells = ", ".join(map(str, sorted(tints)))
            making.doubts.append(Doubt(f"the ground of {cells} is hardly darker than paper, and was taken for shade"))
        elif called is not None:
            take_paired(making, *called)
        else:
            _take(making, whole, parts)


def _areas_as_marks(
    making: Making, colour: Colour, tints: Mapping[Cell, Tint], ink: InkOf, boxes: Sequence[tuple[Cell, ...]]
) -> list[Mark]:
    """A mark for each area that cells of one colour make; one that was parted in two asks about that."""
    found = _areas_of(tints, making)
    marks = [
        tint_mark(colour, [tints[cell] for cell in area], as_area=True)
        for part in found
        for area in in_two(part, len(making.grid.digits), ink, tuple(boxes))
    ]
    return [mark if mark.seen.cells in found else replace(mark, asks=(*mark.asks, PARTED)) for mark in marks]


def _called_otherwise(
    making: Making, left: Left, whole: Mark, parts: Sequence[Mark]
) -> tuple[Sequence[Mark], Statement] | None:
    """The marks that tinted cells are, and the only sentence of whose marks none was found, where no rule calls tints
    so and it can speak of them: cells that are strewn with dots. What stands in some of these cells, and was taken for
    its mark, is of the pattern."""
    if any(making.speaks_of(mark.seen) for mark in (whole, *parts)):
        return None
    beside = {id(rule) for seen, rule in making.settled if not set(seen.cells) <= set(whole.seen.cells)}
    within = {id(rule) for _, rule in making.settled} - beside
    alone = statements_alone(making.sheet, making.used - within, replace(left, tints=[], traces=[]))
    alone = [rule for rule in alone if rule.mark.shape in GROUNDS]
    for marks in ((whole,), parts):
        if pairs := paired({whole.name: marks}, alone, making.sheet):
            return marks, pairs[whole.name]
    return None


def _areas_of(tints: Mapping[Cell, Tint], making: Making) -> list[tuple[Cell, ...]]:
    """The areas that cells of one tint make, parted by rims and shades. One cell alone is no region: where all are
    apart from each other they are one together."""
    rimmed = [part for area in areas(tints) for part in parted_by_rims(area, making.items)]
    found = [part for area in rimmed for part in _apart(area, tints, len(making.grid.digits))]
    single = all(len(part) == 1 for part in found)
    if single and 1 < len(found) <= len(making.grid.digits):
        return [tuple(cell for part in found for cell in part)]
    return found


def _is_shade(making: Making, marks: Sequence[Mark], strongest: float) -> bool:
    """Whether what a picture shows as a tint is so faint that print has none such, and the rules speak of no tint, or
    of one that the page has plainly: `strongest` is how far the strongest tint of the page is from paper."""
    faint = all(mark.how == "shape" and mark.paint and apart(mark.paint, WHITE) < FAINTEST for mark in marks)
    looks = (replace(mark.seen, colour="") for mark in marks)
    if not faint or making.sheet is None:
        return False
    plain = strongest >= PLAINLY * FAINTEST and sum(map(_is_of_tints, making.sheet.statements)) <= 1
    return plain or not any(map(making.speaks_of, looks))


def part_boxes(tints: Sequence[Tint], boxes: Sequence[tuple[Cell, ...]]) -> bool:
    """Whether the boxes are the tinted areas: no box has two colours, and none that of a box beside it."""
    colours = {tint.cell: tint.colour for tint in tints}
    cells = sorted(cell for box in boxes for cell in box)
    patches = areas(cells, lambda one, other: colours.get(one, WHITE) == colours.get(other, WHITE))
    return {frozenset(patch) for patch in patches} == {frozenset(box) for box in boxes}


def _said_of_boxes(rules: Sequence[Statement]) -> set[int]:
    """The rules (by `id`) of coloured areas that are said of rows and columns in the same breath: where the boxes are
    what is coloured these are meant."""
    usual = {rule.sentence for rule in rules if rule.kind in ("rows", "columns")}
    areas_of = (rule for rule in rules if rule.kind == "extra-region" and rule.mark.shape == "tint")
    return {id(rule) for rule in areas_of if rule.sentence in usual and not rule.negated and not rule.fields}


def _is_of_tints(statement: Statement) -> bool:
    """Whether a sentence speaks of tinted cells or areas, or may."""
    shaped = statement.mark.shape in ("", "tint", "square")
    return shaped and not statement.negated and not {"area", "cell"}.isdisjoint(families_of(statement))


def without_halos(tints: Sequence[Tint], shapes: Iterable[Shape], size: Size) -> list[Tint]:
    """The tints without those that a filled square in a picture gives its cell, of which it covers all but a rim: they
    are of no shade of the cells without one, and no such cell beside them is tinted."""
    squares = [shape for shape in shapes if shape.name == "square" and shape.filled and shape.how == "shape"]
    filled = {cell_at(middle(shape.box), size) for shape in squares}
    plain = [tint for tint in tints if tint.cell not in filled]

    def is_like_others(tint: Tint) -> bool:
        return any(other.cell.beside(tint.cell) or apart(other.colour, tint.colour) < SAME_SHADE for other in plain)

    return [tint for tint in tints if tint.how == "vector" or tint.cell not in filled or is_like_others(tint)]


def light_cells(left: Left) -> list[Tint]:
    """The tints; where a picture shows nearly all cells in one tint, that is its paper, and the others are lighter."""
    rows, columns = left.size
    one = len(left.tints) >= GROUND * rows * columns and all(tint.how == "shape" for tint in left.tints)
    if not one or any(apart(tint.colour, left.tints[0].colour) > SAME for tint in left.tints):
        return left.tints
    tinted = {tint.cell for tint in left.tints}
    cells = (Cell(row, column) for row in range(1, rows + 1) for column in range(1, columns + 1))
    return [Tint(cell, WHITE, 1.0) for cell in cells if cell not in tinted]


def fill_cages(tinted: Sequence[frozenset[Cell]], cages: Sequence[tuple[Cell, ...]]) -> bool:
    """Whether each of several cages is filled with one of the tints, and nothing else is tinted."""
    whole = [cage for cage in cages if any(cells.issuperset(cage) for cells in tinted)]
    return len(whole) == len(cages) > 1 and frozenset().union(*tinted) == frozenset().union(*whole)


def _take_diagonals(making: Making, tints: Mapping[Cell, Tint]) -> bool:
    """Whether tinted cells are one or both of the long diagonals, and a rule speaks of such: they are its mark."""
    ways: tuple[Literal["down", "up"], ...] = ("down", "up")
    on = {way: frozenset(Diagonal(direction=way).cells_of(making.grid)) for way in ways}
    drawn = [way for way in ways if on[way] <= tints.keys()]
    if making.grid.rows != making.grid.columns or not drawn or frozenset().union(*(on[w] for w in drawn)) != set(tints):
        return False
    marks = [
        (way, tint_mark(tints[min(on[way])].colour, [tints[cell] for cell in sorted(on[way])], True)) for way in drawn
    ]
    marks = [(way, replace(mark, seen=Seen("diagonal", direction=way, shape="tint"))) for way, mark in marks]
    meanings = [making.meaning(mark.seen) for _, mark in marks]
    if not all(meaning.statements for meaning in meanings):
        return False
    for (_, mark), meaning in zip(marks, meanings, strict=True):
        making.take(mark, meaning)
    return True


def _apart(area: tuple[Cell, ...], tints: Mapping[Cell, Tint], most: int) -> list[tuple[Cell, ...]]:
    """An area as it is, or, where it holds more cells than there are digits, taken apart where its shade changes: two
    areas of nearly one tint that touch."""
    parts = areas(area, lambda one, other: apart(tints[one].colour, tints[other].colour) < SAME_SHADE)
    return parts if len(area) > most and all(len(part) <= most for part in parts) else [area]


def _boxes(making: Making) -> list[tuple[Cell, ...]]:
    stated = [c for item in making.items if not isinstance(item.value, Given) for c in item.value]
    return [box for constraint in stated if isinstance(constraint, Boxes) for box in constraint.cells]


def _named(mark: Mark, name: str, asks: tuple[str, ...], mixed: Collection[Cell] = ()) -> Mark:
    """A tint with its colour's name, and with what is asked about its colour and about those of its cells whose ground
    is mixed with another mark."""
    unclear = (f"the tint of {cell} is mixed with a mark on it" for cell in mark.seen.cells if cell in mixed)
    return replace(mark, seen=replace(mark.seen, colour=name), unsaid=(*mark.unsaid, *asks, *unclear))


def _take(making: Making, whole: Mark, parts: Sequence[Mark]) -> None:
    settled = {id(statement) for seen, statement in making.settled if seen.shape != "tint"}
    is_print = whole.certain or whole.how == "vector"  # in a picture a fold or a stain may be the tint
    as_cells = making.meaning(whole.seen)
    as_areas = [making.meaning(part.seen) for part in parts]
    regions = [meaning for meaning in as_areas if meaning.constraints and meaning.constraints != as_cells.constraints]
    if as_cells.constraints and all(meaning.constraints for meaning in as_areas):
        # A kind that stands on cells stands on areas too: the same rule, part by part, is no other meaning.
        same = {c.kind for c in as_cells.constraints} == {c.kind for m in regions for c in m.constraints}
        regions = [] if same else regions
    if regions and as_cells.statements and all(id(statement) in settled for statement in as_cells.statements):
        # What is said of squares speaks of those that are drawn as such, and tinted cells are something else.
        as_cells = Meaning(())
    if regions and as_cells.constraints:
        making.unread("tint", whole.where, whole.seen.cells, f"{whole.name}: several rules may speak of it", ())
    elif regions:
        for part, meaning in zip(parts, as_areas, strict=True):
            rim = rim_of(part.seen.cells, making.items)
            if rim is not None and not making.speaks_of(Seen("cage", cells=part.seen.cells)):
                making.restate(rim, meaning, part.claims or ())
            elif not says_no_more(meaning, making.items):
                making.take(part, meaning)
    elif as_cells.constraints:
        making.take(whole, as_cells)
    elif not (making.is_open or (is_print and making.sheet is not None and making.sheet.unsure)):
        why = f"{whole.name}: {as_cells.why_not}"
        making.unread("tint", whole.where, whole.seen.cells, why, (), 1.0 if is_print else 0.0)
    else:
        by_cell = [replace(reading, values=(reading.values[0],)) for reading in readings_of([whole], making.house)]
        known = {reading.name for reading in by_cell}
        by_area = [reading for reading in readings_of(parts, making.house) if reading.name not in known]
        joined = [replace(r, values=(tuple(c for value in r.values for c in value),)) for r in by_area]
        fitting = joined if all(len(part.seen.cells) == len(making.grid.digits) for part in parts) else []
        making.leave_open(f"{whole.seen.colour} tint", (*fitting, *by_cell), [whole])
