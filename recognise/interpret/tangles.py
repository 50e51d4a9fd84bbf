"""Lines whose drawing can be followed in several ways: a tube that comes back to itself, lines that share cells.

A reading covers every drawn piece exactly once. From a bulb it is a way for digits to rise: each piece gets a
direction, the bulb alone is where all begins, and nothing goes round in circles. Lines without a bulb are taken apart
at each cell: which of the pieces that meet there go on into each other, and which end."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise, product

from recognise.draft import Item, Reading, Undecided
from recognise.evidence import Trace
from recognise.interpret.lines import line_shape, trace_polygon
from recognise.interpret.making import Making
from recognise.interpret.mark import Left
from recognise.interpret.meaning import meaning_of
from recognise.support import claims as trace_claims
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.kinds.unread_mark import UnreadMark
from schema.marks import Family, Seen

MOST_READINGS = 24
"""More than these are no help to a person, and take the checker too long."""
MOST_LOOSE = 12
"""So many pieces of loops are given directions."""
MOST_WAYS = 2**MOST_LOOSE
"""So many ways through a tangle are gone at most, each piece in two directions."""

Link = tuple[int, int]
Path = tuple[Cell, ...]
Paths = tuple[Path, ...]


def take_tangles(making: Making, left: Left) -> None:
    """Take the lines that can be followed in several ways, with all of them, for the checker to try; those for which
    the rules mean nothing stay."""
    kept = []
    for trace in left.traces:
        family, options = ways(trace) if not trace.heads else ("line", [])
        readings = _readings(making, trace, family, options)
        if readings:
            _leave_open(making, trace, _seen(family, options[0], trace), readings)
        else:
            kept.append(trace)
    left.traces = kept


def _readings(making: Making, trace: Trace, family: Family, options: Sequence[Paths]) -> list[Reading]:
    found: list[tuple[Paths, tuple[Constraint, ...]]] = []
    for paths in options:
        seens = _seen(family, paths, trace)
        meanings = [meaning_of(seen, making.sheet, making.house) for seen in seens]
        if not all(meaning.constraints for meaning in meanings):
            return []
        found.append((paths, tuple(c for meaning in meanings for c in meaning.constraints)))
    return [Reading(_name(paths), (stated,)) for paths, stated in found]


def _seen(family: Family, paths: Paths, trace: Trace) -> list[Seen]:
    shape = line_shape(trace)
    if family == "tube":
        return [Seen(family, paths=paths, shape=shape)]
    return [Seen(family, paths=(path,), shape=shape) for path in paths]


def _leave_open(making: Making, trace: Trace, lines: Sequence[Seen], readings: Sequence[Reading]) -> None:
    for seen in lines:
        making.meaning(seen)  # its sentences are accounted for
    where = trace_polygon(trace)
    unread = UnreadMark(shape="line", cells=trace.nodes)
    making.add(Item((unread,), where, trace.confidence, trace.how, claims=trace_claims(trace)))
    looks = f"a line at {', '.join(map(str, trace.nodes[:4]))}"
    question = f"{looks} can be followed in more than one way: {', or '.join(r.name for r in readings)}"
    making.ask(Undecided(looks, (len(making.items) - 1,), tuple(readings), question), where)


def _name(paths: Paths) -> str:
    return " and ".join("-".join(map(str, path)) for path in paths)


def ways(trace: Trace) -> tuple[Family, list[Paths]]:
    """What kind of line a trace is and every way to follow it, as paths; none where it is nothing of the sort, or where
    there are too many."""
    discs = {node for node, _ in trace.discs}
    if len(discs) == 1:
        (root,) = discs
        return "tube", _within_reason(_rising(trace, root))
    return ("ringed-line" if discs else "line"), _within_reason(_taken_apart(trace, discs))


def _within_reason(found: Iterator[Paths]) -> list[Paths]:
    options = list(dict.fromkeys(found))
    return options if len(options) <= MOST_READINGS else []


def _rising(trace: Trace, root: int) -> Iterator[Paths]:
    """The ways in which digits may rise from a bulb: directions of all links without a circle and without another cell
    where something begins."""
    links = [_sorted(link) for link in trace.links]
    loose = [link for link in links if not _is_bridge(link, links)]
    if len(loose) > MOST_LOOSE:
        return
    for turns in product((False, True), repeat=len(loose)):
        turned = {link for link, turn in zip(loose, turns, strict=True) if turn}
        onward: dict[int, list[int]] = {node: [] for node in range(len(trace.nodes))}
        for a, b in _directed(links, loose, turned, root):
            onward[a].append(b)
        entered = {b for after in onward.values() for b in after}
        if root in entered or len(entered) != len(trace.nodes) - 1 or _goes_round(onward, root):
            continue
        yield tuple(tuple(trace.nodes[node] for node in path) for path in _to_tips(onward, (root,)))


def _sorted(link: Link) -> Link:
    return min(link), max(link)


def _is_bridge(link: Link, links: Sequence[Link]) -> bool:
    """Whether without a link its two ends no longer hang together."""
    rest = [other for other in links if other != link]
    return link[1] not in _reached(link[0], rest)


def _reached(start: int, links: Sequence[Link]) -> set[int]:
    reached, fresh = {start}, [start]
    while fresh:
        node = fresh.pop()
        beside = {b if a == node else a for a, b in links if node in (a, b)} - reached
        reached |= beside
        fresh += beside
    return reached


def _directed(links: Sequence[Link], loose: Sequence[Link], turned: set[Link], root: int) -> Iterator[Link]:
    """Every link from its first to its second node: those of no loop lead away from the bulb."""
    for link in links:
        if link in loose:
            yield link[::-1] if link in turned else link
        else:
            near = _reached(root, [other for other in links if other != link])
            yield link if link[0] in near else link[::-1]


def _goes_round(onward: dict[int, list[int]], root: int) -> bool:
    """Whether some way never ends."""
    left = {node: sum(node in after for after in onward.values()) for node in onward}
    fresh, done = [root], 0
    while fresh:
        node = fresh.pop()
        done += 1
        for after in onward[node]:
            left[after] -= 1
            if left[after] == 0:
                fresh.append(after)
    return done < len(onward)


def _to_tips(onward: dict[int, list[int]], path: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    if not onward[path[-1]]:
        yield path
    for node in sorted(onward[path[-1]]):
        yield from _to_tips(onward, (*path, node))


Pairing = tuple[tuple[Link, ...], ...]
"""The links that meet at a node in groups: two that go on into each other, or one that ends."""


def _taken_apart(trace: Trace, rings: set[int]) -> Iterator[Paths]:
    """The lines that several together may be: as few ends as can be, and where rings stand an end at each of them and
    nowhere else."""
    links = [_sorted(link) for link in trace.links]
    at = [[link for link in links if node in link] for node in range(len(trace.nodes))]
    options = [list(_pairings(meeting, node in rings, bool(rings))) for node, meeting in enumerate(at)]
    if math.prod(map(len, options)) > MOST_WAYS:
        return
    for chosen in product(*options):
        paths = list(_followed(links, chosen))
        if sum(len(path) - 1 for path in paths) == len(links) and all(len(set(p)) == len(p) for p in paths):
            yield tuple(sorted(_from_first(tuple(trace.nodes[node] for node in path)) for path in paths))


def _from_first(path: Path) -> Path:
    return min(path, path[::-1])


def _pairings(links: Sequence[Link], ringed: bool, rings: bool) -> Iterator[Pairing]:
    """How links that meet may go on: by twos, and one that ends where their number is odd; at a ring one ends at least,
    two where their number is even."""
    ends = (2 - len(links) % 2 if ringed else 0) if rings else len(links) % 2
    yield from _paired(tuple(links), ends)


def _paired(links: tuple[Link, ...], ends: int) -> Iterator[Pairing]:
    if not links:
        if not ends:
            yield ()
        return
    first, rest = links[0], links[1:]
    if ends:
        yield from (((first,), *others) for others in _paired(rest, ends - 1))
    for place, other in enumerate(rest):
        for others in _paired((*rest[:place], *rest[place + 1 :]), ends):
            yield ((first, other), *others)


def _followed(links: Sequence[Link], chosen: Sequence[Pairing]) -> Iterator[tuple[int, ...]]:
    """The nodes of each line, from end to end, of which each is given once; what closes on itself is left out."""
    after = {(node, link): group for node, groups in enumerate(chosen) for group in groups for link in group}
    begun = [(node, link) for (node, link), group in after.items() if len(group) == 1]
    done: set[Link] = set()
    for node, link in begun:
        if link not in done:
            path = tuple(_along(node, link, after))
            done |= {_sorted(pair) for pair in pairwise(path)}
            yield path


def _along(node: int, link: Link, after: dict[tuple[int, Link], tuple[Link, ...]]) -> Iterator[int]:
    """The nodes from an end of a line to its other end; `after` has what goes on into what."""
    group: tuple[Link, ...] = (link, link)
    yield node
    while len(group) == 2:
        node = link[1] if link[0] == node else link[0]
        yield node
        group = after[node, link]
        link = group[-1] if group[0] == link else group[0]
