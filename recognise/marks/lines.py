"""Links between cells put together to lines: which of them are one line where several meet, and what each line is."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from recognise.grouping import grouped
from recognise.marks.network import Chances
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.steps import KINDS, SAME_COLOUR, Step, other_width
from recognise.marks.strokes import Stroke
from schema.cells import Cell

DRAWN = 0.5
"""From this probability on a link is taken for drawn."""
MIDDLING = (0.05, 0.95)
"""Probabilities between these are in doubt."""
OTHER_COLOUR = 0.3
"""Two strokes that meet end to end and differ by more are two lines."""
TOGETHER = 0.6
"""Links of one line are seen well or badly together: the product of their chances is taken to this power."""
TELLING = 2.0
"""A bulb or a head tells a line's kind better than any of its links."""
LEAST = 1e-4
"""No probability counts as less."""
ENDING = 0.8
"""Two steps of one look that meet are one line unless the network is that sure that it ends there. Counted on 540 worn
samples (`recognise.marks.looks` says which): of 20 such meetings at 0.5 to 0.8 that were read as two ends 18 were one
line, of 18 at 0.8 to 0.95 five."""
MEET = "lines of one colour meet in"
STRAIGHT = math.radians(20)
"""A line that goes on within this of straight ahead."""


@dataclass(frozen=True, slots=True)
class Course:
    """Steps that are one line, of one kind with its probability; `asks` says where they might be joined otherwise."""

    kind: str
    steps: tuple[Step, ...]
    asks: tuple[str, ...] = ()
    sure: float = 1.0

    @property
    def cells(self) -> tuple[Cell, ...]:
        """In reading order."""
        return tuple(sorted({cell for step in self.steps for cell in (step.first, step.second)}))

    def degree(self, cell: Cell) -> int:
        """How many of its steps end in a cell."""
        return sum(cell in (step.first, step.second) for step in self.steps)

    @property
    def ends(self) -> tuple[Cell, ...]:
        """The cells in which it ends."""
        return tuple(cell for cell in self.cells if self.degree(cell) == 1)


def drawn_steps(chances: Chances, measure: Callable[[Cell, Cell], Stroke]) -> list[Step]:
    """Every link that is rather a drawn line than not."""
    return [
        Step(one, other, chance, measure(one, other))
        for one, other, chance in chances.links()
        if sum(chance[name] for name in KINDS) > DRAWN
    ]


def courses(steps: Sequence[Step], chances: Chances, spoken: Spoken = SILENT) -> list[Course]:
    """The lines that steps make."""
    parent = list(range(len(steps)))

    def root(index: int) -> int:
        while parent[index] != index:
            index = parent[index]
        return index

    asks: list[tuple[int, str]] = []
    for cell, meeting in _meetings(steps).items():
        pairs, doubt = _joined_at(cell, [steps[i] for i in meeting], chances, spoken)
        for a, b in pairs:
            parent[root(meeting[a])] = root(meeting[b])
        if doubt:
            asks += [(index, doubt) for index in meeting]
    groups: dict[int, list[int]] = {}
    for index in range(len(steps)):
        groups.setdefault(root(index), []).append(index)
    found = []
    lines = [tuple(steps[i] for i in members) for members in groups.values()]
    for members, own, (kind, sure) in zip(groups.values(), lines, kinds_of(lines, chances, spoken), strict=True):
        words = tuple(dict.fromkeys(words for index, words in asks if index in members))
        found.append(Course(kind, own, words, sure))
    return found


def _meetings(steps: Sequence[Step]) -> dict[Cell, list[int]]:
    meeting: dict[Cell, list[int]] = {}
    for index, step in enumerate(steps):
        for cell in (step.first, step.second):
            meeting.setdefault(cell, []).append(index)
    return {cell: indices for cell, indices in meeting.items() if len(indices) > 1}


def _joined_at(
    cell: Cell, steps: Sequence[Step], chances: Chances, spoken: Spoken
) -> tuple[list[tuple[int, int]], str]:
    """Which of the steps that meet in a cell are of one line (pairs of places), and words where that is in doubt."""
    places = range(len(steps))
    if len(steps) == 2:
        one, two = steps
        end = chances.node(cell, "END")
        if is_ringed_end(cell, chances, spoken):
            return [], ""
        unsure = one.looks_like(two) and DRAWN < end < MIDDLING[1]
        doubt = ends_words(cell) if unsure else ""
        return ([] if _both_end(cell, one, two, chances, spoken) else [(0, 1)]), doubt
    pairs: list[tuple[int, int]] = []
    doubt = ""
    groups = _alike(steps, places)
    alone = any(len(group) == 1 for group in groups)
    for alike in groups:
        if len(alike) < 2:
            continue
        tubes = sum(steps[place].kind == "TUBE" for place in alike)
        apart = len(alike) == 2 and _stand_apart(steps, alike)
        if apart and alone:  # another line ends here: the end that is seen is its own
            pairs.append((alike[0], alike[1]))
        elif apart:
            joined, words = _joined_at(cell, [steps[place] for place in alike], chances, spoken)
            pairs += [(alike[a], alike[b]) for a, b in joined]
            doubt = doubt or words
        elif 2 * tubes >= len(alike) or _is_start(cell, chances):
            pairs += [(alike[0], other) for other in alike[1:]]
        else:
            ahead, unsure = _ahead(cell, steps, alike)
            pairs += ahead
            doubt = doubt or (f"{MEET} {cell}" if unsure else "")
    return pairs, doubt


def _stand_apart(steps: Sequence[Step], alike: Sequence[int]) -> bool:
    """Whether steps are plainly of another colour or look than all others that meet them: these say nothing of how they
    go on."""
    others = [step for place, step in enumerate(steps) if place not in alike]

    def apart(one: Step, other: Step) -> bool:
        return one.is_other_look(other) or one.stroke.differs(other.stroke) > OTHER_COLOUR

    return all(apart(steps[place], other) for place in alike for other in others)


def ends_words(cell: Cell) -> str:
    """The question whether two lines end in a cell that are read as one, or the other way round."""
    return f"perhaps one line ends in {cell} and another begins"


def is_ringed_end(cell: Cell, chances: Chances, spoken: Spoken) -> bool:
    """Whether lines surely end in a cell: there is a circle, and the rules know circles only as what all lines end
    in."""
    return spoken.ringed_only and not spoken.circles and chances.node(cell, "CIRCLE") > MIDDLING[1]


def _both_end(cell: Cell, one: Step, other: Step, chances: Chances, spoken: Spoken) -> bool:
    """Whether two steps that meet alone in a cell are the ends of two lines: a line that went on would not have ended,
    and where none ends they are one, however badly colours and widths of thin and dotted strokes are measured. Where
    the rules know only lines that end in circles, there must be one."""
    end = chances.node(cell, "END")
    if spoken.ringed_only and spoken.one_line and chances.node(cell, "CIRCLE") < MIDDLING[0]:
        end = min(end, DRAWN)
    if end < MIDDLING[0]:
        return one.is_other_kind(other) or one.is_tube_beside(other)
    seen = one.stroke.seen and other.stroke.seen  # of what other marks hide the colour seen may be theirs
    differ = one.kind != "TUBE" and seen and one.stroke.differs(other.stroke) > OTHER_COLOUR
    return end > (ENDING if one.looks_like(other) else DRAWN) or differ or one.clashes(other)


def _alike(steps: Sequence[Step], places: Iterable[int]) -> list[list[int]]:
    """Steps of one colour that are not surely of two kinds."""

    def fits(group: Sequence[int], place: int) -> bool:
        like, step = steps[group[0]], steps[place]
        return not like.clashes(step) and like.is_of_one_colour(step)

    return grouped(places, fits)


def _is_start(cell: Cell, chances: Chances) -> bool:
    """Whether lines begin in a cell, so that several of them are one drawing."""
    return max(chances.node(cell, name) for name in ("CIRCLE", "CAPSULE", "BULB")) > DRAWN


def _ahead(cell: Cell, steps: Sequence[Step], alike: Sequence[int]) -> tuple[list[tuple[int, int]], bool]:
    """Pairs that go straight on through a cell, the straightest first; in doubt where one that is left over, or no
    straight pair, makes another way possible."""
    left = list(alike)
    pairs: list[tuple[int, int]] = []
    unsure = False
    bends = sorted((_bend(cell, steps[a], steps[b]), a, b) for a, b in combinations(alike, 2))
    for bend, a, b in bends:
        if a in left and b in left:
            left = [place for place in left if place not in (a, b)]
            pairs.append((a, b))
            unsure |= bend > STRAIGHT
    return pairs, unsure or bool(left)


def _bend(cell: Cell, one: Step, other: Step) -> float:
    """By how much a line turns in a cell."""
    ways = []
    for step in (one, other):
        far = step.other(cell)
        ways.append(math.atan2(far.row - cell.row, far.column - cell.column))
    return abs(math.pi - abs((ways[0] - ways[1] + math.pi) % (2 * math.pi) - math.pi))


def kinds_of(lines: Sequence[Sequence[Step]], chances: Chances, spoken: Spoken) -> list[tuple[str, float]]:
    """The kind of each line with its probability: the one that explains its steps best, with its bulb or head. Where
    the rules speak of one kind of line only, or of plain lines in colours of their own, those that look alike are of
    one kind, and their mean tells: a style that the network does not know misleads it in all of them. They are right
    or wrong together and share the doubt, which whoever adds up the doubts of a page shall meet once. What no rule
    speaks of is rarer."""
    scores = [_scores(steps, chances, spoken.one_line) for steps in lines]
    share = [1] * len(lines)
    if spoken.one_line or spoken.by_colour:
        plain = [None if spoken.one_line else _by_ends(steps, chances) for steps in lines]

        def fits(group: Sequence[int], at: int) -> bool:
            own = {plain[at], *(plain[other] for other in group)} - {None}
            return len(own) < 2 and _look_alike(lines[group[0]], lines[at])

        groups = grouped(range(len(lines)), fits)
        bulbs = [_has_bulb(steps, chances) for steps in lines]
        all_bulbs = any(all(bulbs[at] for at in alike) for alike in groups)
        for alike in groups:
            whole = {name: sum(scores[at][name] for at in alike) / len(alike) for name in KINDS}
            if spoken.by_colour and all_bulbs and 2 * sum(bulbs[at] for at in alike) < len(alike):
                whole["TUBE"] += TELLING * math.log(LEAST)  # the tubes of this page are those of another look
            scores = [whole if at in alike else own for at, own in enumerate(scores)]
            share = [len(alike) if at in alike else own for at, own in enumerate(share)]
    found = []
    for own, many in zip(scores, share, strict=True):
        told = {name: own[name] + math.log(spoken.weight(name, spoken.links)) for name in KINDS}
        best = max(KINDS, key=lambda name: told[name])
        sure = 1 / sum(math.exp(told[name] - told[best]) for name in KINDS)
        found.append((best, 1 - (1 - sure) / many))
    return found


def _has_bulb(steps: Sequence[Step], chances: Chances) -> bool:
    return any(chances.node(cell, "BULB") > DRAWN for step in steps for cell in (step.first, step.second))


def _by_ends(steps: Sequence[Step], chances: Chances) -> str | None:
    """The kind of a line that its ends show plainly: a circle at both, or a head and where an arrow begins, which may
    be amidst two. On grey paper lines of all kinds may look alike, whatever their colours."""
    cells = [cell for step in steps for cell in (step.first, step.second)]
    ends = [cell for cell in cells if cells.count(cell) == 1]
    ringed = [chances.node(cell, "CIRCLE") > MIDDLING[1] for cell in ends]
    headed = [chances.node(cell, "HEAD") > MIDDLING[1] for cell in ends]
    if len(ends) == 2 and all(ringed) and not any(headed):
        return "LINE"
    starts = [max(chances.node(cell, "CIRCLE"), chances.node(cell, "CAPSULE")) > MIDDLING[1] for cell in cells]
    return "SHAFT" if any(headed) and any(starts) else None


def _look_alike(one: Sequence[Step], other: Sequence[Step]) -> bool:
    """Whether two lines are drawn alike: in one colour, both hollow or neither, and about as wide."""
    first, second = (_middling(steps) for steps in (one, other))
    alike = first.outlined == second.outlined and first.differs(second) < SAME_COLOUR
    alike &= not any(a.is_other_look(b) for a in one for b in other)
    return alike and not other_width(first, second)


def _middling(steps: Sequence[Step]) -> Stroke:
    """The stroke of middling width of a line."""
    return sorted((step.stroke for step in steps), key=lambda stroke: stroke.width)[len(steps) // 2]


def _scores(steps: Sequence[Step], chances: Chances, only: str | None) -> dict[str, float]:
    """How well each kind explains all steps of a line, with its bulb or head, as logarithms. Steps of one line look
    alike: n of them count as the root of n. A head stands where a line ends, and no circle does; a line between two
    circles is no arrow, and what begins in a capsule is one. Where the rules know arrows `only`, and both ends are an
    arrow's, its steps count as one: far from them a shaft looks like any line."""
    cells = {cell for step in steps for cell in (step.first, step.second)}
    bulb = max(chances.node(cell, "BULB") for cell in cells)
    ends = [cell for cell in cells if sum(cell in (step.first, step.second) for step in steps) == 1]
    heads = {cell: chances.node(cell, "HEAD") * (1 - chances.node(cell, "CIRCLE")) for cell in ends}
    head = max(heads.values(), default=max(chances.node(cell, "HEAD") for cell in cells))
    capsule = max((chances.node(cell, "CAPSULE") for cell in ends), default=0.0)
    plain = 1 - capsule
    circle = max((chances.node(cell, "CIRCLE") for cell in ends), default=0.0)
    whole = only == "SHAFT" and min(head, max(capsule, circle)) > DRAWN
    weight = 1 / len(steps) if whole else 1 / math.sqrt(len(steps))
    marks = {"LINE": (1 - bulb) * (1 - head) * plain, "SHAFT": (1 - bulb) * head, "TUBE": bulb * (1 - head) * plain}
    return {
        name: sum(math.log(step.chance[name] / step.drawn + LEAST) for step in steps) * weight
        + TELLING * math.log(marks[name] + LEAST)
        for name in KINDS
    }


def uncrossed(course: Course, bulbs: Sequence[Cell]) -> list[Course]:
    """A line with several bulbs taken apart where four arms cross straight; whole, with a question, where that does
    not give one bulb each. A line with a bulb at each end stays one."""
    own = [cell for cell in course.cells if cell in bulbs]
    if len(own) < 2 or (set(own) == set(course.ends) and len(own) == 2):
        return [course]
    parts = _parted(course)
    if len(parts) > 1 and all(sum(cell in bulbs for cell in part.cells) == 1 for part in parts):
        return parts
    return [replace(course, asks=(*course.asks, "lines with several bulbs meet"))]


def _parted(course: Course) -> list[Course]:
    parts: list[list[Step]] = [[step] for step in course.steps]
    for one, other in combinations(course.steps, 2):
        shared = {one.first, one.second} & {other.first, other.second}
        if not shared:
            continue
        cell = next(iter(shared))
        if course.degree(cell) != 4 or _bend(cell, one, other) <= STRAIGHT:
            first = next(part for part in parts if one in part)
            second = next(part for part in parts if other in part)
            if first is not second:
                first.extend(second)
                parts.remove(second)
    return [replace(course, steps=tuple(part)) for part in parts]
