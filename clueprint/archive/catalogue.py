"""The catalogue of an archive: what is asked of it, and each change to it. `catalogue.sql` says what it holds."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterable
from dataclasses import astuple, dataclass
from datetime import UTC, datetime
from pathlib import Path

from clueprint.archive.filing import Filed
from clueprint.archive.jobs import Failed, GridRead, PageRead, ReadPage, Stamp, Surveyed
from clueprint.archive.store import Store

ATTEMPTS = 2
"""At a page that is lost, before it is set aside."""
_FILED = "SELECT puzzle, puzzle_sha256, reading, reading_sha256 FROM puzzles JOIN pages USING (page_id)"
_STAMPED = "size = ?, modified = ?, changed = ?"


@dataclass(frozen=True, slots=True)
class How:
    """By what pages are read: a page that was read by another program or house style is read again."""

    version: str
    house_style: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A source as the catalogue has it."""

    source: int
    path: Path
    place: str
    stamp: Stamp | None
    known: bool
    sha256: str | None
    pages: int


class Catalogue(Store):
    """The catalogue of a folder; `run` is the number of the run that writes it."""

    run = 0

    # -------------------------------------------------------------------------------------------- runs

    def begin(self, how: How, workers: int, scheduler: str | None) -> None:
        """A run begins; what follows is entered as its own."""
        self.run = self.insert(
            "runs",
            started=_now(),
            version=how.version,
            house_style=how.house_style,
            workers=workers,
            scheduler=scheduler,
        )

    def end(self, outcome: str) -> None:
        """The run has ended: `finished` or `stopped`."""
        self.do("UPDATE runs SET ended = ?, outcome = ? WHERE run = ?", _now(), outcome, self.run)

    # -------------------------------------------------------------------------------------------- sources

    def find(self, path: str, raw: bytes) -> Listed | None:
        """A source by its path."""
        row = next(self.rows("SELECT * FROM sources WHERE path = ? AND raw = ?", path, raw), None)
        return None if row is None else _listed(row)

    def source(self, number: int) -> Listed:
        """A source by its number."""
        return _listed(next(self.rows("SELECT * FROM sources WHERE source = ?", number)))

    def holder(self, place: str) -> Path | None:
        """The source that has a place."""
        row = next(self.rows("SELECT * FROM sources WHERE place = ?", place), None)
        return None if row is None else _listed(row).path

    def add(self, path: str, raw: bytes, named: str, place: str, stamp: Stamp | None) -> None:
        """A source that was never seen before."""
        size, modified, changed = _columns(stamp)
        self.insert(
            "sources",
            path=path,
            raw=raw,
            named=named,
            place=place,
            size=size,
            modified=modified,
            changed=changed,
            known=0,
            run=self.run,
        )

    def see(self, source: int, named: str, stamp: Stamp | None, known: bool) -> None:
        """A source is named again; `known` says whether what is known of it still holds."""
        statement = f"UPDATE sources SET named = ?, {_STAMPED}, known = ?, run = ? WHERE source = ?"
        self.do(statement, named, *_columns(stamp), known, self.run, source)

    def survey(self, source: int, found: Surveyed) -> None:
        """What a source holds."""
        self.do("DELETE FROM failures WHERE source = ?", source)
        statement = f"UPDATE sources SET {_STAMPED}, known = 1, sha256 = ?, pages = ? WHERE source = ?"
        self.do(statement, *_columns(found.stamp), found.sha256, found.pages, source)

    def holds_other(self, source: int, sha256: str) -> bool:
        """Whether another content was read in the place of a source."""
        return self.one("SELECT 1 FROM pages WHERE source = ? AND sha256 <> ?", source, sha256) is not None

    def forget_pages(self, source: int) -> list[int]:
        """Forget what was read in the place of a source, which holds something else now. Returns the other sources of
        this run that still hold it: they have to be read in their own places."""
        forgotten = [row[0] for row in self.rows("SELECT DISTINCT sha256 FROM pages WHERE source = ?", source)]
        self.do("DELETE FROM pages WHERE source = ?", source)
        query = "SELECT source FROM sources WHERE sha256 = ? AND source <> ? AND run = ?"
        return [row[0] for sha256 in forgotten for row in self.rows(query, sha256, source, self.run)]

    def ask_again(self, sha256: str) -> None:
        """Have the pages of a content read again, whoever read them."""
        self.do("UPDATE pages SET again = 1 WHERE sha256 = ?", sha256)

    def forget_failures(self, source: int, sha256: str | None) -> None:
        """Have what failed of a source tried again."""
        self.do("DELETE FROM failures WHERE source = ? OR sha256 = ?", source, sha256)

    # -------------------------------------------------------------------------------------------- pages

    def finished(self, sha256: str, how: How) -> set[int]:
        """The pages of a content with which nothing is to be done: read, or set aside."""
        by = (sha256, how.version, how.house_style)
        read = "SELECT page FROM pages WHERE sha256 = ? AND version = ? AND house_style = ? AND NOT again"
        aside = "SELECT page FROM failures WHERE sha256 = ? AND version = ? AND house_style = ? AND set_aside"
        return {row[0] for row in self.rows(f"{read} UNION {aside}", *by, *by)}

    def is_set_aside(self, source: int, how: How) -> bool:
        """Whether a source as a whole was found unreadable, and would be again."""
        query = "SELECT 1 FROM failures WHERE source = ? AND page IS NULL AND set_aside AND version = ?"
        return self.one(f"{query} AND house_style = ?", source, how.version, how.house_style) is not None

    def filed(self, sha256: str, page: int) -> list[Filed]:
        """The files of a page as they were written, if it was read before."""
        return [Filed(*row) for row in self.rows(f"{_FILED} WHERE sha256 = ? AND page = ?", sha256, page)]

    def filed_of(self, source: int) -> list[Filed]:
        """The files that were written in the place of a source."""
        return [Filed(*row) for row in self.rows(f"{_FILED} WHERE source = ?", source)]

    def enter(self, job: ReadPage, read: PageRead, filed: Iterable[Filed], how: How) -> None:
        """A page that was read, in place of what was entered of it before."""
        self.do("DELETE FROM pages WHERE sha256 = ? AND page = ?", job.sha256, job.page)
        self.do("DELETE FROM failures WHERE sha256 = ? AND page = ?", job.sha256, job.page)
        page = self.insert(
            "pages",
            sha256=job.sha256,
            page=job.page,
            source=job.source,
            version=how.version,
            house_style=how.house_style,
            again=0,
            seconds=round(read.seconds, 3),
            run=self.run,
        )
        for number, (grid, files) in enumerate(zip(read.grids, filed, strict=True), start=1):
            self._enter_grid(page, number, grid, files)

    def _enter_grid(self, page: int, number: int, grid: GridRead, files: Filed) -> None:
        puzzle = self.insert(
            "puzzles",
            page_id=page,
            number=number,
            puzzle=files.puzzle,
            puzzle_sha256=files.puzzle_sha256,
            reading=files.reading,
            reading_sha256=files.reading_sha256,
            verdict=grid.verdict,
            title=grid.title,
            setter=grid.setter,
            rows=grid.rows,
            columns=grid.columns,
            likeness=grid.likeness,
        )
        for kind in grid.kinds:
            self.insert("puzzle_kinds", puzzle_id=puzzle, kind=kind)
        for query in grid.queries:
            where = json.dumps(query["where"]) if "where" in query else None
            self.insert("queries", puzzle_id=puzzle, item=query.get("item"), place=where, why=query["why"])

    def fail(self, source: int, sha256: str | None, failed: Failed, how: How) -> bool:
        """A source or page of which nothing came. Returns whether it is worth another try in this run."""
        query = "SELECT attempts FROM failures WHERE source = ? AND page IS ? AND NOT set_aside"
        attempts = 1 + (self.one(query, source, failed.page) or 0)
        once_more = failed.lost and attempts < ATTEMPTS
        self.do("DELETE FROM failures WHERE source = ? AND page IS ?", source, failed.page)
        self.insert(
            "failures",
            source=source,
            sha256=None if failed.page is None else sha256,
            page=failed.page,
            why=failed.why,
            remedy=failed.remedy,
            attempts=attempts,
            set_aside=not once_more and not failed.passing,
            version=how.version,
            house_style=how.house_style,
            run=self.run,
        )
        if failed.page is None and not once_more:
            self.do("UPDATE sources SET sha256 = NULL, pages = NULL, known = 0 WHERE source = ?", source)
        return once_more


def _listed(row: sqlite3.Row) -> Listed:
    path = Path(os.fsdecode(row["raw"])) if row["raw"] else Path(row["path"])
    stamp = None if row["size"] is None else Stamp(row["size"], row["modified"], row["changed"])
    return Listed(row["source"], path, row["place"], stamp, bool(row["known"]), row["sha256"], row["pages"] or 0)


def _columns(stamp: Stamp | None) -> tuple[int | None, int | None, int | None]:
    return (None, None, None) if stamp is None else astuple(stamp)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
