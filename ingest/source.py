"""A source named by a person, to pages: told apart by its content, decoded in a process of its own."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from ingest.errors import Unreadable
from ingest.guard import guarded
from ingest.images import image_page_count, image_pages
from ingest.limits import DEFAULT, Limits
from ingest.page import Page
from ingest.pdf import pdf_page_count, pdf_pages

_PDF_HEADER_WITHIN = 1024
"""Readers accept a PDF whose header comes after some bytes of rubbish (ISO 32000-1, annex H, note 13)."""
_SUFFIXES = frozenset(
    {".pdf", ".png", ".jpg", ".jpeg", ".jpe", ".tif", ".tiff", ".webp", ".bmp", ".gif", ".ppm", ".pgm", ".pbm"}
)
_SIGNATURES = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"II*\0", b"MM\0*", b"GIF87a", b"GIF89a")
"""How files of those formats begin that can be told by it."""


def read_source(
    path: Path, limits: Limits = DEFAULT, *, guard: bool = True, only: int | None = None
) -> Iterator[Page | Unreadable]:
    """The pages of an image or PDF, in order, or the one that `only` names; a page that cannot be read comes as its
    Unreadable, the others still come. Raises Unreadable when the source as a whole cannot be read. With `guard` the
    decoding runs in a child process that may crash, hang or run out of memory without harm."""
    sha256 = _checked(path, limits)
    if guard:
        return guarded(_decoded, (path, sha256, limits, only), path, limits)
    return _decoded(path, sha256, limits, only)


def survey_source(path: Path, limits: Limits = DEFAULT) -> tuple[str, int]:
    """The SHA-256 of a source and how many pages it has, without a guard: call it in a process that may die. Raises
    Unreadable when the source as a whole cannot be read."""
    sha256 = _checked(path, limits)
    return sha256, (pdf_page_count if _is_pdf(path) else image_page_count)(path, limits)


def read_one_page(path: Path, sha256: str, number: int, limits: Limits = DEFAULT) -> Page:
    """One page of a source whose SHA-256 and number of pages are known, without a guard: call it in a process that may
    die. Raises Unreadable."""
    for page in _decoded(path, sha256, limits, number):
        if isinstance(page, Unreadable):
            raise page
        return page
    raise Unreadable(path, number, "there is no such page", "name another")


def looks_like_source(path: Path) -> bool:
    """Whether a file is an image or PDF by its suffix or, where that says nothing, by how it begins. Raises OSError."""
    suffix = path.suffix.lower()
    if suffix in _SUFFIXES:
        return True
    with path.open("rb") as stream:
        start = stream.read(_PDF_HEADER_WITHIN)
    return b"%PDF-" in start or start.startswith(_SIGNATURES) or (start[:4], start[8:12]) == (b"RIFF", b"WEBP")


def _decoded(path: Path, sha256: str, limits: Limits, only: int | None = None) -> Iterator[Page | Unreadable]:
    pages = pdf_pages if _is_pdf(path) else image_pages
    return pages(path, sha256, limits, only)


def _is_pdf(path: Path) -> bool:
    with path.open("rb") as stream:
        return b"%PDF-" in stream.read(_PDF_HEADER_WITHIN)


def _checked(path: Path, limits: Limits) -> str:
    """The SHA-256 of a file that is there and not too large."""
    try:
        if path.is_dir():
            raise Unreadable(path, None, "it is a folder", "name its files, or use `clueprint archive`")
        size = path.stat().st_size
        if size == 0:
            raise Unreadable(path, None, "it is empty", "copy or export it again")
        if size > limits.bytes:
            raise Unreadable(path, None, f"it has {size / 2**20:.0f} MiB", "split or reduce it")
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except FileNotFoundError:
        raise Unreadable(path, None, "there is no such file", "check the name") from None
    except OSError as fault:
        raise Unreadable(path, None, f"it cannot be opened ({fault.strerror})", "check its permissions") from None
