"""Compares what a rules text is read as with what it says, for tests and bench.

In the data files, `says` lists statements (`thermometer strict=true @line:grey`, `!all-marked of=ratio-pair` for one
that is denied), `digits=1-9`, and `?` for a text that is a rule of none of our kinds (`?:word` for one such sentence
among others); an empty list is talk.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from recognise.rules import RuleSheet
from recognise.rules.reader import read_rules

DATA = Path(__file__).parent / "data" / "rules"
_KEY = ("of", "ratio", "value")
_BESIDES = ("ends", "irregular", "untold", "partial")

Fact = tuple[str, ...]


@dataclass(frozen=True)
class Score:
    """`surely_wrong` are those of the `wrong` that are not put to a person."""

    right: int
    wrong: int
    missed: int
    faults: tuple[str, ...]
    surely_wrong: int = 0


def texts(name: str) -> list[dict[str, object]]:
    return json.loads((DATA / f"{name}.json").read_text("utf-8"))


def said_in_frames(ways: int, name: str = "frames") -> list[dict[str, object]]:
    """Each frame of a file said in so many ways, always the same; `<word>` stands for the alternatives of `@word`."""
    rng = Random(7)
    found: list[dict[str, object]] = []
    fields: dict[str, str] = {}
    for line in (DATA / f"{name}.txt").read_text("utf-8").splitlines():
        if line.startswith("@"):
            word, _, alternatives = line[1:].partition(" = ")
            fields[word] = f"{{{alternatives}}}"
        elif line and not line.startswith("#"):
            facts, _, frame = line.partition(" :: ")
            for _depth in range(2):  # a field's alternatives may hold fields
                frame = re.sub(r"<(\w+)>", lambda word: fields[word[1]], frame)
            says = [fact.strip() for fact in facts.split(";")]
            found += [{"text": text, "says": says} for text in dict.fromkeys(_said(frame, rng) for _ in range(ways))]
    return found


def _said(frame: str, rng: Random) -> str:
    while (match := re.search(r"\{([^{}]*)\}", frame)) is not None:
        frame = frame[: match.start()] + rng.choice(match[1].split("|")) + frame[match.end() :]
    text = re.sub(r" (?=[.,;])", "", " ".join(frame.split()))
    return text[0].upper() + text[1:]


def wanted(says: list[str]) -> set[Fact]:
    facts: set[Fact] = set()
    for said in says:
        if said.startswith(("digits=", "?")):
            continue
        kind, *rest = said.split()
        kind += "".join(f" {r}" for r in rest if r.startswith(tuple(f"{k}=" for k in _KEY)))
        facts.add((kind,))
        facts |= {(kind, r) for r in rest if not r.startswith(("@", *(f"{k}=" for k in _KEY + _BESIDES)))}
    return facts


def found(sheet: RuleSheet) -> set[Fact]:
    facts: set[Fact] = set()
    for s in sheet.statements:
        kind = ("!" if s.negated else "") + s.kind + "".join(f" {k}={v}" for k, v in s.fields.items() if k in _KEY)
        facts.add((kind,))
        facts |= {(kind, f"{k}={str(v).lower()}") for k, v in s.fields.items() if k not in _KEY + _BESIDES}
    return facts


def score(items: list[dict[str, object]]) -> Score:
    right = wrong = missed = surely = 0
    faults = []
    for item in items:
        text, says = str(item["text"]), list(item["says"])  # type: ignore[call-overload]
        sheet = read_rules(text)
        want = wanted(says)
        got = _with_printed_operations(found(sheet), want)
        right, missed = right + len(want & got), missed + len(want - got)
        # A sentence may say a little more than the test asks for: `there are no boxes` beside rows and columns.
        extra = {f for f in got - want if f != ("!boxes",) and f[1:] != ("pill=true",)}
        wrong += len(extra)
        surely += len(extra & _with_printed_operations(found(without_unsure(sheet)), want))
        ignored = any(s.startswith("?") for s in says) and not sheet.not_understood
        if extra or ignored:
            faults.append(f"{text!r}: {sorted(extra) or 'ignored'}")
    return Score(right, wrong, missed, tuple(faults), surely)


def _with_printed_operations(got: set[Fact], want: set[Fact]) -> set[Fact]:
    """What is found, with the operations that a text names where a printed sign is said to tell which is meant."""
    printed = ("cage", "operation=printed")
    named = {fact for fact in want if fact[0] == "cage" and fact[1:] and fact[1].startswith("operation=")}
    return (got - {printed}) | named if printed in got and len(named) > 1 else got


def without_unsure(sheet: RuleSheet) -> RuleSheet:
    """The sheet with nothing that is put to a person."""
    return replace(sheet, statements=tuple(s for s in sheet.statements if s.sentence not in sheet.unsure))


def kinds(text: str) -> list[str]:
    """The kinds that a text states; denied ones are named so."""
    return [("not " if s.negated else "") + s.kind for s in read_rules(text).statements]


def surely(text: str) -> list[str]:
    """The kinds that are stated and not put to a person."""
    return [s.kind for s in without_unsure(read_rules(text)).statements]
