"""Rules by their sense: what the language network hears, and what is made of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import islice

import numpy as np
import pytest

from recognise.rules.by_sense import Senses
from recognise.rules.exceptions import may_fall_short
from recognise.rules.heard import statements_heard
from recognise.rules.reader import read_rules
from recognise.rules.sense import Sense, senses
from recognise.rules.wordpieces import WordPieces
from recognise.rules.words import sentences
from tests.recognise.rules_score import found, kinds, surely, wanted, without_unsure
from tests.recognise.sense_samples import VOICES, answers

PIECES = ["[PAD]", "[UNK]", "[CLS]", "[SEP]", "rise", "##s", "un", "##rise", ".", "'", "u"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Rises.", ["rise", "##s", "."]),
        ("unrise", ["un", "##rise"]),
        ("RÎSE", ["rise"]),
        ("rise’s", ["rise", "'", "[UNK]"]),
        ("zebra rise", ["[UNK]", "rise"]),
        ("", []),
    ],
)
def test_words_fall_into_the_longest_pieces_from_the_left(text: str, told: list[str]) -> None:
    pieces = WordPieces(PIECES)
    assert [PIECES[at] for at in pieces.of(text)] == told


def test_a_sentence_says_the_same_whatever_stands_far_away_in_the_text() -> None:
    network = Sense()
    near = ["Numbers climb from the round end of each tube.", "Start in the middle."]
    filler = ["The solution is on page 12 of next month's issue, with a word from the editor."] * 30
    alone, long = network.of(near), network.of([*near, *filler])
    assert len(long) == 32
    assert max(alone[0], key=alone[0].__getitem__) == max(long[0], key=long[0].__getitem__) == "thermometer strict"
    assert all(chance < 0.5 for chance in long[-1].values())


def test_chances_are_chances() -> None:
    (said,) = senses(("Digits get larger along each flask, from the bulb on.",))
    values = np.array(list(said.values()))
    assert ((values >= 0) & (values <= 1)).all() and said["thermometer strict"] > 0.8


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Take a plum cord by either tip: the tune of digits is the same.", ["palindrome"]),
        ("Two cells hooked together by a bead total nine.", ["sum-pair"]),
        ("Wherever a brooch is pinned to an edge, its two digits are one apart.", ["consecutive-pair"]),
        ("Leaving the flask, digits may linger at a value, yet they are never seen to go down.", ["thermometer"]),
    ],
)
def test_rules_in_words_of_no_lexicon_are_heard(text: str, told: list[str]) -> None:
    assert kinds(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "Two cells hooked together by a bead total nine, except for a single bead.",
        "It would be a mistake to think that digits climb along a flask from its round end.",
        "Some plum cords read the same from both tips.",
        "Digits on a plum cord never read the same from both tips.",
    ],
)
def test_rules_that_do_not_hold_as_they_are_told_are_not_surely_read(text: str) -> None:
    assert surely(text) == []


def test_talk_of_lines_and_cells_is_not_asked_about() -> None:
    rule = "Digits along a thermometer increase from the bulb."
    talk = "A wise solver looks at the longest tube before the others."
    assert read_rules(f"{rule} {talk}").not_understood == ()


def test_what_the_patterns_read_and_the_network_hears_otherwise_is_asked_about() -> None:
    parts = sentences("Each digit in a flask is larger than the one before it, counted from the bulb.")
    heard = Senses(parts)
    (right,) = statements_heard("thermometer", {"strict"}, ("THERMO",))
    (wrong,) = statements_heard("palindrome", set(), ("LINE",))
    assert not heard.denies([right], parts) and heard.denies([wrong], parts)
    assert heard.hears(right, parts) and not heard.hears(wrong, parts)


def test_what_words_and_the_network_both_tell_is_not_asked_about() -> None:
    assert set(surely("Rows and columns likewise, and the blocks.")) == {"rows", "columns", "boxes"}


def test_a_strange_word_beside_what_both_tell_is_not_asked_about() -> None:
    text = "A grey bar on the wall of two cells: those two digits {}."
    assert surely(text.format("follow each other")) == ["consecutive-pair"]
    turned = ("almost follow each other", "all but follow each other", "follow each other, except one")
    assert [t for t in turned if surely(text.format(t))] == []


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("Green lines: each digit differs by 2 or more from the one before it on the line.", True),
        ("Green lines: each digit may differ by 2 or more from the one before it on the line.", False),
        ("Green lines: each digit differs by 2 or more from the one 3 before it on the line.", False),
        ("Wherever a 5 is printed on an edge, 5 is obtained when the two touching cells are added.", False),
    ],
)
def test_known_words_that_keep_to_their_kind_are_not_asked_about(text: str, sure: bool) -> None:
    assert bool(surely(text)) == sure


@pytest.mark.parametrize(
    ("text", "idle"),
    [
        ("Neither of the lines crosses itself.", True),
        ("Not all possible beads and ovals are given.", True),
        ("Neither of the lines usually crosses itself.", False),
        ("Neither of the linqxz crosses itself.", False),
        ("Neither of the lines has a prime on it.", False),
        ("A cage without a number has a total of ten.", False),
        ("A cage without a number may have any digit twice.", False),
    ],
)
def test_what_binds_nothing_is_told_from_what_may(text: str, idle: bool) -> None:
    rules = "In every row, column and box the digits 1 to 9. A bead on a wall: its two digits are consecutive. "
    sheet = read_rules(rules + text)
    assert text in (*sheet.unsure, *sheet.not_understood)
    assert (text in sheet.idle) == idle


@pytest.mark.parametrize("text", ["Each digit but one differs by 3 or more from the one before it on the orange line."])
def test_what_falls_short_of_all_is_asked_about_whoever_hears_the_rule(text: str) -> None:
    assert may_fall_short(text) and surely(text) == []


@pytest.mark.parametrize(
    ("chances", "agreed"),
    [
        ({"diagonal": 0.99, "diagonal up": 0.99}, True),
        ({"diagonal": 0.99, "diagonal up": 0.8}, False),
        ({"diagonal": 0.99, "diagonal up": 0.99, "diagonal down": 0.6}, False),
        ({"diagonal": 0.99, "diagonal up": 0.99, "palindrome": 0.12}, False),
        ({"diagonal": 0.94, "diagonal up": 0.99}, False),
    ],
)
def test_two_readers_agree_where_the_network_hears_the_same_way_and_nothing_else(
    chances: dict[str, float], agreed: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("recognise.rules.by_sense.senses", lambda _: (chances,))
    parts = sentences("No digit repeats on the skyward diagonal.")
    (rising,) = statements_heard("diagonal", {"up"}, ())
    assert Senses(parts).agrees([rising], parts, read=True) == agreed


@pytest.mark.parametrize(
    ("kind", "variants", "concepts", "fields"),
    [
        ("gap-line", set(), ("LINE", "NUM=4"), [{"gap": 4}]),
        ("gap-line", set(), ("LINE",), []),
        ("gap-line", set(), ("LINE", "NUM=4", "NUM=5"), []),
        ("ratio-pair", set(), ("DOT", "NUM=3"), [{"ratio": 3}]),
        ("ratio-pair", set(), ("DOT", "SMALLNUM"), [{"ratio": "printed"}]),
        ("ratio-pair", set(), ("DOT",), []),
        ("sum-pair", set(), ("DOT",), [{}]),
        ("cage", {"sum", "differ"}, ("CAGE",), [{"operation": "sum", "repeats": False}]),
        ("cage", {"sum", "product"}, ("CAGE",), []),
        ("cage", {"repeats", "differ"}, ("CAGE",), []),
        ("diagonal", {"up"}, (), [{"direction": "up"}]),
        ("diagonal", {"up", "down"}, (), [{}]),
        ("thermometer", {"slow"}, (), [{"strict": False}]),
        ("all-marked", {"ratio-pair"}, ("DOT",), [{"of": "ratio-pair"}]),
    ],
)
def test_fields_are_heard_or_taken_from_the_words(
    kind: str, variants: set[str], concepts: tuple[str, ...], fields: list[dict[str, object]]
) -> None:
    assert [dict(s.fields) for s in statements_heard(kind, variants, concepts)] == fields


def _voices(name: str) -> Iterator[tuple[str, list[str]]]:
    for line in (VOICES / f"{name}.jsonl").read_text("utf-8").splitlines():
        parts = json.loads(line)["parts"]
        yield " ".join(printed for printed, _ in parts), [one for _, said in parts for one in said if one != "~"]


@pytest.mark.parametrize(
    ("name", "one_in", "share", "most_wrong"),
    [("held", 1, 0.82, 3), ("abroad", 3, 0.88, 0)],  # without the network 0.70 of held is right
)
def test_voices_that_nothing_learnt_from_are_read(name: str, one_in: int, share: float, most_wrong: int) -> None:
    right = all_told = surely_wrong = 0
    for text, says in islice(_voices(name), 0, None, one_in):
        want, sheet = wanted(says), read_rules(text)
        got = found(sheet)
        right, all_told = right + len(want & got), all_told + len(want)
        extra = found(without_unsure(sheet)) - want - {("!boxes",)}
        surely_wrong += len({fact for fact in extra if fact[1:] != ("pill=true",)})
    assert right / all_told > share
    assert surely_wrong <= most_wrong


def test_rules_contrary_to_ours_are_asked_about() -> None:
    silent = [text for text, _ in _voices("contrary") if not (s := read_rules(text)).unsure and not s.not_understood]
    assert len(silent) <= 4  # of 80, each one word away from a rule of ours; without the network 5


def test_letters_of_a_word_grid_are_not_heard() -> None:
    grid = "Y T P A E J W Z Z F D R A U J T F C N W B H E N R J C J G Z D V M N K F J S B K S B Y X A X T S A W G C"
    for letters in (grid, "& A q Y x ee _."):
        assert "sum-pair" not in kinds(f"Every row, column and box holds the digits 1 to 9. {letters}")


def test_answers_of_statements_as_the_data_write_them() -> None:
    assert answers(["cage operation=sum repeats=false"]) == ["cage differ", "cage sum"]
    assert answers(["all-marked of=ratio-pair"]) == ["all-marked", "all-marked ratio-pair"]
    assert answers(["?", "~", "digits=1-9", "diagonal direction=up"]) == [
        "diagonal",
        "diagonal up",
        "digits",
        "half",
        "other",
    ]
