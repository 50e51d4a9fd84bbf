"""Of several looks at a number the one that has all its figures counts, however many others lost more than one."""

from dataclasses import dataclass
from typing import cast

from recognise.marks.texts import _fullest, _Reading


@dataclass(frozen=True)
class _Look:
    text: str
    least: float
    score: float


def _of(*looks: _Look) -> str:
    return _fullest(cast("list[_Reading]", list(looks))).text


def test_the_longest_of_the_sure_looks_that_have_more_counts() -> None:
    assert _of(_Look("9", 1.0, 1.0), _Look("59", 1.0, 0.98), _Look("597", 1.0, 0.95)) == "597"


def test_a_longer_look_that_is_unsure_or_reads_otherwise_does_not() -> None:
    assert _of(_Look("9", 1.0, 1.0), _Look("59", 1.0, 0.9), _Look("597", 0.6, 0.95)) == "59"
    assert _of(_Look("9", 1.0, 1.0), _Look("587", 1.0, 0.95)) == "9"
