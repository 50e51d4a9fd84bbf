"""What stands in cells: circles, squares, marks of no kind, and outlines around several cells."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from ingest.page import Box
from recognise.evidence import Disc, Shape
from recognise.geometry import box_at
from recognise.marks.cell_questions import hardly_printed_words, through_words
from recognise.marks.darker_ground import Grounds, is_elsewhere
from recognise.marks.edge_shapes import BLACK
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.network import Chances
from recognise.marks.places import Spots
from recognise.marks.same_in_cells import surer_in_cells
from recognise.marks.shades import BESIDE_DIGIT, ground, shade_at
from recognise.marks.shown_through import ghosts_of_circles, ghosts_of_squares, is_no_print
from recognise.marks.sights import told_in_cells
from recognise.marks.spoken import CELL_LOOKS, SILENT, Spoken
from recognise.marks.walls import walled
from schema.cells import Cell

CELL_CIRCLE, END_CIRCLE = (0.2, 0.5), (0.1, 0.2)
"""In cells: between what radii a circle in a cell is looked for, and a smaller one at the end of a line."""
CELL_RADIUS = 0.38
"""In cells: the radius of a circle that could not be measured."""
SQUARE = 0.36
"""In cells: half the side of a square in a cell."""
WITHIN = 0.45
"""In cells: half the side of the places in cells in which ink must stand for a doubt."""
SURELY_STRANGE = 0.99
"""A mark of no kind of which the network is less sure may be a character of a fount that it does not know: of a sloping
F it said 0.96 to 0.99."""
IN_MIDDLE = 0.3
"""In cells: half the side of where marks of no kind stand."""
SIDE = (0.05, 0.2)
"""In cells: between what distances from the lattice lines the sides of a capsule run."""


def cell_spots(
    chances: Chances,
    looking: Looking,
    circled: Iterable[Cell],
    spoken: Spoken = SILENT,
    faded: Collection[Cell] = (),
) -> Spots:
    """Circles, squares and unknown marks in cells; `circled` have a circle that belongs to a line, and lines through
    those in `faded` show through from the other side. What hardly looks like a mark, and is none that rules understood
    to the last speak of, is left to the guard that looks at all ink."""
    discs: list[Disc] = []
    shapes: list[Shape] = []
    notes: list[str] = []
    own = set(circled)
    unspoken = spoken.whole and spoken.speaks and not spoken.cells
    told = _told_of_cells(chances, own, looking, spoken)
    circles = {
        cell: _circle(cell, look["CIRCLE"], chances, looking)
        for cell, look in told.items()
        if cell not in own and look["CIRCLE"] > DRAWN
    }
    ghosts = _ghosts(circles, own, chances, looking, spoken, faded)
    notes += _pale_notes(ghosts, circles, told, looking)
    bare = _bare_squares(told, looking)
    notes += [hardly_printed_words("square", bare)] if bare else []
    for cell, look in told.items():
        for name, chance in look.items():
            if (name == "CIRCLE" and (cell in own or cell in ghosts)) or (name == "SQUARE" and cell in bare):
                continue
            if _is_doubtful(name, chance, unspoken) and looking.standing.within(box_at(cell.centre, WITHIN)):
                notes.append(f"whether a {name.lower()} stands in {cell} was hard to tell")
            if not _stands_in(cell, name, chance, looking, unspoken):
                continue
            if name == "CIRCLE":
                discs.append(circles[cell][0])
            else:
                shapes.append(_shape_in(cell, name, chance, chances, looking))
    return Spots(tuple(discs), tuple(shapes), (), tuple(notes))


def _told_of_cells(
    chances: Chances, own: set[Cell], looking: Looking, spoken: Spoken
) -> Mapping[Cell, Mapping[str, float]]:
    """How likely each mark stands in each cell, by the network, by what the rules speak of and by the marks like it on
    the page."""
    looks = {cell: {name: chances.node(cell, name) for name in CELL_LOOKS} for cell in chances.cells()}
    told = told_in_cells({cell: look for cell, look in looks.items() if cell not in own}, looking, spoken)
    unsaid = [name for name, look in CELL_LOOKS.items() if spoken.whole and spoken.cells and look not in spoken.cells]
    return surer_in_cells({cell: told.get(cell, look) for cell, look in looks.items()}, own, looking, unsaid)


def _ghosts(
    circles: Mapping[Cell, tuple[Disc, bool]],
    own: Collection[Cell],
    chances: Chances,
    looking: Looking,
    spoken: Spoken,
    faded: Collection[Cell],
) -> list[Cell]:
    """The cells whose circles show through from the other side, or hardly show where the rules know none or a line does
    so as well (`faded`); `own` are those whose circles lines have."""
    of_lines = {
        cell: _circle(cell, chances.node(cell, "CIRCLE"), chances, looking)[0]
        for cell in chances.cells()
        if cell in own
    }
    unseen = [cell for cell, (_, found) in circles.items() if cell in faded or (spoken.no_circles and not found)]
    hardly = [cell for cell in unseen if looking.is_faint(box_at(cell.centre, WITHIN))]
    return list(dict.fromkeys((*ghosts_of_circles(circles, of_lines), *hardly)))


def _pale_notes(
    ghosts: Collection[Cell],
    circles: Mapping[Cell, tuple[Disc, bool]],
    told: Mapping[Cell, Mapping[str, float]],
    looking: Looking,
) -> list[str]:
    """Words on circles that are left out, and on grounds in cells that pass for bare."""
    notes: list[str] = []
    shown = [disc for cell, (disc, _) in circles.items() if cell not in ghosts]
    through = [cell for cell in ghosts if is_no_print(circles[cell][0], shown)]
    bare_cells = [cell for cell, look in told.items() if max(look.values()) <= MIDDLING[0]]
    lone = [cell for cell in through if not is_elsewhere(cell, bare_cells, looking)]
    notes += [through_words("circle", lone)] if lone else []
    asked = [cell for cell in ghosts if cell not in through]
    notes += [hardly_printed_words("circle", asked)] if asked else []
    for name in ("CIRCLE", "SQUARE"):
        pale = _pale_grounds({cell: look[name] for cell, look in told.items()}, bare_cells, looking)
        notes += [through_words(name.lower(), pale)] if pale else []
    return notes


def _pale_grounds(chances: Mapping[Cell, float], bare: Collection[Cell], looking: Looking) -> list[Cell]:
    """Cells that pass for bare, have some ground where the sure marks of one class have a plain one, and are too few
    for what shows through from the other side."""
    grounds = Grounds.of(chances, bare, looking)
    pale = [cell for cell in bare if grounds is not None and grounds.stands_out(cell)]
    return pale if not any(is_elsewhere(cell, bare, looking) for cell in pale) else []


def _bare_squares(told: Mapping[Cell, Mapping[str, float]], looking: Looking) -> list[Cell]:
    """The cells whose squares show through from the other side."""
    likely = {cell: look["SQUARE"] for cell, look in told.items() if look["SQUARE"] > MIDDLING[0]}
    inks = {cell: 1 - sum(shade_at(cell.centre, BESIDE_DIGIT, looking)) / 765 for cell in likely}
    return ghosts_of_squares({cell: (chance, inks[cell]) for cell, chance in likely.items()})


def _is_doubtful(name: str, chance: float, unspoken: bool) -> bool:
    """Whether a mark in a cell is asked about. Ink of no kind that we have is left to the guard that looks at all ink:
    it knows this paper's noise. So is what is likelier none, and none that rules speak of (`unspoken`): it would state
    nothing if it stood there."""
    return MIDDLING[0] < chance < MIDDLING[1] and name != "UNKNOWN" and (chance > DRAWN or not unspoken)


def _stands_in(cell: Cell, name: str, chance: float, looking: Looking, unspoken: bool) -> bool:
    """Whether a mark is taken to stand in a cell; of no kind only where its ink shows, and where it is in doubt only
    where the rules may speak of it."""
    if chance <= DRAWN:
        return False
    if name != "UNKNOWN" or chance >= SURELY_STRANGE:
        return True
    if _is_bare(cell, looking):
        return False
    return chance >= MIDDLING[1] or (not unspoken and _is_printed(cell, looking))


def _shape_in(cell: Cell, name: str, chance: float, chances: Chances, looking: Looking) -> Shape:
    """A square, a diamond or a mark of no kind in a cell."""
    if name not in ("SQUARE", "DIAMOND"):
        return Shape("mark", box_at(cell.centre, 0.3), BLACK, "shape", chance)
    filled = chances.node(cell, "FILLED") > DRAWN
    box, colour = box_at(cell.centre, SQUARE), shade_at(cell.centre, BESIDE_DIGIT, looking)
    return Shape(name.lower(), box, colour, "shape", chance, filled=filled)


def _is_bare(cell: Cell, looking: Looking) -> bool:
    """Whether the character that was read in a cell is all that stands there."""
    return not looking.standing.within(box_at(cell.centre, WITHIN))


def _is_printed(cell: Cell, looking: Looking) -> bool:
    """Whether ink stands in the middle of a cell that is none of a character's and nearly as dark as print."""
    box = box_at(cell.centre, IN_MIDDLE)
    return looking.standing.within(box) and not looking.is_faint(box)


def _circle(cell: Cell, chance: float, chances: Chances, looking: Looking) -> tuple[Disc, bool]:
    """The circle in a cell, and whether its ink was found."""
    filled = chances.node(cell, "FILLED") > DRAWN
    found = looking.round_at(cell.centre, CELL_CIRCLE, on_lattice=False)
    if found and filled:
        found = looking.filled_round_at(cell.centre, CELL_CIRCLE) or found
    radius = found.radius if found else CELL_RADIUS
    fill = ground(cell.centre, radius, looking) if filled else None
    rim = found.outline if found and found.outline else BLACK
    outline = rim if chances.node(cell, "OUTLINED") > DRAWN or not filled else None
    disc = Disc(cell.centre, radius, fill, outline, "shape", chance)
    return disc, found is not None


def _long_sides(around: Box) -> tuple[Box, Box]:
    """Where the long sides of a capsule run in the box of its cells, clear of digits in its middle."""
    x0, y0, x1, y1 = around
    near, far = SIDE
    if x1 - x0 > y1 - y0:
        return (x0 + far, y0 + near, x1 - far, y0 + far), (x0 + far, y1 - far, x1 - far, y1 - near)
    return (x0 + near, y0 + far, x0 + far, y1 - far), (x1 - far, y0 + far, x1 - near, y1 - far)


def capsules(chances: Chances, looking: Looking, spoken: Spoken = SILENT, faded: Collection[Cell] = ()) -> Spots:
    """Rounded outlines around two or three cells that are read as one. Where the rules know lines and no arrows, or a
    line there shows through (`faded`), what has next to no ink is print of the other side."""
    joined = [(one, other, chance["CAPSULE"]) for one, other, chance in chances.links() if chance["CAPSULE"] > DRAWN]
    shapes: list[Shape] = []
    notes: list[str] = []
    left = list(joined)
    while left:
        one, other, sure = left.pop(0)
        cells = {one, other}
        for link in list(left):
            if cells & {link[0], link[1]}:
                cells |= {link[0], link[1]}
                sure = min(sure, link[2])
                left.remove(link)
        rows, columns = {c.row for c in cells}, {c.column for c in cells}
        usual = min(columns) - 0.85, min(rows) - 0.85, max(columns) - 0.15, max(rows) - 0.15
        around = min(columns) - 1.0, min(rows) - 1.0, float(max(columns)), float(max(rows))
        unlikely = spoken.no_capsules or not cells.isdisjoint(faded)
        if unlikely and all(map(looking.is_faint, _long_sides(around))):
            notes.append(f"what looks like an outline around {', '.join(map(str, sorted(cells)))} is hardly printed")
            continue
        box = walled(around, usual, looking.drawn, looking.raster, looking.floor)
        if (len(rows) > 1 and len(columns) > 1) or len(cells) > 3:
            notes.append(f"an outline around {', '.join(map(str, sorted(cells)))} is not understood")
        shapes.append(Shape("capsule", box, BLACK, "shape", sure, filled=False))
    stands = looking.standing.within
    notes += [
        f"perhaps an outline joins {one} and {other}"
        for one, other, chance in chances.links()
        if MIDDLING[0] < chance["CAPSULE"] < MIDDLING[1]
        and (chance["CAPSULE"] > DRAWN or any(stands(box_at(cell.centre, WITHIN)) for cell in (one, other)))
    ]
    return Spots((), tuple(shapes), (), tuple(notes))
