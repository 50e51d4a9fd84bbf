"""Lines that run along a printed long diagonal, as they look without it.

The diagonal runs through the middle of such a line all along, under a circle on a corner as well, and the network,
which takes a diagonal for none of the lines, then takes both for none. So where diagonals are printed it looks again at
the picture without them; and what it sees there along them that it hardly saw before is measured there too. A
diagonal is taken out like a line of the lattice: of its band that is left which stands on both of its sides."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.marks.beside import drawn_chance
from recognise.marks.diagonals import WAYS, diagonal_cells, diagonal_links
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import BY_NAME, STEPS, Chances, LatticeReader
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.pixels.ink import Ink
from schema.cells import Cell

REACH = 0.1
"""In cells: to both sides of its place a diagonal, with its blur, is looked for."""
MOSTLY = 30
"""Percentile of the ink along a diagonal that is its own: wide lines lie upon less than the rest of it."""
EDGE = 0.15
"""The blur of a diagonal ends where its ink has fallen to this part of its peak."""
SPARE = 1.5
"""In pixels: so far beside a band its sides are looked at."""
OVERPRINTED = 0.1
"""Of full scale, in any channel: where its colour differs by as much something is drawn over a diagonal."""
ENDS = ("END", "BULB", "CIRCLE", "HEAD")
"""What tells how a line ends, or goes on, in a cell."""

_Places = tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]
"""Rows and columns of pixels."""
_Picture = TypeVar("_Picture", Grey, Colours, npt.NDArray[np.uint8])


@dataclass(frozen=True, slots=True)
class Freed:
    """The ink without the lattice and the colours relative to paper, both without the diagonals; and the `links` that
    were seen there, and hardly with them."""

    links: frozenset[frozenset[Cell]]
    drawn: Grey
    relative: Colours


@dataclass(frozen=True, slots=True)
class _Band:
    """The pixels of a diagonal, and to both of its sides the places that each of them is filled from; the `plain`
    links along it are those where it has its usual colour."""

    at: _Places
    sides: tuple[_Places, _Places]
    plain: frozenset[frozenset[Cell]]


def look_under_diagonals(reader: LatticeReader, flat: Flat, ink: Ink) -> tuple[Chances, Freed | None]:
    """What the network sees on a grid, with what it sees along printed diagonals where these are taken out."""
    told = reader.look(flat)
    raster = Raster.of(flat)
    ways = [way for way in WAYS if raster.rows == raster.columns and _is_printed(way, told)]
    bands = [band for way in ways if (band := _band(way, ink, raster)) is not None]
    if not bands:
        return told, None
    again = reader.look(replace(flat, image=without(flat.image, bands, lightest=True)))
    links = [link for way in ways for link in diagonal_links(way, raster.rows)]
    won = frozenset(link for link in links if _is_won(link, told, again))
    lost = {link for link in links if any(link in band.plain for band in bands) and _is_none(link, told, again)}
    drawn, relative = without(ink.drawn, bands, lightest=False), without(ink.relative, bands, lightest=True)
    return _with_links(told, again, won, lost), Freed(won, drawn, relative)


def _is_printed(way: str, told: Chances) -> bool:
    """Whether the network sees a diagonal in most cells of its way."""
    seen = [told.node(cell, WAYS[way]) > DRAWN for cell in diagonal_cells(way, told.rows)]
    return 2 * sum(seen) > len(seen)


def _is_won(link: frozenset[Cell], told: Chances, again: Chances) -> bool:
    """Whether a link is seen without the diagonals that was in doubt, or taken for none, with them."""
    before, after = (drawn_chance(chances.link(*link)) for chances in (told, again))
    return before < MIDDLING[1] and after > max(before, DRAWN)


def _is_none(link: frozenset[Cell], told: Chances, again: Chances) -> bool:
    """Whether a link that is rather taken for none is surely none without the diagonals."""
    before, after = (drawn_chance(chances.link(*link)) for chances in (told, again))
    return after < MIDDLING[0] < before <= DRAWN


def _with_links(
    told: Chances, again: Chances, won: Iterable[frozenset[Cell]], lost: Iterable[frozenset[Cell]]
) -> Chances:
    """What was told, with some links as they were seen `again`: those that were `won` with what ends in their cells."""
    heads = {**told.heads, "link": told.heads["link"].copy(), "node": told.heads["node"].copy()}
    classes = [BY_NAME["node"].classes.index(name) for name in ENDS]
    for link in (*won, *lost):
        one, other = sorted(link)
        plane = STEPS[other.row - one.row, other.column - one.column]
        heads["link"][plane, :, one.row, one.column] = again.heads["link"][plane, :, one.row, one.column]
    for cell in {cell for link in won for cell in link}:
        heads["node"][0, classes, cell.row, cell.column] = again.heads["node"][0, classes, cell.row, cell.column]
    return replace(told, heads=heads)


def _band(way: str, ink: Ink, raster: Raster) -> _Band | None:
    """The band of a diagonal; None where most of it has no ink to tell it by."""
    reach = raster.px(REACH)
    profile = np.percentile(_along(way, ink.drawn, reach, raster), MOSTLY, axis=0)
    top = int(profile.argmax())
    if profile[top] <= ink.floor:
        return None
    inked = np.flatnonzero(profile > max(EDGE * profile[top], ink.floor / 2)) - reach
    at, sides = _pixels(way, float(inked.min()) - 1, float(inked.max()) + 1, raster)
    return _Band(at, sides, _plain(way, _along(way, ink.relative, reach, raster)[:, top], raster))


def _along(way: str, picture: _Picture, reach: int, raster: Raster) -> _Picture:
    """A picture along a diagonal, place by place, and `reach` pixels to both sides of it, upwards."""
    off = np.arange(-reach, reach + 1)[None] / math.sqrt(2)
    along = np.arange(raster.rows * raster.cell)[:, None]
    x, y = raster.origin + along + off, raster.origin + along - off
    y = y if way == "down" else 2 * raster.origin + raster.rows * raster.cell - 1 - y
    return picture[np.rint(y).astype(np.intp), np.rint(x).astype(np.intp)]


def _plain(way: str, colours: Colours, raster: Raster) -> frozenset[frozenset[Cell]]:
    """The links of which most of one half shows a diagonal, of these colours along it, in the one that it has mostly:
    no line is drawn over it there, for it would go through both halves, as a circle on the corner between them does."""
    half = raster.cell // 2
    steps = colours[half : half - raster.cell].reshape(raster.rows - 1, raster.cell, 3)
    halves = np.stack([np.median(part, axis=1) for part in (steps[:, :half], steps[:, half:])])
    differs = np.abs(halves - np.median(colours, axis=0)).max(axis=2).min(axis=0)
    links = zip(diagonal_links(way, raster.rows), differs.tolist(), strict=True)
    return frozenset(link for link, far in links if far < OVERPRINTED)


def _pixels(way: str, low: float, high: float, raster: Raster) -> tuple[_Places, tuple[_Places, _Places]]:
    """The pixels from `low` to `high` pixels off the way of a diagonal, upwards, and the places beside them."""
    size = raster.rows * raster.cell
    columns, down = np.meshgrid(np.arange(size), np.arange(size))
    rows = down if way == "down" else size - 1 - down
    off = (columns - rows) / math.sqrt(2)
    band = (off >= low) & (off <= high)
    at = down[band] + raster.origin, columns[band] + raster.origin

    def beside(edge: float) -> _Places:
        away = np.rint((edge - off[band]) / math.sqrt(2)).astype(np.intp)
        return at[0] - (away if way == "down" else -away), at[1] + away

    return at, (beside(high + SPARE), beside(low - SPARE))


def without(picture: _Picture, bands: Sequence[_Band], *, lightest: bool) -> _Picture:
    """A picture with each pixel of the bands no darker than the lighter one of those to both sides of the band; the
    `lightest` is the largest number in a picture, and the least in ink."""
    freed = picture.copy()
    least = np.maximum if lightest else np.minimum
    for band in bands:
        one, other = (freed[side] for side in band.sides)
        freed[band.at] = least(freed[band.at], least(one, other))
    return freed
