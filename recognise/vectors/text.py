"""The text layer in and around one grid: characters put together to numbers, running text and other grids left out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from ingest.page import Box, Page
from ingest.pdf_alone import FREE
from recognise.evidence import Glyph, Guess, Shape
from recognise.geometry import holds, middle
from recognise.glyphs.window import Grey, window
from recognise.picture import Reader
from recognise.vectors.beside import (
    LEAST_CLUE,
    RING,
    Tables,
    clues_among,
    is_behind_words,
    name_at,
    names_of_lines,
    ring_of,
)
from recognise.vectors.candidates import candidates
from recognise.vectors.characters import MINUS, SURE, is_bar_alone, read_alone
from recognise.vectors.copies import without_halos, without_shadows
from recognise.vectors.ledger import to_account_for
from recognise.vectors.letters import TEXT_LAYER, Mark, Number, box_of, glyph_of, in_grid, is_upright, on_grid
from recognise.vectors.numbers import (
    as_lines,
    as_numbers,
    by_arrow,
    is_beside_arrow,
    is_page_number,
    is_running,
    phrases,
)
from recognise.vectors.place import Placement
from recognise.vectors.turned import POINTERS, arrows_beside, turned_sign

AMOUNT, POINTS = frozenset("%$€£"), frozenset(".,:")
"""What prices, shares and times hold, anywhere and between their figures, and no clue."""

HEADLINE = 1.0
"""In cells: the height of the tallest clue."""


@dataclass(frozen=True, slots=True)
class Text:
    """Numbers and signs of a grid, and characters that do not stand upright as shapes."""

    glyphs: tuple[Glyph, ...]
    shapes: tuple[Shape, ...]
    phrases: tuple[Box, ...] = ()
    """Boxes of words beside the grid, with the numbers in them; of page numbers, and of letters that name its rows or
    columns."""
    characters: tuple[Glyph, ...] = ()
    """Those for which the puzzle must account."""


def grid_text(
    page: Page, placement: Placement, others: Sequence[Box], arrows: Sequence[Box], reader: Reader | None = None
) -> Text:
    """The characters that belong to a grid. In cells: `others` are boxes of other grids and tables nearby, `arrows`
    boxes of small marks beside the grid, which make the numbers at them clues. `reader` reads characters that the file
    gives no meaning."""
    every = list(_marks(page, placement, buried=False))
    marks = [mark for mark in every if not any(holds(box, mark.middle) for box in others)]
    marks = without_shadows(marks)
    marks = without_halos(_named(marks, page, placement, reader) if reader else marks)
    pointers = arrows_beside([mark for mark in marks if not in_grid(mark, placement)], page, placement)
    arrows = [*arrows, *(shape.box for shape in pointers)]
    marks = [mark for mark in marks if not (mark.glyph.text in POINTERS and mark.box in arrows)]
    inside = on_grid(marks, placement)
    taken = {id(mark) for mark in inside}
    tiny = candidates(inside, placement)
    inside = [mark for mark in inside if not any(mark is one for one in tiny)]
    around = [mark for mark in marks if mark.size >= LEAST_CLUE and id(mark) not in taken]
    numbers = as_numbers([mark for mark in inside if is_upright(mark, page)], placement.columns)
    lines = as_lines(around)
    clues, amounts, tabled = _numbers_beside(around, lines, arrows, page, placement)
    numbers += clues
    turned = [mark for mark in inside if not is_upright(mark, page)]
    shapes = [*pointers, *(turned_sign(mark, page) for mark in turned)]
    # Only pixels tell what a character is whose font has no mapping to Unicode.
    unknown = [number for number in numbers if not all(mark.glyph.text for mark in number)]
    shapes += [Shape("glyph-path", box_of(number), number[0].glyph.colour, "vector") for number in unknown]
    known = (_with_looks(number, page) for number in numbers if number not in unknown)
    folios = [line for line in lines if is_page_number(line)]
    names = names_of_lines([mark for mark in marks if not in_grid(mark, placement)], placement)
    words = [*phrases(around), *folios, *names, *amounts, *tabled, *([mark] for mark in tiny)]
    apart = [mark for mark in every if any(holds(box, mark.middle) for box in others)]
    apart += [mark for number in (*folios, *names, *amounts) for mark in number]
    every = [mark for mark in every if not any(mark is one for one in tiny)]
    characters = tuple(to_account_for(every, apart, placement, list(_marks(page, placement, buried=True))))
    return Text(tuple(known), tuple(shapes), tuple(map(box_of, words)), characters)


def _numbers_beside(
    around: Sequence[Mark], lines: Sequence[Sequence[Mark]], arrows: Sequence[Box], page: Page, placement: Placement
) -> tuple[list[Number], list[Number], list[Number]]:
    """The numbers beside a grid among the marks `around` it, of which the page's `lines` of text are made: its clues,
    amounts that belong to words or are set as headlines, and numbers of tables."""
    loose = [mark for line in lines if not (is_running(line) or is_page_number(line)) for mark in line]
    loose += [mark for line in lines if is_running(line) for mark in _at_its_end(line, arrows)]
    beside = as_numbers([mark for mark in loose if is_upright(mark, page)], placement.columns)
    # What holds a number is its frame.
    bare = [box for box in arrows if not any(holds(box, mark.middle) for mark in loose)]
    beside = [part for number in beside for part in by_arrow(number, bare, beside)]
    clues = clues_among(beside, placement, arrows)
    running = [box_of(line) for line in lines if is_running(line)]
    amounts = [
        clue
        for clue in clues
        if _is_amount(clue, around) or _is_headline(clue) or is_behind_words(clue, running, clues, placement)
    ]
    tables = Tables(around, loose, placement)
    tabled = [number for number in beside if number not in amounts and tables.hold(number)]
    return [clue for clue in clues if clue not in amounts and clue not in tabled], amounts, tabled


def _with_looks(number: Number, page: Page) -> Glyph:
    """A number as evidence, with what its characters look like."""
    looks = tuple(picture for mark in number if (picture := _upright(mark, page)) is not None)
    return replace(glyph_of(number), alone=looks if len(looks) == len(number) else ())


def _upright(mark: Mark, page: Page) -> Grey | None:
    """What a character looks like on the page turned to be read; None where that is not known."""
    picture = mark.glyph.picture
    return None if picture is None else np.ascontiguousarray(np.rot90(np.asarray(picture, np.uint8), -page.turned))


def _at_its_end(line: Sequence[Mark], arrows: Sequence[Box]) -> Sequence[Mark]:
    """The number that a line of text seems to begin or end with, because the text stands as close beside it as its own
    words do: set in another fount, and beside a little arrow."""
    for end in (line, line[::-1]):
        _, alike = next(groupby(end, key=lambda mark: mark.glyph.font))
        own = list(alike)
        if all(mark.glyph.text.isdigit() for mark in own) and is_beside_arrow(own, arrows):
            return own
    return []


def _is_amount(number: Number, around: Iterable[Mark]) -> bool:
    """Whether a number beside the grid is a price, a share or a time."""
    left, top, right, bottom = box_of(number)
    within = [m.glyph.text for m in around if left < m.middle[0] < right and top < m.middle[1] < bottom + m.size / 2]
    return any(mark.glyph.text in AMOUNT for mark in number) or not POINTS.isdisjoint(within)


def _is_headline(number: Number) -> bool:
    """Whether a number beside the grid is set larger than its cells are, as the day of a calendar or a price is."""
    _, top, _, bottom = box_of(number)
    return bottom - top > HEADLINE


def _marks(page: Page, placement: Placement, *, buried: bool) -> Iterable[Mark]:
    """The characters on a grid and around it that are seen, or those that are `buried` under something."""
    reach = RING + 3
    glyphs = page.vectors.glyphs if page.vectors else ()
    written = [g for g in glyphs if (bool(g.buried) if buried else g.visible) and not g.as_path]
    for glyph, box in zip(written, placement.boxes([glyph.box for glyph in written]), strict=True):
        x, y = middle(box)
        if -reach < x < placement.columns + reach and -reach < y < placement.rows + reach:
            yield Mark(glyph, box, glyph.size / placement.cell)


def _named(marks: Sequence[Mark], page: Page, placement: Placement, reader: Reader) -> list[Mark]:
    """Marks, those without a meaning read by their looks as far as that is sure."""
    pictures = {
        index: picture
        for index, mark in enumerate(marks)
        if not mark.glyph.text
        and is_upright(mark, page)
        and (in_grid(mark, placement) or mark.size >= LEAST_CLUE)
        and (picture := _upright(mark, page)) is not None
    }
    unnamed, crops, bars = list(pictures), [], []
    for picture in pictures.values():
        height, width = picture.shape
        crops.append(window(picture, (FREE, FREE, width - FREE, height - FREE)))
        bars.append(is_bar_alone(picture[FREE:-FREE, FREE:-FREE]))
    read = read_alone(crops, [marks[i].middle for i in unnamed], (placement.rows, placement.columns), reader)
    names = _letters_of_lines([marks[index] for index in unnamed], crops, placement, reader)
    read = [names.get(marks[index].box, guesses) for index, guesses in zip(unnamed, read, strict=True)]
    read = [(MINUS,) if bar else guesses for guesses, bar in zip(read, bars, strict=True)]
    named = list(marks)
    for index, guesses in zip(unnamed, read, strict=True):
        if guesses and guesses[0].text and guesses[0].probability >= SURE:
            mark = marks[index]
            named[index] = replace(mark, glyph=replace(mark.glyph, text=guesses[0].text), guesses=guesses)
    return named


def _letters_of_lines(
    marks: Sequence[Mark], crops: Sequence[Grey], placement: Placement, reader: Reader
) -> dict[Box, tuple[Guess, ...]]:
    """By their boxes, the marks that name rows or columns by their looks: read as letters, which clues are not."""
    rings = (ring_of([mark], placement) for mark in marks)
    beside = [(mark, crop) for mark, crop, ring in zip(marks, crops, rings, strict=True) if ring and ring.away <= RING]
    free = reader.read([crop for _, crop in beside]) if beside else []
    letters = [
        replace(mark, glyph=replace(mark.glyph, text=guesses[0].text))
        for (mark, _), guesses in zip(beside, free, strict=True)
        if guesses
    ]
    named = names_of_lines(letters, placement)
    return {mark.box: (Guess(name_at(mark, placement), TEXT_LAYER),) for (mark,) in named}
