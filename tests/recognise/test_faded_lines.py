"""Wide lines that one look alone sees: print of the other side, or lines that the network is in doubt of."""

from __future__ import annotations

import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.marks.agree import agreed, faded, seen_alone
from recognise.marks.network import BY_NAME
from recognise.marks.traces import Lines
from tests.recognise.chances_maker import changed, linked, sure
from tests.recognise.evidence_maker import trace

PLAIN, PALE = (234, 188, 162), (237, 235, 237)


@pytest.mark.parametrize(
    ("colour", "chance", "shown"),
    [(PALE, 0.05, True), (PALE, 0.7, False), (PLAIN, 0.05, False)],
    ids=["pale and likely none", "pale", "likely none"],
)
def test_what_is_far_paler_than_the_lines_of_its_page_and_likely_none_shows_through(
    colour: tuple[int, int, int], chance: float, shown: bool
) -> None:
    labels = Labels.empty(6, 6)
    linked(labels, "r1c1 r1c2 r1c3", Link.LINE)
    told = sure(labels)
    for name, likely in (("LINE", chance), ("NONE", 1 - chance)):
        told = changed(told, "link", (0, BY_NAME["link"].classes.index(name), 5, 2), likely)
    plain, other = trace("r1c1 r1c2 r1c3", colour=PLAIN), trace("r5c2 r5c3", colour=colour)
    lines = Lines((plain,), ("LINE",), frozenset(), ())
    alone = seen_alone(lines, [plain, other], told)
    assert alone == [other]
    assert faded(alone, lines.traces, told) == ([other] if shown else [])
    assert faded(alone, (), told) == [], "there is nothing to hold it against"
    assert [found.nodes for found in agreed(lines, [plain, other], told)] == [plain.nodes, other.nodes]
