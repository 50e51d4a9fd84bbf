"""Lines to traces: with their bulbs, circles and heads, their colour, and how sure every part of them is."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ingest.page import Colour
from recognise.evidence import Slip, Trace
from recognise.marks import through_rings
from recognise.marks.alike_bulbs import with_bulbs_alike
from recognise.marks.beside import around, drawn_chance, leads_nowhere
from recognise.marks.entries import enters_again
from recognise.marks.line_questions import (
    BULB_UNSEEN,
    HEAD_UNSEEN,
    KIND_UNSURE,
    bulb_words,
    faded_words,
    goes_on_words,
    joined_words,
    little_ink_words,
    not_joined_words,
)
from recognise.marks.lines import DRAWN, MIDDLING, TOGETHER, Course, courses, is_ringed_end, uncrossed
from recognise.marks.looks import SURELY_DRAWN, drawn_doubt, is_narrower, left_by_ends, more_doubt
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.printed_lines import printed_steps
from recognise.marks.shown_through import SOME_INK, UNWALLED
from recognise.marks.sizes import ODD_CIRCLE
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.steps import GAP, Step
from recognise.marks.strokes import Stroke
from recognise.marks.under_rings import without_foreign_rings
from recognise.pixels.frame import Raster
from recognise.pixels.tracing import outline
from schema.cells import Cell

INKED = 0.85
"""A step with ink on less than this part of its way is in doubt; digits on it are taken out, with some of the line."""
ONE = 0.5
"""How likely two lines are one that meet in a cell in which the network is not sure that any ends, and that were not
joined: of 25 lines that met another so, without any other question, on 200 worn samples like those of
`recognise.marks.looks`, 16 went on in it. Where it is sure that one ends none of 4 did, with the network before."""
RADIUS = 0.38
"""In cells: the radius of a circle or bulb that nobody has measured."""

ENDINGS = {"LINE": ("CIRCLE", "BULB"), "TUBE": ("BULB", "CIRCLE"), "SHAFT": ("CIRCLE", "BULB", "CAPSULE", "HEAD")}
"""What is seen at the ends of a line of each kind that ends in something."""
LEAST_BEADS, BEAD = 3, 0.2
"""So many cells at least has a line with a bead in each; in cells, the radius of a bead that is too small for a circle
that is measured."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The traces, the kind that the network sees in each, the cells whose circle belongs to one, words on links in
    doubt that touch none of them, the links that were taken for drawn and cannot be by the rules, and the cells that
    only such lines run through as show through from the other side."""

    traces: tuple[Trace, ...]
    kinds: tuple[str, ...]
    circled: frozenset[Cell]
    notes: tuple[str, ...]
    denied: frozenset[frozenset[Cell]] = frozenset()
    faded: frozenset[Cell] = frozenset()


def find_traces(
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    radius: Callable[[Cell], float | None],
    stands: Callable[[Cell, Cell], bool],
    raster: Raster,
    spoken: Spoken = SILENT,
    tip: Callable[[Cell, Cell], float] | None = None,
    fine: Callable[[Cell, Cell], Stroke] | None = None,
    within: Callable[[Cell, Cell], float | None] = lambda _cell, _other: None,
) -> Lines:
    """Every line that is rather drawn than not. `measure` looks at the stroke between two cells, `fine` at one too pale
    for that, `radius` at the disc around the middle of one, `stands` says whether ink stands out from the paper on the
    way between two, `tip` how far a line from one into the other runs on beyond the middle, `within` on how much of the
    way to the other ink stands inside of the circle in the one."""
    steps, faded, bare = printed_steps(chances, measure, spoken, fine or measure)
    found, doubtful = _parted(through_rings.parted(courses(steps, chances, spoken), chances, within), chances, spoken)
    network, chances = chances, with_bulbs_alike(ringed(chances, found, spoken), found, radius)
    traces, circled = [], set[Cell]()
    for course in found:
        shared = [cell for other in found if other is not course for cell in _meet_in(course, other)]
        met = [cell for cell in shared if not is_ringed_end(cell, network, spoken)]
        own = without_foreign_rings(course, found, chances)
        others = [step for other in found if other is not course for step in other.steps]
        trace, its = _trace(course, met, others, own, measure, radius, raster, spoken)
        traces.append(trace if tip is None else _with_tips(trace, tip))
        circled.update(its)
    denied = [step for course in doubtful for step in course.steps]
    return Lines(
        tuple(with_circles_of_one_size(traces)),
        tuple(course.kind for course in found),
        frozenset(circled),
        (
            *(joined_words(step.first, step.second) for step in (*bare, *denied)),
            *(faded_words(line.cells) for line in faded),
            *_stray(found, chances, measure, stands),
        ),
        frozenset(frozenset((step.first, step.second)) for step in denied),
        frozenset(cell for line in faded for cell in line.cells).difference(*(course.cells for course in found)),
    )


def _parted(lines: Iterable[Course], chances: Chances, spoken: Spoken) -> tuple[list[Course], list[Course]]:
    """The lines, tubes that cross taken apart, and of these those that are none by the rules."""
    bulbs = [cell for cell in chances.cells() if chances.node(cell, "BULB") > DRAWN]
    found: list[Course] = []
    for course in lines:
        found.extend(uncrossed(course, bulbs) if course.kind == "TUBE" else [course])
    doubtful = [course for course in found if _lacks_ends(course, chances, spoken)]
    return [course for course in found if course not in doubtful], doubtful


def _meet_in(course: Course, other: Course) -> list[Cell]:
    """The cells in which two lines end that may be one: those of two looks are two, wherever they end."""
    if any(one.is_other_look(two) for one in course.steps for two in other.steps):
        return []
    return sorted(set(course.ends) & set(other.ends))


def _with_tips(trace: Trace, tip: Callable[[Cell, Cell], float]) -> Trace:
    """A line that knows of each of its heads how far it runs on beyond the middle of its cell."""
    nodes = trace.nodes
    return replace(trace, tips=tuple((head, tip(nodes[trace.before(head)], nodes[head])) for head in trace.heads))


def _lacks_ends(course: Course, chances: Chances, spoken: Spoken) -> bool:
    """Whether a line in doubt, all of it, is none: the rules are understood and know no line, or all lines that they
    know end in circles, begin in bulbs or are arrows, and it has nothing of that. Folds, creases and the rings of cups
    look like lines."""
    if any(step.drawn >= MIDDLING[1] for step in course.steps):
        return False
    if not spoken.links:
        return spoken.speaks and spoken.whole
    kind = spoken.one_line
    if kind is None or (kind == "LINE" and not spoken.ringed_only) or course.kind not in ("LINE", kind):
        return False
    return not any(chances.node(cell, name) > MIDDLING[0] for cell in course.ends for name in ENDINGS[kind])


def ringed(chances: Chances, lines: Iterable[Course], spoken: Spoken) -> Chances:
    """The chances with the circles that the rules expect: where lines end in circles, and one end of a plain line has
    one, so has the other, unless circles stand by themselves too; and both ends where all lines do."""
    place = BY_NAME["node"].classes.index("CIRCLE")
    told = chances.heads["node"].copy()
    for course in lines:
        if course.kind != "LINE" or len(course.ends) != 2 or not spoken.ringed:
            continue
        for one, other in (course.ends, course.ends[::-1]):
            by_its_other = not spoken.circles and chances.node(one, "CIRCLE") > DRAWN
            if spoken.ringed_only or by_its_other:
                chance = chances.node(other, "CIRCLE")
                likely = chance / (chance + (1 - chance) * spoken.unspoken)
                told[0, place, other.row, other.column] = likely
    return replace(chances, heads=chances.heads | {"node": told})


def _trace(
    course: Course,
    met: Sequence[Cell],
    others: Sequence[Step],
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    radius: Callable[[Cell], float | None],
    raster: Raster,
    spoken: Spoken,
) -> tuple[Trace, list[Cell]]:
    """The trace of a line, and the cells whose circle is its own. `met` are cells in which another line ends
    too, `others` the steps of the other lines."""
    nodes = course.cells
    index = {cell: place for place, cell in enumerate(nodes)}
    rounded, asks = _rounded(course, chances)
    closed = rounded if course.kind == "LINE" and set(rounded) == set(course.ends) else ()
    by_ends = left_by_ends(course, chances, len(closed) == 2, spoken.ringed_only)
    doubt_of = partial(drawn_doubt, line=course, chances=chances, by_ends=by_ends, others=others)
    whole = len(closed) == 2 and spoken.ringed_only
    slips = (*_slips(course, chances, measure, doubt_of, closed), *_goes_on(met, chances))
    extent = together(slip.chance for slip in slips)
    radii = {cell: radius(cell) for cell in rounded}
    if course.kind == "LINE" and len(rounded) == len(nodes) >= LEAST_BEADS:
        # Beads of one line are of one size; a digit on one hides it, and the smallest are hard to measure.
        radii = dict.fromkeys(rounded, float(np.median([size or BEAD for size in radii.values()])))
    discs = tuple((index[cell], radii[cell] or RADIUS) for cell in rounded)
    heads = tuple(index[cell] for cell in course.ends if course.kind == "SHAFT" and chances.node(cell, "HEAD") > DRAWN)
    if course.kind == "SHAFT" and not heads:
        asks.append(HEAD_UNSEEN)
        heads = tuple(index[cell] for cell in _far_ends(course, rounded, chances) if "SHAFT" in spoken.links)
    strokes = [step.stroke for step in course.steps if step.stroke.seen] or [step.stroke for step in course.steps]
    trace = Trace(
        nodes,
        tuple(sorted((index[step.first], index[step.second]) for step in course.steps)),
        _colour(strokes),
        _width(strokes),
        bool(np.mean([stroke.outlined for stroke in strokes]) > DRAWN),
        "shape",
        discs,
        heads,
        dashed=bool(np.mean([stroke.dashed for stroke in strokes]) > DRAWN),
        confidence=extent * _kind_sure(course, rounded, chances, spoken),
        extent=extent,
        slips=slips,
        ambiguous=tuple(dict.fromkeys((*course.asks, *asks, *_unsure(course, chances, measure, doubt_of, whole)))),
    )
    return replace(trace, where=outline(trace, raster)), rounded


def with_circles_of_one_size(traces: Sequence[Trace]) -> list[Trace]:
    """The lines, the circles at the ends of those without heads as large as most of their page where they seem smaller:
    a digit in one hides it, and is round as well; so with those in which arrows begin. Which lines are of one look does
    not matter: print draws the circles of all in one size."""
    found = list(traces)
    for is_one in (_is_ringed, _is_arrow):
        alike = [at for at, trace in enumerate(traces) if is_one(trace)]
        ends = [radius for at in alike for _, radius in traces[at].discs]
        usual = float(np.median(ends)) if len(ends) >= LEAST_BEADS else 0.0
        for at in alike:
            discs = traces[at].discs
            found[at] = replace(
                traces[at],
                discs=tuple((node, usual if radius < (1 - ODD_CIRCLE) * usual else radius) for node, radius in discs),
            )
    return found


def _is_ringed(trace: Trace) -> bool:
    """Whether a line has a circle at each of its ends, and no head."""
    return len(trace.discs) == 2 and not trace.heads


def _is_arrow(trace: Trace) -> bool:
    """Whether a line begins in a circle, and has a head."""
    return len(trace.discs) == 1 and bool(trace.heads)


def _far_ends(course: Course, rounded: Sequence[Cell], chances: Chances) -> list[Cell]:
    """The ends of an arrow away from the circle or capsule in which it begins; none where no such start is seen. A
    digit in the last cell hides its head."""
    starts = {cell for cell in course.ends if cell in rounded or chances.node(cell, "CAPSULE") > DRAWN}
    return [cell for cell in course.ends if cell not in starts] if len(starts) == 1 else []


def _rounded(course: Course, chances: Chances) -> tuple[list[Cell], list[str]]:
    """The cells of a line on which a bulb or circle of its own sits, and what must be asked about that."""
    if course.kind == "TUBE":
        bulbs = [cell for cell in course.cells if chances.node(cell, "BULB") > DRAWN]
        if not bulbs and course.ends:
            return [], [BULB_UNSEEN]
        return bulbs, []
    circles = [cell for cell in course.cells if chances.node(cell, "CIRCLE") > DRAWN]
    if course.kind == "SHAFT":
        capsule = any(chances.node(cell, "CAPSULE") > DRAWN for cell in course.cells)
        return circles[:1], ([] if len(circles) == 1 or capsule else ["the circle that it begins in is not seen"])
    # A circle at one end only, or on the way, is a mark of its own; one on every cell is a bead.
    if len(circles) == len(course.cells) >= LEAST_BEADS:
        return circles, []
    both = len(course.ends) == 2 and set(circles) == set(course.ends)
    # Lines that meet in circles, each of which ends in two.
    several = len(course.steps) >= len(course.cells) or len(course.ends) > 2
    tangled = several and len(circles) > 1 and set(course.ends) <= set(circles)
    return (circles, []) if both or tangled else ([], [])


def _slips(
    course: Course,
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    doubt_of: Callable[[Step], float],
    closed: Collection[Cell],
) -> Iterable[Slip]:
    """Where a line may go otherwise: a step of it that is not drawn (`doubt_of` says how likely that is), or one more
    at one of its ends. What goes on out of the circle in which it ends (`closed`) is another line."""
    own = {frozenset((step.first, step.second)) for step in course.steps}
    for step in course.steps:
        yield Slip(step.first, step.second, True, doubt_of(step))
    for cell in (end for end in course.ends if end not in closed):
        for pair, chance in around(cell, chances):
            if pair not in own:
                own.add(pair)
                one, other = sorted(pair)
                doubt = more_doubt(drawn_chance(chance), cell, course, chances, partial(measure, one, other))
                yield Slip(one, other, False, doubt)


def _goes_on(met: Iterable[Cell], chances: Chances) -> Iterator[Slip]:
    """Where another line ends in the cell in which this one does: they may be one."""
    for cell in met:
        end = chances.node(cell, "END")
        yield Slip(cell, cell, False, ONE if end < MIDDLING[1] else 1 - end)


def _kind_sure(course: Course, rounded: Sequence[Cell], chances: Chances, spoken: Spoken) -> float:
    """How likely a line is of its kind, with its circles and heads where they are told. Where the rules speak of such
    lines alone there is a bulb, or a circle and a head, on each of them, and only which end it is may be in doubt."""
    bulb = "BULB" if course.kind == "TUBE" else "CIRCLE"
    doubts = [1 - chances.node(cell, bulb) for cell in rounded]
    if course.kind == "SHAFT":
        ends = (cell for cell in course.ends if cell not in rounded)
        doubts += [1 - max(chances.node(cell, name) for name in ("HEAD", "CIRCLE", "CAPSULE")) for cell in ends]
    told = course.sure * together(doubts)
    if course.kind == spoken.one_line and course.kind != "LINE" and rounded:
        return 1 - min(1 - told, spoken.unspoken * (1 - told) + _backwards(course, rounded[0], chances))
    return told


def _backwards(course: Course, start: Cell, chances: Chances) -> float:
    """How likely a tube or an arrow begins at another of its ends than told."""
    bulb = "BULB" if course.kind == "TUBE" else "CIRCLE"
    turned = 0.0
    for end in course.ends:
        if end != start:
            odds = chances.node(end, bulb) / max(chances.node(start, bulb), 1e-6)
            if course.kind == "SHAFT":
                odds *= chances.node(start, "HEAD") / max(chances.node(end, "HEAD"), 1e-6)
            turned += odds
    return turned


def together(doubts: Iterable[float]) -> float:
    """How likely all parts of a line are right."""
    return float(math.exp(TOGETHER * sum(math.log(max(1 - doubt, 1e-6)) for doubt in doubts)))


def _unsure(
    course: Course,
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    doubt_of: Callable[[Step], float],
    whole: bool,
) -> Iterable[str]:
    """What is in doubt of a line; `doubt_of` says how likely a step of it is not drawn. One that is `whole` runs
    between two circles where the rules know no other lines."""
    for step in course.steps:
        if doubt_of(step) > 1 - MIDDLING[1]:
            yield not_joined_words(step.first, step.second)
        if has_little_ink(step, course):
            yield little_ink_words(step.first, step.second)
    if course.sure < MIDDLING[1]:
        yield KIND_UNSURE
    own = {frozenset((step.first, step.second)) for step in course.steps}
    for cell in course.cells:
        for pair, chance in around(cell, chances):
            if (
                pair not in own
                and MIDDLING[0] < drawn_chance(chance) < DRAWN
                and not enters_again(cell, pair, course, chances)
                and not (whole and leads_nowhere(cell, next(iter(pair - {cell})), chances))
                and (way := measure(*sorted(pair))).inked > SOME_INK
                and not is_narrower(way, course)
            ):
                yield goes_on_words(cell, next(iter(pair - {cell})))
        if course.kind == "TUBE" and MIDDLING[0] < chances.node(cell, "BULB") < MIDDLING[1]:
            yield bulb_words(cell)


def has_little_ink(step: Step, course: Course) -> bool:
    """Whether a step of a line hardly shows: it has neither ink on its way, nor dots or dashes close to each other, nor
    as a tube walls to its sides. Where a lattice line hides a dot or dash of a line of them, it is surely drawn."""
    dotted = step.is_dotted
    one_hidden = step.stroke.dashed and step.stroke.gap < 2 * GAP and step.drawn > SURELY_DRAWN
    dotted |= one_hidden and any(near.stroke.dashed and near.looks_like(step) for near in _others(step, course))
    walled = course.kind == "TUBE" and step.stroke.walled >= UNWALLED
    return step.stroke.open < INKED and not (dotted or walled)


def _others(step: Step, course: Course) -> Iterable[Step]:
    """The other steps of its line that have dots or dashes close to each other, or no gaps."""
    return (near for near in course.steps if near is not step and near.stroke.gap < GAP)


def _stray(
    found: Sequence[Course],
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    stands: Callable[[Cell, Cell], bool],
) -> Iterable[str]:
    """Words on each link in doubt that touches no line and has ink on its way."""
    taken = {cell for course in found for cell in course.cells}
    for one, other, chance in chances.links():
        possible = MIDDLING[0] < drawn_chance(chance) <= DRAWN and one not in taken and other not in taken
        if possible and measure(one, other).inked > SOME_INK and stands(one, other):
            yield joined_words(one, other)


def _width(strokes: Sequence[Stroke]) -> float:
    """The usual width of those that could be measured: beside darker print, as a long diagonal, a pale one cannot."""
    return float(np.median([stroke.width for stroke in strokes if stroke.width > 0] or [0.0]))


def _colour(strokes: Sequence[Stroke]) -> Colour:
    red, green, blue = (round(255 * float(v)) for v in np.median([stroke.shade for stroke in strokes], axis=0))
    return red, green, blue
