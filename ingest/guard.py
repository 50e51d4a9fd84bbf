"""Decoding in a child process: a decoder that crashes, hangs or eats memory costs its page, never the program."""

from __future__ import annotations

import contextlib
import multiprocessing
import resource
import signal
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import cv2

from ingest.errors import Unreadable
from ingest.limits import Limits
from ingest.page import Page

_DONE = "done"


def guarded(
    decode: Callable[..., Iterator[Page | Unreadable]], arguments: tuple[Any, ...], path: Path, limits: Limits
) -> Iterator[Page | Unreadable]:
    """What `decode(*arguments)` yields, computed in a child process one page ahead. Raises what it raises; raises
    Unreadable when the child dies, runs over `limits.seconds` for a page, or over `limits.memory`."""
    # fork: the child needs what is imported here already, and starts in milliseconds.
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    child = context.Process(target=_work, args=(theirs, decode, arguments, limits), daemon=True)
    child.start()
    theirs.close()
    pages = 0
    try:
        while True:
            if not ours.poll(limits.seconds):
                raise Unreadable(path, pages + 1, "decoding it takes too long", "export it again, or smaller")
            try:
                message = ours.recv()
            except EOFError:
                raise Unreadable(path, pages + 1, "it crashes the decoder", "export it again") from None
            if message == _DONE:
                return
            if isinstance(message, Unreadable) and message.page is None:
                raise message
            pages += 1
            yield message
    finally:
        ours.close()
        child.kill()
        child.join()


def _work(pipe: Connection, decode: Callable[..., Any], arguments: tuple[Any, ...], limits: Limits) -> None:
    # Ctrl-C reaches every process of the terminal; whoever started this one ends it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # A pool of threads, one for each core, would take the address space of a page on a machine of many cores. 0, not 1:
    # that one waits for the parent's threads to end, which this process does not have.
    cv2.setNumThreads(0)
    _limit_memory(limits.memory)
    with contextlib.suppress(BrokenPipeError):
        try:
            for page in decode(*arguments):
                pipe.send(page)
            pipe.send(_DONE)
        except Unreadable as fault:
            pipe.send(fault)
            if fault.page is not None:
                pipe.send(_DONE)
        except MemoryError:
            path = arguments[0]
            pipe.send(Unreadable(path, None, "decoding it takes too much memory", "export it again, or smaller"))


def _limit_memory(extra: int) -> None:
    """Bound the address space of this process at what it has now plus `extra` bytes."""
    now = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (now + extra, hard))
