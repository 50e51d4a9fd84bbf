"""Digits in a circle, or in a frame of another shape, on the corner of four cells."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from ingest.page import Box, Point
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Glyph, Guess, Shape
from recognise.geometry import disc_polygon, extent, middle, share_in_circle, shared
from recognise.interpret.mark import Left, Mark, joined
from recognise.interpret.places import corner_at
from schema.cells import Cell
from schema.grid import Grid
from schema.marks import Seen

LARGEST = 0.42
"""In cells: the radius of the largest circle that print sets on a corner; larger ones would reach the givens."""
ROOM = 1.15
"""In radii: how far from the middle of a circle its digits may stand."""
OWN = 0.75
"""The part of a character's box that lies within that distance where it stands in the circle; a cage's total or a
line's number beside the circle only reaches into it."""
AGAIN = 0.8
"""The part of a character's box that lies in that of a longer text of which it is a part."""
LARGER = 1.3
"""Characters that differ more in height are set in two sizes of type."""
LOW, LOW_FIGURES = 0.6, frozenset("012")
"""Figures that some founts set without strokes above or below, and how low they are then, as a part of the others."""
BARE = 0.14
"""In cells: how far from a corner the middle of a digit without a circle may stand."""
SMALL = 0.36
"""In cells: digits on a corner without a circle are no higher."""
OFF_CENTRE = 0.35
"""In radii: print sets the digits of a circle, one or two rows of them, around its middle."""
ASIDE = "its digits stand to one side of the circle: others may be missing"
BETWEEN = (",", ";", "·", "/")
"""What stands between the digits of some print; a file says that it is that."""
FRAMES = ("diamond", "square")
"""The shapes of frames that digits on a corner may stand in, beside circles."""
STROKES, THROUGH = ("bar", "cross", "dashes"), 0.04
"""What strokes are called that part a circle into fields; in cells, how far off its middle they cross."""
LONGEST = 1.1
"""In cells: the width of the longest capsule that print sets on a corner, for four digits in a row."""


@dataclass(frozen=True, slots=True)
class Corner:
    """What stands on one corner, before it is known which digits the grid holds."""

    cells: tuple[Cell, Cell, Cell, Cell]
    disc: Disc | None
    glyphs: tuple[Glyph, ...]
    capsule: Shape | None = None
    parted: bool = False
    """Whether strokes part the circle into fields, in which digits stand wherever they do."""

    @property
    def outline(self) -> Polygon:
        """What is around the digits, or would be."""
        if self.capsule is not None:
            return self.capsule.where or box_polygon(self.capsule.box)
        if self.disc is not None:
            return disc_polygon(self.disc.centre, self.disc.radius)
        corner = float(min(self.cells).column), float(min(self.cells).row)
        return disc_polygon(corner, 2 * SMALL / 3)


def take_corners(left: Left) -> tuple[Corner, ...]:
    """Circles on corners with the digits in them, and small digits that stand on a corner without one."""
    found = []
    for disc in left.take_discs(lambda d: d.radius <= LARGEST and corner_at(d.centre, left.size) is not None):
        cells = corner_at(disc.centre, left.size)
        glyphs = _once(_take(left, digits_in(disc, left.glyphs)))
        if cells is not None and glyphs:
            found.append(Corner(cells, disc, tuple(glyphs), parted=_parted(disc, left)))
        else:
            left.discs.append(disc)
    found += _framed(left)
    found += _in_capsules(left)
    bare: dict[tuple[Cell, Cell, Cell, Cell], list[Glyph]] = {}
    for glyph in left.glyphs:
        cells = corner_at(glyph.centre, left.size, BARE)
        if cells is not None and glyph.size <= SMALL:
            bare.setdefault(cells, []).append(glyph)
    for cells, near in bare.items():
        if _around(near, cells):
            found.append(Corner(cells, None, tuple(_take(left, near))))
    return tuple(found)


def rounds_on_corners(left: Left) -> list[Disc]:
    """The circles on corners, and other frames there as circles, whether or not digits stand in them."""
    frames = (_as_circle(shape) for shape in left.shapes if shape.name in FRAMES)
    return [disc for disc in (*left.discs, *frames) if corner_at(disc.centre, left.size) is not None]


def _as_circle(frame: Shape) -> Disc:
    return Disc(middle(frame.box), extent(frame.box) / 2, frame.colour, None, frame.how, frame.confidence)


def _framed(left: Left) -> Iterator[Corner]:
    """Diamonds and squares on corners with the digits in them: some print sets them in such frames."""
    frames = left.take_shapes(lambda s: s.name in FRAMES and corner_at(middle(s.box), left.size) is not None)
    for frame in frames:
        cells = corner_at(middle(frame.box), left.size)
        around = _as_circle(frame)
        fits = cells is not None and around.radius <= LARGEST
        glyphs = _once(_take(left, digits_in(around, left.glyphs))) if fits else []
        if cells is not None and glyphs:
            yield Corner(cells, around, tuple(glyphs), parted=_parted(around, left))
        else:
            left.shapes.append(frame)


def _parted(around: Disc, left: Left) -> bool:
    """Whether strokes through the middle of a circle or frame part it into fields; they are taken."""

    def parts(shape: Shape) -> bool:
        inside = extent(shape.box) <= 2 * around.radius + THROUGH
        return shape.name in STROKES and inside and math.dist(middle(shape.box), around.centre) <= THROUGH

    return bool(left.take_shapes(parts))


def in_capsule(shape: Shape, left: Left) -> list[Glyph]:
    """The characters in a capsule, or whatever goes round digits, that lies across a corner; none where the shape is no
    such."""
    x0, y0, x1, y1 = shape.box
    small = x1 - x0 <= LONGEST and y1 - y0 <= 2 * LARGEST
    if shape.filled or not small or corner_at(middle(shape.box), left.size, BARE) is None:
        return []
    return [glyph for glyph in left.glyphs if _within(glyph.centre, shape.box) and glyph.size <= y1 - y0]


def _within(place: Point, box: Box) -> bool:
    return box[0] < place[0] < box[2] and box[1] < place[1] < box[3]


def _in_capsules(left: Left) -> Iterator[Corner]:
    """Capsules across corners with the digits in them, which stand in one row."""
    for shape in left.take_shapes(lambda s: bool(in_capsule(s, left))):
        cells = corner_at(middle(shape.box), left.size)
        if cells is not None:
            yield Corner(cells, None, tuple(_take(left, in_capsule(shape, left))), shape)


def digits_in(disc: Disc, glyphs: Sequence[Glyph]) -> list[Glyph]:
    """The characters in a circle; of two sizes of type only those that stand around its middle, where the others stand
    to one side: they are the number of a line or of a cage, and reach into it from the corner of a cell."""
    within = _without_reaching_in(disc, [glyph for glyph in glyphs if _in_circle(glyph, disc)])
    least = min((glyph.size for glyph in within), default=0.0)
    small = [glyph for glyph in within if glyph.size <= LARGER * least]
    large = [glyph for glyph in within if glyph.size > LARGER * least]
    if not large or _aside(disc, small) == _aside(disc, large) or _are_low(small, large):
        return within
    return large if _aside(disc, small) else small


def _without_reaching_in(disc: Disc, within: Sequence[Glyph]) -> list[Glyph]:
    """The characters in a circle without those that reach out of it, where the others stand around its middle, and all
    of them to one side."""
    inside = [glyph for glyph in within if not _reaches_out(glyph, disc)]
    return list(inside if inside and _aside(disc, within) and not _aside(disc, inside) else within)


def _reaches_out(glyph: Glyph, disc: Disc) -> bool:
    x0, y0, x1, y1 = glyph.box
    return any(math.dist(corner, disc.centre) > ROOM * disc.radius for corner in product((x0, x1), (y0, y1)))


def _are_low(small: Sequence[Glyph], large: Sequence[Glyph]) -> bool:
    """Whether figures are low ones of the same size of type as those beside them."""
    low = all(glyph.text in LOW_FIGURES for glyph in small)
    return low and min(glyph.size for glyph in small) >= LOW * max(glyph.size for glyph in large)


def _take(left: Left, digits: Sequence[Glyph]) -> list[Glyph]:
    return left.take_glyphs(lambda glyph: any(glyph is one for one in digits))


def _once(glyphs: Sequence[Glyph]) -> list[Glyph]:
    """Characters without such as are a part of others: the corner of the cell below a circle is looked at too, and what
    stands in both was read at both."""
    return [glyph for glyph in glyphs if not any(_is_part(glyph, other) for other in glyphs)]


def _is_part(one: Glyph, other: Glyph) -> bool:
    """Whether characters are some of those of a longer text, read by themselves."""
    inside = shared(one.box, other.box) >= AGAIN * shared(one.box, one.box)
    return inside and len(one.text) < len(other.text) and one.text in other.text


def _in_circle(glyph: Glyph, disc: Disc) -> bool:
    """Whether a character stands in a circle, as digits on a corner do, and not only beside it."""
    near = math.dist(glyph.centre, disc.centre) <= ROOM * disc.radius
    return near and share_in_circle(glyph.box, disc.centre, ROOM * disc.radius) >= OWN


def _around(glyphs: Sequence[Glyph], cells: tuple[Cell, Cell, Cell, Cell]) -> bool:
    """Whether characters without a circle stand on or around the corner; those in the corner of one of its cells are
    the number of a cage or of a line."""
    x, y = min(cells).column, min(cells).row
    across = min(g.box[0] for g in glyphs) < x < max(g.box[2] for g in glyphs)
    return across and min(g.box[1] for g in glyphs) < y < max(g.box[3] for g in glyphs)


def corner_marks(corners: tuple[Corner, ...], grid: Grid) -> Iterator[Mark]:
    """A mark for each corner. Where the grid has digits of two places, figures that stand together may be one."""
    known = {grid.label(digit): str(digit) for digit in grid.digits}
    short = all(len(label) == 1 for label in known)
    for corner in corners:
        text, likely, others = joined(corner.glyphs, " ")
        words = text.split() if not short else [*text.replace(" ", "")]
        if any(word in known for word in words):
            words = [word for word in words if word not in BETWEEN or corner.glyphs[0].how != "vector"]
        digits = " ".join(known.get(word, word) for word in words)
        shape = corner.outline
        unsaid = ("its figures may be one number or several digits",) if not short and any(map(_long, words)) else ()
        asks = [f"“{word}” in it is no digit of the grid" for word in words if word not in known]
        asks += [ASIDE] if corner.disc and not corner.parted and _aside(corner.disc, corner.glyphs) else []
        yield Mark(
            Seen("corner", cells=corner.cells, text=digits, shape="dot"),
            f"digits on the corner of {corner.cells[0]} and {corner.cells[3]}",
            shape,
            likely * (corner.disc.confidence if corner.disc else 1.0),
            corner.glyphs[0].how,
            (shape, *(box_polygon(glyph.box) for glyph in corner.glyphs)),
            paint=(corner.disc.fill if corner.disc else None) or (255, 255, 255),
            rim=corner.disc.outline if corner.disc else None,
            texts=tuple(_other_digits(others, known)) if short else (),
            asks=tuple(asks),
            unsaid=unsaid,
        )


def _other_digits(others: Iterable[Guess], known: Mapping[str, str]) -> Iterator[Guess]:
    """What else may stand on a corner: digits of the grid, of which one may be none at all."""
    for guess in others:
        figures = guess.text.replace(" ", "")
        if figures and all(figure in known for figure in figures):
            yield Guess(" ".join(known[figure] for figure in figures), guess.probability)


def _aside(disc: Disc, glyphs: Sequence[Glyph]) -> bool:
    """Whether the digits in a circle stand off its middle, as those do that are left of two rows."""
    if not glyphs:
        return False
    boxes = [glyph.box for glyph in glyphs]
    x = (min(box[0] for box in boxes) + max(box[2] for box in boxes)) / 2
    y = (min(box[1] for box in boxes) + max(box[3] for box in boxes)) / 2
    return max(abs(x - disc.centre[0]), abs(y - disc.centre[1])) > OFF_CENTRE * disc.radius


def _long(word: str) -> bool:
    return len(word) > 1
