"""A V or a 7 on an edge where a sign seems to stand, of which no rule speaks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest

from recognise.evidence import Guess
from recognise.marks.hardly_seen import is_told, texts_of_edges
from recognise.marks.text_places import Place, on_edge
from recognise.marks.text_readings import Reading
from recognise.pixels.glyphs import Character

PLAIN, SIGNED = on_edge((1.0, 0.5)), replace(on_edge((2.0, 0.5)), perhaps=True, signed=True)


def _readings(text: str, sure: float = 0.97, looks: int = 3) -> list[Reading]:
    character = SimpleNamespace(guesses=(Guess(text, sure),), box=(0.9, 0.4, 1.1, 0.6))
    characters = (cast(Character, character),) if text else ()
    return [Reading(characters, cast("object", None), (), 0.0)] * looks  # type: ignore[arg-type]


def _is_told(place: Place, text: str, elsewhere: Sequence[Reading]) -> bool:
    seen = {PLAIN: elsewhere, place: _readings(text)}
    return is_told(place, seen[place][0], seen[place], texts_of_edges(seen))


@pytest.mark.parametrize("text", ["V", "7"])
def test_it_counts_where_the_page_surely_has_it_on_other_edges(text: str) -> None:
    assert _is_told(SIGNED, text, _readings(text))


@pytest.mark.parametrize(("place", "elsewhere"), [
    (SIGNED, _readings("5")),  # no other one
    (SIGNED, _readings("V", 0.6)),  # the other is hard to read
    (SIGNED, _readings("V", looks=1)),  # one look alone shows it
    (SIGNED, []),
    (replace(SIGNED, signed=False), _readings("V")),  # a bit of a line may look like it
], ids=["none", "hard", "alone", "nothing", "no sign"])  # fmt: skip
def test_nor_where_it_does_not(place: Place, elsewhere: list[Reading]) -> None:
    assert not _is_told(place, "V", elsewhere)
