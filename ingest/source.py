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
    Unreadable, the others still come. Raises Unreadable when the source as a whole cannot be read, or changes
    meanwhile. With `guard` the decoding runs in a child process that may crash, hang or run out of memory without
    harm."""
    sha256, stamp = _checked(path, limits)
    what = path, sha256, limits, only
    return _while_unchanged(guarded(_decoded, what, path, limits) if guard else _decoded(*what), path, stamp)


def survey_source(path: Path, limits: Limits = DEFAULT) -> tuple[str, int]:
    """The SHA-256 of a source and how many pages it has, without a guard: call it in a process that may die. Raises
    Unreadable when the source as a whole cannot be read."""
    sha256, _ = _checked(path, limits)
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


def _while_unchanged(
    pages: Iterator[Page | Unreadable], path: Path, stamp: tuple[int, int]
) -> Iterator[Page | Unreadable]:
    """The pages as long as the file is the one whose SHA-256 they carry. Raises Unreadable."""
    for page in pages:
        if not path.exists() or _stamp(path) != stamp:
            raise Unreadable(path, None, "it changed while it was read", "read it again when it is whole")
        yield page


def _stamp(path: Path) -> tuple[int, int]:
    """The bytes of a file, and when it was last written to. Raises OSError."""
    status = path.stat()
    return status.st_size, status.st_mtime_ns


def _is_pdf(path: Path) -> bool:
    with path.open("rb") as stream:
        return b"%PDF-" in stream.read(_PDF_HEADER_WITHIN)


def _checked(path: Path, limits: Limits) -> tuple[str, tuple[int, int]]:
    """The SHA-256 and the stamp of a file that is there and not too large."""
    try:
        if path.is_dir():
            raise Unreadable(path, None, "it is a folder", "name its files, or use `clueprint archive`")
        size, _ = stamp = _stamp(path)
        if not path.is_file():
            raise Unreadable(path, None, "it is no file", "save what comes from there to a file, and name that")
        if size == 0:
            raise Unreadable(path, None, "it is empty", "copy or export it again")
        if size > limits.bytes:
            raise Unreadable(path, None, f"it has {size / 2**20:.0f} MiB", "split or reduce it")
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest(), stamp
    except FileNotFoundError:
        remedy = "save what standard input brings to a file" if str(path) == "-" else "check the name"
        raise Unreadable(path, None, "there is no such file", remedy) from None
    except OSError as fault:
        raise Unreadable(path, None, f"it cannot be opened ({fault.strerror})", "check its permissions") from None
