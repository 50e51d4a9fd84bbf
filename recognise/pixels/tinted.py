"""The tints of a grid by two readers: steps of colour across lattice lines, and the lattice network.

Light and print both darken the ground. Where one reader sees a tint and the other bare paper, a third look decides:
whether the dark ground ends on lattice lines (recognise/pixels/borders.py). Where the ground of whole cells
parts tinted from bare ones (recognise/pixels/by_depth.py), that has the last word; what is open is for a person.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from ingest.page import Colour
from recognise.evidence import Tint
from recognise.pixels.borders import Borders
from recognise.pixels.by_depth import Parted, Tints, by_depth, named, parted, same_ground
from recognise.pixels.chequered import chequered
from recognise.pixels.depths import Depths
from schema.cells import Cell

SURELY_BARE, SURELY = 0.02, 0.98
"""A tint less likely than the first to the network is shade to it, one likelier than the second is print."""
RATHER, PERHAPS = 0.5, 0.05
"""Cells of one tint are seen well or badly together: from the first on they belong to a sure one beside them, from the
second on where it then ends better on lattice lines."""

BARE, TINTED = 0.1, 0.8
"""Where the network is as sure as this, and colours say the same, both would have to err on the same cell."""
STEPS = 0.34
"""Share of a cell's border with bare cells at which smudges and lines may pass for a step: one side of three. A tint
ends on all sides."""
PAPER: Colour = (255, 255, 255)
FEWEST = 3
"""Cells of whose tint the network is sure, from which on their depths say how deep a tint is: less than those on the
few cells of a prize, one of which is in the light, say the borders of all of them together."""


def settled_tints(
    measured: Sequence[Tint],
    chance: Mapping[Cell, float],
    borders: Borders,
    squares: Collection[Cell] = (),
    depths: Depths | None = None,
) -> Tints:
    """The tints, and words on cells in doubt. `measured` are those that steps of colour show, `chance` is how likely
    a tint is to the network in each cell. In those of `squares` squares stand. What steps and network leave open, the
    `depths` of the cells tell."""
    seen = {tint.cell for tint in measured} | {cell for cell, likely in chance.items() if likely > RATHER}
    board = chequered(borders, _size(chance), seen)
    if board is not None:
        return _besides(board, seen, chance, borders)
    tints, notes = _by_borders(measured, chance, borders, squares)
    enough = SURELY if tints else RATHER
    if depths is None or sum(likely > enough for likely in chance.values()) < FEWEST:
        return tints, notes
    split = parted(depths, chance)
    if not tints:
        return _by_depth_alone(chance, split, borders), notes
    if split is None:
        return tuple(replace(tint, certain=False) for tint in tints), notes
    shaded = [cell for cell in chance if cell not in split.depths and depths.shows(cell)]
    tinted = {tint.cell for tint in tints}
    open_ones = [cell for cell in shaded if not _is_borne_out(cell, tinted, set(chance) - tinted, borders)]
    return by_depth(tints, notes, chance, split, open_ones)


def _by_borders(
    measured: Sequence[Tint], chance: Mapping[Cell, float], borders: Borders, squares: Collection[Cell]
) -> Tints:
    """The tints on whose borders steps, network and ground agree."""
    unseen = {tint.cell for tint in measured if chance[tint.cell] < SURELY_BARE} | _seen_nowhere(measured, chance)
    dark = _alone(unseen, measured, squares)
    shades = {cell for part in _parts(dark) if _may_be_tint(part, borders) for cell in part}
    notes = [f"the ground of {named(sorted(shades))} is dark, and was taken for shade"] if shades else []
    tints = {tint.cell: tint for tint in measured if tint.cell not in dark}
    for part in _parts(cell for cell, likely in chance.items() if likely > RATHER):
        if all(cell in tints or chance[cell] <= SURELY for cell in part):
            continue
        whole = borders.best(part, [cell for cell, likely in chance.items() if PERHAPS < likely <= RATHER])
        border = borders.around(whole, frame=False)
        if border is not None and border.is_tint:
            tints |= {cell: Tint(cell, border.colour, 1.0) for cell in whole}
        elif border is not None and not border.is_light:
            notes.append(f"perhaps {named(sorted(part))} are tinted")
    shown = {tint.cell for tint in measured}
    certain = not notes and _agree({tint.cell: tint.colour for tint in tints.values()}, chance, borders, shown)
    return tuple(replace(tints[cell], certain=certain) for cell in sorted(tints)), tuple(notes)


def _by_depth_alone(chance: Mapping[Cell, float], split: Parted | None, borders: Borders) -> tuple[Tint, ...]:
    """The tints whose borders drown in the grain of the paper: where the ground of whole cells parts all that the
    network rather takes for tinted from all others."""
    seen = {cell for cell, likely in chance.items() if likely > RATHER}
    if split is None or any(split.side(cell) is not (cell in seen) for cell in split.depths):
        return ()
    border = borders.around(seen, frame=False)
    return tuple(Tint(cell, border.colour if border else PAPER, 1.0, certain=False) for cell in sorted(seen))


def _size(cells: Iterable[Cell]) -> tuple[int, int]:
    last = max(cells)
    return last.row, last.column


def _besides(
    board: frozenset[Cell], seen: Collection[Cell], chance: Mapping[Cell, float], borders: Borders
) -> tuple[tuple[Tint, ...], tuple[str, ...]]:
    """The tints of a grid of which every other box is tinted, `board`: what else was `seen` must end on lattice lines
    in the boxes that are not."""
    whole = borders.around(board, frame=False)
    colours = dict.fromkeys(board, whole.colour if whole is not None else PAPER)
    notes = []
    white = set(chance) - board
    for part in _parts(white.intersection(seen)):
        border = borders.around(part, frame=False, among=white)
        if border is not None and border.is_tint and _sides(part, white) > 1:
            colours |= dict.fromkeys(part, border.colour)
        elif border is not None and not border.is_light and any(chance[cell] > RATHER for cell in part):
            notes.append(f"perhaps {named(sorted(part))} are tinted")
    certain = not notes and _agree(colours, chance, borders, set(colours))
    return tuple(Tint(cell, colours[cell], 1.0, certain=certain) for cell in sorted(colours)), tuple(notes)


def _sides(cells: Collection[Cell], white: Collection[Cell]) -> int:
    """On how many sides (of four) cells border on white ones: a fold along a lattice line darkens one side of it."""
    outside = set(white).difference(cells)
    beside = [(cell, other) for cell in cells for other in outside if cell.beside(other)]
    return len({(other.row - cell.row, other.column - cell.column) for cell, other in beside})


def _alone(dark: Collection[Cell], measured: Sequence[Tint], squares: Collection[Cell]) -> frozenset[Cell]:
    """Of the cells that the network takes for bare, those of a part in which it takes all for bare. A cell beside one
    of the same tint that it sees, with no step of colour between them, has that tint too. But what it sees in a cell
    that a square nearly fills may be that, and the ground there is measured on it."""
    shades = {tint.cell: tint.colour for tint in measured}
    seen = [tint.cell for tint in measured if tint.cell not in dark and tint.cell not in squares]
    left = set(dark)
    while seen:
        cell = seen.pop()
        joined = {other for other in left if other.beside(cell) and same_ground(shades[other], shades[cell])}
        left -= joined
        seen.extend(joined)
    return frozenset(left)


def _seen_nowhere(measured: Sequence[Tint], chance: Mapping[Cell, float]) -> set[Cell]:
    """The cells of large parts of one ground in no cell of which the network thinks a tint possible: it may be in doubt
    about one cell, and would see a tint in one of many."""
    parts = [part for part in _parts(tint.cell for tint in measured) if len(part) > FEWEST]
    return {cell for part in parts if all(chance[each] < PERHAPS for each in part) for cell in part}


def _agree(
    tinted: Mapping[Cell, Colour], chance: Mapping[Cell, float], borders: Borders, measured: Collection[Cell]
) -> bool:
    """Whether the readers tell tinted cells from bare ones alike, and none was near to another answer. A cell of which
    the network alone is in some doubt is bare where no step of ground parts it from bare cells beside it, and tinted
    where one does, all along, or where none parts it from a sure one. What it holds for the other rather, but not
    surely, the ground must show on both sides: against bare cells and against tinted ones. Of cells whose colour was
    not `measured` by itself the ground must show that they are of the tint."""
    bare = {cell for cell, likely in chance.items() if cell not in tinted and likely < BARE}
    sure = {cell for cell in tinted if chance[cell] > TINTED}

    def ends_there(cell: Cell) -> bool:
        border = borders.around({cell}, frame=False, among=bare)
        return border is not None and border.is_tint

    shown = sure | {cell for cell in tinted if chance[cell] > RATHER and ends_there(cell)}

    def is_within(cell: Cell) -> bool:
        """Whether no step of ground, up or down, parts a cell from one beside it that is surely tinted."""
        beside = [other for other in shown if other.beside(cell)]
        return any(_is_bare(cell, {other}, borders) and _is_bare(other, {cell}, borders) for other in beside)

    def is_parted(cell: Cell) -> bool:
        """Whether the ground is darker in all tinted cells beside a cell; true where there are none."""
        beside = [other for other in tinted if other.beside(cell)]
        steps = (borders.around({other}, frame=False, among={cell}) for other in beside)
        return all(step is not None and step.is_tint for step in steps)

    def is_agreed(cell: Cell, likely: float) -> bool:
        if cell in tinted and cell not in measured:
            return cell in sure and (ends_there(cell) or is_within(cell))
        if cell in tinted and likely > RATHER:
            return cell in sure or _is_one_of(cell, sure, tinted) or ends_there(cell)
        if cell in tinted:
            return likely > PERHAPS and ends_there(cell) and is_within(cell)
        plain = cell in bare or _is_bare(cell, bare, borders)
        return plain and (likely <= RATHER or (likely < 1 - PERHAPS and is_parted(cell)))

    return all(is_agreed(cell, likely) for cell, likely in chance.items())


def _is_borne_out(cell: Cell, tinted: Collection[Cell], bare: Collection[Cell], borders: Borders) -> bool:
    """Whether the ground at the borders of a cell, on which the edge of a shadow lies, says what it was taken for: a
    few of its sides may be in another light."""
    beside = [other for other in bare if other.beside(cell)]
    if cell not in tinted and not beside:
        border = borders.around(set(tinted), frame=False, among={cell})
        return border is not None and border.is_tint
    if cell not in tinted:
        return _is_bare(cell, bare, borders) or any(_is_bare(cell, {other}, borders) for other in beside)
    border = borders.around({cell}, frame=False, among=bare)
    return border is None or not border.is_light


def _is_one_of(cell: Cell, sure: Collection[Cell], measured: Mapping[Cell, Colour]) -> bool:
    return any(other.beside(cell) and same_ground(measured[other], measured[cell]) for other in sure)


def _is_bare(cell: Cell, bare: Collection[Cell], borders: Borders) -> bool:
    border = borders.around({cell}, frame=False, among=bare)
    return border is not None and border.is_light and border.seen <= STEPS


def _may_be_tint(cells: Collection[Cell], borders: Borders) -> bool:
    border = borders.around(cells, frame=True)
    return border is None or not border.is_light


def _parts(cells: Iterable[Cell]) -> Iterator[frozenset[Cell]]:
    """Cells that hang together by their sides."""
    left = set(cells)
    while left:
        part, frontier = set[Cell](), {min(left)}
        while frontier:
            part |= frontier
            left -= frontier
            frontier = {cell for cell in left if any(cell.beside(other) for other in frontier)}
        yield frozenset(part)
