"""Digits in circles on corners, told by those that are surely read in other circles of their page.

Print sets the digits of all circles in one fount and size and at the same places. So a circle in which the wall of a
cage or another number covers some of its ink is explained as a whole: by digits of the sure circles, each where these
have digits. What covers it only adds ink, so a digit must show wherever it has ink; ink beside the digits counts
against them only where nothing covers the circle.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour
from recognise.evidence import Glyph, Guess
from recognise.geometry import shared
from recognise.grouping import grouped
from recognise.marks.text_ink import GROUND, INSIDE, TINTED, Print, Wall, disc, past_walls, runs_through
from recognise.marks.text_looks import SHARES
from recognise.marks.text_places import Place
from recognise.marks.text_readings import Reading
from recognise.pixels.blobs import colour_of
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.glyphs import DIGITS, Character

CERTAIN, AGREE, LEFT = 0.97, 2, 0.03
"""A circle is sure of which all looks read the same, each digit so surely, and leave so little ink."""
MOST = 4
"""So many digits stand in a circle on the corner of four cells at most."""
OF_EACH = 3
"""So many of each digit are compared at most."""
SHIFT, SAME = 0.03, 0.04
"""In cells: how far off its place a digit may stand, and how near to each other the places of two circles are one."""
DARKER, RIM = 0.15, 0.02
"""By so much darker than the digits of sure circles is what covers a circle; how far its blur reaches, in cells."""
MISSED = 0.2
"""As a part of the ink of the digits: what they explain wrong at most."""
AHEAD, LEAST = 0.15, 0.02
"""As parts of the ink of one digit: by how much the next digits must be worse where no others could stand there (and by
more than what is explained wrong), and where those told are likelier than what was read."""
SEEN, ALIKE = 0.93, 1.2
"""Part of a digit's ink that shows where nothing else could be there, and how many times as tall another digit is of
the same size of type."""
TOLD, DOUBTED = 0.98, 0.5
"""How sure a digit is that is told so, and what of that is left where others could stand there."""

WITHIN, OVERLAP = 0.9, 0.3
"""As a part of its radius: what lies within may be digits, though it may be the circle's line as well; boxes of two
digits share this part of the smaller one at most."""

Offset = tuple[float, float]
Found = tuple[Character, Reading]
"""A digit and the reading that has it."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    """A digit of the circle at a place: its ink, which pixels of that nothing covers, where its middle is from that of
    its circle, in pixels, and what was read."""

    place: Place
    ink: Grey
    free: Mask
    at: Offset
    character: Character
    colour: Colour

    @property
    def text(self) -> str:
        return self.character.guesses[0].text


@dataclass(frozen=True, slots=True)
class _Put:
    """A digit put into a circle: its upper left corner in the window, and by how much it explains it better."""

    pattern: _Pattern
    left: int
    top: int
    gain: float

    @property
    def box(self) -> Box:
        """Its box in the window, in pixels."""
        blob = self.pattern.character.blob
        (high, wide), x, y = self.pattern.ink.shape, self.left, self.top
        right, down = (wide - blob.width) / 2, (high - blob.height) / 2
        return x + right, y + down, x + wide - right, y + high - down

    @property
    def area(self) -> int:
        """That of its box."""
        return self.pattern.character.blob.width * self.pattern.character.blob.height


@dataclass(frozen=True, slots=True)
class _Circle:
    """The window of a circle: its ink, which of its pixels nothing covers, and where its middle is in the window."""

    ink: Grey
    free: Mask
    middle: Offset
    corner: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Told:
    """The digits of a circle; `ahead` is by how much the next best digits are worse, as a part of the ink of one, and
    `plain` says that no others could stand there."""

    glyphs: tuple[Glyph, ...]
    ahead: float
    plain: bool

    @property
    def text(self) -> str:
        """Its digits in order."""
        return "".join(sorted(glyph.text for glyph in self.glyphs))


def settled(read: list[Glyph], told: Told | None) -> list[Glyph]:
    """What stands in a circle, by what was read in it and what the other circles of its page tell."""
    if told is None or (read and all(glyph.confidence >= CERTAIN for glyph in read)):
        return read
    if told.plain:
        return list(told.glyphs)
    if "".join(sorted("".join(glyph.text for glyph in read))) == told.text or told.ahead < LEAST:
        return read
    return [glyph.less_sure(DOUBTED) for glyph in told.glyphs]


def told_by_others(circles: Mapping[Place, Sequence[Reading]], walls: Sequence[Wall], seen: Print) -> dict[Place, Told]:
    """What stands in those circles that are not surely read, or that walls run through, where the digits that surely
    stand in circles of the page explain it, and no others of them nearly as well."""
    hollow = {place: looks for place, looks in circles.items() if place.frame is None}
    others = [place for place, looks in hollow.items() if not _is_surely_read(place, looks[: len(SHARES)], walls)]
    if not others:
        return {}
    ink, free = _off_ground(hollow, seen), _free(hollow, walls, seen)
    patterns = [
        _pattern(character, place, look, ink, free, seen)
        for place, looks in hollow.items()
        for character, look in _surely_digits(looks)
    ]
    if not patterns:
        return {}
    dark = float(np.median([pattern.ink.max() for pattern in patterns]))
    free &= cv2.dilate((ink > dark + DARKER).astype(np.uint8), _square(RIM, seen.raster)) == 0
    places = _places(patterns, SAME * seen.raster.cell)
    clearest = sorted(patterns, key=lambda pattern: -float(pattern.free.mean()))
    found = {}
    for place in others:
        circle = _circle(place, ink, free, seen.raster)
        # A digit of its own to which a wall may have added explains itself: that is no proof.
        foreign = [pattern for pattern in clearest if pattern.place != place or pattern.free.all()]
        told = _tell(circle, _few_of_each(foreign), places, seen.raster)
        if told is None or not told.plain:
            told = _tell(circle, _few_of_each(clearest), places, seen.raster)
            told = replace(told, plain=False) if told is not None else None
        if told is not None:
            found[place] = told
    return found


def _is_surely_read(place: Place, looks: Sequence[Reading], walls: Iterable[Wall]) -> bool:
    """Whether all looks at a circle surely read the same, nothing is left over, and no wall runs through it."""
    alike = all(sorted(look.text) == sorted(looks[0].text) for look in looks)
    sure = all(look.left <= LEFT and look.least >= CERTAIN for look in looks) and looks[0].text.isdecimal()
    return alike and sure and not any(runs_through(wall, place) for wall in walls)


def _surely_digits(looks: Sequence[Reading]) -> list[Found]:
    """The digits of a circle that some looks surely read as the same, each with one of these looks."""
    sure = [(c, look) for look in looks for c in look.characters if c.guesses[0].probability >= CERTAIN]

    def is_alike(group: Sequence[Found], one: Found) -> bool:
        return math.dist(group[0][0].centre, one[0].centre) <= SAME

    told = []
    for some in grouped(sure, is_alike):
        texts = {character.guesses[0].text for character, _ in some}
        if len(some) >= AGREE and len(texts) == 1 and texts <= set(DIGITS):
            told.append(some[0])
    return told


def _off_ground(circles: Iterable[Place], seen: Print) -> Grey:
    """The ink in circles, less that of their ground."""
    ink = np.zeros_like(seen.whole)
    for place in circles:
        mask = disc(place, WITHIN, seen)
        own = seen.whole[mask]
        if own.size:
            ground = float(np.percentile(own, GROUND))
            ink[mask] = np.maximum(own - ground, 0) / max(1 - ground, TINTED)
    return ink


def _free(circles: Iterable[Place], walls: Iterable[Wall], seen: Print) -> Mask:
    """Where in circles no wall covers what stands there, and the circle's own line does not."""
    free = np.zeros_like(seen.whole)
    for place in circles:
        free[disc(place, INSIDE, seen)] = 1
    return np.asarray(past_walls(free, walls, seen.raster) > 0, np.bool_)


def _square(reach: float, raster: Raster) -> npt.NDArray[np.uint8]:
    return np.ones((2 * raster.px(reach) + 1,) * 2, np.uint8)


def _pattern(character: Character, place: Place, reading: Reading, ink: Grey, free: Mask, seen: Print) -> _Pattern:
    blob, pad = character.blob, seen.raster.px(RIM)
    rows = slice(blob.y - pad, blob.y + blob.height + pad)
    columns = slice(blob.x - pad, blob.x + blob.width + pad)
    own = blob.among(reading.pieces.labels[rows, columns]).astype(np.uint8)
    own = cv2.dilate(own, np.ones((3, 3), np.uint8))
    (x, y), (a, b) = character.centre, place.middle
    at = (x - a) * seen.raster.cell, (y - b) * seen.raster.cell
    # Beside its own ink stands paper, or another digit.
    bare = free[rows, columns] | (own == 0)
    return _Pattern(
        place, ink[rows, columns] * own, bare, at, character, colour_of(blob, reading.pieces, seen.relative)
    )


def _few_of_each(patterns: Iterable[_Pattern]) -> dict[str, list[_Pattern]]:
    found: dict[str, list[_Pattern]] = {}
    for pattern in patterns:
        some = found.setdefault(pattern.text, [])
        if len(some) < OF_EACH:
            some.append(pattern)
    return found


def _places(patterns: Iterable[_Pattern], near: float) -> list[Offset]:
    """Where digits stand in the circles of a page, each place once."""
    found: list[Offset] = []
    for pattern in patterns:
        if all(math.dist(pattern.at, other) > near for other in found):
            found.append(pattern.at)
    return found


def _circle(place: Place, ink: Grey, free: Mask, raster: Raster) -> _Circle:
    """The window of a circle."""
    rows, columns = raster.slices(place.box, raster.px(SHIFT) + raster.px(RIM))
    x, y = (raster.at(v) for v in place.middle)
    middle = x - columns.start, y - rows.start
    return _Circle(ink[rows, columns], free[rows, columns], middle, (columns.start, rows.start))


def _tell(
    circle: _Circle, patterns: Mapping[str, Sequence[_Pattern]], places: Sequence[Offset], raster: Raster
) -> Told | None:
    """The digits that explain a circle best, where they do so better than none."""
    ways = [
        max((_put(pattern, at, circle, raster) for pattern in some), key=lambda put: put.gain)
        for at in places
        for some in patterns.values()
    ]
    # What explains nothing may still stand there, under what covers the circle: it counts against those told.
    ways = [way for way in ways if way.gain > -math.inf]
    puts = _pursued(circle, ways)
    if not puts:
        return None
    cost, own = _cost(circle, puts)
    if cost > MISSED * own:
        return None
    rest = [other for other in _others(puts, ways) if _text(other) != _text(puts)]
    ahead = min((_cost(circle, other)[0] for other in rest), default=cost + own) - cost
    # A 1 is what hides under a dash.
    known = "1" in patterns and all(_is_seen(put, circle) or _has_rivals(put, patterns) for put in puts)
    of_one = ahead * len(puts) / own
    plain = known and of_one >= AHEAD and ahead >= cost
    return Told(tuple(_glyph(put, circle, raster) for put in puts), of_one, plain)


def _is_seen(put: _Put, circle: _Circle) -> bool:
    """Whether nearly all of a digit shows."""
    high, wide = put.pattern.ink.shape
    free = circle.free[put.top : put.top + high, put.left : put.left + wide] & put.pattern.free
    return float((put.pattern.ink * free).sum()) >= SEEN * float(put.pattern.ink.sum())


def _has_rivals(put: _Put, patterns: Mapping[str, Sequence[_Pattern]]) -> bool:
    """Whether all other digits of about its size are known, so that one of these would be told from it."""
    tall = put.pattern.character.height
    sizes = {text: [tall / pattern.character.height for pattern in some] for text, some in patterns.items()}
    alike = {text for text, some in sizes.items() if any(1 / ALIKE <= size <= ALIKE for size in some)}
    return alike >= set(DIGITS[1:])


def _text(puts: Iterable[_Put]) -> str:
    return "".join(sorted(put.pattern.text for put in puts))


def _pursued(circle: _Circle, ways: Sequence[_Put]) -> tuple[_Put, ...]:
    """Digits put into a circle one by one, each where it explains most of what is left, and then each once more beside
    the others."""
    puts: tuple[_Put, ...] = ()
    cost = _cost(circle, puts)[0]
    while some := list(_one_more(puts, ways)):
        least, more = min(((_cost(circle, more)[0], more) for more in some), key=lambda one: one[0])
        if least >= cost:
            break
        puts, cost = more, least
    for at in range(len(puts)):
        rest = (*puts[:at], *puts[at + 1 :])
        puts = min((puts, *_one_more(rest, ways)), key=lambda some: _cost(circle, some)[0])
    return puts


def _one_more(puts: tuple[_Put, ...], ways: Iterable[_Put]) -> Iterator[tuple[_Put, ...]]:
    """Some digits and each that may stand beside them."""
    if len(puts) < MOST:
        yield from ((*puts, way) for way in ways if not any(_is_in_the_way(way, put) for put in puts))


def _is_in_the_way(one: _Put, other: _Put) -> bool:
    """Whether two digits cannot both stand where they are put: each has a box of its own."""
    return shared(one.box, other.box) > OVERLAP * min(one.area, other.area)


def _others(puts: tuple[_Put, ...], ways: Sequence[_Put]) -> Iterator[tuple[_Put, ...]]:
    """All other ways that differ in one digit: another one, one more or one less."""
    yield from _one_more(puts, ways)
    for at in range(len(puts)):
        rest = (*puts[:at], *puts[at + 1 :])
        yield rest
        yield from _one_more(rest, ways)


def _put(pattern: _Pattern, offset: Offset, circle: _Circle, raster: Raster) -> _Put:
    """A digit where it explains most of a circle about one of its places."""
    high, wide = pattern.ink.shape
    reach = raster.px(SHIFT)
    left = round(circle.middle[0] + offset[0] - wide / 2) - reach
    top = round(circle.middle[1] + offset[1] - high / 2) - reach
    size = 2 * reach + 1
    window = np.s_[top : top + high + size - 1, left : left + wide + size - 1]
    if top < 0 or left < 0 or circle.ink[window].shape != (high + size - 1, wide + size - 1):
        return _Put(pattern, 0, 0, -math.inf)
    windows = np.lib.stride_tricks.sliding_window_view
    ink, free = windows(circle.ink[window], (high, wide)), windows(circle.free[window], (high, wide))
    wrong = _wrong(np.asarray(ink, np.float32), pattern.ink, np.asarray(free, np.bool_))
    gains = ((ink * (free & pattern.free)) - wrong * pattern.free).sum(axis=(2, 3))
    y, x = np.unravel_index(int(gains.argmax()), gains.shape)
    return _Put(pattern, left + int(x), top + int(y), float(gains[y, x]))


def _wrong(ink: Grey, own: Grey, free: Mask) -> npt.NDArray[np.floating]:
    """Of each pixel, how much of the digits does not show, and how much shows beside them where nothing covers it."""
    return np.asarray(np.maximum(own - ink, 0) + np.maximum(ink - own, 0) * free)


def _cost(circle: _Circle, puts: Iterable[_Put]) -> tuple[float, float]:
    """What some digits explain wrong of the whole circle, and their own ink."""
    drawn, told = np.zeros_like(circle.ink), np.ones(circle.ink.shape, np.bool_)
    for put in puts:
        high, wide = put.pattern.ink.shape
        window = np.s_[put.top : put.top + high, put.left : put.left + wide]
        np.maximum(drawn[window], put.pattern.ink * put.pattern.free, out=drawn[window])
        told[window] &= put.pattern.free
    return float((_wrong(circle.ink, drawn, circle.free) * told).sum()), max(float(drawn.sum()), 1e-6)


def _glyph(put: _Put, circle: _Circle, raster: Raster) -> Glyph:
    """A digit as it stands in its circle."""
    pad = raster.px(RIM)
    (left, top), (high, wide) = circle.corner, put.pattern.ink.shape
    box = raster.box(left + put.left + pad, top + put.top + pad, wide - 2 * pad, high - 2 * pad)
    character = put.pattern.character
    return Glyph(box, (Guess(put.pattern.text, TOLD),), character.height, put.pattern.colour, "ocr")
