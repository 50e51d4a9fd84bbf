"""The proof: every grid on its pages, as its ink reads when the source says what the marks mean."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from clueprint.compare.settle import settled
from clueprint.compare.source import digits_of, house_of, marks_of
from ingest.errors import Unreadable
from ingest.page import Page
from ingest.source import read_source
from recognise.concluding import fault_of_picture, ink_doubts, sheet_of
from recognise.draft import Draft
from recognise.evidence import Words
from recognise.interpret import interpret
from recognise.looking import Looked, look_upright
from recognise.pipeline import with_words
from recognise.place import corners, to_page
from schema.puzzle import Puzzle


@dataclass(frozen=True, slots=True)
class ProofGrid:
    """One grid of the proof. `draft` is what its ink says, its marks meant as in the source; what the printed rules say
    of them is in `words` and compared as text. `by_rules` is the same ink as its own printed rules alone explain it,
    None where there are none. `fault` says why a picture of it cannot be read at all."""

    page: Page
    looked: Looked
    words: Words
    draft: Draft
    fault: str | None = None
    by_rules: Draft | None = None

    def on_page(self, polygon: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
        """A polygon in cells as it lies on the page."""
        return tuple(to_page(self.page, self.looked.flat, polygon))

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """The corners of the grid on the page, clockwise from its own top left."""
        return tuple(corners(self.page, self.looked.lattice))


@dataclass(frozen=True, slots=True)
class Proof:
    """All grids of the proof, its first page, and the pages of it that could not be read."""

    grids: tuple[ProofGrid, ...]
    unreadable: tuple[Unreadable, ...]
    first: Page | None = None


def read_proof(path: Path, source: Puzzle) -> Proof:
    """Read every page of a proof. Raises Unreadable where none of it can be read."""
    grids: list[ProofGrid] = []
    faults: list[Unreadable] = []
    first: Page | None = None
    for page in read_source(path):
        if isinstance(page, Unreadable):
            faults.append(page)
            continue
        first = first or page
        grids += grids_of(page, source)
    if faults and first is None:
        raise faults[0]
    return Proof(tuple(grids), tuple(faults), first)


def grids_of(page: Page, source: Puzzle) -> Iterator[ProofGrid]:
    """The grids of one page."""
    return (as_in(source, seen) for seen in seen_on(page))


@dataclass(frozen=True, slots=True)
class Seen:
    """One grid of a page, the right way up, before anybody says what its marks mean."""

    page: Page
    looked: Looked
    words: Words


def seen_on(page: Page) -> list[Seen]:
    """Every grid on a page that may be a puzzle."""
    upright, looked = look_upright(page)
    return [Seen(upright, grid, words) for grid, words in with_words(upright, looked)]


def as_in(source: Puzzle, seen: Seen) -> ProofGrid:
    """A grid with its marks meant as in a source."""
    grid, words = seen.looked, seen.words
    size = (grid.lattice.rows, grid.lattice.columns)
    known = digits_of(source) if size == (source.grid.rows, source.grid.columns) else None
    draft = interpret(grid.evidence, grid.boxes, None, words, house_of(source), known)
    fault = fault_of_picture(grid)
    if fault is None:
        # The guards that look at the ink pass over marks that nobody has read.
        read = settled(draft, marks_of(source)).draft
        draft = draft.doubting(*grid.disagreements, *ink_doubts(grid, read))
    sheet = sheet_of(grid, words)
    by_rules = None if sheet is None else interpret(grid.evidence, grid.boxes, sheet, words, (), known)
    return ProofGrid(seen.page, grid, words, draft, fault, by_rules)
