"""Names of rows and columns beside a grid of a picture, painted over: A, B, C along one side, 1, 2, 3 along another.

They mark nothing, and readers of clues, of arrows and of what is left of the ink each take some of them for something.
No single character tells, for small pale ones are read wrongly: a row of them is judged as a whole. It has one for
every row or column of the grid, each in the middle, in one line and as tall as the others, and what is read of it is a
series. Clues are no such series; where they were, the rules would speak of marks that are not found."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import islice
from string import ascii_uppercase
from typing import get_args

import cv2
import numpy as np

from ingest.page import Box, Image
from recognise.evidence import Flat, Guess
from recognise.geometry import box_of_all, extent, middle, seen_from, side_of
from recognise.grids.ink import luminance, odd
from recognise.pixels.blobs import Blob, Pieces, pieces_on_bare
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, IN_NUMBERS, LETTERS, LOOK_ALIKE, CharacterReader, read_characters
from schema.grid import Side
from schema.numerals import numeral

BROADEST = 0.25
"""In cells: no stroke of a name is so broad."""
GRAIN = 3
"""Pixels over which grain is evened out."""
FRAME, BLUR, FARTHEST = 0.1, 0.03, 1.8
"""In cells: how far the grid's own frame reaches, and its blur; names stand next to it, or behind a ring of clues."""
LEAST_INK, NOISE_TIMES = 0.04, 4.0
"""Part of the paper's brightness that ink takes away, and so many times what grain does: names are often pale."""
SHORTEST, TALLEST = 0.1, 0.65
"""In cells: the height of a name."""
LOOSE = 0.5
"""Characters of one name stand closer than this part of their height."""
CENTRED, STEADY = 0.22, 0.12
"""In cells: how far the middle of a name lies off that of its row or column, and how far from where the others' lie."""
IN_LINE = 0.1
"""In cells: how far names of one row lie off their line, by their middles or one of their ends."""
ALIKE = 0.6
"""As a part of the tallest name, how low one is at least: old-style figures differ by a third."""
LEAST = 4
"""So many names make a series; three numbers in order might be clues."""
SURELY = 0.9
"""What is so surely another character is no name of its series."""
MOST, FIGURES, SOME, NEVER = 0.5, 0.8, 0.3, 1.0
"""More than this part of a series is read as such. Of letters most: nothing else is one for each line in order; of
figures nearly all, for clues are figures too, but where names stand across to them; of small letters, which the network
does not know, some, and never by themselves; some too of a letter and a figure, which often touch."""
AS_WIDE = 0.95
"""A character is no wider than this part of its height."""
CUTS = (1.0, 2.0)
"""So many times what grain reaches is ink: texture of worn paper joins pale figures, and darker ones lose less."""
PAPER = 0.05
"""In cells: how far the blur of a name reaches."""
SMALL_ALIKE = {"b": "6", "f": "1", "g": "9", "h": "6"}
"""Figures that small letters are taken for."""
SERIES = DIGITS + LETTERS


@dataclass(frozen=True, slots=True)
class Name:
    """What may be one name: its pieces from left to right, and their box in cells."""

    pieces: tuple[Blob, ...]
    box: Box


Readings = tuple[Guess, ...]
"""What one name may be read as, in one way or another."""


@dataclass(frozen=True, slots=True)
class Row:
    """What stands in a row at a side, and what each of it is read as."""

    side: Side
    names: tuple[Name, ...]
    read: list[Readings]

    @property
    def axis(self) -> int:
        """Along which it runs: 0 for x."""
        return 0 if self.side in ("top", "bottom") else 1


def without_names(flat: Flat, reader: CharacterReader) -> Flat:
    """The flattened grid of a picture with paper where names of its rows and columns stand; as it was where there are
    none."""
    raster, whole = _close_by(flat), Raster.of(flat)
    drawn, floor = _ink_beside(flat, raster)
    rows: list[Row] = []
    for cut in CUTS:
        pieces = pieces_on_bare(drawn, cut * floor, raster)
        left = [side for side in get_args(Side) if not any(row.side == side for row in rows)]
        found = [(side, row) for side in left for row in rows_beside(pieces.blobs, side, raster)]
        texts = _read([row for _, row in found], pieces, drawn, raster, reader)
        read = [Row(side, tuple(row), its) for (side, row), its in zip(found, texts, strict=True)]
        rows += [row for row in read if are_names(row.read)]
        others = [row for row in read if row not in rows and any(row.axis != named.axis for named in rows)]
        rows += [row for row in others if are_names(row.read, beside=True)]
    boxes = [name.box for row in rows for name in row.names]
    return replace(flat, image=_painted(flat.image, boxes, whole)) if boxes else flat


def _close_by(flat: Flat) -> Raster:
    """The raster of the part of a flattened grid that names stand in."""
    return Raster(flat.rows, flat.columns, flat.cell, round(min(flat.margin, FARTHEST) * flat.cell))


def _ink_beside(flat: Flat, raster: Raster) -> tuple[Grey, float]:
    """What the paper around each pixel beside the grid has more of its brightness, as a part of that, and how much of
    it is grain."""
    beyond = round(flat.margin * flat.cell) - raster.origin
    bright = luminance(flat.image[beyond : len(flat.image) - beyond, beyond : flat.image.shape[1] - beyond])
    bright = np.asarray(cv2.blur(bright, (GRAIN, GRAIN)), np.uint8)
    size = odd(BROADEST * raster.cell)
    # Panels and the edge of the paper stay in it: it is the light that thin strokes take away.
    paper = cv2.morphologyEx(bright, cv2.MORPH_CLOSE, np.ones((size, size), np.uint8))
    dark = 255 - np.asarray(cv2.divide(bright, paper, scale=255), np.uint8)
    dark[raster.slices((-FRAME, -FRAME, raster.columns + FRAME, raster.rows + FRAME))] = 0
    beside = np.concatenate([dark[: raster.origin].ravel(), dark[raster.origin :, : raster.origin].ravel()])
    usual = float(np.median(beside))
    grain = float(np.median(np.abs(beside - usual)))
    ink = np.maximum(dark.astype(np.float32) - np.float32(usual), 0) / np.float32(255)
    return ink, max(LEAST_INK, NOISE_TIMES * grain / 255)


def rows_beside(blobs: Iterable[Blob], side: Side, raster: Raster) -> list[list[Name]]:
    """The rows of names that may stand at a side, judged by place and size alone."""
    axis, length = (0, raster.columns) if side in ("top", "bottom") else (1, raster.rows)
    by_place: list[list[Name]] = [[] for _ in range(length)]
    for name in _names([blob for blob in blobs if _is_near(blob.box(raster), side, raster)], raster):
        # At a corner the middle may be on the last lattice line, or beyond it where pieces were put together.
        place = math.floor(middle(name.box)[axis])
        if 0 <= place < length:
            by_place[place].append(name)
    found: list[list[Name]] = []
    for row in (row for first in by_place[0] for row in _lines_of(first, by_place, 1 - axis)):
        if row not in found and _are_alike(row, axis):
            found.append(row)
    return found


def _is_near(box: Box, side: Side, raster: Raster) -> bool:
    """Whether a piece as large as a character stands close to a side, clear of the frame."""
    _, (off, _) = seen_from(side, box, raster.rows, raster.columns)
    fits = extent(box) <= TALLEST and box[3] - box[1] >= SHORTEST
    return fits and FRAME + BLUR <= off <= FARTHEST and side_of(middle(box), raster.rows, raster.columns) == side


def _names(blobs: Iterable[Blob], raster: Raster) -> list[Name]:
    """Pieces put together to names of one character or several."""
    names: list[Name] = []
    for blob in sorted(blobs, key=lambda blob: blob.x):
        box = blob.box(raster)
        before = next((name for name in names if _goes_on(name.box, box)), None)
        if before is None:
            names.append(Name((blob,), box))
        else:
            names[names.index(before)] = Name((*before.pieces, blob), box_of_all((before.box, box)))
    return names


def _goes_on(name: Box, box: Box) -> bool:
    """Whether a piece is the next character of a name."""
    tall, low = max(name[3] - name[1], box[3] - box[1]), min(name[3] - name[1], box[3] - box[1])
    level = min(name[3], box[3]) - max(name[1], box[1]) >= low / 2
    return level and box[0] - name[2] < LOOSE * tall


def _lines_of(first: Name, by_place: Sequence[Sequence[Name]], axis: int) -> Iterator[list[Name]]:
    """The rows that begin with a name: of each place the only one that stands in line with it along an axis, by its
    middle or by an end."""
    for where in (lambda box: middle(box)[axis], lambda box: box[axis], lambda box: box[axis + 2]):
        row = [[name for name in names if abs(where(name.box) - where(first.box)) <= IN_LINE] for names in by_place]
        if all(len(names) == 1 for names in row):
            yield [name for (name,) in row]


def _are_alike(row: Sequence[Name], axis: int) -> bool:
    """Whether names are all as tall, and each in the middle of its place."""
    heights = [name.box[3] - name.box[1] for name in row]
    off = [middle(name.box)[axis] - at - 0.5 for at, name in enumerate(row)]
    steady = np.abs(np.array(off) - np.median(off)).max() <= STEADY
    return bool(steady and abs(np.median(off)) <= CENTRED and min(heights) >= ALIKE * max(heights))


def _read(
    rows: Sequence[Sequence[Name]], pieces: Pieces, drawn: Grey, raster: Raster, reader: CharacterReader
) -> list[list[Readings]]:
    """What each name of some rows is read as: character by character, no surer than its least sure one, and where it is
    no wider than one, as one that has come apart."""
    blobs = [blob for row in rows for name in row for blob in (*name.pieces, *_as_one(name))]
    read = iter(read_characters(blobs, pieces, drawn, raster, reader, SERIES))

    def readings(name: Name) -> Readings:
        best = [character.free[0] for character in islice(read, len(name.pieces))]
        apart = Guess("".join(guess.text for guess in best), min(guess.probability for guess in best))
        return apart, *(character.free[0] for character in islice(read, len(_as_one(name))))

    return [[readings(name) for name in row] for row in rows]


def _as_one(name: Name) -> tuple[Blob, ...]:
    """The pieces of a name put together, where they may be one character: fine strokes of worn print break."""
    narrow = name.box[2] - name.box[0] <= AS_WIDE * (name.box[3] - name.box[1])
    return (reduce(Blob.with_, name.pieces),) if narrow and len(name.pieces) > 1 else ()


def are_names(read: Sequence[Readings], *, beside: bool = False) -> bool:
    """Whether what was read in a row is a series of names; `beside` says that names stand along another side, across to
    this one."""
    return any(
        _is_series(read, way, besides if beside else alone)
        for series, alone, besides in _series(len(read))
        for way in (series, series[::-1])
    )


def _series(length: int) -> Iterator[tuple[Sequence[str], float, float]]:
    """What names so many rows or columns, and more than what part of it is read as such by itself and beside others."""
    numbers = range(1, length + 1)
    for figures in (list(map(str, numbers)), list(map(numeral, numbers))):
        yield figures, FIGURES, MOST
    for letters in (ascii_uppercase, ascii_uppercase.replace("I", "")):
        if length <= len(letters):
            yield letters[:length], MOST, MOST
            yield letters[:length].lower(), NEVER, SOME
    for letter in "RC":
        yield [f"{letter}{number}" for number in numbers], SOME, SOME


def _is_series(read: Sequence[Readings], series: Sequence[str], share: float) -> bool:
    """Whether more than a share of some names are read as those of a series, and none surely as another character."""
    hits = [any(_looks_like(guess.text, name) for guess in own) for own, name in zip(read, series, strict=True)]
    others = (
        min(g.probability if g.text else 0.0 for g in own) for own, hit in zip(read, hits, strict=True) if not hit
    )
    return len(series) >= LEAST and sum(hits) > share * len(series) and all(sure < SURELY for sure in others)


def _looks_like(text: str, name: str) -> bool:
    """Whether what was read is a name, character by character, or what is hardly told from it."""
    return len(text) == len(name) and all(
        own in (wanted.upper(), LOOK_ALIKE.get(wanted.upper()), SMALL_ALIKE.get(wanted))
        or wanted in (LOOK_ALIKE.get(own), IN_NUMBERS.get(own))
        for own, wanted in zip(text, name, strict=True)
    )


def _painted(image: Image, boxes: Iterable[Box], raster: Raster) -> Image:
    """A picture in which the paper left and right of each box goes on through it."""
    painted = image.copy()
    for box in boxes:
        rows, columns = raster.slices(box, raster.px(PAPER))
        part = painted[rows, columns].astype(np.float32)
        along = np.linspace(0, 1, part.shape[1], dtype=np.float32)[None, :, None]
        painted[rows, columns] = np.rint(part[:, :1] * (1 - along) + part[:, -1:] * along)
    return painted
