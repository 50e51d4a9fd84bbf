"""Ink that is nothing but a lattice line where it bows, or between marks that cut it off.

Paper bends more than a grid is laid flat, and a line that is taken out where it should run leaves rests there. Across
a line that stands alone there is one stroke of ink, as wide as the line is elsewhere: a bar or a wall beside it makes
two of it, or a wider one. What items account for, as the wall of a cage beside a line, is taken away first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import dropwhile

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Draft, Polygon
from recognise.evidence import Flat
from recognise.geometry import bounds, filled

NEAR, REACH = 0.25, 0.25
"""In cells: how far from where a lattice line should run its ink lies at most, and how far across it is looked."""
EDGE = 0.5
"""As a part of the darkest ink across a line: from there on it is of a stroke."""
PALE = 0.12
"""Ink (0 to 1) that a line has at least."""
USUAL = 25
"""Percentile along a line at which it shows how wide it is: where boxes are of any shape part of it is thicker."""
WIDER, BLUR = 1.25, 1.0
"""How many times as wide, and how many pixels wider, a line is elsewhere at most."""
SOFT, LEFT = 2, 0.08
"""Pixels to each side of a stroke that are its blur; ink that what lies beside it reaches at most."""
RUNS_ON = 0.5
"""As a part of a line's usual ink: it has so much where it runs on, and less where it breaks off for a mark."""
ALL = 0.9
"""The part of a thing's length along which it is the line alone."""
AROUND = 0.05
"""In cells: how far beside a thing, and beside the place of its line, no other stroke may stand."""
GRAIN, GRAINY, QUIET = 5, 3.0, 60
"""Pixels along a line over which the ink beside it is averaged, for a mark goes on, and grain does not; and what is
left of that: so many times this percentile of it."""
LONGEST, SHORT = 75, 0.2
"""The percentile of a line's dots that shows how long they are, for marks run into some, and in cells how long that is
at most: a figure that stands between them and is as wide as they are is longer."""
LONG = 0.4
"""In cells: rests of a line beside the walls of cages are so long; what is shorter may be a mark between them."""
RIM = 0.06
"""In cells: how far the blur of a mark reaches beyond what it claims."""
CROSSED, BEYOND = 0.1, 0.05
"""In cells: so near to where lines cross it is not looked at; so far at least a line runs on from a thing that is the
end of it, and so much paper beyond that end is counted to the thing at most."""

Floats = npt.NDArray[np.float32]


def without_own_lines(draft: Draft, flat: Flat) -> Draft:
    """A draft without what is asked of ink that is nothing but a lattice line."""
    claimed = [polygon for item in draft.items for polygon in item.claimed]
    doubts = (d for d in draft.doubts if not (d.stray and d.where and is_of_line(bounds(d.where), flat, claimed)))
    return replace(draft, doubts=tuple(doubts))


def is_of_line(box: Box, flat: Flat, claimed: Iterable[Polygon] = ()) -> bool:
    """Whether the ink in a box, in cells, is that of a lattice line alone, but for what is `claimed` beside it."""
    return _is_along(box, flat, claimed, all_across=False)


def runs_on(box: Box, flat: Flat, claimed: Iterable[Polygon]) -> bool:
    """Whether a lattice line that breaks off in a box, in cells, runs on beside it, and nothing else is there but what
    is `claimed`: it bows, and the wall of a cage lies where it should run."""
    return _is_along(box, flat, claimed, all_across=True)


def _is_along(box: Box, flat: Flat, claimed: Iterable[Polygon], *, all_across: bool) -> bool:
    near = list(_lines_near(box, flat))
    is_long = max(box[2] - box[0], box[3] - box[1]) >= LONG
    taken = _taken(claimed, flat) if near and is_long else None
    return any(_is_alone_along(box, line, upright, flat, taken, all_across) for line, upright in near)


def _taken(claimed: Iterable[Polygon], flat: Flat) -> npt.NDArray[np.bool_] | None:
    """The pixels that claims cover, with the blur at their rims; None where nothing is claimed."""
    polygons = list(claimed)
    if not polygons:
        return None
    return np.asarray(cv2.dilate(filled(flat, polygons), np.ones((3, 3), np.uint8)) > 0)


def _lines_near(box: Box, flat: Flat) -> Iterator[tuple[int, bool]]:
    """The lattice lines beside which a box lies as a whole, each with whether it is one from top to bottom."""
    for axis, last in ((0, flat.columns), (1, flat.rows)):
        line = round((box[axis] + box[axis + 2]) / 2)
        if 0 <= line <= last and max(abs(box[axis] - line), abs(box[axis + 2] - line)) <= NEAR:
            yield line, axis == 0


@dataclass(frozen=True, slots=True)
class _Profiles:
    """What lies across a line, a profile for each pixel along it, without what is claimed: its ink, the same averaged
    along the line, its stroke where it is one, and its darkest ink; `thing` is from where to where something lies,
    `hidden` the profiles in which nothing of it is left but what is claimed, and `width` how wide the line is in the
    whole band in which it may bow."""

    band: Floats
    smooth: Floats
    strokes: list[tuple[int, int] | None]
    darkest: Floats
    thing: tuple[int, int]
    hidden: npt.NDArray[np.bool_]
    width: float


def _is_alone_along(
    box: Box, line: int, upright: bool, flat: Flat, taken: npt.NDArray[np.bool_] | None, all_across: bool
) -> bool:
    """Whether ink is that of one line: each profile across the line that goes through it has no other stroke. Where the
    line breaks off, what stands between its ends may be a figure as wide as it."""
    seen = _profiles(box, line, upright, flat, taken, all_across)
    widths = [end - begin for begin, end in filter(None, seen.strokes)]
    if not widths:
        return False
    faint = max(LEFT, GRAINY * float(np.percentile(seen.smooth, QUIET)))
    longest = _longest_dot(seen.darkest, flat)
    # Near the thing a line that runs elsewhere farther to the other side is cut off, and seems thinner.
    most = WIDER * max(seen.width, float(np.percentile(widths, LONGEST if longest else USUAL))) + BLUR
    least = max(PALE, RUNS_ON * float(np.median(seen.darkest)))

    def is_alone(at: int) -> bool:
        return bool(seen.darkest[at] >= least) and _is_all(seen.strokes[at], seen.smooth[at], seen.thing, most, faint)

    def goes_on(rows: range) -> bool:
        return all(_is_crossed(at, flat) or is_alone(at) for at in rows if 0 <= at < len(seen.band))

    low, high = (box[1], box[3]) if upright else (box[0], box[2])
    first, last = (round((at + flat.margin) * flat.cell) for at in (low, high))
    beyond = max(1, round(BEYOND * flat.cell))
    along = range(max(0, first), min(len(seen.band), last + 1))
    beside = [at for at in along if not _is_crossed(at, flat) and not seen.hidden[at]]
    if goes_on(range(first - beyond, first)):
        beside = _without_paper(beside[::-1], seen.darkest, beyond)
    elif goes_on(range(last + 1, last + 1 + beyond)):
        beside = _without_paper(beside, seen.darkest, beyond)
    if longest:
        beside = sorted(at for at in beside if seen.darkest[at] > PALE)
        if any(len(dot) > longest + BLUR for dot in _dots(beside)):
            return False
    alone = [at for at in beside if is_alone(at)]
    return bool(alone) and len(alone) >= ALL * len(beside)


def _profiles(
    box: Box, line: int, upright: bool, flat: Flat, taken: npt.NDArray[np.bool_] | None, all_across: bool
) -> _Profiles:
    """What lies across a line near a box, or `all_across` the band in which it may bow."""
    band, start = _band(line, upright, flat)
    near, far = (round((box[axis] + flat.margin) * flat.cell) - start for axis in ((0, 2) if upright else (1, 3)))
    hidden = np.zeros(len(band), np.bool_)
    if taken is not None:
        claims = (taken.T if upright else taken)[start : start + band.shape[1]].T
        if not all_across:
            hidden = _hidden(band, claims, slice(near, far + 1), flat)
        kept = (band.shape[1], band.shape[1]) if all_across else (near, far)
        band = np.stack([_without_claimed(*rows, kept) for rows in zip(band, claims, strict=True)])
    place, around = round((line + flat.margin) * flat.cell) - start, round(AROUND * flat.cell)
    if all_across:
        near, far = 0, band.shape[1]
    cut, width = max(0, min(near, place) - around), _usual_width(band, flat)
    band = band[:, cut : max(far, place) + around + 1]
    smooth = np.asarray(cv2.blur(band, (1, GRAIN)), np.float32)
    strokes = [_stroke(profile) for profile in band]
    return _Profiles(band, smooth, strokes, band.max(axis=1), (near - cut, far - cut), hidden, width)


def _hidden(band: Floats, claims: npt.NDArray[np.bool_], thing: slice, flat: Flat) -> npt.NDArray[np.bool_]:
    """The profiles in which all ink where a thing lies is claimed, with the blur of that."""
    size = 2 * round(RIM * flat.cell) + 1
    blurred = cv2.dilate(claims.astype(np.uint8), np.ones((size, size), np.uint8)) > 0
    return np.asarray(claims[:, thing].any(axis=1) & (np.where(blurred, 0, band)[:, thing].max(axis=1) <= LEFT))


def _usual_width(band: Floats, flat: Flat) -> float:
    """How wide a line is, in pixels, where it stands alone in its whole band; 0 where it seldom does."""
    edge = round(flat.margin * flat.cell)
    free = [at for at in range(edge, len(band) - edge) if not _is_crossed(at, flat)]
    widths = [end - begin for begin, end in filter(None, (_stroke(band[at]) for at in free))]
    return float(np.percentile(widths, USUAL)) if 2 * len(widths) > len(free) else 0.0


def _longest_dot(darkest: Floats, flat: Flat) -> float:
    """How long the dots of a line are, in pixels, by the darkest ink along it; 0 where it is none of dots."""
    edge = round(flat.margin * flat.cell)
    inked = [at for at in range(edge, len(darkest) - edge) if darkest[at] > PALE and not _is_crossed(at, flat)]
    longest = float(np.percentile([len(dot) for dot in _dots(inked)] or [0], LONGEST))
    return longest if longest <= SHORT * flat.cell else 0.0


def _dots(rows: Sequence[int]) -> list[list[int]]:
    """Rows in runs without a gap."""
    runs: list[list[int]] = []
    for at in rows:
        if runs and at == runs[-1][-1] + 1:
            runs[-1].append(at)
        else:
            runs.append([at])
    return runs


def _without_paper(rows: list[int], darkest: Floats, most: int) -> list[int]:
    """Rows without the first ones that have no ink; all of them where more have none than paper beside a mark."""
    left = [*dropwhile(lambda at: darkest[at] <= LEFT, rows)]
    return left if len(rows) - len(left) <= most else rows


def _is_crossed(at: int, flat: Flat) -> bool:
    """Whether another lattice line crosses at a pixel along one: there is ink all across."""
    place = at / flat.cell - flat.margin
    return abs(place - round(place)) < CROSSED


def _is_all(stroke: tuple[int, int] | None, profile: Floats, thing: tuple[int, int], most: float, faint: float) -> bool:
    """Whether a stroke that is no wider than its line is all the ink where a thing lies, but for what is as `faint` as
    grain."""
    if stroke is None or stroke[1] - stroke[0] > most:
        return False
    meets = stroke[0] <= thing[1] + BLUR and thing[0] <= stroke[1] + BLUR
    rest = profile[max(0, thing[0]) : thing[1] + 1].copy()
    begin, end = (at - max(0, thing[0]) for at in (stroke[0] - SOFT, stroke[1] + SOFT + 1))
    rest[max(0, begin) : max(0, end)] = 0
    return bool(meets and rest.max(initial=0) <= faint)


def _without_claimed(profile: Floats, claimed: npt.NDArray[np.bool_], thing: tuple[int, int]) -> Floats:
    """A profile without the strokes outside of the thing that claims reach, whole and with their blur that reaches into
    it: the walls of cages bow as lines do."""
    left = profile.copy()
    edges = np.flatnonzero(np.diff(np.concatenate([[0], (profile > LEFT).astype(np.int8), [0]])))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if claimed[begin:end].any():
            left[begin : min(end, thing[0] + SOFT * (begin < thing[0]))] = 0
            left[max(begin, thing[1] + 1 - SOFT * (end > thing[1] + 1)) : end] = 0
    return left


def _band(line: int, upright: bool, flat: Flat) -> tuple[Floats, int]:
    """The ink across a lattice line, a profile for each pixel along it, and where the profiles begin: 0 to 1, beside
    the paper to both sides."""
    grey = np.asarray(flat.image.min(axis=-1), np.float32)
    grey = grey.T if upright else grey
    middle, reach = round((line + flat.margin) * flat.cell), round(REACH * flat.cell)
    start = max(0, middle - reach)
    band = grey[start : middle + reach + 1].T
    paper = np.maximum(cv2.GaussianBlur(np.percentile(band, 80, axis=1, keepdims=True), (1, 31), 0), 1.0)
    return np.asarray(np.clip(1 - band / paper, 0, 1), np.float32), start


def _stroke(profile: Floats) -> tuple[int, int] | None:
    """From where to where a profile has ink, if it is one stroke; None where there are more, or none."""
    if profile.max() < PALE:
        return None
    inked = np.flatnonzero(profile >= EDGE * profile.max())
    return (int(inked[0]), int(inked[-1])) if inked[-1] - inked[0] == len(inked) - 1 else None
