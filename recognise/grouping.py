"""Things put together one by one: strokes of one colour, characters of one number."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

T = TypeVar("T")


def grouped(things: Iterable[T], fits: Callable[[Sequence[T], T], bool]) -> list[list[T]]:
    """Each thing in the first group, as it is by then, that it fits into, or else in a group of its own; in their
    order."""
    groups: list[list[T]] = []
    for thing in things:
        group = next((group for group in groups if fits(group, thing)), None)
        if group is None:
            groups.append([thing])
        else:
            group.append(thing)
    return groups
