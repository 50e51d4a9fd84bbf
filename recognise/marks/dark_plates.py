"""Dark plates in the corners of cells, with a number in paper's colour on each: totals of lines and cages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.marks.operations import agreed_sign, sign_behind, with_sign
from recognise.marks.text_ink import MOSTLY_DISC, Print
from recognise.marks.text_looks import at_shares, read_all
from recognise.marks.text_places import Place
from recognise.marks.text_readings import AGREEING, Reading, longest
from recognise.marks.totals import is_total
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, Character, CharacterReader, as_glyph, side_by_side

Flags = npt.NDArray[np.uint8]

DARK = (0.45, 0.55, 0.65)
"""Ink (0 to 1) of a plate at least, the first: light figures stand on no paler one. A plate that touches a broad line
of its puzzle stands out from it at one of the others."""
BEYOND = 0.12
"""In cells: how far a plate reaches out of its cell; some print sets it right on the corner."""
STROKE, LINE = 0.06, 0.12
"""In cells: the light strokes on a plate are narrower than twice the first; lattice lines are narrower than the second,
plates broader."""
BESIDE = 0.05
"""In cells: how far beyond its cell a plate reaches that runs into the lattice line there."""
HIGH, WIDE = (0.15, 0.42), (0.17, 0.8)
"""In cells: how high and wide plates are."""
FULL = 0.85
"""Part of its box that a plate fills, its figures aside."""
RIM, RIMMED, EACH, DENSE = 0.03, 0.8, 0.75, 0.6
"""In cells: the rim of a plate; the part of it that is dark, for bold figures close to each other have no such rim; the
same of each of its sides, for thick lattice lines make two of them where a number touches both; and of the whole plate,
for figures cover less than half, and paper between two lines more."""
LIGHT = 0.2
"""By so much less ink its figures show than it does."""

LIKELY, ALONE = 0.7, 0.5
"""How sure the best look at a number is at least, and how sure it remains where it is the only one."""


def read_on_plates(corners: Iterable[Place], seen: Print, reader: CharacterReader) -> dict[Place, Glyph]:
    """The number on each dark plate in a corner. Bold figures beside thick lines look like a plate that has none."""
    plates = {place: plate for place in corners if (plate := plate_at(place.box, seen.whole, seen.raster))}
    light = light_on_plates(list(plates.values()), seen)
    inside = {place: on_plate(place, plate) for place, plate in plates.items()}
    looks = at_shares(list(inside.values()), light, seen) if inside else []
    found = {}
    for place, own in inside.items():
        readings = read_all(own, looks, seen, reader)
        best = longest(readings)
        if (groups := side_by_side(best.characters)) and is_total(best.text) and best.least >= LIKELY:
            glyph = replace(as_glyph(groups[0], best.pieces, seen.relative), box=own.box)
            agreeing = sum(reading.text == best.text for reading in readings) >= AGREEING and len(groups) == 1
            glyph = glyph if agreeing else glyph.less_sure(ALONE)
            found[place] = _signed(glyph, groups[0], readings, seen.raster) if place.allowed != DIGITS else glyph
    return found


def _signed(glyph: Glyph, number: Sequence[Character], readings: Sequence[Reading], raster: Raster) -> Glyph:
    """A number with the sign behind it that is no character of one piece, where looks agree on one."""
    told = [sign_behind(number, reading.near, raster) for reading in readings]
    sign = agreed_sign([sign for sign, _ in told], AGREEING) if glyph.text.isdecimal() else ""
    if not sign:
        return glyph
    glyph = glyph if sum(name == sign for name, _ in told) >= AGREEING else glyph.less_sure(ALONE)
    return with_sign(glyph, sign, glyph.box)


def plate_at(corner: Box, whole: Grey, raster: Raster) -> Box | None:
    """The plate in the corner of a cell, in cells; None where none is. `whole` is ink from 0 to 1 with the lattice."""
    x0, y0, x1, y1 = corner
    rows, columns = raster.slices((x0 - BEYOND, y0 - BEYOND, x1 + BEYOND, y1 + BEYOND))
    found = (_darker(whole[rows, columns], cut, raster, fill) for cut in DARK for fill in (_closed, _filled))
    plate = next((plate for plate in found if plate is not None), None)
    if plate is None:
        return None
    x, y, wide, high = plate
    return _without_line(raster.box(columns.start + x, rows.start + y, wide, high), corner)


def _without_line(plate: Box, corner: Box) -> Box:
    """A plate without the lattice lines into which it runs to the left and above; one that is set right on the corner
    reaches farther."""
    beyond = [corner[axis] - plate[axis] for axis in (0, 1)]
    x0, y0 = (corner[axis] if 0 < beyond[axis] <= BESIDE else plate[axis] for axis in (0, 1))
    return x0, y0, plate[2], plate[3]


def _closed(dark: Flags, raster: Raster) -> Flags:
    """What is dark, with the light strokes on it closed."""
    return np.asarray(cv2.morphologyEx(dark, cv2.MORPH_CLOSE, _square(STROKE, raster)), np.uint8)


def _filled(dark: Flags, raster: Raster) -> Flags:
    """The same where a lattice line is as near to the plate as strokes are wide, which would close that gap too: only
    what is light and surrounded is filled."""
    _, labels = cv2.connectedComponents(1 - np.pad(dark, 1), connectivity=4)
    return np.asarray(labels[1:-1, 1:-1] != labels[0, 0], np.uint8)


def _darker(
    ink: Grey, cut: float, raster: Raster, fill: Callable[[Flags, Raster], Flags]
) -> tuple[int, int, int, int] | None:
    """Left, top, width and height, in pixels of `ink`, of the first plate that is darker than a cut."""
    dark = (ink > cut).astype(np.uint8)
    broad = cv2.morphologyEx(fill(dark, raster), cv2.MORPH_OPEN, _square(LINE, raster))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(broad, connectivity=4)
    for number in range(1, count):
        x, y, wide, high, area = (int(v) for v in stats[number])
        own = ink[labels == number]
        fits = HIGH[0] <= high / raster.cell <= HIGH[1] and WIDE[0] <= wide / raster.cell <= WIDE[1]
        rimmed = _is_rimmed(dark[y : y + high, x : x + wide], raster)
        if fits and area >= FULL * wide * high and rimmed and _has_light(own):
            return x, y, wide, high
    return None


def light_on_plates(plates: Sequence[Box], seen: Print) -> Grey:
    """What is lighter than its plate, as ink."""
    light = np.zeros(seen.whole.shape, np.float32)
    for plate in plates:
        inside = seen.raster.slices(plate, -1)
        own = seen.whole[inside]
        light[inside] = np.maximum(np.percentile(own, MOSTLY_DISC) - own, 0)
    return light


def on_plate(place: Place, plate: Box) -> Place:
    """The place on a plate, in which nothing but the number is looked for."""
    return replace(place, box=plate, dark=True)


def _is_rimmed(dark: Flags, raster: Raster) -> bool:
    reach = raster.px(RIM)
    inner = np.zeros(dark.shape, np.bool_)
    inner[reach:-reach, reach:-reach] = True
    sides = dark[:reach], dark[-reach:], dark[:, :reach], dark[:, -reach:]
    all_dark = dark[~inner].mean() >= RIMMED and all(side.mean() >= EACH for side in sides)
    return bool(all_dark and dark.mean() >= DENSE)


def _has_light(own: Grey) -> bool:
    return bool(np.percentile(own, MOSTLY_DISC) - np.percentile(own, 5) >= LIGHT)


def _square(reach: float, raster: Raster) -> Flags:
    return np.ones((2 * (raster.px(reach) // 2) + 1,) * 2, np.uint8)
