"""What stands on edges and corners: each place for itself, from the network's chances."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Disc, Shape
from recognise.geometry import box_at
from recognise.marks.boxed import LEAST_BESIDE, LEAST_INSIDE, frame_at
from recognise.marks.dark_dots import beside_plain, on_dark
from recognise.marks.discs import Round
from recognise.marks.edge_shapes import BLACK, SIGN, SIGNS, edge_shape
from recognise.marks.hardly_seen import perhaps_on_edge
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.meeting import meetings
from recognise.marks.network import Chances
from recognise.marks.no_signs import no_signs
from recognise.marks.same_look import in_the_same_look
from recognise.marks.shown_through import DOTS, ghosts_of_corners, printed
from recognise.marks.sights import DOT, SQUARE_ON_EDGE, Sight, named, written
from recognise.marks.sign_looks import looked_at_again
from recognise.marks.sizes import ALIKE, PAPER, arms_of_signs, in_one_size, is_dark, of_one_size, uncovered
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.text_places import Place, in_circle, in_frame, on_edge
from schema.cells import Cell

CORNER_CIRCLE = (0.1, 0.4)
"""In cells: between what radii the circle on a corner is looked for."""
DOT_RADIUS, CORNER_RADIUS = 0.12, 0.24
"""In cells: where nothing could be measured."""
ABOUT = 0.25
"""In cells: half the side of the places on the lattice in which ink must stand for a doubt."""
ON_EDGE = (0.2, 0.4)
"""In cells: half the width across an edge and along it of where marks of no kind stand."""
EDGE_LOOK = 0.24
"""In cells: half the side of the windows that are compared of marks on edges."""
MAY_BE_TEXT = 0.2
"""Chance of characters from which they are looked for where the rules speak of such: a line's colour may hide them."""
LEAST_SIGN, ONE_WAY = 0.004, 2.0
"""How likely a sign is to the network at least where it takes one for characters that nobody can read (where a number
stands, it gives them a tenth of that), and by how much likelier one that points this way than the other."""
OFF_EDGE = 0.04
"""In cells: what is measured farther off the middle of its edge may be drawn off by what touches it."""
LEAST_RING, RING = 0.06, (0.06, 0.26)
"""In cells: a light dot that is measured as a dark one no larger is a ring of a fine line, of a radius in these."""


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


@dataclass(slots=True)
class _OnEdges:
    """What is found on the edges one after the other, as `Spots` has it; each text with the dot that it stands on."""

    discs: list[Disc] = field(default_factory=list)
    shapes: list[Shape] = field(default_factory=list)
    texts: list[tuple[Point, Disc | None]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    unless_read: list[tuple[Point, str]] = field(default_factory=list)
    unless_written: list[tuple[Point, Shape]] = field(default_factory=list)
    hardly_seen: list[Place] = field(default_factory=list)
    """Where the network hardly sees characters, and rules speak of such."""


def edge_spots(chances: Chances, looking: Looking, spoken: Spoken = SILENT) -> Spots:
    """What sits on the edges between two cells."""
    found = _OnEdges()
    sights = {}
    looked = looked_at_again(_sights(chances, spoken), looking, spoken)
    bare = no_signs(looked.values(), looking)
    plain = _are_plain(looked.values(), looking)
    for (one, other), sight in looked.items():
        words = f"perhaps something stands between {one} and {other}"
        if sight.place in bare:
            found.notes.append(words)
        elif _seems_bare(sight, looking, plain=plain):
            _ask_of_bare(found, words, sight, looking, spoken)
        else:
            sights[one, other] = sight
    called = _surer(list(sights.values()), named(list(sights.values()), looking, spoken), looking)
    standing, faded = printed(dict(zip(sights, called, strict=True)), sights, looking)
    found.notes += faded
    arms = arms_of_signs([sights[pair] for pair, (name, _) in standing.items() if name in SIGNS], looking)
    for (one, other), (name, told) in standing.items():
        sight = sights[one, other]
        text = chances.at("edge_text", one.row, one.column, sight.plane)["TEXT"]
        _take_on_edge(found, (one, other), sight, name, (told, text), looking, spoken, arms)
    between = {sights[pair].place: f"between {pair[0]} and {pair[1]}" for pair in standing}
    _with_numbers(found, between, looking, spoken)
    discs, texts = _dots_in_one_size(found, looking)
    return Spots(
        tuple(discs),
        tuple(found.shapes),
        (*_edge_texts(texts, discs), *found.hardly_seen),
        tuple(found.notes),
        tuple(found.unless_read),
        tuple(found.unless_written),
    )


def _sights(chances: Chances, spoken: Spoken) -> dict[tuple[Cell, Cell], Sight]:
    """What the network sees on each edge, in the light of the rules."""
    found = {}
    for one, other, plane in _edges(chances):
        place = (one.centre[0] + other.centre[0]) / 2, (one.centre[1] + other.centre[1]) / 2
        sight = Sight(place, plane, chances.at("edge", one.row, one.column, plane))
        found[one, other] = sight.in_light_of(spoken)
    return found


def _are_plain(sights: Iterable[Sight], looking: Looking) -> bool:
    """Whether marks of some kind stand plainly on edges of the page."""
    sure = [sight for sight in sights if sight.likeliest != "OTHER" and 1 - sight.told["NONE"] >= MIDDLING[1]]
    return sum(not looking.is_faint(_along(sight.place, sight.plane)) for sight in sure) >= ALIKE


def _seems_bare(sight: Sight, looking: Looking, *, plain: bool) -> bool:
    """Whether nothing stands on an edge, as far as the network and, where it takes it for a mark of no kind, the ink
    say: beside `plain` marks of the page what is next to none shows through, however strange it surely is."""
    if sight.told["NONE"] > DRAWN or sight.likeliest == "NONE":
        return True
    strange = sight.likeliest == "OTHER" and (plain or sight.told["OTHER"] < MIDDLING[1])
    return strange and looking.is_faint(_along(sight.place, sight.plane))


def _ask_of_bare(found: _OnEdges, words: str, sight: Sight, looking: Looking, spoken: Spoken) -> None:
    """Ask in `words` about an edge that seems bare, where that is in doubt and ink stands there; what may be text is
    looked at first."""
    place, upright = sight.place, sight.plane == 0
    if sight.told["NONE"] >= MIDDLING[1]:
        return
    patched = "text" in spoken.edges and looking.is_cut(place, upright=upright)
    stands = looking.standing.within(box_at(place, ABOUT)) or looking.shows_light(place, upright=upright)
    if not stands and not patched:
        return
    if "text" in spoken.edges and sight.told["CHARACTERS"] > MAY_BE_TEXT:
        found.texts.append((place, None))
        found.unless_read.append((place, words))
    else:
        found.notes.append(words)
        found.hardly_seen += perhaps_on_edge(place, sight.told, spoken, patched=patched)


def _take_on_edge(
    found: _OnEdges,
    cells: tuple[Cell, Cell],
    sight: Sight,
    name: str,
    likely: tuple[float, float],
    looking: Looking,
    spoken: Spoken,
    arms: float,
) -> None:
    """Put a mark between two cells to what is found: its class, how likely it is that and has text on it; `arms` as
    `edge_shape` takes them. A 7 on a patch looks like a sign: where all rules are understood, and speak of numbers
    there and of no sign, it is looked at as one however sure that is."""
    place, (told, text) = sight.place, likely
    between = f"between {cells[0]} and {cells[1]}"
    on_dot = name == "WHITE_DOT" and text > DRAWN and spoken.written
    chance = max(told, written(sight, spoken)) if on_dot else told
    unspoken = spoken.whole and "sign" not in spoken.edges
    perhaps_text = name in SIGNS and "text" in spoken.edges and (told < MIDDLING[1] or unspoken)
    if told < MIDDLING[1]:
        words = f"what stands {between} was hard to tell"
        if on_dot or name == "CHARACTERS" or perhaps_text:
            found.unless_read.append((place, words))
        else:
            found.notes.append(words)
    dot = None
    if name in DOTS:
        dot = _dot(place, name, chance, looking)
        if name == "DARK_DOT":
            dot, text, strokes = on_dark(dot, text, looking, spoken)
            if strokes:
                found.unless_read.append((place, f"what is written {between} was hard to read"))
        found.discs.append(dot)
    elif perhaps_text:
        found.unless_written.append((place, edge_shape(place, name, chance, sight.plane, looking, arms)))
        found.hardly_seen.append(replace(on_edge(place), perhaps=True, signed="sign" not in spoken.edges))
    elif name != "CHARACTERS":
        found.shapes.append(edge_shape(place, name, chance, sight.plane, looking, arms))
    elif sign := _sign(sight, spoken):
        found.unless_written.append((place, sign))
    plain = name in SIGNS and told >= MIDDLING[1] and not perhaps_text
    if name == "CHARACTERS" or (text > DRAWN and not plain and (name != SQUARE_ON_EDGE or spoken.written)):
        found.texts.append((place, dot))


def _dots_in_one_size(found: _OnEdges, looking: Looking) -> tuple[list[Disc], list[tuple[Point, Disc | None]]]:
    """The dots on edges in the sizes that their page shows, and the texts on them."""
    on_discs = [disc for _, disc in found.texts if disc is not None]
    places = [found.discs.index(disc) for disc in on_discs]
    sized = in_one_size(found.discs, on_discs, looking)
    sized = uncovered(sized, [sized[at] for at in places])
    texts = [(place, None if disc is None else sized[found.discs.index(disc)]) for place, disc in found.texts]
    return sized, texts


def _with_numbers(found: _OnEdges, between: Mapping[Point, str], looking: Looking, spoken: Spoken) -> None:
    """Put the numbers on dark dots to what is found that nobody saw there, and that show beside the plain dots."""
    on_discs = [disc for _, disc in found.texts if disc is not None]
    for dot, own in beside_plain(found.discs, looking, spoken):
        if dot not in on_discs:
            found.discs[found.discs.index(dot)] = own
            found.texts.append((dot.centre, own))
            found.unless_read.append((dot.centre, f"what is written {between[dot.centre]} was hard to read"))


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
    if name == "WHITE_DOT" and found and found.fill != PAPER and found.radius <= LEAST_RING:
        found = looking.ring_at(place, RING) or found  # a bit of its own line was measured
    radius = found.radius if found else DOT_RADIUS
    if name == "WHITE_DOT":
        # The lattice goes through under it: only its outline is ink.
        outline = found.outline if found and found.outline else BLACK
        return Disc(place, radius, PAPER, outline, "shape", chance)
    fill = found.fill if found and found.fill and min(found.fill) < 200 else BLACK
    if found and fill != BLACK and math.dist(found.centre, place) > OFF_EDGE:
        fill = looking.evenest((found.centre, place), radius)
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
    rounds, boxed = _as_others(rounds, boxed, looking)
    if ghosts := ghosts_of_corners([place for place, _, _ in rounds], looking):
        rounds = [one for one in rounds if one[0] not in ghosts]
        cells = [Cell(round(y), round(x)) for x, y in ghosts]
        notes += [f"what looks like a circle on the lower right corner of {cell} is hardly printed" for cell in cells]
    for place, chance, found in of_one_size(rounds, looking):
        radius, outline = (found.radius, found.outline) if found else (CORNER_RADIUS, BLACK)
        discs.append(Disc(place, radius, found.fill if found else None, outline, "shape", chance))
        texts.append(in_circle(found.centre if found else place, radius, dark=is_dark(discs[-1])))
    shapes += [shape for shape, _ in boxed]
    texts += [text for _, text in boxed]
    return Spots(tuple(discs), tuple(shapes), tuple(texts), tuple(notes))


def _as_others(
    rounds: list[tuple[Point, float, Round | None]], boxed: list[tuple[Shape, Place]], looking: Looking
) -> tuple[list[tuple[Point, float, Round | None]], list[tuple[Shape, Place]]]:
    """What seemed round among the circles on corners, and the frames, where a page sets its digits in these."""
    if len(boxed) < max(ALIKE, len(rounds)):
        return rounds, boxed
    small = {place: box for place, chance, _ in rounds if (box := _boxed(place, chance, looking, LEAST_BESIDE))}
    return [one for one in rounds if one[0] not in small], [*boxed, *small.values()]


def _boxed(place: Point, chance: float, looking: Looking, least: float = LEAST_INSIDE) -> tuple[Shape, Place] | None:
    """The rectangular frame on a corner that some print sets digits in, and the place of these; None for a circle. The
    network tells little of its shape: it learned circles."""
    frame = frame_at(place, looking, least)
    if frame is None:
        return None
    return Shape("square", frame.box, frame.colour, "shape", chance, filled=False), in_frame(frame.box, frame.inside)
