"""What stands on edges, corners, in cells and beside the grid: each place for itself, from the network's chances."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Disc, Shape
from recognise.geometry import box_at
from recognise.marks.boxed import frame_at
from recognise.marks.discs import Round
from recognise.marks.edge_shapes import BLACK, SIGN, SIGNS, edge_shape
from recognise.marks.hardly_seen import perhaps_on_edge
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.meeting import meetings
from recognise.marks.network import Chances
from recognise.marks.same_in_cells import surer_in_cells
from recognise.marks.same_look import in_the_same_look
from recognise.marks.shades import BESIDE_DIGIT, ground, shade_at
from recognise.marks.shown_through import DOTS, ghosts_of_circles, printed
from recognise.marks.sights import DOT, SQUARE_ON_EDGE, Sight, named, told_in_cells, written
from recognise.marks.sizes import arms_of_signs, in_one_size, is_dark, of_one_size, uncovered
from recognise.marks.spoken import CELL_LOOKS, SILENT, Spoken
from recognise.marks.text_places import Place, in_circle, in_frame, on_edge
from recognise.marks.walls import walled
from schema.cells import Cell

CORNER_CIRCLE = (0.1, 0.4)
CELL_CIRCLE, END_CIRCLE = (0.2, 0.5), (0.1, 0.2)
DOT_RADIUS, CORNER_RADIUS, CELL_RADIUS = 0.12, 0.24, 0.38
"""In cells: where nothing could be measured."""
SQUARE = 0.36
"""In cells: half the side of a square in a cell."""
ABOUT, WITHIN = 0.25, 0.45
"""In cells: half the side of the places on the lattice and in cells in which ink must stand for a doubt."""
SURELY_STRANGE = 0.99
"""A mark of no kind of which the network is less sure may be a character of a fount that it does not know: of a sloping
F it said 0.96 to 0.99."""
ON_EDGE, IN_MIDDLE = (0.2, 0.4), 0.3
"""In cells: half the width across an edge and along it, and in a cell, of where marks of no kind stand."""
EDGE_LOOK = 0.24
"""In cells: half the side of the windows that are compared of marks on edges."""
SIDE = (0.05, 0.2)
"""In cells: between what distances from the lattice lines the sides of a capsule run."""
MAY_BE_TEXT = 0.2
"""Chance of characters from which they are looked for where the rules speak of such: a line's colour may hide them."""
FAINT_TEXT = 0.002
"""Chance of characters from which a dark dot is looked at for light strokes: the network overlooks small ones."""
LEAST_SIGN, ONE_WAY = 0.004, 2.0
"""How likely a sign is to the network at least where it takes one for characters that nobody can read (where a number
stands, it gives them a tenth of that), and by how much likelier one that points this way than the other."""
PAPER = (255, 255, 255)


@dataclass(frozen=True, slots=True)
class Spots:
    """Marks of single places; `texts` are places at which characters stand with them, `notes` places in doubt, and
    `unless_read` those that are in doubt unless a text is read there; `unless_written` are shapes that stand at places
    where no text can be read."""

    discs: tuple[Disc, ...] = ()
    shapes: tuple[Shape, ...] = ()
    texts: tuple[Place, ...] = ()
    notes: tuple[str, ...] = ()
    unless_read: tuple[tuple[Point, str], ...] = ()
    unless_written: tuple[tuple[Point, Shape], ...] = ()


def edge_spots(chances: Chances, looking: Looking, spoken: Spoken = SILENT) -> Spots:
    """What sits on the edges between two cells."""
    discs: list[Disc] = []
    shapes: list[Shape] = []
    doubtful: list[tuple[Sight, str]] = []
    unwritten: list[tuple[Point, Shape]] = []
    sights = {}
    for one, other, plane in _edges(chances):
        place = (one.centre[0] + other.centre[0]) / 2, (one.centre[1] + other.centre[1]) / 2
        sight = Sight(place, plane, chances.at("edge", one.row, one.column, plane)).in_light_of(spoken)
        strange = sight.likeliest == "OTHER" and sight.told["OTHER"] < MIDDLING[1]
        faint = strange and looking.is_faint(_along(place, plane))
        if sight.told["NONE"] > DRAWN or sight.likeliest == "NONE" or faint:
            if sight.told["NONE"] < MIDDLING[1] and _shows(sight, looking):
                doubtful.append((sight, f"perhaps something stands between {one} and {other}"))
            continue
        sights[one, other] = sight
    unread = [(sight.place, words) for sight, words in doubtful if _may_be_text(sight, spoken)]
    notes = [words for sight, words in doubtful if not _may_be_text(sight, spoken)]
    perhaps = [p for s, _ in doubtful if not _may_be_text(s, spoken) for p in perhaps_on_edge(s.place, s.told, spoken)]
    texts: list[tuple[Point, Disc | None]] = [(place, None) for place, _ in unread]
    called = _surer(list(sights.values()), named(list(sights.values()), looking, spoken), looking)
    standing, faded = printed(dict(zip(sights, called, strict=True)), sights, looking)
    notes += faded
    arms = arms_of_signs([sights[pair] for pair, (name, _) in standing.items() if name in SIGNS], looking)
    for (one, other), (name, told) in standing.items():
        place, plane = sights[one, other].place, sights[one, other].plane
        text = chances.at("edge_text", one.row, one.column, plane)["TEXT"]
        on_dot = name == "WHITE_DOT" and text > DRAWN and spoken.written
        chance = max(told, written(sights[one, other], spoken)) if on_dot else told
        if told < MIDDLING[1]:
            words = f"what stands between {one} and {other} was hard to tell"
            unread += [(place, words)] if on_dot or name == "CHARACTERS" else []
            notes += [] if on_dot or name == "CHARACTERS" else [words]
        if name in DOTS:
            discs.append(_dot(place, name, chance, looking))
            if name == "DARK_DOT":
                discs[-1], text, strokes = _on_dark(discs[-1], text, looking)
                unread += [(place, f"what is written between {one} and {other} was hard to read")] if strokes else []
        elif name != "CHARACTERS":
            shapes.append(edge_shape(place, name, chance, plane, looking, arms))
        if name == "CHARACTERS" and (sign := _sign(sights[one, other], spoken)):
            unwritten.append((place, sign))
        if name == "CHARACTERS" or (text > DRAWN and (name != SQUARE_ON_EDGE or spoken.written)):
            texts.append((place, discs[-1] if name in DOTS else None))
    on_discs = [disc for _, disc in texts if disc is not None]
    places = [discs.index(disc) for disc in on_discs]
    sized = in_one_size(discs, on_discs, looking)
    sized = uncovered(sized, [sized[at] for at in places])
    texts = [(place, sized[discs.index(disc)] if disc is not None else None) for place, disc in texts]
    written_at = (*_edge_texts(texts, sized), *perhaps)
    return Spots(tuple(sized), tuple(shapes), written_at, tuple(notes), tuple(unread), tuple(unwritten))


def _may_be_text(sight: Sight, spoken: Spoken) -> bool:
    """Whether characters are looked for where the network sees none for sure."""
    return "text" in spoken.edges and sight.told["CHARACTERS"] > MAY_BE_TEXT


def _shows(sight: Sight, looking: Looking) -> bool:
    """Whether ink stands on an edge, or a light mark on its line."""
    return looking.standing.within(box_at(sight.place, ABOUT)) or looking.shows_light(
        sight.place, upright=sight.plane == 0
    )


def _on_dark(dot: Disc, text: float, looking: Looking) -> tuple[Disc, float, bool]:
    """A dark dot, how likely characters stand on it, and whether light strokes do: then they surely stand there, and
    its colour is what these leave of it. Where its ground is all alike there are none."""
    light = looking.written_light(dot.centre, dot.radius) if text > FAINT_TEXT else None
    if light is not None:
        return replace(dot, fill=light), max(text, 2 * DRAWN), True
    return dot, 0.0 if looking.is_plain(dot.centre, dot.radius) else text, False


def _sign(sight: Sight, spoken: Spoken) -> Shape | None:
    """The sign that characters on an edge may be instead, where the rules speak of signs: small ones look like that."""
    signs = {name: sight.told[name] for name in SIGNS}
    best, second = sorted(signs, key=lambda name: -signs[name])[:2]
    if "sign" not in spoken.edges or signs[best] < max(LEAST_SIGN, ONE_WAY * signs[second]):
        return None
    chance = signs[best] / sum(signs.values()) * MIDDLING[1]
    return Shape("sign", box_at(sight.place, SIGN), BLACK, "shape", chance, direction=SIGNS[best])


def _surer(sights: Sequence[Sight], called: Sequence[tuple[str, float]], looking: Looking) -> list[tuple[str, float]]:
    """What stands on edges, the doubtful marks weighed by how much they look like the sure ones of their name on
    lattice lines that run the same way; characters differ from each other."""
    found = list(called)
    for name, plane in {(name, sight.plane) for sight, (name, _) in zip(sights, called, strict=True)}:
        own = [at for at, sight in enumerate(sights) if called[at][0] == name and sight.plane == plane]
        if name != "CHARACTERS":
            places = [sights[at].place for at in own]
            chances = in_the_same_look(places, [called[at][1] for at in own], EDGE_LOOK, looking)
            for at, chance in zip(own, chances, strict=True):
                found[at] = name, chance
    return found


def _edge_texts(texts: Iterable[tuple[Point, Disc | None]], discs: Sequence[Disc]) -> Iterator[Place]:
    """Where characters on edges stand, alone or on a dot. Dots of one look are of one size: the lattice under one can
    hide how large it is."""
    radii = {dark: [disc.radius for disc in discs if is_dark(disc) == dark] for dark in (True, False)}
    for place, disc in texts:
        if disc is None:
            yield on_edge(place)
        else:
            dark = is_dark(disc)
            yield on_edge(place, max(disc.radius, float(np.median(radii[dark]))), dark=dark)


def _edges(chances: Chances) -> Iterator[tuple[Cell, Cell, int]]:
    """The two cells of every edge inside the grid, and its plane."""
    for cell in chances.cells():
        if cell.column < chances.columns:
            yield cell, Cell(cell.row, cell.column + 1), 0
        if cell.row < chances.rows:
            yield cell, Cell(cell.row + 1, cell.column), 1


def _dot(place: Point, name: str, chance: float, looking: Looking) -> Disc:
    found = looking.round_at(place, DOT)
    radius = found.radius if found else DOT_RADIUS
    if name == "WHITE_DOT":
        # The lattice goes through under it: only its outline is ink.
        outline = found.outline if found and found.outline else BLACK
        return Disc(place, radius, PAPER, outline, "shape", chance)
    fill = found.fill if found and found.fill and min(found.fill) < 200 else BLACK
    return Disc(place, radius, fill, found.outline if found else None, "shape", chance)


def _along(place: Point, plane: int) -> Box:
    """The box around an edge in which loose marks on it stand."""
    across, along = ON_EDGE
    return box_at(place, across, along) if plane == 0 else box_at(place, along, across)


def corner_spots(chances: Chances, looking: Looking) -> Spots:
    """What sits on the corners of four cells."""
    discs: list[Disc] = []
    shapes: list[Shape] = []
    texts: list[Place] = []
    notes: list[str] = []
    rounds: list[tuple[Point, float, Round | None]] = []
    boxed: list[tuple[Shape, Place]] = []
    boxes_meet = meetings(chances, looking)
    for cell in chances.corners():
        if cell in boxes_meet:
            continue
        told = chances.at("corner", cell.row, cell.column)
        place = float(cell.column), float(cell.row)
        if told["NONE"] > DRAWN:
            if told["NONE"] < MIDDLING[1] and looking.standing.within(box_at(place, ABOUT)):
                notes.append(f"perhaps something stands on the lower right corner of {cell}")
            continue
        if max(told.values()) < MIDDLING[1]:
            notes.append(f"what stands on the lower right corner of {cell} was hard to tell")
        if box := _boxed(place, told["CIRCLE"] + told["OTHER"], looking):
            boxed.append(box)
        elif told["CIRCLE"] > told["OTHER"]:
            rounds.append((place, told["CIRCLE"], looking.round_at(place, CORNER_CIRCLE)))
        else:
            shapes.append(Shape("mark", box_at(place, 0.2), BLACK, "shape", told["OTHER"]))
    for place, chance, found in of_one_size(rounds, looking):
        radius, outline = (found.radius, found.outline) if found else (CORNER_RADIUS, BLACK)
        discs.append(Disc(place, radius, found.fill if found else None, outline, "shape", chance))
        texts.append(in_circle(found.centre if found else place, radius, dark=is_dark(discs[-1])))
    shapes += [shape for shape, _ in boxed]
    texts += [text for _, text in boxed]
    return Spots(tuple(discs), tuple(shapes), tuple(texts), tuple(notes))


def _boxed(place: Point, chance: float, looking: Looking) -> tuple[Shape, Place] | None:
    """The rectangular frame on a corner that some print sets digits in, and the place of these; None for a circle. The
    network tells little of its shape: it learned circles."""
    frame = frame_at(place, looking)
    if frame is None:
        return None
    return Shape("square", frame.box, frame.colour, "shape", chance, filled=False), in_frame(frame.box, frame.inside)


def cell_spots(chances: Chances, looking: Looking, circled: Iterable[Cell], spoken: Spoken = SILENT) -> Spots:
    """Circles, squares and unknown marks in cells; `circled` have a circle that belongs to a line. What hardly looks
    like a mark, and is none that rules understood to the last speak of, is left to the guard that looks at all ink."""
    discs: list[Disc] = []
    shapes: list[Shape] = []
    notes: list[str] = []
    own = set(circled)
    unspoken = spoken.whole and spoken.speaks and not spoken.cells
    looks = {cell: {name: chances.node(cell, name) for name in CELL_LOOKS} for cell in chances.cells()}
    told = told_in_cells({cell: look for cell, look in looks.items() if cell not in own}, looking, spoken)
    unsaid = [name for name, look in CELL_LOOKS.items() if spoken.whole and spoken.cells and look not in spoken.cells]
    told = surer_in_cells({cell: told.get(cell, look) for cell, look in looks.items()}, own, looking, unsaid)
    circles = {
        cell: _circle(cell, told[cell]["CIRCLE"], chances, looking)
        for cell in looks
        if cell not in own and told[cell]["CIRCLE"] > DRAWN
    }
    of_lines = {cell: _circle(cell, looks[cell]["CIRCLE"], chances, looking)[0] for cell in looks if cell in own}
    ghosts = ghosts_of_circles(circles, of_lines)
    if spoken.no_circles:
        hardly = [
            cell for cell, (_, found) in circles.items() if not found and looking.is_faint(box_at(cell.centre, WITHIN))
        ]
        ghosts = list(dict.fromkeys((*ghosts, *hardly)))
    if ghosts:
        notes.append(f"what looks like circles in {', '.join(map(str, ghosts))} is hardly printed")
    for cell in looks:
        for name, chance in told[cell].items():
            if name == "CIRCLE" and (cell in own or cell in ghosts):
                continue
            # Ink of no kind that we have is left to the guard that looks at all ink: it knows this paper's noise.
            doubtful = MIDDLING[0] < chance < MIDDLING[1] and name != "UNKNOWN"
            # So is what is likelier none, and none that rules speak of: it would state nothing if it stood there.
            doubtful &= chance > DRAWN or not unspoken
            if doubtful and looking.standing.within(box_at(cell.centre, WITHIN)):
                notes.append(f"whether a {name.lower()} stands in {cell} was hard to tell")
            if name == "UNKNOWN" and chance < SURELY_STRANGE and _is_bare(cell, looking):
                continue
            strange = name == "UNKNOWN" and chance < MIDDLING[1]
            if chance <= DRAWN or (strange and (unspoken or not _is_printed(cell, looking))):
                continue
            if name == "CIRCLE":
                discs.append(circles[cell][0])
            elif name in ("SQUARE", "DIAMOND"):
                filled = chances.node(cell, "FILLED") > DRAWN
                box, colour = box_at(cell.centre, SQUARE), shade_at(cell.centre, BESIDE_DIGIT, looking)
                shapes.append(Shape(name.lower(), box, colour, "shape", chance, filled=filled))
            else:
                shapes.append(Shape("mark", box_at(cell.centre, 0.3), BLACK, "shape", chance))
    return Spots(tuple(discs), tuple(shapes), (), tuple(notes))


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


def capsules(chances: Chances, looking: Looking, spoken: Spoken = SILENT) -> Spots:
    """Rounded outlines around two or three cells that are read as one. Where the rules know lines and no arrows, what
    has next to no ink is print of the other side."""
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
        if spoken.no_capsules and all(map(looking.is_faint, _long_sides(around))):
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
