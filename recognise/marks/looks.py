"""What the ink of a step says beside the network: a second look at lines that does not know what the first one saw.

Counted on links between cells of 2,139 worn samples of the training half that trained nothing
(`python -m fixtures.training.measure_links DATA`), with no capsule at their ends; `told` is what the network's doubts
add up to there:

    drawn, at 0.8 or more, in ink all along, clear of noise, and as wide and of the colour of a step before it or after
        it: 19 of 15,803 are not there (told 60.8), most of them creases of the paper
    not drawn, at 0.03 or less, and hardly any ink on the way: 19 of 73,699 are there (told 53.7)
    not drawn, at 0.03 or less, and ink on nearly all of the way: 43 of 4,910 are there (told 12.4)
"""

from __future__ import annotations

from collections.abc import Iterable

from recognise.marks.lines import DRAWN, KINDS, Step
from recognise.marks.network import Chances
from recognise.marks.strokes import Stroke
from schema.cells import Cell

WHOLE = 0.98
"""Part of a step's way that has ink where it is drawn all along."""
LIKE, ALIKE = 0.1, 1.4
"""How far the colours of two steps of one line are apart at most, and how many times as wide one is as the other."""
BARE = 0.3
"""Part of a way that may have ink, of lattice lines and what stands beside it, where nothing is drawn."""
COVERED = 0.85
"""Part of a way from which on ink speaks against the network, where that sees nothing drawn."""
SHOWN, UNSEEN, AGAINST = 0.35, 0.4, 3.0
"""What becomes of the network's doubt where ink shows a step, where it shows none, and where it shows what the network
takes for none, as parts of it."""
CAPSULE = 0.5
"""From here on a step ends in a capsule, which hides how it goes on."""


def drawn_doubt(step: Step, others: Iterable[Step], chances: Chances) -> float:
    """How likely a step is not drawn that the network takes for drawn, of `others` of its line."""
    hidden = max(chances.node(cell, "CAPSULE") for cell in (step.first, step.second)) > CAPSULE
    return (1 - step.drawn) * (SHOWN if is_shown(step, others) and not hidden else 1.0)


def is_shown(step: Step, others: Iterable[Step]) -> bool:
    """Whether ink shows a step by itself: all along, and like a step that it meets."""
    whole = step.stroke.inked >= WHOLE and step.stroke.strong
    return whole and any(_alike(step, other) for other in others)


def _alike(one: Step, other: Step) -> bool:
    """Whether two steps meet and are of one look."""
    meet = {one.first, one.second} & {other.first, other.second}
    narrow, wide = sorted((one.stroke.width, other.stroke.width))
    return other is not one and bool(meet) and one.stroke.differs(other.stroke) < LIKE and wide < ALIKE * narrow


def missed_doubt(one: Cell, other: Cell, stroke: Stroke, chances: Chances) -> float:
    """How likely a step between two cells is drawn all the same that the network takes for none. On a diagonal of the
    grid its ink says nothing."""
    chance = sum(chances.link(one, other)[name] for name in KINDS)
    if stroke.inked < BARE:
        return chance * UNSEEN
    on_diagonal = any(min(chances.node(cell, name) for cell in (one, other)) > DRAWN for name in ("DOWN", "UP"))
    return min(0.5, chance * AGAINST) if stroke.inked >= COVERED and not on_diagonal else chance
