"""Many differences of one sort on a picture speak for a reader that fails on it, and not for the press."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from clueprint.compare.held import Held
from clueprint.compare.result import Finding
from clueprint.compare.source import marks_of

FEWEST, SHARE = 3, 0.25
"""So many differences among the items of one kind, and this part of them, are more than a press gets wrong."""


def in_measure(held: Held, findings: Sequence[Finding]) -> list[Finding]:
    """The findings; where characters are read by their looks, those of kinds of which too many differ, surely or
    perhaps, are for a person."""
    if held.by_text:
        return list(findings)
    counts = Counter(_kind(held, finding) for finding in findings)
    totals = Counter(constraint.kind for constraint in marks_of(held.source))
    totals["given"] = len(held.source.givens)
    found = []
    for finding in findings:
        kind = _kind(held, finding)
        too_many = counts[kind] >= FEWEST and counts[kind] > SHARE * totals[kind]
        if finding.sure and too_many and kind:
            why = f"{finding.why}; so many of its kind differ that it may be misread"
            finding = replace(finding, why=why, sure=False)  # noqa: PLW2901
        found.append(finding)
    return found


def _kind(held: Held, finding: Finding) -> str:
    """The kind of item that a finding is about; empty for the grid, its boxes and its words."""
    _, *steps = (finding.item or "").split("/")
    if steps[:1] == ["givens"]:
        return "given"
    if steps[:1] == ["constraints"]:
        kind = held.source.constraints[int(steps[1])].kind
        return "" if kind == "boxes" else kind
    if finding.item is None:
        return "given" if isinstance(finding.found, int) else str((finding.found or {}).get("kind", ""))
    return ""
