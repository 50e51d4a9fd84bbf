"""Questions about the kind of a line, and in which cell its bulb sits, that the proof of the page answers.

Where every sentence is understood each line is of a kind that the page has, one way round or the other, and a tube
rises from one bulb, or is two tubes. A printed puzzle has one solution: where nothing of that leaves one but what was
read, it was printed so. Lines that look alike are one kind, and are tried together too: they are misread together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, pairwise, product

from checker.search import Effort
from recognise.doubt.kinds import along, line_of, other_kinds, way_of
from recognise.doubt.ways import proves
from recognise.draft import Doubt, Draft, Given, Value
from recognise.marks.agree import BULB_ELSEWHERE, BULB_ONCE
from recognise.marks.line_questions import BULB_UNSEEN, KIND_UNSURE, bulb_words
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.paths import path_of

SECONDS = 4.0
"""Of work, for all such questions of a page."""
MOST = 6
"""Lines in doubt that are tried together, each way round: of more, the style of the page is."""

SOMEWHERE = (BULB_ELSEWHERE, BULB_ONCE, BULB_UNSEEN)
"""Questions about a bulb that do not say where it may sit."""

Others = Mapping[int, Value]
"""What items state instead, by their place."""


def without_kinds(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about kinds of lines and about bulbs that the proof
    answers."""
    if not draft.all_told:
        return draft
    effort = Effort(SECONDS)
    asked: dict[int, list[Doubt]] = defaultdict(list)
    for doubt in draft.doubts:
        line = None if doubt.item is None else line_of(draft.items[doubt.item].value)
        if doubt.item is not None and line is not None and _is_asked(doubt, line):
            asked[doubt.item].append(doubt)
    refuted = {
        index
        for index, doubts in asked.items()
        if all(_is_refuted(draft, {index: other}, effort) for other in _alone(draft, index, doubts))
    }
    of_kind = (KIND_UNSURE, BULB_UNSEEN)
    unsure = [index for index, doubts in asked.items() if any(doubt.why in of_kind for doubt in doubts)]
    for alike in _by_kind(draft, unsure):
        if len(alike) > MOST or not all(_is_refuted(draft, others, effort) for others in _together(draft, alike)):
            refuted -= set(alike)
    for pair in combinations(unsure, 2):
        if not all(_is_refuted(draft, others, effort) for others in _exchanged(draft, pair)):
            refuted -= set(pair)
    answered = [doubt for index in sorted(refuted) for doubt in asked[index]]
    for doubt in draft.doubts:
        others = list(_with_bulb_elsewhere(draft, doubt))
        if others and all(
            _is_refuted(draft, {doubt.item: other}, effort) for other in others if doubt.item is not None
        ):
            answered.append(doubt)
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt not in answered))


def _is_asked(doubt: Doubt, line: Constraint) -> bool:
    """Whether it is such a question about a line."""
    return doubt.why in (KIND_UNSURE, *SOMEWHERE, *map(bulb_words, path_of(line)))


def _is_refuted(draft: Draft, others: Others, effort: Effort) -> bool:
    return effort.left > 0 and proves(draft, others, effort, impossible=0.0) == 0.0


def _alone(draft: Draft, index: int, doubts: Sequence[Doubt]) -> Iterator[Value]:
    """All else that a line may state."""
    line = line_of(draft.items[index].value)
    if line is None:
        return
    yield from ((other,) for other in dict.fromkeys(other_kinds(draft, line)))
    asked = {doubt.why for doubt in doubts}
    anywhere = not asked.isdisjoint(SOMEWHERE)
    tubes = [one for item in draft.items if (one := line_of(item.value)) is not None and one.marks[0] == "tube"]
    for tube in {one.kind: one.model_copy(update={"path": way_of(line)}) for one in tubes}.values():
        path = path_of(tube)
        for at, cell in enumerate(path):
            if anywhere or bulb_words(cell) in asked:
                yield from _as_two(tube, path[at::-1], path[at:])  # both rise from a bulb amidst it
            if bulb_words(cell) in asked:
                yield from _as_two(tube, path[:at], path[at:])


def _with_bulb_elsewhere(draft: Draft, doubt: Doubt) -> Iterator[Value]:
    """What a tube that parts into several states if a bulb sits in the cell that is asked about: it rises from there,
    or is parted somewhere between its two bulbs, neither of which is alone."""
    value = () if doubt.item is None else draft.items[doubt.item].value
    tubes = () if isinstance(value, Given) else value
    paths = [path_of(tube) for tube in tubes]
    if len(paths) < 2 or tubes[0].marks[0] != "tube" or any(path[:1] != paths[0][:1] for path in paths):
        return
    way = next((path for path in paths if path and doubt.why == bulb_words(path[-1])), ())
    steps = {frozenset(step) for path in paths for step in pairwise(path)}
    for cut in (None, *pairwise(way)) if way else ():
        roots = (way[-1],) if cut is None else (way[0], way[-1])
        left = steps - ({frozenset(cut)} if cut else set())
        found = [path for root in roots for path in _ways_from(root, left)]
        if all(len(path) > 1 for path in found):
            yield tuple(tubes[0].model_copy(update={"path": path}) for path in found)


def _ways_from(root: Cell, steps: Collection[frozenset[Cell]]) -> Iterator[tuple[Cell, ...]]:
    """The ways from a cell of a tree along its steps to each end."""
    onward = sorted(cell for step in steps if root in step for cell in step - {root})
    if not onward:
        yield (root,)
    for cell in onward:
        rest = [step for step in steps if root not in step]
        yield from ((root, *way) for way in _ways_from(cell, rest))


def _as_two(tube: Constraint, *paths: Sequence[Cell]) -> Iterator[Value]:
    """What a tube states that is two; nothing where one would be a bulb alone."""
    if all(len(path) > 1 for path in paths):
        yield tuple(tube.model_copy(update={"path": tuple(path)}) for path in paths)


def _by_kind(draft: Draft, items: Sequence[int]) -> Iterator[list[int]]:
    """Several lines in doubt that were taken for one kind."""
    found: dict[str, list[int]] = defaultdict(list)
    for index in items:
        line = line_of(draft.items[index].value)
        if line is not None:
            found[line.kind].append(index)
    yield from (alike for alike in found.values() if len(alike) > 1)


def _together(draft: Draft, items: Sequence[int]) -> Iterator[Others]:
    """What some lines of one kind state if they all are another kind of the page, each one way round or the other."""
    own = [line for index in items if (line := line_of(draft.items[index].value)) is not None]
    models = {line.kind: line for item in draft.items if (line := line_of(item.value)) is not None}
    for kind, model in models.items():
        for ways in _ways(own):
            made = [along(model, way) for way in ways]
            if kind != own[0].kind and None not in made:
                yield {index: (line,) for index, line in zip(items, made, strict=True) if line is not None}


def _exchanged(draft: Draft, pair: tuple[int, int]) -> Iterator[Others]:
    """What two lines of two kinds state if each is of the other's, one way round or the other."""
    own = [line for index in pair if (line := line_of(draft.items[index].value)) is not None]
    for ways in _ways(own) if len({line.kind for line in own}) > 1 else ():
        one, other = along(own[1], ways[0]), along(own[0], ways[1])
        if one is not None and other is not None:
            yield {pair[0]: (one,), pair[1]: (other,)}


def _ways(lines: Sequence[Constraint]) -> Iterator[tuple[tuple[Cell, ...], ...]]:
    """The cells of some lines, each one way round or the other."""
    return product(*((way_of(line), way_of(line)[::-1]) for line in lines))
