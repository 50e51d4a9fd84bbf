"""Reading processes of one worker: each takes one job at a time, under a bound on time and memory, and is replaced when
it dies. What runs a worker (`crew.py`) calls `carried_out` in as many threads as jobs are to be done at once."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import threading
from importlib.metadata import version
from multiprocessing import Pipe

from clueprint.archive.jobs import Answer, Failed, Job, ReadPage, Terms

STARTING = 120.0
"""Seconds that a reading process may take to be ready: a cold disk, many of them at once."""
JOBS_A_READER = 1000
"""After which a reading process is replaced: whatever its libraries lose of memory is bounded."""
ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OMP_THREAD_LIMIT", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
"""There are as many reading processes as cores."""


class Misfit(Exception):
    """A worker that runs another version of the program: what it reads is not what was asked for."""


def carried_out(job: Job, terms: Terms) -> Answer:
    """Do one job in a reading process. Raises Misfit."""
    here = version("clueprint")
    if here != terms.version:
        raise Misfit(f"a worker has clueprint {here}, and this is {terms.version}")
    return _READERS.do(job, terms)


def dismiss_readers() -> None:
    """End every reading process of this process at once; who waits for one gets the answer that it was lost."""
    _READERS.dismiss()


class _Reader:
    """One reading process, from this side."""

    def __init__(self, terms: Terms) -> None:
        self.terms = terms
        self.jobs = 0
        self._channel, theirs = Pipe()
        lifeline, self._lifeline = os.pipe()
        ends = (theirs.fileno(), lifeline)
        numbers = map(str, (*ends, math.ceil(terms.seconds), terms.memory))
        try:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "clueprint.archive.reader", *numbers],
                pass_fds=ends,
                process_group=0,  # Ctrl-C on the terminal is for the one who asks
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                env={**os.environ, **ONE_THREAD, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
            )
        finally:
            theirs.close()
            os.close(lifeline)

    def do(self, job: Job) -> Answer:
        """The answer to a job; the process may be dead afterwards."""
        page = job.page if isinstance(job, ReadPage) else None
        try:
            if self.jobs == 0 and not (self._channel.poll(STARTING) and self._channel.recv() == "ready"):
                return Failed(page, "the process to read it does not start", "look at the machine's load", lost=True)
            self.jobs += 1
            self._channel.send(job)
            if self._channel.poll(self.terms.seconds):
                answer: Answer = self._channel.recv()
                return answer
            why = f"reading it takes more than {self.terms.seconds:g} seconds"
            return Failed(page, why, "allow more with --time-limit", lost=True)
        except (EOFError, OSError):
            return Failed(page, f"it ends the process that reads it ({self._end()})", "export it again", lost=True)

    def _end(self) -> str:
        try:
            status = self._process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            return "it no longer answers"
        return f"signal {-status}" if status < 0 else f"status {status}"

    @property
    def alive(self) -> bool:
        """Whether it can take a job."""
        return self._process.poll() is None

    def kill(self) -> None:
        """End it, whatever it is doing; safe from another thread than the one that waits for its answer."""
        self._process.kill()
        self._process.wait()

    def close(self) -> None:
        """End it and give its pipes back."""
        self.kill()
        self._channel.close()
        os.close(self._lifeline)


class _Readers:
    """The reading processes of this process: idle ones are used again."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._idle: list[_Reader] = []
        self._at_work: set[_Reader] = set()

    def do(self, job: Job, terms: Terms) -> Answer:
        reader = self._taken(terms)
        lost = True
        try:
            answer = reader.do(job)
            lost = isinstance(answer, Failed) and answer.lost
            return answer
        finally:
            self._back(reader, keep=not lost and reader.jobs < JOBS_A_READER)

    def _taken(self, terms: Terms) -> _Reader:
        with self._lock:
            unfit = [reader for reader in self._idle if reader.terms != terms or not reader.alive]
            self._idle = [reader for reader in self._idle if reader not in unfit]
            reader = self._idle.pop() if self._idle else _Reader(terms)
            self._at_work.add(reader)
        for other in unfit:
            other.close()
        return reader

    def _back(self, reader: _Reader, keep: bool) -> None:
        with self._lock:
            self._at_work.discard(reader)
            if keep:
                self._idle.append(reader)
        if not keep:
            reader.close()

    def dismiss(self) -> None:
        with self._lock:
            idle, self._idle = self._idle, []
            for reader in self._at_work:
                reader.kill()
        for reader in idle:
            reader.close()


_READERS = _Readers()
