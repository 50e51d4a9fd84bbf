"""One query for each cause: what is to be asked of the meaning of many marks that look alike is asked once."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from recognise.draft import Doubt, Draft


def one_for_each_cause(draft: Draft) -> Draft:
    """The draft with doubts about the meaning of several items that are in the same words put together, at the first of
    these items. Doubts about what stands on the page stay: each is looked at by itself."""
    alike: dict[str, list[Doubt]] = defaultdict(list)
    for doubt in draft.doubts:
        if doubt.meaning and doubt.item is not None:
            alike[doubt.why].append(doubt)
    together = {id(group[0]): _as_one(group) for group in alike.values() if len(group) > 1}
    gone = {id(doubt) for group in alike.values() for doubt in group[1:]}
    kept = (together.get(id(doubt), doubt) for doubt in draft.doubts if id(doubt) not in gone)
    return replace(draft, doubts=tuple(kept))


def _as_one(group: list[Doubt]) -> Doubt:
    items = tuple(doubt.item for doubt in group[1:] if doubt.item is not None)
    return replace(group[0], why=f"{group[0].why} (the same goes for {len(items)} more)", also=items)
