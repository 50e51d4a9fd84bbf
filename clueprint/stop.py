"""Stopping on request: the first time pages in work are finished, the second time they are dropped."""

from __future__ import annotations

import signal
from collections.abc import Callable
from types import FrameType, TracebackType
from typing import Any, Self

SIGNALS = (signal.SIGINT, signal.SIGTERM)
"""Ctrl-C, and what an operating system or a batch queue sends."""


class Stop:
    """Whether a person or the system asked to stop, while it is entered. `told` is called at the first time."""

    def __init__(self, told: Callable[[], None] = lambda: None) -> None:
        self._told = told
        self._times = 0
        self._before: dict[signal.Signals, Any] = {}

    def __enter__(self) -> Self:
        self._before = {number: signal.signal(number, self._heed) for number in SIGNALS}
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def _heed(self, _number: int, _frame: FrameType | None) -> None:
        self._times += 1
        if self._times == 1:
            self._told()

    @property
    def asked(self) -> bool:
        """Whether to begin nothing more."""
        return self._times > 0

    @property
    def at_once(self) -> bool:
        """Whether to wait for nothing more."""
        return self._times > 1
