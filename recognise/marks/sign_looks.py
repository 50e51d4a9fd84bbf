"""Signs between cells, looked at again by the network of short texts.

The lattice network sees a whole grid at once, and of a small sign on a thick line, or on a patch that cuts the line
off, hardly more than that something stands there. The network of short texts has a window for it alone, and learned
which way signs point; edges with nothing or with other marks on them it learned to be empty. What the two make of a
doubtful edge is put together as independent evidence. A wide line in a colour of its own that runs across the edge is
made paper first: neither network sees a grey sign on it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.evidence import Guess
from recognise.geometry import box_at
from recognise.marks.edge_shapes import SIGNS
from recognise.marks.looking import Looking
from recognise.marks.short_text_classes import SIGNS as WAYS
from recognise.marks.short_texts import EDGE, Window, around, cut, short_text_reader
from recognise.marks.sights import Sight
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.frame import Colours
from recognise.pixels.glyphs import DIGITS
from schema.cells import Cell

LEAST, SURE = 0.02, 0.98
"""How likely a sign is at least on edges that are looked at, and up to what chance the likeliest class is in doubt."""
LOOKS = (EDGE, 0.28)
"""In cells: half the heights of the windows: that which the network learned, and a closer one for small signs."""
LETTERS, WRITTEN = "VX", 0.9
"""The letters that print sets on edges, and how sure characters are that tell whether it does."""
FULL, BARE = 0.9, 0.995
"""How likely something stands in both windows at least where that counts, and how likely nothing does where the ink is
faint. On 12 worn and scanned pages the 57 doubtful signs have 0.92 and more of the first; edges on which signs show
through have 0.9985 and more of nothing."""
ROOM, ASIDE, PATCH = 0.6, 0.17, 0.04
"""In cells: half the side of what windows need; how far to both sides of an edge the colour of a line that runs across
it is measured, and half the side of where."""
PAPER, DARK, ALIKE, EVEN = 0.85, 0.25, 0.1, 0.06
"""Parts of the lightness of paper between which the colour of such a line lies in its darkest channel; and by how much
it differs from side to side at most, and within each."""
FLOOR = 0.002
"""No class is less likely to the second network: it is not surer than that it errs so often."""

_BY_WAY = dict(zip(WAYS, ("SIGN_LEFT", "SIGN_RIGHT", "SIGN_UP", "SIGN_DOWN"), strict=True))
_ALONG = (0.2, 0.4)
"""In cells: half the width across an edge and along it of where the ink of a sign stands."""

Pair = tuple[Cell, Cell]


def looked_at_again(sights: Mapping[Pair, Sight], looking: Looking, spoken: Spoken = SILENT) -> dict[Pair, Sight]:
    """What is seen on each edge; doubtful signs as both networks see them. Where the rules speak of other marks on
    edges or of none the second is not asked: heads of arrows on edges look like signs in its windows."""
    if spoken.no_edges or (spoken.edges and "sign" not in spoken.edges):
        return dict(sights)
    doubtful = {pair: sight for pair, sight in sights.items() if _is_doubtful(sight)}
    if not doubtful:
        return dict(sights)
    written = [sight for sight in sights.values() if sight.told["CHARACTERS"] >= WRITTEN]
    texts = {guesses[0].text for guesses in _read(written, LOOKS[:1], DIGITS + LETTERS, looking)}
    # A V is like a sign that points down; print that sets letters on edges does not set numbers on others.
    letters = LETTERS if not texts or texts & set(LETTERS) else ""
    told = _read(list(doubtful.values()), LOOKS, DIGITS + letters, looking)
    looks = zip(doubtful.items(), (told[at : at + len(LOOKS)] for at in range(0, len(told), len(LOOKS))), strict=True)
    return {**sights, **{pair: _weighed(sight, seen, looking) for (pair, sight), seen in looks}}


def _is_doubtful(sight: Sight) -> bool:
    return sum(sight.told[name] for name in SIGNS) >= LEAST and max(sight.told.values()) < SURE


def _read(sights: Sequence[Sight], halves: Sequence[float], allowed: str, looking: Looking) -> list[tuple[Guess, ...]]:
    """What the network of short texts reads in the windows of each sight, one after the other: signs, or characters
    that are `allowed`."""
    windows = [window for sight in sights for window in _windows(sight, halves, looking)]
    return short_text_reader().read(windows, allowed + WAYS)


def _windows(sight: Sight, halves: Sequence[float], looking: Looking) -> list[Window]:
    """The windows of a sight, in which the colour of a line that runs through it is paper."""
    cell, origin = looking.raster.cell, looking.raster.origin
    own = looking.raster.slices(box_at(sight.place, ROOM))
    picture, line = looking.relative[own], _line_across(sight, looking)
    if line is not None:
        picture = np.minimum(picture / line, 1)
    x, y = ((origin - part.start) / cell for part in reversed(own))
    boxes = (around(sight.place, half) for half in halves)
    return [cut(picture, (x0 + x, y0 + y, x1 + x, y1 + y), cell, 0.0) for x0, y0, x1, y1 in boxes]


def _line_across(sight: Sight, looking: Looking) -> Colours | None:
    """The colour, relative to paper, of a line that runs across an edge, by what lies to both sides of a sign there:
    neither paper nor as dark as a lattice line, and the same on both sides."""
    x, y = sight.place
    sides = [(x + off, y) if sight.plane == 0 else (x, y + off) for off in (-ASIDE, ASIDE)]
    parts = [looking.relative[looking.raster.slices(box_at(side, PATCH))].reshape(-1, 3) for side in sides]
    colours = [np.asarray(np.median(part, axis=0), np.float32) for part in parts]
    alike = float(np.abs(colours[0] - colours[1]).max()) <= ALIKE
    even = all(float(part.std(axis=0).max()) <= EVEN for part in parts)
    coloured = all(DARK <= float(colour.min()) < PAPER for colour in colours)
    return np.asarray((colours[0] + colours[1]) / 2, np.float32) if alike and even and coloured else None


def _weighed(sight: Sight, told: Sequence[Sequence[Guess]], looking: Looking) -> Sight:
    """A doubtful sight as both networks see it. It is left as it is where the second is neither sure that something
    stands there nor that nothing does, or where the ink says otherwise."""
    seen = [_by_class(guesses) for guesses in told]
    bare = min(one["NONE"] for one in seen)
    if bare >= BARE:
        if _line_across(sight, looking) is None and not _shows_through(sight, looking):
            return sight
    elif max(one["NONE"] for one in seen) > 1 - FULL:
        return sight
    weights = {
        name: chance * max(FLOOR, math.prod(one.get(name, one["NONE"]) for one in seen) ** (1 / len(seen)))
        for name, chance in sight.told.items()
    }
    whole = sum(weights.values())
    return replace(sight, told={name: weight / whole for name, weight in weights.items()})


def _by_class(guesses: Sequence[Guess]) -> dict[str, float]:
    """How likely a window holds each sign, characters, or neither: then any other mark may stand there."""
    found = dict.fromkeys((*SIGNS, "CHARACTERS", "NONE"), 0.0)
    for guess in guesses:
        found[_BY_WAY.get(guess.text, "CHARACTERS" if guess.text else "NONE")] += guess.probability
    return found


def _shows_through(sight: Sight, looking: Looking) -> bool:
    """Whether no ink about an edge is nearly as dark as print, and no patch of paper cuts its line off."""
    return looking.is_faint(_about(sight)) and not looking.is_cut(sight.place, upright=sight.plane == 0)


def _about(sight: Sight) -> Box:
    across, along = _ALONG
    return box_at(sight.place, *((across, along) if sight.plane == 0 else (along, across)))
