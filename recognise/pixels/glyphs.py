"""Characters in and around the grid: pieces of ink read, put together to numbers, and placed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Protocol

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.geometry import box_of_all
from recognise.grouping import grouped
from recognise.pixels.blobs import STEEP, Blob, Pieces, colour_of, picture, steeper
from recognise.pixels.frame import Colours, Grey, Raster

SHORTEST = 0.11
"""In cells: the least height of a character that print sets in a grid (the totals of cages)."""
ON_LINE = 0.1
"""In cells: a piece whose middle is nearer to a lattice line than this stands on the line: a mark between cells."""
SURE_BESIDE = 0.98
"""A figure that near to a line belongs to a number beside it from this probability on: dashes look like a 1."""
ASTRIDE = 0.08
"""In cells: what reaches over a line so far on both sides is no figure of a number beside it: a plate or a dot."""
APART = 0.45
"""Characters of one number stand closer than this part of their height."""
LEVEL = 0.6
"""Characters of one number share this part of their height at least."""
ALIKE = 0.62
"""Heights of characters of one number differ by no more than this ratio; old-style figures differ by a third."""
LOW_FIGURES, ALIKE_LOW = ("0", "1", "2"), 0.52
"""Old-style figures without ascender or descender, and how low they may be beside one that reaches above or below."""
IN_THE_MIDDLE = 0.08
"""In cells: how far the middle of a given is from that of its cell at most; candidates fill places of their own."""
OPERATIONS, ALIKE_SIGN = "+-×÷", 0.38
"""Signs beside a number, and how much lower than its figures they may be: narrow founts have × at two fifths."""
LOOKED_AGAIN = 0.97
"""What is less sure is looked at again with steeper ink, and the mean of the looks counts: blur, weak print and noise
mislead one look or another, seldom all."""
SURE_CHARACTER = 0.5
"""Below this a piece is not taken for a character; what it is instead is left to other readers and to the residual."""
ALTERNATIVES = 4
"""Readings kept for a number."""
LOOK_ALIKE = {"O": "0", "D": "0", "Q": "0", "I": "1", "L": "1", "Z": "2", "A": "4", "S": "5", "G": "6", "T": "7",
              "Y": "7", "B": "8"}  # fmt: skip
"""Letters that a digit is taken for where no letter is expected."""
IN_NUMBERS = {"/": "1", "U": "0"}
"""The same where nothing but numbers stands; in a cell such a stroke may be a piece of a line, and what looks like a 0
that has lost its top the corner of a wall."""
SIGN_ALIKE = {"×": "X"}
"""A sign that a letter is taken for where letters stand and no signs: a numeral between cells."""
DIGITS = "0123456789"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class CharacterReader(Protocol):
    """Reads single characters: `recognise.glyphs.GlyphReader`."""

    def read(self, crops: Sequence[npt.NDArray[np.uint8]], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        """For each grey crop its likeliest characters, best first; '' stands for no character."""


@dataclass(frozen=True, slots=True)
class Character:
    """A piece of ink and what it may be: `guesses` among the characters that may stand here, `free` among all."""

    blob: Blob
    box: Box
    guesses: tuple[Guess, ...]
    free: tuple[Guess, ...]

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of the box, in cells."""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2

    @property
    def height(self) -> float:
        """In cells."""
        return self.box[3] - self.box[1]

    @property
    def is_character(self) -> bool:
        """Whether it is rather a character than nothing."""
        return bool(self.guesses) and self.guesses[0].text != "" and self.guesses[0].probability >= SURE_CHARACTER

    @property
    def is_label(self) -> bool:
        """Whether it is a digit or a letter: what a cell holds. Signs stand between cells and with totals."""
        return self.is_character and self.guesses[0].text in DIGITS + LETTERS

    @property
    def is_digit(self) -> bool:
        """Whether it is a digit, or looks like one."""
        best = self.free[0].text if self.free else ""
        return self.is_character and ((best in DIGITS and best != "") or best in LOOK_ALIKE | IN_NUMBERS)


def labels_expected(rows: int, columns: int) -> str:
    """The characters that givens of a grid of this size are made of."""
    extra = max(rows, columns) - 9
    return DIGITS + (LETTERS[:extra] if extra > 0 else "")


def character_sized(pieces: Pieces, raster: Raster) -> list[Blob]:
    """The pieces that have a character's size."""
    return [blob for blob in pieces.blobs if blob.height >= SHORTEST * raster.cell]


def read_characters(
    blobs: Sequence[Blob],
    pieces: Pieces,
    drawn: Grey,
    raster: Raster,
    reader: CharacterReader,
    allowed: str,
    numbers: bool = False,
) -> list[Character]:
    """Pieces read; in the same order. `numbers` says that nothing but numbers stands there."""
    crops = [window_of(blob, pieces, drawn) for blob in blobs]
    free = reader.read(crops, None) if crops else []
    unsure = [i for i, guesses in enumerate(free) if guesses and guesses[0].probability < LOOKED_AGAIN]
    steep = {i: [window_of(blobs[i], pieces, drawn, levels) for levels in STEEP] for i in unsure}
    again = iter(reader.read([crop for i in unsure for crop in steep[i]], None) if unsure else [])
    for i in unsure:
        free[i] = mean_of([free[i], *_seen(islice(again, len(STEEP)))])
    # Only where the likeliest character of all may not stand here are the allowed ones asked for by themselves.
    alike = [i for i, guesses in enumerate(free) if guesses and _taken_for(guesses[0].text, allowed, numbers)]
    looks = [crop for i in alike for crop in (crops[i], *steep.get(i, ()))]
    counts = [1 + len(steep.get(i, ())) for i in alike]
    read = iter(reader.read(looks, allowed) if looks else [])
    among = {i: mean_of([next(read), *_seen(islice(read, count - 1))]) for i, count in zip(alike, counts, strict=True)}
    return [
        Character(blob, blob.box(raster), among.get(i) or _restricted(guesses, allowed), guesses)
        for i, (blob, guesses) in enumerate(zip(blobs, free, strict=True))
    ]


def _seen(looks: Iterable[tuple[Guess, ...]]) -> list[tuple[Guess, ...]]:
    """The looks that show a character: steep ink makes thin strokes vanish, which says nothing about them."""
    return [guesses for guesses in looks if guesses and guesses[0].text]


def mean_of(readings: Sequence[tuple[Guess, ...]]) -> tuple[Guess, ...]:
    """The mean probabilities of several readings of one piece, best first."""
    sums: dict[str, float] = {}
    for reading in readings:
        for guess in reading:
            sums[guess.text] = sums.get(guess.text, 0.0) + guess.probability / len(readings)
    return tuple(Guess(text, value) for text, value in sorted(sums.items(), key=lambda pair: -pair[1]))


def window_of(
    blob: Blob, pieces: Pieces, drawn: Grey, levels: tuple[float, float] | None = None
) -> npt.NDArray[np.uint8]:
    """The crop of a piece as the network wants it, made steeper between two levels of ink on request."""
    from recognise.glyphs.window import window  # noqa: PLC0415 - loads OpenCV's resizing only when reading

    alone = picture(blob, pieces, drawn)
    alone = steeper(alone, *levels) if levels else alone
    top, left = min(blob.y, 6), min(blob.x, 6)
    return window(alone, (left, top, left + blob.width, top + blob.height))


def _taken_for(text: str, allowed: str, numbers: bool) -> bool:
    """Whether a character that may not stand here looks like one that may."""
    alike = LOOK_ALIKE | SIGN_ALIKE | (IN_NUMBERS if numbers else {})
    return text != "" and text not in allowed and text in alike and alike[text] in allowed


def _restricted(guesses: tuple[Guess, ...], allowed: str) -> tuple[Guess, ...]:
    """The guesses among the allowed characters and none, unless the piece is surely another one: a letter is not forced
    to be a digit."""
    kept = [g for g in guesses if g.text == "" or g.text in allowed]
    whole = sum(g.probability for g in kept)
    if not guesses or whole < SURE_CHARACTER:
        return guesses
    return tuple(Guess(g.text, g.probability / whole) for g in kept)


def standing_in_cells(characters: Iterable[Character]) -> list[Character]:
    """The labels whose number stands in a cell, not on a line between cells. The first figure of a total that begins
    right beside a line is nearer to it than one that stands on it; there only a sure one is believed."""
    found = []
    for group in side_by_side([c for c in characters if c.is_label]):
        box = box_around(group)
        if not on_line(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)):
            found += [c for c in group if not on_line(c.centre) or _is_beside_line(c)]
    return found


def _is_beside_line(character: Character) -> bool:
    """Whether what is near to a line is surely a figure, and stands on one side of it rather than astride."""
    x0, y0, x1, y1 = character.box
    lines = zip((round((x0 + x1) / 2), round((y0 + y1) / 2)), ((x0, x1), (y0, y1)), strict=True)
    astride = any(start < line - ASTRIDE and line + ASTRIDE < end for line, (start, end) in lines)
    return character.guesses[0].probability >= SURE_BESIDE and not astride


def box_around(characters: Sequence[Character]) -> Box:
    """The smallest box that holds them all."""
    return box_of_all(character.box for character in characters)


def numbers_in_cells(characters: Iterable[Character], pieces: Pieces, raster: Raster, relative: Colours) -> list[Glyph]:
    """Characters that stand in cells as glyphs, those side by side in one cell as one."""
    by_cell: dict[tuple[int, int], list[Character]] = {}
    for character in characters:
        cell = raster.cell_of(*character.centre)
        if cell is not None:
            by_cell.setdefault((cell.row, cell.column), []).append(character)
    glyphs: list[Glyph] = []
    for members in by_cell.values():
        glyphs.extend(as_glyph(group, pieces, relative) for group in low_in_the_middle(side_by_side(members)))
    return glyphs


def low_in_the_middle(groups: list[list[Character]]) -> list[list[Character]]:
    """The characters of a cell, two low figures in its very middle as one number: how far apart figures stand goes with
    the height of the tall ones of their fount."""
    if len(groups) != 2 or any(len(group) > 1 or group[0].guesses[0].text not in LOW_FIGURES for group in groups):
        return groups
    (left,), (right,) = sorted(groups, key=lambda group: group[0].box[0])
    box = box_around((left, right))
    off = max(abs(value - math.floor(value) - 0.5) for value in ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    alike = min(left.height, right.height) >= ALIKE * max(left.height, right.height)
    level = min(left.box[3], right.box[3]) - max(left.box[1], right.box[1]) >= LEVEL * max(left.height, right.height)
    near = right.box[0] - left.box[2] <= APART / ALIKE * max(left.height, right.height)
    return [[left, right]] if alike and level and near and off <= IN_THE_MIDDLE else groups


def on_line(centre: tuple[float, float]) -> bool:
    """Whether a point stands on a lattice line rather than in a cell."""
    return any(abs(value - round(value)) < ON_LINE for value in centre)


def side_by_side(characters: Sequence[Character]) -> list[list[Character]]:
    """Characters put together to numbers: alike in height, level, and close."""
    return grouped(sorted(characters, key=lambda c: c.box[0]), lambda group, other: _follows(group[-1], other))


def _follows(left: Character, right: Character) -> bool:
    shorter, taller = sorted((left.height, right.height))
    shared = min(left.box[3], right.box[3]) - max(left.box[1], right.box[1])
    gap = right.box[0] - left.box[2]
    is_sign = bool(right.guesses) and right.guesses[0].text in OPERATIONS and right.height == shorter
    is_sign |= _is_numeral_like(left) and left.height == shorter
    low = min((left, right), key=lambda one: one.height)
    is_low = low.is_label and low.guesses[0].text in LOW_FIGURES
    alike = ALIKE_SIGN if is_sign else ALIKE_LOW if is_low else ALIKE
    return shorter >= alike * taller and shared >= LEVEL * shorter and gap <= APART * taller


def _is_numeral_like(character: Character) -> bool:
    """Whether a sign is taken for a letter, where no signs stand: a number may follow it, as it does before ratios."""
    like = SIGN_ALIKE.get(character.free[0].text) if character.free else None
    return like is not None and bool(character.guesses) and character.guesses[0].text == like


def as_glyph(characters: Sequence[Character], pieces: Pieces, relative: Colours) -> Glyph:
    """One glyph of characters that stand side by side, with its likeliest readings."""
    colour = colour_of(characters[0].blob, pieces, relative)
    readings = [Guess("", 1.0)]
    for character in characters:
        readings = [
            Guess(reading.text + guess.text, reading.probability * guess.probability)
            for reading in readings
            for guess in character.guesses[:ALTERNATIVES]
        ]
        readings = sorted(readings, key=lambda g: -g.probability)[:ALTERNATIVES]
    return Glyph(box_around(characters), tuple(readings), float(max(c.height for c in characters)), colour, "ocr")
