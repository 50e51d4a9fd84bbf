"""Cells filled with a pattern of dots or strokes, told from cells with marks in them."""

from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.doubt.of_pattern import not_of_pattern
from recognise.evidence import Disc, Shape, Tint
from recognise.looking import Looked, with_patterns
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.pixels.patterned import patterned
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet
from tests.recognise.evidence_maker import evidence, trace

GREY, BLACK = (120, 120, 120), (0, 0, 0)


def _level(sheet: Sheet) -> np.ndarray:
    """Ink without lattice lines, which the sheet is drawn without."""
    return np.asarray(1 - sheet.image.max(axis=2) / 255, np.float32)


def _ink(sheet: Sheet) -> SimpleNamespace:
    return SimpleNamespace(drawn=_level(sheet), level=_level(sheet), floor=0.05)


def _bare() -> Sheet:
    sheet = Sheet()
    sheet.image[:] = 255
    return sheet


def _dotted(sheet: Sheet, cell: Cell, step: float = 0.27) -> None:
    for down in np.arange(0.12, 0.95, step):
        for right in np.arange(0.12, 0.95, step):
            sheet.circle((cell.column - 1 + right, cell.row - 1 + down), 0.03, GREY, 0)


def _hatched(sheet: Sheet, cell: Cell, shade: tuple[int, int, int] = GREY, width: float = 0.02) -> None:
    x, y = cell.column - 1, cell.row - 1
    for along in np.arange(0.2, 2.0, 0.2):
        low, high = max(0.0, along - 1), min(1.0, along)
        sheet.line((x + low, y + high), (x + high, y + low), shade, width)


@pytest.mark.parametrize("draw", [_dotted, _hatched])
def test_cells_full_of_dots_or_strokes_are_patterned(draw) -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(5, 3))
    for cell in cells:
        draw(sheet, cell)
    sheet.circle(Cell(4, 4).centre, 0.36, GREY)
    sheet.path((Cell(1, 4), Cell(2, 5), Cell(3, 4)), GREY, 0.3)
    assert patterned(_level(sheet), 0.05, Raster.of(sheet.flat)) == set(cells)


@pytest.mark.parametrize("hatched", [(), (Cell(2, 2), Cell(2, 3), Cell(5, 3))], ids=["grain alone", "a pattern"])
def test_grain_of_a_photo_is_no_pattern(hatched: tuple[Cell, ...]) -> None:
    sheet = Sheet()
    for cell in hatched:
        _hatched(sheet, cell)
    grain = cv2.GaussianBlur(np.random.default_rng(1).normal(0, 50, sheet.image.shape[:2]), (0, 0), 0.8)
    sheet.image[:] = np.clip(sheet.image * 0.85 + grain[..., None], 0, 255)
    ink = measure_ink(sheet.flat, measure_ground(sheet.flat))
    nothing = SimpleNamespace()
    grid = Looked(nothing, sheet.flat, nothing, evidence(6, 6), (), ink)  # type: ignore[arg-type]
    assert {tint.cell for tint in with_patterns(grid).evidence.tints} == set(hatched)


def test_one_cell_full_of_ink_is_a_smudge() -> None:
    sheet = _bare()
    _dotted(sheet, Cell(2, 2))
    assert patterned(_level(sheet), 0.05, Raster.of(sheet.flat)) == frozenset()


def test_a_large_character_fills_no_cell_and_takes_nothing_from_a_pattern() -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(5, 3))
    written = [(x + 0.3, y + 0.15, x + 0.7, y + 0.85) for x, y in ((1, 1), (4, 3), (0, 5))]
    for x0, y0, x1, y1 in written:
        for ends in (((x0, y0), (x1, y0)), ((x0, y0), (x0, y1)), ((x1, y0), (x1, y1)), ((x0, y1), (x1, y1))):
            sheet.line(*ends, GREY, 0.06)
        sheet.line((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2), GREY, 0.06)
    for cell in cells:
        _hatched(sheet, cell)
    raster = Raster.of(sheet.flat)
    assert patterned(_level(sheet), 0.05, raster) > set(cells)
    assert patterned(_level(sheet), 0.05, raster, written) == set(cells)
    wide = [(0.8, 0.8, 2.2, 2.2), (2.0, 4.0, 3.0, 5.0)]
    assert patterned(_level(sheet), 0.05, raster, [*written, *wide]) == set(cells), "strokes of the pattern are in them"


def test_a_character_that_strokes_run_into_leaves_enough_of_a_pattern_where_others_have_one() -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(5, 3), Cell(3, 5))
    for cell in cells:
        _hatched(sheet, cell)
    sheet.line((3.75, 3.05), (3.75, 3.95), GREY, 0.1)
    written = [(4.02, 2.1, 4.6, 2.95), (3.02, 3.1, 3.6, 3.95)]
    raster = Raster.of(sheet.flat)
    assert patterned(_level(sheet), 0.05, raster, written) == set(cells), "a thick stroke beside a figure is no pattern"


def test_strokes_of_a_pattern_are_no_ink_that_nothing_explains() -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(2, 3), Cell(5, 3))
    for cell in cells:
        _hatched(sheet, cell)
    sheet.circle((2.5, 4.5), 0.15, (60, 60, 60))
    sheet.line((2.7, 1.5), (3.3, 1.5), GREY, 0.02)
    places = {"strokes": (1.2, 1.1, 2.8, 1.9), "a mark": (2.3, 4.3, 2.7, 4.7), "beside": (2.5, 1.2, 3.3, 1.8)}
    left = not_of_pattern(places.values(), cells, _level(sheet), Raster.of(sheet.flat), ())
    assert left == [places["a mark"], places["beside"]]
    sheet.circle((2.5, 4.5), 0.15, GREY)
    left = not_of_pattern(places.values(), cells, _level(sheet), Raster.of(sheet.flat), ())
    assert places["a mark"] in left, "as dark as the strokes, but closer"


def test_fields_of_a_pattern_that_are_no_rectangle_leave_bare_cells_in_their_box_bare() -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(2, 3), Cell(3, 3))
    for cell in cells:
        _hatched(sheet, cell)
    whole = (1.02, 1.02, 2.98, 2.98)
    assert not_of_pattern([whole], cells, _level(sheet), Raster.of(sheet.flat), ()) == []
    pale = (230, 230, 230)
    sheet.line((1.5, 1.9), (1.5, 2.6), pale, 0.12)
    assert not_of_pattern([whole], cells, _level(sheet), Raster.of(sheet.flat), ()) == [whole]


@pytest.mark.parametrize("width", [0.02, 0.04])
def test_a_figure_as_black_as_the_strokes_round_it_is_no_pattern(width: float) -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(2, 4), Cell(5, 3), Cell(5, 5), Cell(6, 1))
    for cell in cells:
        _hatched(sheet, cell, BLACK, width)
    sheet.line((1.5, 1.25), (1.5, 1.75), BLACK, 0.06)
    for ends in (((2.35, 4.25), (2.65, 4.25)), ((2.65, 4.25), (2.45, 4.75))):
        sheet.line(*ends, BLACK, 0.06)
    slim, seven, cell = (1.45, 1.24, 1.55, 1.76), (2.32, 4.22, 2.68, 4.78), (2.05, 4.05, 2.95, 4.95)
    strokes = [(3.05, 1.05, 3.95, 1.95), (4.3, 4.2, 4.7, 4.8), (4.3, 4.2, 4.4, 4.8)]
    level = _level(sheet)
    left = not_of_pattern((slim, seven, cell, *strokes), cells, level, Raster.of(sheet.flat), ())
    assert left == [slim, seven, cell]


def test_a_filled_square_is_no_pattern() -> None:
    sheet, hatched, filled = _bare(), (Cell(2, 2), Cell(5, 3)), (Cell(3, 5), Cell(6, 6))
    for cell in hatched:
        _hatched(sheet, cell)
    squares = []
    for cell in filled:
        x, y = cell.centre
        sheet.line((x, y - 0.4), (x, y + 0.4), GREY, 0.8)
        squares.append(Shape("square", (x - 0.36, y - 0.36, x + 0.36, y + 0.36), GREY, "shape"))
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = evidence(6, 6, shapes=tuple(squares))
    grid = Looked(nothing, sheet.flat, nothing, seen, (), ink)  # type: ignore[arg-type]
    assert {tint.cell for tint in with_patterns(grid).evidence.tints} == set(hatched)


@pytest.mark.parametrize("of_line", [False, True], ids=["a circle", "the circle of an arrow"])
def test_a_ring_with_a_digit_in_it_is_no_pattern_and_takes_nothing_from_one(of_line: bool) -> None:
    sheet, cells = _bare(), (Cell(2, 2), Cell(2, 3), Cell(5, 3))
    for cell in cells:
        _hatched(sheet, cell)
    rings = (Cell(5, 3), Cell(4, 5))
    for cell in rings:
        x, y = cell.centre
        sheet.circle((x, y), 0.34, BLACK)
        sheet.path((cell, Cell(cell.row, 6)), BLACK, 0.06)
        for across in (-0.12, 0, 0.12):
            sheet.line((x + across, y - 0.24), (x + across, y + 0.24), BLACK, 0.05)
    discs = tuple(Disc(cell.centre, 0.34, None, BLACK, "circle") for cell in rings)
    lines = tuple(trace(f"{cell} r{cell.row}c6", discs=(0,), width=0.06) for cell in rings)
    seen = evidence(6, 6, traces=lines) if of_line else evidence(6, 6, discs=discs)
    nothing = SimpleNamespace()
    grid = Looked(nothing, sheet.flat, nothing, seen, (), _ink(sheet))  # type: ignore[arg-type]
    assert {tint.cell for tint in with_patterns(grid).evidence.tints} == set(cells)


@pytest.mark.parametrize("hatched", [(), (Cell(5, 3), Cell(5, 4))], ids=["lines alone", "a pattern"])
def test_bends_of_wide_lines_are_no_pattern(hatched: tuple[Cell, ...]) -> None:
    sheet, path = _bare(), tuple(map(Cell.parse, ("r1c1", "r2c1", "r2c2", "r1c2", "r1c3", "r2c3")))
    sheet.path(path, GREY, 0.7)
    for cell in hatched:
        _hatched(sheet, cell)
    assert len(patterned(_level(sheet), 0.05, Raster.of(sheet.flat))) > len(hatched)
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = evidence(6, 6, traces=(trace(" ".join(map(str, path))),))
    grid = Looked(nothing, sheet.flat, nothing, seen, (), ink)  # type: ignore[arg-type]
    tinted = {tint.cell for tint in with_patterns(grid).evidence.tints}
    assert set(hatched) <= tinted if hatched else not tinted


def test_a_thin_line_does_not_explain_a_pattern_under_it() -> None:
    sheet, path = _bare(), tuple(map(Cell.parse, ("r2c2", "r2c3", "r2c4")))
    sheet.path(path, GREY, 0.1)
    for cell in path[:2]:
        _hatched(sheet, cell)
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = evidence(6, 6, traces=(trace(" ".join(map(str, path)), width=0.1),))
    grid = Looked(nothing, sheet.flat, nothing, seen, (), ink)  # type: ignore[arg-type]
    assert {tint.cell for tint in with_patterns(grid).evidence.tints} == set(path[:2])


@pytest.mark.parametrize(("chance", "others", "taken"), [(0.8, True, True), (0.99, True, False), (0.8, False, False)])
def test_strokes_of_a_pattern_that_look_like_a_hollow_square_are_the_pattern_where_squares_are_filled(
    chance: float, others: bool, taken: bool
) -> None:
    sheet, hatched, filled = _bare(), (Cell(2, 2), Cell(2, 3), Cell(5, 3)), Cell(6, 6)
    for cell in hatched:
        _hatched(sheet, cell)
    boxes = [(x - 0.36, y - 0.36, x + 0.36, y + 0.36) for x, y in (Cell(2, 3).centre, filled.centre)]
    squares = (Shape("square", boxes[0], GREY, "shape", chance, filled=False), Shape("square", boxes[1], GREY, "shape"))
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = evidence(6, 6, shapes=squares if others else squares[:1])
    found = with_patterns(Looked(nothing, sheet.flat, nothing, seen, (), ink)).evidence  # type: ignore[arg-type]
    assert {tint.cell for tint in found.tints} == (set(hatched) if taken else {Cell(2, 2), Cell(5, 3)})
    assert (squares[0] in found.shapes) == (not taken)


ASKED = "dots or strokes fill cells, and were taken for a tint"


def _faded(sheet: Sheet, cell: Cell) -> None:
    """A cell of which the pattern is lost but for one corner and the side above it."""
    x, y = cell.column - 1, cell.row - 1
    for along in np.arange(0.2, 0.8, 0.1):
        sheet.line((x, y + along), (x + along, y), GREY, 0.02)


@pytest.mark.parametrize(
    ("extra", "asked", "certain"),
    [
        (None, False, True),
        ("line", False, True),
        ("lost", False, False),
        ("faded", True, False),
        ("square", True, False),
    ],
)
def test_a_pattern_told_from_all_other_cells_is_not_asked_about(extra: str | None, asked: bool, certain: bool) -> None:
    sheet, hatched = _bare(), (Cell(2, 2), Cell(2, 3), Cell(5, 3))
    for cell in hatched:
        _hatched(sheet, cell)
    if extra == "line":
        sheet.path((Cell(3, 1), Cell(3, 2), Cell(4, 2)), GREY, 0.2)
    elif extra == "lost":
        _faded(sheet, Cell(2, 5))
    elif extra == "faded":
        sheet.circle((4.4, 1.4), 0.38, GREY)
        _faded(sheet, Cell(2, 5))
    elif extra == "square":
        sheet.line((4.5, 1.05), (4.5, 1.95), GREY, 0.9)
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = with_patterns(Looked(nothing, sheet.flat, nothing, evidence(6, 6), (), ink)).evidence  # type: ignore[arg-type]
    assert (ASKED in seen.notes) == asked
    assert all(tint.certain == certain for tint in seen.tints)


@pytest.mark.parametrize(("at", "certain", "found"), [("r2c2", False, 3), ("r2c2", True, 1), ("r4c4", False, 1)])
def test_a_pattern_that_passes_for_a_tint_in_some_of_its_cells_is_whole(at: str, certain: bool, found: int) -> None:
    sheet = _bare()
    for cell in (Cell(2, 2), Cell(2, 3), Cell(5, 3)):
        _hatched(sheet, cell)
    ink = _ink(sheet)
    nothing = SimpleNamespace()
    seen = evidence(6, 6, tints=(Tint(Cell.parse(at), (246, 246, 246), 1.0, certain=certain),))
    grid = Looked(nothing, sheet.flat, nothing, seen, (), ink)  # type: ignore[arg-type]
    assert len(with_patterns(grid).evidence.tints) == found


@pytest.mark.parametrize("whole", [True, False], ids=["hatched", "hatched in part"])
def test_a_cell_whose_strokes_pass_for_grain_has_the_pattern_of_the_others(whole: bool) -> None:
    """Strokes that are a little paler than others are taken out with the texture of the paper; they fill all of it."""
    sheet, pale = _bare(), Cell(5, 5)
    for cell in (Cell(2, 2), Cell(2, 3), Cell(5, 3)):
        _hatched(sheet, cell)
    drawn = _level(sheet)
    (_hatched if whole else _faded)(sheet, pale)
    ink = SimpleNamespace(drawn=drawn, level=_level(sheet), floor=0.05)
    nothing = SimpleNamespace()
    seen = with_patterns(Looked(nothing, sheet.flat, nothing, evidence(6, 6), (), ink)).evidence  # type: ignore[arg-type]
    assert (pale in {tint.cell for tint in seen.tints}) == whole
    assert (ASKED in seen.notes) == whole


def test_pale_strokes_that_were_seen_as_a_tint_are_no_question() -> None:
    sheet, hatched, pale = _bare(), (Cell(2, 2), Cell(2, 3), Cell(5, 3)), Cell(5, 5)
    for cell in hatched:
        _hatched(sheet, cell)
    drawn = _level(sheet)
    _hatched(sheet, pale)
    ink = SimpleNamespace(drawn=drawn, level=_level(sheet), floor=0.05)
    seen = evidence(6, 6, tints=tuple(Tint(cell, (225, 225, 225), 1.0) for cell in (*hatched, pale)))
    nothing = SimpleNamespace()
    grid = Looked(nothing, sheet.flat, nothing, seen, (), ink)  # type: ignore[arg-type]
    assert with_patterns(grid) is grid
