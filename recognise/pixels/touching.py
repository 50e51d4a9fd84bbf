"""Digits that touch, side by side or one over the other, are one piece of ink: cut where the piece is thinnest, each
part reads for itself. What is left of three is cut once more: squeezed into one window, two digits look like one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from recognise.evidence import Guess
from recognise.glyphs.window import window
from recognise.pixels.blobs import STEEP, Blob, Pieces, picture, steeper
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, Character, CharacterReader

WIDE = 0.72
"""As a part of its height: a piece narrower than this is no two digits."""
NARROW = 0.55
"""The same where digits stand over one another, as in circles: a piece wider than this is no two digits."""
WIDEST, THREE = 1.15, 1.3
"""The same of a digit that was cut off others, with rests of these, at most, and of three digits at least."""
MIDDLE = (0.24, 0.76)
"""As parts of the width, or the height: where the cut between two digits may lie, or the first of two."""
CUTS = 3
"""So many of the thinnest places are tried."""
SURE_WHOLE = 0.9
"""What is a digit as it stands, from this probability on, is not cut."""
SURE_PARTS = 0.8
"""Both parts must read as digits with this probability: halves of other characters seldom do."""
CUT_COSTS = 0.97
"""How much less sure a digit is for having been cut out of a piece."""
PAD = 6
"""Pixels of blank paper around a part."""

Picture = npt.NDArray[np.uint8]
Pixels = tuple[int, int, int, int]
"""A box in a piece: x, y, width, height."""
Part = tuple[Picture, Pixels, Picture]
"""A window, the box of its ink in the piece, and that ink."""
Read = tuple[tuple[Guess, ...], Pixels]
"""What a part reads as, and its box in the piece."""


def parted(
    characters: Sequence[Character],
    pieces: Pieces,
    drawn: Grey,
    raster: Raster,
    reader: CharacterReader,
    *,
    stacked: bool = False,
) -> list[Character]:
    """The characters; a piece that is no sure digit as two digits or three, where its parts read as such: side by side,
    or, as two, `stacked` one over the other."""
    found: list[Character] = []
    for character in characters:
        found += _digits(character, pieces, drawn, raster, reader, stacked) or [character]
    return found


def _digits(
    character: Character, pieces: Pieces, drawn: Grey, raster: Raster, reader: CharacterReader, stacked: bool
) -> list[Character]:
    blob = character.blob
    sure = character.is_digit and character.guesses[0].probability >= SURE_WHOLE
    shaped = blob.width <= NARROW * blob.height if stacked else blob.width >= WIDE * blob.height
    if sure or not shaped:
        return []
    alone = picture(blob, pieces, drawn)
    left, top = min(blob.x, PAD), min(blob.y, PAD)
    own = alone[top : top + blob.height, left : left + blob.width]
    read = _cut_up([own, *(steeper(own, *levels) for levels in STEEP)], reader, stacked)
    return [_part(character, guesses, box, raster) for guesses, box in read]


def _cut_up(looks: Sequence[Picture], reader: CharacterReader, stacked: bool) -> list[Read]:
    """What a piece in several looks reads as, cut in two, or in three where it is wide enough for as many: nothing
    where its parts read as no digits."""
    high, wide = looks[0].shape
    three = not stacked and wide >= THREE * high
    tries = [cut for look in looks for cut in _cuts(look, stacked)]
    if not tries:
        return []
    firsts = zip(tries, reader.read([first for (first, _, _), _ in tries], DIGITS), strict=True)
    # The second part is looked at only where the first reads as a digit: that is seldom.
    begun = [(parts, guesses) for parts, guesses in firsts if _worst(guesses) >= SURE_PARTS]
    seconds = reader.read([second for (_, (second, _, _)), _ in begun], DIGITS) if begun else []
    found: list[list[Read]] = []
    for ((_, box, _), (_, other, rest)), first, second in (
        (*one, own) for one, own in zip(begun, seconds, strict=True)
    ):
        if stacked or max(box[2] / box[3], other[2] / other[3]) <= WIDEST:
            found.append([(first, box), (second, other)])
        if three and (more := _cut_up([rest], reader, stacked)):
            found.append([(first, box), *((guesses, _moved(at, other)) for guesses, at in more)])
    sure = [read for read in found if len(read) > 2 and _least(read) >= SURE_WHOLE]
    likeliest = max(sure or found, key=_least, default=[])
    return likeliest if likeliest and _least(likeliest) >= SURE_PARTS else []


def _least(read: Sequence[Read]) -> float:
    """How sure the least sure part is."""
    return _worst(*(guesses for guesses, _ in read))


def _moved(box: Pixels, into: Pixels) -> Pixels:
    """A box in a part as one in the whole piece."""
    return into[0] + box[0], into[1] + box[1], box[2], box[3]


def _worst(*parts: tuple[Guess, ...]) -> float:
    return min(guesses[0].probability if guesses[0].text else 0.0 for guesses in parts)


def _cuts(alone: Picture, stacked: bool) -> Iterator[tuple[Part, Part]]:
    """Both parts of a piece, cut where it may be, thinnest first: between columns, or `stacked` between rows."""
    ink = 255.0 - alone
    lines = ink.sum(axis=1 if stacked else 0)
    length = len(lines)
    first, last = (round(share * length) for share in MIDDLE)
    lowest = [n for n in range(max(1, first), min(last, length - 2) + 1) if lines[n] <= lines[n - 1 : n + 2].min()]
    for n in sorted(lowest, key=lambda n: float(lines[n]))[:CUTS]:
        parts = [_part_of(alone, 0, n, stacked), _part_of(alone, n, length, stacked)]
        if parts[0] is not None and parts[1] is not None:
            yield parts[0], parts[1]


def _part_of(alone: Picture, start: int, stop: int, stacked: bool) -> Part | None:
    """The columns, or `stacked` the rows, from start to stop."""
    part = alone[start:stop] if stacked else alone[:, start:stop]
    dark = part < 255 - (255 - int(alone.min())) // 3
    if not dark.any():
        return None
    rows, columns = np.nonzero(dark.any(axis=1))[0], np.nonzero(dark.any(axis=0))[0]
    x0, y0, x1, y1 = int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1
    paper = np.pad(part, PAD, constant_values=255)
    right, down = (0, start) if stacked else (start, 0)
    read = window(paper, (x0 + PAD, y0 + PAD, x1 + PAD, y1 + PAD))
    return read, (right + x0, down + y0, x1 - x0, y1 - y0), part[y0:y1, x0:x1]


def _part(whole: Character, guesses: tuple[Guess, ...], box: Pixels, raster: Raster) -> Character:
    x, y, width, height = box
    blob = Blob(whole.blob.x + x, whole.blob.y + y, width, height, whole.blob.area // 2, whole.blob.labels)
    less = tuple(replace(guess, probability=guess.probability * CUT_COSTS) for guess in guesses)
    return Character(blob, blob.box(raster), less, less)
