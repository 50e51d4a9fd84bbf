"""A grid at which the lattice network looked before: it is not run again once the rules are known."""

from __future__ import annotations

import pytest

from recognise.evidence import Flat
from recognise.marks import network
from recognise.marks.network import KNOWN, LatticeReader
from tests.recognise.test_pixels import Drawing


def grid(digit: str) -> Flat:
    drawing = Drawing()
    drawing.text((2, 3), digit)
    return drawing.flat()


def test_a_grid_that_was_seen_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    run = []
    told = network.chances
    monkeypatch.setattr(network, "chances", lambda scores: run.append(1) or told(scores))
    reader = LatticeReader()
    first = reader.look(grid("4"))
    assert reader.look(grid("4")) is first
    assert len(run) == 1
    for digit in "12356789"[:KNOWN]:
        assert reader.look(grid(digit)) is not first
    assert reader.look(grid("4")) is not first
    assert len(run) == KNOWN + 2
