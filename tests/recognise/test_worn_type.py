"""Small worn type, read by a network of its own. Every picture here is drawn by the test."""

from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image, ImageDraw, ImageFont

from ingest.page import Frame, Page
from recognise.text.askew import fall_of
from recognise.text.cut import grown
from recognise.text.engine import OcrLine
from recognise.text.ocr import ocr_lines
from recognise.text.regions import Region
from recognise.text.worn import with_worn
from recognise.worn_type.block import WIDEST, read_block
from recognise.worn_type.reader import LineReader
from recognise.worn_type.strips import lines_in

FACE = Path(__file__).parents[2] / "fixtures" / "fonts"
RULES = (
    "Digits along a grey line differ by at least 5 from each",
    "neighbour. Equal digits may not touch, not even at a",
    "corner.",
)
Grey = npt.NDArray[np.uint8]


def _set(lines: tuple[str, ...], size: int, fall: float = 0.0) -> Grey:
    """Lines of type in one of the open faces that come along, black on white."""
    file = next(iter(sorted(FACE.rglob("*.ttf"))))
    font = ImageFont.truetype(str(file), size)
    wide = int(max(font.getlength(line) for line in lines)) + 3 * size
    page = Image.new("L", (wide, int(size * (1.35 * len(lines) + 2))), 255)
    draw = ImageDraw.Draw(page)
    for number, line in enumerate(lines):
        draw.text((size, size * (1.5 + 1.35 * number)), line, font=font, fill=0, anchor="ls")
    high = page.height + int(abs(fall) * wide)
    move = np.array([[1, 0, 0], [fall, 1, max(0.0, -fall * wide)]])
    return np.asarray(cv2.warpAffine(np.asarray(page), move, (wide, high), borderValue=255), np.uint8)


def _photographed(page: Grey, smaller: float) -> Grey:
    """Far away and out of focus, with noise, then enlarged again."""
    small = cv2.resize(page, None, fx=1 / smaller, fy=1 / smaller, interpolation=cv2.INTER_AREA).astype(np.float32)
    small = cv2.GaussianBlur(small, (0, 0), 0.8) + np.random.default_rng(3).normal(0, 14, small.shape)
    size = page.shape[1], page.shape[0]
    return np.asarray(np.clip(cv2.resize(small, size, interpolation=cv2.INTER_CUBIC), 0, 255), np.uint8)


def test_type_of_seven_pixels_out_of_focus_is_read() -> None:
    page = _photographed(_set(RULES, 36), 36 / 13)
    read = " ".join(line.text for line in read_block(page, 24.0))
    words = " ".join(RULES).split()
    assert sum(word in read.split() for word in words) >= 0.85 * len(words)
    assert "not even" in read


def test_numbers_are_read_and_not_guessed() -> None:
    """A network that knows rules by heart would read what they mostly say."""
    for number in ("3", "4", "7"):
        page = _photographed(_set((f"Digits along a line differ by at least {number} each",), 36), 36 / 16)
        (line,) = read_block(page, 24.0)
        assert f"least {number} " in line.text


def test_grain_is_no_text() -> None:
    grain = np.random.default_rng(5).normal(150, 45, (120, 700))
    rough = np.asarray(np.clip(cv2.GaussianBlur(grain, (0, 0), 1.5), 0, 255), np.uint8)
    assert all(line.sure < 0.6 for line in read_block(rough, 20.0))


def test_grain_is_given_up_by_its_widest_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each line costs a run of the network, and a table under a page has a hundred of them."""
    strips: list[Grey] = []
    read = LineReader.read
    monkeypatch.setattr(LineReader, "read", lambda reader, strip: (strips.append(strip), read(reader, strip))[1])
    grain = np.random.default_rng(5).normal(150, 45, (320, 700))
    rough = np.asarray(np.clip(cv2.GaussianBlur(grain, (0, 0), 1.5), 0, 255), np.uint8)
    assert len(lines_in(rough, 20.0)) > 4
    assert read_block(rough, 20.0, perhaps_grain=True) == []
    assert len(strips) <= 2 * WIDEST


def test_worn_type_of_which_nothing_was_read_is_not_given_up() -> None:
    page = _photographed(_set(RULES, 36), 36 / 13)
    assert read_block(page, 24.0, perhaps_grain=True) == read_block(page, 24.0)


def test_a_last_line_of_one_word_is_a_line() -> None:
    assert len(lines_in(_set(RULES, 36), 24.0)) == 3


def test_the_edge_of_the_paper_hides_no_line() -> None:
    page = _set(RULES, 36)
    page[-6:] = 0
    found = lines_in(page, 24.0)
    middles = [36 * (1.5 + 1.35 * at) for at in range(3)]
    assert all(any(abs(line.base - middle) < 4 for line in found) for middle in middles)


def test_sure_lines_of_another_reader_stand() -> None:
    page = _set(RULES, 36)
    boxes = [(36.0, 36 * (0.6 + 1.35 * at), 500.0, 36 * (1.7 + 1.35 * at)) for at in range(3)]
    theirs = [
        OcrLine(f"line {at}", box, 30.0, sure)
        for at, (box, sure) in enumerate(zip(boxes, (0.97, 0.5, 0.97), strict=True))
    ]
    texts = [line.text for line in with_worn(theirs, page, 24.0)]
    assert texts == ["line 0", RULES[1], "line 2"]


@pytest.mark.parametrize("fall", [-0.12, 0.15])
def test_how_far_lines_fall(fall: float) -> None:
    assert abs(fall_of(_set((*RULES, *RULES), 20, fall)) - fall) < 0.02


def test_level_lines_do_not_fall() -> None:
    assert fall_of(_set((*RULES, *RULES), 20)) == 0.0


def test_a_block_grows_over_the_words_that_were_not_seen_to_belong_to_it_but_not_into_a_grid() -> None:
    page = _set(RULES, 36)
    part = Region((36.0, 30.0, 400.0, 110.0), 24.0, 2, 110.0)
    x0, y0, x1, y1 = grown(page, part, ())
    assert x0 == 36.0 and y0 == 30.0
    assert 650 < x1 < page.shape[1] and 150 < y1 < 170
    beside, below = (600.0, 0.0, 900.0, 300.0), (0.0, 130.0, 900.0, 900.0)
    _, _, x1, y1 = grown(page, part, (beside, below))
    assert 400 <= x1 <= 600 and y1 <= 130


class _Blind:
    """An engine that makes nothing of worn type."""

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        return []


def test_what_tesseract_does_not_read_is_read() -> None:
    page = np.full((700, 1500), 235, np.uint8)
    text = _photographed(_set(RULES, 36), 36 / 15)
    page[60 : 60 + text.shape[0], 60 : 60 + text.shape[1]] = text
    image = np.asarray(cv2.cvtColor(page, cv2.COLOR_GRAY2RGB), np.uint8)
    seen = Page(Path("page.png"), "0" * 64, 1, Frame(1500, 700, "px"), image, 1.0)
    told = " ".join(line.text for line in ocr_lines(seen, with_engine=_Blind()))
    assert "not even at a" in told


def test_other_languages_are_left_to_the_other_reader() -> None:
    page = _set(("chaque ligne et chaque colonne contient", "les chiffres de un a neuf une fois"), 36)
    theirs = [OcrLine(f"ligne {at}", (36.0, 20 + 49 * at, 600.0, 60 + 49 * at), 30.0, 0.6) for at in range(2)]
    assert [line.text for line in with_worn(theirs, page, 24.0)] == ["ligne 0", "ligne 1"]


def test_of_a_picture_of_one_row_and_of_specks_no_line_is_read() -> None:
    assert read_block(np.zeros((1, 30), np.uint8), 12.0) == []
    assert read_block(np.full((9, 30), 255, np.uint8), 1.0) == []
