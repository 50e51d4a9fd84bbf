"""One query for each cause: what is to be asked of the meaning of many marks that look alike is asked once, and so is
one and the same question about two marks that meet."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Hashable
from dataclasses import replace

from recognise.draft import Doubt, Draft

_CELL = re.compile(r"r\d+c\d+")


def one_for_each_cause(draft: Draft) -> Draft:
    """The draft with doubts put together, at the first of their items: those about the meaning of several items in the
    same words, and those that ask the same of the same cells, in whichever order they name them. Other doubts about
    what stands on the page stay: each is looked at by itself."""
    alike: dict[Hashable, list[Doubt]] = defaultdict(list)
    for doubt in draft.doubts:
        if doubt.item is not None:
            alike[_cause(doubt)].append(doubt)
    together = {id(group[0]): _as_one(group) for group in alike.values() if len(group) > 1}
    gone = {id(doubt) for group in alike.values() for doubt in group[1:]}
    kept = (together.get(id(doubt), doubt) for doubt in draft.doubts if id(doubt) not in gone)
    return replace(draft, doubts=tuple(kept))


def _cause(doubt: Doubt) -> Hashable:
    """What doubts of one cause have in common."""
    if doubt.meaning:
        return doubt.why
    cells = _CELL.findall(doubt.why)
    return (_CELL.sub("", doubt.why), *sorted(cells)) if cells else id(doubt)


def _as_one(group: list[Doubt]) -> Doubt:
    first = group[0]
    items = tuple(dict.fromkeys(d.item for d in group[1:] if d.item is not None and d.item != first.item))
    return replace(first, also=items)
