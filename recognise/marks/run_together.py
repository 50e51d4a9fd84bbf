"""Numbers beside the grid that run into one another, two diagonals may begin in one place, and figures of one that
stand far apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from statistics import median

from recognise.marks.text_places import Place
from recognise.marks.text_readings import SURE
from recognise.pixels.glyphs import LEVEL, Character, box_around, side_by_side
from recognise.pixels.outside import LOOSE

LEAST = 2
"""So many numbers with one little arrow show how far print sets them aside of it."""


def usual_aside(middles: Iterable[tuple[Place, float]], columns: int) -> float | None:
    """How far in cells, against the way of its arrow, the middle of a number lies from that of its place, of those read
    at places with one arrow above or below the grid's columns; None where too few show it."""
    single = [(place, x) for place, x in middles if len(place.arrows) == 1 and 0 < place.middle[0] < columns]
    asides = [(place.middle[0] - x) * place.arrows[0][0] for place, x in single]
    return median(asides) if len(asides) >= LEAST else None


def middles_of(read: Mapping[Place, Sequence[Character]]) -> list[tuple[Place, float]]:
    """The middle of the number at each place at which one was read."""
    return [(place, _middle(group[0])) for place, own in read.items() if len(group := side_by_side(own)) == 1]


def expected(place: Place, aside: float | None) -> tuple[float, ...]:
    """Where the middles of the numbers at a place with several arrows are expected, from left to right; none where
    that is not known."""
    if aside is None or len(place.arrows) < 2:
        return ()
    return tuple(sorted(place.middle[0] - right * aside for right, _ in place.arrows))


def as_one(groups: list[list[Character]]) -> list[list[Character]]:
    """The characters at a place of one number, put together as loosely as figures stand in wide founts, a 1 before a 4
    above all: no other number stands there. What is not surely a figure may be a bit of the arrow."""
    single = [group[0] for group in groups if len(group) == 1]
    if len(groups) != 2 or len(single) != 2 or any(not _is_sure_figure(one) for one in single):
        return groups
    left, right = sorted(single, key=lambda one: one.box[0])
    shared = min(left.box[3], right.box[3]) - max(left.box[1], right.box[1])
    tall = max(left.height, right.height)
    close = right.box[0] - left.box[2] <= LOOSE * tall and shared >= LEVEL * tall
    return [[left, right]] if close else groups


def _is_sure_figure(character: Character) -> bool:
    first = character.guesses[0]
    return first.text.isdecimal() and first.probability >= SURE


def numbers_of(groups: list[list[Character]], count: int, middles: Sequence[float] = ()) -> list[list[Character]]:
    """So many numbers at least: where they run into one another the longest is taken for two, parted so that they stand
    about the `middles` where these are known, or else in the middle or, of three figures, where they stand farther
    apart."""
    longest = max(groups, key=len, default=[])
    if len(groups) >= count or len(longest) < 2:
        return groups
    half = _about(longest, middles) if len(middles) == 2 else _widest(longest)
    parts = [longest[:half], longest[half:]]
    return [part for group in groups for part in (parts if group is longest else [group])]


def _about(figures: Sequence[Character], middles: Sequence[float]) -> int:
    """After how many figures two numbers part that stand about two places."""

    def off(half: int) -> float:
        parts = figures[:half], figures[half:]
        return max(abs(_middle(part) - at) for part, at in zip(parts, middles, strict=True))

    return min(range(1, len(figures)), key=off)


def _widest(figures: Sequence[Character]) -> int:
    """The same by the gaps between them."""
    half = len(figures) // 2
    if len(figures) % 2 == 0:
        return half
    before, after = (figures[at + 1].box[0] - figures[at].box[2] for at in (half - 1, half))
    return half + 1 if before < after else half


def _middle(figures: Sequence[Character]) -> float:
    x0, _, x1, _ = box_around(figures)
    return (x0 + x1) / 2
