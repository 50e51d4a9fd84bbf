"""The whole way on real pages: what is read, what is doubted, whichever way up the page lies."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from fixtures.bench.places import PRESS
from fixtures.bench.same import differences
from recognise import looking, pipeline
from recognise.draft import Doubt, Item
from recognise.evidence import Words
from recognise.looking import look_again
from recognise.marks.spoken import SILENT
from recognise.pipeline import PageReading, read_page
from recognise.place import corners
from recognise.plausible import Judgement
from recognise.report import reading_of
from schema.cells import Cell
from schema.files import load_puzzle
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.evidence_maker import glyph
from tests.recognise.page_files import page_in, read_in

SCAN = PRESS / "quiet-ledger-scan.jpg"


@cache
def _scan_read() -> PageReading:
    """The scan as it is, read once for all that is compared with it."""
    return read_in(SCAN)


def _turned_file(quarters: int, folder: Path) -> Path:
    picture = Image.open(SCAN)
    path = folder / "turned.png"
    Image.fromarray(np.rot90(np.asarray(picture), -quarters)).save(path)
    return path


@pytest.mark.slow
@pytest.mark.parametrize("quarters", [1, 2])
def test_a_page_on_its_side_or_head_is_read_as_it_stands(quarters: int, tmp_path: Path) -> None:
    expected, found = _scan_read(), read_in(_turned_file(quarters, tmp_path))
    assert len(found.results) == 1
    ours, theirs = found.results[0].proven.puzzle, expected.results[0].proven.puzzle
    assert ours is not None
    assert theirs is not None
    assert differences(ours, theirs) == []
    # The grid's own top left comes first among the corners, wherever it lies on the page as displayed.
    there = corners(expected.page, expected.results[0].looked.lattice)
    width, height = expected.page.frame.width, expected.page.frame.height
    moved = {1: [(height - y, x) for x, y in there], 2: [(width - x, height - y) for x, y in there]}[quarters]
    assert np.abs(np.array(reading_of(found.page, found.results[0], "x").corners) - moved).max() < 3


@pytest.mark.slow
@pytest.mark.parametrize("name", ["harbour-lights", "quiet-ledger", "winding-mill"])
def test_a_printed_pdf_is_read_exactly_and_proved(name: str) -> None:
    (result,) = read_in(PRESS / f"{name}.pdf").results
    assert result.proven.puzzle is not None
    assert differences(result.proven.puzzle, load_puzzle(PRESS / f"{name}.puzzle.json")) == []
    assert [doubt.why for doubt in result.proven.draft.doubts] == []
    assert result.clean


@pytest.mark.slow
def test_marks_that_the_paths_do_not_show_are_read_from_the_picture() -> None:
    page = page_in(PRESS / "harbour-lights.pdf")
    assert page.vectors is not None
    grey = (204, 204, 204)
    black = tuple(path for path in page.vectors.paths if grey not in (path.stroke, path.fill))
    assert len(black) < len(page.vectors.paths)
    (result,) = read_page(replace(page, vectors=replace(page.vectors, paths=black))).results
    assert result.proven.puzzle is not None
    assert differences(result.proven.puzzle, load_puzzle(PRESS / "harbour-lights.puzzle.json")) == []


@pytest.mark.slow
def test_marks_are_read_once_where_the_rules_are_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The picture of what a PDF draws is looked at when the page's words have been read."""
    looked, guided = [], replace(SILENT, links=frozenset(("LINE",)))
    seen = SimpleNamespace(stages=object(), spoken=guided, evidence=None, flat=None, lattice=None)
    monkeypatch.setattr(looking, "with_marks", lambda *_: looked.append(True))
    monkeypatch.setattr(looking, "_looked", lambda *_: "again")
    assert look_again(seen, guided) is seen
    assert not looked
    assert look_again(SimpleNamespace(**{**vars(seen), "spoken": SILENT}), guided) == "again"
    assert looked == [True]


def test_a_blot_on_a_page_is_a_query() -> None:
    page = page_in(SCAN)
    (before,) = _scan_read().results
    taken = set(before.proven.draft.givens)
    empty = next(cell for cell in before.proven.draft.grid.cells() if cell not in taken)
    points = before.looked.lattice.points
    x, y = points[empty.row - 1 : empty.row + 1, empty.column - 1 : empty.column + 1].reshape(-1, 2).mean(axis=0)
    reach = 0.12 * np.linalg.norm(points[0, 1] - points[0, 0])
    ys, xs = np.mgrid[: page.image.shape[0], : page.image.shape[1]]
    page.image[(xs - x) ** 2 + (ys - y) ** 2 < reach**2] = 30
    (after,) = read_page(page).results
    assert not after.clean
    assert any(doubt.where or doubt.item is not None for doubt in after.proven.draft.doubts)


@pytest.mark.slow
@pytest.mark.parametrize(("taken_for", "rules", "puzzles"), [
    ("a table", "Place 1 to 9 in every row.", 1), ("a table", "Prices in pence.", 0), ("a table", None, 0),
    ("a filled grid", "Place 1 to 9 in every row.", 0),
])  # fmt: skip
def test_what_looks_like_a_table_is_a_puzzle_where_the_page_prints_its_rules(
    taken_for: str, rules: str | None, puzzles: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pipeline, "judge", lambda _: Judgement(False, taken_for))
    monkeypatch.setattr(pipeline, "page_words", lambda _, grids: [Words(rules_text=rules) for _ in grids])
    reading = _scan_read()
    found = pipeline.with_words(reading.page, [result.looked for result in reading.results])
    assert len(found) == puzzles


@pytest.mark.parametrize("moved", [0, 100], ids=["its neighbour's", "its own"])
def test_a_pale_grid_with_no_characters_but_those_of_the_one_beside_it_shows_through(
    moved: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pipeline, "page_words", lambda _, grids: [Words() for _ in grids])
    reading = _scan_read()
    front = reading.results[0].looked
    edges = front.evidence.edges
    pale = replace(
        edges,
        horizontal_darkness=0.05 * edges.horizontal_darkness,
        vertical_darkness=0.05 * edges.vertical_darkness,
    )
    back = replace(front, evidence=replace(front.evidence, edges=pale))
    back = replace(back, flat=replace(front.flat, map_x=front.flat.map_x + np.float32(moved * front.flat.cell)))
    found = pipeline.with_words(reading.page, [front, back])
    assert len(found) == (2 if moved else 1)


def test_a_mark_that_nobody_understands_is_more_to_do_than_doubts_about_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of two readings that are both asked about, the one that understands every mark is taken."""
    (result,) = _scan_read().results
    draft = result.proven.draft
    doubtful = replace(draft, doubts=tuple(Doubt(f"whether {n} is right was hard to tell") for n in range(3)))
    mark = UnreadMark(shape="line", cells=(Cell(1, 1), Cell(1, 2)))
    unread = replace(draft, items=(*draft.items, Item((mark,), None, 1.0, "shape")), doubts=(Doubt("a line"),))
    pixels, drawn = (
        replace(result, clean=False, proven=replace(result.proven, draft=one)) for one in (doubtful, unread)
    )
    monkeypatch.setattr(pipeline, "drawn_again", lambda page, lattice: drawn.looked)
    monkeypatch.setattr(pipeline, "conclude", lambda looked, words, house: drawn)
    assert pipeline._best(_scan_read().page, pixels, Words(), ()) is pixels


def test_a_figure_of_the_text_layer_that_both_readings_lost_is_asked_about() -> None:
    """Paths and picture say the same, and neither has the clue that something was painted over in part."""
    (result,) = _scan_read().results
    figure, path = (glyph(-0.5, 0.5, *text, size=0.4, how="vector") for text in ([("2", 1.0)], []))
    evidence = replace(result.looked.evidence, characters=(figure, path))
    drawn = replace(result, looked=replace(result.looked, evidence=evidence))
    asked = pipeline._with_what_is_missed(result, drawn, agreed=True)
    new = [doubt.why for doubt in asked.proven.draft.doubts if doubt not in result.proven.draft.doubts]
    assert len(new) == 1
    assert "“2”" in new[0]
    assert not asked.clean


def test_names_that_only_the_paths_show_are_no_figures_that_were_lost() -> None:
    """In the picture they are painted over before anything is read."""
    (result,) = _scan_read().results
    rows = result.looked.evidence.rows
    names = tuple(glyph(-0.5, row + 0.5, (str(row + 1), 1.0), size=0.4, how="vector") for row in range(rows))
    evidence = replace(result.looked.evidence, glyphs=names, characters=names)
    drawn = replace(result, looked=replace(result.looked, evidence=evidence))
    asked = pipeline._with_what_is_missed(result, drawn, agreed=True)
    assert asked.proven.draft.doubts == result.proven.draft.doubts
