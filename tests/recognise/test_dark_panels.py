"""Dark boxes beside a grid, and the light words in them."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest

from ingest.page import Box, Frame, Page
from recognise.doubt.lost_rules import LIGHT, unread_rules
from recognise.draft import Draft
from recognise.evidence import Words
from recognise.text import ocr
from recognise.text.dark_panels import dark_panels, light_on_paper
from recognise.text.engine import Grey, OcrLine
from recognise.text.regions import Region
from schema.grid import Grid

GRID = (200.0, 300.0, 600.0, 700.0)
PANEL = (120, 760, 700, 860)


def _page(panel: tuple[int, int, int, int] = PANEL, tone: int = 60) -> Grey:
    """A page of 800 x 1000 pixels with a grid's frame, a line of dark print, and two of light print in a dark box."""
    grey = np.full((1000, 800), 240, np.uint8)
    cv2.rectangle(grey, (200, 300), (600, 700), 30, 4)
    cv2.putText(grey, "rules in dark print", (120, 200), cv2.FONT_HERSHEY_SIMPLEX, 1.0, 30, 2)
    cv2.rectangle(grey, panel[:2], panel[2:], tone, -1)
    for line, words in enumerate(("more of them are light", "in a box by themselves")):
        cv2.putText(grey, words, (panel[0] + 20, panel[1] + 40 + 40 * line), cv2.FONT_HERSHEY_SIMPLEX, 1.0, 235, 2)
    return grey


def test_a_dark_box_is_found_where_it_is() -> None:
    (box,) = dark_panels(_page(), [GRID])
    assert np.abs(np.subtract(box, PANEL)).max() < 12


@pytest.mark.parametrize("grey", [
    _page(tone=200),  # a tint
    _page((0, 760, 799, 999)),  # the table that the page lies on
    _page((210, 310, 590, 690)),  # the cells of the grid
    _page((120, 760, 160, 860)),  # too narrow for words
], ids=["tint", "table", "grid", "narrow"])  # fmt: skip
def test_what_is_no_box_of_words_is_none(grey: Grey) -> None:
    assert dark_panels(grey, [GRID]) == []


def test_a_triangle_is_no_box() -> None:
    grey = np.full((1000, 800), 240, np.uint8)
    cv2.fillPoly(grey, [np.array([(100, 950), (700, 950), (100, 720)])], 60)
    assert dark_panels(grey, [GRID]) == []


def test_words_in_a_dark_box_are_dark_on_even_paper_in_the_picture_of_it() -> None:
    seen = light_on_paper(_page(), [(130.0, 770.0, 690.0, 850.0)])
    paper = int(np.median(seen))
    assert (seen[:760] == paper).all() and paper > 128 and seen[770:850, 130:690].min() < paper - 150


class _Reads:
    """An engine that reads the dark print of a page, and in its negative the light print so surely, in letters that are
    so high."""

    def __init__(self, sure: float, letter: float) -> None:
        self._sure, self._letter = sure, letter

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        del image, single_line
        return []

    def blocks(self, sight: ocr._Sight) -> list[ocr.OcrBlock]:
        is_negative = bool(sight.grey[200, 10] < 230)
        box: Box = (140.0, 780.0, 690.0, 845.0) if is_negative else (120.0, 170.0, 690.0, 205.0)
        words = "Digits rise along a grey line." if is_negative else "Every row holds the digits 1 to 6."
        line = OcrLine(words, box, 20.0, self._sure if is_negative else 0.95)
        return [ocr.OcrBlock(Region(box, self._letter, 2, box[3]), (line,))]


@pytest.mark.parametrize(("sure", "letter", "read", "light"), [
    (0.95, 20.0, 2, 0),
    (0.5, 20.0, 1, 1),
    (0.5, 8.0, 1, 0),  # white cells of a word grid
])  # fmt: skip
def test_light_rules_beside_dark_ones_are_read_or_told_to_be_unread(
    monkeypatch: pytest.MonkeyPatch, sure: float, letter: float, read: int, light: int
) -> None:
    engine = _Reads(sure, letter)
    monkeypatch.setattr(ocr, "_blocks", engine.blocks)
    image = np.asarray(cv2.cvtColor(_page(), cv2.COLOR_GRAY2RGB), np.uint8)
    near = ocr.read_near(Page(Path("page.png"), "0" * 64, 1, Frame(800, 1000, "px"), image, 1.0), [GRID], engine)
    assert (len(near.lines), len(near.light)) == (read, light)


@pytest.mark.parametrize("unread", [False, True])
def test_light_words_that_nobody_read_are_asked_about(unread: bool) -> None:
    draft = Draft(
        Grid(rows=6, columns=6, digits=(1, 2, 3, 4, 5, 6)),
        (),
        Words(rules_text="Every row holds 1 to 6.", light_unread=unread),
    )
    assert [doubt.why for doubt in unread_rules(draft)] == ([LIGHT] if unread else [])
