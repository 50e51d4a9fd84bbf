"""Doubtful signs between cells as the network of short texts sees them."""

import cv2
import numpy as np
import pytest

from recognise.evidence import Guess
from recognise.marks import sign_looks
from recognise.marks.looking import Looking
from recognise.marks.sights import Sight
from recognise.marks.sign_looks import looked_at_again
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.frame import Raster
from schema.cells import Cell
from tests.recognise.chances_maker import MARGIN, Sheet

BLUE, GREY = (110, 150, 180), (110, 110, 110)
BLACK, GREEN, DARK, GHOST, PAPER = (0, 0, 0), (40, 90, 40), (45, 60, 85), (240, 240, 240), (255, 255, 255)
PAIR, PLACE = (Cell(3, 4), Cell(4, 4)), (3.5, 3.0)


def _seen(
    sheet: Sheet, told: dict[str, float], drawn: Sheet | None = None, spoken: Spoken = SILENT
) -> dict[str, float]:
    """What is seen on the edge under r3c4 of a sheet after a second look, where the lattice network has `told` that;
    `drawn` is the sheet without its lattice, if it has one."""
    ink, own = (1 - one.image.mean(axis=2, dtype=np.float32) / 255 for one in (sheet, drawn or sheet))
    raster = Raster(sheet.rows, sheet.columns, sheet.flat.cell, MARGIN * sheet.flat.cell)
    relative = sheet.image.astype(np.float32) / 255
    looking = Looking(ink, own, relative, raster, 0.05, None)  # type: ignore[arg-type]
    classes = ("NONE", "WHITE_DOT", "CHARACTERS", "SIGN_LEFT", "SIGN_RIGHT", "SIGN_UP", "SIGN_DOWN")
    sights = {PAIR: Sight(PLACE, 1, dict.fromkeys(classes, 0.0) | told)}
    return dict(looked_at_again(sights, looking, spoken)[PAIR].told)


def _sign(sheet: Sheet, way: int, shade: tuple[int, int, int]) -> None:
    """A sign that points up (-1) or down (1), of a ninth of a cell."""
    x, y = PLACE
    for side in (-1, 1):
        sheet.line((x, y + way * 0.055), (x + side * 0.055, y - way * 0.055), shade, 0.022)


@pytest.mark.parametrize("patched", [True, False])
@pytest.mark.parametrize(("way", "name", "other"), [(-1, "SIGN_UP", "SIGN_DOWN"), (1, "SIGN_DOWN", "SIGN_UP")])
def test_which_way_a_small_sign_points_on_a_thick_line(way: int, name: str, other: str, patched: bool) -> None:
    sheet = Sheet()
    sheet.line((0, 3), (6, 3), BLACK if patched else GREEN, 0.05)
    if patched:
        sheet.line((3.42, 3), (3.58, 3), PAPER, 0.2)
    _sign(sheet, way, BLACK)
    seen = _seen(sheet, {other: 0.6, name: 0.3, "NONE": 0.1})
    assert seen[name] > 0.95


@pytest.mark.parametrize(
    ("spoken", "is_sign"),
    [(SILENT, True), (Spoken(edges=frozenset({"sign"})), True), (Spoken(no_edges=True), False),
     (Spoken(edges=frozenset({"white dot"})), False)],
)  # fmt: skip
def test_the_head_of_an_arrow_is_no_sign_where_the_rules_speak_of_none(spoken: Spoken, is_sign: bool) -> None:
    sheet = Sheet()
    _sign(sheet, 1, BLACK)
    seen = _seen(sheet, {"SIGN_DOWN": 0.3, "NONE": 0.7}, spoken=spoken)
    assert (seen["SIGN_DOWN"] > 0.9) == is_sign


def test_what_a_sure_sign_is_stays() -> None:
    sheet = Sheet()
    _sign(sheet, 1, BLACK)
    assert _seen(sheet, {"SIGN_UP": 0.99, "NONE": 0.01})["SIGN_UP"] == 0.99


@pytest.mark.parametrize(("written", "letters"), [("12", False), ("X", True)])
def test_where_numbers_stand_on_edges_no_letters_do(
    written: str, letters: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A V is like a sign that points down."""
    asked: list[str] = []

    class Reader:
        def read(self, windows: list[np.ndarray], allowed: str) -> list[tuple[Guess, ...]]:
            asked.append(allowed)
            return [(Guess(written, 1.0),) for _ in windows]

    monkeypatch.setattr(sign_looks, "short_text_reader", Reader)
    sheet = Sheet()
    flat = np.zeros(sheet.image.shape[:2], np.float32)
    raster = Raster(sheet.rows, sheet.columns, sheet.flat.cell, MARGIN * sheet.flat.cell)
    looking = Looking(flat, flat, np.ones((*flat.shape, 3), np.float32), raster, 0.05, None)  # type: ignore[arg-type]
    told = dict.fromkeys(("NONE", "CHARACTERS", "SIGN_LEFT", "SIGN_RIGHT", "SIGN_UP", "SIGN_DOWN"), 0.0)
    other = Cell(1, 1), Cell(2, 1)
    sights = {PAIR: Sight(PLACE, 1, told | {"SIGN_DOWN": 0.7}), other: Sight((0.5, 1.0), 1, told | {"CHARACTERS": 1.0})}
    looked_at_again(sights, looking)
    assert "V" in asked[0]
    assert ("V" in asked[1]) == letters


def test_another_mark_is_no_sign() -> None:
    """The network of short texts knows no dots: where it sees no sign, nothing changes."""
    sheet, told = Sheet(), {"WHITE_DOT": 0.8, "SIGN_UP": 0.2}
    sheet.line((0, 3), (6, 3), BLACK, 0.03)
    sheet.line((PLACE[0] - 0.01, 3), (PLACE[0] + 0.01, 3), BLACK, 0.12)
    seen = _seen(sheet, told)
    assert seen["WHITE_DOT"] >= 0.8


@pytest.mark.parametrize(("shade", "bare"), [(GHOST, True), (BLACK, False)])
def test_a_sign_that_shows_through_is_none(shade: tuple[int, int, int], bare: bool) -> None:
    sheet, drawn = Sheet(), Sheet()
    for one in (sheet, drawn):
        one.image[:] = 255  # without the lattice, which is printed over what shows through
        _sign(one, 1, shade)
        one.image[:] = cv2.GaussianBlur(one.image, (0, 0), 2)
    for at in range(1, 6):
        sheet.line((at, 0), (at, 6), DARK, 0.02)
        sheet.line((0, at), (6, at), DARK, 0.02)
    seen = _seen(sheet, {"SIGN_DOWN": 0.6, "NONE": 0.4}, drawn)
    assert (seen["NONE"] > 0.95) == bare
    assert (seen["SIGN_DOWN"] > 0.95) != bare


@pytest.mark.parametrize("signed", [True, False])
def test_a_grey_sign_on_a_wide_line_in_colour_is_seen_without_the_line(signed: bool) -> None:
    sheet = Sheet()
    sheet.image[:] = 255
    sheet.line((3.5, 0), (3.5, 6), BLUE, 0.16)
    for at in range(7):
        sheet.line((0, at), (6, at), DARK, 0.015)
        sheet.line((at, 0), (at, 6), DARK, 0.015)
    if signed:
        x, y = PLACE
        for side in (-1, 1):
            sheet.line((x, y - 0.07), (x + side * 0.07, y + 0.07), GREY, 0.03)
    sheet.image[:] = cv2.GaussianBlur(sheet.image, (0, 0), 0.8)
    seen = _seen(sheet, {"NONE": 0.6, "SIGN_UP": 0.2, "SIGN_DOWN": 0.2})
    assert (seen["SIGN_UP"] > 0.9) == signed
    assert (seen["NONE"] >= 0.6) != signed
