"""Lines of rules that the engine leaves out, or of which nobody saw that they belong to the block above them."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from ingest.page import Frame, Page
from recognise.text import ocr
from recognise.text.engine import OcrLine
from recognise.text.left_out import with_left_out
from recognise.text.ocr import read_near
from recognise.text.regions import Region

Grey = npt.NDArray[np.uint8]
TOLD = (
    "Each row holds each digit once in all.",
    "The digits of a cage add up to its sum, and they may",
    "come again.",
)
BASES = (100, 140, 180)
LETTER = 18.0
GRID = (40.0, 300.0, 600.0, 860.0)


def _page() -> Grey:
    page = np.full((900, 1200), 255, np.uint8)
    for words, y in zip(TOLD, BASES, strict=True):
        cv2.putText(page, words, (40, y), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 0, 2, cv2.LINE_AA)
    return page


class _Reader:
    """An engine that reads the lines that a picture shows, which it tells by how long they are; of several it leaves
    out some."""

    def __init__(self, *left_out: int) -> None:
        self.left_out = left_out

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        rows = np.flatnonzero((image < 128).any(axis=1))
        breaks = [0, *(at + 1 for at, (above, below) in enumerate(pairwise(rows)) if below - above > 5), len(rows)]
        bands = [(rows[a], rows[b - 1]) for a, b in pairwise(breaks)]
        found = [self._line(image, float(top), float(foot)) for top, foot in bands if foot - top > LETTER / 2]
        return found if single_line else [line for at, line in enumerate(found) if at not in self.left_out]

    @staticmethod
    def _line(image: Grey, top: float, foot: float) -> OcrLine:
        columns = np.flatnonzero((image[int(top) : int(foot) + 1] < 128).any(axis=0))
        wide = columns[-1] - columns[0]
        text = min(TOLD, key=lambda words: abs(cv2.getTextSize(words, cv2.FONT_HERSHEY_SIMPLEX, 0.8, 2)[0][0] - wide))
        return OcrLine(text, (float(columns[0]), top, float(columns[-1]), foot), foot - top, 0.95)


@pytest.mark.parametrize("left_out", [(0,), (2,), (0, 2), (1, 2)])
def test_the_first_and_the_last_line_of_a_block_are_read_alone_where_they_are_left_out(
    left_out: tuple[int, ...],
) -> None:
    part = _page()[60:210]
    reader = _Reader(*left_out)
    found = reader.read(part)
    assert len(found) == 3 - len(left_out)
    assert [line.text for line in with_left_out(reader, part, found, LETTER)] == list(TOLD)


class _OnPaper:
    """An engine that reads rules of three lines where most of a picture is paper."""

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        del single_line
        boxes = [(40.0, float(y) - LETTER, 700.0, float(y)) for y in BASES]
        found = [OcrLine(words, box, LETTER, 0.95) for words, box in zip(TOLD, boxes, strict=True)]
        return found if image.mean() > 128 else []


def test_rules_are_read_that_are_light_on_a_dark_panel(monkeypatch: pytest.MonkeyPatch) -> None:
    grey = _page()
    grey[:290] = 230 - grey[:290] // 255 * 200
    seen = Region((40.0, 76.0, 720.0, 190.0), 24.0, 3, 190.0)
    monkeypatch.setattr(ocr, "text_regions", lambda picture, *_: [seen] if picture[70, 20] > 128 else [])
    monkeypatch.setattr(ocr, "regions_beside", lambda *_: [])
    image = np.asarray(cv2.cvtColor(grey, cv2.COLOR_GRAY2RGB), np.uint8)
    page = Page(Path("page.png"), "0" * 64, 1, Frame(1200, 900, "px"), image, 1.0)
    lines = read_near(page, [GRID], _OnPaper()).lines
    assert [line.text for line in lines] == list(TOLD)


@pytest.mark.parametrize(("confidence", "told"), [(0.95, TOLD), (0.5, ())])
def test_what_the_negative_of_grain_tells_is_not_sure_enough(
    monkeypatch: pytest.MonkeyPatch, confidence: float, told: tuple[str, ...]
) -> None:
    seen = Region((40.0, 76.0, 720.0, 190.0), 24.0, 3, 190.0)
    read = tuple(OcrLine(words, (40.0, 80.0, 700.0, 98.0), LETTER, confidence) for words in TOLD)
    monkeypatch.setattr(ocr, "_blocks", lambda sight: [ocr.OcrBlock(seen, read)] if sight.grey[0, 0] == 0 else [])
    image = np.asarray(cv2.cvtColor(_page(), cv2.COLOR_GRAY2RGB), np.uint8)
    page = Page(Path("page.png"), "0" * 64, 1, Frame(1200, 900, "px"), image, 1.0)
    lines = read_near(page, [GRID], _OnPaper()).lines
    assert [line.text for line in lines] == list(told)


def test_rules_that_break_off_go_on_below_their_block(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = Region((40.0, 76.0, 720.0, 147.0), 24.0, 2, 147.0)
    monkeypatch.setattr(ocr, "text_regions", lambda *_: [seen])
    grey = _page()
    image = np.asarray(cv2.cvtColor(grey, cv2.COLOR_GRAY2RGB), np.uint8)
    page = Page(Path("page.png"), "0" * 64, 1, Frame(1200, 900, "px"), image, 1.0)
    lines = read_near(page, [GRID], _Reader()).lines
    assert [line.text for line in lines] == list(TOLD)
