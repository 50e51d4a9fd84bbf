"""Characters that a PDF draws as paths, read from their own outlines: in print they stand on lines, dashes and tints,
and the small ones are few pixels high, while their outlines are exact and alone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.evidence import Glyph, Guess
from recognise.geometry import extent, middle
from recognise.glyphs.window import Grey, window
from recognise.grouping import grouped
from recognise.picture import Reader
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import LOOK_ALIKE, labels_expected, on_line
from recognise.vectors.inks import Ink
from recognise.vectors.painting import polygon_area
from recognise.vectors.patches import canvas_size
from recognise.vectors.place import Floats

TALL = 48
"""Pixels by which a character is drawn to be read: more than the network's window shows."""
SMOOTH = 4
"""Each pixel is the mean of so many by so many."""
FREE = 2
"""Pixels of paper around it."""
LEAST_HEIGHT, MOST_HEIGHT = 0.04, 0.95
"""In cells: what is lower or higher is no character of a grid, unless it stands with one, as a minus does. Old-style
figures in a circle are that low."""
LEAST = 0.03
"""In cells: what is smaller in both directions is a speck."""
SURE = 0.9
"""Below this an outline is left to the reader of the picture."""
RATHER, AS_HIGH, NONE_AMONG = 0.5, 0.06, 0.1
"""What an outline is taken for from this chance on where it is, within such a part, as high as sure characters of its
colour; and what is left there of the doubt that it is no character. Of the figures of 105 faces, 49 of them in designs
that the network never saw, the best guess was right in all 1,049, 21 of them stated below 0.9."""
SEEN = 0.9
"""The part of a character that must show; what covers it hides more."""
LEVEL_BAR, FULL = 1.3, 0.97
"""A minus is so many times as wide as high at least, and fills so much of its box."""
MID_GREY = 128
"""Of 255: what is darker is ink."""
MINUS = Guess("-", 0.999)
"""What such a bar is among figures."""
COPY = 0.01
"""In cells: outlines that nowhere differ by more are one outline."""
OVER = 0.5
"""Outlines whose widths share this part of the narrower one are one character: ÷, =, the holes of 8."""
APART = 0.45
"""Characters of one number stand closer than this part of their height."""
LEVEL = 0.6
"""They share this part of their height at least."""
LETTERS = "XV<>"
"""What stands between cells besides numbers."""
SIGNS = "+-×÷/"
"""What stands with the numbers of cages."""


def read_paths(inks: Sequence[Ink], raster: Raster, reader: Reader) -> list[Glyph]:
    """The numbers, letters and signs that filled paths draw on the grid, as far as they are surely read."""
    parts = [
        (ink, part)
        for ink in inks
        if ink.role == "fill"
        and canvas_size(ink.patch) >= SEEN * canvas_size(ink.whole)
        and LEAST_HEIGHT <= max(map(_height, characters_of(ink.outlines))) <= MOST_HEIGHT
        for part in characters_of(ink.outlines)
        if extent(_box(part)) >= LEAST
    ]
    copies = _copies([part for _, part in parts])
    firsts = [parts[group[0]] for group in copies]
    crops = [_crop(part, ink.even_odd) for ink, part in firsts]
    middles = [middle(_box(part)) for _, part in firsts]
    read = read_alone(crops, middles, (raster.rows, raster.columns), reader)
    read = [(MINUS,) if _is_bar(part) else guesses for (_, part), guesses in zip(firsts, read, strict=True)]
    of = {number: (guesses, len(group)) for group, guesses in zip(copies, read, strict=True) for number in group}
    found = [_glyph(part, ink, *of[number]) for number, (ink, part) in enumerate(parts)]
    sure = [glyph for glyph in found if glyph.text and glyph.confidence >= SURE]
    found = [_as_a_character(glyph) if _is_like(glyph, sure) else glyph for glyph in found]
    # A path of several characters is a number; only single characters are put together.
    whole = [[glyph for (ink, _), glyph in zip(parts, found, strict=True) if ink is one] for one in inks]
    single = [glyphs[0] for glyphs in whole if len(glyphs) == 1]
    numbers = [*_numbers(single), *(number for glyphs in whole if len(glyphs) > 1 for number in _numbers(glyphs))]
    numbers = [_letter_or_sign(number) for number in numbers]
    return [_joined(number) for number in numbers if all(g.text and g.confidence >= SURE for g in number)]


def _is_like(glyph: Glyph, sure: Sequence[Glyph]) -> bool:
    """Whether an outline is rather a character than none, and of the height and colour of one that surely is."""
    likely = glyph.text != "" and RATHER <= glyph.confidence < SURE
    return likely and any(abs(g.size - glyph.size) <= AS_HIGH * g.size and g.colour == glyph.colour for g in sure)


def _as_a_character(glyph: Glyph) -> Glyph:
    """A glyph with little of the doubt that it is none: it stands among such."""
    chances = [(g, g.probability * (1.0 if g.text else NONE_AMONG)) for g in glyph.guesses]
    whole = sum(chance for _, chance in chances)
    return replace(glyph, guesses=tuple(replace(g, probability=chance / whole) for g, chance in chances))


def _is_bar(part: Sequence[Floats]) -> bool:
    """Whether a character is a bare level bar, which only a minus is, however thin: among characters, for bars by
    themselves are marks of their own."""
    x0, y0, x1, y1 = _box(part)
    across, down = x1 - x0, y1 - y0
    return len(part) == 1 and across >= LEVEL_BAR * down and abs(polygon_area(part[0])) >= FULL * across * down


def is_bar_alone(picture: Grey, long: float = LEVEL_BAR, full: float = FULL) -> bool:
    """The same of a picture of a character, dark on light, that reaches to the edges of the picture: `long` times as
    wide as high, and `full` of its pixels dark."""
    height, width = picture.shape
    return width >= long * height and float((picture < MID_GREY).mean()) >= full


def _copies(parts: Sequence[Sequence[Floats]]) -> list[list[int]]:
    """The numbers of the characters that are drawn by one outline, and stand alike on lines or in cells."""
    groups: dict[tuple[bool, tuple[int, ...]], list[tuple[Floats, list[int]]]] = {}
    for number, part in enumerate(parts):
        points = np.concatenate(part)
        shape = points - points.min(axis=0)
        alike = groups.setdefault((on_line(middle(_box(part))), tuple(map(len, part))), [])
        group = next((its for first, its in alike if np.abs(first - shape).max() <= COPY), None)
        if group is None:
            alike.append((shape, [number]))
        else:
            group.append(number)
    return [its for alike in groups.values() for _, its in alike]


def read_alone(
    crops: Sequence[Grey], middles: Sequence[Point], size: tuple[int, int], reader: Reader
) -> list[tuple[Guess, ...]]:
    """What single characters may be, best first, from windows in which nothing else stands; `middles` say where on a
    grid of so many rows and columns: a letter that looks like a label of the grid is that label, but for those that
    stand between cells as letters."""
    free = reader.read(crops) if crops else []
    labels = labels_expected(*size) + SIGNS
    found = []
    for crop, at, guesses in zip(crops, middles, free, strict=True):
        allowed = labels + LETTERS if on_line(at) else labels
        best = guesses[0].text if guesses else ""
        doubtful = best not in allowed or guesses[0].probability < SURE
        alike = doubtful and best != "" and LOOK_ALIKE.get(best, best) in allowed
        found.append(reader.read([crop], allowed)[0] if alike else guesses)
    return found


def characters_of(outlines: Sequence[Floats]) -> list[list[Floats]]:
    """The outlines of a path, character by character from left to right."""
    found: list[tuple[float, float, list[Floats]]] = []
    for points in sorted(outlines, key=lambda p: float(p[:, 0].min())):
        left, right = float(points[:, 0].min()), float(points[:, 0].max())
        if found:
            low, high, its = found[-1]
            if min(right, high) - max(left, low) >= OVER * min(right - left, high - low):
                found[-1] = (low, max(high, right), [*its, points])
                continue
        found.append((left, right, [points]))
    return [its for _, _, its in found]


def _box(part: Sequence[Floats]) -> Box:
    points = np.concatenate(part)
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return x0, y0, x1, y1


def _height(part: Sequence[Floats]) -> float:
    return float(np.ptp(np.concatenate(part)[:, 1]))


def _crop(part: Sequence[Floats], even_odd: bool) -> Grey:
    """A character alone, black on white, as the network wants it."""
    points = np.concatenate(part)
    low, size = points.min(axis=0), np.ptp(points, axis=0)
    scale = TALL * SMOOTH / float(size.max())
    width, height = (int(np.ceil(side * scale / SMOOTH)) + 2 * FREE for side in size)
    winding = np.zeros((height * SMOOTH, width * SMOOTH), np.int16)
    for outline in part:
        mask = np.zeros(winding.shape, np.uint8)
        pixels: npt.NDArray[np.int32] = np.round((outline - low) * scale + FREE * SMOOTH).astype(np.int32)
        cv2.fillPoly(mask, [pixels], 1)
        winding += np.int16(1 if even_odd or cv2.contourArea(pixels, oriented=True) > 0 else -1) * mask
    area = (winding % 2 if even_odd else winding != 0).astype(np.uint8)
    ink = area.reshape(height, SMOOTH, width, SMOOTH).mean(axis=(1, 3))
    return window(np.asarray(255 * (1 - ink), np.uint8), (FREE, FREE, width - FREE, height - FREE))


def crops_of(ink: Ink) -> list[Grey]:
    """The characters of a filled path, each alone, as the network wants them."""
    return [_crop(part, ink.even_odd) for part in characters_of(ink.outlines)]


def _glyph(part: Sequence[Floats], ink: Ink, guesses: tuple[Guess, ...], copies: int) -> Glyph:
    box = _box(part)
    return Glyph(box, guesses, box[3] - box[1], ink.colour, "shape", copies)


def _numbers(glyphs: Sequence[Glyph]) -> list[list[Glyph]]:
    """Characters that stand side by side."""
    return grouped(sorted(glyphs, key=lambda g: g.box[0]), lambda group, other: _follows(group[-1], other))


def _follows(one: Glyph, other: Glyph) -> bool:
    shared = min(one.box[3], other.box[3]) - max(one.box[1], other.box[1])
    gap = other.box[0] - one.box[2]
    return (
        shared >= LEVEL * min(one.size, other.size)
        and gap <= APART * max(one.size, other.size)
        and other.box[2] - one.box[0] <= 1.0
        and one.colour == other.colour
    )


def _letter_or_sign(number: list[Glyph]) -> list[Glyph]:
    """A number with X and × told apart, which some founts draw alike: a sign stands with figures, a letter alone."""
    kept, dropped = ("×", "X") if len(number) > 1 else ("X", "×")
    return [replace(glyph, guesses=_as_one(glyph.guesses, kept, dropped)) for glyph in number]


def _as_one(guesses: tuple[Guess, ...], kept: str, dropped: str) -> tuple[Guess, ...]:
    """Guesses with the chance of one text added to that of its likeness."""
    chances = {guess.text: guess.probability for guess in guesses}
    if kept not in chances or dropped not in chances:
        return guesses
    chances[kept] += chances.pop(dropped)
    best_first = sorted(chances.items(), key=lambda each: -each[1])
    return tuple(Guess(text, chance) for text, chance in best_first)


def _joined(number: Sequence[Glyph]) -> Glyph:
    boxes = np.array([g.box for g in number])
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    return Glyph(
        (x0, y0, x1, y1),
        tuple(readings([g.guesses for g in number])),
        max(g.size for g in number),
        number[0].colour,
        "shape",
        min(g.copies for g in number),
    )


def readings(number: Sequence[Sequence[Guess]]) -> Iterator[Guess]:
    """What a number may be, best first: every character as it is likeliest, or one of them otherwise."""
    texts = [guesses[0].text for guesses in number]
    likely = math.prod(guesses[0].probability for guesses in number)
    yield Guess("".join(texts), likely)
    others = [
        Guess("".join((*texts[:i], guess.text, *texts[i + 1 :])), likely * guess.probability / guesses[0].probability)
        for i, guesses in enumerate(number)
        for guess in guesses[1:]
    ]
    yield from sorted(others, key=lambda guess: -guess.probability)
