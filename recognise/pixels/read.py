"""The pixel reader: everything that stands on a flattened grid, seen without knowing what it means."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ingest.page import Box, Point
from recognise.draft import box_polygon
from recognise.evidence import Disc, Edges, Evidence, Flat, Glyph, Shape
from recognise.geometry import holds, middle, overlap, within
from recognise.marks.found import MarkFinder, Marks
from recognise.pixels.blobs import Blob, Pieces, find_pieces, measure_tones, without
from recognise.pixels.borders import Borders
from recognise.pixels.by_depth import Tints
from recognise.pixels.cast_digits import without_edges
from recognise.pixels.clues import read_outside
from recognise.pixels.crossed import crossed_pieces
from recognise.pixels.darker import ENOUGH, darker_pieces, darkest
from recognise.pixels.depths import Depths
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.framing import frames_of_all
from recognise.pixels.glyphs import (
    CharacterReader,
    character_sized,
    labels_expected,
    numbers_in_cells,
    read_characters,
    standing_in_cells,
)
from recognise.pixels.ground import Ground, measure_ground
from recognise.pixels.ink import Ink, edges_of, measure_ink
from recognise.pixels.light_diagonals import light_diagonals
from recognise.pixels.looks import GROWN, looked_again
from recognise.pixels.outside import (
    Ring,
    not_in_line,
)
from recognise.pixels.plates_beside import turned_plates
from recognise.pixels.residual import find_residual
from recognise.pixels.shadows import Shadows
from recognise.pixels.tinted import settled_tints
from recognise.pixels.tubes import Tubes, trace_tubes
from schema.cells import Cell
from schema.grid import Side

READ, BEYOND = 0.99, 0.06
"""How surely a character is read that takes up its place, and how far beyond its box, in cells, its ink may stand: the
guard that looks at all ink takes that for the character's as well (`recognise.doubt.ink`)."""
SLACK = 0.04
"""In cells: how far the ink of a character reaches beyond its box as measured at another threshold."""
CROSSED = 0.9
"""A character that a line crosses is taken for one from this probability on: rests of lines look like a 1 or a 7."""
TOTAL = 1.6
"""So many times as tall as a total is a given in its cell at least."""
ROUND = "0COQDGU"
"""What the wall of a bulb looks like once its tube is cut off: never taken for a character that a line crosses."""


@dataclass(frozen=True, slots=True)
class Stages:
    """What each stage saw, for pictures, and to look once more: `bare` is the evidence before anybody looks for marks,
    `inside` the characters of it that stand in cells, `first` those before any of them was looked at again;
    `unsettled` is what stands in the rings of a side out of line or is no number."""

    ground: Ground
    ink: Ink
    pieces: Pieces
    rings: tuple[Ring, ...]
    tubes: Tubes
    characters: Mask
    explained: Mask
    bare: Evidence
    inside: tuple[Glyph, ...]
    first: tuple[Glyph, ...]
    unsettled: Mapping[Side, Sequence[Box]]


def read_pixels(flat: Flat, edges: Edges | None = None, reader: CharacterReader | None = None) -> Evidence:
    """All that the pixels of a flattened grid show. `edges` are measured here where none are given; without `reader`
    the project's own glyph network reads."""
    return read_stages(flat, edges, reader)[0]


def read_stages(
    flat: Flat,
    edges: Edges | None = None,
    reader: CharacterReader | None = None,
    find_marks: MarkFinder | None = None,
    *,
    leftover: bool = True,
) -> tuple[Evidence, Stages]:
    """The same, with what each stage saw, and with the marks that `find_marks` finds. What is left of the ink is found
    only where `leftover` is wanted: what a PDF draws is known."""
    reader = reader or default_reader()
    raster = Raster.of(flat)
    ground = measure_ground(flat)
    ink, plates = turned_plates(measure_ink(flat, ground), raster)
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    shadows = Shadows(flat.image, raster, ink.grid) if find_marks else None
    first, glyphs, characters = _read_again(pieces, ink, raster, reader, shadows)
    rings, clues, unsettled = read_outside(pieces, ink, flat, reader, [glyph.box for glyph in glyphs])
    tubes = trace_tubes(ink, without(ink.drawn, characters), raster, characters)
    bare = Evidence(
        rows=flat.rows,
        columns=flat.columns,
        edges=edges or edges_of(ink, raster),
        glyphs=(*glyphs, *clues),
        tints=ground.tints,
        traces=tubes.traces,
        shapes=(*plates, *(light_diagonals(flat, raster) if find_marks else ())),
        notes=tuple(map(not_in_line, unsettled)),
    )
    explained = characters | tubes.explained
    stages = Stages(
        ground, ink, pieces, tuple(rings), tubes, characters, explained, bare, tuple(glyphs), tuple(first), unsettled
    )
    return with_marks(flat, stages, find_marks) if leftover or find_marks else (bare, stages)


def with_marks(flat: Flat, stages: Stages, find_marks: MarkFinder | None) -> tuple[Evidence, Stages]:
    """The evidence with the marks that `find_marks` finds, and with what is left of the ink; it can be looked for once
    more by somebody who knows more."""
    ink, bare = stages.ink, stages.bare
    marks = find_marks(flat, ink, stages.pieces, bare.glyphs, stages.tubes.traces) if find_marks else None
    explained = stages.characters | (marks.explained if marks else stages.tubes.explained)
    # What a PDF draws is as soft as its author wanted it.
    printed = [glyph.box for glyph in bare.glyphs] if marks else ()
    shadows = Shadows(flat.image, Raster.of(flat), ink.grid) if marks else None
    rest = find_residual(ink, explained, Raster.of(flat), printed, flat.screened, shadows)
    evidence = replace(bare, shapes=rest.shapes, unexplained=rest.unexplained)
    if marks is not None:
        depths = Depths(flat, explained)
        tints = (evidence.tints, ()) if stages.ground.is_quilt else _tints(evidence, marks, flat, depths)
        answered = told_by_arrows(stages.unsettled, marks, partial(ink_in, ink=ink, raster=Raster.of(flat)))
        evidence = _marked(evidence, marks, tints, answered)
        evidence = _with_frames(evidence, ink, Raster.of(flat))
        ways = {shape.direction for shape in evidence.shapes if shape.name == "diagonal"}
        light = (shape for shape in bare.shapes if shape.direction not in ways)
        evidence = replace(evidence, shapes=(*evidence.shapes, *light))
    return evidence, replace(stages, explained=explained)


def stray_beside(written: Iterable[Box], evidence: Evidence, stages: Stages, flat: Flat) -> tuple[Box, ...]:
    """What is left of the stray ink of a picture when that of handwriting, in its boxes, is taken away as well: a
    shadow or stain that somebody wrote on has no sharp sides of its own."""
    raster = Raster.of(flat)
    explained = stages.explained.copy()
    for box in written:
        explained[raster.slices(box, GROWN)] = True
    rest = find_residual(stages.ink, explained, raster, [glyph.box for glyph in evidence.glyphs], flat.screened)
    return tuple(shape.box for shape in rest.shapes if any(overlap(shape.box, box) for box in evidence.stray))


def without_written(
    written: Collection[Cell], evidence: Evidence, stages: Stages, raster: Raster, reader: CharacterReader
) -> Evidence:
    """The evidence with its characters looked at again, now that it is known in which cells somebody has written: the
    size, the place and the fount of print are those of the print alone."""
    printed = [glyph for glyph in stages.first if raster.cell_of(*glyph.centre) not in written]
    glyphs, _ = looked_again(printed, stages.characters, stages.ink, raster, reader, written)
    ours = [glyph for glyph in evidence.glyphs if glyph in stages.inside]
    others = [glyph for glyph in evidence.glyphs if glyph not in stages.inside]
    elsewhere = {raster.cell_of(*glyph.centre) for glyph in (*others, *stages.inside)}
    kept = {raster.cell_of(*glyph.centre) for glyph in ours}
    seen = [glyph for glyph in glyphs if (cell := raster.cell_of(*glyph.centre)) in kept or cell not in elsewhere]
    new = [glyph.box for glyph in seen if raster.cell_of(*glyph.centre) not in kept]
    return replace(
        evidence,
        glyphs=(*seen, *others),
        shapes=tuple(s for s in evidence.shapes if s.name != "mark" or not any(overlap(s.box, box) for box in new)),
        stray=tuple(stray for stray in evidence.stray if not any(overlap(stray, box) for box in new)),
    )


def told_by_arrows(
    unsettled: Mapping[Side, Sequence[Box]], marks: Marks, ink_in: Callable[[Box], Sequence[Point]]
) -> Collection[str]:
    """The questions about rings of which all that is out of line, or no number by itself, is a little arrow or a number
    that one was found to have: these stand where the arrows leave room, and touch. Ink that they do not cover is asked
    about; `ink_in` says where in a box it is."""
    arrows = [shape.box for shape in marks.shapes if shape.name == "arrow"]
    known = [*arrows, *(glyph.box for glyph in marks.glyphs if glyph.text.isdecimal())]
    grown = [(x0 - SLACK, y0 - SLACK, x1 + SLACK, y1 + SLACK) for x0, y0, x1, y1 in known]

    def is_known(box: Box) -> bool:
        return all(any(holds(other, place) for other in grown) for place in ink_in(box))

    return {not_in_line(side) for side, boxes in unsettled.items() if arrows and all(map(is_known, boxes))}


def ink_in(box: Box, ink: Ink, raster: Raster) -> list[Point]:
    """Where there is ink in a box, lattice lines aside: the middles of its pixels, in cells."""
    rows, columns = raster.slices(box)
    inked = np.argwhere(ink.drawn[rows, columns] > ink.floor).tolist()
    return [(raster.to_cells(columns.start + x + 0.5), raster.to_cells(rows.start + y + 0.5)) for y, x in inked]


def _tints(evidence: Evidence, marks: Marks, flat: Flat, depths: Depths) -> Tints:
    """The tints of a picture, with words on cells in doubt."""
    boxes = [shape.box for shape in marks.shapes if shape.name == "square"]
    squares = {cell for box in boxes if (cell := Raster.of(flat).cell_of(*middle(box)))}
    return settled_tints(evidence.tints, marks.tint, Borders(flat), squares, depths)


def _marked(evidence: Evidence, marks: Marks, settled: Tints, answered: Collection[str]) -> Evidence:
    tints, in_doubt = settled
    glyphs = (*(glyph for glyph in evidence.glyphs if glyph not in marks.replaced), *marks.glyphs)
    return replace(
        evidence,
        glyphs=glyphs,
        discs=(*evidence.discs, *marks.discs),
        tints=tints,
        traces=marks.traces,
        fences=(*evidence.fences, *marks.fences),
        shapes=marks.shapes,
        unexplained=(),
        # Marks are told by the network: a speck that looks like a bar or a dot to thresholds is put to a person.
        stray=(*evidence.stray, *without_characters((shape.box for shape in evidence.shapes), glyphs)),
        number_tiles=tuple(box_polygon(wall) for wall in marks.walls),
        notes=(*(note for note in evidence.notes if note not in answered), *marks.notes, *in_doubt),
    )


def without_characters(boxes: Iterable[Box], glyphs: Iterable[Glyph]) -> list[Box]:
    """The boxes of stray ink without what surely read characters take up: a fine arc or the ball at its end, which a
    threshold parted from a digit, is no other mark."""
    read = [glyph.box for glyph in glyphs if glyph.text and glyph.confidence >= READ]
    taken = [(x0 - BEYOND, y0 - BEYOND, x1 + BEYOND, y1 + BEYOND) for x0, y0, x1, y1 in read]
    return [box for box in boxes if not any(within(box, around) for around in taken)]


def _with_frames(evidence: Evidence, ink: Ink, raster: Raster) -> Evidence:
    """The evidence with the frames round the numbers beside the grid."""
    numbers = [glyph.box for glyph in evidence.glyphs if glyph.text and raster.cell_of(*glyph.centre) is None]
    frames = frames_of_all(numbers, ink.all, ink.relative, raster, ink.floor)
    discs = tuple(frame for frame in frames if isinstance(frame, Disc))
    shapes = tuple(frame for frame in frames if isinstance(frame, Shape))
    return replace(evidence, discs=(*evidence.discs, *discs), shapes=(*evidence.shapes, *shapes))


def default_reader() -> CharacterReader:
    """The project's glyph network."""
    from recognise.glyphs.reader import GlyphReader  # noqa: PLC0415 - loads the network only when somebody reads

    return GlyphReader()


def _read_again(
    pieces: Pieces, ink: Ink, raster: Raster, reader: CharacterReader, shadows: Shadows | None
) -> tuple[list[Glyph], list[Glyph], Mask]:
    """The characters in the cells as first read and after further looks, and their pixels; in a picture without what is
    an edge of its shadows."""

    def sifted(glyphs: list[Glyph], mask: Mask) -> tuple[list[Glyph], Mask]:
        return without_edges(glyphs, mask, ink, shadows, raster) if shadows is not None else (glyphs, mask)

    first, characters = sifted(*_read_inside(pieces, ink, raster, reader))
    return first, *sifted(*looked_again(first, characters, ink, raster, reader))


def _read_inside(pieces: Pieces, ink: Ink, raster: Raster, reader: CharacterReader) -> tuple[list[Glyph], Mask]:
    """The characters in the cells, and their pixels. Those that touch a drawn line are looked for in further rounds, in
    cells that have none, and must be surer: in ink that is darker than lines, then with thin lines taken out; what is
    found so may be the first to tell how dark characters are."""
    allowed = labels_expected(raster.rows, raster.columns)
    blobs = [blob for blob in character_sized(pieces, raster) if _cell_under(blob, raster)]
    found = standing_in_cells(read_characters(blobs, pieces, ink.drawn, raster, reader, allowed))
    glyphs = numbers_in_cells(found, pieces, raster, ink.relative)
    mask = pieces.mask([c.blob for c in found], GROWN)
    seen = [c.blob for c in found]
    telling = set(allowed) - set(ROUND)
    dark = darkest(ink)

    def rounds() -> Iterator[tuple[Pieces, Grey]]:
        yield darker_pieces(dark, pieces.tones, raster, seen), dark
        yield crossed_pieces(ink.drawn, pieces, raster), ink.drawn
        if len(found) < ENOUGH <= len(seen):
            yield darker_pieces(dark, pieces.tones, raster, seen), dark

    for more, drawn in rounds():
        blobs = [blob for blob in more.blobs if _cell_under(blob, raster) and _is_new(blob, seen, raster)]
        read = read_characters(blobs, more, drawn, raster, reader, allowed)
        sure = [c for c in read if c.guesses[0].probability >= CROSSED and c.guesses[0].text in telling]
        sure = standing_in_cells(sure)
        glyphs += numbers_in_cells(sure, more, raster, ink.relative)
        mask |= more.mask([c.blob for c in sure], GROWN)
        seen += [c.blob for c in sure]
    return glyphs, mask


def _is_new(blob: Blob, seen: Iterable[Blob], raster: Raster) -> bool:
    """Whether a piece stands in a cell in which nothing was read, or only a total: what is much smaller, and no part of
    it."""
    cell = _cell_under(blob, raster)
    own = [other for other in seen if _cell_under(other, raster) == cell]
    return all(
        blob.height > TOTAL * other.height
        and not (
            blob.x <= other.x + other.width / 2 <= blob.x + blob.width
            and blob.y <= other.y + other.height / 2 <= blob.y + blob.height
        )
        for other in own
    )


def _cell_under(blob: Blob, raster: Raster) -> Cell | None:
    """The cell on which the middle of a piece lies."""
    return raster.cell_of(raster.to_cells(blob.x + blob.width / 2), raster.to_cells(blob.y + blob.height / 2))
