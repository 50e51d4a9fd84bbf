"""Files of one page, as the pipeline gets them."""

from __future__ import annotations

from pathlib import Path

from ingest.page import Page
from ingest.source import read_source
from recognise.pipeline import PageReading, read_page


def page_in(path: Path) -> Page:
    """The only page of a file."""
    (page,) = read_source(path)
    assert isinstance(page, Page)
    return page


def read_in(path: Path) -> PageReading:
    """What is read on it."""
    return read_page(page_in(path))
