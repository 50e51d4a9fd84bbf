"""A back catalogue from beginning to end: jobs go to the crew, what comes back is written and entered."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from itertools import takewhile
from pathlib import Path
from typing import TYPE_CHECKING

from clueprint.archive.catalogue import Catalogue, How
from clueprint.archive.filing import clear_up, file_grids, put_away
from clueprint.archive.jobs import Answer, Failed, Job, PageRead, ReadPage, Survey, Surveyed, Terms
from clueprint.archive.plan import Again, Counts, Plan
from clueprint.archive.sources import common_folder, walked
from clueprint.errors import ClueprintError
from clueprint.stop import Stop

if TYPE_CHECKING:
    from clueprint.archive.crew import Crew
    from recognise.rules import Statement

LOOK = 0.5
"""Seconds between two looks at whether the person wants to stop, and between two pictures of progress."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What a person asked for."""

    sources: tuple[Path, ...]
    into: Path
    workers: int
    seconds: float
    memory: int
    house: tuple[Statement, ...] = ()
    house_style: str = ""
    """SHA-256 of the house style file; '' for none."""
    scheduler: str | None = None
    again: Again | None = None

    @property
    def how(self) -> How:
        """By what pages are read."""
        return How(version("clueprint"), self.house_style)


@dataclass
class Tally:
    """What one run did."""

    puzzles: int = 0
    to_look_at: int = 0
    failures: int = 0
    seconds: float = 0.0
    stopped: bool = False
    dropped: int = 0

    def heed(self, answer: PageRead) -> None:
        """Count what a page held."""
        self.puzzles += len(answer.grids)
        self.to_look_at += sum(grid.verdict != "clean" for grid in answer.grids)


Progress = Callable[[Counts, Tally], None]


def archive(wish: Wish, catalogue: Catalogue, stop: Stop, progress: Progress) -> tuple[Counts, Tally]:
    """Read what is not finished of what a person wished for, until all is done or a stop is asked for. `progress` is
    told now and then how far it is. Raises ClueprintError when the disk or the workers fail; what was entered until
    then stays."""
    work = _Work(wish, catalogue, stop, progress)
    try:
        clear_up(wish.into)
        work.do()
    except OSError as fault:
        why = f"{wish.into}: nothing can be written there ({fault.strerror})"
        raise ClueprintError(why, "make room and archive again to go on") from None
    except sqlite3.Error as fault:
        full = fault.sqlite_errorcode == sqlite3.SQLITE_FULL
        remedy = "make room and archive again to go on" if full else "archive again to go on"
        raise ClueprintError(f"{catalogue.path}: it cannot be written ({fault})", remedy) from None
    return work.plan.counts, work.tally


class _Work:
    def __init__(self, wish: Wish, catalogue: Catalogue, stop: Stop, progress: Progress) -> None:
        self.wish, self.catalogue, self.stop, self.progress = wish, catalogue, stop, progress
        self.plan = Plan(catalogue, wish.how, wish.house)
        self.tally = Tally()

    def do(self) -> None:
        started = time.monotonic()
        wish = self.wish
        self.catalogue.begin(wish.how, wish.workers, wish.scheduler)
        files = takewhile(lambda _: not self.stop.asked, walked(wish.sources, wish.into))
        self.plan.list_sources(files, common_folder(wish.sources), wish.again)
        job = None if self.stop.asked else self.plan.next()
        if job is not None:
            from clueprint.archive.crew import Crew  # noqa: PLC0415 - slow to import, and often nothing is left to do

            with Crew(Terms(wish.how.version, wish.seconds, wish.memory), wish.workers, wish.scheduler) as crew:
                crew.give(job)
                self._with(crew)
                self.tally.dropped = crew.at_work
        self.tally.seconds = time.monotonic() - started
        self.tally.stopped = self.stop.asked
        self.catalogue.end("stopped" if self.stop.asked else "finished")

    def _with(self, crew: Crew) -> None:
        while True:
            while crew.room and not self.stop.asked and (job := self._next(crew)):
                crew.give(job)
            if not crew.at_work or self.stop.at_once:
                return
            for job, answer in crew.answers(LOOK):
                self._heed(job, answer)
            self.progress(self.plan.counts, self.tally)

    def _next(self, crew: Crew) -> Job | None:
        return self.plan.next() or (None if crew.at_work else self.plan.next_try())

    def _heed(self, job: Job, answer: Answer) -> None:
        match job, answer:
            case Survey(), Surveyed():
                self._surveyed(job, answer)
            case ReadPage(), PageRead():
                self._read(job, answer)
            case _, Failed():
                self._failed(job, answer)
            case _:
                raise TypeError(f"{type(answer).__name__} is no answer to {type(job).__name__}")

    def _surveyed(self, job: Survey, found: Surveyed) -> None:
        if self.catalogue.holds_other(job.source, found.sha256):
            self._let_go(job.source)
        with self.catalogue.transaction():
            self.catalogue.survey(job.source, found)
        self.plan.surveyed(job)

    def _let_go(self, source: int) -> None:
        """A file holds something else than it did: what was read in its place is set aside and forgotten."""
        put_away(self.wish.into, [name for filed in self.catalogue.filed_of(source) for name in filed.names])
        with self.catalogue.transaction():
            others = self.catalogue.forget_pages(source)
        self.plan.open_again(others)

    def _read(self, job: ReadPage, read: PageRead) -> None:
        before = self.catalogue.filed(job.sha256, job.page)
        # The files first, then the entry: a page is finished when it is entered.
        filed = file_grids(self.wish.into, job.stem, job.page, read.grids, before)
        with self.catalogue.transaction():
            self.catalogue.enter(job, read, filed, self.wish.how)
        self.plan.counts.done += 1
        self.tally.heed(read)

    def _failed(self, job: Job, failed: Failed) -> None:
        sha256 = job.sha256 if isinstance(job, ReadPage) else None
        with self.catalogue.transaction():
            once_more = self.catalogue.fail(job.source, sha256, failed, self.wish.how)
        if isinstance(job, Survey):
            self.plan.surveyed(job)
        if once_more:
            self.plan.try_later(job)
            return
        self.tally.failures += 1
        if isinstance(job, ReadPage):
            self.plan.counts.done += 1
