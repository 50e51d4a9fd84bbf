"""Two numbers with little arrows in one place beside the grid: print sets them so close, one above the other or side by
side, that their figures touch each other and the arrows. What cannot be cut apart into figures is cut into two numbers,
and each of these is read as a whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace

import cv2
import numpy as np

from ingest.page import Box, Colour
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds, middle
from recognise.marks.run_together import expected
from recognise.marks.shafts import without_shafts
from recognise.marks.short_text_classes import PAPER
from recognise.marks.short_texts import around, cut, short_text_reader
from recognise.marks.text_ink import Print
from recognise.marks.text_looks import SHARES
from recognise.marks.text_places import EDGE_TALLEST, SHORTEST, Place
from recognise.marks.text_readings import SURE, Reading, longest
from recognise.marks.totals import MOST_FIGURES
from recognise.pixels.frame import Colours, Grey
from recognise.pixels.glyphs import ALTERNATIVES, DIGITS, mean_of

HALVES, ASIDE, HIGHER = (0.3, 0.36), (-0.06, 0.0, 0.06), (-0.03, 0.03)
"""In cells: half the heights of the windows around a number, and how far they are moved: what the network reads in most
of them does not hang on where the number was thought to stand."""
TOLD = 0.8
"""How likely a number is at least that is told so, in the mean of all windows."""
UPRIGHT, ABREAST = (0.35, 0.65), (0.2, 0.8)
"""As parts of the height of numbers one above the other, and of the width of numbers side by side, which may have one
figure and two: where the cut between them may be."""
ROOM = 0.2
"""In cells: how far numbers may reach out of their place, which is as large as a cell; the middles of their figures lie
in it."""
CUTS = 3
"""So many of the places with least ink are tried."""
SHOWN = 0.25
"""As a part of its width: how much of a figure on either side of a cut shows what it is."""
NEARER = 0.04
"""In cells: so much nearer to where they are expected are the numbers of a cut than those of any other: half a figure
is wider."""


Piece = tuple[int, int, int, int]
"""The box of a piece of ink, in pixels."""


@dataclass(frozen=True, slots=True)
class _Parted:
    """Two numbers as they are told after one cut, and the boxes of their ink."""

    numbers: tuple[tuple[Guess, ...], ...]
    boxes: tuple[Box, ...]

    @property
    def least(self) -> float:
        """How likely the less likely one is."""
        return min(guesses[0].probability for guesses in self.numbers)

    @property
    def texts(self) -> list[str]:
        """The likeliest ones."""
        return [guesses[0].text for guesses in self.numbers]

    @property
    def figures(self) -> str:
        """All figures of both."""
        return "".join(self.texts)

    def off(self, middles: Sequence[float]) -> float:
        """How far from the expected middles they stand, from left to right; nothing where these are not known."""
        return max((abs(middle(box)[0] - at) for box, at in zip(self.boxes, middles, strict=False)), default=0.0)

    @property
    def uneven(self) -> float:
        """How far from the middle of both the cut between them is, one above the other: a page sets them as tall."""
        one, other = (box[3] - box[1] for box in self.boxes)
        return abs(one - other) / 2


def close_numbers(
    glyphs: Sequence[Glyph],
    owners: Sequence[Place],
    hard: Mapping[Place, str],
    readings: Mapping[Place, Sequence[Reading]],
    aside: float | None,
    seen: Print,
) -> tuple[list[Glyph], list[Place], dict[Place, str]]:
    """The glyphs, their owners and the words on places that were `hard` to read, with the numbers that are told in the
    place of what was read figure by figure (`readings`). `aside` says how far aside of their arrows numbers stand."""
    places = [place for place in readings if len(place.arrows) == 2]
    freed = without_shafts(places, seen) if places else seen.drawn
    told = {}
    for place in places:
        own = [glyph for glyph, owner in zip(glyphs, owners, strict=True) if owner is place]
        middles = () if _is_upright(place, seen) else expected(place, aside)
        if parted := _parted(place, freed, longest(readings[place]), middles, seen):
            told[place] = [_number(*number, own) for number in zip(parted.numbers, parted.boxes, strict=True)]
    left = [(glyph, owner) for glyph, owner in zip(glyphs, owners, strict=True) if owner not in told]
    left += [(glyph, place) for place, numbers in told.items() for glyph in numbers]
    still_hard = {place: words for place, words in hard.items() if place not in told}
    return [glyph for glyph, _ in left], [owner for _, owner in left], still_hard


def _is_upright(place: Place, seen: Print) -> bool:
    """Whether the numbers of a place stand one above the other: left and right of the grid."""
    return not 0 < place.middle[0] < seen.raster.columns


def _parted(place: Place, freed: Grey, reading: Reading, middles: Sequence[float], seen: Print) -> _Parted | None:
    """The two numbers at a place; None where they are not told, in one way only."""
    picture = seen.relative.copy()
    told = [_told(boxes, picture, seen) for boxes in _ways(place, freed, seen)]
    return _only(told, middles, reading, upright=_is_upright(place, seen))


def _only(told: Sequence[_Parted], middles: Sequence[float], reading: Reading, *, upright: bool) -> _Parted | None:
    """The one way of some in which two numbers are told; None where there is none, or there are several. A cut through
    a figure loses it, or shows it twice; of numbers one above the other it leaves one part low."""
    likely = [way for way in told if way.least >= TOLD and all(map(_is_number, way.texts))]
    sure = [way for way in likely if not _lacks(way, reading) and not _doubles(way, reading)]
    ways = [way for way in sure if not any(Counter(way.figures) < Counter(other.figures) for other in sure)]

    def off(way: _Parted) -> float:
        return way.uneven if upright else way.off(middles)

    best = min(ways, key=lambda way: (off(way), -way.least), default=None)
    others = [way for way in ways if best is not None and way.texts != best.texts]
    if best is None or (others and not (upright or middles)):
        return None
    # Old-style figures need not be as tall as each other: there the surest way must be the evenest as well.
    rivals = [way for way in others if off(way) < off(best) + NEARER or (upright and way.least > best.least)]
    return None if rivals else best


def _is_number(text: str) -> bool:
    """Whether a text is a number as diagonals have them."""
    return 0 < len(text) <= MOST_FIGURES and (text == "0" or not text.startswith("0"))


def _ways(place: Place, freed: Grey, seen: Print) -> Iterator[tuple[Box, Box]]:
    """The boxes of both numbers by the ink at a place, of which the arrows are taken out, one pair for each cut."""
    window = seen.raster.slices(place.box, pad=seen.raster.px(ROOM))
    own, most = freed[window], float(freed[seen.raster.slices(place.box)].max(initial=0.0))
    dark = (own > max(seen.floor, SHARES[1] * most)).astype(np.uint8)
    _, _, stats, _ = cv2.connectedComponentsWithStats(dark, connectivity=8)
    cell, (rows, columns), (top, left) = seen.raster.cell, own.shape, (side.start for side in window)
    pieces = [
        (x, y, x + w, y + h)
        for x, y, w, h, _ in stats[1:].tolist()
        if SHORTEST * cell <= h <= 2 * EDGE_TALLEST * cell and min(x, y) > 0 and x + w < columns and y + h < rows
        if holds(place.box, middle(seen.raster.box(x + left, y + top, w, h)))
    ]
    upright = _is_upright(place, seen)
    pieces = pieces if upright else _level(pieces)
    if not pieces:
        return
    x0, y0, x1, y1 = (f(v) for f, v in zip((min, min, max, max), zip(*pieces, strict=True), strict=True))
    if (y1 - y0 if upright else x1 - x0) < 2:  # a scratch
        return
    whole = seen.raster.box(x0 + left, y0 + top, x1 - x0, y1 - y0)
    for at in _cuts(own[y0:y1, x0:x1].sum(axis=1 if upright else 0), UPRIGHT if upright else ABREAST):
        yield _halved(whole, seen.raster.to_cells((y0 + top if upright else x0 + left) + at), upright=upright)


def _level(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces of ink on one line with the tallest: words may stand below or above the numbers."""
    tallest = max(pieces, key=lambda piece: piece[3] - piece[1], default=None)

    def is_level(piece: Piece) -> bool:
        shared = min(piece[3], tallest[3]) - max(piece[1], tallest[1]) if tallest else 0
        return 2 * shared >= piece[3] - piece[1]

    return [piece for piece in pieces if is_level(piece)]


def _halved(box: Box, at: float, *, upright: bool) -> tuple[Box, Box]:
    x0, y0, x1, y1 = box
    return ((x0, y0, x1, at), (x0, at, x1, y1)) if upright else ((x0, y0, at, y1), (at, y0, x1, y1))


def _cuts(profile: Grey, between: tuple[float, float]) -> list[int]:
    """Where there is least ink along the numbers, and their middle: figures may overlap."""
    first, last = (round(share * len(profile)) for share in between)
    inner = range(max(1, first), min(last, len(profile) - 2) + 1)
    lowest = [n for n in inner if profile[n] <= profile[n - 1 : n + 2].min()]
    return [*sorted(lowest, key=lambda n: float(profile[n]))[:CUTS], len(profile) // 2]


def _told(boxes: tuple[Box, Box], picture: Colours, seen: Print) -> _Parted:
    """What the network reads in each of two boxes of a picture, in the mean of several windows, the other one being
    covered."""
    numbers = []
    for box, other in (boxes, boxes[::-1]):
        x, y = middle(box)
        with _covered(other, picture, seen):
            windows = [
                cut(
                    picture,
                    around((x + right, y + down), half),
                    seen.raster.cell,
                    seen.raster.origin / seen.raster.cell,
                )
                for half in HALVES
                for right in ASIDE
                for down in HIGHER
            ]
        numbers.append(mean_of(short_text_reader().read(windows, DIGITS))[:ALTERNATIVES])
    return _Parted(tuple(numbers), boxes)


@contextmanager
def _covered(box: Box, picture: Colours, seen: Print) -> Iterator[None]:
    """Paper in the place of a box of a picture for a while: a copy of all of it for each box takes longer than the
    windows around it."""
    window = seen.raster.slices(box)
    own = picture[window].copy()
    picture[window] = np.quantile(own.reshape(-1, 3), PAPER, axis=0)
    yield
    picture[window] = own


def _lacks(way: _Parted, reading: Reading) -> bool:
    """Whether one of two numbers lacks figures that are surely read where it stands."""
    for text, box in zip(way.texts, way.boxes, strict=True):
        own = [character.guesses[0] for character in reading.characters if holds(box, character.centre)]
        if Counter(guess.text for guess in own if guess.probability >= SURE) - Counter(text):
            return True
    return False


def _doubles(way: _Parted, reading: Reading) -> bool:
    """Whether two numbers side by side have a figure once more than it was surely read, which reaches so far over the
    cut between them that both parts show it."""
    at, figures = way.boxes[0][2], reading.characters
    read = [one.guesses[0].text for one in figures if one.guesses[0].probability >= SURE]
    more = Counter(way.figures) - Counter(read)
    cut_through = (one for one in figures if min(at - one.box[0], one.box[2] - at) >= SHOWN * (one.box[2] - one.box[0]))
    abreast, all_sure = at <= way.boxes[1][0], len(read) == len(figures)
    return abreast and all_sure and any(one.guesses[0].text in more for one in cut_through)


def _number(guesses: tuple[Guess, ...], box: Box, own: Sequence[Glyph]) -> Glyph:
    """A number in the box of its ink, or, where the same was read figure by figure, as that has it, as sure as the
    surer of both."""
    same = next((glyph for glyph in own if glyph.text == guesses[0].text and holds(box, glyph.centre)), None)
    if same is None:
        colour: Colour = own[0].colour if own else (0, 0, 0)
        return Glyph(box, guesses, box[3] - box[1], colour, "ocr")
    return same if same.confidence >= guesses[0].probability else replace(same, guesses=guesses)
