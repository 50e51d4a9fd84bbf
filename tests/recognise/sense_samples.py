"""The texts that the network of senses learns from, with their answers: `python -m tests.recognise.sense_samples OUT`.

Texts are what the tests hold, but for those that are for measuring. `data/rules/voices/*.jsonl` have the answers of
each sentence: the statements of `rules_score.py`, `?` for a rule of none of our kinds or one that does not hold as it
is told, `~` for the half of a rule that the sentence beside it completes.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from recognise.rules.opined import answers_of
from recognise.rules.opinion import RULE_OF_NO_KIND
from recognise.rules.reader import read_rules
from recognise.rules.words import sentences
from tests.recognise.opinion_maker import FRAMES, SETS
from tests.recognise.rules_score import DATA, found, said_in_frames, texts, wanted

HALF, DIGITS = "half", "digits"
VOICES = DATA / "voices"
FOR_MEASURING = ("held", "abroad", "contrary")
"""Files of voices that nothing learns from."""

Sample = dict[str, object]


def answers(said: Iterable[str]) -> list[str]:
    """The answers of statements as the data files write them."""
    return sorted({answer for one in said for answer in _answers(one)})


def _answers(said: str) -> Iterator[str]:
    if said.startswith("?"):
        yield RULE_OF_NO_KIND
    elif said == "~":
        yield HALF
    elif said.startswith("digits="):
        yield DIGITS
    else:
        kind, *rest = (part for part in said.split() if not part.startswith("@"))
        fields = dict(part.split("=", 1) for part in rest if "=" in part)
        yield from answers_of(kind.removeprefix("!"), fields, kind.startswith("!"))
        if "direction" in fields:
            yield f"{kind} {fields['direction']}"
        if "of" in fields:
            yield f"{kind} {fields['of']}"
        if fields.get("irregular") == "true":
            yield f"{kind} irregular"
        if fields.get("pill") == "true":
            yield f"{kind} pill"


def of_voices(names: Sequence[str]) -> Iterator[Sample]:
    """Texts whose sentences have their answers."""
    for name in names:
        for line in (VOICES / f"{name}.jsonl").read_text("utf-8").splitlines():
            text = json.loads(line)
            yield {
                "group": f"{name}: {text['voice']}",
                "parts": [[printed, answers(said)] for printed, said in text["parts"]],
            }


def of_sets(names: Sequence[str]) -> Iterator[Sample]:
    """Texts of which it is known what they state as a whole; of single sentences, and where the reader reads it right,
    of each sentence."""
    framed = [(f"frames {at // 40}", item) for at, item in enumerate(said_in_frames(FRAMES))]
    for group, item in [*framed, *((f"{n} {at // 40}", item) for n in names for at, item in enumerate(texts(n)))]:
        text, said = str(item["text"]), list(item["says"])  # type: ignore[call-overload]
        yield {"group": group} | _of_text(text, said)


def _of_text(text: str, said: list[str]) -> Sample:
    parts = [part.text for part in sentences(text)]
    told = answers(said)
    if len(parts) < 2:
        return {"parts": [[text, told]]}
    sheet = read_rules(text)
    if found(sheet) != wanted(said) or any(one.startswith("?") for one in said):
        return {"parts": [[part, None] for part in parts], "whole": [answer for answer in told if answer != DIGITS]}
    of_each = {part: {a for s in sheet.statements if s.sentence == part for a in _of_statement(s)} for part in parts}
    return {"parts": [[part, sorted(of_each[part])] for part in parts]}


def _of_statement(statement: object) -> list[str]:
    fields = {key: str(value).lower() for key, value in statement.fields.items()}  # type: ignore[attr-defined]
    told = " ".join(
        f"{key}={value}" for key, value in fields.items() if key in ("direction", "of", "irregular", "pill")
    )
    kind = statement.kind  # type: ignore[attr-defined]
    negated = statement.negated  # type: ignore[attr-defined]
    more = list(_answers(f"{'!' if negated else ''}{kind} {told}".strip())) if told else []
    return [*answers_of(kind, fields, negated), *more]


def main() -> None:
    """Writes all samples as JSON lines."""
    names = sorted(path.stem for path in VOICES.glob("*.jsonl") if path.stem not in FOR_MEASURING)
    made = [*of_voices(names), *of_sets(SETS)]
    Path(sys.argv[1]).write_text("".join(json.dumps(sample) + "\n" for sample in made), "utf-8")
    print(f"{len(made)} texts, {sum(len(sample['parts']) for sample in made)} sentences")  # type: ignore[misc,arg-type]


if __name__ == "__main__":
    main()
