"""What the lattice network says of edges, corners and cells, as marks; the network itself is measured, not tested."""

import cv2
import numpy as np
import pytest

from fixtures.training.lattice_labels import Corner, Edge, Labels, Link, Node, Pointer
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks.picture import lattice_picture, normalised
from recognise.marks.spoken import SILENT, Spoken
from tests.recognise.chances_maker import CELL, MARGIN, Sheet, changed, linked, looked_at, sure

GREY, BLACK = (150, 150, 150), (0, 0, 0)


@pytest.fixture(scope="module")
def glyphs():
    return GlyphReader()


def test_a_speck_that_the_network_takes_for_no_mark_is_stray_ink(glyphs) -> None:
    sheet = Sheet()
    sheet.line((2.3, 1.5), (2.7, 1.5), BLACK, 0.08)
    evidence = looked_at(sheet, sure(Labels.empty(6, 6)), glyphs)
    assert evidence.shapes == ()
    assert len(evidence.stray) == 1


def test_edges_corners_and_the_ring(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 1.5), 0.12, BLACK, 0)
    labels.edge[0, 2, 2] = Edge.DARK_DOT
    labels.edge[1, 3, 4] = Edge.SIGN_UP
    labels.pointer[0, 2] = Pointer.SE
    for n in range(1, 7):
        labels.node[n, n] |= Node.DOWN
    sheet.line((0, 0), (6, 6), BLACK, 0.03)
    evidence = looked_at(sheet, sure(labels), glyphs)
    (dot,) = evidence.discs
    assert dot.centre == (2, 1.5)
    assert dot.radius == pytest.approx(0.12, abs=0.03)
    assert dot.fill is not None and max(dot.fill) < 60
    shapes = {(shape.name, shape.direction) for shape in evidence.shapes}
    assert shapes == {("sign", "up"), ("arrow", "down-right"), ("diagonal", "down")}


@pytest.mark.parametrize(
    ("head", "place", "words"),
    [
        ("edge", (0, 0, 2, 2), "between r2c2 and r2c3"),
        ("corner", (0, 0, 2, 2), "corner of r2c2"),
        ("link", (0, 0, 2, 2), "joins r2c2 and r2c3"),
        ("node", (0, 1, 2, 2), "circle stands in r2c2"),
        ("node", (0, 9, 2, 2), "small characters stand in r2c2"),
    ],
)
def test_what_may_be_there_is_asked_about(glyphs, head: str, place: tuple[int, ...], words: str) -> None:
    """Never silently dropped: a place of middling probability becomes words for a person where there is ink."""
    labels = Labels.empty(6, 6)
    assert looked_at(Sheet(), sure(labels), glyphs).notes == ()
    exclusive = head in ("edge", "corner", "link")
    chances = changed(sure(labels), head, place, 0.8 if exclusive else 0.2)
    if exclusive:
        chances = changed(chances, head, (place[0], 1, *place[2:]), 0.2)
    sheet = Sheet()
    sheet.line((1.5, 1.5), (2.5, 1.5), GREY, 0.1)
    sheet.line((1.8, 1.85), (2.2, 1.85), GREY, 0.1)
    if "characters" in words:
        sheet.line((1.1, 1.0), (1.1, 1.3), GREY, 0.03)
        sheet.line((1.1, 1.3), (1.3, 1.3), GREY, 0.03)
    evidence = looked_at(sheet, chances, glyphs)
    assert any(words in note for note in evidence.notes)
    assert not any(words in note for note in looked_at(Sheet(), chances, glyphs).notes)


@pytest.mark.parametrize(
    ("spoken", "asked"),
    [
        (SILENT, True),
        (Spoken(links=frozenset(("LINE",))), True),
        (Spoken(links=frozenset(("LINE",)), whole=True), False),
        (Spoken(cells=frozenset(("square",)), whole=True), True),
    ],
)
def test_what_is_likely_none_is_not_asked_about_where_all_rules_are_known_and_none_speaks_of_such(
    glyphs, spoken: Spoken, asked: bool
) -> None:
    """The end of a thick line, with a figure on it, looks somewhat like a circle."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.path(linked(labels, "r2c2 r2c3", Link.LINE), GREY, 0.3)
    evidence = looked_at(sheet, changed(sure(labels), "node", (0, 1, 2, 2), 0.2), glyphs, spoken)
    assert any("circle stands in r2c2" in note for note in evidence.notes) == asked


def test_a_number_in_a_frame_on_an_edge_is_no_other_mark(glyphs) -> None:
    """The network may know no such frames: what is read in one is a text, and the frame is explained."""

    def looked(framed: bool, text: str, ringed: bool = False) -> Evidence:
        sheet, labels = Sheet(), Labels.empty(6, 6)
        x, y = sheet._at((2.0, 1.5))
        sheet.image[y - 14 : y + 14, x - 14 : x + 14] = 255
        if ringed:
            cv2.circle(sheet.image, (x, y), 17, BLACK, -1)
            cv2.circle(sheet.image, (x, y), 15, (255, 255, 255), -1)
        if framed:
            sheet.image[y - 14 : y + 14, x - 14 : x + 14] = 60
            sheet.image[y - 12 : y + 12, x - 12 : x + 12] = 255
        cv2.putText(sheet.image, text, (x - 6, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.6, BLACK, 2, cv2.LINE_AA)
        labels.edge[0, 2, 2], labels.edge_text[0, 2, 2] = Edge.CHARACTERS, 1
        chances = changed(sure(labels), "edge", (0, list(Edge).index(Edge.CHARACTERS), 2, 2), 0.8)
        return looked_at(sheet, changed(chances, "edge", (0, 0, 2, 2), 0.2), glyphs)

    for text, framed, asked in (("7", True, False), ("7", False, True), ("5", False, False)):
        evidence = looked(framed, text)
        assert [glyph.text for glyph in evidence.glyphs] == [text]
        assert [shape.name for shape in evidence.shapes] == ["square"] * framed
        assert any("r2c2 and r2c3" in note for note in evidence.notes) == asked
        assert evidence.stray == ()
    # Rings are told by the network: a dot with a text in it may mean something else than the text.
    assert looked(False, "5", ringed=True).discs == ()


def test_the_network_sees_paper_as_nothing() -> None:
    sheet = Sheet()
    sheet.image[:] = np.rint(sheet.image * 0.7)
    picture = lattice_picture(sheet.flat)
    assert picture.shape == (8 * 32, 8 * 32, 3)
    blob = normalised(picture)
    assert blob.shape == (1, 3, 256, 256)
    assert np.median(blob) == pytest.approx(0, abs=0.01)
    assert blob.min() < -0.5


def _write(sheet: Sheet, text: str, x: float, y: float, colour: tuple[int, int, int], scale: float = 0.5) -> None:
    """Characters with their middle at a place, in cells."""
    (wide, high), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, scale, 2)
    left, top = (round((v + MARGIN) * CELL) for v in (x, y))
    cv2.putText(
        sheet.image, text, (left - wide // 2, top + high // 2), cv2.FONT_HERSHEY_SIMPLEX, scale, colour, 2, cv2.LINE_AA
    )


@pytest.mark.parametrize(
    ("ground", "print_"), [((230, 180, 60), BLACK), (BLACK, (255, 255, 255)), ((255, 255, 255), BLACK)]
)
def test_digits_are_read_in_circles_of_any_colour(ground, print_, glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 2), 0.32, ground, 0)
    sheet.circle((2, 2), 0.32, BLACK, 0.04)
    _write(sheet, "4", 1.87, 2, print_)
    _write(sheet, "7", 2.13, 2, print_)
    labels.corner[2, 2] = Corner.CIRCLE
    read = "".join(glyph.text for glyph in looked_at(sheet, sure(labels), glyphs).glyphs)
    assert sorted(read) == ["4", "7"]


def test_digits_on_a_corner_are_read_in_a_rectangular_frame(glyphs) -> None:
    """A circle about its middle would leave out what stands at its ends."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.line((0, 2), (6, 2), BLACK, 0.06)
    ends = [tuple(round((v + MARGIN) * CELL) for v in point) for point in ((1.72, 1.83), (2.28, 2.17))]
    cv2.rectangle(sheet.image, *ends, (255, 255, 255), -1)
    cv2.rectangle(sheet.image, *ends, (90, 90, 90), 1)
    _write(sheet, "3", 1.86, 2, BLACK)
    _write(sheet, "8", 2.14, 2, BLACK)
    labels.corner[2, 2] = Corner.CIRCLE
    seen = looked_at(sheet, sure(labels), glyphs)
    assert sorted(glyph.text for glyph in seen.glyphs) == ["3", "8"]
    (frame,) = seen.shapes
    assert (frame.name, seen.discs) == ("square", ())
    assert frame.box == pytest.approx((1.72, 1.83, 2.28, 2.17), abs=0.04)


def test_the_line_of_a_frame_with_round_corners_is_no_ink_that_was_not_read(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    x, y, half, bend = (round(v * CELL) for v in (2 + MARGIN, 2 + MARGIN, 0.28, 0.12))
    outline = np.zeros(sheet.image.shape[:2], np.uint8)
    cv2.rectangle(outline, (x - half + bend, y - half + bend), (x + half - bend, y + half - bend), 1, -1)
    outline = cv2.dilate(outline, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * bend + 1, 2 * bend + 1)))
    sheet.image[outline > 0] = (40, 40, 120)
    sheet.image[cv2.erode(outline, np.ones((5, 5), np.uint8)) > 0] = (255, 255, 255)
    _write(sheet, "3", 1.87, 2, BLACK)
    _write(sheet, "7", 2.13, 2, BLACK)
    labels.corner[2, 2] = Corner.CIRCLE
    seen = looked_at(sheet, sure(labels), glyphs)
    assert sorted(glyph.text for glyph in seen.glyphs) == ["3", "7"]
    assert not seen.notes


def test_circles_on_corners_are_of_one_size(glyphs) -> None:
    """A dark ring within one of them shows better than its outline."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for column in (1, 2, 3, 4):
        sheet.circle((column, 2), 0.27, BLACK if column < 4 else (170, 170, 170), 0.04)
        labels.corner[2, column] = Corner.CIRCLE
    sheet.circle((4, 2), 0.14, BLACK, 0.06)
    radii = [disc.radius for disc in looked_at(sheet, sure(labels), glyphs).discs]
    assert len(radii) == 4
    assert max(radii) - min(radii) < 0.06


def test_a_large_digit_does_not_tell_how_large_the_filled_circle_is_in_which_it_stands(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for column in (2, 4):
        sheet.circle((column - 0.5, 2.5), 0.36, (205, 205, 205), 0)
        labels.node[3, column] |= Node.CIRCLE | Node.FILLED
    sheet.circle((3.5, 2.5), 0.19, BLACK, 0.12)
    assert [disc.radius for disc in looked_at(sheet, sure(labels), glyphs).discs] == pytest.approx(
        [0.36, 0.36], abs=0.02
    )


def test_no_number_is_looked_for_on_a_dark_dot_that_is_plain(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 2.5), 0.14, BLACK, 0)
    labels.edge[0, 3, 2] = Edge.DARK_DOT
    labels.edge_text[0, 3, 2] = 1
    seen = looked_at(sheet, sure(labels), glyphs)
    assert (len(seen.discs), seen.glyphs, seen.notes) == (1, (), ())


def test_light_strokes_on_a_dark_dot_that_nobody_can_read_are_asked_about(glyphs) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2, 2.5), 0.1, BLACK, 0)
    sheet.line((1.96, 2.46), (2.04, 2.54), (255, 255, 255), 0.03)
    labels.edge[0, 3, 2] = Edge.DARK_DOT
    labels.edge_text[0, 3, 2] = 1
    notes = looked_at(sheet, sure(labels), glyphs).notes
    assert "what is written between r3c2 and r3c3 was hard to read" in notes
    assert all("r3c2 and r3c3" in note for note in notes)
