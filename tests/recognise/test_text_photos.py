"""Words on photos: lines that touch, edges of shadows, grain, curled paper. Every picture here is drawn by the test."""

from itertools import pairwise
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from ingest.page import Frame, Page
from recognise.evidence import TextLine
from recognise.text import assign_words
from recognise.text.beside import regions_beside
from recognise.text.blocks import blocks
from recognise.text.curl import Curl
from recognise.text.engine import OcrLine
from recognise.text.level import levelled
from recognise.text.next_letters import next_to_each_other
from recognise.text.ocr import ocr_lines
from recognise.text.regions import text_regions

Grey = npt.NDArray[np.uint8]


def _written(*lines: tuple[str, int, int], size: tuple[int, int] = (400, 1200)) -> Grey:
    page = np.full(size, 255, np.uint8)
    for words, x, y in lines:
        cv2.putText(page, words, (x, y), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 0, 2, cv2.LINE_AA)
    return page


def _page(grey: Grey) -> Page:
    height, width = grey.shape
    image = np.asarray(cv2.cvtColor(grey, cv2.COLOR_GRAY2RGB), np.uint8)
    return Page(Path("page.png"), "0" * 64, 1, Frame(width, height, "px"), image, 1.0)


class _Reader:
    """An engine that is sure of a block and not of a line by itself; it keeps what it was shown."""

    def __init__(self) -> None:
        self.shown: list[Grey] = []

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        self.shown.append(image)
        text, sure = ("ernie tea ee aides bel", 0.5) if single_line else ("Cells a knight's move apart differ.", 0.95)
        return [OcrLine(text, (0.0, 0.0, float(image.shape[1]), float(image.shape[0])), 20.0, sure)]


def test_a_large_figure_beside_two_lines_does_not_join_them() -> None:
    """A clue beside the grid stands close to the column of the rules and is as tall as two of its lines."""
    page = _written(("column and marked box. Outside", 120, 100), ("clues add up all digits between", 120, 130))
    cv2.putText(page, "0", (55, 135), cv2.FONT_HERSHEY_SIMPLEX, 2.4, 0, 4, cv2.LINE_AA)
    (region,) = text_regions(page, [])
    assert region.lines == 2
    assert region.letter < 30


def test_each_letter_goes_on_with_the_next_one_that_is_level_with_it() -> None:
    above = [(10.0 * at, 0.0, 8.0, 10.0) for at in range(5)]
    below = [(10.0 * at, 8.0, 8.0, 10.0) for at in range(5)]
    parts = next_to_each_other(np.array([*above, *below]))
    assert sorted(sorted(part.tolist()) for part in parts) == [[0, 1, 2, 3, 4], [5, 6, 7, 8, 9]]


def test_lines_that_run_into_a_shadow_are_seen_to_their_ends() -> None:
    words = "Every row and column holds each of the digits once in all"
    page = _written((words, 40, 100), (words, 40, 140))
    across, down = np.meshgrid(np.arange(page.shape[1]), np.arange(page.shape[0]))
    light = 0.45 + 0.55 / (1 + np.exp((across + 0.4 * down - 500) / 8))
    (region,) = text_regions((page * light).astype(np.uint8), [])
    (plain,) = text_regions(page, [])
    assert region.lines == 2
    assert np.allclose(region.box, plain.box, atol=6)


def test_a_short_last_line_below_a_line_that_falls_is_seen() -> None:
    """A line that falls reaches lower at its other end than its last line begins."""
    page = _written(("Every row and column holds each of the digits", 40, 100), ("to", 40, 134))
    fall = np.float32([[1, 0, 0], [0.06, 1, 0]])
    (region,) = text_regions(cv2.warpAffine(page, fall, (1200, 400), borderValue=255), [])
    assert region.lines == 2


def test_a_line_of_which_nothing_is_made_is_read_again_as_a_block() -> None:
    page = _page(_written(("Cells a chess knight's move apart differ", 40, 100)))
    (line,) = ocr_lines(page, with_engine=_Reader())
    assert line.text == "Cells a knight's move apart differ."


def test_grain_leaves_the_paper_white() -> None:
    grey = _written(("Cells a chess knight's move apart differ", 40, 100)) * 0.4 + 60
    noisy = np.clip(grey + np.random.default_rng(1).normal(0, 8, grey.shape), 0, 255).astype(np.uint8)
    reader = _Reader()
    ocr_lines(_page(noisy), [(0.0, 200.0, 1200.0, 400.0)], with_engine=reader)
    assert np.median(reader.shown[0]) == 255


def _curled(points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Points of paper that bows up by 30 pixels at either end."""
    return points + np.stack([np.zeros_like(points[..., 0]), 30 * ((points[..., 0] - 500) / 300) ** 2], axis=-1)


def _lattice() -> npt.NDArray[np.float64]:
    return np.stack(np.meshgrid(np.linspace(200, 800, 10), np.linspace(300, 900, 10)), axis=-1)


def test_paper_that_curls_is_flattened_by_the_lines_of_its_grid() -> None:
    assert Curl.of(_lattice()).is_flat
    curl = Curl.of(_curled(_lattice()))
    assert not curl.is_flat
    flat = curl.flattened(_curled(_lattice()).reshape(-1, 2)).reshape(10, 10, 2)
    assert np.ptp(flat[..., 1], axis=1).max() < 0.5


def test_lines_below_a_curled_grid_become_level() -> None:
    flat = _written(("Every row and column holds each digit once", 200, 960), size=(1100, 1000))
    y, x = np.mgrid[0:1100, 0:1000].astype(np.float32)
    photo = cv2.remap(flat, x, y - 30 * ((x - 500) / 300) ** 2, cv2.INTER_LINEAR, borderValue=255)
    (bent,) = text_regions(photo, [])
    seen, boxes = levelled(_page(photo), [_curled(_lattice())])
    (region,) = text_regions(cv2.cvtColor(seen.image, cv2.COLOR_RGB2GRAY), boxes)
    height, before = region.box[3] - region.box[1], bent.box[3] - bent.box[1]
    assert height < 30 < before


def test_lines_below_a_small_grid_keep_their_ends() -> None:
    """A line of print is as long below a grid that is a tenth of the page as below any other."""
    turn = np.array([[0.9998, 0.02], [-0.02, 0.9998]])
    lattice = (_lattice() - 200) / 6 @ turn + np.array([100, 300])
    photo = np.full((1000, 1000), 255, np.uint8)
    seen, boxes = levelled(_page(photo), [lattice])
    assert seen.image.shape[1] > boxes[0][2] + 390


@pytest.mark.parametrize(("size", "is_taken"), [(8.8, True), (7.0, False)])
def test_a_number_that_ends_a_sentence_may_be_measured_smaller(size: float, is_taken: bool) -> None:
    """A line of figures has nothing below its base."""
    lines = [
        TextLine(text, (100, y, 100 + 5 * len(text), y + tall), tall, 0.9, "ocr")
        for text, y, tall in (("Digits on either side of a black dot are in the ratio", 160, 10.0), ("1:2.", 171, size))
    ]
    (words,) = assign_words(lines, [(100.0, 200.0, 460.0, 560.0)], Frame(595.0, 842.0, "pt"))
    assert (words.rules_text or "").endswith("1:2.") == is_taken


def test_a_clue_in_a_line_of_the_rules_beside_the_grid_parts_no_paragraph() -> None:
    lines = [
        TextLine(text, (x, y, 420.0, y + 10), 10.0, 0.9, "ocr")
        for text, x, y in (
            ("necessary. A black dot joins two digits, one of", 200.0, 100.0),
            ("20 which is double the other. Clues may have been", 180.0, 112.0),
        )
    ]
    last = TextLine("left out.", (200.0, 124.0, 240.0, 134.0), 10.0, 0.9, "ocr")
    (block,) = blocks([*lines, last])
    assert block.text.endswith("Clues may have been left out.")


class _ByLength:
    """An engine that reads as many words as its picture is wide, and leaves out a line when it is shown several."""

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        rows = np.flatnonzero((image < 128).any(axis=1))
        starts = [rows[0], *(below for above, below in pairwise(rows) if below - above > 3)]
        lines = [
            OcrLine(f"line at {top}", (0.0, float(top), float(image.shape[1]), float(top + 30)), 30.0, 0.95)
            for top in starts
        ]
        return lines if len(lines) < 4 else [*lines[:2], *lines[3:]]


def test_a_line_that_is_left_out_of_a_block_is_read_alone() -> None:
    words = "CELLS A CHESS KNIGHTS MOVE APART DIFFER"
    page = _written(*((words if at != 2 else words[:20], 40, 100 + 40 * at) for at in range(4)))
    tops = [line.box[1] for line in ocr_lines(_page(page), with_engine=_ByLength())]
    assert len(tops) == 4
    assert np.allclose(np.diff(tops), 40, atol=4)


def test_rules_are_seen_beside_a_grid_where_a_table_of_wood_has_larger_pieces() -> None:
    """What is a letter is told from all that is seen: small print is dust beside the grain of wood."""
    page = _written(size=(1000, 1800))
    words = "Every row and column holds each of the digits once in all"
    cv2.putText(page, words, (500, 620), cv2.FONT_HERSHEY_SIMPLEX, 0.35, 0, 1, cv2.LINE_AA)
    for at in range(120):
        x, y = 1250 + 130 * (at % 4), 10 + 33 * (at // 4)
        page[y : y + 26, x : x + 100] = np.where(np.arange(100) % 25 < 20, 60, 255)
    grid = (500.0, 200.0, 900.0, 600.0)
    assert not [region for region in text_regions(page, [grid]) if region.box[0] < 1200]
    (beside,) = [region for region in regions_beside(page, [grid], 0.9) if region.box[0] < 1200]
    assert np.allclose(beside.box[:2], (500, 611), atol=4)
