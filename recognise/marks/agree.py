"""Two readings of lines, by the network and by the tracer of wide lines, to one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from recognise.evidence import Trace
from recognise.marks.beside import drawn_chance
from recognise.marks.diagonals import WIDTH, links_of_diagonals
from recognise.marks.line_questions import BULB_UNSEEN, LITTLE_INK
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.marks.traces import Lines, together
from schema.cells import Cell

BULB_ONCE = "its bulb was seen in one of two looks only"
BULB_ELSEWHERE = "a second look sees its bulb elsewhere"
ONE_BLIND = 0.3
"""Two that look at the same worn print err together oftener than by chance: the doubt that is left where both agree is
this part of the network's own."""

SURELY_NONE = 0.02
"""A line none of whose links is likelier than this is none."""

FAR_PALER = 0.25
"""Part of the darkness of a page's lines that its palest have: what shows through the paper of a page had a fifth."""

DIAGONAL = WIDTH + 0.06
"""In cells: the tracer finds what is drawn wider by its blur on both sides."""

Links = frozenset[frozenset[Cell]]


def agreed(lines: Lines, tubes: Sequence[Trace], chances: Chances, *, tubed: bool = True) -> tuple[Trace, ...]:
    """The network says what is a line and of which kind; where the tracer found the same links its measures are taken,
    for it sees the whole width of a tube. Where they disagree on a tube there is a question, and so for lines that the
    tracer alone sees, unless the network is sure that none is drawn: then their ink is left to be explained otherwise,
    or to be asked about."""
    by_links = {_links(trace): trace for trace in tubes}
    found = []
    for trace, kind in zip(lines.traces, lines.kinds, strict=True):
        partner = by_links.get(_links(trace))
        if partner is not None:
            found.append(_joined(trace, partner, kind, chances, tubed))
        elif kind == "TUBE" and any(_joins_otherwise(trace, other, chances) for other in tubes):
            found.append(replace(trace, ambiguous=(*trace.ambiguous, "a second look joins its cells otherwise")))
        else:
            found.append(trace)
    return (*found, *(_alone(trace, chances) for trace in seen_alone(lines, tubes, chances)))


def seen_alone(lines: Lines, tubes: Sequence[Trace], chances: Chances) -> list[Trace]:
    """The lines that the tracer alone sees, and that may be drawn. What is no wider than the long diagonals, runs along
    them only, and likelier is no line to the network, are the diagonals."""
    seen = lines.denied.union(*map(_links, lines.traces))
    alone = [trace for trace in tubes if not _links(trace) & seen and _possible(trace, chances)]
    narrow = [trace for trace in alone if trace.width <= DIAGONAL and not trace.discs]
    diagonals = links_of_diagonals(chances) if narrow else frozenset()
    of_diagonals = [t for t in narrow if _links(t) <= diagonals and _alone(t, chances).confidence < DRAWN]
    return [trace for trace in alone if trace not in of_diagonals]


def faded(alone: Sequence[Trace], traces: Sequence[Trace], chances: Chances) -> list[Trace]:
    """Of the lines that the tracer alone sees those that are print of the other side: far paler than the lines of the
    page, `traces`, and likelier none to the network."""
    plain = float(np.median([_darkness(trace) for trace in traces])) if traces else 0.0
    return [
        trace for trace in alone if _darkness(trace) < FAR_PALER * plain and _alone(trace, chances).confidence < DRAWN
    ]


def _darkness(trace: Trace) -> float:
    """How dark a line is in the channel in which it is darkest, 0 to 1."""
    return 1 - min(trace.colour) / 255


def _alone(trace: Trace, chances: Chances) -> Trace:
    """A line that the tracer alone saw: no surer than the network is of the likeliest of its links."""
    drawn = max(drawn_chance(chances.link(*sorted(link))) for link in _links(trace))
    words = "it was seen in one of two looks only"
    return replace(trace, confidence=min(trace.confidence, drawn), ambiguous=(*trace.ambiguous, words))


def _joined(trace: Trace, partner: Trace, kind: str, chances: Chances, tubed: bool) -> Trace:
    """A line that both saw: kind and circles by the network, measures by the tracer."""
    measured = {partner.nodes[node]: radius for node, radius in partner.discs}
    discs = tuple((node, measured.get(trace.nodes[node], radius)) for node, radius in trace.discs)
    ambiguous = trace.ambiguous
    if tubed and kind != "SHAFT" and not discs and len(measured) == 1:
        # On coarse print a bulb is measured where the network cannot tell it from the end of a line.
        discs = partner.discs
        ambiguous = (
            *(words for words in ambiguous if words != BULB_UNSEEN),
            BULB_ONCE,
        )
    if kind == "TUBE" and partner.outlined:
        # The tracer followed the inside of the tube from wall to wall, where the network's way may miss both.
        ambiguous = tuple(words for words in ambiguous if not words.startswith(LITTLE_INK))
    if kind == "TUBE" and len(discs) > 1:
        # A letter or digit may look like a bulb where a tube ends: of two, one of them unsure, the wider is measured.
        seen = tuple((node, radius) for node, radius in discs if trace.nodes[node] in measured)
        others = [trace.nodes[node] for node, _ in discs if trace.nodes[node] not in measured]
        if len(seen) == 1 and all(chances.node(cell, "BULB") < MIDDLING[1] for cell in others):
            discs = seen
    own = {trace.nodes[node] for node, _ in trace.discs}
    if kind == "TUBE" and own and measured and set(measured) != own:
        ambiguous = (*ambiguous, BULB_ELSEWHERE)
    # Where lines end in one cell, both looks part them by their colours.
    apart = together(slip.chance for slip in trace.slips if slip.first == slip.second)
    return replace(
        trace,
        colour=trace.colour if partner.outlined else partner.colour,
        width=partner.width,
        outlined=partner.outlined,
        discs=discs,
        where=partner.where,
        confidence=_both_see(trace.confidence / apart) * apart,
        extent=None if trace.extent is None else _both_see(trace.extent / apart) * apart,
        ambiguous=ambiguous,
    )


def _joins_otherwise(trace: Trace, other: Trace, chances: Chances) -> bool:
    """Whether another look at a line joins its cells otherwise, where the network is not sure: at sharp bends the
    tracer takes the inside of the bend for a step."""
    one, two = _links(trace), _links(other)
    drawn = [drawn_chance(chances.link(*sorted(link))) for link in one ^ two]
    return bool(one & two) and any(SURELY_NONE < chance < 1 - SURELY_NONE for chance in drawn)


def _both_see(sure: float) -> float:
    """How sure a line is that two looks see."""
    return 1 - ONE_BLIND * (1 - sure)


def _possible(trace: Trace, chances: Chances) -> bool:
    """Whether the network leaves room for a line."""
    drawn = [1 - chances.link(*sorted(link))["NONE"] - chances.link(*sorted(link))["CAPSULE"] for link in _links(trace)]
    return max(drawn) > SURELY_NONE


def _links(trace: Trace) -> Links:
    return frozenset(frozenset((trace.nodes[a], trace.nodes[b])) for a, b in trace.links)
