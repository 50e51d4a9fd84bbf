"""The vector reader: what a PDF draws on one grid, as evidence. It looks at no pixel of the page."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box, Colour, Page
from recognise.evidence import Disc, Edges, Evidence, Fence, Glyph, Lattice, Shape, Tint
from recognise.geometry import extent, holds
from recognise.picture import Reader
from recognise.pixels.frame import Raster
from recognise.vectors.apart import gap_lines, with_frames_of_cells
from recognise.vectors.broken import DOT, is_hidden_dash
from recognise.vectors.bullets import Lists
from recognise.vectors.cages import border_cages, find_cages
from recognise.vectors.capsules import Capsule, find_capsules
from recognise.vectors.cell_borders import border_lines
from recognise.vectors.clue_cell_borders import clue_cell_borders
from recognise.vectors.clue_cells import clue_cells
from recognise.vectors.columns import is_column
from recognise.vectors.cores import core_hatching
from recognise.vectors.diagonals import find_diagonals
from recognise.vectors.edges import LatticeLines, lattice_lines
from recognise.vectors.gather import PANEL, gather_inks, is_narrow
from recognise.vectors.hatching import find_hatching
from recognise.vectors.headings import tiles_of_text
from recognise.vectors.hidden import hidden_discs, hidden_heads, hidden_marks, is_cap, is_rim, is_under_end, take_discs
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.lattices import exact, lattices_from_vectors
from recognise.vectors.ledger import may_be_character, without_text
from recognise.vectors.leftover import is_outside, left_over
from recognise.vectors.lines import Lines, find_lines
from recognise.vectors.marks import INSET, disc, tints
from recognise.vectors.names import names_as_paths
from recognise.vectors.ornaments import crossbars, dots_in_rows, holes_of_tags, ornaments, ornaments_beside, square_caps
from recognise.vectors.own import belongs, covers, in_any, other_figures, pictures_on
from recognise.vectors.patches import canvas_size
from recognise.vectors.place import Placement, place
from recognise.vectors.rims import find_rims
from recognise.vectors.second_frame import second_frame
from recognise.vectors.second_lines import second_lines
from recognise.vectors.stipple import find_stipple
from recognise.vectors.strips import strips_beside
from recognise.vectors.studs import find_studs
from recognise.vectors.table_lines import table_lines
from recognise.vectors.text import grid_text
from recognise.vectors.written import clue_tags, light_figures, low_noughts, named_plates, written_characters

DRAWN = 0.6
"""The part of a grid's outer edges that vectors draw at least; otherwise the grid is a picture's."""
FULL_STOP, LINE_DOT = 0.05, 0.03
"""In cells: the radius of the largest full stop, and that of the dots of a dotted lattice line, which lie so far off
its middle at most."""
UNDER, BEYOND = 0.9, 0.02
"""The part of the grid's width and height that an area under it, or its shadow, covers at least, and the part of its
own box that it fills, whose corners may be round; and in cells, how far it reaches beyond the grid at least."""
HAIR = 0.004
"""In cells: what rounding makes of squares that are set in alike."""
WHITE = 0.1
"""Darkness of lines that are no darker than paper."""


@dataclass(frozen=True, slots=True)
class _Marks:
    """What inks draw on and around a grid: marks of every family, the inks that draw none of them, and what a person
    must look at."""

    tints: tuple[Tint, ...]
    fences: tuple[Fence, ...]
    diagonals: tuple[Shape, ...]
    discs: tuple[Disc, ...]
    capsules: tuple[Capsule, ...]
    lines: Lines
    rest: tuple[Ink, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Rest:
    """What is left of a grid's inks where no family of marks takes them: discs and shapes that stand by themselves,
    characters that were read among them and all that were drawn as paths, and boxes of words."""

    discs: tuple[Disc, ...]
    shapes: tuple[Shape, ...]
    written: tuple[Glyph, ...]
    drawn_as_paths: tuple[Shape, ...]
    words: tuple[Box, ...]


def read_vectors(page: Page, lattice: Lattice, reader: Reader | None = None) -> Evidence | None:
    """The evidence that a PDF's vectors give on one grid; None when the page has no vectors that draw the grid (it is
    an image, a scan, or a grid inside a picture). `reader` reads characters that are drawn as paths."""
    if page.vectors is None:
        return None
    drawn = exact(lattice, lattices_from_vectors(page))
    placement = place(page, drawn, drawn=drawn is not lattice)
    if placement is None:
        return None
    inks, canvas = gather_inks(page, placement)
    lines = _lattice_lines(inks, canvas)
    if lines is None:
        return None
    others = other_figures(page, placement)
    table = table_lines(inks, canvas.raster)
    lines = replace(lines, used=lines.used | table.inks, rails=[*lines.rails, *table.rails])
    marks = _marks_of(_loose(inks, lines, canvas, Lists(page, placement), others), inks, lines.edges, canvas)
    rest = _told_of_rest(marks, inks, canvas, page, placement, reader)
    text = grid_text(page, placement, others, [s.box for s in rest.shapes if is_outside(s.box, canvas.raster)], reader)
    read = [glyph.box for glyph in (*text.glyphs, *rest.written)]
    shapes = named_plates(rest.shapes, text.glyphs, canvas.raster)
    size = placement.rows, placement.columns
    no_marks = [*ornaments_beside(shapes, *size, read), *clue_cells(shapes, *size), *clue_cell_borders(shapes, *size)]
    holes = holes_of_tags(rest.discs, shapes, read)
    pictures = pictures_on(page, placement)
    return Evidence(
        rows=placement.rows,
        columns=placement.columns,
        edges=lines.edges,
        glyphs=(*text.glyphs, *rest.written),
        tints=(*lines.tints, *marks.tints),
        discs=tuple(disc for disc in rest.discs if not (disc in holes or _is_full_stop(disc, lines))),
        traces=marks.lines.traces,
        fences=(*marks.fences, *border_cages(lines.edges)),
        shapes=(
            *text.shapes,
            *marks.diagonals,
            *(each.shape for each in marks.capsules),
            *(shape for shape in shapes if shape not in no_marks),
        ),
        unexplained=(*marks.lines.unexplained, *(box for box in pictures if not covers(box, placement))),
        rails=tuple(lines.rails),
        grounds=_grounds([*inks, *canvas.paper], canvas.raster),
        strips=strips_beside(inks, canvas.raster),
        phrases=(*text.phrases, *rest.words),
        characters=(*text.characters, *map(without_text, rest.drawn_as_paths)),
        patches=tuple(ink.box for ink in canvas.paper if extent(ink.box) <= PANEL),
        notes=(*marks.notes, *("the grid stands on a picture" for box in pictures if covers(box, placement))),
    )


def _told_of_rest(
    marks: _Marks, inks: Sequence[Ink], canvas: Canvas, page: Page, placement: Placement, reader: Reader | None
) -> _Rest:
    """What discs that belong to no line, and inks of no family are: `inks` are all of the grid."""
    explained = {(inks[index].order, inks[index].part) for index in marks.lines.inks}
    standing = [disc for number, disc in enumerate(marks.discs) if number not in marks.lines.discs]
    spots = [*ornaments(standing, marks.lines.traces), *dots_in_rows(standing, placement.rows, placement.columns)]
    standing = [disc for disc in standing if disc not in spots]
    shapes, letters = left_over(marks.rest, explained, canvas, standing)
    drawn_as_paths = [s for s in shapes if s.name == "glyph-path" and not is_outside(s.box, canvas.raster)]
    names = names_as_paths(marks.rest, shapes, canvas.raster, reader)
    shapes = [shape for shape in shapes if shape.box not in names]
    of_ends = [*crossbars(shapes, marks.lines.traces), *square_caps(shapes, marks.lines.traces)]
    shapes = [shape for shape in shapes if shape not in of_ends]
    tags = clue_tags(shapes, standing, canvas)
    besides = [*light_figures(canvas, marks.discs), *low_noughts(inks, tags)]
    written, shapes = written_characters(marks.rest, shapes, besides, tags, canvas.raster, reader)
    noughts = [glyph.box for glyph in written if glyph.text == "0"]
    standing = [disc for disc in standing if disc.fill is not None or not any(holds(b, disc.centre) for b in noughts)]
    tiles = tiles_of_text(shapes, page, placement, canvas.raster)
    return _Rest(
        discs=tuple(disc for disc in standing if disc.box not in letters),
        shapes=tuple(shape for shape in shapes if shape.box not in tiles),
        written=tuple(written),
        drawn_as_paths=tuple(shape for shape in drawn_as_paths if may_be_character(shape.box)),
        words=(*names, *tiles),
    )


def _loose(
    inks: Sequence[Ink], lines: LatticeLines, canvas: Canvas, lists: Lists, others: Sequence[Box]
) -> list[tuple[int, Ink]]:
    """The inks, with their indices, that draw neither the lattice, with its studs and a second frame, nor
    other figures, bullets and words of the page."""
    left = [
        (index, ink)
        for index, ink in enumerate(inks)
        if index not in lines.used
        and belongs(ink, canvas.raster)
        and not in_any(ink.box, others)
        and not _is_ground(ink, canvas.raster)
    ]
    lattice = find_studs(inks, canvas.raster) | second_frame(left, canvas.raster)
    lattice |= second_lines(inks, lines, {index for index, _ in left}, canvas.raster)
    left = [(index, ink) for index, ink in left if index not in lattice and not lists.is_bullet(ink.box)]
    in_words = lists.in_words([ink.box for _, ink in left])
    return [each for place, each in enumerate(left) if place not in in_words]


def _marks_of(left: list[tuple[int, Ink]], inks: Sequence[Ink], edges: Edges, canvas: Canvas) -> _Marks:
    """The marks that loose inks draw, family by family: each takes its inks away, so that the next sees only others.
    `inks` are all of the grid, `edges` its lattice lines."""
    left = _without(left, core_hatching(left, canvas))
    hatching = find_hatching(left, canvas)
    stipple = find_stipple(left, canvas.raster)
    left = _without(left, hatching.inks | stipple.inks)
    cages = find_cages(left, canvas)
    diagonals = find_diagonals(left, canvas.raster)
    left = _without(left, cages.inks | diagonals.inks)
    rims = find_rims(left, _take_tints(left, canvas.raster)[0], edges, canvas)
    left = _without(left, rims.inks)
    discs, hidden, left = take_discs(left, canvas)
    capsules = find_capsules(left, canvas)
    tinted, left = _take_tints(_without(left, capsules.inks), canvas.raster)
    # The dots of a dotted line that lie under the mark of a corner are dots of it all the same.
    buried = [(ink, disc(ink)) for ink in canvas.buried]
    dots = [each for _, each in buried if each is not None and each.radius <= DOT]
    found = find_lines(left, [*discs, *dots], capsules.capsules, canvas)
    explained = [dots[number - len(discs)] for number in found.discs if number >= len(discs)]
    explained += [each for _, each in buried if each is not None and (is_cap(each, inks) or is_rim(each, discs))]
    explained += [each for _, each in buried if each is not None and is_under_end(each, found.traces)]
    traces, heads = hidden_heads(found.traces, canvas.buried, canvas)
    found = replace(found, traces=traces)
    buried = [each for each in buried if not any(each[0] is head for head in heads)]
    unknown = [each for each in buried if not (is_narrow(each[0]) or is_hidden_dash(each[0], found.traces, canvas))]
    return _Marks(
        (*tinted, *hatching.tints, *stipple.tints),
        (*cages.fences, *rims.fences),
        diagonals.shapes,
        tuple(discs),
        capsules.capsules,
        found,
        tuple(ink for _, ink in _without(left, found.inks) if not is_column(ink, discs, found.traces)),
        tuple(dict.fromkeys((*hidden_discs(hidden, found.traces), *hidden_marks(unknown, explained)))),
    )


def _without(inks: Sequence[tuple[int, Ink]], taken: Container[int]) -> list[tuple[int, Ink]]:
    return [(index, ink) for index, ink in inks if index not in taken]


def _grounds(inks: Iterable[Ink], raster: Raster) -> tuple[Colour, ...]:
    """The colours of areas on which the grid stands and that reach beyond it: on all sides, or as a shadow does. Lines
    drawn as one area fill little of their box."""
    under = (ink.colour for ink in inks if ink.role == "fill" and _reaches_beyond(ink.box, raster) and _fills(ink))
    return tuple(dict.fromkeys(under))


def _is_ground(ink: Ink, raster: Raster) -> bool:
    """Whether an ink is an area that goes on beyond the grid on all sides, such as a tint of the whole page on which
    the grid has a panel of its own."""
    left, top, right, bottom = ink.box
    beyond = min(-left, -top, right - raster.columns, bottom - raster.rows)
    return ink.role == "fill" and beyond > BEYOND and _fills(ink)


def _reaches_beyond(box: Box, raster: Raster) -> bool:
    left, top, right, bottom = box
    across, down = min(right, raster.columns) - max(left, 0), min(bottom, raster.rows) - max(top, 0)
    beyond = max(-left, -top, right - raster.columns, bottom - raster.rows)
    return beyond > BEYOND and across >= UNDER * raster.columns and down >= UNDER * raster.rows


def _fills(ink: Ink) -> bool:
    return canvas_size(ink.whole) >= UNDER * ink.whole.mask.size


def _lattice_lines(inks: Sequence[Ink], canvas: Canvas) -> LatticeLines | None:
    """The lattice lines; or the borders of a table's cells; or those of the ground's colour, which are no inks, where a
    grid on tints has no other; or the gaps between cells. None where nothing draws the grid's frame."""
    borders = border_lines(inks, canvas.raster)
    if borders is not None:
        return borders
    lines = lattice_lines(inks, canvas)
    if _is_drawn(lines.edges):
        return with_frames_of_cells(_told_by_width(lines), inks, canvas.raster)
    light = lattice_lines([*canvas.light, *canvas.paper], canvas)
    if _is_drawn(light.edges):
        return _told_by_width(replace(light, used=set()))
    return gap_lines(inks, canvas.raster)


def _told_by_width(lines: LatticeLines) -> LatticeLines:
    """Lattice lines; white ones, which have no darkness of their own, as dark all alike, for it is by thickness times
    darkness that boxes are told."""
    edges = lines.edges
    if max(edges.horizontal_darkness.max(), edges.vertical_darkness.max()) > WHITE:
        return lines
    across, down = ((each > 0).astype(np.float64) for each in (edges.horizontal, edges.vertical))
    return replace(lines, edges=replace(edges, horizontal_darkness=across, vertical_darkness=down))


def _is_full_stop(found: Disc, lines: LatticeLines) -> bool:
    """Whether a disc is too small for a mark: beside the grid it belongs to the page's text, or to a row of dots, on a
    lattice line to the dots of that."""
    (x, y), (rows, columns) = found.centre, lines.edges.horizontal.shape
    if found.radius <= LINE_DOT and min(abs(x - round(x)), abs(y - round(y))) <= LINE_DOT:
        return True
    inside = -FULL_STOP <= x <= columns + FULL_STOP and -FULL_STOP <= y <= rows - 1 + FULL_STOP
    return not inside and found.radius <= FULL_STOP


def _is_drawn(edges: Edges) -> bool:
    horizontal, vertical = edges.horizontal, edges.vertical
    sides = np.concatenate([horizontal[[0, -1]].ravel(), vertical[:, [0, -1]].ravel()])
    return bool((sides > 0).mean() >= DRAWN)


def _take_tints(inks: Sequence[tuple[int, Ink]], raster: Raster) -> tuple[list[Tint], list[tuple[int, Ink]]]:
    """The tints in paint order, each colour once on a cell, and the other inks. Of squares that are set in alike some
    by a hair less all are tints, as some are."""
    told = [(index, ink, tints(ink, raster)) for index, ink in inks]
    alike = {(ink.colour, ink.painted < 1) for _, ink, found in told if found is not None and len(found) == 1}
    tinted: list[Tint] = []
    left = []
    for index, ink, sure in told:
        found = sure or (tints(ink, raster, INSET + HAIR) if (ink.colour, ink.painted < 1) in alike else None)
        if found is None:
            left.append((index, ink))
        else:
            again = {tint.cell for tint in tinted if near(tint.colour, ink.colour)}
            tinted += [tint for tint in found if tint.cell not in again]
    return tinted, left
