"""A page to the readings of its puzzles: every step in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from ingest.page import Box, Image, Page
from recognise.concluding import Result, conclude, sheet_of
from recognise.doubt.ledger import not_accounted_for, unexplained
from recognise.draft import Doubt, Draft, Polygon
from recognise.evidence import Evidence, Glyph, Words
from recognise.explain import overlay
from recognise.geometry import bounds, overlap
from recognise.grids import explain_grids
from recognise.interpret.glyphs import names_beside
from recognise.interpret.spoken import spoken_of
from recognise.looking import Looked, drawn_again, look, look_upright
from recognise.place import to_page
from recognise.plausible import A_TABLE, is_of_the_back, judge
from recognise.rules import Statement
from recognise.rules.reader import read_rules
from recognise.stated import is_same, says_more
from recognise.text import page_words
from schema.kinds.unread_mark import UnreadMark

ONLY_DRAWN = "the file draws something here that was not seen in its picture"


@dataclass
class PageReading:
    """All that one page gave. `page` is the page the right way up; `pictures` is filled on request only."""

    page: Page
    results: list[Result] = field(default_factory=list)
    pictures: dict[str, Image] = field(default_factory=dict)


def read_page(page: Page, *, explain: bool = False, house: Sequence[Statement] = ()) -> PageReading:
    """Read every puzzle on a page, top to bottom, left to right; a page without one gives no results. `house` is what
    the house style of the publication says of marks."""
    page, looked = look_upright(page)
    reading = PageReading(page)
    for grid, words in with_words(page, looked):
        reading.results.append(_best(page, conclude(grid, words, house), words, house))
    if explain:
        reading.pictures["grids"] = explain_grids(page.image, [grid.lattice for grid in looked])
        shown = [(result.looked.flat, result.proven.draft) for result in reading.results]
        reading.pictures["reading"] = overlay(page, shown)
    return reading


def _best(page: Page, result: Result, words: Words, house: Sequence[Statement]) -> Result:
    """What a grid means. Where something in it is to be looked at, the other reader has a look at it as well: a picture
    that a program rendered is drawn again as paths, and what a PDF draws is read as a picture."""
    hand = result.looked.hand
    if result.clean or hand.pencilled or hand.doubts:
        # Drawn again, what somebody wrote would pass for print.
        return result
    if result.looked.by_vectors:
        return _or_as_picture(page, result, words, house) if _asks_about_marks(result) else result
    drawn = drawn_again(page, result.looked.lattice)
    other = conclude(drawn, words, house) if drawn is not None else result
    return min(result, other, key=_left_to_do)


def _asks_about_marks(result: Result) -> bool:
    """Whether more is in doubt than the words of the rules."""
    doubts = result.proven.draft.doubts
    return not result.proven.is_unique or any(doubt.item is not None or doubt.where is not None for doubt in doubts)


def _or_as_picture(page: Page, drawn: Result, words: Words, house: Sequence[Statement]) -> Result:
    """A grid that a PDF draws in a way of its own (by hand, in many small pieces, as shapes without a name), read as
    its picture shows it, if that is proved and leaves less to look at. What the paths prove stands, unless the picture
    says the same with less doubt, or says more where the paths leave marks that nobody understands."""
    spoken = spoken_of(sheet_of(drawn.looked, words), house)
    seen = look(replace(page, vectors=None), drawn.looked.lattice, spoken)
    if seen.hand.pencilled:
        return drawn
    pictured = conclude(seen, words, house)
    if not pictured.proven.is_unique or _left_to_do(drawn) <= _left_to_do(pictured):
        return drawn
    agreed = drawn.proven.is_unique and not says_more(pictured.proven.puzzle, drawn.proven.puzzle)
    if agreed and not is_same(pictured.proven.puzzle, drawn.proven.puzzle):
        return drawn
    return _with_what_is_missed(pictured, drawn, agreed=agreed)


def _with_what_is_missed(pictured: Result, drawn: Result, *, agreed: bool) -> Result:
    """What the picture shows, with questions about what only the paths have. Where both are proved and say the same
    (`agreed`), only figures of the text layer are left to be asked about: both may have lost one."""
    draft, seen = pictured.proven.draft, drawn.looked.evidence
    unseen = [] if agreed else _unseen(drawn.proven.draft, draft)
    told = tuple(character for character in seen.characters if character.text or not agreed)
    # In a picture names of rows and columns are painted over before anything is read.
    glyphs = (*pictured.looked.evidence.glyphs, *names_beside(seen.glyphs, (seen.rows, seen.columns)))
    shown = replace(pictured.looked.evidence, characters=told, glyphs=glyphs)
    missed = [Doubt(ONLY_DRAWN, where=where) for where in unseen]
    missed += map(unexplained, not_accounted_for(draft, shown))
    return replace(
        pictured,
        proven=replace(pictured.proven, draft=draft.doubting(*missed)),
        clean=pictured.clean and not missed,
    )


def _unseen(drawn: Draft, pictured: Draft) -> list[Polygon]:
    """Where the one draft has a mark and the other has nothing."""
    known = [bounds(item.where) for item in pictured.items if item.where is not None]
    return [
        item.where
        for item in drawn.items
        if item.where is not None and not any(overlap(bounds(item.where), box) for box in known)
    ]


def _left_to_do(result: Result) -> tuple[bool, bool, int, int]:
    """How far a reading is from being clean. A mark of which nobody knows what it means is more than any number of
    doubts about marks that are understood."""
    proof, draft = result.proven.proof, result.proven.draft
    unread = sum(isinstance(constraint, UnreadMark) for constraint in draft.constraints)
    return not result.clean, proof is None or proof.solution is None, unread, len(draft.doubts)


def with_words(page: Page, looked: Sequence[Looked]) -> list[tuple[Looked, Words]]:
    """The grids of a page that are puzzles, each with the words that the page prints for it. Marks that pass for
    characters can make a puzzle look like a table: where a page has no other, its words tell."""
    judged = [(grid, judge(grid.evidence)) for grid in looked]
    plausible = [grid for grid, judgement in judged if judgement.is_puzzle]
    seen = [grid.evidence for grid in plausible]
    puzzles = [grid for grid in plausible if not is_of_the_back(_own_characters(page, grid, plausible), seen)]
    if puzzles:
        return _beside_words(page, puzzles)
    tables = [grid for grid, judgement in judged if judgement.taken_for == A_TABLE]
    return [(grid, words) for grid, words in _beside_words(page, tables) if _is_told_of(words)]


def _own_characters(page: Page, grid: Looked, others: Iterable[Looked]) -> Evidence:
    """What was seen on a grid, without the characters that another grid has in or beside it as well."""
    taken = [box for other in others if other is not grid for _, box in _on_page(page, other)]
    own = [glyph for glyph, box in _on_page(page, grid) if not any(overlap(box, there) for there in taken)]
    return replace(grid.evidence, glyphs=tuple(own))


def _on_page(page: Page, grid: Looked) -> Iterator[tuple[Glyph, Box]]:
    """The characters of a grid with their boxes on the page."""
    for glyph in grid.evidence.glyphs:
        x0, y0, x1, y1 = glyph.box
        yield glyph, bounds(to_page(page, grid.flat, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))


def _beside_words(page: Page, grids: Sequence[Looked]) -> list[tuple[Looked, Words]]:
    words = page_words(page, [grid.lattice.points for grid in grids]) if grids else []
    return list(zip(grids, words, strict=True))


def _is_told_of(words: Words) -> bool:
    """Whether the words say which digits go into a grid."""
    return words.rules_text is not None and read_rules(words.rules_text).digits is not None
