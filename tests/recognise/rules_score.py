"""Compares what a rules text is read as with what it says, for tests and bench.

In the data files, `says` lists statements (`thermometer strict=true @line:grey`, `!all-marked of=ratio-pair` for one
that is denied), `digits=1-9`, and `?` for a text that is a rule of none of our kinds (`?:word` for one such sentence
among others); an empty list is talk.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from recognise.rules import RuleSheet
from recognise.rules.reader import read_rules

DATA = Path(__file__).parent / "data" / "rules"
_KEY = ("of", "ratio", "value")
_BESIDES = ("ends", "irregular", "untold", "partial")

Fact = tuple[str, ...]


@dataclass(frozen=True)
class Score:
    right: int
    wrong: int
    missed: int
    faults: tuple[str, ...]


def texts(name: str) -> list[dict[str, object]]:
    return json.loads((DATA / f"{name}.json").read_text("utf-8"))


def wanted(says: list[str]) -> set[Fact]:
    facts: set[Fact] = set()
    for said in says:
        if said.startswith(("digits=", "?")):
            continue
        kind, *rest = said.split()
        kind += "".join(f" {r}" for r in rest if r.startswith(tuple(f"{k}=" for k in _KEY)))
        facts.add((kind,))
        facts |= {(kind, r) for r in rest if not r.startswith(("@", *(f"{k}=" for k in _KEY)))}
    return facts


def found(sheet: RuleSheet) -> set[Fact]:
    facts: set[Fact] = set()
    for s in sheet.statements:
        kind = ("!" if s.negated else "") + s.kind + "".join(f" {k}={v}" for k, v in s.fields.items() if k in _KEY)
        facts.add((kind,))
        facts |= {(kind, f"{k}={str(v).lower()}") for k, v in s.fields.items() if k not in _KEY + _BESIDES}
    return facts


def score(items: list[dict[str, object]]) -> Score:
    right = wrong = missed = 0
    faults = []
    for item in items:
        text, says = str(item["text"]), list(item["says"])  # type: ignore[call-overload]
        sheet = read_rules(text)
        want, got = wanted(says), found(sheet)
        right, missed = right + len(want & got), missed + len(want - got)
        # A sentence may say a little more than the test asks for: `there are no boxes` beside rows and columns.
        extra = {f for f in got - want if f != ("!boxes",)}
        wrong += len(extra)
        ignored = any(s.startswith("?") for s in says) and not sheet.not_understood
        if extra or ignored:
            faults.append(f"{text!r}: {sorted(extra) or 'ignored'}")
    return Score(right, wrong, missed, tuple(faults))
