"""Pictures that a program rendered: paper of one exact colour, areas of exact colours, and strokes. What a scanner or a
camera has seen is never so even."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from ingest.page import Colour, Image
from recognise.pixels.frame import Mask

Labels = npt.NDArray[np.int16]
Bytes = npt.NDArray[np.uint8]
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
FAR = np.uint8(255)
"""Farther than any colour that counts."""
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
    off = channels.most(np.abs(picture.astype(np.int16) - np.asarray(paper, np.int16)))
    exact, nearly = float((off <= EXACT).mean()), float(((off > EXACT) & (off <= NEARLY)).mean())
    rims = float(((off > NEARLY) & (channels.most(picture) > NEARLY)).mean())
    return exact >= LEAST_PAPER and nearly <= MOST_NOISE * (exact + nearly) and rims >= LEAST_RIMS


def _paper(picture: Image) -> Colour:
    """The commonest colour."""
    codes, counts = np.unique(_codes(picture), return_counts=True)
    return _of_code(int(codes[counts.argmax()]))


def _codes(picture: Image) -> npt.NDArray[np.uint32]:
    """The colours of pixels as numbers, one after the other."""
    red, green, blue = np.moveaxis(picture.reshape(-1, 3).astype(np.uint32), -1, 0)
    return np.asarray(red << 16 | green << 8 | blue, np.uint32)


def _of_code(code: int) -> Colour:
    return code >> 16, code >> 8 & 255, code & 255


def areas_of(picture: Image, cell: int) -> Areas | None:
    """A rendered picture with `cell` pixels a cell, parted by colour; None where it has more colours than print has."""
    smooth = cv2.medianBlur(picture, 3)
    spread = channels.most(cv2.dilate(picture, np.ones((3, 3))) - cv2.erode(picture, np.ones((3, 3))))
    even = np.asarray(spread <= EVEN, np.bool_)
    colours = _colours(picture, even, LEAST_AREA * cell**2)
    if len(colours) > MOST_COLOURS:
        return None
    nearest, off = _nearest([_apart(cv2.split(smooth), colour) for colour in colours])
    labels = np.where(even & (off <= ONE_COLOUR), nearest, np.int16(STROKE - 1))
    return Areas(_settled(picture, labels, colours), colours)


def _colours(picture: Image, even: Mask, least: float) -> tuple[Colour, ...]:
    """The colours of even areas, that of the paper first, then those that cover most."""
    found: list[Colour] = [_paper(picture)]
    codes, counts = np.unique(_codes(picture[even]), return_counts=True)
    shades = np.stack([codes >> 16, codes >> 8 & 255, codes & 255], axis=-1).astype(np.int16)
    left = np.ones(len(codes), np.bool_)
    while len(found) <= MOST_COLOURS:
        left &= np.abs(shades - np.asarray(found[-1], np.int16)).max(axis=-1) > ONE_COLOUR
        if counts[left].sum() < max(least, 1):
            break
        colour = shades[int(np.where(left, counts, 0).argmax())]
        near = left & (np.abs(shades - colour).max(axis=-1) <= ONE_COLOUR)
        if counts[near].sum() >= least:
            red, green, blue = colour.tolist()
            found.append((red, green, blue))
        else:
            left &= ~near
    return tuple(found)


def _apart(planes: Sequence[Bytes], colour: Colour) -> Bytes:
    """How far pixels are from a colour, in the channel in which they are farthest; `planes` are their channels."""
    red, green, blue = (cv2.absdiff(plane, float(part)) for plane, part in zip(planes, colour, strict=True))
    return np.asarray(cv2.max(cv2.max(red, green), blue), np.uint8)


def _nearest(off: Sequence[Bytes]) -> tuple[Labels, Bytes]:
    """Which of several distances is the least, the first of equal ones, and how much it is, place by place."""
    which, least = np.zeros(off[0].shape, np.int16), off[0].copy()
    for index, each in enumerate(off[1:], 1):
        nearer = each < least
        which[nearer] = index
        np.minimum(least, each, out=least)
    return which, least


def _settled(picture: Image, labels: Labels, colours: tuple[Colour, ...]) -> Labels:
    """Labels for the pixels between even areas: that of the nearer of two areas of which they are a mixture, or
    STROKE."""
    unknown = labels < STROKE
    square = np.ones((AROUND, AROUND), np.uint8)
    around = [cv2.dilate((labels == index).astype(np.uint8), square)[unknown] > 0 for index in range(len(colours))]
    off = [_apart(cv2.split(picture), colour) for colour in colours]
    best, least = _nearest([np.where(a, o[unknown], FAR) for a, o in zip(around, off, strict=True)])
    wide = picture[unknown].astype(np.float32)
    mixed = np.zeros(len(wide), np.bool_)
    for one in range(len(colours)):
        for other in range(one):
            both = around[one] & around[other] & ~mixed
            if both.any():
                mixed[both] |= _between(wide[both], colours[one], colours[other])
    known = (least <= INKED) | mixed
    # Of a thin stroke and its rims that is stroke which is darker than half of the darkest near by.
    away = off[PAPER]
    half = cv2.dilate(away, np.ones((5, 5), np.uint8))[unknown] / 2
    found = labels.copy()
    found[unknown] = np.where(known | (away[unknown] <= np.maximum(half, INKED)), best, np.int16(STROKE))
    return found


def _between(pixels: Floats32, one: Colour, other: Colour) -> Mask:
    """Whether colours are mixtures of two others."""
    start, way = np.asarray(one, np.float32), np.subtract(other, one).astype(np.float32)
    part = np.clip((pixels - start) @ way / max(float(way @ way), 1.0), 0, 1)
    return np.asarray(np.abs(pixels - start - part[:, None] * way).max(axis=-1) <= INKED / 2, np.bool_)
