"""A minus that touches the figure before it is parted from it."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Guess
from recognise.glyphs import GlyphReader
from recognise.marks.bars import bar_at_end, bars_parted
from recognise.pixels.blobs import Blob, Pieces, Tones
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character

TALL = 36


def _picture(text: str, bar: tuple[int, int] | None) -> np.ndarray:
    """A figure, dark on white, with a bar of some length at some height that goes on from it."""
    (wide, _), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, 1.6, 4)
    picture = np.full((TALL + 12, wide + 40), 255, np.uint8)
    cv2.putText(picture, text, (4, TALL + 6), cv2.FONT_HERSHEY_SIMPLEX, 1.6, 0, 4, cv2.LINE_AA)
    if bar is not None:
        cv2.line(picture, (wide - 6, 6 + bar[1]), (wide + bar[0], 6 + bar[1]), 0, 4, cv2.LINE_AA)
    rows, columns = np.nonzero(picture < 128)
    return picture[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]


@pytest.mark.parametrize(
    ("bar", "found"), [((18, 18), True), (None, False), ((18, 34), False), ((4, 18), False)],
    ids=["a minus", "nothing", "too low", "too short"],
)  # fmt: skip
def test_a_level_bar_at_the_end_of_a_piece(bar: tuple[int, int] | None, found: bool) -> None:
    assert (bar_at_end(_picture("2", bar)) is not None) == found


def test_a_piece_that_ends_in_a_bar_is_the_figure_before_it() -> None:
    own = _picture("2", (18, 18))
    drawn = np.pad((255 - own).astype(np.float32) / np.float32(255), 10)
    tall, wide = own.shape
    blob = Blob(10, 10, wide, tall, int((own < 128).sum()), (1,))
    pieces = Pieces((drawn > 0.5).astype(np.int32), (blob,), Tones(1.0, 0.0))
    nobody = (Guess("", 0.9),)
    whole = Character(blob, (0.1, 0.1, 0.1 + wide / 100, 0.1 + tall / 100), nobody, nobody)
    (figure,), (bar,) = bars_parted([whole], pieces, drawn, Raster(9, 9, 100, 0), GlyphReader())
    assert figure.guesses[0].text == "2"
    assert bar.x >= figure.blob.x + figure.blob.width
    assert bar.height < tall / 3
