"""What shows through from the other side of the paper: marks with next to no ink where those of their page are plain.

The network tells some of them as if they were printed. Each class is held against the plain marks of its page; what is
left out is said in words.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TypeVar

import numpy as np

from ingest.page import Point
from recognise.evidence import Disc
from recognise.geometry import box_at
from recognise.grouping import grouped
from recognise.marks.edge_shapes import SIGNS
from recognise.marks.lines import MIDDLING, Course
from recognise.marks.looking import Looking
from recognise.marks.shades import ink_of
from recognise.marks.sights import Sight
from recognise.marks.sizes import ALIKE
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

DOTS = ("WHITE_DOT", "DARK_DOT")
PALE, PALEST = 0.2, 0.1
"""Part of the ink of the plainest marks of a page that its palest have, and the ink of the palest that is printed."""
ONE_INK = 1.25
"""What shows through is of one ink: where some surely does, marks beside it are no print that are no more than so many
times as dark (in grey scans, beside the dots of a screen)."""
PALEST_FIGURE = 0.15
"""Ink of the palest characters that are printed: of 50 numbers on the edges of two worn pages the palest had 0.47, and
what showed through between them 0 to 0.11; small letters on dashed lines are darker than these by 0.21 and more, what
shows through on them by 0.06 at most."""
CERTAIN = 0.99
"""Characters of which the network is so sure are printed: small ones go with a thick lattice line when that is taken
out. Of four on two worn pages that showed through it was sure at 0.96 at most."""
PALEST_GROUND, BY_FAR = 0.04, 0.25
"""Ink of the palest ground that is printed, and the part of the palest printed circle of a page that its ghosts have at
most: of 14 printed discs on one worn page the palest had 0.034, what showed through there 0.008, on two others 0.055
and 0.012, 0.165 and 0.029."""
SQUARES = 1 / 3
"""Part of the ink of the palest square of which the network is sure that one has at most that it is not: on a worn page
the palest printed one had 0.12, and what showed through beside those 0.01 to 0.035."""
STRANGE = "OTHER"
WITH_LINE, FIGURE, ROUND_CORNER = 0.2, 0.1, 0.3
"""In cells: half the side of the window in which the ink of signs and dots is measured, of the smaller figures, and of
circles on corners."""
SOME_INK, PALEST_LINE = 0.25, 0.06
"""Where less of the way of a line has ink nothing is drawn, whatever the network thinks possible; and ink of the palest
line that is printed: what is paler, and no more than the paper's own texture, shows through."""
WALLED, UNWALLED = 0.95, 0.6
"""Parts of its way on which a step of a hollow tube has a wall beside it, at least, and one that only crosses the tubes
of other lines has, at most: half of its way runs in the cells in which it meets them."""
PLAIN = 3
"""So many times as much has a line that is plainly drawn."""

CLASSES: tuple[tuple[Collection[str], float, float], ...] = (
    (SIGNS, WITH_LINE, PALEST),
    (DOTS, WITH_LINE, PALEST),
    (("CHARACTERS",), FIGURE, PALEST_FIGURE),
)
"""What stands on edges, by what is compared with each other: the window and the palest print of each."""

Pair = tuple[Cell, Cell]
_Place = TypeVar("_Place", Cell, Pair, Point)


def printed(
    called: Mapping[Pair, tuple[str, float]], sights: Mapping[Pair, Sight], looking: Looking
) -> tuple[dict[Pair, tuple[str, float]], list[str]]:
    """What stands between cells, without the signs, dots and characters that have next to no ink where others of the
    page are drawn plainly; and words on those."""
    faded: list[Pair] = []
    plain: dict[Pair, float] = {}
    for names, window, palest in CLASSES:
        own = [pair for pair, (name, _) in called.items() if name in names]
        inks = {pair: _ink_at(sights[pair], window, looking) for pair in own}
        pale = [pair for pair in _faded(inks, palest) if not _is_on_patch(sights[pair], looking)]
        faded += [pair for pair in pale if called[pair][0] != "CHARACTERS" or called[pair][1] < CERTAIN]
        plain |= inks if window == WITH_LINE else {}
    strange = [sights[pair] for pair, (name, _) in called.items() if name == STRANGE]
    pale_ones = _faded_strange(strange, [ink for pair, ink in plain.items() if pair not in faded], looking)
    faded += [pair for pair in called if sights[pair] in pale_ones]
    pairs = ", ".join(f"{one} and {other}" for one, other in faded)
    notes = [f"what looks like signs, dots or characters between {pairs} is hardly printed"] if faded else []
    return {pair: what for pair, what in called.items() if pair not in faded}, notes


def _ink_at(sight: Sight, window: float, looking: Looking) -> float:
    """The darkest ink of what stands on an edge, also where it is beside a thick line alone, or on a thin one, that it
    shows: figures and signs go with the line when that is taken out, of small signs all but their ends. What is no
    darker there than what shows through counts for nothing, for paper has a grain."""
    own = looking.darkest(box_at(sight.place, window))
    if sight.likeliest in DOTS:
        return own
    upright = sight.plane == 0
    by_line = [looking.beside_line(sight.place, upright=upright), looking.over_line(sight.place, upright=upright)]
    return max(own, *(ink for ink in by_line if ink > PALEST_FIGURE or window == FIGURE), 0.0)


def _faded_strange(strange: Sequence[Sight], plain: Sequence[float], looking: Looking) -> list[Sight]:
    """Of marks of no kind those that are as pale beside the plain dots or signs of their page (the ink of each) as what
    shows through. The network knows dots in the ink of their page, and calls paler ones strange, surely."""
    inks = {sight.place: looking.darkest(box_at(sight.place, WITH_LINE)) for sight in strange}
    faded = _faded(inks | {(-1.0, float(at)): ink for at, ink in enumerate(plain)}, PALE)
    palest = ONE_INK * max((inks[place] for place in faded if place in inks), default=-1.0)
    return [sight for sight in strange if inks[sight.place] <= palest and not _is_on_patch(sight, looking)]


def ghosts_of_corners(places: Sequence[Point], looking: Looking) -> list[Point]:
    """Of circles on corners (their middles) those that have next to no ink, digits and outline, where others of the
    page are drawn plainly."""
    return _faded({place: looking.darkest(box_at(place, ROUND_CORNER)) for place in places})


def _is_on_patch(sight: Sight, looking: Looking) -> bool:
    return looking.is_cut(sight.place, upright=sight.plane == 0)


def _faded(inks: Mapping[_Place, float], palest: float = PALEST) -> list[_Place]:
    """Of marks of one look those that have next to no ink where others are drawn plainly."""
    plain = sorted(inks.values())[-ALIKE:]
    return [one for one, ink in inks.items() if len(inks) > ALIKE and ink < min(PALE * plain[0], palest)]


def ghosts_of_circles(circles: Mapping[Cell, tuple[Disc, bool]], of_lines: Mapping[Cell, Disc]) -> list[Cell]:
    """The cells whose circle has next to no ink, or none all round, where others of the page are drawn plainly. With
    each circle it is told whether its rim was found; a filled one without an outline has the ink of its ground, however
    that fades into paper. Beside circles of lines alone, which are drawn otherwise, only those are ghosts of which no
    ink was found at all."""
    inks = {cell: ink_of(disc) if found or disc.outline is None else 0.0 for cell, (disc, found) in circles.items()}
    of_all = _faded(inks | {cell: ink_of(disc) for cell, disc in of_lines.items()})
    bare = [cell for cell in of_all if cell in inks and inks[cell] == 0]
    return list(dict.fromkeys((*_faded(inks), *bare)))


def is_no_print(ghost: Disc, printed: Sequence[Disc]) -> bool:
    """Whether what is left out as a ghost is the ground of a disc, paler than any that is printed and than each of the
    `printed` ones of its page by far: that needs no second look."""
    palest = min(map(ink_of, printed)) if len(printed) > ALIKE else 0.0
    only_ground = ghost.fill is not None and ghost.outline is None
    return only_ground and ink_of(ghost) < min(PALEST_GROUND, palest * BY_FAR)


def ghosts_of_squares(squares: Mapping[Cell, tuple[float, float]]) -> list[Cell]:
    """The cells whose square has next to no ink where all that the network is sure of are plain. With each square it is
    told how likely it is to the network, and the ink of its ground."""
    sure = [ink for likely, ink in squares.values() if likely >= MIDDLING[1]]
    palest = min(PALEST, SQUARES * min(sure)) if len(sure) > ALIKE else 0.0
    return [cell for cell, (likely, ink) in squares.items() if likely < MIDDLING[1] and ink < palest]


def printed_looks(steps: Iterable[Step], told: int) -> list[list[Step]]:
    """The steps of a page's lines that are plainly drawn, by their look, where these are as many as its rules have told
    apart; none where the lines of one may all be pale."""
    shown = [step for step in steps if step.stroke.open > MIDDLING[1] or step.is_dotted]
    plain = [step for step in shown if step.stroke.strong and step.drawn > MIDDLING[1]]
    looks = grouped(plain, lambda group, step: step.kind == group[0].kind and step.looks_like(group[0]))
    found = [look for look in looks if len(look) >= ALIKE]
    return found if 0 < told <= len(found) else []


def palest_printed(looks: Sequence[Sequence[Step]]) -> float:
    """How dark the palest print of a page's lines is by the looks of those that are plainly drawn; 0 without any."""
    inks = [float(np.median([darkness(step.stroke) for step in look])) for look in looks]
    return PALE * min(inks, default=0.0)


def is_none_of_them(line: Course, palest: float) -> bool:
    """Whether no step of a line is clear of noise, and it is paler than the `palest` that is printed, or ink stands
    nowhere on it but where something crosses it, and the lines of the page are plainly drawn. Of tubes only the walls
    are seen."""
    strokes = [step.stroke for step in line.steps]
    pale = float(np.median([darkness(stroke) for stroke in strokes])) < palest and not any(s.strong for s in strokes)
    bare = palest > 0 and all(max(stroke.inked, stroke.open) < SOME_INK for stroke in strokes)
    return line.kind != "TUBE" and (pale or bare)


def shows_through(line: Course) -> bool:
    """Whether there is hardly ink along a line, and paler than any that is printed; of a tube, nor walls to its
    sides: dots that a wall breaks into are too far apart to pass for one."""
    strokes = [step.stroke for step in line.steps]
    walled = line.kind == "TUBE" and float(np.median([stroke.walled for stroke in strokes])) >= UNWALLED
    return (
        not walled
        and all(stroke.inked < SOME_INK for stroke in strokes)
        and float(np.median([darkness(stroke) for stroke in strokes])) < PALEST_LINE
    )


def hardly_printed(line: Course, lines: Sequence[Course]) -> bool:
    """Whether a line shows through where other lines of the page are plainly drawn: no step of it is clear of noise,
    and half of them are bare, other marks hiding the rest, or most of its way is, and its ink is that of no print
    beside them. Of tubes only the walls are seen, and not all of them. What `shows_through` knows is not asked
    about."""
    if line.kind == "TUBE" or shows_through(line):
        return False
    strokes = [step.stroke for step in line.steps]
    others = [step.stroke for other in lines if other is not line for step in other.steps if step.stroke.strong]
    plain = float(np.median([darkness(stroke) for stroke in others])) if others else 0.0
    if any(stroke.strong for stroke in strokes) or plain <= PLAIN * PALEST_LINE:
        return False
    bare = [stroke for stroke in strokes if stroke.inked < SOME_INK and darkness(stroke) < PALEST_LINE]
    faint = [stroke for stroke in strokes if stroke.inked < SOME_INK and darkness(stroke) < PALE * plain]
    return 2 * len(bare) >= len(strokes) or 2 * len(faint) > len(strokes)


def is_bare(stroke: Stroke, others: Sequence[Stroke]) -> bool:
    """Whether a step has no more ink than print that shows through, and the rest of its line is plainly drawn."""
    drawn = [darkness(other) for other in others if other.inked >= SOME_INK]
    shown = stroke.inked < SOME_INK and darkness(stroke) < PALEST_LINE
    return shown and bool(drawn) and float(np.median(drawn)) > PLAIN * PALEST_LINE


def lacks_walls(stroke: Stroke, others: Sequence[Stroke]) -> bool:
    """Whether a step of a hollow tube has no walls of its own, those of other lines aside that it crosses, and most of
    the rest of its line is walled all along."""
    walled = [other.outlined and other.walled >= WALLED for other in others]
    bare = not stroke.outlined and stroke.inked < SOME_INK and stroke.walled < UNWALLED
    return bare and 2 * sum(walled) > len(walled)


def is_unwalled(line: Course, lines: Sequence[Course]) -> bool:
    """Whether no step of a tube has walls of its own, those of others that cross it aside, where the tubes of its page
    are walled all along; or next to no ink, where only its steps look like those of a tube."""
    others = [step.stroke for other in lines if other is not line and other.kind == "TUBE" for step in other.steps]
    walled = [other.ink for other in others if other.outlined and other.walled >= WALLED]
    palest = PALE * float(np.median(walled)) if walled else 0.0
    told = line.kind == "TUBE" or all(step.kind == "TUBE" for step in line.steps)
    strokes = [step.stroke for step in line.steps]
    bare = not any(stroke.outlined or stroke.strong for stroke in strokes)
    pale = line.kind != "TUBE" and all(stroke.ink < palest for stroke in strokes)
    bare = bare and (pale or all(stroke.walled < UNWALLED for stroke in strokes))
    return told and bare and len(walled) >= ALIKE and 2 * len(walled) > len(others)


def darkness(stroke: Stroke) -> float:
    """How dark a stroke is in the channel in which it is darkest, 0 to 1."""
    return 1 - min(stroke.shade)
