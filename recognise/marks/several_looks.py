"""Digits in a circle on a corner, put together from several looks at it: a wall of a cage, the circle's own line or a
digit beside it hides one digit from one look and another one from the next."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.evidence import Guess
from recognise.geometry import share_in_circle
from recognise.marks.text_ink import DASH, Wall
from recognise.marks.text_places import Place
from recognise.marks.text_readings import Reading
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS, Character

Found = tuple[Character, Reading]
"""A character and the reading that has it."""

LIKELY, CERTAIN, TWICE = 0.65, 0.97, 2
"""A digit counts that so many looks show and is likely, or that one look shows and is certain."""
HANGS = 0.02
"""In cells: so near to the upper side of a frame a stroke begins that hangs from it."""
MOST = 4
"""So many digits stand in a circle on the corner of four cells at most."""
HEIGHTS, LOW, LOW_FIGURES = (0.75, 1.55), 0.6, "012"
"""Heights of the digits of one circle, as parts of the middle one: a piece of a wall makes one taller; old-style
figures without strokes above or below are lower."""
OWN = 0.75
"""The part of a character's box that lies in the circle it stands in: a dash that it touches reaches out of it."""
SAME_PLACE, OVERLAP = 0.5, 0.3
"""As a part of its height: middles so near to each other are of one digit; boxes of two share this part of the smaller
one at most."""
SLIM = 0.06
"""In cells: dashes of walls are no wider, with what blur adds."""


def put_together(place: Place, best: Reading, readings: Sequence[Reading], walls: Iterable[Wall]) -> list[Found]:
    """The digits of all readings of a circle, each once; none where the best reading has them all, or more than stand
    in a circle are left. A slim stroke on a wall of a cage is a dash of it."""
    shown = [(c, r) for r in readings for c in r.characters if c.guesses[0].text in DIGITS]
    sure = [c.height for c, _ in shown if c.guesses[0].probability >= CERTAIN]
    if not sure:
        return []
    usual, dashed = float(np.median(sure)), list(walls)
    fitting = [one for one in shown if _fits(one[0], place, usual) and not is_dash(one[0], dashed)]
    kept: list[Found] = []
    for looks in sorted(_by_digit(fitting, usual), key=_weight, reverse=True):
        found = max(looks, key=lambda one: one[0].guesses[0].probability)
        likely = found[0].guesses[0].probability
        told = likely >= CERTAIN or (likely >= LIKELY and len(looks) >= TWICE)
        if told and not any(_is_in_the_way(found[0], other) for other, _ in kept):
            kept.append(found)
    return kept if len(best.characters) < len(kept) <= MOST else []


def with_strokes(readings: Iterable[Reading], place: Place, raster: Raster) -> list[Reading]:
    """The looks at a frame, a slim stroke that hangs from its upper side and was read as nothing, or hardly as a 1, as
    a 1: its flag went with the frame. No wall and no lattice line runs on in there."""
    if place.frame is None:
        return list(readings)
    return [replace(one, characters=_with_strokes(one, place.frame, raster)) for one in readings]


def _with_strokes(reading: Reading, frame: Box, raster: Raster) -> tuple[Character, ...]:
    told = [c for c in reading.characters if c.guesses[0].text != "1" or c.guesses[0].probability >= LIKELY]
    known = {label for character in told for label in character.blob.labels}
    loose = [(blob, blob.box(raster)) for blob in reading.near if not known.intersection(blob.labels)]
    one = (Guess("1", LIKELY),)
    return (*told, *(Character(blob, box, one, one) for blob, box in loose if _hangs(box, frame)))


def _hangs(box: Box, frame: Box) -> bool:
    """Whether a slim stroke hangs from the upper side of a frame, clear of the others."""
    x0, y0, x1, _ = box
    return x1 - x0 <= SLIM and frame[0] + SLIM <= x0 and x1 <= frame[2] - SLIM and y0 <= frame[1] + HANGS


def _by_digit(shown: Iterable[Found], usual: float) -> list[list[Found]]:
    """What is shown, the same digit in the same place together."""
    groups: dict[str, list[list[Found]]] = defaultdict(list)
    for one in shown:
        same = groups[one[0].guesses[0].text]
        own = next((group for group in same if _off(group[0][0], one[0]) <= SAME_PLACE * usual), None)
        if own is None:
            same.append([one])
        else:
            own.append(one)
    return [group for same in groups.values() for group in same]


def _weight(looks: Iterable[Found]) -> float:
    """How much speaks for a digit: how sure each look is of it, taken together."""
    return sum(character.guesses[0].probability for character, _ in looks)


def _fits(character: Character, place: Place, usual: float) -> bool:
    """Whether a character stands in the circle, and is as tall as its digits are."""
    least = LOW if character.guesses[0].text in LOW_FIGURES else HEIGHTS[0]
    inside = share_in_circle(character.box, place.middle, place.radius) >= OWN
    return inside and least <= character.height / usual <= HEIGHTS[1]


def is_dash(character: Character, walls: Iterable[Wall]) -> bool:
    """Whether a slim stroke stands upright on an upright wall of a cage."""
    x0, _, x1, _ = character.box
    x, y = character.centre
    return x1 - x0 <= SLIM and any(
        abs(xa - xb) <= DASH and abs(x - (xa + xb) / 2) <= DASH and min(ya, yb) <= y <= max(ya, yb)
        for (xa, ya), (xb, yb) in walls
    )


def _off(one: Character, other: Character) -> float:
    return max(abs(a - b) for a, b in zip(one.centre, other.centre, strict=True))


def _is_in_the_way(one: Character, other: Character) -> bool:
    """Whether two characters can not both stand where they do."""
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = one.box, other.box
    shared = max(0.0, min(ax1, bx1) - max(ax0, bx0)) * max(0.0, min(ay1, by1) - max(ay0, by0))
    smaller = min((ax1 - ax0) * (ay1 - ay0), (bx1 - bx0) * (by1 - by0))
    return shared > OVERLAP * smaller or _off(one, other) <= SAME_PLACE * min(one.height, other.height)
