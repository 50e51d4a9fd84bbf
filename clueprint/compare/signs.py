"""How a finding is shown on paper and screen: a number, a word, a colour and a line of its own, never colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from clueprint.compare.result import Finding


@dataclass(frozen=True, slots=True)
class Sign:
    """`word` is what stands beside the number, `colour` `#rrggbb`, `dash` lengths of dash and gap in line widths."""

    word: str
    colour: str
    dash: tuple[float, ...] = ()

    @property
    def rgb(self) -> tuple[int, int, int]:
        """The colour, 0 to 255."""
        red, green, blue = (int(self.colour[n : n + 2], 16) for n in (1, 3, 5))
        return red, green, blue


MISSING = Sign("missing", "#9c1458", (4, 2))
EXTRA = Sign("extra", "#a34a00")
CHANGED = Sign("changed", "#0b4f9e")
LOOK = Sign("look at", "#3d5a3a", (1, 2))
"""All four have a contrast of 5 to 1 or more against white (WCAG 2.2 asks for 4.5 to 1 for text)."""

_BY_CHANGE = {"missing": MISSING, "extra": EXTRA, "changed": CHANGED}


def sign_of(finding: Finding) -> Sign:
    """The sign of a finding: what a person only has to look at has one of its own."""
    return _BY_CHANGE[finding.change] if finding.sure and finding.change is not None else LOOK
