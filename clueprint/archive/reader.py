"""`python -m clueprint.archive.reader`: the process that does jobs one after another, and may die of one of them.

It is started by `readers.py`, which gives it two ends of pipes: one for jobs and answers, one that closes when the one
who asked is gone, however it went. Then this process ends too, whatever it is doing."""

from __future__ import annotations

import contextlib
import os
import resource
import signal
import sys
import threading
import time
from dataclasses import replace
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import cv2

from clueprint.archive.jobs import Answer, Failed, GridRead, Job, PageRead, ReadPage, Stamp, Survey, Surveyed, Terms
from clueprint.archive.likeness import likeness
from clueprint.archive.names import printable
from ingest.errors import Unreadable
from ingest.source import read_one_page, survey_source
from recognise.pipeline import read_page
from recognise.report import reading_of
from schema.files import PUZZLE_SUFFIX, puzzle_text
from schema.puzzle import Puzzle
from schema.reading import Reading, reading_text

IDLE = 600.0
"""Seconds without a job after which it ends: workers on other machines outlive the run that used them."""
GRACE = 30
"""Seconds after the time for a page has run out until it ends itself, if nobody else ended it."""
_MORE_LIKELY_KILLED = "1000"
"""Where memory runs out all the same, Linux is to end this process, and neither the run nor another program."""


def main() -> None:
    """Do jobs until there are none."""
    channel, lifeline, terms = Connection(int(sys.argv[1])), int(sys.argv[2]), Terms("", *map(int, sys.argv[3:5]))
    threading.Thread(target=_end_with, args=(lifeline,), daemon=True).start()
    cv2.setNumThreads(1)
    _bound_memory(terms.memory)
    with contextlib.suppress(EOFError, BrokenPipeError, ConnectionResetError):
        channel.send("ready")
        while channel.poll(IDLE):
            job = channel.recv()
            # By the kernel: it also ends a process that hangs where no Python runs.
            signal.alarm(int(terms.seconds) + GRACE)
            answer = answer_to(job)
            signal.alarm(0)
            channel.send(answer)


def _end_with(lifeline: int) -> None:
    os.read(lifeline, 1)
    os._exit(1)


def _bound_memory(extra: int) -> None:
    with contextlib.suppress(OSError):
        Path("/proc/self/oom_score_adj").write_text(_MORE_LIKELY_KILLED, encoding="ascii")
    with contextlib.suppress(OSError):
        now = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        resource.setrlimit(resource.RLIMIT_AS, (now + extra, hard))


def answer_to(job: Job) -> Answer:
    """Do a job; whatever goes wrong is an answer too."""
    page = job.page if isinstance(job, ReadPage) else None
    try:
        return _surveyed(job) if isinstance(job, Survey) else _read(job)
    except Exception as fault:
        if _is_out_of_memory(fault):
            return Failed(page, "reading it takes too much memory", "allow more with --memory", lost=True)
        if isinstance(fault, Unreadable):
            return Failed(fault.page, fault.why, fault.remedy)
        if isinstance(fault, OSError):
            return Failed(page, f"it cannot be opened ({fault.strerror})", "check its permissions", passing=True)
        # Libraries fail in many ways when memory is short: worth a second try, in a fresh process.
        why = f"clueprint itself failed on it ({type(fault).__name__}: {fault})"
        return Failed(page, why, "please report it with the page", lost=True)


def _is_out_of_memory(fault: BaseException | None) -> bool:
    """Whether memory ran out, or what failed did so because of it."""
    while fault is not None:
        if isinstance(fault, MemoryError) or (isinstance(fault, cv2.error) and fault.code == cv2.Error.StsNoMem):
            return True
        fault = fault.__cause__
    return False


def _surveyed(job: Survey) -> Answer:
    try:
        stamp = Stamp.of(job.path)
        if job.path.is_dir():
            return Failed(None, "this folder cannot be opened", "check its permissions", passing=True)
        if not job.path.is_file():
            return Failed(None, "it is no file", "name a file or a folder", passing=True)
    except OSError as fault:
        why = "there is no such file" if isinstance(fault, FileNotFoundError) else f"it cannot be opened ({fault})"
        return Failed(None, why, "check the name", passing=True)
    sha256, pages = survey_source(job.path)
    return _unless_changed(job, stamp, None) or Surveyed(stamp, sha256, pages)


def _unless_changed(job: Job, stamp: Stamp, page: int | None) -> Failed | None:
    if Stamp.of(job.path) == stamp:
        return None
    return Failed(page, "it changed while it was read", "archive it again when it is whole", passing=True)


def _read(job: ReadPage) -> Answer:
    started = time.perf_counter()
    page = read_one_page(job.path, job.sha256, job.page)
    if changed := _unless_changed(job, job.stamp, job.page):
        return changed
    page = replace(page, source=Path(printable(page.source.name)))
    page_reading = read_page(page, house=job.house)
    grids = []
    for number, result in enumerate(page_reading.results, start=1):
        name = f"{Path(job.stem).name}-p{job.page}-{number}{PUZZLE_SUFFIX}"
        grids.append(_grid(result.proven.puzzle, reading_of(page_reading.page, result, name)))
    return PageRead(tuple(grids), time.perf_counter() - started)


def _grid(puzzle: Puzzle | None, reading: Reading) -> GridRead:
    queries: list[dict[str, Any]] = [query.model_dump(mode="json", exclude_none=True) for query in reading.queries]
    read = GridRead(reading_text(reading), reading.verdict, tuple(queries))
    if puzzle is None:
        return read
    return replace(
        read,
        puzzle=puzzle_text(puzzle),
        title=puzzle.title,
        setter=puzzle.setter,
        rows=puzzle.grid.rows,
        columns=puzzle.grid.columns,
        kinds=tuple(sorted({constraint.kind for constraint in puzzle.constraints})),
        likeness=likeness(puzzle),
    )


if __name__ == "__main__":
    main()
