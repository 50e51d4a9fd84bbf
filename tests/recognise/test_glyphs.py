"""The glyph network on printed characters of the bundled fonts, and on what is no character."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image, ImageDraw, ImageFont

from recognise.glyphs import GlyphReader
from recognise.glyphs.classes import CHARACTERS, DIGITS, SIDE
from recognise.glyphs.window import normalised, window

Grey = npt.NDArray[np.uint8]

BUNDLED = Path(__file__).parents[2] / "fixtures" / "fonts" / "bundled"
FONTS = sorted(p for p in BUNDLED.iterdir() if p.suffix in (".ttf", ".otf"))
OLD_STYLE = "GoudyBookletter1911.otf"
"""Its 0 is a circle and its 1 a small capital I."""


def crop(text: str, font: Path, size: int = 40) -> Grey:
    """The window of one character in black on white."""
    canvas = Image.new("L", (4 * size, 4 * size), 255)
    ImageDraw.Draw(canvas).text((size, size), text, font=ImageFont.truetype(font, size), fill=0)
    paper = np.asarray(canvas)
    rows, columns = np.flatnonzero((paper < 128).any(1)), np.flatnonzero((paper < 128).any(0))
    return window(paper, (columns[0], rows[0], columns[-1] + 1, rows[-1] + 1))


@pytest.fixture(scope="module")
def reader() -> GlyphReader:
    return GlyphReader()


@pytest.mark.parametrize("size", [16, 24, 40])
@pytest.mark.parametrize("font", FONTS, ids=lambda p: p.stem)
def test_bundled_fonts_are_read(reader: GlyphReader, font: Path, size: int) -> None:
    found = reader.read([crop(digit, font, size) for digit in DIGITS], DIGITS)
    assert "".join(guesses[0].text for guesses in found) == DIGITS
    assert min(guesses[0].probability for guesses in found) > 0.5


def test_round_zero_and_bare_bar_are_digits_where_no_letter_may_stand(reader: GlyphReader) -> None:
    zero, one = reader.read([crop("0", BUNDLED / OLD_STYLE), crop("1", BUNDLED / OLD_STYLE)], DIGITS)
    assert (zero[0].text, one[0].text) == ("0", "1")


def test_letters_of_a_large_grid(reader: GlyphReader) -> None:
    letters = "ABCDEFG"
    found = reader.read([crop(c, BUNDLED / "LiberationSans-Regular.ttf") for c in letters], DIGITS + letters)
    assert "".join(guesses[0].text for guesses in found) == letters


def test_light_on_dark_reads_the_same(reader: GlyphReader) -> None:
    dark = [crop(d, BUNDLED / "Cabin-Bold.otf") for d in DIGITS]
    found = reader.read([np.asarray(255 - c, np.uint8) for c in dark], DIGITS)
    assert "".join(guesses[0].text for guesses in found) == DIGITS
    assert np.allclose(normalised(dark), normalised([np.asarray(255 - c, np.uint8) for c in dark]), atol=1e-5)


@pytest.mark.parametrize("tone", [0, 90, 200, 255])
def test_blank_paper_is_nothing(reader: GlyphReader, tone: int) -> None:
    noise = np.random.default_rng(1).normal(tone, 2, (SIDE, SIDE)).clip(0, 255).astype(np.uint8)
    for guesses in reader.read([np.full((SIDE, SIDE), tone, np.uint8), noise], DIGITS):
        assert guesses[0].text == ""


def test_a_line_along_the_border_is_nothing(reader: GlyphReader) -> None:
    crops = []
    for turn in range(4):
        paper = np.full((SIDE, SIDE), 255, np.uint8)
        paper[:, :3] = 0
        crops.append(np.ascontiguousarray(np.rot90(paper, turn)))
    assert [guesses[0].text for guesses in reader.read(crops, DIGITS)] == [""] * 4


def test_only_allowed_characters_and_nothing_are_answers(reader: GlyphReader) -> None:
    crops = [crop(c, BUNDLED / "Caladea-Regular.ttf") for c in "8BS5"]
    for row, guesses in zip(reader.probabilities(crops, "58"), reader.read(crops, "58"), strict=True):
        assert {g.text for g in guesses} <= {"5", "8", ""}
        assert row.sum() == pytest.approx(1)
        assert np.flatnonzero(row).tolist() == [5, 8, len(CHARACTERS)]


def test_unknown_characters_are_refused(reader: GlyphReader) -> None:
    with pytest.raises(ValueError, match="knows no ß"):
        reader.read([], "1ß")


def test_an_empty_box_is_refused() -> None:
    with pytest.raises(ValueError, match="empty box"):
        window(np.full((9, 9), 255, np.uint8), (4, 4, 4, 4))


def test_no_crops_no_guesses(reader: GlyphReader) -> None:
    assert reader.read([], DIGITS) == []


def test_the_same_crop_reads_the_same_alone_and_among_many(reader: GlyphReader) -> None:
    crops = [crop(d, font) for font in FONTS for d in DIGITS] * 2
    many = reader.probabilities(crops)
    assert np.array_equal(many, GlyphReader().probabilities(crops))
    assert np.allclose(many[7], reader.probabilities([crops[7]])[0], atol=1e-5)


def test_a_window_that_was_read_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    reader, run = GlyphReader(), []
    scores = reader._run
    monkeypatch.setattr(reader, "_run", lambda crops: [run.append(len(crops)), scores(crops)][1])
    four, seven = (crop(d, FONTS[0]) for d in "47")
    first = reader.probabilities([four, seven, four])
    again = reader.probabilities([seven, four], "4")
    assert run == [2, 0]
    assert np.array_equal(first[0], first[2])
    assert np.array_equal(again, GlyphReader().probabilities([seven, four], "4"))


def test_reading_needs_no_deep_learning_library() -> None:
    code = "import sys; from recognise.glyphs import GlyphReader; GlyphReader(); print('torch' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
