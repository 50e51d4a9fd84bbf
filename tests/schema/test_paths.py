"""Every kind that stands on one path is found to, and no other."""

import pytest

from schema.cells import Cell
from schema.kinds import KINDS
from schema.paths import path_of, steps_of


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: str(kind.model_fields["kind"].default))
def test_every_kind_with_a_path_is_a_line(kind) -> None:
    sample = kind.sample().constraint
    assert path_of(sample) == getattr(sample, "path", ())
    assert path_of(None) == ()


def test_the_steps_of_a_path_are_the_same_from_its_other_end() -> None:
    one, middle, other = (Cell.parse(name) for name in ("r1c1", "r1c2", "r2c3"))
    assert steps_of((one, middle, other)) == {frozenset((one, middle)), frozenset((middle, other))}
    assert steps_of((other, middle, one)) == steps_of((one, middle, other))
    assert steps_of((one,)) == frozenset()
