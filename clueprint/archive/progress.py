"""How far it is, on a terminal only."""

from __future__ import annotations

import sys
import time
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from clueprint.archive.plan import Counts
from clueprint.archive.report import duration
from clueprint.archive.work import Progress as Tell
from clueprint.archive.work import Tally

WINDOW = 600.0
"""Seconds of the past by which the pace is told: pages of one volume may be harder than those of another."""


class Pace:
    """Pages an hour of late, and how long the rest will take."""

    def __init__(self) -> None:
        self._marks: deque[tuple[float, int]] = deque()

    def mark(self, now: float, done: int) -> None:
        """So many pages were done by now (in seconds)."""
        self._marks.append((now, done))
        while now - self._marks[0][0] > WINDOW:
            self._marks.popleft()

    @property
    def per_hour(self) -> float | None:
        """None while nothing can be said."""
        (first, less), (last, more) = self._marks[0], self._marks[-1]
        return (more - less) / (last - first) * 3600 if last > first and more > less else None

    def told(self, left: int) -> str:
        """The pace, and the time for the pages that are left."""
        pace = self.per_hour
        return "" if pace is None else f"{pace:,.0f} pages an hour, {duration(left / pace * 3600)} left"


@contextmanager
def shown(quiet: bool) -> Iterator[Tell]:
    """A line on a terminal, kept up to date; nothing where standard error is none, or `quiet`."""
    columns = (TextColumn("archiving"), BarColumn(), MofNCompleteColumn(), TextColumn("{task.fields[words]}"))
    disable = quiet or not sys.stderr.isatty()
    with Progress(*columns, console=Console(stderr=True), transient=True, disable=disable) as bar:
        task = bar.add_task("archiving", total=None, words="")
        pace = Pace()

        def tell(counts: Counts, tally: Tally) -> None:
            pace.mark(time.monotonic(), counts.done)
            left = max(counts.total - counts.before - counts.done, 0)
            failures = f"{tally.failures:,} failures" if tally.failures else ""
            words = " · ".join(filter(None, (pace.told(left), f"{tally.to_look_at:,} to look at", failures)))
            bar.update(task, total=counts.total, completed=counts.before + counts.done, words=words)

        yield tell
