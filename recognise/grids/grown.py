"""Boxes of any shapes, grown from cells by what parts them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
"""Ink between neighbours, NaN where a mark hides it: `down` (rows - 1, columns), `right` (rows, columns - 1)."""
Labels = npt.NDArray[np.intp]
"""The box that each cell is in, (rows, columns)."""
Pair = tuple[int, int]

HARDLY = 1e-3
"""How much an edge counts that a mark hides, next to one that is seen."""
MOST_WAYS = 4
"""So many ways at most are told of in which hidden lines may run."""
MOST_PARTS = 36
"""Into more parts than this only print so bad falls apart that nobody could say how they belong together."""


def agglomerated(down: Array, right: Array, size: int) -> Labels | None:
    """Boxes of `size` cells grown by joining, again and again, the two neighbours that the least ink on average parts
    (average linkage), never beyond `size`: one worn edge does not open a box. An edge that a mark hides (NaN) counts as
    middling and hardly at all. None where cells are left over."""
    rows, columns = right.shape[0], down.shape[1]
    labels = np.arange(rows * columns).reshape(rows, columns)
    seen = np.concatenate([down[~np.isnan(down)], right[~np.isnan(right)], [1e-4]])
    middling = float(np.sqrt(max(seen.min(), 1e-4) * seen.max()))
    ink: dict[tuple[int, int], tuple[float, float]] = {}
    for value, one, other in _neighbours(down, right, labels):
        hidden = np.isnan(value)
        ink[min(one, other), max(one, other)] = (middling * HARDLY, HARDLY) if hidden else (value, 1.0)
    counts = dict.fromkeys(range(rows * columns), 1)
    while ink:
        pair = min(ink, key=lambda key: (ink[key][0] / ink[key][1], key))
        del ink[pair]
        if counts[pair[0]] + counts[pair[1]] > size:
            continue
        _join(pair, ink, counts, labels)
    return labels if set(counts.values()) == {size} else None


def _join(
    pair: tuple[int, int], ink: dict[tuple[int, int], tuple[float, float]], counts: dict[int, int], labels: Labels
) -> None:
    kept, gone = pair
    counts[kept] += counts.pop(gone)
    labels[labels == gone] = kept
    for key in [key for key in ink if gone in key]:
        other = key[0] if key[1] == gone else key[1]
        total, edges = ink.pop(key)
        new = min(kept, other), max(kept, other)
        before = ink.get(new, (0.0, 0.0))
        ink[new] = (before[0] + total, before[1] + edges)


def _neighbours(down: Array, right: Array, labels: Labels) -> Iterator[tuple[float, int, int]]:
    for (row, column), value in np.ndenumerate(down):
        yield float(value), int(labels[row, column]), int(labels[row + 1, column])
    for (row, column), value in np.ndenumerate(right):
        yield float(value), int(labels[row, column]), int(labels[row, column + 1])


def completed(down: Array, right: Array, limit: float, size: int) -> list[Labels]:
    """Every way, up to MOST_WAYS, to put cells together to boxes of `size` cells: what the thin lines (ink below
    `limit`) that are seen join stays together, what thick ones part stays apart, and the hidden ones may be either."""
    parts = connected(down < limit, right < limit)
    counts = dict(zip(*(values.tolist() for values in np.unique(parts, return_counts=True)), strict=True))
    if len(counts) > MOST_PARTS:
        return []
    joined: dict[int, set[int]] = {part: set() for part in counts}
    parted: set[Pair] = set()
    for value, one, other in _neighbours(down, right, parts):
        if np.isnan(value) and one != other:
            joined[one].add(other)
            joined[other].add(one)
        elif value >= limit:
            parted |= {(one, other), (other, one)}
    if any(one == other for one, other in parted):
        return []
    found: list[Labels] = []
    for groups in _covers(frozenset(counts), counts, joined, parted, size):
        labels = parts.copy()
        for group in groups:
            labels[np.isin(parts, list(group))] = min(group)
        found.append(labels)
        if len(found) == MOST_WAYS:
            break
    return found


def _covers(
    left: frozenset[int], counts: Mapping[int, int], joined: Mapping[int, set[int]], parted: set[Pair], size: int
) -> Iterator[list[frozenset[int]]]:
    """Every way to put the parts that are left together to boxes."""
    if not left:
        yield []
        return
    for group in _boxes_with(min(left), left, counts, joined, parted, size):
        for rest in _covers(left - group, counts, joined, parted, size):
            yield [group, *rest]


def _boxes_with(
    part: int,
    left: frozenset[int],
    counts: Mapping[int, int],
    joined: Mapping[int, set[int]],
    parted: set[Pair],
    size: int,
) -> Iterator[frozenset[int]]:
    """Every box of `size` cells that holds a part and others that are left."""
    growing, known = [frozenset([part])], set()
    while growing:
        group = growing.pop()
        if group in known:
            continue
        known.add(group)
        held = sum(counts[member] for member in group)
        if held == size:
            yield group
        elif held < size:
            near = {other for member in group for other in joined[member]} & left - group
            growing += [group | {n} for n in near if not any((n, member) in parted for member in group)]


def connected(down: npt.NDArray[np.bool_], right: npt.NDArray[np.bool_]) -> Labels:
    """Labels of the cells that open edges join."""
    labels = np.arange(right.shape[0] * down.shape[1]).reshape(right.shape[0], down.shape[1])
    before = None
    while before is None or (before != labels).any():
        before = labels.copy()
        for one, other, is_open in (
            (labels[:-1], labels[1:], down),
            (labels[:, :-1], labels[:, 1:], right),
        ):
            least = np.minimum(one, other)
            one[is_open] = least[is_open]
            other[is_open] = np.minimum(one, other)[is_open]
    return np.asarray(labels, np.intp)
