"""What comes of a comparison: differences, queries, the verdict, and the document that `--json` prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from ingest.page import Page
from schema.reading import Point
from schema.words import counted

Change = Literal["missing", "extra", "changed"]
Verdict = Literal["same", "different", "query"]
Polygon = tuple[Point, ...]
"""On the page as a viewer shows it: pixels of an image, points of a displayed PDF page; origin top left."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not, or perhaps not, as in the source: a difference where it was read surely, else a query.

    `item` is a JSON Pointer into the source, None for what stands on the proof only; `items` are all that it is about
    where one finding stands for several. `expected` is what the source has and `found` what the proof has, as they
    stand in puzzle files; None for nothing. `page` counts from 1, and `note` says what the proof leads to."""

    why: str
    item: str | None = None
    change: Change | None = None
    expected: Any = None
    found: Any = None
    page: int | None = None
    where: Polygon | None = None
    items: tuple[str, ...] = ()
    note: str = ""
    sure: bool = True

    def document(self) -> dict[str, Any]:
        """The finding as `--json` prints it."""
        document: dict[str, Any] = {
            "item": self.item,
            "change": self.change,
            "expected": self.expected,
            "found": self.found,
            "page": self.page,
            "where": None if self.where is None else [[round(x, 2), round(y, 2)] for x, y in self.where],
            "why": self.why,
        }
        if len(self.items) > 1:
            document["items"] = list(self.items)
        if self.note:
            document["note"] = self.note
        return document


@dataclass(frozen=True, slots=True)
class Comparison:
    """A proof against its source. `page` is where the puzzle stands on the proof, None where no grid of it is this
    puzzle; `corners` are those of its grid there. `shown` is that page, or the first of a proof without the puzzle."""

    differences: tuple[Finding, ...]
    queries: tuple[Finding, ...]
    page: int | None = None
    corners: Polygon | None = None
    shown: Page | None = field(default=None, repr=False, compare=False)

    @property
    def verdict(self) -> Verdict:
        """`same` only where nothing differs and nothing is left in doubt."""
        if self.differences:
            return "different"
        return "query" if self.queries else "same"

    def numbered(self) -> Iterator[tuple[int, Finding]]:
        """Differences, then queries, numbered through from 1: the numbers on marked pages and in reports."""
        return enumerate((*self.differences, *self.queries), start=1)

    def document(self) -> dict[str, Any]:
        """What `--json` prints."""
        return {
            "verdict": self.verdict,
            "differences": [finding.document() for finding in self.differences],
            "queries": [finding.document() for finding in self.queries],
            "page": self.page,
            "corners": None if self.corners is None else [[round(x, 2), round(y, 2)] for x, y in self.corners],
        }

    def told(self) -> Iterator[str]:
        """The comparison in lines for a person."""
        for number, finding in self.numbered():
            sort = finding.change if number <= len(self.differences) else "look at"
            place = f" page {finding.page}" if finding.page else ""
            yield f"{number:3} {sort}{place}: {finding.why}" + (f"  [{finding.item}]" if finding.item else "")
        notes = dict.fromkeys(finding.note for finding in self.differences if finding.note)
        yield from (f"    note: {note}" for note in notes)
        yield f"{self.verdict}: {counted(len(self.differences), 'difference')}, {len(self.queries)} to look at"
