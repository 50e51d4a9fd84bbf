"""What PDFium tells too little about, drawn alone and traced: tiling patterns, and images with a mask."""

from __future__ import annotations

import numpy as np
import pikepdf
import pytest

from ingest.pdf_traced import Drawn
from tests.ingest.pdf_making import FONT, only_page, write_pdf

GREY = {"Type": pikepdf.Name.XObject, "Subtype": pikepdf.Name.Image, "BitsPerComponent": 8}


def _disc(side: int = 40) -> np.ndarray:
    y, x = np.mgrid[:side, :side] + 0.5 - side / 2
    return np.where(np.hypot(x, y) <= side / 2 - 1, 255, 0).astype(np.uint8)


def _page(tmp_path, images, content, patterns=None):
    """A page with images of RGB bytes, each with a mask of opacities or none."""
    path = write_pdf(tmp_path / "p.pdf", b"")
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        page = document.pages[0].obj
        named = pikepdf.Dictionary()
        for name, (pixels, cover) in images.items():
            height, width = pixels.shape[:2]
            entries = {**GREY, "Width": width, "Height": height, "ColorSpace": pikepdf.Name.DeviceRGB}
            if cover is not None:
                shade = {**GREY, "Width": width, "Height": height, "ColorSpace": pikepdf.Name.DeviceGray}
                entries["SMask"] = document.make_stream(cover.tobytes(), **shade)
            named[f"/{name}"] = document.make_stream(pixels.tobytes(), **entries)
        page.Resources = pikepdf.Dictionary(XObject=named)
        page.Resources.Font = pikepdf.Dictionary(F=FONT)
        if patterns:
            made = {f"/{name}": document.make_stream(*given[:1], **given[1]) for name, given in patterns.items()}
            page.Resources.Pattern = pikepdf.Dictionary(made)
            spaces = pikepdf.Dictionary(Of=pikepdf.Array([pikepdf.Name.Pattern, pikepdf.Name.DeviceRGB]))
            page.Resources.ColorSpace = spaces
        page.Contents = document.make_stream(content)
        document.save(path)
    return only_page(path)


def test_a_black_image_masked_to_a_disc_is_a_disc(tmp_path):
    black = np.zeros((40, 40, 3), np.uint8)
    page = _page(tmp_path, {"I": (black, _disc())}, b"q 20 0 0 20 50 100 cm /I Do Q")
    (path,) = page.vectors.paths
    points = np.array(path.subpaths[0])
    away = np.hypot(*(points - (60, 190)).T)
    assert path.fill == (0, 0, 0) and path.curved == (True,)
    assert away == pytest.approx(np.full(len(away), 9.5), abs=0.25)
    assert page.vectors.pictures == ()


def test_layers_in_one_box_are_traced_once(tmp_path, monkeypatch):
    """Backgrounds come as several layers over a whole grid, and one tracing of a large box takes seconds."""
    traced = []
    pieces = Drawn.pieces
    monkeypatch.setattr(Drawn, "pieces", lambda drawn, box: traced.append(box) or pieces(drawn, box))
    black = np.zeros((40, 40, 3), np.uint8)
    layer = b"q 20 0 0 20 50 100 cm /I Do Q "
    page = _page(tmp_path, {"I": (black, _disc())}, 3 * layer + layer.replace(b" 50 ", b" 90 "))
    assert len(page.vectors.paths) == 4
    assert len(traced) == 2


def test_an_image_of_two_colours_is_a_disc_with_a_rim(tmp_path):
    side = 60
    pixels = np.full((side, side, 3), 255, np.uint8)
    y, x = np.mgrid[:side, :side] + 0.5 - side / 2
    pixels[np.hypot(x, y) > 24] = (200, 0, 0)
    page = _page(tmp_path, {"I": (pixels, _disc(side))}, b"q 30 0 0 30 50 100 cm /I Do Q")
    by_colour = {path.fill: path for path in page.vectors.paths}
    assert len(by_colour) == 2
    rim, middle = by_colour[(200, 0, 0)], by_colour[(255, 255, 255)]
    assert sorted(round(np.ptp(np.array(points), axis=0).mean()) for points in rim.subpaths) == [24, 29]
    assert [round(np.ptp(np.array(points), axis=0).mean()) for points in middle.subpaths] == [24]


def test_a_flat_image_without_a_mask_is_its_square(tmp_path):
    page = _page(tmp_path, {"I": (np.full((4, 4, 3), 90, np.uint8), None)}, b"q 20 0 0 20 50 100 cm /I Do Q")
    (path,) = page.vectors.paths
    assert sorted(map(tuple, np.round(path.subpaths[0]))) == [(50, 180), (50, 200), (70, 180), (70, 200)]


def test_a_photograph_stays_a_picture(tmp_path):
    noise = np.random.default_rng(1).integers(0, 255, (30, 30, 3)).astype(np.uint8)
    page = _page(tmp_path, {"I": (noise, None)}, b"q 20 0 0 20 50 100 cm /I Do Q")
    assert page.vectors.paths == () and len(page.vectors.pictures) == 1


@pytest.mark.parametrize("coloured", [True, False])
def test_what_a_tiling_pattern_paints_is_told(tmp_path, coloured):
    """PDFium names the colour that an uncoloured one is painted in."""
    tile = {
        "Type": pikepdf.Name.Pattern,
        "PatternType": 1,
        "PaintType": 1 if coloured else 2,
        "TilingType": 1,
        "BBox": [0, 0, 5, 5],
        "XStep": 5,
        "YStep": 5,
        "Resources": pikepdf.Dictionary(),
    }
    stripes = b"1 0 0 rg 0 0 5 1 re f" if coloured else b"0 0 5 1 re f"
    paint = b"/Pattern cs /P scn" if coloured else b"/Of cs 1 0 0 /P scn"
    content = paint + b" 50 100 40 40 re f 0 0 0 rg 60 100 10 40 re f"
    page = _page(tmp_path, {}, content, {"P": (stripes, tile)})
    tinted = page.vectors.paths[0]
    assert tinted.fill == (255, 0, 0)
    assert tinted.painted == pytest.approx(0.2, abs=0.03)
    assert 8 <= len(tinted.grain) <= 9
    assert all(np.ptp(np.array(outline), axis=0) == pytest.approx((40, 2), abs=1.2) for outline in tinted.grain)
    assert page.vectors.paths[1].grain == ()


@pytest.mark.parametrize(("tile", "seen"), [(b"1 1 1 rg 0 0 5 1 re f", True), (b"", True), (b"0 0 5 5 re f", False)])
def test_a_pattern_hides_a_figure_only_where_it_paints_all_over(tmp_path, tile, seen):
    entries = {"Type": pikepdf.Name.Pattern, "PatternType": 1, "PaintType": 1, "TilingType": 1, "BBox": [0, 0, 5, 5]}
    entries |= {"XStep": 5, "YStep": 5, "Resources": pikepdf.Dictionary()}
    content = b"BT /F 24 Tf 60 108 Td (7) Tj ET /Pattern cs /P scn 50 100 40 40 re f"
    page = _page(tmp_path, {}, content, {"P": (tile, entries)})
    assert [glyph.visible for glyph in page.vectors.glyphs] == [seen]


def test_an_area_that_others_cover_is_flat(tmp_path):
    content = b"1 0 0 rg 50 100 40 40 re f 0 0 1 rg 50 100 40 30 re f"
    page = _page(tmp_path, {}, content)
    assert [(path.fill, path.painted) for path in page.vectors.paths] == [((255, 0, 0), 1), ((0, 0, 255), 1)]


@pytest.mark.parametrize("area", [b"50 100 40 0 re f", b"50 100 0.05 40 re f", b"-50 100 40 20 re f"])
def test_a_pattern_in_an_area_without_height_or_off_the_page_paints_nothing(tmp_path, area):
    entries = {"Type": pikepdf.Name.Pattern, "PatternType": 1, "PaintType": 1, "TilingType": 1, "BBox": [0, 0, 5, 5]}
    entries |= {"XStep": 5, "YStep": 5, "Resources": pikepdf.Dictionary()}
    content = b"BT /F 24 Tf 60 108 Td (7) Tj ET /Pattern cs /P scn " + area
    page = _page(tmp_path, {}, content, {"P": (b"1 0 0 rg 0 0 5 5 re f", entries)})
    assert [glyph.visible for glyph in page.vectors.glyphs] == [True]


DIAMOND = b"50 120 m 70 140 l 90 120 l 70 100 l"


@pytest.mark.parametrize(
    "area",
    [
        DIAMOND + b" f",
        b"50 100 m 90 100 l 90 102 l 52 102 l 52 140 l 50 140 l f",
        b"q " + DIAMOND + b" W n 45 95 30 50 re f Q",
    ],
    ids=["diamond", "corner", "clipped"],
)
def test_an_area_of_any_form_that_others_cover_is_flat(tmp_path, area):
    """A diamond has half of the box around it, a corner a tenth."""
    page = _page(tmp_path, {}, b"1 0 0 rg " + area + b" 1 1 1 rg 51 101 38 38 re f")
    covered, _ = page.vectors.paths
    assert (covered.fill, covered.painted, covered.grain) == ((255, 0, 0), 1, ())


@pytest.mark.parametrize("in_form", [True, False])
@pytest.mark.parametrize("shaded", [True, False])
def test_a_stroke_that_a_shading_paints_has_its_darkest_colour(tmp_path, shaded, in_form):
    """PDFium names white for it; a white one is white, whatever is painted on it later."""
    fades = pikepdf.Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0.8, 0.2, 0.2], C1=[1, 0.8, 0.8])
    axial = {"ShadingType": 2, "ColorSpace": pikepdf.Name.DeviceRGB, "Coords": [20, 100, 120, 100], "Function": fades}
    pattern = pikepdf.Dictionary(PatternType=2, Shading=pikepdf.Dictionary(**axial))
    paint = b"/Pattern CS /P SCN" if shaded else b"1 1 1 RG"
    form = {
        "Type": pikepdf.Name.XObject,
        "Subtype": pikepdf.Name.Form,
        "BBox": [0, 0, 200, 300],
        "Resources": pikepdf.Dictionary(Pattern=pikepdf.Dictionary({"/P": pattern})),
        "Group": pikepdf.Dictionary(S=pikepdf.Name.Transparency),
    }
    line, after = paint + b" 8 w 20 100 m 120 100 l S", b" 0 0 1 rg 10 95 10 10 re f 60 90 80 20 re f"
    resources = {"XObject": {"/X": (line, form)}, "Pattern": {"/P": pattern}}
    drawn = write_pdf(tmp_path / "p.pdf", (b"/X Do" if in_form else line) + after, resources=resources)
    stroke = only_page(drawn).vectors.paths[0]
    assert stroke.width == pytest.approx(8)
    assert stroke.stroke == (pytest.approx((204, 51, 51), abs=8) if shaded else (255, 255, 255))


@pytest.mark.parametrize("in_form", [True, False])
def test_stripes_that_a_shading_paints_all_over_an_area_are_a_pattern_of_its_darker_colour(tmp_path, in_form):
    """As browsers print stripes of a gradient that repeats: PDFium names white for it, or a grey."""
    light, dark = [1, 0.95, 0.9], [1, 0.7, 0.6]
    pieces = [
        pikepdf.Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=colour, C1=colour)
        for colour in (light, light, dark) * 8
    ]
    bounds = [k / len(pieces) for k in range(1, len(pieces))]
    stripes = pikepdf.Dictionary(
        FunctionType=3, Domain=[0, 1], Functions=pieces, Bounds=bounds, Encode=[0, 1] * len(pieces)
    )
    axial = {"ShadingType": 2, "ColorSpace": pikepdf.Name.DeviceRGB, "Coords": [50, 100, 90, 100], "Function": stripes}
    pattern = pikepdf.Dictionary(PatternType=2, Shading=pikepdf.Dictionary(**axial))
    form = {
        "Type": pikepdf.Name.XObject,
        "Subtype": pikepdf.Name.Form,
        "BBox": [0, 0, 200, 300],
        "Resources": pikepdf.Dictionary(Pattern=pikepdf.Dictionary({"/P": pattern})),
    }
    area = b"/Pattern cs /P scn 50 100 40 40 re f"
    resources = {"XObject": {"/X": (area, form)}, "Pattern": {"/P": pattern}}
    drawn = write_pdf(tmp_path / "p.pdf", b"/X Do" if in_form else area, resources=resources)
    (path,) = only_page(drawn).vectors.paths
    assert path.fill == (pytest.approx((255, 178, 153), abs=3))
    assert path.painted == pytest.approx(1 / 3, abs=0.05)
