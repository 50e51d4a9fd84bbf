"""The vector reader: what a PDF draws on one grid, as evidence. It looks at no pixel of the page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box, Page, Point
from recognise.evidence import Disc, Edges, Evidence, Glyph, Guess, Lattice, Shape, Tint
from recognise.geometry import extent, middle, within
from recognise.picture import Reader
from recognise.pixels.frame import Raster
from recognise.vectors.apart import gap_lines
from recognise.vectors.broken import DOT
from recognise.vectors.bullets import Lists
from recognise.vectors.cages import border_cages, find_cages
from recognise.vectors.capsules import find_capsules
from recognise.vectors.characters import APART, characters_of, read_paths
from recognise.vectors.diagonals import find_diagonals
from recognise.vectors.edges import LatticeLines, lattice_lines
from recognise.vectors.gather import PANEL, gather_inks
from recognise.vectors.hatching import find_hatching
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.lattices import exact, lattices_from_vectors, line_groups
from recognise.vectors.lines import find_lines
from recognise.vectors.marks import covered, disc, merge_discs, on_paper, shape, tints, without_rims
from recognise.vectors.numbers import BESIDE_ARROW
from recognise.vectors.place import Placement, image_to_frame, place
from recognise.vectors.signs import Compound, compounds, is_letter, pointing, take_arrows
from recognise.vectors.stipple import find_stipple
from recognise.vectors.studs import find_studs
from recognise.vectors.text import grid_text
from schema.cells import Cell

DRAWN = 0.6
"""The part of a grid's outer edges that vectors draw at least; otherwise the grid is a picture's."""
BESIDE, LARGEST_BESIDE = 0.9, 1.15
"""In cells: a mark outside the grid belongs to it up to this distance, and up to this size: that of a frame round a
number."""
OTHER_GRID = 0.2
"""In cells: how far another lattice may overlap this grid and still be another."""
OWN = 0.05
"""In cells: what reaches into the grid by less does not stand on it; a frame around it may touch it."""
RINGS, CLUE_BOX = 2, 0.1
"""So many rows of boxes beside the grid may be for its clues, and in cells: how far their width is from a cell's."""
RIM = 0.02
"""In cells: what stands no farther outside another lattice is a line of its frame."""
AS_HIGH, SLENDER = 0.06, 0.3
"""As a part of their height: so much figures of one fount differ in height, and so wide is a bare stroke, at most."""
UPPER = 0.42
"""In cells from the top of its cell: the middle of a total stands above this, that of a given below."""
IN_MIDDLE, BARE_ONE = 0.2, 0.995
"""In cells: how far from the middle of its cell a given stands, and as a part of a number's height, how far from its
middle a minus; and how sure a bare stroke among figures is a 1."""
CAP = 0.1
"""As a part of a stroke's width, or of a disc's radius: how exactly a disc is the round end of a stroke."""
LEAST_CORNERS = 5
"""Points that the outline of a figure has more of; heads of arrows have fewer."""
WHITE = 0.1
"""Darkness of lines that are no darker than paper."""
SENTENCE = 4
"""So many characters drawn as paths close together on one line beside a grid are running text."""
LETTER_GAP = 0.5
"""As a part of their height: the widest gap between letters of running text; clues stand a cell apart."""


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
    others = _other_figures(page, placement)
    lists = Lists(page, placement)
    left = [
        (index, ink)
        for index, ink in enumerate(inks)
        if index not in lines.used and _belongs(ink, canvas.raster) and not _in_any(ink.box, others)
    ]
    left = [(index, ink) for index, ink in left if not lists.is_bullet(ink.box)]
    studs = find_studs(inks, canvas.raster)
    left = [(index, ink) for index, ink in left if index not in studs]
    in_words = lists.in_words([ink.box for _, ink in left])
    left = [each for place, each in enumerate(left) if place not in in_words]
    hatching = find_hatching(left, canvas)
    stipple = find_stipple(left, canvas.raster)
    left = [(index, ink) for index, ink in left if index not in hatching.inks | stipple.inks]
    cages = find_cages(left, canvas)
    diagonals = find_diagonals(left, canvas.raster)
    left = [(index, ink) for index, ink in left if index not in cages.inks | diagonals.inks]
    discs, hidden, left = _take_discs(left, canvas)
    capsules = find_capsules(left, canvas)
    left = [(index, ink) for index, ink in left if index not in capsules.inks]
    tinted, left = _take_tints(left, canvas.raster)
    # The dots of a dotted line that lie under the mark of a corner are dots of it all the same.
    buried = [(ink, disc(ink)) for ink in canvas.buried]
    dots = [each for _, each in buried if each is not None and each.radius <= DOT]
    found = find_lines(left, [*discs, *dots], capsules.capsules, canvas)
    explained = [dots[number - len(discs)] for number in found.discs if number >= len(discs)]
    explained += [each for _, each in buried if each is not None and _is_cap(each, inks)]
    rest = [ink for index, ink in left if index not in found.inks]
    drawn_twice = {(inks[index].order, inks[index].part) for index in found.inks}
    pictures = _pictures(page, placement)
    shapes = _shapes(rest, drawn_twice, canvas)
    pointers = [s.box for s in shapes if s.name == "arrow"]
    as_paths = {s.box for s in shapes if s.name == "glyph-path" and _is_read(s.box, pointers, canvas.raster)}
    written = read_paths([ink for ink in rest if ink.box in as_paths], canvas.raster, reader) if reader else []
    written = [_with_minus(glyph, shapes) for glyph in written]
    written += _ones(shapes, written)
    read = [glyph.box for glyph in written]
    shapes = [s for s in shapes if s.name not in ("glyph-path", "bar") or not any(within(s.box, box) for box in read)]
    beside = [s.box for s in shapes if _is_outside(s.box, canvas.raster)]
    text = grid_text(page, placement, others, beside, reader)
    return Evidence(
        rows=placement.rows,
        columns=placement.columns,
        edges=lines.edges,
        glyphs=(*text.glyphs, *written),
        tints=(*tinted, *hatching.tints, *stipple.tints),
        discs=tuple(d for number, d in enumerate(discs) if number not in found.discs),
        traces=found.traces,
        fences=(*cages.fences, *border_cages(lines.edges)),
        shapes=(*text.shapes, *diagonals.shapes, *(each.shape for each in capsules.capsules), *shapes),
        unexplained=(*found.unexplained, *(box for box in pictures if not _covers(box, placement))),
        rails=tuple(lines.rails),
        phrases=text.phrases,
        patches=tuple(ink.box for ink in canvas.paper if extent(ink.box) <= PANEL),
        notes=(
            *dict.fromkeys((*hidden, *_buried(buried, explained))),
            *("the grid stands on a picture" for box in pictures if _covers(box, placement)),
        ),
    )


def _lattice_lines(inks: Sequence[Ink], canvas: Canvas) -> LatticeLines | None:
    """The lattice lines; those of the ground's colour, which are no inks, where a grid on tints has no other; or the
    gaps between cells. None where nothing draws the grid's frame."""
    lines = lattice_lines(inks, canvas)
    if _is_drawn(lines.edges):
        return _told_by_width(lines)
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


def _ones(shapes: Iterable[Shape], written: Sequence[Glyph]) -> list[Glyph]:
    """The bars that are figures 1: in some founts it is no more. Only in the middle of cells, and where figures of its
    height and colour are drawn as paths too; elsewhere a bar is a mark."""
    found = []
    for bar in shapes:
        (x, y), (left, top, right, bottom) = middle(bar.box), bar.box
        high = bottom - top
        in_middle = max(abs(x % 1 - 0.5), abs(y % 1 - 0.5)) <= IN_MIDDLE and right - left <= SLENDER * high
        peers = (g for g in written if abs(g.size - high) <= AS_HIGH * high and near(g.colour, bar.colour))
        if bar.name == "bar" and bar.filled and in_middle and any(peers):
            found.append(Glyph(bar.box, (Guess("1", BARE_ONE),), high, bar.colour, "shape"))
    return found


def _with_minus(number: Glyph, shapes: Iterable[Shape]) -> Glyph:
    """A number in the corner of a cell with the minus behind it, if one is drawn as a path of its own: a level bar in
    half its height."""
    x0, y0, x1, y1 = number.box
    if (y0 + y1) / 2 % 1 > UPPER:
        return number
    for bar in shapes:
        left, top, right, bottom = bar.box
        behind = right <= math.ceil(x1) and 0 <= left - x1 <= APART * number.size and right - left <= number.size
        level = abs((top + bottom) / 2 - (y0 + y1) / 2) <= IN_MIDDLE * number.size
        if bar.name == "bar" and bar.filled and behind and level and right - left > bottom - top:
            guesses = tuple(replace(guess, text=f"{guess.text}-") for guess in number.guesses)
            return replace(number, box=(x0, min(y0, top), right, max(y1, bottom)), guesses=guesses)
    return number


def _is_read(box: Box, arrows: Sequence[Box], raster: Raster) -> bool:
    """Whether a character drawn as a path belongs to the grid: beside it that is sure only of those with an arrow; the
    reader of the picture tells others from the page's text."""
    near = (math.dist(middle(box), middle(arrow)) <= BESIDE_ARROW for arrow in arrows)
    return not _is_outside(box, raster) or any(near)


def _is_drawn(edges: Edges) -> bool:
    horizontal, vertical = edges.horizontal, edges.vertical
    sides = np.concatenate([horizontal[[0, -1]].ravel(), vertical[:, [0, -1]].ravel()])
    return bool((sides > 0).mean() >= DRAWN)


def _other_figures(page: Page, placement: Placement) -> list[Box]:
    """The boxes, in cells, of lattices, tables and strips of boxes beside the grid; not of a strip whose boxes are as
    wide as its cells, for clues may stand in those."""
    boxes = []
    for across, down in line_groups(page):
        (left, right), (top, bottom) = across.reach, down.reach
        corners = np.array([(left, top), (right, bottom)]) * page.scale
        (left, top), (right, bottom) = placement.to_cells(image_to_frame(page, corners)).tolist()
        shared = min(min(right, placement.columns) - max(left, 0), min(bottom, placement.rows) - max(top, 0))
        boxes_across, boxes_down = len(down.at) - 1, len(across.at) - 1
        step = (right - left) / boxes_across if boxes_across > boxes_down else (bottom - top) / boxes_down
        for_clues = min(boxes_across, boxes_down) <= RINGS and abs(step - 1) <= CLUE_BOX
        if shared <= OTHER_GRID and not for_clues:
            boxes.append((left, top, right, bottom))
    return boxes


def _in_any(box: Box, others: Iterable[Box]) -> bool:
    """Whether a box stands in one of the others, or on its rim: their own outermost lines do."""
    x, y = middle(box)
    return any(left - RIM <= x <= right + RIM and top - RIM <= y <= bottom + RIM for left, top, right, bottom in others)


def _belongs(ink: Ink, raster: Raster) -> bool:
    """Whether an ink stands on the grid, or is a small mark beside it."""
    rows, columns = raster.grid_slices(-raster.px(OWN))
    patch = ink.patch
    inside = patch.mask[
        max(0, rows.start - patch.top) : max(0, rows.stop - patch.top),
        max(0, columns.start - patch.left) : max(0, columns.stop - patch.left),
    ]
    if inside.any():
        return True
    left, top, right, bottom = ink.box
    away = max(-right, -bottom, left - raster.columns, top - raster.rows)
    return away <= BESIDE and max(right - left, bottom - top) <= LARGEST_BESIDE


def _take_discs(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> tuple[list[Disc], list[str], list[tuple[int, Ink]]]:
    """The discs, what a person must look at about them, and the other inks."""
    told = [(index, ink, disc(ink)) for index, ink in inks]
    filled = [(ink.order, found) for _, ink, found in told if found is not None and found.fill is not None]
    paper = [(ink.order, found) for ink in canvas.paper if (found := disc(ink)) is not None]
    under = [(order, each) for order, each in paper if covered(each, order, filled)]
    paper = [each for each in paper if each not in under]
    buried = [each for order, each in filled if covered(each, order, paper)]
    drawn = [ink for _, ink in inks]
    buried = [each for each in buried if not _is_cap(each, drawn)]
    hidden = [f"a circle at {_cell_of(each)} lies under another" for each in (*(each for _, each in under), *buried)]
    discs, left = [], []
    for index, ink, found in told:
        if found is None:
            left.append((index, ink))
        else:
            discs.append(on_paper(found, ink.order, paper, canvas.ground))
    return merge_discs(discs), hidden, left


def _buried(buried: Sequence[tuple[Ink, Disc | None]], explained: Sequence[Disc]) -> list[str]:
    """What a person must look at about marks that others hide: the file has them, and print does not show them. The
    discs `explained` are no marks of their own."""
    names = ((_cell_at(middle(ink.box)), "circle" if its else "mark") for ink, its in buried if its not in explained)
    return [f"a {name} at {cell} lies under another" for cell, name in names]


def _is_cap(found: Disc, inks: Sequence[Ink]) -> bool:
    """Whether a filled disc is the round end, or the round corner, of a stroke of its colour and width."""
    for ink in inks:
        if ink.role == "stroke" and near(ink.colour, found.fill or ink.colour) and _as_wide(ink, found):
            ends = np.concatenate(ink.outlines)
            if np.hypot(*(ends - found.centre).T).min() <= CAP * found.radius:
                return True
    return False


def _as_wide(ink: Ink, found: Disc) -> bool:
    return abs(ink.width - 2 * found.radius) <= CAP * ink.width


def _cell_of(disc: Disc) -> Cell:
    """The cell of a disc's middle; on a border, the cell before it."""
    return _cell_at(disc.centre)


def _cell_at(point: Point) -> Cell:
    x, y = (max(1, math.ceil(at - 0.05)) for at in point)
    return Cell(y, x)


def _take_tints(inks: Sequence[tuple[int, Ink]], raster: Raster) -> tuple[list[Tint], list[tuple[int, Ink]]]:
    """The tints in paint order, each colour once on a cell, and the other inks."""
    tinted: list[Tint] = []
    left = []
    for index, ink in inks:
        found = tints(ink, raster)
        if found is None:
            left.append((index, ink))
        else:
            again = {tint.cell for tint in tinted if near(tint.colour, ink.colour)}
            tinted += [tint for tint in found if tint.cell not in again]
    return tinted, left


def _shapes(inks: Iterable[Ink], explained: set[tuple[int, int]], canvas: Canvas) -> list[Shape]:
    """Left-over paths under a name, once where fill and stroke are left. `explained` are order and part of paths whose
    other ink is a line."""
    raster = canvas.raster
    left = [ink for ink in inks if (ink.order, ink.part) not in explained]
    marks = [each for mark in compounds(left) for each in _named(mark, raster)]
    # Where signs point other ways too, what looks like a V is one of them.
    signs = any(found and found.name == "sign" and found.direction != "down" for _, found in marks)
    shapes: list[Shape] = []
    for mark, found in marks:
        if found and (found.name != "sign" or found.direction != "down" or signs or not is_letter(mark)):
            shapes.append(found)
        else:
            shapes += _each(mark, raster)
    outside = sorted(s.box for s in shapes if s.name == "glyph-path" and _is_outside(s.box, raster))
    running = {box for line in _lines(outside) if len(line) >= SENTENCE for box in line}
    return without_rims([s for s in shapes if s.box not in running])


def _named(mark: Compound, raster: Raster) -> list[tuple[Compound, Shape | None]]:
    """What a mark is; where nothing is known of it as a whole, of each path in it, for two signs may touch."""
    whole = pointing(mark, raster)
    alone = len(mark.paths()) == 1
    if alone or (whole is not None and whole.name != "arrow"):
        return [(mark, whole)]
    arrows, paths = take_arrows(mark, raster)
    # An arrow with its number, the two together, may look like an arrow the other way.
    if whole is not None and not (arrows and paths and all(map(_is_figure, paths))):
        return [(mark, whole)]
    return [*arrows, *((path, pointing(path, raster)) for path in paths)]


def _is_figure(path: Compound) -> bool:
    """Whether a path is an area that may be the outline of a figure."""
    corners = sum(len(outline) for ink in path.inks for outline in ink.outlines)
    return all(ink.role == "fill" for ink in path.inks) and corners > LEAST_CORNERS


def _each(mark: Compound, raster: Raster) -> Iterator[Shape]:
    """A shape for each path: its fill where it has one."""
    by_path: dict[tuple[int, int], Ink] = {}
    for ink in mark.inks:
        known = by_path.get((ink.order, ink.part))
        if known is None or known.role == "stroke":
            by_path[ink.order, ink.part] = ink
    for ink in by_path.values():
        found = shape(ink, raster)
        left, top, right, bottom = found.box
        # Beside the grid no mark is an upright bar, but the figure 1 of some founts is.
        is_figure = found.name == "bar" and ink.role == "fill" and bottom - top > right - left
        # Nor is a line of text that is drawn as one path.
        is_text = found.name == "mark" and ink.role == "fill" and len(characters_of(ink.outlines)) >= SENTENCE
        outside = _is_outside(found.box, raster)
        yield replace(found, name="glyph-path") if outside and (is_figure or is_text) else found


def _lines(boxes: Sequence[Box]) -> list[list[Box]]:
    """Boxes of characters, from left to right, as lines of text: close together and abreast."""
    lines: list[list[Box]] = []
    for box in boxes:
        line = next((line for line in lines if _follows(line[-1], box)), None)
        if line is None:
            lines.append([box])
        else:
            line.append(box)
    return lines


def _follows(one: Box, other: Box) -> bool:
    height = max(one[3] - one[1], other[3] - other[1])
    shared = min(one[3], other[3]) - max(one[1], other[1])
    return shared > 0 and other[0] - one[2] <= LETTER_GAP * height


def _is_outside(box: Box, raster: Raster) -> bool:
    return box[2] <= 0 or box[3] <= 0 or box[0] >= raster.columns or box[1] >= raster.rows


def _pictures(page: Page, placement: Placement) -> list[Box]:
    """The parts of raster pictures that lie on the grid, in cells."""
    found = []
    for picture in page.vectors.pictures if page.vectors else ():
        left, top, right, bottom = placement.box(picture)
        box = (max(left, 0.0), max(top, 0.0), min(right, float(placement.columns)), min(bottom, float(placement.rows)))
        if box[2] - box[0] > OWN and box[3] - box[1] > OWN:
            found.append(box)
    return found


def _covers(box: Box, placement: Placement) -> bool:
    return (box[2] - box[0]) * (box[3] - box[1]) >= 0.9 * placement.rows * placement.columns
