"""A source named by a person, to pages: told apart by its content, decoded in a process of its own."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from ingest.errors import Unreadable
from ingest.guard import guarded
from ingest.images import image_pages
from ingest.limits import DEFAULT, Limits
from ingest.page import Page
from ingest.pdf import pdf_pages

_PDF_HEADER_WITHIN = 1024
"""Readers accept a PDF whose header comes after some bytes of rubbish (ISO 32000-1, annex H, note 13)."""


def read_source(path: Path, limits: Limits = DEFAULT, *, guard: bool = True) -> Iterator[Page | Unreadable]:
    """The pages of an image or PDF, in order; a page that cannot be read comes as its Unreadable, the others still
    come. Raises Unreadable when the source as a whole cannot be read. With `guard` the decoding runs in a child
    process that may crash, hang or run out of memory without harm."""
    sha256 = _checked(path, limits)
    if guard:
        return guarded(_decoded, (path, sha256, limits), path, limits)
    return _decoded(path, sha256, limits)


def _decoded(path: Path, sha256: str, limits: Limits) -> Iterator[Page | Unreadable]:
    with path.open("rb") as stream:
        is_pdf = b"%PDF-" in stream.read(_PDF_HEADER_WITHIN)
    pages = pdf_pages if is_pdf else image_pages
    return pages(path, sha256, limits)


def _checked(path: Path, limits: Limits) -> str:
    """The SHA-256 of a file that is there and not too large."""
    try:
        if path.is_dir():
            raise Unreadable(path, None, "it is a folder", "name the files in it")
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
