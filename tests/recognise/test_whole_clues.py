"""Numbers beside the grid, looked at again by the network of short texts."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.whole_clues import HALF, MOST, clues_again
from recognise.pixels.frame import Raster

CELL, FINE = 64, 4
"""Pixels a cell, and how many times finer the picture is drawn."""
RASTER = Raster(4, 4, CELL, CELL)
BESIDE, INSIDE = (-0.5, 1.5), (1.5, 1.5)


def _seen(text: str) -> SimpleNamespace:
    """A grid with a number to the left of its second row, whose figures touch each other."""
    wide = 6 * CELL * FINE
    picture = np.full((wide, wide, 3), 255, np.uint8)
    for at in range(CELL * FINE, 5 * CELL * FINE + 1, CELL * FINE):
        cv2.line(picture, (CELL * FINE, at), (5 * CELL * FINE, at), (20, 20, 20), FINE)
        cv2.line(picture, (at, CELL * FINE), (at, 5 * CELL * FINE), (20, 20, 20), FINE)
    (width, height), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_DUPLEX, 3.6, 3 * FINE)
    x, y = (round((at + 1) * CELL * FINE) for at in BESIDE)
    at = x - width // 2, y + height // 2
    cv2.putText(picture, text, at, cv2.FONT_HERSHEY_DUPLEX, 3.6, (20, 20, 20), 3 * FINE, cv2.LINE_AA)
    small = cv2.resize(picture, (6 * CELL, 6 * CELL), interpolation=cv2.INTER_AREA)
    return SimpleNamespace(
        raster=RASTER,
        ink=SimpleNamespace(
            relative=small.astype(np.float32) / 255, level=1 - small[..., 0].astype(np.float32) / 255, floor=0.05
        ),
    )


def _glyph(*guesses: tuple[str, float], at: tuple[float, float] = BESIDE) -> Glyph:
    x, y = at
    box = x - 0.25, y - 0.17, x + 0.25, y + 0.17
    return Glyph(box, tuple(Guess(*guess) for guess in guesses), 0.34, (20, 20, 20), "ocr")


@pytest.mark.parametrize("text", ["20", "45", "13"])
def test_what_both_read_is_sure(text: str) -> None:
    before = _glyph((text, 0.47), ("23", 0.3))
    ((own, after),) = clues_again([before], _seen(text))  # type: ignore[arg-type]
    assert own is before
    assert after.text == text
    assert after.confidence > 0.9
    assert sum(guess.probability for guess in after.guesses) <= 1, "its other readings are as much less likely"


def test_what_is_weakly_read_gives_way_and_stays_in_doubt() -> None:
    ((_, after),) = clues_again([_glyph(("26", 0.6))], _seen("20"))  # type: ignore[arg-type]
    assert (after.text, after.confidence) == ("20", MOST)
    assert [guess.text for guess in after.guesses] == ["20", "26"]


@pytest.mark.parametrize("sure", [0.9, 1.0])
def test_a_sure_reading_is_doubted_where_the_network_surely_reads_another(sure: float) -> None:
    ((_, after),) = clues_again([_glyph(("26", sure))], _seen("20"))  # type: ignore[arg-type]
    assert (after.text, after.confidence) == ("26", HALF)
    assert after.guesses[1].text == "20", "what it may be is named, and tried by the proof"


@pytest.mark.parametrize("text", ["20", "26"])
def test_ink_that_was_cut_off_belongs_to_what_both_read(text: str) -> None:
    """The left half of its first figure, where nobody sees another character."""
    x, y = BESIDE
    half = replace(_glyph((text, 1.0)), box=(x - 0.1, y - 0.17, x + 0.25, y + 0.17))
    found = clues_again([half], _seen("20"))  # type: ignore[arg-type]
    boxes = [after.box for _, after in found] or [half.box]
    assert (boxes[0][0] < half.box[0] - 0.05) == (text == "20")
    assert boxes[0][1] == half.box[1]


def test_others_stay_as_they_were_read() -> None:
    seen = _seen("20")
    assert not clues_again([_glyph(("20", 1.0))], seen)  # type: ignore[arg-type]
    assert not clues_again([_glyph(("26", 0.6), at=INSIDE)], seen), "in the grid"  # type: ignore[arg-type]
    assert not clues_again([_glyph(("V", 0.6))], seen), "no number"  # type: ignore[arg-type]
    assert not clues_again([_glyph(("26", 0.6))], _seen("")), "the network sees nothing"  # type: ignore[arg-type]
