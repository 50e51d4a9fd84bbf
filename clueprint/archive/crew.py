"""The way of running: jobs go to a dask cluster, here or on many machines, and answers come back as they are ready.

Everything else knows only `Crew`. dask spreads jobs and gives those of a worker that is lost to others; it can neither
stop a page that hangs nor bound its memory nor tell which page ended a worker, so that each worker has pages read in a
process of their own (`readers.py`) and does not die of one."""

from __future__ import annotations

import contextlib
import logging
import queue
import time
from collections.abc import Iterator
from types import TracebackType
from typing import Self

import dask
from distributed import Client, Future, KilledWorker, LocalCluster

from clueprint.archive.jobs import Answer, Failed, Job, ReadPage, Terms
from clueprint.archive.readers import Misfit, carried_out, dismiss_readers
from clueprint.errors import ClueprintError, complain

AHEAD = 2
"""Jobs for each thread of a worker: one in work, one that waits for it."""
REACHING = 20
"""Seconds to find the scheduler in."""
COUNTED = 10.0
"""Seconds between two looks at how many workers there are; they may come and go."""

_PRIVATE = "127.0.0.1:0"
"""dask opens a port for its pages whether they are wanted or not: for this machine alone, and with nothing on it."""
_SETTINGS = {
    "distributed.scheduler.http.routes": [],
    "distributed.worker.http.routes": [],
    # What reading takes is bounded elsewhere; dask's own workers hold a few kilobytes.
    "distributed.worker.memory.terminate": False,
    "distributed.worker.memory.pause": False,
}


class Crew:
    """Workers: `workers` of them on this machine, or those of the scheduler at `scheduler`. Raises ClueprintError when
    that cannot be reached or is lost, or its workers run another version."""

    def __init__(self, terms: Terms, workers: int, scheduler: str | None = None) -> None:
        self._terms = terms
        self._done: queue.SimpleQueue[Future] = queue.SimpleQueue()
        self._jobs: dict[Future, Job] = {}
        self._scheduler = scheduler
        self._threads, self._counted = workers, float("inf")
        for name in ("distributed", "tornado", "asyncio"):
            logging.getLogger(name).setLevel(logging.CRITICAL)
        dask.config.set(_SETTINGS)
        if scheduler is None:
            # In this process: nothing is left behind when it is killed.
            self._cluster = LocalCluster(
                n_workers=1,
                threads_per_worker=workers,
                processes=False,
                dashboard_address=_PRIVATE,
                worker_dashboard_address=_PRIVATE,
                silence_logs=logging.CRITICAL,
            )
            self._client = Client(self._cluster)
        else:
            self._cluster = None
            self._client = _connected(scheduler)
            self._counted = 0.0

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        """What is still in work is dropped."""
        with contextlib.suppress(Exception):
            self._client.cancel(list(self._jobs))
        dismiss_readers()
        with contextlib.suppress(Exception):
            self._client.close(timeout=5)
        if self._cluster is not None:
            self._cluster.close(timeout=5)

    @property
    def at_work(self) -> int:
        """Jobs given of which there is no answer yet."""
        return len(self._jobs)

    @property
    def room(self) -> bool:
        """Whether another job keeps a worker from being idle."""
        return self.at_work < AHEAD * self._count()

    def _count(self) -> int:
        if time.monotonic() - self._counted > COUNTED:
            self._counted = time.monotonic()
            self._threads = max(1, sum(self._client.nthreads().values()))
        return self._threads

    def give(self, job: Job) -> None:
        """Have a job done."""
        future = self._client.submit(carried_out, job, self._terms, pure=False)
        self._jobs[future] = job
        future.add_done_callback(self._done.put)

    def answers(self, seconds: float) -> Iterator[tuple[Job, Answer]]:
        """The answers that are ready; waits at most so long for the first."""
        with contextlib.suppress(queue.Empty):
            future = self._done.get(timeout=seconds)
            while True:
                job = self._jobs.pop(future)
                yield job, self._answer(job, future)
                future = self._done.get_nowait()
        if self._client.status not in ("running", "connecting"):
            raise self._lost()

    def _answer(self, job: Job, future: Future) -> Answer:
        try:
            answer: Answer = future.result()
            return answer
        except Misfit as fault:
            raise ClueprintError(str(fault), "install the same version everywhere") from None
        except KilledWorker:
            page = job.page if isinstance(job, ReadPage) else None
            return Failed(page, "the workers that had it were lost", "look at the machines", lost=True)
        except Exception as fault:
            if future.cancelled():
                raise self._lost() from None
            raise ClueprintError(f"a worker failed ({type(fault).__name__}: {fault})", "look at its machine") from None

    def _lost(self) -> ClueprintError:
        return ClueprintError(f"the scheduler {self._scheduler or ''} is gone", "archive again to go on")


def _connected(scheduler: str) -> Client:
    try:
        client = Client(scheduler, timeout=REACHING)
        if not client.nthreads():
            complain(f"{scheduler} has no workers yet; start some with `dask worker {scheduler}`")
        return client
    except (OSError, ValueError, TimeoutError) as fault:
        why = str(fault).splitlines()[0]
        raise ClueprintError(f"no scheduler at {scheduler} ({why})", "start one with `dask scheduler`") from None
