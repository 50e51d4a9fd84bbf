"""Words on a page: lines from the text layer and by OCR, and how they are joined to paragraphs. Every page here is
drawn by the test."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest
from reportlab.pdfgen.canvas import Canvas

from ingest.page import Box, Frame, Page, VectorGlyph
from ingest.pdf import pdf_pages
from recognise.evidence import TextLine
from recognise.text import assign_words, ocr, page_lines, page_words
from recognise.text.blocks import Block, as_sentences, blocks, joined
from recognise.text.column_rules import without_rules
from recognise.text.cut import cut
from recognise.text.engine import NoEngine, OcrLine, engine
from recognise.text.glyph_lines import glyph_lines
from recognise.text.level import levelled
from recognise.text.lying import layer_turn, text_turn
from recognise.text.ocr import OcrBlock, ocr_lines, without_others
from recognise.text.paper import Grey
from recognise.text.paragraphs import rules_paragraphs, without_bullets
from recognise.text.regions import Region, text_regions, text_slope
from recognise.text.setter import named_setter

RULES = ["Place 1 to 9 once in every row, column and box.", "Digits along a thermometer increase from the bulb."]
GRID: Box = (100.0, 200.0, 460.0, 560.0)
FRAME = Frame(595.0, 842.0, "pt")


def line(text: str, x: float, y: float, size: float = 10, *, bold: bool = False) -> TextLine:
    return TextLine(text, (x, y, x + 0.5 * size * len(text), y + size), size, 1.0, "vector", bold)


@pytest.fixture
def page(tmp_path: Path) -> Page:
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(595, 842))
    for text, font, size, y in (
        ("Harbour Lights", "Helvetica-Bold", 18, 100),
        ("Set by Wader", "Times-Italic", 10, 120),
        (RULES[0], "Times-Roman", 10, 150),
        (RULES[1], "Times-Roman", 10, 162),
    ):
        canvas.setFont(font, size)
        canvas.drawString(100, 842 - y, text)
    for i in range(10):
        canvas.line(100 + 40 * i, 842 - 200, 100 + 40 * i, 842 - 560)
        canvas.line(100, 842 - 200 - 40 * i, 460, 842 - 200 - 40 * i)
    canvas.setFont("Helvetica", 20)
    canvas.drawString(113, 842 - 227, "5")
    canvas.setFont("Times-Roman", 8)
    canvas.drawString(280, 20, "Fixture Press 12")
    canvas.save()
    path = tmp_path / "page.pdf"
    path.write_bytes(stream.getvalue())
    found = next(iter(pdf_pages(path, "0" * 64)))
    assert isinstance(found, Page)
    return found


def test_text_layer(page: Page) -> None:
    words = assign_words(page_lines(page), [GRID], page.frame)[0]
    assert (words.title, words.setter, words.rules_text) == ("Harbour Lights", "Wader", " ".join(RULES))


def test_ocr(page: Page) -> None:
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    words = assign_words(ocr_lines(page, [GRID]), [GRID], page.frame)[0]
    assert (words.title, words.setter, words.rules_text) == ("Harbour Lights", "Wader", " ".join(RULES))


def test_a_fold_through_the_rules_parts_no_lines(page: Page) -> None:
    """A fold is dark from top to bottom: letters in it stand on paper as dark as it, and hang together with nothing."""
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    across = np.arange(page.image.shape[1]) / page.scale
    fold = 1 - 0.45 * np.exp(-(((across - 190) / 2.0) ** 2))
    folded = replace(page, image=(page.image * fold[None, :, None]).astype(np.uint8))
    words = assign_words(ocr_lines(folded, [GRID]), [GRID], page.frame)[0]
    assert (words.title, words.setter, words.rules_text) == ("Harbour Lights", "Wader", " ".join(RULES))


def test_words_of_a_photo_are_read_where_its_grid_is_a_rectangle(page: Page) -> None:
    """Seen from aside, in poor light: as the page, but for what OCR always gets wrong."""
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    rows, columns = page.image.shape[:2]
    seen = np.array([[300, 20], [columns - 20, 350], [columns - 250, rows - 200], [60, rows - 10]], dtype=np.float32)
    whole = np.array([[0, 0], [columns, 0], [columns, rows], [0, rows]], dtype=np.float32)
    matrix = cv2.getPerspectiveTransform(whole, seen)
    dark = np.linspace(0.3, 0.8, columns)[None, :, None]
    image = (cv2.warpPerspective(page.image, matrix, (columns, rows), borderValue=(90, 90, 90)) * dark).astype(np.uint8)
    left, top, right, bottom = (page.scale * side for side in GRID)
    lattice = cv2.perspectiveTransform(np.array([[[left, top], [right, top], [left, bottom], [right, bottom]]]), matrix)
    photo = replace(page, image=image, vectors=None, scale=1.0, frame=Frame(columns, rows, "px"))
    above, boxes = levelled(photo, [lattice.reshape(2, 2, 2)])
    assert abs(text_slope(cv2.cvtColor(above.image, cv2.COLOR_RGB2GRAY), boxes)) < 0.5
    assert abs(text_slope(cv2.cvtColor(image, cv2.COLOR_RGB2GRAY), [])) > 3
    words = page_words(photo, [lattice.reshape(2, 2, 2)])[0]
    assert (words.title, words.setter, words.rules_text) == ("Harbour Lights", "Wader", " ".join(RULES))
    # The lines lie on the photo where they are seen, not where they were levelled.
    title = page_words(page, [np.array([[left, top], [right, top], [left, bottom], [right, bottom]]).reshape(2, 2, 2)])
    flat = next(line.box for line in title[0].lines if "Harbour" in line.text)
    seen_at = next(line.box for line in words.lines if "Harbour" in line.text)
    middle = np.array([[[(flat[0] + flat[2]) / 2 * page.scale, (flat[1] + flat[3]) / 2 * page.scale]]])
    there = cv2.perspectiveTransform(middle, matrix)[0, 0]
    assert np.allclose([(seen_at[0] + seen_at[2]) / 2, (seen_at[1] + seen_at[3]) / 2], there, atol=15)


def test_a_short_last_line_and_a_lost_full_stop_come_back() -> None:
    """A blurred last line is a piece or two of ink: the place below its paragraph tells that it is one."""
    page = np.full((400, 1200), 255, np.uint8)
    for words, y in (("Every row holds each of the digits once and every column", 60), ("too", 100)):
        cv2.putText(page, words, (40, y), cv2.FONT_HERSHEY_SIMPLEX, 1.0, 0, 2, cv2.LINE_AA)
    blurred = cv2.GaussianBlur(page, (0, 0), 2.5)
    (region,) = text_regions(blurred, [])
    assert region.lines == 2
    told = [
        replace(line(text, 10, 10 + 12 * at), how="ocr") for at, text in enumerate(("in every row", "Digits differ."))
    ]
    assert Block(tuple(told)).text == "in every row. Digits differ."


def test_blanks_of_a_typewriter_part_no_lines() -> None:
    page = np.full((1000, 1400), 255, np.uint8)
    rng = np.random.default_rng(3)
    for line in range(4):
        for at in range(72):
            # Words of three letters and of six, the blanks of two lines above each other.
            if at % 9 in (3, 8):
                continue
            wide = int(rng.integers(5, 11))
            x = 100 + 13 * at - wide // 2
            page[200 + 26 * line : 212 + 26 * line, x : x + wide] = 0
    (region,) = text_regions(page, [])
    assert region.lines == 4
    assert region.box[2] - region.box[0] > 900


def test_a_word_of_small_letters_goes_on_over_a_wide_blank() -> None:
    """A justified line, its blanks as wide as tall letters are high; of two words one ends small, the next is small."""
    page = np.full((600, 1400), 255, np.uint8)
    x = 100
    for word in ("bdhla", "dbka", "acemno", "hkbd", "lfdbh") * 2:
        for letter in word:
            top = 311 if letter in "acemno" else 300
            wide = 10 + ord(letter) % 7
            page[top:332, x : x + wide] = 0
            x += wide + 4
        x += 28
    (region,) = text_regions(page, [])
    assert region.box[2] > x - 40


def test_two_columns_under_a_note_are_read_one_after_the_other() -> None:
    """The page slants: the head of the right column lies higher than that of the left one."""
    below = GRID[3]
    lines = [
        line("Digits in a cage differ.", 420, below + 10),
        line("Place 1 to 9 once in each row, column", 100, below + 90),
        line("and box. Along a thermometer the digits", 100, below + 102),
        line("increase from the bulb. Cells a knight's", 320, below + 89),
        line("move apart hold different digits.", 320, below + 101),
    ]
    (words,) = assign_words(lines, [GRID], FRAME)
    assert words.rules_text is not None
    assert words.rules_text.startswith("Digits in a cage differ.")
    assert words.rules_text.endswith(
        "Place 1 to 9 once in each row, column and box. Along a thermometer the digits increase from the bulb. "
        "Cells a knight's move apart hold different digits."
    )


def test_rings_within_rings_are_no_typewritten_text() -> None:
    page = np.full((400, 2000), 255, np.uint8)
    for x in range(100, 1900, 60):
        for side in (30, 18, 8):
            cv2.rectangle(page, (x - side // 2, 200 - side // 2), (x + side // 2, 200 + side // 2), 0, 2)
    assert all(region.lines == 1 for region in text_regions(page, []))


def test_what_ocr_takes_for_a_bullet_goes_like_one() -> None:
    told = "\u00a2 Place 1 to 9 in every row. e Greater-than signs must be obeyed. \u00ab A circle holds an even digit."
    expected = "Place 1 to 9 in every row. Greater-than signs must be obeyed. A circle holds an even digit."
    assert without_bullets(told) == expected


def test_a_page_that_was_turned_upright_keeps_its_words(page: Page) -> None:
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    left, top, right, bottom = (page.scale * side for side in GRID)
    lattice = np.array([[[left, top], [right, top]], [[left, bottom], [right, bottom]]])
    upside_down = replace(page, vectors=None, turned=2)
    assert page_words(upside_down, [lattice])[0].rules_text == " ".join(RULES)


def test_the_lines_of_text_tell_which_way_up_a_page_lies(page: Page) -> None:
    try:
        engine()
    except NoEngine:
        pytest.skip("no Tesseract here")
    raster = replace(page, vectors=None)
    height, width = raster.image.shape[:2]
    x0, y0, x1, y1 = (page.scale * side for side in GRID)
    assert text_turn(raster, [(x0, y0, x1, y1)]) == 0
    assert text_turn(raster.turn(1), [(height - y1, x0, height - y0, x1)]) == 3
    assert text_turn(raster.turn(3), [(y0, width - x1, y1, width - x0)]) == 1
    assert text_turn(raster.turn(2), [(width - x1, height - y1, width - x0, height - y0)]) == 2
    blank = replace(raster, image=np.full_like(raster.image, 255))
    assert text_turn(blank, [(x0, y0, x1, y1)]) is None


def test_the_letters_of_a_text_layer_tell_which_way_up_a_page_is(page: Page) -> None:
    assert page.vectors is not None
    assert layer_turn(page) == 0
    assert layer_turn(page.turn(1)) == 3
    sideways = tuple(replace(glyph, angle=90.0, upright=False) for glyph in page.vectors.glyphs)
    assert layer_turn(replace(page, vectors=replace(page.vectors, glyphs=sideways))) == 3
    both = (*page.vectors.glyphs, *sideways)
    assert layer_turn(replace(page, vectors=replace(page.vectors, glyphs=both))) is None
    few = page.vectors.glyphs[:20]
    assert layer_turn(replace(page, vectors=replace(page.vectors, glyphs=few))) is None
    assert layer_turn(replace(page, vectors=None)) is None


@pytest.mark.parametrize("number", ["9.", "1:2."])
@pytest.mark.parametrize(("y", "is_taken"), [(170, True), (260, False)])
def test_a_number_with_a_stop_ends_the_sentence_above_it(y: float, is_taken: bool, number: str) -> None:
    text = "No digit may occur twice in any row, column or block; use the figures 1 to"
    words = assign_words(
        [line("Salt Meadow", 200, 120, 14, bold=True), line(text, 100, 160), line(number, 100, y)], [GRID], FRAME
    )
    assert words[0].rules_text == (f"{text} {number}" if is_taken else text)


def test_a_last_line_of_more_figures_than_letters_belongs_to_the_sentence_above_it() -> None:
    first, last = "Cells that share a side never hold digits that are one", "apart (1-2, 2-3 etc)."
    table = line("Mon 14 15 16 17", 100, 600)
    words = assign_words([line(first, 100, 160), line(last, 100, 170), table], [GRID], FRAME)
    assert words[0].rules_text == f"{first} {last}"


def test_a_name_that_stands_apart_from_its_label() -> None:
    scanned = [replace(line("Author:", 40, 90, 9), how="ocr"), replace(line("Odo Vance", 90, 91, 9), how="ocr")]
    title = replace(line("Old Quay", 40, 60, 16), how="ocr")
    assert assign_words([title, *scanned], [GRID], FRAME)[0].setter == "Odo Vance"
    assert assign_words([title, scanned[0]], [GRID], FRAME)[0].setter is None


def test_pieces_of_a_scanned_line_are_one_line() -> None:
    pieces = [("Place the digits from 1 to 9 once", 40, 600), ("in every row and in every column;", 210, 596)]
    pieces += [("no digit is repeated in a box or", 40, 612), ("on one of the long diagonals.", 205, 608)]
    lines = [replace(line(text, x, y), how="ocr") for text, x, y in pieces]
    assert assign_words(lines, [GRID], FRAME)[0].rules_text == " ".join(text for text, _, _ in pieces)


def test_a_sloping_line_measured_too_tall_goes_on_below_it() -> None:
    first = replace(line("Every row, column and box holds the digits from 1 to 9 once each.", 40, 600, 14), how="ocr")
    piece = replace(line("The nine", first.box[2] + 4, 602, 11), how="ocr")
    last = replace(line("Striped cells also contain 1 to 9, once each.", 40, 616, 10.5), how="ocr")
    told = assign_words([first, piece, last], [GRID], FRAME)[0].rules_text
    assert told == f"{first.text} {piece.text} {last.text}"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("by Wader", "Wader"),
        ("Set by Hob & Nail", "Hob & Nail"),
        ("Setter: The Glazier", "The Glazier"),
        ("A puzzle by M. Petrel", "M. Petrel"),
        ("by 3 box.", None),
        ("by at least five", None),
        ("Harbour Lights", None),
    ],
)
def test_setter(text: str, name: str | None) -> None:
    assert named_setter(text) == name


def test_lines_are_joined_and_unhyphenated() -> None:
    assert joined(["each ther-", "mometer shows", "a two-", "cell cage"]) == "each thermometer shows a two-cell cage"


def test_the_rows_of_a_legend_are_sentences_and_what_goes_on_below_is_not_cut() -> None:
    rows = ["green line: neighbours along it differ by 4 or more", "the two cells beside a tag add up to its number"]
    assert as_sentences(rows) == ". ".join(rows)
    for torn in (
        ["Digits along a thermometer", "increase from the bulb."],
        ["In cages digits differ. Along a thermometer digits", "increase from the bulb. Rows hold 1 to 9."],
    ):
        assert as_sentences(torn) == " ".join(torn)


@pytest.mark.parametrize("text", ["zx <<", "et >> Fa ."])
def test_grain_that_ocr_takes_for_signs_is_no_rule(text: str) -> None:
    def block(told: str) -> Block:
        return Block((TextLine(told, (0, 0, 10.0 * len(told), 20), 20, 0.6, "ocr"),))

    assert rules_paragraphs([block(text)]) == set()
    assert rules_paragraphs([block("Signs << point at the smaller digit.")]) == {0}


def test_the_border_of_a_table_beside_a_line_is_no_letter() -> None:
    picture = np.full((50, 300), 255, np.uint8)
    cv2.putText(picture, "line 11l", (40, 36), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 0, 2)
    bordered = picture.copy()
    cv2.line(bordered, (12, 0), (11, 49), 120, 2)
    assert not np.array_equal(bordered, picture)
    assert (without_rules(bordered, 20.0) == picture).all()


def test_a_title_no_larger_than_the_rules_stands_above_its_setter_and_grain_is_none() -> None:
    def line(text: str, x: float, y: float, size: float, confidence: float) -> TextLine:
        return TextLine(text, (x, y - size, x + len(text) * size / 2, y), size, confidence, "ocr")

    grid, frame = (100.0, 200.0, 500.0, 600.0), Frame(700.0, 900.0, "px")
    title, setter = line("Quiet Fields", 100, 120, 20, 0.97), line("Set by Nell Wren", 100, 146, 16, 0.97)
    grain = line("SS", 20, 190, 30, 0.36)
    rules = line("Place the digits 1 to 9 once in every row, column and box.", 100, 640, 20, 0.96)
    (words,) = assign_words([title, setter, grain, rules], [grid], frame)
    assert (words.title, words.setter) == ("Quiet Fields", "Nell Wren")
    (words,) = assign_words([grain, rules], [grid], frame)
    assert words.title is None
    assert words.confidence == pytest.approx(0.96)


@pytest.mark.parametrize(("text", "y"), [("by C. Ferrule", 880.0), ("J. Thimble", 680.0)])
def test_a_setter_is_named_at_the_foot_of_the_page_or_by_initials_under_the_rules(text: str, y: float) -> None:
    def line(told: str, top: float) -> TextLine:
        return TextLine(told, (100, top, 100 + 9.0 * len(told), top + 18), 18, 0.96, "ocr")

    lines = [line("Place the digits 1 to 9 once in every row, column and box.", 620), line(text, y)]
    (words,) = assign_words(lines, [(100.0, 200.0, 500.0, 600.0)], Frame(700.0, 900.0, "px"))
    assert words.setter == text.removeprefix("by ")
    assert words.title is None


def test_a_short_last_line_that_falls_out_of_its_box_is_cut_out_with_it() -> None:
    """Of lines that bend up at both sides, a short last one at a side stands under all that was seen, once straight."""
    grey = np.full((300, 900), 255, np.uint8)
    x = np.arange(60, 840, 12)
    feet = [np.stack([x, 120 + step - (x - 450.0) ** 2 / 3000], axis=1) for step in (0.0, 30.0)]
    feet.append(feet[1][:14] + np.array([0.0, 30.0]))
    for x0, y0 in np.concatenate(feet).astype(int).tolist():
        cv2.rectangle(grey, (x0 - 3, y0 - 16), (x0 + 3, y0), 0, -1)
    (region,) = text_regions(grey, [])
    own = cut(grey, region, region.box)
    assert own is not None
    rows = (own.picture < 128).sum(axis=1)
    assert 2 * sum(rows[-16:]) < sum(rows[-60:])
    assert own.picture.shape[0] / own.zoom > region.box[3] - region.box[1] + 20
    assert int((own.picture < 128).sum() / own.zoom**2) == pytest.approx(int((grey < 128).sum()), rel=0.1)


def test_type_on_grey_paper_keeps_its_stems() -> None:
    """Where the back shows through, newsprint is as dark as a thin rule on white paper is."""
    paper = np.full((120, 300), 212, np.uint8)
    paper[:, 80:180] = 192
    picture = paper.copy()
    cv2.putText(picture, "bold lines", (20, 60), cv2.FONT_HERSHEY_SIMPLEX, 1.1, 40, 2)
    assert (without_rules(picture, 22.0) == picture).all()
    ruled = picture.copy()
    cv2.line(ruled, (292, 0), (292, 119), 110, 2)
    assert (np.abs(without_rules(ruled, 22.0)[:, 288:].astype(int) - 212) > 45).sum() == 0


def test_a_block_that_grew_over_the_next_row_of_a_table_leaves_it_to_that() -> None:
    def row(top: float, *lines: float) -> OcrBlock:
        read = tuple(OcrLine(f"line at {y}", (100, y, 600, y + 20), 20.0, 0.9) for y in lines)
        return OcrBlock(Region((100, top, 600, top + 30), 20.0, 1, top), read)

    upper, lower = without_others([row(100, 105, 145), row(140, 145)])
    assert [line.text for line in upper.found] == ["line at 105"]
    assert [line.text for line in lower.found] == ["line at 145"]
    (alone,) = without_others([row(100, 105, 145)])
    assert len(alone.found) == 2


def test_a_place_without_text_is_not_read_twice() -> None:
    noise = OcrLine("he eae row", (100, 100, 600, 130), 20.0, 0.37)
    bare = OcrBlock(Region((100, 100, 600, 300), 20.0, 6, 150), (noise,))
    assert bare.settles(Region((110, 100, 600, 295), 20.0, 7, 150))
    # Text that stood in the grain, found by itself.
    assert not bare.settles(Region((100, 200, 600, 300), 20.0, 3, 300))
    read = OcrBlock(bare.region, tuple(OcrLine("a line of text", noise.box, 20.0, 0.95) for _ in range(6)))
    assert read.settles(Region((100, 200, 600, 300), 20.0, 3, 300))
    assert not read.settles(Region((110, 100, 600, 295), 20.0, 7, 150))


def test_a_long_block_whose_opening_is_noise_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """Grain has letters that pass for the words of rules."""
    sizes: list[int] = []

    class Noise:
        def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
            sizes.append(len(image))
            return [OcrLine("each row holds the digits 1 to 9 once.", (0.0, 10.0, 300.0, 30.0), 20.0, 0.3)]

    grey = np.full((1300, 900), 255, np.uint8)
    for row in range(12):
        for at in range(50, 650, 22):
            cv2.rectangle(grey, (at, 100 + 34 * row), (at + 10, 118 + 34 * row), 0, -1)
    (region,) = text_regions(grey, [])
    assert region.lines == 12
    image = np.asarray(cv2.cvtColor(grey, cv2.COLOR_GRAY2RGB), np.uint8)
    page = Page(Path("page.png"), "0" * 64, 1, Frame(900, 1300, "px"), image, 1.0)
    monkeypatch.setattr(ocr, "with_worn", lambda lines, *_: list(lines))
    ocr_lines(page, [(100, 550, 800, 1250)], Noise())
    assert sizes and max(sizes) < 200


def _shown(words: list[str], space: float, bearing: float, first_order: int = 1) -> list[VectorGlyph]:
    """Words that a file shows one by one, each letter 4 wide at 10 points, so much white between letters and words."""
    x, glyphs = 50.0, []
    for order, word in enumerate(words, first_order):
        for letter in word:
            glyphs.append(VectorGlyph(letter, (x, 100, x + 4, 107), 10, "Face", (0, 0, 0), True, True, order))
            x += 4 + bearing
        x += space
    return glyphs


def test_words_shown_one_by_one_are_parted_where_spaces_are_narrow() -> None:
    """A condensed face: letters 0.1 em apart, words 0.2; the file has a blank before the last word alone."""
    words = ["Place", "the", "digits", "once"]
    glyphs = _shown(words, space=1.0, bearing=1.0)
    assert [line.text for line in glyph_lines(glyphs)] == ["Place the digits once"]
    last = [replace(glyph, spaced=glyph.order == 4 and glyph.text == "o") for glyph in glyphs]
    assert [line.text for line in glyph_lines(last)] == ["Place the digits once"]


def test_a_word_shown_in_pieces_or_letter_by_letter_stays_one() -> None:
    pieces = _shown(["Pl", "ace"], space=0.3, bearing=0.8)
    assert [line.text for line in glyph_lines(pieces)] == ["Place"]
    letters = _shown(list("Place"), space=0.3, bearing=1.0)
    assert [line.text for line in glyph_lines(letters)] == ["Place"]


def test_blanks_of_a_file_between_the_letters_of_words_part_none() -> None:
    glyphs = [replace(glyph, spaced=True) for glyph in _shown(["Put", "snowmen", "in", "rows"], 3.5, 0.9)]
    assert [line.text for line in glyph_lines(glyphs)] == ["Put snowmen in rows"]
    figures = [replace(glyph, spaced=True) for glyph in _shown(list("123456789"), 1.2, 0.2)]
    assert [line.text for line in glyph_lines(figures)] == ["1 2 3 4 5 6 7 8 9"]


def test_the_comma_after_a_figure_that_begins_a_line_is_not_lost() -> None:
    """Figures end on the base line, commas hang from it: the two hardly share a height."""
    glyphs = [
        VectorGlyph(
            mark, (x, *((105.5, x + 2, 109) if mark == "," else (100, x + 5, 107))), 10, "F", (0, 0, 0), True, True
        )
        for x, mark in zip(range(50, 150, 6), "3,4,5,6", strict=False)
    ]
    assert [line.text for line in glyph_lines(glyphs)] == ["3, 4, 5, 6"]


def test_rules_of_which_the_words_of_a_line_stand_apart_and_are_lost_are_torn() -> None:
    rules = [
        line("Place the digits 1 to 9 once in every row, column and box.", 100, 600),
        line("Digits along a thermometer rise from its bulb to its tip.", 100, 640),
    ]
    first, second = line("neighbouring", 150, 620, 14, bold=True), line("cells", 300, 620, 14, bold=True)
    assert not assign_words(rules, [GRID], FRAME)[0].torn
    assert not assign_words([*rules, first], [GRID], FRAME)[0].torn, "a heading"
    assert assign_words([*rules, first, second], [GRID], FRAME)[0].torn


def test_a_line_whose_box_a_photo_slants_into_the_next_one_stays_in_its_paragraph() -> None:
    """The box of a line that slants is twice as high as its letters, and reaches over half of the next line."""
    words = ("Put the digits from 1 to 4 into the cells so that they all appear", "in each row and in each column.")
    slanted = TextLine(words[0], (100, 600, 400, 622), 11, 0.9, "ocr")
    after = TextLine(words[1], (100, 612, 250, 624), 11, 0.9, "ocr")
    (block,) = blocks([slanted, after])
    assert block.text == " ".join(words)
    far = replace(after, box=(100, 640, 250, 651))
    assert len(blocks([slanted, far])) == 2


def test_small_print_is_seen_beside_a_word_grid_and_a_table_in_large_type() -> None:
    page = np.full((1700, 1200), 255, np.uint8)
    for row in range(8):
        for column in range(8):
            letter, figure = chr(65 + (5 * row + column) % 26), str((row + 3 * column) % 10)
            cv2.putText(page, letter, (80 + 50 * column, 120 + 50 * row), cv2.FONT_HERSHEY_SIMPLEX, 0.7, 0, 2)
            cv2.putText(page, figure, (580 + 70 * column, 620 + 70 * row), cv2.FONT_HERSHEY_SIMPLEX, 1.15, 0, 2)
    rng = np.random.default_rng(4)
    for line in range(3):
        x = 100
        while x < 340:
            wide = int(rng.integers(3, 7))
            tall = 9 if rng.random() < 0.3 else 6
            page[1500 + 20 * line - tall : 1500 + 20 * line, x : x + wide] = 0
            x += wide + (6 if rng.random() < 0.2 else 2)
    assert sum(region.lines for region in text_regions(page, []) if region.box[2] - region.box[0] > 230) == 3


@pytest.mark.parametrize(("title", "read"), [(0.9, 3), (1.3, 4)], ids=["of one size", "larger title"])
def test_the_opening_of_a_block_ends_between_two_lines(title: float, read: int) -> None:
    picture = np.full((700, 900), 255, np.uint8)
    feet, sizes = [80, *range(118, 118 + 9 * 38, 38)], [title] + [0.9] * 9
    for foot, size in zip(feet, sizes, strict=True):
        cv2.putText(picture, "Harbour market of the seven", (60, foot), cv2.FONT_HERSHEY_SIMPLEX, size, 0, 2)
    (region,) = text_regions(picture, [])
    assert region.lines == 10
    assert feet[read - 1] < region.opening < feet[read] - 20
