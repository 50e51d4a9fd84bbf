"""Tables of patterns in text files: how their lines go on, what brackets keep, and that all of them are patterns."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from recognise.rules import patterns


@pytest.fixture
def written(tmp_path, monkeypatch):
    """Writes a file of patterns and gives what is read of it."""

    def read(text: str) -> list[tuple[str, str]]:
        (tmp_path / "some.txt").write_text(text, "utf-8")
        monkeypatch.setattr(patterns, "__file__", str(tmp_path / "patterns.py"))
        patterns._lines.cache_clear()
        return list(patterns.patterns_of("some.txt"))

    yield read
    patterns._lines.cache_clear()


def test_a_line_goes_on_after_a_blank_or_at_once_at_a_bar(written):
    text = "# A note.\n\n\\bdots? (are|\n    is)\n    (given|drawn)\n  -> shown\n"
    assert written(text) == [(r"\bdots? (?:are|is) (?:given|drawn)", "shown")]


def test_only_brackets_with_an_equals_sign_keep_what_they_hold(written):
    text = r"(=two|three) (times )?(?=big)\(x\)[(=]" + "\n" + r'  -> "\1 of "'
    assert written(text) == [(r"(two|three) (?:times )?(?=big)\(x\)[(=]", r"\1 of ")]


def test_pieces_may_stand_anywhere_and_hold_others(written):
    text = "<ANY> <COLOUR> line\n  -> line\nANY = (a|<EVERY>)\nEVERY = (each|every)\n"
    assert written(text) == [(rf"(?:a|(?:each|every)) {patterns.COLOUR} line", "line")]


@pytest.mark.parametrize(
    "name", sorted(p.name for p in Path(patterns.__file__).parent.glob("*.txt") if "-> " in p.read_text("utf-8"))
)
def test_every_pattern_of_the_files_can_be_tried(name):
    found = patterns.patterns_of(name)
    assert found
    for pattern, told in found:
        assert not re.search(r"  | \)[?*] |<[A-Z]", pattern), pattern
        kept = max(map(int, re.findall(r"\\(\d)", told)), default=0)
        assert re.compile(pattern).groups >= kept, (pattern, told)
