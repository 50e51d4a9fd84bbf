"""Image files become upright RGB pages, whatever their mode, depth, frames and orientation."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from ingest.errors import Unreadable
from ingest.images import image_pages
from ingest.limits import Limits
from ingest.page import Page


def _corner_picture() -> Image.Image:
    """60 x 40, white, with a black block at the top left."""
    picture = Image.new("L", (60, 40), 255)
    picture.paste(0, (0, 0, 20, 10))
    return picture


def _only_page(path: Path) -> Page:
    pages = list(image_pages(path, "0" * 64))
    assert len(pages) == 1
    assert isinstance(pages[0], Page)
    return pages[0]


def _fault(path: Path) -> Unreadable:
    """What is said of a file of one page that cannot be read, be it of the file or of the page."""
    try:
        (fault,) = image_pages(path, "0" * 64)
    except Unreadable as whole:
        return whole
    assert isinstance(fault, Unreadable)
    return fault


def _is_corner(image: np.ndarray) -> bool:
    return bool((image[2:8, 2:18] < 60).all() and (image[14:, 24:] > 200).all())


@pytest.mark.parametrize(
    ("name", "mode", "options"),
    [
        ("a.png", "L", {}),
        ("a.png", "RGB", {}),
        ("a.png", "1", {}),
        ("a.png", "P", {}),
        ("a.jpg", "L", {"quality": 95}),
        ("a.jpg", "CMYK", {"quality": 95}),
        ("a.webp", "RGB", {"lossless": True}),
        ("a.tif", "1", {"compression": "group4"}),
        ("a.tif", "CMYK", {}),
        ("a.tif", "LAB", {}),
    ],
)
def test_every_mode_comes_out_as_the_same_rgb_page(tmp_path: Path, name: str, mode: str, options: dict) -> None:
    path = tmp_path / name
    picture = _corner_picture()
    if mode == "LAB":
        # Pillow stores Lab but converts to it only through colour profiles: the lightness band says it all here.
        neutral = Image.new("L", picture.size, 128)
        picture = Image.merge("LAB", (picture, neutral, neutral))
    else:
        picture = picture.convert("RGB").convert(mode)
    picture.save(path, **options)
    page = _only_page(path)
    assert page.image.shape == (40, 60, 3)
    assert page.image.dtype == np.uint8
    assert (page.frame.width, page.frame.height, page.frame.unit) == (60, 40, "px")
    assert _is_corner(page.image)


def test_sixteen_bits_keep_their_range(tmp_path: Path) -> None:
    path = tmp_path / "deep.tif"
    values = np.asarray(_corner_picture()).astype(np.uint16) * 257
    Image.fromarray(values).save(path)
    assert _is_corner(_only_page(path).image)


def test_paper_shows_where_a_picture_is_transparent(tmp_path: Path) -> None:
    path = tmp_path / "clear.png"
    clear = Image.new("RGBA", (60, 40), (0, 0, 0, 0))
    clear.paste((0, 0, 0, 255), (0, 0, 20, 10))
    clear.save(path)
    assert _is_corner(_only_page(path).image)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_exif_orientation_is_applied(tmp_path: Path, orientation: int) -> None:
    """Exif 2.3 (JEITA CP-3451C), tag 0x0112: the picture is stored so that undoing the orientation gives the corner."""
    undo = {
        1: None,
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }[orientation]
    stored = _corner_picture() if undo is None else _corner_picture().transpose(undo)
    exif = Image.Exif()
    exif[0x0112] = orientation
    path = tmp_path / "turned.jpg"
    stored.save(path, exif=exif, quality=95)
    page = _only_page(path)
    assert (page.frame.width, page.frame.height) == (60, 40)
    assert _is_corner(page.image)


def test_every_frame_of_a_tiff_is_a_page(tmp_path: Path) -> None:
    path = tmp_path / "many.tif"
    frames = [Image.new("1", (30 + n, 20), 1) for n in range(3)]
    frames[0].save(path, save_all=True, append_images=frames[1:], compression="group4")
    pages = list(image_pages(path, "0" * 64))
    assert [page.number for page in pages] == [1, 2, 3]
    assert [page.frame.width for page in pages] == [30, 31, 32]


def test_a_large_page_is_worked_on_smaller_and_keeps_its_frame(tmp_path: Path) -> None:
    path = tmp_path / "large.png"
    _corner_picture().resize((600, 400)).save(path)
    (page,) = image_pages(path, "0" * 64, Limits(working_pixels=60_000))
    assert page.frame.width == 600
    assert page.image.shape[0] * page.image.shape[1] <= 61_000
    assert page.to_frame([page.image.shape[1], page.image.shape[0]]) == pytest.approx([600, 400], abs=2)


@pytest.mark.parametrize(
    "content", [b"", b"no picture at all", b"\x89PNG\r\n\x1a\n" + b"\0" * 40, b"II*\0\x08\0\0\0\xff\xff"]
)
def test_rubbish_gets_one_clear_line(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "rubbish.png"
    path.write_bytes(content)
    fault = _fault(path)
    assert "\n" not in str(fault)
    assert fault.remedy


def test_a_bad_frame_leaves_the_others(tmp_path: Path) -> None:
    path = tmp_path / "many.tif"
    frames = [Image.new("1", size, 1) for size in ((30, 20), (12_000, 12_000), (40, 20))]
    frames[0].save(path, save_all=True, append_images=frames[1:], compression="group4")
    first, second, third = image_pages(path, "0" * 64)
    assert isinstance(second, Unreadable)
    assert second.page == 2
    assert [p.frame.width for p in (first, third) if isinstance(p, Page)] == [30, 40]


def test_a_cut_off_file_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "cut.jpg"
    noise = np.random.default_rng(1).integers(0, 255, (200, 300, 3), dtype=np.uint8)
    Image.fromarray(noise).save(path)
    path.write_bytes(path.read_bytes()[:4000])
    assert "damaged" in str(_fault(path))


@pytest.mark.parametrize(("side", "words"), [(12_000, "144 megapixels"), (20_000, "more pixels than any page")])
def test_more_pixels_than_any_page_are_refused_before_decoding(tmp_path: Path, side: int, words: str) -> None:
    path = tmp_path / "bomb.png"
    Image.new("1", (side, side)).save(path)
    assert words in str(_fault(path))
