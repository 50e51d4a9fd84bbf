"""Signs of operations in front of the totals of cages: some print sets them there, and all of a page's.

A sign in front looks like one more figure of the number: a plus like a 4, a bar like a dash of the wall. Where several
totals of a page surely have one, all are taken to have one: it is told from the figures by what it looks like, by its
size or by its place, taken out of what is read, and put behind its number, where signs mostly stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.geometry import box_of_all, holds, middle
from recognise.marks.operations import sign_in_front
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place
from recognise.marks.text_readings import Reading, left_over
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, OPERATIONS, Character

PLAIN = "+×÷"
"""The signs that show where a page sets them: a bar may be a dash."""
SURE, BARE, AGREEING, ENOUGH = 0.9, 0.1, 2, 2
"""How sure the characters of a look are at least, and the part of the ink that it leaves at most; so many such looks at
a total, and so many totals, show that a page sets signs in front."""
LOW, LEVEL = 0.8, 0.2
"""As parts of the height of the figures: how high a sign is at most, and how far its middle lies from theirs."""
ROOM = 0.01
"""In cells: how far the blur of a sign reaches."""
SHIFT, ALIKE, LIKE = 0.04, 0.75, 0.6
"""In cells, how far off its place a sign may stand that nobody read; how much it is like one of the page at least, and
how sure it is then."""
PAPER = 85
"""Percentile of the light of a window that is the paper's."""


@dataclass(frozen=True, slots=True)
class Sign:
    """The sign before a total: which one ("" where it could not be told), its box, and how sure it is."""

    text: str
    box: Box
    chance: float


def signs_first(readings: Mapping[Place, Sequence[Reading]], seen: Print) -> dict[Place, Sign]:
    """The sign before each total, on a page that sets signs there; none on all others."""
    corners = {at: looks for at, looks in readings.items() if at.in_corner and OPERATIONS[0] in at.allowed}
    plain = sum(_is_plain(looks) for looks in corners.values())
    behind = sum(any(look.text[-1:] in tuple(PLAIN) for look in looks) for looks in corners.values())
    if plain < ENOUGH or plain <= behind:
        return {}
    told = {at: _told(looks, seen.raster) for at, looks in corners.items()}
    known = {at: sign for at, sign in told.items() if sign is not None and sign.chance >= SURE}
    patterns = [(sign, seen.whole[seen.raster.slices(sign.box)]) for sign in known.values()]
    usual = _usual(known)
    found = {}
    for at, sign in told.items():
        if at in known:
            found[at] = known[at]
        elif sign is not None or not at.perhaps:
            found[at] = _alike(at, sign, patterns, usual, seen)
    return found


def without(
    readings: Mapping[Place, list[Reading]], signs: Mapping[Place, Sign], raster: Raster
) -> dict[Place, list[Reading]]:
    """The readings without the signs before them, at places where no others may stand."""
    found = dict(readings)
    for at, sign in signs.items():
        looks = found.pop(at)
        found[replace(at, allowed=DIGITS)] = [_figures(look, at, sign.box, raster) for look in looks]
    return found


def painted(seen: Print, signs: Iterable[Sign]) -> Print:
    """What is seen, with paper where the signs are."""
    relative = seen.relative.copy()
    for sign in signs:
        own, pad = seen.raster.slices(sign.box, seen.raster.px(ROOM)), seen.raster.px(SHIFT)
        around = relative[seen.raster.slices(sign.box, pad)]
        relative[own] = np.percentile(around.reshape(-1, relative.shape[-1]), PAPER, axis=0)
    return replace(seen, relative=relative)


def with_signs(glyphs: Iterable[Glyph], signs: Mapping[Place, Sign]) -> list[Glyph]:
    """The totals with their signs behind them."""
    found = []
    for glyph in glyphs:
        sign = next((sign for at, sign in signs.items() if at.is_of(glyph)), None)
        found.append(_signed(glyph, sign) if sign is not None and sign.text and glyph.text.isdecimal() else glyph)
    return found


def _signed(glyph: Glyph, sign: Sign) -> Glyph:
    guesses = [Guess(guess.text + sign.text, guess.probability * sign.chance) for guess in glyph.guesses if guess.text]
    return replace(glyph, guesses=tuple(guesses), box=box_of_all((glyph.box, sign.box)))


def _is_plain(looks: Iterable[Reading]) -> bool:
    """Whether several looks at a total surely show a sign before it, the same, and leave no ink."""
    texts = [look.text for look in looks if look.least >= SURE and look.left <= BARE]
    signs = Counter(text[0] for text in texts if text[:1] in tuple(PLAIN) and text[1:].isdecimal())
    return len(signs) == 1 and max(signs.values()) >= AGREEING


def _told(looks: Iterable[Reading], raster: Raster) -> Sign | None:
    """The sign that the looks at a total show before it."""
    seen = [found for look in looks if (found := _before(look, raster)) is not None]
    texts = Counter(text for text, _ in seen if text)
    if texts["÷"]:
        del texts["-"]  # a look that loses the dots of a division shows a bar
    if not seen:
        return None
    text, times = texts.most_common(1)[0] if texts else ("", 0)
    boxes = [box for name, box in seen if name == text or not text]
    sure = len(texts) == 1 and times >= AGREEING
    return Sign(text, box_of_all(boxes) if len(boxes) < AGREEING else _middling(boxes), 1.0 if sure else LIKE)


def _before(look: Reading, raster: Raster) -> tuple[str, Box] | None:
    """What a look shows before a number: a sign, what is too low for a figure of it, or the pieces of a sign."""
    own = sorted(look.characters, key=lambda character: character.box[0])
    first, figures = (own[0], own[1:]) if own else (None, [])
    if first is not None and figures and (_is_sign(first) or _is_low(first, figures)):
        signs = [guess.text for guess in (*first.guesses, *first.free) if guess.text in tuple(OPERATIONS)]
        return next(iter(signs), ""), first.box
    text, box = sign_in_front(own, look.near, raster) if own else ("", None)
    return (text, box) if box is not None else None


def _is_sign(character: Character) -> bool:
    return character.guesses[0].text in tuple(OPERATIONS)


def _is_low(first: Character, figures: Sequence[Character]) -> bool:
    """Whether a character is lower than the figures behind it, and stands half way up."""
    tall = median(one.height for one in figures)
    level = median(middle(one.box)[1] for one in figures)
    return first.height <= LOW * tall and abs(middle(first.box)[1] - level) <= LEVEL * tall


def _figures(look: Reading, place: Place, sign: Box, raster: Raster) -> Reading:
    """A look at a total without the sign before it."""

    def is_of_sign(box: Box) -> bool:
        return holds(sign, middle(box)) and box[2] <= sign[2] + (sign[2] - sign[0]) / 2

    rest = tuple(one for one in look.characters if not is_of_sign(one.box))
    near = tuple(blob for blob in look.near if not is_of_sign(blob.box(raster)))
    return Reading(rest, look.pieces, near, left_over(rest, near, look.pieces, place, raster))


def _usual(known: Mapping[Place, Sign]) -> Box:
    """Where the signs of a page stand, from the upper left of their cells."""
    return _middling([_from(at.box, sign.box, -1) for at, sign in known.items()])


def _middling(boxes: Sequence[Box]) -> Box:
    x0, y0, x1, y1 = (median(box[side] for box in boxes) for side in range(4))
    return x0, y0, x1, y1


def _from(corner: Box, box: Box, way: int) -> Box:
    x, y = way * corner[0], way * corner[1]
    return box[0] + x, box[1] + y, box[2] + x, box[3] + y


def _alike(place: Place, told: Sign | None, patterns: Sequence[tuple[Sign, Grey]], usual: Box, seen: Print) -> Sign:
    """The sign before a total that is not surely `told`: the one of the page that what stands there is most like, and
    surely where that is what was told."""
    box = told.box if told is not None else _from(place.box, usual, 1)
    around = np.ascontiguousarray(seen.whole[seen.raster.slices(box, seen.raster.px(SHIFT))])
    fits = [
        (float(cv2.matchTemplate(around, np.ascontiguousarray(ink), cv2.TM_CCOEFF_NORMED).max()), sign.text)
        for sign, ink in patterns
        if all(own <= room for own, room in zip(ink.shape, around.shape, strict=True))
    ]
    fit, text = max(fits, default=(0.0, ""))
    if fit < ALIKE:
        return told or Sign("", box, LIKE)
    return Sign(text, box, 1.0 if told is not None and told.text == text else LIKE)
