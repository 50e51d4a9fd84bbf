"""House styles: what marks mean where a page does not say it, from the command line."""

from __future__ import annotations

import json
from random import Random

import pytest

from clueprint.commands.house_style import house_style as command
from clueprint.draw import draw
from clueprint.house_style import Meanings, collect, drafted
from fixtures.bench.same import differences
from fixtures.generator import make_puzzle
from recognise.rules import MarkHint, Statement
from schema.files import load_puzzle
from schema.marks import Seen
from schema.reading import load_reading

RULES = "Place 1 to 6 once in each row, column and box. Each grey line is a palindrome: it reads the same both ways."
PALINDROMES = '[[mark]]\nlooks = "grey line"\nmeans = "palindrome"\n'


@pytest.fixture(scope="module")
def puzzle():
    return make_puzzle(Random("house style"), ["palindrome"], 6, digits="usual")


@pytest.fixture(scope="module")
def unsaid(puzzle, tmp_path_factory):
    """A page that prints no rules."""
    path = tmp_path_factory.mktemp("pages") / "unsaid.pdf"
    draw(puzzle.model_copy(update={"rules_text": None}), path)
    return path


def _style(tmp_path, text: str):
    path = tmp_path / "style.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_marks_that_the_page_does_not_explain_are_settled_by_the_house_style(run, tmp_path, puzzle, unsaid):
    style = _style(tmp_path, 'publication = "Fixture Press"\n\n' + PALINDROMES)
    code, out, err = run("read", unsaid, "--into", tmp_path / "out", "--house-style", style)
    assert (code, err) == (0, ""), out
    assert differences(load_puzzle(tmp_path / "out" / "unsaid-p1-1.puzzle.json"), puzzle) == []
    reading = load_reading(tmp_path / "out" / "unsaid-p1-1.reading.json")
    lines = sum(c.kind == "palindrome" for c in puzzle.constraints)
    assert [item.how for item in reading.items].count("house-style") == lines


def test_without_it_they_are_a_query(run, tmp_path, unsaid):
    code, out, _ = run("read", unsaid, "--into", tmp_path / "out")
    assert code == 1
    assert "no rule on the page says what this means: grey line" in out


def test_the_rules_on_the_page_have_the_word_and_a_contradiction_is_a_query(run, tmp_path, puzzle):
    draw(puzzle.model_copy(update={"rules_text": RULES}), tmp_path / "said.pdf")
    style = _style(tmp_path, PALINDROMES.replace("palindrome", "run-line"))
    code, out, _ = run("read", tmp_path / "said.pdf", "--into", tmp_path / "out", "--house-style", style)
    assert code == 1
    assert "the house style says run line here, the rules on the page say otherwise" in out
    assert differences(load_puzzle(tmp_path / "out" / "said-p1-1.puzzle.json"), puzzle.model_copy()) == []


@pytest.mark.parametrize(
    ("text", "key", "why"),
    [
        ("marks = 3\n", "marks", "unknown key"),
        ("publication = 3\n", "publication", "no text"),
        ("mark = 3\n", "mark", "list of tables"),
        ('[[mark]]\nmeans = "palindrome"\n', "mark 1, looks", "missing"),
        ('[[mark]]\nlooks = "grey line"\n', "mark 1, means", "missing"),
        ('[[mark]]\nlooks = "plaid line"\nmeans = "palindrome"\n', "mark 1, looks", "'plaid'"),
        ('[[mark]]\nlooks = "grey blue line"\nmeans = "palindrome"\n', "mark 1, looks", "cannot both"),
        ('[[mark]]\nlooks = "grey"\nmeans = "palindrome"\n', "mark 1, looks", "no shape"),
        ('[[mark]]\nlooks = "grey line"\nmeans = "worm"\n', "mark 1, means", "'worm'"),
        ('[[mark]]\nlooks = "black dot"\nmeans = "palindrome"\n', "mark 1, means", "no palindrome"),
        ('[[mark]]\nlooks = "line"\nmeans = "gap-line"\ngap = "five"\n', "mark 1, gap", "integer"),
        ('[[mark]]\nlooks = "line"\nmeans = "gap-line"\npath = ["r1c1"]\n', "mark 1, path", "no such field"),
        (PALINDROMES + PALINDROMES.replace("palindrome", "run-line"), "mark 2, looks", "another meaning"),
        ("looks = \n", "", "no TOML"),
    ],
)
def test_what_is_wrong_with_a_house_style_is_said_in_one_line(run, tmp_path, unsaid, text, key, why):
    style = _style(tmp_path, text)
    code, out, err = run("read", unsaid, "--into", tmp_path / "out", "--house-style", style)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert err.startswith(f"clueprint: {style}")
    assert key in err
    assert why in err


def test_a_house_style_that_is_not_there(run, tmp_path, unsaid):
    code, _, err = run("read", unsaid, "--into", tmp_path / "out", "--house-style", tmp_path / "none.toml")
    assert code == 2
    assert "none.toml: it cannot be read" in err


def test_a_draft_from_a_page_that_prints_its_rules_reads_the_page_that_does_not(run, tmp_path, puzzle, unsaid):
    draw(puzzle.model_copy(update={"rules_text": RULES}), tmp_path / "said.pdf")
    code, out, err = run("house-style", tmp_path / "said.pdf", "-o", tmp_path / "style.toml")
    assert (code, out, err) == (0, "", "")
    code, _, err = run("read", unsaid, "--into", tmp_path / "out", "--house-style", tmp_path / "style.toml")
    assert (code, err) == (0, "")
    code, out, _ = run("house-style", tmp_path / "said.pdf")
    assert out == (tmp_path / "style.toml").read_text(encoding="utf-8")
    assert 'looks = "grey line"\nmeans = "palindrome"' in out


def test_a_page_without_rules_drafts_nothing_and_one_that_is_not_there_is_an_error(run, tmp_path, unsaid):
    assert run("house-style", unsaid)[0] == 1
    code, _, err = run("house-style", tmp_path / "none.pdf")
    assert code == 2
    assert "none.pdf" in err


def test_a_draft_takes_nothing_away_that_a_person_wrote(run, tmp_path, unsaid):
    style = tmp_path / "style.toml"
    style.write_text("by hand")
    assert run("house-style", tmp_path / "none.pdf", "-o", style)[0] == 2
    assert style.read_text() == "by hand" and not (tmp_path / "style.toml.before").exists()
    assert run("house-style", unsaid, "-o", style)[0] == 1
    assert style.read_text() != "by hand" and (tmp_path / "style.toml.before").read_text() == "by hand"


def test_looks_that_pages_give_several_meanings_are_left_to_the_person():
    found: Meanings = {}
    dot = Seen("edge", shape="dot", colour="black")
    collect(found, [(dot, Statement("ratio-pair", {"ratio": 2}, MarkHint("dot")))], "one.pdf page 1")
    collect(found, [(dot, Statement("consecutive-pair"))], "two.pdf page 1")
    text = drafted(found)
    assert "\n[[mark]]" not in text
    assert "# ratio = 2" in text
    assert "two.pdf page 1" in text


def test_every_option_is_exercised_in_this_module():
    options = [option for p in command.params if p.param_type_name == "option" for option in p.opts]
    assert options == ["-o"]
    assert json.dumps("palindrome") in PALINDROMES
