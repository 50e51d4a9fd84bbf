"""Small PDF files written on the spot, for tests."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pikepdf

from ingest.page import Page
from ingest.pdf import pdf_pages

FONT = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)


def write_pdf(
    path: Path,
    content: bytes,
    *,
    media: tuple[float, ...] = (0, 0, 200, 300),
    resources: dict[str, Any] | None = None,
    **entries: Any,
) -> Path:
    """A one-page PDF; `entries` go into the page dictionary, `resources` into its resources, streams as bytes."""
    document = pikepdf.new()
    document.add_blank_page(page_size=(200, 300))
    page = document.pages[0].obj
    page.MediaBox = list(media)
    for name, value in entries.items():
        page[f"/{name}"] = value
    found = dict(resources or {})
    for kind, named in found.items():
        for name, value in named.items():
            if isinstance(value, tuple):
                named[name] = document.make_stream(value[0], **value[1])
        found[kind] = pikepdf.Dictionary(named)
    page.Resources = pikepdf.Dictionary({f"/{key}": value for key, value in found.items()})
    page.Contents = document.make_stream(content)
    document.save(path)
    return path


def only_page(path: Path) -> Page:
    """The single page of a PDF."""
    (page,) = pdf_pages(path, "0" * 64)
    assert isinstance(page, Page), str(page)
    return page
