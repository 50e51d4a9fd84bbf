"""Learns the second opinion of the rules' reader: `python -m tests.recognise.opinion_maker [LEAVE_OUT...]`.

Texts are what the tests hold, but for those that are for measuring; sets named are left out too, and the reader is then
scored on them: learn once more without names before committing.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from recognise.rules import opinion as second
from recognise.rules import reader
from recognise.rules.opined import answers_of, looked_at
from recognise.rules.opinion import RULE_OF_NO_KIND, WEIGHTS
from recognise.rules.reader import read_rules
from recognise.rules.sheet import Statement
from recognise.rules.words import sentences
from tests.recognise.rules_score import found, said_in_frames, score, texts, wanted

SETS = (
    *("tune", "sentences", "second", "third", "ordinary", "fourth_seen", "fifth_seen"),
    *("sixth", "seventh", "eighth", "ninth"),
)
FRAMES = 6
LEAST_SEEN = 2
"""Sentences that a feature has to stand in."""
RIDGE = 1.0
SMALLEST = 0.1
"""Weights below this are taken for none."""
STEPS = 127

Sample = tuple[frozenset[str], frozenset[str]]


def samples(sets: Sequence[str]) -> list[Sample]:
    """Each sentence: what is looked at, and its answers."""
    made: list[Sample] = []
    for item in [*said_in_frames(FRAMES), *(item for name in sets for item in texts(name))]:
        text, says = str(item["text"]), list(item["says"])  # type: ignore[call-overload]
        made += _of_text(text, says)
    return made


def _of_text(text: str, says: list[str]) -> list[Sample]:
    parts, sheet, want = sentences(text), read_rules(text), wanted(says)
    strange = any(s.startswith("?") for s in says)
    if len(parts) > 1 and not strange and want and found(sheet) == want:
        return [
            (
                looked_at([part.text]),
                frozenset(_all_answers(s for s in sheet.statements if s.sentence == part.text)),
            )
            for part in parts
        ]
    seen = looked_at(part.text for part in parts)
    kinds = frozenset(answer for said in says if not said.startswith(("digits=", "?")) for answer in _answers(said))
    return [(seen, kinds | ({RULE_OF_NO_KIND} if strange else set()))]


def _all_answers(statements: Iterable[Statement]) -> list[str]:
    return [answer for s in statements for answer in answers_of(s.kind, s.fields, s.negated)]


def _answers(said: str) -> list[str]:
    kind, *rest = (part for part in said.split() if not part.startswith("@"))
    fields = dict(part.split("=") for part in rest if "=" in part)
    return answers_of(kind.removeprefix("!"), fields, kind.startswith("!"))


def learn(made: Sequence[Sample]) -> tuple[list[str], list[str], NDArray[np.float64]]:
    """Features, answers, and weights (features x answers, the last row is what each answer has without any feature)."""
    counts = Counter(name for seen, _ in made for name in seen)
    names = sorted(name for name, count in counts.items() if count >= LEAST_SEEN)
    answers = sorted({answer for _, told in made for answer in told})
    places = {name: at for at, name in enumerate(names)}
    cells = [(row, places[name]) for row, (seen, _) in enumerate(made) for name in seen if name in places]
    seen = csr_matrix((np.ones(len(cells)), np.transpose(cells)), shape=(len(made), len(names)))
    weights = np.zeros((len(names) + 1, len(answers)))
    for at, answer in enumerate(answers):
        told = np.array([float(answer in answers_told) for _, answers_told in made])
        weights[:, at] = minimize(_loss, weights[:, at], (seen, told), "L-BFGS-B", jac=True, options={"maxiter": 80}).x
    return names, answers, weights


def _loss(
    weights: NDArray[np.float64], seen: csr_matrix, told: NDArray[np.float64]
) -> tuple[float, NDArray[np.float64]]:
    score = seen @ weights[:-1] + weights[-1]
    off = 1 / (1 + np.exp(-score)) - told
    slope = np.append(seen.T @ off + RIDGE * weights[:-1], off.sum())
    return float((np.logaddexp(0, score) - told * score).sum() + RIDGE / 2 * (weights[:-1] ** 2).sum()), slope


def write(names: Sequence[str], answers: Sequence[str], weights: NDArray[np.float64]) -> None:
    """Keeps what was learnt as eighths of bytes do: small weights are none, the others whole steps."""
    step = np.abs(weights).max() / STEPS
    kept = np.where(np.abs(weights) < SMALLEST, 0, np.round(weights / step)).astype(np.int8)
    used = np.append(kept[:-1].any(axis=1), True)
    told = "\n".join(name for name, keep in zip(names, used, strict=False) if keep)
    np.savez_compressed(WEIGHTS, features=told, answers="\n".join(answers), weights=kept[used], step=step)


def main() -> None:
    """Learns from all sets but those named, and says what the reader makes of the sets named with it."""
    left_out = sys.argv[1:]
    with patch.object(reader, "found_in", return_value=[]):
        made = samples([name for name in SETS if name not in left_out])
    write(*learn(made))
    second._learnt.cache_clear()
    print(f"{len(made)} sentences, {WEIGHTS.stat().st_size} bytes")
    for name in left_out:
        result = score(texts(name))
        print(f"{name}: {result.right} right, {result.missed} missed, {result.wrong} wrong")


if __name__ == "__main__":
    main()
