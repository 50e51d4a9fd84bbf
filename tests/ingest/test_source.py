"""Sources are told apart by content and decoded where a crash costs nothing."""

import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from reportlab.pdfgen import canvas

from ingest.errors import Unreadable
from ingest.guard import guarded
from ingest.limits import Limits
from ingest.page import Frame, Page
from ingest.source import read_source


def _pdf(path: Path) -> Path:
    drawing = canvas.Canvas(str(path), pagesize=(200, 100))
    drawing.rect(10, 10, 50, 50)
    drawing.showPage()
    drawing.save()
    return path


def test_a_pdf_named_as_a_picture_is_a_pdf(tmp_path: Path) -> None:
    (page,) = read_source(_pdf(tmp_path / "page.png"))
    assert isinstance(page, Page)
    assert page.frame.unit == "pt"


def test_a_picture_named_as_a_pdf_is_a_picture(tmp_path: Path) -> None:
    path = tmp_path / "page.pdf"
    Image.new("L", (30, 20)).save(path, format="PNG")
    (page,) = read_source(path)
    assert isinstance(page, Page)
    assert page.frame.unit == "px"


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda p: None, "no such file"),
        (lambda p: p.mkdir(), "folder"),
        (lambda p: p.write_bytes(b""), "empty"),
        (os.mkfifo, "no file"),
        (lambda p: p.write_text("a letter to the setter"), "no picture"),
        (lambda p: p.write_bytes(b"x" * 2000), "MiB"),
    ],
)
def test_what_cannot_be_read_says_why_and_what_to_do(tmp_path: Path, make, words: str) -> None:
    path = tmp_path / "source"
    make(path)
    with pytest.raises(Unreadable, match=words) as caught:
        list(read_source(path, Limits(bytes=1500)))
    assert str(path) in str(caught.value)
    assert caught.value.exit_status == 2


def test_a_file_that_changes_while_it_is_read_is_read_no_further(tmp_path: Path) -> None:
    """What comes after carries the SHA-256 of another content."""
    path = tmp_path / "source.tif"
    frames = [Image.new("L", (30, 20), 255)] * 3
    frames[0].save(path, save_all=True, append_images=frames[1:])
    pages = read_source(path, guard=False)
    next(pages)
    with path.open("ab") as file:
        file.write(b"more")
    with pytest.raises(Unreadable, match="it changed while it was read"):
        next(pages)


def _interrupted(path: Path) -> Iterator[Page]:
    os.kill(os.getpid(), signal.SIGINT)
    yield _blank(path)


def test_ctrl_c_is_left_to_the_process_that_reads(tmp_path: Path) -> None:
    """A terminal sends it to the decoding process too, which would tell of it in a traceback."""
    (page,) = guarded(_interrupted, (tmp_path / "page",), tmp_path / "page", Limits())
    assert isinstance(page, Page)


def _crash(path: Path) -> Iterator[Page]:
    yield _blank(path)
    os.kill(os.getpid(), signal.SIGKILL)


def _hang(path: Path) -> Iterator[Page]:
    yield _blank(path)
    time.sleep(60)


def _devour(path: Path) -> Iterator[Page]:
    yield _blank(path)
    hoard = [np.ones(2**24) for _ in range(100)]
    raise AssertionError(len(hoard))


def _blank(path: Path) -> Page:
    return Page(path, "0" * 64, 1, Frame(4, 4, "px"), np.zeros((4, 4, 3), np.uint8), 1.0)


@pytest.mark.parametrize(("fake", "words"), [(_crash, "crashes"), (_hang, "too long"), (_devour, "too much memory")])
def test_a_decoder_that_fails_costs_its_page_only(tmp_path: Path, fake, words: str) -> None:
    seconds = 1.0 if fake is _hang else 30.0
    pages = guarded(fake, (tmp_path / "page",), tmp_path / "page", Limits(seconds=seconds, memory=2**29))
    assert isinstance(next(pages), Page)
    started = time.monotonic()
    with pytest.raises(Unreadable, match=words):
        next(pages)
    assert time.monotonic() - started < 30
