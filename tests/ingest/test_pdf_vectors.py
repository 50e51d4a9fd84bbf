"""What a PDF page draws, compared with what is seen."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pikepdf
import pytest

from ingest.page import Vectors
from tests.ingest.pdf_making import FONT, only_page, write_pdf

NAME = pikepdf.Name
TEXT = {"Font": {"/F": FONT}}


def vectors(path: Path) -> Vectors:
    found = only_page(path).vectors
    assert found is not None
    return found


def test_colours_of_every_space_come_as_rendered(tmp_path):
    tint = pikepdf.Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[1, 1, 1], C1=[0, 0, 1])
    spaces = {"/S": pikepdf.Array([NAME.Separation, NAME("/Spot"), NAME.DeviceRGB, tint])}
    content = b"""0.5 g 10 10 30 30 re f  0 1 1 0 k 50 10 30 30 re f  /S cs 1 scn 90 10 30 30 re f
                  1 0 0 RG 4 w 10 80 m 100 80 l S"""
    path = write_pdf(tmp_path / "a.pdf", content, resources={"ColorSpace": spaces})
    page = only_page(path)
    assert page.vectors is not None
    for shape in page.vectors.paths:
        x, y = np.mean(shape.subpaths[0][:3] if shape.fill else shape.subpaths[0], axis=0) * page.scale
        seen = page.image[int(y), int(x)]
        assert (shape.fill or shape.stroke) == pytest.approx(tuple(int(part) for part in seen), abs=2)
    assert [path.fill for path in page.vectors.paths][2:] == [(0, 0, 255), None]


def test_widths_and_dashes_grow_with_the_matrix(tmp_path):
    (path,) = vectors(write_pdf(tmp_path / "a.pdf", b"3 0 0 3 10 10 cm 2 w [4 1] 0 d 1 J 0 0 m 20 0 l S")).paths
    assert path.width == pytest.approx(6)
    assert path.dash == pytest.approx((12, 3))
    assert path.cap == "round"
    assert np.array(path.subpaths[0]) == pytest.approx(np.array([(10, 290), (70, 290)]))


def test_a_polygon_drawn_on_over_its_first_side_is_closed_once(tmp_path):
    """Some printing libraries do so, that the first corner may be joined like the others."""
    around = b"2 w 10 30 m 30 10 l 50 30 l 30 50 l 10 30 l 30 10 l S 60 10 m 90 10 l 60 10 l 90 10 l S"
    diamond, twice = vectors(write_pdf(tmp_path / "a.pdf", around)).paths
    assert diamond.closed == (True,)
    assert len(diamond.subpaths[0]) == 4
    assert twice.closed == (False,)


def test_a_form_brings_its_matrix_box_and_opacity(tmp_path):
    form = (
        b"0 0 1 rg 0 0 50 50 re f 1 0 0 rg 60 60 10 10 re f",
        {
            "Type": NAME.XObject,
            "Subtype": NAME.Form,
            "BBox": [0, 0, 40, 40],
            "Matrix": [2, 0, 0, 2, 5, 5],
        },
    )
    group = (form[0], form[1] | {"Group": pikepdf.Dictionary(S=NAME.Transparency)})
    half = pikepdf.Dictionary(ca=0.5)
    for name, drawn in (("plain", form), ("group", group)):
        path = write_pdf(
            tmp_path / f"{name}.pdf",
            b"1 0 0 1 20 30 cm /G gs /X Do",
            resources={"XObject": {"/X": drawn}, "ExtGState": {"/G": half}},
        )
        page = only_page(path)
        assert page.vectors is not None
        # The second square lies outside the form's box and is not seen.
        (square,) = page.vectors.paths
        assert square.opacity == pytest.approx(0.5, abs=0.01)
        points = np.array(square.subpaths[0])
        assert points.min(axis=0) == pytest.approx((25, 165))
        assert points.max(axis=0) == pytest.approx((125, 265))
        (clip,) = square.clip
        assert np.array(clip).max(axis=0) == pytest.approx((105, 265))
        seen = page.image.reshape(-1, 3)[(page.image.reshape(-1, 3) != 255).any(axis=1)]
        assert tuple(np.median(seen, axis=0)) == pytest.approx((127, 127, 255), abs=3)


def test_what_is_clipped_away_is_not_there(tmp_path):
    content = b"q 0 0 50 50 re W n 1 0 0 rg 100 100 20 20 re f Q q 0 0 50 50 re W n 10 10 20 20 re f Q"
    (path,) = vectors(write_pdf(tmp_path / "a.pdf", content)).paths
    assert not path.clip


def test_curves_are_flattened_onto_the_circle(tmp_path):
    k = 20 * 0.5522847498
    bezier = f"{100 + 20} 100 m 120 {100 + k} {100 + k} 120 100 120 c {100 - k} 120 80 {100 + k} 80 100 c S"
    (path,) = vectors(write_pdf(tmp_path / "a.pdf", bezier.encode())).paths
    assert path.curved == (True,)
    radii = np.hypot(*(np.array(path.subpaths[0]) - (100, 200)).T)
    # The four-arc circle is true to 0.027 % of its radius (a fact of the trade, from memory).
    assert radii == pytest.approx(20, rel=3e-4)
    chord_middles = (np.array(path.subpaths[0])[1:] + np.array(path.subpaths[0])[:-1]) / 2 - (100, 200)
    assert np.hypot(*chord_middles.T).min() > 20 - 0.03


@pytest.mark.parametrize("end", ["100 100 100 100 100 100 c", "70 130 80 120 100 100 c", "h"])
def test_curves_that_do_not_bend_are_sides_of_a_polygon(tmp_path, end):
    """As some programs close a figure: with a curve of no length, or with one along its last side."""
    last = "40 160" if end.startswith("70") else "40 160 l 100 100"
    content = f"100 100 m 160 100 l 160 160 l {last} l {end} f"
    (path,) = vectors(write_pdf(tmp_path / "a.pdf", content.encode())).paths
    assert path.curved == (False,)
    assert set(path.subpaths[0]) == {(100, 200), (160, 200), (160, 140), (40, 140)}


SEEN = "BT /F 40 Tf 50 100 Td (5) Tj ET"


@pytest.mark.parametrize(
    ("content", "visible"),
    [
        (SEEN, True),
        ("BT 3 Tr /F 40 Tf 50 100 Td (5) Tj ET", False),
        ("1 g " + SEEN, False),
        (SEEN + " 1 g 40 90 60 60 re f", False),
        (SEEN + " 0.3 g 40 90 60 60 re f", False),
        ("0.9 g 40 90 60 60 re f 0 g " + SEEN, True),
        ("0 g 40 90 60 60 re f " + SEEN, False),
        ("0 g 40 90 60 60 re f 1 g " + SEEN, True),
        ("q 0 0 20 20 re W n " + SEEN + " Q", False),
        ("q 0 0 150 150 re W n " + SEEN + " Q", True),
        ("0.8 0.2 0.1 rg " + SEEN, True),
        (SEEN + " 1 g 40 90 m 100 90 l 110 120 l 70 160 l 30 130 l f", False),
    ],
)
def test_text_counts_as_visible_only_when_it_is(tmp_path, content, visible):
    (glyph,) = vectors(write_pdf(tmp_path / "a.pdf", content.encode(), resources=TEXT)).glyphs
    assert (glyph.text, glyph.visible) == ("5", visible)
    assert glyph.size == pytest.approx(40)
    assert glyph.font == "Helvetica"


def test_text_under_a_picture_of_itself_is_hidden(tmp_path):
    # A scan with the words that were recognised on it painted first, in black.
    picture = (b"\xff" * 50 + b"\x00" * 50, {"Type": NAME.XObject, "Subtype": NAME.Image, "Width": 10, "Height": 10,
               "ColorSpace": NAME.DeviceGray, "BitsPerComponent": 8})  # fmt: skip
    content = (SEEN + " q 200 0 0 300 0 0 cm /I Do Q").encode()
    found = vectors(write_pdf(tmp_path / "a.pdf", content, resources=TEXT | {"XObject": {"/I": picture}}))
    assert [glyph.visible for glyph in found.glyphs] == [False]
    assert found.pictures == (pytest.approx((0, 0, 200, 300)),)


def test_paint_order_spans_paths_and_glyphs(tmp_path):
    content = ("0.9 g 0 0 99 99 re f 0 g " + SEEN + " 0 G 0 0 m 9 9 l S").encode()
    found = vectors(write_pdf(tmp_path / "a.pdf", content, resources=TEXT))
    below, above = found.paths
    assert below.order < found.glyphs[0].order < above.order


def test_a_map_is_left_to_the_pixels(tmp_path, monkeypatch):
    monkeypatch.setattr("ingest.vectors.MOST_SEGMENTS", 50)
    page = only_page(write_pdf(tmp_path / "a.pdf", b"0 0 m 9 9 l S " * 60))
    assert page.vectors is None


def test_the_box_of_a_character_without_a_meaning_is_that_of_its_ink(tmp_path: Path) -> None:
    """Where a fount's characters are drawings, the file gives all of them the box of the fount."""
    drawing = (b"500 0 -100 -300 1200 1000 d1 200 0 100 700 re f", {})
    fount = pikepdf.Dictionary(
        Type=pikepdf.Name.Font,
        Subtype=pikepdf.Name.Type3,
        FontMatrix=[0.001, 0, 0, 0.001, 0, 0],
        FontBBox=[-100, -300, 1200, 1000],
        Encoding=pikepdf.Dictionary(Type=pikepdf.Name.Encoding, Differences=[33, NAME("/a33")]),
        FirstChar=33,
        LastChar=33,
        Widths=[500],
    )
    path = tmp_path / "page.pdf"
    write_pdf(path, b"BT /T 40 Tf 50 100 Td (!) Tj ET", resources={"Font": {"/T": fount}})
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        stream = document.make_stream(*drawing[:1])
        document.pages[0].Resources.Font.T.CharProcs = pikepdf.Dictionary(a33=stream)
        document.save(path)
    (glyph,) = only_page(path).vectors.glyphs
    assert glyph.text == ""
    assert glyph.box == pytest.approx((58, 172, 62, 200), abs=1.0)
