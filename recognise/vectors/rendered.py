"""Pictures that a program rendered: paper of one exact colour, areas of exact colours, and strokes. What a scanner or a
camera has seen is never so even."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Image
from recognise.pixels.frame import Mask

Labels = npt.NDArray[np.int16]
Floats32 = npt.NDArray[np.float32]

EXACT, NEARLY = 3, 30
"""Grey levels: what differs from the paper by less is paper, ringing of a resampled picture included; up to so much it
is the rim of something, or the noise of a scan."""
MOST_NOISE = 0.06
"""Of all that is nearly paper the part that is not exactly of its colour: rims are few, noise is everywhere."""
LEAST_PAPER = 0.3
"""The part of a grid that is paper at least."""
LEAST_RIMS = 0.002
"""The part of a picture that is rims at least: without any it has but two colours, as scans for text have, whose print
is rough."""
EVEN, AROUND = 12, 7
"""Grey levels by which the pixels of an even area differ from each other, overshoot of resampling included; and the
size in pixels of the square around a rim in which it has the areas that it parts."""
ONE_COLOUR = 14
"""By which two areas differ that are of one colour."""
LEAST_AREA, MOST_COLOURS = 0.002, 14
"""In square cells: an area of less shows no colour of its own. More colours than this are a photograph, or shading."""
INKED = 40
"""Grey levels by which a stroke stands out from its ground; the rims of lines are paler."""
GREY = 24
"""Grey levels between the channels of a colour that is no grey."""
PAPER, STROKE = 0, -1
"""Labels of paper and of strokes too thin to show an even area."""


@dataclass(frozen=True, slots=True)
class Areas:
    """A picture parted by colour: `labels` of each pixel, PAPER, STROKE or a place in `colours`."""

    labels: Labels
    colours: tuple[Colour, ...]


def is_rendered(picture: Image) -> bool:
    """Whether a program drew a picture (RGB) of a grid straight into its pixels."""
    paper = _paper(picture)
    off = np.abs(picture.astype(np.int16) - np.asarray(paper, np.int16)).max(axis=-1)
    exact, nearly = float((off <= EXACT).mean()), float(((off > EXACT) & (off <= NEARLY)).mean())
    rims = float(((off > NEARLY) & (picture.max(axis=-1) > NEARLY)).mean())
    return exact >= LEAST_PAPER and nearly <= MOST_NOISE * (exact + nearly) and rims >= LEAST_RIMS


def _paper(picture: Image) -> Colour:
    """The commonest colour."""
    codes = picture.reshape(-1, 3).astype(np.int64) @ np.array((1 << 16, 1 << 8, 1))
    values, counts = np.unique(codes, return_counts=True)
    code = int(values[counts.argmax()])
    return code >> 16, code >> 8 & 255, code & 255


def areas_of(picture: Image, cell: int) -> Areas | None:
    """A rendered picture with `cell` pixels a cell, parted by colour; None where it has more colours than print has."""
    smooth = cv2.medianBlur(picture, 3)
    spread = (cv2.dilate(picture, np.ones((3, 3))) - cv2.erode(picture, np.ones((3, 3)))).max(axis=-1)
    even = np.asarray(spread <= EVEN, np.bool_)
    colours = _colours(picture, even, LEAST_AREA * cell**2)
    if len(colours) > MOST_COLOURS:
        return None
    off = _apart(smooth, colours)
    nearest = off.argmin(axis=0)
    labels = np.where(even & (off.min(axis=0) <= ONE_COLOUR), nearest, STROKE - 1).astype(np.int16)
    return Areas(_settled(picture, labels, colours), colours)


def _colours(picture: Image, even: Mask, least: float) -> tuple[Colour, ...]:
    """The colours of even areas, that of the paper first, then those that cover most."""
    found: list[Colour] = [_paper(picture)]
    pixels = picture[even].astype(np.int16)
    while len(pixels) and len(found) <= MOST_COLOURS:
        pixels = pixels[np.abs(pixels - np.asarray(found[-1], np.int16)).max(axis=-1) > ONE_COLOUR]
        if len(pixels) < least:
            break
        colour = _paper(pixels.astype(np.uint8)[None])
        near = np.abs(pixels - np.asarray(colour, np.int16)).max(axis=-1) <= ONE_COLOUR
        if near.sum() >= least:
            found.append(colour)
        else:
            pixels = pixels[~near]
            found.append(colour)
            found.pop()
    return tuple(found)


def _apart(picture: Image, colours: tuple[Colour, ...]) -> npt.NDArray[np.int16]:
    """How far each pixel is from each colour."""
    wide = picture.astype(np.int16)
    return np.stack([np.abs(wide - np.asarray(colour, np.int16)).max(axis=-1) for colour in colours])


def _settled(picture: Image, labels: Labels, colours: tuple[Colour, ...]) -> Labels:
    """Labels for the pixels between even areas: that of the nearer of two areas of which they are a mixture, or
    STROKE."""
    unknown = labels < STROKE
    around = np.stack(
        [
            cv2.dilate((labels == index).astype(np.uint8), np.ones((AROUND, AROUND), np.uint8)) > 0
            for index in range(len(colours))
        ]
    )
    wide = picture.astype(np.float32)
    off = np.stack([np.abs(wide - np.asarray(c, np.float32)).max(axis=-1) for c in colours])
    off[~around] = np.inf
    best, least = off.argmin(axis=0), off.min(axis=0)
    mixed = np.zeros(unknown.shape, np.bool_)
    for one in range(len(colours)):
        for other in range(one):
            both = around[one] & around[other] & unknown
            if both.any():
                mixed[both] |= _between(wide[both], colours[one], colours[other])
    found = labels.copy()
    known = unknown & ((least <= INKED) | mixed)
    found[known] = best[known]
    # Of a thin stroke and its rims that is stroke which is darker than half of the darkest near by.
    away = np.abs(wide - np.asarray(colours[PAPER], np.float32)).max(axis=-1)
    half = cv2.dilate(away, np.ones((5, 5), np.uint8)) / 2
    found[unknown & ~known] = np.where(away > np.maximum(half, INKED), STROKE, best)[unknown & ~known]
    return found


def _between(pixels: Floats32, one: Colour, other: Colour) -> Mask:
    """Whether colours are mixtures of two others."""
    start, way = np.asarray(one, np.float32), np.subtract(other, one).astype(np.float32)
    part = np.clip((pixels - start) @ way / max(float(way @ way), 1.0), 0, 1)
    return np.asarray(np.abs(pixels - start - part[:, None] * way).max(axis=-1) <= INKED / 2, np.bool_)
