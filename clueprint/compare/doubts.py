"""Which doubts of the reading are left once the source is known.

A doubt may be dropped only where no other reading of the evidence would differ from the source:

- What a mark means, which digits the grid has, whether it has boxes: dropped. The source says it, and the words of the
  rules are compared as words.
- How a line runs that can be followed in several ways: dropped where one of them is the source's. All are the same ink.
- A sentence of the rules that is not understood: dropped where the source has a rules text. Word for word it is the
  same, or else that is a difference.
- What stands somewhere (characters, ends, colours, ink that nothing explains, two readers that disagree): kept.
- An item was hard to read: kept for the least sure items, until the chance that a misprint hides behind what was read
  as in the source is under 1 in 1000.
- Several solutions, or none: no doubt here, but a note beside the differences.
"""

from __future__ import annotations

from collections.abc import Iterator

from clueprint.compare.printed import Printed
from clueprint.compare.result import Finding
from recognise.asked import asked
from recognise.doubt.policy import RISK
from recognise.draft import Doubt, Given
from schema.pointers import given_pointer
from schema.puzzle import Puzzle

MISPRINTS = 0.02
"""Of the items of a proof, how many are printed otherwise than in the source, at the most. An item that was misread
into just what the source has is a misprint that nobody sees: its chance is this times the chance of misreading."""


def queries(proof: Printed, source: Puzzle) -> Iterator[Finding]:
    """What a person must look at besides the findings; items of which a finding speaks are left out."""
    if proof.grid.fault is not None:
        yield _query(proof, Doubt(proof.grid.fault), source)
    for doubt in proof.draft.doubts:
        told = doubt.item is not None and (doubt.item in proof.told or doubt not in proof.doubts.get(doubt.item, ()))
        if not doubt.meaning and not told:
            yield _query(proof, doubt, source)
    for index in hard_to_read(proof):
        yield _query(proof, Doubt("it was hard to read", item=index), source)


def hard_to_read(proof: Printed) -> list[int]:
    """The least sure items that nothing else speaks of, until the rest carries less than the risk."""
    open_items = [i for i in range(len(proof.draft.items)) if i not in proof.told and i not in proof.doubts]
    chances = {i: (1 - proof.item(i).confidence) * MISPRINTS for i in open_items if proof.item(i).where is not None}
    rest = sum(chances.values())
    asked = []
    for index in sorted(chances, key=lambda i: -chances[i]):
        if rest < RISK:
            break
        asked.append(index)
        rest -= chances[index]
    return asked


def _query(proof: Printed, doubt: Doubt, source: Puzzle) -> Finding:
    where, pointer = doubt.where, None
    if doubt.item is not None:
        item = proof.item(doubt.item)
        where = where or item.where
        if isinstance(item.value, Given) and item.value.cell in source.givens:
            pointer = given_pointer(item.value.cell)
    on_page = None if where is None else proof.grid.on_page(where)
    return Finding(asked(proof.draft, doubt), pointer, page=proof.grid.page.number, where=on_page, sure=False)
