"""Characters that stand with marks: on edges, in circles on corners, in the corners of cages."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.evidence import Glyph, Guess
from recognise.geometry import middle
from recognise.marks.operations import agreed_sign, sign_behind, with_sign
from recognise.marks.text_places import Place, hard_to_read
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.dashes import dashes
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.pixels.glyphs import (
    OPERATIONS,
    Character,
    CharacterReader,
    as_glyph,
    read_characters,
    side_by_side,
)
from recognise.pixels.touching import parted

INSIDE = 0.78
"""As a part of its radius: what lies within is not the circle's own line."""
OTHER_INSIDES = (0.68, 0.9, 1.15)
"""The same where only a part seems to be read: circles are measured to a tenth, blurred ones to a quarter, and digits
may stand close to them."""
UNSEEN = 0.2
"""In cells: radius of a circle that was not seen as one, if there is one."""
ASIDE, ASKEW = 0.2, 0.045
"""As a part of its width, and in cells: how far from the middle of its place print sets no number; grids are found to
three hundredths."""
EDGE_INNER = 0.3
"""In cells: half the side of the part of a place on an edge in which a patch of paper cuts the lattice off."""
TOUCH = 0.02
"""In cells: what comes so near to the side of that part runs on outside of it."""
ON_LINE, THIN = 0.03, 0.06
"""In cells: how near to its place a lattice line runs, and how wide a thin one is."""
SHARES = (0.25, 0.35, 0.5)
"""Of the darkest ink of a place: from here on ink is of a stroke. Worn strokes break at high shares, close ones touch
at low ones."""
MOST_LEFT = 0.12
"""The part of a place's ink that specks may be."""
SHORTEST = 0.09
"""In cells: digits in a circle with three others are no smaller."""
BEYOND = 0.5
"""In cells: so far beyond the corner dashes are looked at."""
FREE, WALL = 0.7, 0.22
"""In cells: from here on no total stands beside or below the corner of a cell; so far from the lattice line a wall
stands at most."""
LOST = 0.12
"""Part of a figure's ink that is lost with a line: a stroke of it."""
RUNS = 0.3
"""Part of the darkest line along a cell's side that dashes, with their gaps, are at least."""
SURE = 0.8
"""A reading with more digits than the best one is taken when each of them is so sure."""
AS_TALL, TWICE, CLOSE = 0.6, 2.2, 0.8
"""As parts of a number's height: what is level with it for so much, not much taller, and so close may be of it."""
HALF = 0.5
"""As a part of the height of the characters: what is left beside them in a circle, and is as long, may be one more."""
HALF_INK = 0.5
"""Part of the darkest ink of a number from which on ink is of a stroke."""
SLOT, COVERED = 0.65, 0.2
"""As a part of its height: how wide the place of one more figure behind a number is; the part of it that a figure inks
at least. A given that is printed over it hides the figure, and not its ink."""
AGREEING = 2
"""So many looks at least show a number that is not in doubt."""
ONE_MORE = 0.5
"""How sure a number remains beside which something like another digit was not read, or that one look alone shows."""
GROUND, TINTED = 40, 0.15
"""Percentile of the ink in a circle that is its ground's, figures covering less than half; ink from which on the ground
is tinted."""
MOSTLY_DISC = 75
"""Percentile of the ink of a dark disc that is the disc's own: light characters on it cover less than a quarter."""


LEAST_STARTS = 3
"""So many totals show where those of a page begin."""
FLUSH = 0.03
"""In cells: how exactly they begin in one place."""
ONE_FIGURE = (0.3, 0.85)
"""As parts of its height: how much farther in a number begins that has lost its first figure."""
LOST_FIGURES = {"1": 0.5, "2": 0.15, "3": 0.15, "4": 0.1, "": 0.1}
"""Which figure that may be, sums having no more than two: how likely each is, and that there was none."""


@dataclass(frozen=True, slots=True)
class Print:
    """What characters are read from: `whole` is the ink with the lattice, `drawn` without it, `pieces` those of
    `drawn`; `floor` is the least that counts as ink."""

    whole: Grey
    drawn: Grey
    relative: Colours
    pieces: Pieces
    raster: Raster
    floor: float


@dataclass(frozen=True, slots=True)
class _Reading:
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


def read_texts(places: Sequence[Place], seen: Print, reader: CharacterReader) -> tuple[list[Glyph], list[str]]:
    """The characters that stand at each place, put together to numbers, and words on places in which something is not
    read.

    On the lattice characters mostly stand on a patch of paper that cuts its lines off, and taking the lines out harms
    them; where no patch is, the lines have to be taken out. Both are looked at, the first at several thresholds, and
    what reads best is taken. What stands on a dark disc is lighter than it. In the corners of cells, too, the ink of
    the place itself sets the thresholds: totals are often paler than givens, and dashes of their cage touch them."""
    on_lattice = [place for place in places if place.on_lattice]
    corners = [place for place in places if not place.on_lattice]
    dark = [place for place in places if place.dark and place.radius]
    cut, light = _cut_out(on_lattice, seen), _light_on_dark(dark, seen)
    looks = {
        True: [(cut, _pieces(on_lattice, cut, share, seen)) for share in SHARES],
        False: [(seen.drawn, _pieces(corners, seen.drawn, share, seen)) for share in SHARES],
    }
    on_dark = [(light, _pieces(dark, light, share, seen)) for share in SHARES] if dark else []
    glyphs: list[Glyph] = []
    notes: list[str] = []
    totals: dict[int, Place] = {}
    found = {}
    for place in places:
        tried = on_dark if place in dark else [*looks[place.on_lattice], (seen.drawn, seen.pieces)]
        found[place] = [_read(place, ink, pieces, seen.raster, reader) for ink, pieces in tried]
    askew = [
        place for place in on_lattice if place not in dark and _in_part(_fullest(found[place]), place, seen.raster)
    ]
    for inside in OTHER_INSIDES if askew else ():
        whole = _cut_out([place if place.radius else replace(place, radius=UNSEEN) for place in askew], seen, inside)
        for share in SHARES:
            pieces = _pieces(askew, whole, share, seen)
            for place in askew:
                found[place].append(_read(place, whole, pieces, seen.raster, reader))
    walled = [place for place in corners if place.in_corner]
    if walled:
        peeled = _peeled(walled, seen)
        looks_beside = [(peeled, _pieces(walled, peeled, share, seen)) for share in SHARES]
        for place in walled:
            beside = [_read(place, ink, pieces, seen.raster, reader) for ink, pieces in looks_beside]
            alone = _is_cut(_longest(beside), peeled, seen)
            found[place] = beside if alone else [*found[place], *beside]
        _without_walls(found, walled)
    for place, readings in found.items():
        best = _centred(readings, place) if place.on_lattice else _longest(readings)
        if not best.characters or (place.on_lattice and best.left > MOST_LEFT):
            notes.append(hard_to_read(place, (seen.raster.rows, seen.raster.columns)))
        for group in numbers_of(side_by_side(best.characters), place.numbers):
            glyph = as_glyph(group, best.pieces, seen.relative)
            unsettled = not place.on_lattice and (
                any(_more_beside(group, reading.near, seen.raster) for reading in readings)
                or any(reading.least >= SURE and _contradicts(reading, best, seen.raster) for reading in readings)
                or sum(reading.text == best.text for reading in readings) < AGREEING
            )
            unsettled |= place.in_corner and _hides_more(glyph, seen)
            glyph = _doubted(glyph) if unsettled or _in_part(best, place, seen.raster) else glyph
            if place.in_corner:
                glyph = _signed(glyph, group, readings, seen.raster)
                totals[len(glyphs)] = place
            glyphs.append(glyph)
    _complete(glyphs, totals)
    return glyphs, notes


def numbers_of(groups: list[list[Character]], count: int) -> list[list[Character]]:
    """So many numbers at least: where they run into one another the longest is taken for two, parted in the middle or,
    of three figures, where they stand farther apart."""
    longest = max(groups, key=len, default=[])
    if len(groups) >= count or len(longest) < 2:
        return groups
    half = len(longest) // 2
    if len(longest) % 2 and longest[half].box[0] - longest[half - 1].box[2] < (
        longest[half + 1].box[0] - longest[half].box[2]
    ):
        half += 1
    parts = [longest[:half], longest[half:]]
    return [part for group in groups for part in (parts if group is longest else [group])]


def _without_walls(found: dict[Place, list[_Reading]], corners: Sequence[Place]) -> None:
    """Leaves out, at each corner, the readings of which the number begins before those of the page do, where another
    one begins with them: its first figure is a dash of the cage's wall."""
    starts = {place: start for place in corners if (start := _start(_longest(found[place]), place)) is not None}
    usual = _usual(list(starts.values()))
    for place, start in starts.items():
        if usual is not None and start < usual - FLUSH:
            kept = [r for r in found[place] if not r.characters or (_start(r, place) or 0.0) >= usual - FLUSH]
            found[place] = kept if any(r.least >= SURE for r in kept) else found[place]


def _start(reading: _Reading, place: Place) -> float | None:
    """How far from the left of its cell what is read in a corner begins."""
    return min((character.box[0] - place.box[0] for character in reading.characters), default=None)


def _complete(glyphs: list[Glyph], totals: Mapping[int, Place]) -> None:
    """Puts a figure before each total (by its index, with its place) that has lost its first."""
    usual = _usual([glyphs[at].box[0] - place.box[0] for at, place in totals.items()])
    if usual is not None:
        for at, place in totals.items():
            glyphs[at] = with_lost_figure(glyphs[at], place, usual)


def _usual(starts: Sequence[float]) -> float | None:
    """How far from the left of their cells the totals of a page begin; None where they do not begin in one place."""
    usual = float(np.median(starts)) if len(starts) >= LEAST_STARTS else 0.0
    flush = sum(abs(start - usual) <= FLUSH for start in starts)
    return usual if len(starts) >= LEAST_STARTS and flush > len(starts) / 2 else None


def with_lost_figure(glyph: Glyph, place: Place, usual: float) -> Glyph:
    """A total that begins one figure farther in than those of its page do, with a figure before it: totals are set
    flush left, and what is slim and in line with the wall of its cage was taken out with it, which is mostly a 1."""
    farther = (glyph.box[0] - place.box[0] - usual) / max(glyph.box[3] - glyph.box[1], 1e-6)
    if not ONE_FIGURE[0] <= farther <= ONE_FIGURE[1] or not glyph.text.rstrip(OPERATIONS).isdecimal():
        return glyph
    guesses = [Guess(figure + glyph.text, chance) for figure, chance in LOST_FIGURES.items()]
    return replace(glyph, guesses=tuple(guesses), box=(usual + place.box[0], *glyph.box[1:]))


def _signed(glyph: Glyph, number: Sequence[Character], readings: Sequence[_Reading], raster: Raster) -> Glyph:
    """A number of a cage with the sign behind it, where the looks at it agree on one."""
    told = [sign_behind(number, reading.near, raster) for reading in readings]
    sign = agreed_sign([sign for sign, _ in told], AGREEING)
    if not sign or not glyph.text.isdecimal():
        return glyph
    return with_sign(glyph, sign, next(box for name, box in told if name == sign and box is not None))


def _longest(readings: Sequence[_Reading]) -> _Reading:
    """The best reading, or one that has more digits, all of them sure: at some thresholds a pale digit is lost."""
    best = max(readings, key=lambda r: r.score)
    longer = [r for r in readings if r.longest > best.longest and r.least >= SURE]
    seen = Counter(r.text for r in longer)
    longer = [r for r in longer if seen[r.text] >= AGREEING]
    return max(longer, key=lambda r: r.score) if longer else best


def _fullest(readings: Sequence[_Reading]) -> _Reading:
    """The best reading, or one that has all its characters and more, all of them sure: what touches a line is no piece
    of its own once the line is out, and then not even left over."""
    best = max(readings, key=lambda r: r.score)
    fuller = [r for r in readings if r.least >= SURE and _is_part(best.text, r.text)]
    return max(fuller, key=lambda r: (len(r.text), r.score)) if fuller else best


def _centred(readings: Sequence[_Reading], place: Place) -> _Reading:
    """The fullest reading, or, where that stands to one side, the fullest sure one that does not."""
    best = _fullest(readings)
    if not _askew(best, place):
        return best
    centred = [r for r in readings if r.characters and r.least >= SURE and not _askew(r, place)]
    return _fullest(centred) if centred else best


def _contradicts(reading: _Reading, best: _Reading, raster: Raster) -> bool:
    """Whether a reading says something else than the best one. One that has lost digits, and has ink in their places
    that it could not read, says the same."""
    if reading.text == best.text:
        return False
    inked = [blob.box(raster) for blob in reading.near]
    seen = all(any(_same_place(character.box, box) for box in inked) for character in best.characters)
    return not (seen and _is_part(reading.text, best.text))


def _is_part(part: str, whole: str) -> bool:
    """Whether a text is another with characters lost."""
    rest = iter(whole)
    return len(part) < len(whole) and all(character in rest for character in part)


def _same_place(one: Box, other: Box) -> bool:
    return one[0] <= (other[0] + other[2]) / 2 <= one[2] and one[1] <= (other[1] + other[3]) / 2 <= one[3]


def _more_beside(number: Sequence[Character], near: Iterable[Blob], raster: Raster) -> bool:
    """Whether ink as tall as the digits of a number stands right beside it and is none of them: perhaps one more."""
    x0, y0 = min(c.box[0] for c in number), min(c.box[1] for c in number)
    x1, y1 = max(c.box[2] for c in number), max(c.box[3] for c in number)
    tall = y1 - y0
    for blob in near:
        left, top, right, bottom = blob.box(raster)
        level = min(bottom, y1) - max(top, y0) >= AS_TALL * tall and bottom - top <= TWICE * tall
        # What covers the number is its own ink, and a wall that it touches at this threshold.
        aside = min(right, x1) - max(left, x0) <= (x1 - x0) / 2 and not x0 <= (left + right) / 2 <= x1
        if level and aside and max(left - x1, x0 - right) <= CLOSE * tall:
            return True
    return False


def _hides_more(number: Glyph, seen: Print) -> bool:
    """Whether a number of one figure may have another one that lies under something larger: a given that runs into it
    is one piece with it. Sums have no more than two figures."""
    if len(number.text) != 1:
        return False
    _, y0, x1, y1 = number.box
    own = seen.drawn[seen.raster.slices(number.box)]
    behind = seen.drawn[seen.raster.slices((x1, y0, x1 + SLOT * (y1 - y0), y1))]
    dark = own.size > 0 and behind > HALF_INK * np.percentile(own, 90)
    return bool(np.mean(dark) >= COVERED)


def _doubted(glyph: Glyph) -> Glyph:
    guesses = tuple(Guess(guess.text, guess.probability * ONE_MORE) for guess in glyph.guesses)
    return replace(glyph, guesses=guesses)


def _in_part(reading: _Reading, place: Place, raster: Raster) -> bool:
    """Whether only some of the characters at a place on the lattice seem to be read: they stand to one side of it, or
    what is left inside of its circle is as large as half a character, whose other half was cut off with the circle."""
    if _askew(reading, place):
        return True
    if not place.radius or not reading.characters:
        return False
    known = {label for character in reading.characters for label in character.blob.labels}
    least = HALF * float(np.median([character.height for character in reading.characters]))
    boxes = [blob.box(raster) for blob in reading.near if not known.intersection(blob.labels)]
    return any(
        max(box[2] - box[0], box[3] - box[1]) >= least and _lies_within(box, place.middle, place.radius)
        for box in boxes
    )


def _lies_within(box: Box, centre: Point, radius: float) -> bool:
    """Whether a box lies in a circle as a whole."""
    return all(math.dist((x, y), centre) <= radius for x in box[::2] for y in box[1::2])


def _askew(reading: _Reading, place: Place) -> bool:
    """Whether what is read on the lattice stands to one side of its place: a digit that touches the circle around a
    number is not read, and the others look like a whole number."""
    if not place.on_lattice or not reading.characters:
        return False
    left, right = (sign * max(sign * c.box[end] for c in reading.characters) for sign, end in ((-1, 0), (1, 2)))
    return abs((left + right) / 2 - place.middle[0]) > max(ASIDE * (right - left), ASKEW)


def _cut_out(places: Iterable[Place], seen: Print, inside: float = INSIDE) -> Grey:
    """The ink within the circles, less that of their ground where they are tinted, and within the places on edges."""
    cut = np.zeros_like(seen.whole)
    for place in places:
        if place.radius:
            mask = _disc(place, inside, seen)
            own = seen.whole[mask]
            ground = float(np.percentile(own, GROUND)) if own.size else 0.0
            ground = ground if ground > TINTED else 0.0
            cut[mask] = np.maximum(own - ground, 0) / max(1 - ground, TINTED)
        elif place.on_lattice:
            window = seen.raster.slices(_inner(place))
            cut[window] = seen.whole[window]
    return cut


def _disc(place: Place, inside: float, seen: Print) -> npt.NDArray[np.bool_]:
    """The pixels within a part of the radius of a place's circle."""
    mask = np.zeros(seen.whole.shape, np.uint8)
    x, y = (round(seen.raster.at(v)) for v in place.middle)
    cv2.circle(mask, (x, y), seen.raster.px(inside * place.radius), 1, -1)
    return mask > 0


def _light_on_dark(places: Iterable[Place], seen: Print) -> Grey:
    """What is lighter than the dark discs of some places, as ink."""
    light = np.zeros(seen.whole.shape, np.float32)
    for place in places:
        mask = _disc(place, INSIDE, seen)
        own = seen.whole[mask]
        if own.size:
            light[mask] = np.maximum(np.percentile(own, MOSTLY_DISC) - own, 0)
    return light


def _peeled(places: Iterable[Place], seen: Print) -> Grey:
    """The ink with the lattice, in corners of cells without what runs along the top and the left of the cell: walls of
    cages touch the totals that stand beside them. Where a wall ends shows where no total is."""
    peeled = np.zeros_like(seen.whole)
    for place in places:
        left, top = place.box[:2]
        beside = seen.whole[seen.raster.slices((left + FREE, top, left + 1 - WALL, top + WALL))]
        below = seen.whole[seen.raster.slices((left, top + FREE, left + WALL, top + 1 - WALL))]
        rows, columns = (_band(part.mean(axis=axis), seen.floor) for part, axis in ((beside, 1), (below, 0)))
        y, x = seen.raster.slices((left, top, left + 1, top + 1))
        inside = slice(y.start + rows, y.stop), slice(x.start + columns, x.stop)
        # What is left of the wall's own sides is paler than it, and hangs on to the number.
        left_over = np.zeros_like(seen.whole[y, x])
        left_over[: beside.shape[0]] = beside.mean(axis=1)[:, None]
        left_over[:, : below.shape[1]] = np.maximum(left_over[:, : below.shape[1]], below.mean(axis=0))
        peeled[inside] = np.maximum(seen.whole[inside] - left_over[rows:, columns:], 0)
    return peeled


def _is_cut(reading: _Reading, peeled: Grey, seen: Print) -> bool:
    """Whether the ink without the lattice has lost a part of a number that is surely read without the wall alone: walls
    that run close to a lattice line are taken out with it, and what they touch."""
    if not reading.characters or reading.least < SURE:
        return False
    lost = [
        float(np.maximum(whole - seen.drawn[window], 0).sum()) > LOST * float(whole.sum())
        for window in (seen.raster.slices(character.box) for character in reading.characters)
        if (whole := peeled[window]).size
    ]
    return any(lost)


def _band(profile: npt.NDArray[np.floating], floor: float) -> int:
    """Pixels from the lattice line to the end of what runs along it."""
    above = np.flatnonzero(profile > max(floor, RUNS * float(profile.max(initial=0.0))))
    return int(above[-1]) + 1 if above.size else 0


def _pieces(places: Iterable[Place], cut: Grey, share: float, seen: Print) -> Pieces:
    """The pieces of what was cut out, at a share of the darkest ink of each place. Nothing is put together: digits in a
    circle stand closer over one another than the parts of a broken one."""
    mask = np.zeros(cut.shape, np.uint8)
    for place in places:
        window = seen.raster.slices(_around(place))
        own = cut[window]
        if own.size and own.max() > 0:
            level = max(seen.floor, share * float(np.percentile(own[own > 0], 98)))
            mask[window] |= (own > level).view(np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    set_aside = set(dashes(labels, stats[:, :4].astype(np.int64), np.arange(1, len(stats)), seen.raster.cell).tolist())
    found = enumerate(stats.tolist())
    blobs = tuple(Blob(x, y, w, h, area, (n,)) for n, (x, y, w, h, area) in found if n and n not in set_aside)
    return Pieces(np.asarray(labels, np.int32), blobs, seen.pieces.tones)


def _around(place: Place) -> Box:
    """What is looked at of a place: in a corner more of the cell, so that rows of dashes show as such."""
    x0, y0, x1, y1 = place.box
    return place.box if place.on_lattice else (x0, y0, x1 + BEYOND, y1 + BEYOND)


def _inner(place: Place) -> Box:
    x, y = place.middle
    return x - EDGE_INNER, y - EDGE_INNER, x + EDGE_INNER, y + EDGE_INNER


def _read(place: Place, ink: Grey, pieces: Pieces, raster: Raster, reader: CharacterReader) -> _Reading:
    near = [blob for blob in pieces.blobs if _near(blob, place, raster)]
    blobs = [blob for blob in near if _sized(blob, place, raster)]
    numbers = not place.on_lattice
    read = read_characters(blobs, pieces, ink, raster, reader, place.allowed, numbers) if blobs else []
    read = read if place.on_lattice else parted(read, pieces, ink, raster, reader)
    characters = tuple(character for character in read if character.is_character)
    known = {label for character in characters for label in character.blob.labels}
    # What runs on to the side of the place is lattice, and what is larger than a character is the circle.
    loose = [
        blob
        for blob in near
        if not _touches(blob, place, raster)
        and not _is_bit_of_line(blob.box(raster), place)
        and max(blob.width, blob.height) <= raster.px(place.tallest)
    ]
    area = sum(blob.area for blob in loose)
    left = sum(blob.area for blob in loose if not known.intersection(blob.labels))
    return _Reading(characters, pieces, tuple(near), left / area if area else 0.0)


def _near(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether the middle of a piece lies at a place."""
    x0, y0, x1, y1 = blob.box(raster)
    return place.box[0] <= (x0 + x1) / 2 <= place.box[2] and place.box[1] <= (y0 + y1) / 2 <= place.box[3]


def _sized(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether a piece has the size of a character, and is not a rest of a lattice line."""
    x0, y0, x1, y1 = blob.box(raster)
    if _is_bit_of_line((x0, y0, x1, y1), place):
        return False
    return SHORTEST <= y1 - y0 <= place.tallest and x1 - x0 <= place.tallest and not _touches(blob, place, raster)


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


def _touches(blob: Blob, place: Place, raster: Raster) -> bool:
    """Whether a piece runs on beyond the part of an edge that is looked at."""
    if place.radius or not place.on_lattice:
        return False
    x0, y0, x1, y1 = blob.box(raster)
    left, top, right, bottom = _inner(place)
    return x0 <= left + TOUCH or y0 <= top + TOUCH or x1 >= right - TOUCH or y1 >= bottom - TOUCH
