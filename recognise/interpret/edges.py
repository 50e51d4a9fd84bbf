"""What stands on the edge between two cells: dots, bars, diamonds, letters, numbers, signs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ingest.page import Colour
from recognise.draft import box_polygon
from recognise.evidence import Disc, Glyph, Shape
from recognise.geometry import disc_polygon, middle
from recognise.interpret.mark import CHARACTERS, Left, Mark, joined
from recognise.interpret.places import edge_at
from schema.cells import Cell
from schema.marks import Seen
from schema.words import with_article

LARGEST_DOT = 0.3
"""In cells: the radius of the largest dot between two cells."""
LARGEST, LARGEST_SIGN = 0.66, 0.95
"""In cells: the longest side of any other mark between two cells (a bar in a picture takes up 0.64), and of a sign,
whose arms may be long."""
WHITE: Colour = (255, 255, 255)
POINTS = {"left": "<", "right": ">", "up": "∧", "down": "∨"}
"""A drawn sign as the character that it looks like, by where its point is; no letter, for a V is one thing and a sign
another."""
SIGNS = "<>^∧Λ∨"
ALONG = "its point is along the edge, not across it"
"""What is asked about a sign that would say which of two digits is greater."""
READ_INSTEAD = "was read in its place"
"""How a question ends about a drawn sign in which characters were read."""


def edge_marks(left: Left) -> Iterator[Mark]:
    """A mark for each dot, shape or text on the middle of an edge; a text in a dot or shape belongs to it."""
    size = left.size
    for disc in left.take_discs(lambda d: d.radius <= LARGEST_DOT and edge_at(d.centre, size) is not None):
        if cells := edge_at(disc.centre, size):
            yield _on_dot(disc, cells, left)
    for shape in left.take_shapes(lambda s: _is_small(s) and edge_at(middle(s.box), size) is not None):
        if cells := edge_at(middle(shape.box), size):
            yield _on_shape(shape, cells, left)
    by_edge: dict[tuple[Cell, Cell], list[Glyph]] = {}
    for glyph in left.take_glyphs(lambda g: edge_at(g.centre, size) is not None):
        if cells := edge_at(glyph.centre, size):
            by_edge.setdefault(cells, []).append(glyph)
    for cells, glyphs in by_edge.items():
        yield _text(cells, glyphs)


def _is_small(shape: Shape) -> bool:
    x0, y0, x1, y1 = shape.box
    most = LARGEST_SIGN if shape.name == "sign" else LARGEST
    return shape.name not in (*CHARACTERS, "capsule", "diagonal", "arrow") and max(x1 - x0, y1 - y0) <= most


def _on_dot(disc: Disc, cells: tuple[Cell, Cell], left: Left) -> Mark:
    glyphs = left.take_glyphs(lambda g: math.dist(g.centre, disc.centre) <= disc.radius)
    text, likely, others = joined(glyphs)
    where = disc_polygon(disc.centre, disc.radius)
    return Mark(
        Seen("edge", cells=cells, text=text, shape="dot"),
        f"a dot between {cells[0]} and {cells[1]}",
        where,
        disc.confidence * likely,
        disc.how,
        (where, *(box_polygon(glyph.box) for glyph in glyphs)),
        paint=disc.fill or WHITE,
        rim=disc.outline,
        texts=others,
        extent=disc.confidence,
    )


def _on_shape(shape: Shape, cells: tuple[Cell, Cell], left: Left) -> Mark:
    x0, y0, x1, y1 = shape.box
    glyphs = left.take_glyphs(
        lambda g: x0 <= g.centre[0] <= x1 and y0 <= g.centre[1] <= y1 and not _is_of_another(g, shape)
    )
    text, likely, others = joined(glyphs)
    sign = POINTS.get(shape.direction, "") if shape.name == "sign" else "X" if shape.name == "cross" else ""
    across = not shape.direction or shape.name != "sign" or _across(shape, cells)
    asks = () if across else (ALONG,)
    if shape.name == "sign" and sign and text and text not in SIGNS:
        # Strokes of a sign that the lattice line parts look like a figure.
        asks, text, likely, others = (*asks, f"“{text}” {READ_INSTEAD}"), "", 1.0, ()
    return Mark(
        Seen("edge", cells=cells, text=text or sign, shape=shape.name),
        f"{with_article(shape.name)} between {cells[0]} and {cells[1]}",
        shape.where or box_polygon(shape.box),
        shape.confidence * likely,
        shape.how,
        (box_polygon(shape.box), *(box_polygon(glyph.box) for glyph in glyphs)),
        paint=shape.colour if shape.filled else WHITE,
        rim=None if shape.filled else shape.colour,
        texts=others,
        extent=shape.confidence,
        asks=asks,
    )


def _is_of_another(glyph: Glyph, shape: Shape) -> bool:
    """Whether a number of a text layer stands between the arms of a drawn sign: it belongs to another mark."""
    return shape.name == "sign" and glyph.how == "vector" and glyph.text.isdecimal()


def _across(shape: Shape, cells: tuple[Cell, ...]) -> bool:
    """Whether a sign points from one cell to the other."""
    return (shape.direction in ("left", "right")) == (cells[0].row == cells[1].row)


def _text(cells: tuple[Cell, Cell], glyphs: list[Glyph]) -> Mark:
    text, likely, others = joined(glyphs)
    shape = "number" if text.isdecimal() else "sign" if text in SIGNS else "letter"
    xs = [v for g in glyphs for v in (g.box[0], g.box[2])]
    ys = [v for g in glyphs for v in (g.box[1], g.box[3])]
    where = box_polygon((min(xs), min(ys), max(xs), max(ys)))
    return Mark(
        Seen("edge", cells=cells, text=text, shape=shape),
        f"“{text}” between {cells[0]} and {cells[1]}",
        where,
        likely,
        glyphs[0].how,
        (where, *(box_polygon(glyph.box) for glyph in glyphs)),
        paint=glyphs[0].colour,
        texts=others,
        extent=1.0,
    )
