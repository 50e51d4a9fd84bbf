"""A digit that stands on a mark and was not read: the mark claims its ink, and the guard finds it all the same."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from random import Random

import cv2
import numpy as np
import pytest
from PIL import Image

from checker.prove import prove
from fixtures.generator import make_puzzle
from fixtures.printer.page import print_page
from fixtures.printer.style import sample_style
from recognise.concluding import ink_doubts
from recognise.doubt.hidden import hidden_ink
from recognise.doubt.ink import without_areas, without_own
from recognise.draft import Draft, Given, Item, Polygon, box_polygon
from recognise.evidence import Flat, Shape, Words
from recognise.geometry import disc_polygon
from recognise.support import claims
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.between_line import BetweenLine
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.odd import Odd
from schema.kinds.palindrome import Palindrome
from schema.kinds.thermometer import Thermometer
from schema.puzzle import Puzzle
from tests.recognise.evidence_maker import trace
from tests.recognise.page_files import read_in

CELL, MARGIN = 64, 1.0
GRID = Grid(rows=6, columns=6, digits=(1, 2, 3, 4, 5, 6))
TUBE = trace("r2c2 r2c3 r3c4 r4c4", discs=(0,), width=0.4)
RINGS = [trace(f"r{row}c1 r{row}c2 r{row}c3", discs=(0, 2), width=0.06) for row in (1, 3, 5)]
Paint = Callable[[np.ndarray], None]


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _tube(image: np.ndarray, width: float, shade: float, bulb: float = 0.35) -> None:
    points = [_at(*cell.centre) for cell in TUBE.nodes]
    for start, end in pairwise(points):
        cv2.line(image, start, end, shade, round(width * CELL))
    cv2.circle(image, points[0], round(bulb * CELL), shade, -1)


def _filled(image: np.ndarray) -> None:
    _tube(image, 0.4, 0.25)


def _dark(image: np.ndarray) -> None:
    _tube(image, 0.4, 0.8)


def _outlined(image: np.ndarray) -> None:
    _tube(image, 0.44, 0.9)
    _tube(image, 0.36, 0.0, 0.31)


def _disc(image: np.ndarray) -> None:
    cv2.circle(image, _at(2.5, 1.5), round(0.36 * CELL), 0.2, -1)


def _rings(image: np.ndarray) -> None:
    for line in RINGS:
        start, end = line.nodes[0].centre, line.nodes[-1].centre
        cv2.line(image, _at(*start), _at(*end), 0.5, 4)
        for centre in (start, end):
            cv2.circle(image, _at(*centre), round(0.35 * CELL), 0.5, 3)


MARKS: dict[str, tuple[Paint, tuple[Polygon, ...], float]] = {
    "filled tube": (_filled, claims(TUBE), 1.0),
    "dark tube": (_dark, claims(TUBE), 0.0),
    "outlined tube": (_outlined, claims(TUBE), 1.0),
    "circle": (_disc, (disc_polygon((2.5, 1.5), 0.41),), 1.0),
    "rings": (_rings, tuple(polygon for line in RINGS for polygon in claims(line)), 1.0),
}
PLACE = {"rings": "r3c3"}


def _found(name: str, text: str = "", givens: tuple[str, ...] = ()) -> list[Cell]:
    paint, claimed, ink = MARKS[name]
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    paint(drawn)
    cell = Cell.parse(PLACE.get(name, "r2c3"))
    if text:
        (width, height), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, 1.3, 4)
        x, y = _at(*cell.centre)
        letters = np.zeros(drawn.shape, np.uint8)
        cv2.putText(letters, text, (x - width // 2, y + height // 2), cv2.FONT_HERSHEY_SIMPLEX, 1.3, 255, 4)
        drawn[letters > 0] = ink
    drawn = np.clip(drawn + np.random.default_rng(1).normal(0, 0.01, drawn.shape), 0, 1).astype(np.float32)
    kinds = {"circle": Odd(cells=(cell,)), "rings": BetweenLine(path=RINGS[0].nodes)}
    kind = kinds.get(name, Thermometer(path=TUBE.nodes))
    items = [Item((kind,), claimed[0], 1.0, "shape", claims=claimed)]
    items += [Item(Given(Cell.parse(given), 1), claimed[0], 1.0, "shape", claims=()) for given in givens]
    flat = Flat(np.full((side, side, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    return [cell for cell, _ in hidden_ink(drawn, flat, Draft(GRID, tuple(items), Words()))]


LINE = trace("r1c2 r2c2", width=0.16)
DASHED = replace(trace("r3c2 r3c5", width=0.2), dashed=True)


def _on_lines(place: tuple[float, float] | None) -> list[Cell]:
    """What is found where a line ends in the circle of another mark, and on a dashed line, with a digit somewhere."""
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    cv2.circle(drawn, _at(1.5, 1.5), round(0.4 * CELL), 0.5, 3)
    cv2.line(drawn, _at(1.5, 0.5), _at(1.5, 1.5), 0.4, round(0.16 * CELL))
    for x in np.arange(1.5, 4.5, 0.25):
        cv2.line(drawn, _at(x, 2.5), _at(x + 0.1, 2.5), 0.4, round(0.2 * CELL))
    if place is not None:
        x, y = _at(*place)
        letters = np.zeros(drawn.shape, np.uint8)
        cv2.putText(letters, "5", (x - 13, y + 14), cv2.FONT_HERSHEY_SIMPLEX, 1.3, 255, 4)
        drawn[letters > 0] = 0.9
    items = [
        Item((Odd(cells=(Cell(2, 2),)),), disc_polygon((1.5, 1.5), 0.45), 1.0, "shape"),
        Item((Palindrome(path=LINE.nodes),), claims(LINE)[0], 1.0, "shape", claims=claims(LINE)),
        Item((Palindrome(path=DASHED.nodes),), claims(DASHED)[0], 1.0, "shape", claims=claims(DASHED)),
    ]
    flat = Flat(np.full((side, side, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    found = hidden_ink(drawn, flat, Draft(GRID, tuple(items), Words()), dashed=claims(DASHED))
    return [cell for cell, _ in found]


BENT = trace("r3c2 r4c3 r3c4", width=0.3)
CORNERS = [(2.0, 3.0), (3.0, 3.0)]


def _under_circles(text: str, radius: float) -> list[Cell]:
    """What is found where circles of paper lie on both arms of a grey line, with something written on its bend."""
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    for start, end in pairwise(_at(*cell.centre) for cell in BENT.nodes):
        cv2.line(drawn, start, end, 0.36, round(0.3 * CELL))
    for corner in CORNERS:
        cv2.circle(drawn, _at(*corner), round(radius * CELL), 0.0, -1)
        cv2.circle(drawn, _at(*corner), round(radius * CELL), 0.9, 2)
    x, y = _at(2.5, 3.5)
    letters = np.zeros(drawn.shape, np.uint8)
    cv2.putText(letters, text, (x - 5, y + 5), cv2.FONT_HERSHEY_SIMPLEX, 0.5, 255, 2)
    drawn[letters > 0] = 0.9
    drawn = np.clip(drawn + np.random.default_rng(1).normal(0, 0.01, drawn.shape), 0, 1).astype(np.float32)
    items = [Item((Palindrome(path=BENT.nodes),), claims(BENT)[0], 1.0, "shape", claims=claims(BENT))]
    for x, y in CORNERS:
        around = tuple(Cell(int(y) + i, int(x) + j) for i in (0, 1) for j in (0, 1))
        circle = disc_polygon((x, y), radius + 0.03)
        items.append(Item((CornerDigits(cells=around, digits=(1,)),), circle, 1.0, "shape"))
    flat = Flat(np.full((side, side, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    return [cell for cell, _ in hidden_ink(drawn, flat, Draft(GRID, tuple(items), Words()))]


@pytest.mark.parametrize("radius", [0.3, 0.5], ids=["small", "large, of whose rims much lies on the line"])
def test_a_grey_line_beside_circles_of_paper_is_no_character_in_them(radius: float) -> None:
    assert _under_circles("", radius) == []
    assert _under_circles("3", radius) == [Cell(4, 3)]


def test_a_line_that_ends_in_the_circle_of_another_mark_is_no_character_in_it() -> None:
    assert _on_lines(None) == []
    assert _on_lines((1.5, 1.5)) == [Cell(2, 2)]


def test_dashes_are_no_characters_and_what_is_darker_than_they_are_is_one() -> None:
    assert _on_lines((2.5, 2.5)) == [Cell(3, 3)]


@pytest.mark.parametrize("digit", ["1", "4", "8"])
@pytest.mark.parametrize("name", MARKS)
def test_a_digit_on_a_mark_is_found_where_none_was_read(name: str, digit: str) -> None:
    cell = PLACE.get(name, "r2c3")
    assert _found(name, digit) == [Cell.parse(cell)]
    assert _found(name, digit, givens=(cell,)) == []


@pytest.mark.parametrize("name", MARKS)
def test_a_mark_by_itself_is_no_alarm(name: str) -> None:
    assert _found(name) == []


@pytest.mark.slow
@pytest.mark.parametrize("make", ["strokes", "solid", "outlined", "see-through"])
def test_a_given_erased_from_a_printed_page_is_asked_for(make: str, tmp_path: Path) -> None:
    erased = 0
    for seed in range(6):
        rng = Random(f"hidden-{make}-{seed}")
        puzzle = _with_givens_on_tubes(make_puzzle(rng, ["thermometer"], 6, digits="usual"))
        style = sample_style(rng, "train", bundled_only=True)
        page = print_page(rng, [puzzle], replace(style, tube=replace(style.tube, make=make)))
        Image.fromarray(page.pixels(200)).save(tmp_path / "page.png")
        (result,) = read_in(tmp_path / "page.png").results
        draft = result.proven.draft
        right = draft.givens == page.puzzles[0].puzzle.givens
        assert not right or not any("something stands" in doubt.why for doubt in draft.doubts)
        tubes = [c for c in draft.constraints if isinstance(c, Thermometer)]
        on_tubes = {cell for tube in tubes for cell in tube.path}
        for index, item in enumerate(draft.items):
            if isinstance(item.value, Given) and item.value.cell in on_tubes:
                rest = replace(draft, items=draft.items[:index] + draft.items[index + 1 :], doubts=())
                assert _asked(ink_doubts(result.looked, rest), item.value.cell), (seed, item.value)
                erased += 1
        if erased >= 3:
            return
    assert erased


def _with_givens_on_tubes(puzzle: Puzzle) -> Puzzle:
    """The puzzle with every second digit on its tubes given too, so that few pages show enough of them."""
    solution = prove(puzzle).solution
    assert solution is not None
    on_tubes = [cell for c in puzzle.constraints if isinstance(c, Thermometer) for cell in c.path]
    return puzzle.model_copy(update={"givens": {**puzzle.givens, **{cell: solution[cell] for cell in on_tubes[::2]}}})


def _asked(doubts, cell: Cell) -> bool:
    for doubt in doubts:
        x, y = np.mean(np.asarray(doubt.where), axis=0)
        if cell.column - 1 <= x <= cell.column and cell.row - 1 <= y <= cell.row:
            return True
    return False


def _on_drawing(drawn: np.ndarray, claimed: tuple[Polygon, ...], broken: tuple[Polygon, ...] = ()) -> list[Cell]:
    items = (Item((Thermometer(path=TUBE.nodes),), claimed[0], 1.0, "vector", claims=claimed),)
    flat = Flat(np.full((*drawn.shape, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    return [cell for cell, _ in hidden_ink(drawn, flat, Draft(GRID, items, Words()), broken)]


@pytest.mark.parametrize(("seven", "found"), [(False, []), (True, [Cell(2, 2)])])
def test_the_round_ends_of_a_capsule_hide_nothing_but_what_stands_in_it_is_found(
    seven: bool, found: list[Cell]
) -> None:
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for half, ink in ((0.38, 0.8), (0.3, 0.0)):
        ends = _at(1.5, 0.12 + 0.38), _at(1.5, 1.88 - 0.38)
        cv2.line(drawn, *ends, ink, 2 * round(half * CELL))
    if seven:
        cv2.polylines(drawn, [np.array([_at(1.36, 1.3), _at(1.62, 1.3), _at(1.45, 1.7)])], False, 1.0, 4)
    assert _on_drawing(drawn, (box_polygon((1.12, 0.12, 1.88, 1.88)),)) == found


def test_what_stands_in_a_corner_of_a_large_area_is_found() -> None:
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    cv2.rectangle(drawn, _at(0.1, 0.1), _at(2.9, 2.9), 0.25, -1)
    cv2.polylines(drawn, [np.array([_at(0.3, 0.25), _at(0.62, 0.25), _at(0.45, 0.7)])], False, 1.0, 4)
    assert _on_drawing(drawn, (box_polygon((0.1, 0.1, 2.9, 2.9)),)) == [Cell(1, 1)]


def test_dots_on_thick_lines_lose_ink_with_them_and_hide_nothing() -> None:
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    centres = [(1.5, 1.0), (2.5, 2.0), (3.5, 3.0), (4.5, 4.0)]
    for x, y in centres:
        cv2.circle(drawn, _at(x, y), round(0.14 * CELL), 1.0, -1)
    for x, y in centres[:1]:
        (left, top), half = _at(x, y), round(0.05 * CELL)
        drawn[top - half : top + half, left - CELL // 2 : left + CELL // 2] = 0
    assert _on_drawing(drawn, tuple(disc_polygon(centre, 0.16) for centre in centres)) == []


@pytest.mark.parametrize(("wall", "shade", "blur"), [(0.06, 0.8, 1.6), (0.08, 0.5, 0.3)])
def test_the_walls_of_a_square_bend_are_no_character(wall: float, shade: float, blur: float) -> None:
    line = trace("r2c2 r2c3 r3c3", width=0.34)
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for width, ink in ((0.34, shade), (0.34 - 2 * wall, 0.0)):
        for one, other in pairwise(line.nodes):
            cv2.line(drawn, _at(*one.centre), _at(*other.centre), ink, round(width * CELL))
    drawn = np.asarray(cv2.GaussianBlur(drawn, (0, 0), blur), np.float32)
    assert _on_drawing(drawn, claims(line)) == []


@pytest.mark.parametrize("digit", ["", "1", "4"])
def test_the_outline_of_a_tube_measured_wide_is_no_character_and_what_stands_on_it_is(digit: str) -> None:
    line = trace("r2c2 r3c2 r4c2 r4c3", width=0.3)
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for width, ink in ((0.26, 0.55), (0.09, 0.05)):
        for one, other in pairwise(line.nodes):
            cv2.line(drawn, _at(*one.centre), _at(*other.centre), ink, round(width * CELL))
    if digit:
        x, y = _at(1.5, 2.5)
        letters = np.zeros(drawn.shape, np.uint8)
        cv2.putText(letters, digit, (x - 9, y + 10), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 255, 3)
        drawn[letters > 0] = 0.9
    drawn = np.asarray(cv2.GaussianBlur(drawn, (0, 0), 1.2), np.float32)
    assert bool(_on_drawing(drawn, claims(line))) == bool(digit)


def test_where_a_line_leaves_a_ring_the_ring_is_no_character() -> None:
    line = trace("r2c2 r3c2 r4c2", discs=(0, 2), width=0.4)
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    ends = [line.nodes[node].centre for node, _ in line.discs]
    cv2.line(drawn, _at(*ends[0]), _at(*ends[1]), 0.25, round(0.3 * CELL))
    for centre in ends:
        cv2.circle(drawn, _at(*centre), round(0.37 * CELL), 0.0, -1)
        cv2.circle(drawn, _at(*centre), round(0.37 * CELL), 0.9, 4)
    assert _on_drawing(drawn, claims(line)) == []
    cv2.line(drawn, _at(1.45, 1.3), _at(1.55, 1.7), 1.0, 4)
    assert _on_drawing(drawn, claims(line)) != []


def test_the_gaps_of_a_dashed_line_hide_nothing() -> None:
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for start, end in pairwise([cell.centre for cell in TUBE.nodes]):
        for share in np.arange(0, 1, 0.35):
            one, other = (_at(*(np.array(start) + (np.array(end) - start) * s)) for s in (share, share + 0.17))
            cv2.line(drawn, one, other, 0.35, round(0.32 * CELL))
    assert _on_drawing(drawn, claims(TUBE)) != []
    assert _on_drawing(drawn, claims(TUBE), claims(TUBE)) == []


def _claimed(way: str, at: tuple[float, float], how: str) -> bool:
    line = trace(way, width=0.3, how=how)
    return any(cv2.pointPolygonTest(np.asarray(p, np.float32), at, True) >= -1e-6 for p in claims(line))


@pytest.mark.parametrize(
    ("way", "at"),
    [
        ("r2c2 r2c3", (1.2, 1.5)),
        ("r2c2 r2c3", (1.2, 1.36)),
        ("r3c2 r2c2 r3c3", (1.7, 1.2)),
        ("r2c3 r3c3 r2c2", (2.6, 2.85)),
    ],
    ids=["behind an end", "beside that", "beside a tip", "in a tip"],
)
def test_the_vectors_know_that_a_line_goes_on_beyond_the_middle_of_a_cell(way: str, at: tuple[float, float]) -> None:
    assert _claimed(way, at, "vector") == (at != (1.7, 1.2))
    assert not _claimed(way, at, "shape")


def test_a_circle_on_a_corner_hides_no_given() -> None:
    image = np.zeros((round((6 + 2 * MARGIN) * CELL),) * 2, np.float32)
    cv2.circle(image, _at(2.0, 2.0), round(0.45 * CELL), 0.2, -1)
    cv2.rectangle(image, _at(2.12, 2.1), _at(2.22, 2.26), 0.9, -1)
    corner = CornerDigits(cells=(Cell(2, 2), Cell(2, 3), Cell(3, 2), Cell(3, 3)), digits=(1,))
    draft = Draft(GRID, (Item((corner,), disc_polygon((2.0, 2.0), 0.45), 1.0, "vector"),), Words())
    flat = Flat(np.zeros((*image.shape, 3), np.uint8), 6, 6, CELL, MARGIN, image, image)
    assert list(hidden_ink(image, flat, draft))
    assert not list(hidden_ink(image, flat, draft, by_vectors=True))


def test_dots_on_the_edges_of_a_tubes_cell_hide_no_given() -> None:
    image = np.zeros((round((6 + 2 * MARGIN) * CELL),) * 2, np.float32)
    _filled(image)
    items = [Item((Thermometer(path=TUBE.nodes),), claims(TUBE)[0], 1.0, "vector", claims=claims(TUBE))]
    for x in (2.0, 3.0):
        cv2.circle(image, _at(x, 1.5), round(0.14 * CELL), 0.0, -1)
        cv2.circle(image, _at(x, 1.5), round(0.14 * CELL), 1.0, 3)
        pair = ConsecutivePair(cells=(Cell(2, int(x)), Cell(2, int(x) + 1)))
        items.append(Item((pair,), disc_polygon((x, 1.5), 0.14), 1.0, "vector"))
    flat = Flat(np.zeros((*image.shape, 3), np.uint8), 6, 6, CELL, MARGIN, image, image)
    assert not list(hidden_ink(image, flat, Draft(GRID, tuple(items), Words()), by_vectors=True))
    cv2.circle(image, _at(2.5, 1.5), round(0.08 * CELL), 1.0, -1)
    assert [c for c, _ in hidden_ink(image, flat, Draft(GRID, tuple(items), Words()), by_vectors=True)] == [Cell(2, 3)]


def test_a_line_of_its_own_that_ends_in_one_of_the_rings_hides_nothing() -> None:
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    _rings(drawn)
    other = trace("r4c3 r3c3", width=0.12)
    cv2.line(drawn, _at(2.5, 3.5), _at(2.5, 2.5), 0.8, round(0.12 * CELL))
    rings = tuple(polygon for line in RINGS for polygon in claims(line))
    assert _on_drawing(drawn, rings) != []
    assert _on_drawing(drawn, (*rings, *claims(other))) == []


def test_a_line_that_a_circle_hides_in_part_is_no_other_ink_than_the_rest() -> None:
    image = np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8)
    line = replace(trace("r2c2 r2c3", how="vector"), colour=(198, 198, 198), where=tuple(claims(TUBE)[0]))
    cv2.fillPoly(image, [np.array([_at(*point) for point in line.where], np.int32)], (198, 198, 198))
    cv2.circle(image, _at(1.5, 1.5), round(0.3 * CELL), (255, 255, 255), -1)
    cv2.rectangle(image, _at(2.2, 1.4), _at(2.3, 1.6), (0, 0, 0), -1)
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    flat = Flat(image, 6, 6, CELL, MARGIN, ink, ink)
    left = without_own(ink, flat, [line])
    assert left.max() == 1.0
    assert np.array_equal(left > 0, ink == 1.0)


def test_an_area_of_one_colour_that_a_drawing_has_is_no_ink_upon_another_mark() -> None:
    """The square bulb of a tube; a figure on it stays, and so does all of an area that shows other colours."""
    image = np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8)
    box = (1.2, 1.2, 1.8, 1.8)
    bulb = Shape("square", box, (150, 200, 170), "vector", where=box_polygon(box))
    cv2.fillPoly(image, [np.array([_at(*point) for point in bulb.where], np.int32)], bulb.colour)
    cv2.line(image, _at(1.5, 1.35), _at(1.5, 1.65), (0, 0, 0), 3)
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    flat = Flat(image, 6, 6, CELL, MARGIN, ink, ink)
    bare = without_areas(ink, flat, [bulb])
    assert np.array_equal(bare > 0, ink == 1.0)
    assert np.array_equal(without_areas(ink, flat, [replace(bulb, colour=(90, 90, 90))]), ink)


def test_where_a_translucent_line_lies_over_its_own_bulb_it_is_no_other_ink() -> None:
    image = np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8)
    line = trace("r2c2 r2c3", width=0.26, how="vector")
    line = replace(line, colour=(174, 174, 174), discs=((0, 0.35),), where=tuple(disc_polygon((1.5, 1.5), 0.35)))
    cv2.circle(image, _at(1.5, 1.5), round(0.35 * CELL), (174, 174, 174), -1)
    over = np.zeros(image.shape[:2], np.uint8)
    cv2.line(over, _at(1.5, 1.5), _at(2.5, 1.5), 1, round(0.26 * CELL))
    bulb = image[..., 0] == 174
    image[(over > 0) & bulb] = 150
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    flat = Flat(image, 6, 6, CELL, MARGIN, ink, ink)
    assert np.mean(without_own(ink, flat, [line])[bulb] > 0) < 0.05, "no more than its rim"
    cv2.line(image, _at(1.45, 1.45), _at(1.55, 1.55), (0, 0, 0), 2)
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    assert without_own(ink, replace(flat, image=image), [line]).max() == 1.0


def test_a_bulb_over_its_own_line_is_one_ink() -> None:
    """As where the line fades from the colour of the bulb: nothing of it shows through that."""
    image = np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8)
    line = trace("r2c2 r2c3", width=0.26, how="vector")
    line = replace(line, colour=(210, 210, 210), discs=((0, 0.35),), where=tuple(disc_polygon((1.5, 1.5), 0.35)))
    cv2.line(image, _at(1.5, 1.5), _at(2.5, 1.5), (210, 210, 210), round(0.26 * CELL))
    cv2.circle(image, _at(1.5, 1.5), round(0.35 * CELL), (174, 174, 174), -1)
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    left = without_own(ink, Flat(image, 6, 6, CELL, MARGIN, ink, ink), [line])
    assert np.array_equal(left[image[..., 0] == 174], ink[image[..., 0] == 174])


def test_of_a_line_whose_colour_fades_nothing_is_left_out() -> None:
    image = np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8)
    image[:] = np.linspace(20, 250, 8 * CELL).astype(np.uint8)[None, :, None]
    strip = ((0.1, 1.3), (5.9, 1.3), (5.9, 1.7), (0.1, 1.7))
    line = replace(trace("r2c1 r2c6", how="vector"), colour=(135, 135, 135), where=strip)
    ink = np.asarray(1 - image.min(axis=-1) / 255, np.float32)
    assert np.array_equal(without_own(ink, Flat(image, 6, 6, CELL, MARGIN, ink, ink), [line]), ink)


def test_the_rest_that_other_marks_leave_of_a_circle_tells_nothing() -> None:
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    _rings(drawn)
    cv2.line(drawn, _at(2.5, 3.5), _at(2.5, 2.5), 0.8, round(0.12 * CELL))
    rings = tuple(polygon for line in RINGS for polygon in claims(line))
    tube = ((2.1, 2.1), (2.9, 2.1), (2.9, 2.65), (2.1, 2.65))
    assert _on_drawing(drawn, rings) != []
    assert _on_drawing(drawn, rings, (tube,)) == []


@pytest.mark.parametrize("drawing", ["overlap", "bulb", "fading", "digit"])
def test_of_what_stands_on_marks_that_vectors_draw_only_strokes_are_asked_about(drawing: str) -> None:
    """Where two tubes lie over each other and let see through, a disc in a bulb, and a tube that fades: no givens."""
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    _filled(drawn)
    if drawing == "overlap":
        cv2.rectangle(drawn, _at(2.2, 1.3), _at(2.8, 1.7), 0.6, -1)
    elif drawing == "bulb":
        cv2.circle(drawn, _at(1.5, 1.5), round(0.2 * CELL), 0.7, -1)
    elif drawing == "fading":
        left, right = _at(1.7, 1.3)[0], _at(2.5, 1.7)[0]
        drawn[_at(0, 1.3)[1] : _at(0, 1.7)[1], left:right] = np.linspace(0.8, 0.25, right - left)
    else:
        cv2.line(drawn, _at(2.5, 1.35), _at(2.5, 1.65), 0.9, round(0.09 * CELL))
    items = (Item((Thermometer(path=TUBE.nodes),), claims(TUBE)[0], 1.0, "vector", claims=tuple(claims(TUBE))),)
    flat = Flat(np.full((*drawn.shape, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    found = [cell for cell, _ in hidden_ink(drawn, flat, Draft(GRID, items, Words()), by_vectors=True)]
    assert found == ([Cell(2, 3)] if drawing == "digit" else [])


BENT = trace("r4c3 r3c3 r3c4", width=0.2)


@pytest.mark.parametrize("digit", ["", "1", "4", "8"])
def test_a_line_that_bends_in_the_circle_of_another_is_no_character_in_it(digit: str) -> None:
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    _rings(drawn)
    points = [_at(*cell.centre) for cell in BENT.nodes]
    for start, end in pairwise(points):
        cv2.line(drawn, start, end, 0.4, round(0.2 * CELL))
    if digit:
        (width, height), _ = cv2.getTextSize(digit, cv2.FONT_HERSHEY_SIMPLEX, 1.3, 4)
        letters = np.zeros(drawn.shape, np.uint8)
        x, y = points[1]
        cv2.putText(letters, digit, (x - width // 2, y + height // 2), cv2.FONT_HERSHEY_SIMPLEX, 1.3, 255, 4)
        drawn[letters > 0] = 0.95
    lines = (*((line, BetweenLine(path=line.nodes)) for line in RINGS), (BENT, Palindrome(path=BENT.nodes)))
    items = tuple(Item((kind,), claims(line)[0], 1.0, "shape", claims=tuple(claims(line))) for line, kind in lines)
    flat = Flat(np.full((*drawn.shape, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    found = [cell for cell, _ in hidden_ink(drawn, flat, Draft(GRID, items, Words()))]
    assert found == ([Cell(3, 3)] if digit else [])
