"""What goes wrong with a source, and what a person can do about it."""

from __future__ import annotations

from pathlib import Path


class Unreadable(Exception):
    """A source, or one page of it, cannot be read. `page` counts from 1; None stands for the source as a whole."""

    exit_status = 2

    def __init__(self, path: Path, page: int | None, why: str, remedy: str) -> None:
        super().__init__(path, page, why, remedy)
        self.path = path
        self.page = page
        self.why = why
        self.remedy = remedy

    def __str__(self) -> str:
        place = f"{self.path}, page {self.page}" if self.page else f"{self.path}"
        return f"{place}: {self.why}; {self.remedy}"
