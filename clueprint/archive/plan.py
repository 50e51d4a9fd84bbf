"""What is still to be done: sources that nobody has looked at, pages that nobody has read."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from clueprint.archive.catalogue import Catalogue, How, Listed
from clueprint.archive.jobs import Job, ReadPage, Stamp, Survey
from clueprint.archive.names import absolute, place_of, printable

if TYPE_CHECKING:
    from recognise.rules import Statement

Again = Literal["failures", "all"]
_AT_ONCE = 500
"""Sources entered in one transaction."""


@dataclass
class Counts:
    """Pages: how many there are as far as is known, how many were done before this run and in it; and sources that
    nobody has looked at."""

    known: int = 0
    before: int = 0
    done: int = 0
    unseen: int = 0
    seen: int = 0

    @property
    def total(self) -> int:
        """Pages there are likely to be: a source that was not looked at is thought to have as many as others have."""
        each = self.known / self.seen if self.seen else 1.0
        return self.known + round(self.unseen * each)


class Plan:
    """The jobs of one run, handed out one by one: pages of sources that are known first, then the next source."""

    def __init__(self, catalogue: Catalogue, how: How, house: tuple[Statement, ...]) -> None:
        self._catalogue, self._how, self._house = catalogue, how, house
        self._sources: deque[int] = deque()
        self._pages: deque[Job] = deque()
        self._later: deque[Job] = deque()
        self._claimed: set[str] = set()
        self._surveys: dict[int, bool] = {}
        """Sources that are looked at, in order, and whether the answer is there: pages are planned in that order, so
        that of two sources of one content the first has them, however the answers come."""
        self.counts = Counts()

    # -------------------------------------------------------------------------------------------- listing

    def list_sources(self, named: Iterable[Path], base: Path, again: Again | None) -> None:
        """Enter every file that is to be archived; their folders below `base` are mirrored. `again` says what of them
        is done again although it is finished."""
        files = iter(named)
        while batch := list(islice(files, _AT_ONCE)):
            with self._catalogue.transaction():
                for file in batch:
                    self._list(file, base, again)
        contents: set[str] = set()
        for row in self._catalogue.rows(
            "SELECT source, sha256, known, pages FROM sources WHERE run = ? ORDER BY source", self._catalogue.run
        ):
            self._sources.append(row["source"])
            if not row["known"]:
                self.counts.unseen += 1
            elif row["sha256"] not in contents:
                contents.add(row["sha256"])
                self.counts.seen += 1
                self.counts.known += row["pages"] or 0

    def _list(self, file: Path, base: Path, again: Again | None) -> None:
        path = absolute(file)
        text, raw = printable(str(path)), os.fsencode(path)
        raw = b"" if raw == text.encode("utf-8") else raw
        try:
            stamp = Stamp.of(path)
        except (OSError, ValueError):
            stamp = None
        listed = self._catalogue.find(text, raw)
        if listed is None:
            place = place_of(path, base, self._catalogue.holder)
            self._catalogue.add(text, raw, printable(str(file)), place, stamp)
            return
        same = stamp is not None and stamp == listed.stamp
        if again is not None:
            self._catalogue.forget_failures(listed.source, listed.sha256)
        if listed.sha256 is None:
            # What was found unreadable is as good as known, until something about it changes.
            known = same and self._catalogue.is_set_aside(listed.source, self._how)
        else:
            known = same and listed.known
        if again == "all" and listed.sha256 is not None:
            self._catalogue.ask_again(listed.sha256)
        self._catalogue.see(listed.source, printable(str(file)), stamp, known)

    # -------------------------------------------------------------------------------------------- handing out

    def next(self) -> Job | None:
        """A job that is not in work; None when there is none, which answers may change."""
        while not self._pages and self._sources:
            source = self._catalogue.source(self._sources.popleft())
            if not source.known:
                self._surveys[source.source] = False
                return Survey(source.source, source.path)
            self._open(source)
        if self._pages:
            return self._pages.popleft()
        return None

    def next_try(self) -> Job | None:
        """A job that failed and is worth another try, when there is nothing else."""
        return self._later.popleft() if self._later else None

    def _open(self, source: Listed) -> None:
        """Plan the pages of a source that are not finished, unless another source of the same content has them."""
        if source.sha256 is None or source.stamp is None or source.sha256 in self._claimed:
            return
        self._claimed.add(source.sha256)
        finished = self._catalogue.finished(source.sha256, self._how)
        self.counts.before += len(finished)
        for page in range(1, source.pages + 1):
            if page not in finished:
                job = ReadPage(source.source, source.path, source.stamp, source.sha256, page, source.place, self._house)
                self._pages.append(job)

    # -------------------------------------------------------------------------------------------- answers

    def surveyed(self, job: Survey) -> None:
        """A source was looked at, and that is entered: its pages are planned."""
        self.counts.unseen -= 1
        self._surveys[job.source] = True
        while self._surveys and self._surveys[first := next(iter(self._surveys))]:
            del self._surveys[first]
            source = self._catalogue.source(first)
            if source.known and source.sha256 not in self._claimed:
                self.counts.seen += 1
                self.counts.known += source.pages
                self._open(source)

    def open_again(self, sources: Iterable[int]) -> None:
        """Look again at sources whose pages were forgotten with those of another one."""
        for number in sources:
            source = self._catalogue.source(number)
            self._claimed.discard(source.sha256 or "")
            self._sources.append(number)

    def try_later(self, job: Job) -> None:
        """Do a job once more at the end of the run."""
        self._later.append(job)
        if isinstance(job, Survey):
            self.counts.unseen += 1
