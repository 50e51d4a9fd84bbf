"""PDF pages: their frame (ISO 32000-1, 7.7.3.3, 14.11.2) against rendered pixels, and files that cannot be read."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pikepdf
import pytest

from ingest.errors import Unreadable
from ingest.page import Page
from ingest.pdf import pdf_pages
from tests.ingest.pdf_making import FONT, only_page, write_pdf

RED_MARK = b"1 0 0 rg 100 200 20 8 re f"
CROPS = (None, [40, 60, 180, 290], [-20, 100, 170, 400])


def reds(page: Page) -> tuple[float, float, float, float]:
    """The box of red pixels, in frame units."""
    image = page.image.astype(int)
    rows, columns = np.nonzero((image[..., 0] > 200) & (image[..., 1] < 60) & (image[..., 2] < 60))
    left, right = columns.min() / page.scale, (columns.max() + 1) / page.scale
    return left, rows.min() / page.scale, right, (rows.max() + 1) / page.scale


@pytest.mark.parametrize(("rotation", "crop", "unit"), list(product((0, 90, 180, 270), CROPS, (1, 2))))
def test_a_mark_is_found_where_the_frame_says(tmp_path, rotation, crop, unit):
    entries = {"Rotate": rotation, "UserUnit": unit} | ({"CropBox": crop} if crop else {})
    text = b" 1 0 0 rg BT /F 30 Tf 60 120 Td (4) Tj ET"
    path = write_pdf(tmp_path / "a.pdf", RED_MARK + text, resources={"Font": {"/F": FONT}}, **entries)
    page = only_page(path)
    assert page.vectors is not None
    height, width = page.image.shape[:2]
    assert (width / page.scale, height / page.scale) == pytest.approx((page.frame.width, page.frame.height), abs=0.5)
    drawn = [page.vectors.paths[0].subpaths[0], page.vectors.glyphs[0].box]
    points = np.concatenate([np.array(part).reshape(-1, 2) for part in drawn])
    expected = (*points.min(axis=0), *points.max(axis=0))
    assert reds(page) == pytest.approx(expected, abs=1.5 / page.scale + 0.25)


def test_frame_of_a_turned_and_cropped_page_with_a_user_unit(tmp_path):
    path = write_pdf(tmp_path / "a.pdf", RED_MARK, Rotate=90, UserUnit=2, CropBox=[40, 60, 180, 290])
    page = only_page(path)
    # By hand: 140 x 230 units, turned a quarter clockwise: the top edge is now at the right.
    assert (page.frame.width, page.frame.height, page.frame.unit) == (460, 280, "pt")
    assert page.vectors is not None
    xs, ys = zip(*page.vectors.paths[0].subpaths[0], strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx((280, 120, 296, 160))


def test_upright_is_told_in_the_displayed_frame(tmp_path):
    content = b"BT /F 30 Tf 60 120 Td (4) Tj ET BT /F 30 Tf 0 1 -1 0 160 120 Tm (7) Tj ET"
    for rotation, upright in ((0, "4"), (90, "7")):
        path = write_pdf(tmp_path / "a.pdf", content, resources={"Font": {"/F": FONT}}, Rotate=rotation)
        vectors = only_page(path).vectors
        assert vectors is not None
        assert [glyph.text for glyph in vectors.glyphs if glyph.upright] == [upright]


def test_resolution_of_a_page(tmp_path):
    a4 = only_page(write_pdf(tmp_path / "a.pdf", b"", media=(0, 0, 595, 842)))
    assert 200 <= a4.scale * 72 <= 300
    poster = only_page(write_pdf(tmp_path / "b.pdf", b"", media=(0, 0, 14400, 14400)))
    assert poster.image.shape[0] * poster.image.shape[1] <= 12_100_000


def unreadable(path: Path) -> Unreadable:
    with pytest.raises(Unreadable) as caught:
        list(pdf_pages(path, "0" * 64))
    return caught.value


def test_a_password_is_named(tmp_path):
    plain = write_pdf(tmp_path / "a.pdf", RED_MARK)
    locked = tmp_path / "locked.pdf"
    with pikepdf.open(plain) as document:
        document.save(locked, encryption=pikepdf.Encryption(owner="o", user="u"))
    assert "password" in unreadable(locked).why


def test_an_owner_password_alone_hinders_nobody(tmp_path):
    plain = write_pdf(tmp_path / "a.pdf", RED_MARK, UserUnit=3)
    locked = tmp_path / "locked.pdf"
    with pikepdf.open(plain) as document:
        document.save(locked, encryption=pikepdf.Encryption(owner="o", user=""))
    assert only_page(locked).frame.width == 600


def test_a_file_cut_short_is_not_mended_silently(tmp_path):
    path = write_pdf(tmp_path / "a.pdf", RED_MARK * 500)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 9 // 10])
    assert unreadable(path).remedy


@pytest.mark.parametrize("content", [b"", b"%PDF-1.7\n", b"%PDF-1.7\n" + bytes(4000), b"rubbish" * 99])
def test_what_is_no_pdf(tmp_path, content):
    path = tmp_path / "a.pdf"
    path.write_bytes(content)
    assert "damaged" in unreadable(path).why


def test_no_pages(tmp_path):
    path = tmp_path / "a.pdf"
    document = pikepdf.new()
    document.save(path)
    assert unreadable(path).remedy


@pytest.mark.parametrize("media", [(0, 0, 1e9, 1e9), (0, 0, 1, 300), (0, 0, 20000, 10)])
def test_absurd_boxes_are_refused_before_rendering(tmp_path, media):
    (fault,) = pdf_pages(write_pdf(tmp_path / "a.pdf", RED_MARK, media=media), "0" * 64)
    assert isinstance(fault, Unreadable)
    assert fault.page == 1
    assert "measures" in fault.why


def test_a_bad_page_leaves_the_others_readable(tmp_path):
    good = write_pdf(tmp_path / "a.pdf", RED_MARK)
    bad = write_pdf(tmp_path / "b.pdf", RED_MARK, media=(0, 0, 1e9, 1e9))
    both = tmp_path / "both.pdf"
    with pikepdf.open(bad) as first, pikepdf.open(good) as second:
        first.pages.extend(second.pages)
        first.save(both)
    fault, page = pdf_pages(both, "0" * 64)
    assert isinstance(fault, Unreadable)
    assert isinstance(page, Page)
    assert page.number == 2
