"""Readings of a place that holds characters: how one is made from some pieces, and which of several is believed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from ingest.page import Box
from recognise.geometry import extent, holds, in_circle, middle, within
from recognise.marks.bars import bars_parted
from recognise.marks.text_ink import inner
from recognise.marks.text_places import Place
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import (
    DIGITS,
    SIGN_ALIKE,
    Character,
    CharacterReader,
    box_around,
    read_characters,
    side_by_side,
)
from recognise.pixels.touching import parted

AGREEING = 2
"""So many looks at least show a number that is not in doubt."""
ASIDE, ASKEW = 0.2, 0.045
"""As a part of its width, and in cells: how far from the middle of its place print sets no number; grids are found to
three hundredths."""
TOUCH = 0.02
"""In cells: what comes so near to the side of that part runs on outside of it."""
ON_LINE, THIN = 0.03, 0.06
"""In cells: how near to its place a lattice line runs, and how wide a thin one is."""
SHORTEST_SIGN, LOW_SIGN, SIGNS, SQUARE = 0.03, 0.05, "+×", 0.7
"""In cells: least height of signs behind totals, which some founts set low and small, and the height below which one
may as well be dirt that lies elsewhere: each is about as wide as high, one side that part of the other at least."""
BEHIND, MIDST, PART = 0.5, 0.2, 0.25
"""As parts of its height: how far behind a figure a low sign stands at most, how far its middle lies from the figure's,
and how high it is at least."""
LOW, DOT = 0.06, 0.08
"""In cells: so far below the place of a total the lower dot of a division stands, and how large it is at most."""
DASH_LIKE = ("1", "I", "L")
"""What an upright dash of a wall is read as."""
LEVEL = 0.25
"""As a part of their height: how far over the middle of figures a minus stands at most."""
ALONG_RIM, RIM = 0.7, 0.06
"""As a part of the radius, how far from the middle of a circle its own line lies at least, wherever its middle was
measured, and in cells how thick that is at most: of digits in circles the outermost lie at 0.65, and are wider."""
SURE = 0.8
"""A reading with more digits than the best one is taken when each of them is so sure."""
HALF = 0.5
"""As a part of the height of the characters: what is left beside them in a circle, and is as long, may be one more."""
BLUR = 0.03
"""In cells: how far figures that run together reach beyond where they are read by themselves, at most."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Characters read at a place from some pieces, those pieces that stand there, and the part of the ink there that is
    in none of the characters."""

    characters: tuple[Character, ...]
    pieces: Pieces
    near: tuple[Blob, ...]
    left: float

    @property
    def text(self) -> str:
        """What is read, from left to right."""
        return "".join(c.guesses[0].text for c in sorted(self.characters, key=lambda c: c.box[0]))

    @property
    def longest(self) -> int:
        """How many characters its longest number has: the corner of a dashed line across the cell looks like a 7."""
        return max(map(len, side_by_side(self.characters)), default=0)

    @property
    def least(self) -> float:
        """How sure the least sure character is."""
        return min((c.guesses[0].probability for c in self.characters), default=0.0)

    @property
    def score(self) -> float:
        """The mean probability, less what was left over."""
        if not self.characters:
            return -1.0
        return sum(c.guesses[0].probability for c in self.characters) / len(self.characters) - self.left


def read_at(place: Place, ink: Grey, pieces: Pieces, raster: Raster, reader: CharacterReader) -> Reading:
    """What is read at a place from the pieces of some ink."""
    close = _about(pieces.blobs, place, raster)
    near = [blob for blob in close if _near(blob, place, raster)]
    blobs = [blob for blob in near if _sized(blob, place, raster)]
    numbers = not place.on_lattice or place.allowed == DIGITS
    read = read_characters(blobs, pieces, ink, raster, reader, place.allowed, numbers) if blobs else []
    if place.radius or not place.on_lattice:
        read = parted(read, pieces, ink, raster, reader, stacked=place.radius > 0)
    if place.in_corner:
        read, bars = bars_parted(read, pieces, ink, raster, reader)
        near += [*bars, *(blob for blob in close if _is_low_dot(blob, place, raster))]
    characters = tuple(character for character in read if character.is_character and not _is_speck(character, place))
    if place.in_corner:
        characters = tuple(one for one in on_one_line(characters) if not _is_dirt(one, characters))
    if _is_bare_edge(place):
        characters = tuple(one for one in characters if not _is_around(one, characters))
        characters = tuple(one for one in characters if one.height >= place.shortest or _is_times(one, characters))
    return Reading(characters, pieces, tuple(near), left_over(characters, near, pieces, place, raster))


def left_over(
    characters: Sequence[Character], near: Sequence[Blob], pieces: Pieces, place: Place, raster: Raster
) -> float:
    """The part of the ink at a place, of the pieces `near` it, that is in none of its characters."""
    known = {label for character in characters for label in character.blob.labels}
    # What runs on to the side of the place is lattice, and what is larger than a character is the circle.
    loose = [
        blob
        for blob in near
        if not _touches(blob, place, raster)
        and not _is_bit_of_line(blob.box(raster), place)
        and not _is_of_rim(blob, pieces, place, raster)
        and max(blob.width, blob.height) <= raster.px(place.tallest)
    ]
    area = sum(blob.area for blob in loose)
    left = sum(blob.area for blob in loose if not known.intersection(blob.labels))
    return left / area if area else 0.0


def _about(blobs: Iterable[Blob], place: Place, raster: Raster) -> list[Blob]:
    """The pieces whose middles lie at a place, or as low under it as the dot of a division, to a pixel: of all those of
    a page few are held against a place more closely."""
    x0, y0, x1, y1 = place.box
    left, top, right, bottom = (2 * raster.at(value) for value in (x0, y0, x1, y1 + LOW))
    left, top, right, bottom = left - 2, top - 2, right + 2, bottom + 2
    return [b for b in blobs if left <= 2 * b.x + b.width <= right and top <= 2 * b.y + b.height <= bottom]


def _near(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether the middle of a piece lies at a place."""
    return holds(place.box, middle(blob.box(raster)))


def _is_low_dot(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether a piece may be the lower dot of a division whose number a thick wall has moved down in its cell."""
    x, y = middle(blob.box(raster))
    below = place.box[0] <= x <= place.box[2] and 0 < y - place.box[3] <= LOW
    return below and max(blob.width, blob.height) <= raster.px(DOT)


def _sized(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether a piece has the size of a character, and is not a rest of a lattice line."""
    x0, y0, x1, y1 = blob.box(raster)
    if _is_bit_of_line((x0, y0, x1, y1), place):
        return False
    least = (
        SHORTEST_SIGN if (place.in_corner or _is_bare_edge(place)) and _is_square(x1 - x0, y1 - y0) else place.shortest
    )
    return least <= y1 - y0 <= place.tallest and x1 - x0 <= place.tallest and not _touches(blob, place, raster)


def _is_square(width: float, height: float) -> bool:
    return SQUARE * max(width, height) <= min(width, height)


def _is_speck(character: Character, place: Place) -> bool:
    """Whether a piece is too small for a character, and looks like no sign that may be so small."""
    return character.height < place.shortest and character.free[0].text not in SIGNS


def _is_bare_edge(place: Place) -> bool:
    """Whether characters stand at a place that are in no ring, and may be letters."""
    return place.on_lattice and not place.radius and place.allowed != DIGITS


def _is_around(frame: Character, characters: Iterable[Character]) -> bool:
    """Whether what looks like a character is the line of a box around others."""
    return any(
        holds(frame.box, middle(one.box)) and extent(one.box) < extent(frame.box) and one.height < frame.height
        for one in characters
        if one is not frame
    )


def _is_times(sign: Character, characters: Iterable[Character]) -> bool:
    """Whether a low character is the sign of a multiple, right before a figure and half way up."""
    x, y = sign.box[2], middle(sign.box)[1]
    return sign.free[0].text in SIGN_ALIKE and any(
        c.guesses[0].text.isdecimal()
        and abs(c.box[0] - x) <= BEHIND * c.height
        and abs(y - middle(c.box)[1]) <= MIDST * c.height
        for c in characters
    )


def _is_dirt(sign: Character, characters: Sequence[Character]) -> bool:
    """Whether what looks like a sign is lower than most and does not stand where one does, right behind a figure and
    level with its middle."""
    if sign.guesses[0].text not in SIGNS or sign.height >= LOW_SIGN:
        return False
    x, y = sign.box[0], middle(sign.box)[1]
    figures = [(c.box, c.height) for c in characters if c.guesses[0].text.isdecimal()]
    return not any(
        abs(x - box[2]) <= BEHIND * tall and abs(y - middle(box)[1]) <= MIDST * tall and sign.height >= PART * tall
        for box, tall in figures
    )


def on_one_line(characters: tuple[Character, ...]) -> tuple[Character, ...]:
    """The characters of a total without the dashes of the wall of its cage: a total is one line of figures, an upright
    dash stands under them, and a level one higher than a minus does."""
    bottom = min((character.box[3] for character in characters), default=0.0)
    line = [c for c in characters if c.guesses[0].text not in DASH_LIKE or c.box[1] < bottom]
    figures = [c.box for c in line if c.guesses[0].text.isdecimal()]
    if not figures:
        return tuple(line)
    top, low = (float(np.median([box[end] for box in figures])) for end in (1, 3))
    level = top + (low - top) * (0.5 - LEVEL)
    return tuple(c for c in line if c.guesses[0].text != "-" or middle(c.box)[1] >= level)


def _is_bit_of_line(box: Box, place: Place) -> bool:
    """Whether a piece lies on a lattice line as a thin stroke along it, farther from the middle of its place than it is
    long: a bit of the line between a ring and what is looked at. A 1 on a line stands in the middle."""
    if not place.on_lattice:
        return False
    sizes, centre = (box[2] - box[0], box[3] - box[1]), middle(box)
    along = int(sizes[1] > sizes[0])
    across = 1 - along
    on_line = abs(centre[across] - round(centre[across])) <= ON_LINE
    return on_line and sizes[across] <= THIN and abs(centre[along] - place.middle[along]) > sizes[along]


def _is_of_rim(blob: Blob, pieces: Pieces, place: Place, raster: Raster) -> bool:
    """Whether a piece lies along the circle of its place, and close to it: a slice of its own line, where it was
    measured too large or is not quite round."""
    if not place.radius or place.frame is not None:
        return False
    rows, columns = slice(blob.y, blob.y + blob.height), slice(blob.x, blob.x + blob.width)
    own = np.argwhere(np.isin(pieces.labels[rows, columns], blob.labels))[:, ::-1] + (blob.x, blob.y)
    away = np.linalg.norm((own + 0.5 - raster.origin) / raster.cell - place.middle, axis=1)
    return bool(away.size and away.mean() >= ALONG_RIM * place.radius and np.ptp(away) <= RIM)


def _touches(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether a piece runs on beyond the part of an edge that is looked at."""
    if place.radius or not place.on_lattice:
        return False
    x0, y0, x1, y1 = blob.box(raster)
    left, top, right, bottom = inner(place)
    return x0 <= left + TOUCH or y0 <= top + TOUCH or x1 >= right - TOUCH or y1 >= bottom - TOUCH


def longest(readings: Sequence[Reading]) -> Reading:
    """The best reading, or one that has more digits, all of them sure: at some thresholds a pale digit is lost. A sign
    alone is no number."""
    readings = [r for r in readings if any(map(str.isdecimal, r.text))] or readings
    best = max(readings, key=lambda r: r.score)
    longer = [r for r in readings if r.longest > best.longest and r.least >= SURE]
    seen = Counter(r.text for r in longer)
    longer = [r for r in longer if seen[r.text] >= AGREEING]
    return max(longer, key=lambda r: r.score) if longer else best


def fullest(readings: Sequence[Reading]) -> Reading:
    """The best reading, or one that has all its characters and more, all of them sure: what touches a line is no piece
    of its own once the line is out, and then not even left over."""
    best = max(readings, key=lambda r: r.score)
    fuller = [r for r in readings if r.least >= SURE and is_part(best.text, r.text) and _is_wider(r, best)]
    return max(fuller, key=lambda r: (len(r.text), r.score)) if fuller else best


def _is_wider(reading: Reading, best: Reading) -> bool:
    """Whether what a reading has more than the best one stands beside the characters of that: a piece that a line cuts
    off a letter reads as one more, in its place."""
    known = [character.box for character in best.characters]
    beside = [c for c in reading.characters if not any(holds(box, middle(c.box)) for box in known)]
    return len(beside) >= len(reading.characters) - len(best.characters)


def centred(readings: Sequence[Reading], place: Place) -> Reading:
    """The fullest reading, or, where that stands to one side, the fullest sure one that does not."""
    best = fullest(readings)
    if not _askew(best, place):
        return best
    centred = [r for r in readings if r.characters and r.least >= SURE and not _askew(r, place)]
    return fullest(centred) if centred else best


def _askew(reading: Reading, place: Place) -> bool:
    """Whether what is read on the lattice stands to one side of its place: a digit that touches the circle around a
    number is not read, and the others look like a whole number."""
    if not place.on_lattice or not reading.characters:
        return False
    left, right = (sign * max(sign * c.box[end] for c in reading.characters) for sign, end in ((-1, 0), (1, 2)))
    return abs((left + right) / 2 - place.middle[0]) > max(ASIDE * (right - left), ASKEW)


def in_part(reading: Reading, place: Place, raster: Raster) -> bool:
    """Whether only some of the characters at a place on the lattice seem to be read: they stand to one side of it, one
    of them is none that stands in such places, or what is left inside of its circle is as large as half a character:
    what is missing of them was cut off with the circle."""
    if _askew(reading, place) or any(c.guesses[0].text not in place.allowed for c in reading.characters):
        return True
    if not place.radius or not reading.characters:
        return False
    known = {label for character in reading.characters for label in character.blob.labels}
    least = HALF * float(np.median([character.height for character in reading.characters]))
    loose = (blob for blob in reading.near if not known.intersection(blob.labels))
    boxes = [blob.box(raster) for blob in loose if not _is_of_rim(blob, reading.pieces, place, raster)]
    return any(extent(box) >= least and in_circle(box, place.middle, place.radius) for box in boxes)


def contradicts(reading: Reading, best: Reading, raster: Raster) -> bool:
    """Whether a reading says something else than the best one. One that has lost characters, and has ink in their
    places that it could not read, says the same, and so does one that has read all in the same places: of numbers that
    stand one above the other it is chance whose figures begin farther left."""
    if reading.text == best.text or _same_in_places(reading, best):
        return False
    inked = [blob.box(raster) for blob in reading.near]
    seen = all(any(_is_at(box, character.box, best) for box in inked) for character in best.characters)
    return not (seen and is_part(reading.text, best.text))


def _is_at(ink: Box, character: Box, best: Reading) -> bool:
    """Whether a piece of ink is of a character: a part of it, or one piece with others of its number beside it, and no
    frame or wall around them."""
    if holds(character, middle(ink)):
        return True
    left, top, right, bottom = box_around(best.characters)
    number = left - BLUR, top - BLUR, right + BLUR, bottom + BLUR
    return within(ink, number) and holds(ink, middle(character))


def _same_in_places(reading: Reading, best: Reading) -> bool:
    """Whether two readings have the same characters, each where the other has it."""
    left = list(reading.characters)
    for one in best.characters:
        same = [c for c in left if c.guesses[0].text == one.guesses[0].text and holds(c.box, middle(one.box))]
        if not same:
            return False
        left.remove(same[0])
    return not left


def is_part(part: str, whole: str) -> bool:
    """Whether a text is another with characters lost."""
    rest = iter(whole)
    return len(part) < len(whole) and all(character in rest for character in part)
