"""The colours of lines that a picture shows on tinted cells.

A picture's colours are told relative to the ground around, as is right for an ink that lets the tint shine through.
Most lines are opaque, and the tint's own colour is then taken out of one that never was in it: orange on yellow looks
red. Lines of the same page that run on bare paper tell which of the two it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from ingest.page import Colour
from recognise.evidence import Tint, Trace
from recognise.interpret.colours import SAME, apart
from schema.cells import Cell

MOSTLY = 0.5
"""The part of a line's cells that are tinted alike, from which on most of it shows its colour on the tint."""


def in_own_colour(traces: Sequence[Trace], tints: Sequence[Tint]) -> list[Trace]:
    """The lines, each that is seen on a tint in the colour of one on paper where it has that as an opaque line, and
    has none of a line on paper as a translucent one."""
    shades = {tint.cell: tint.colour for tint in tints}
    grounds = [_ground(trace, shades) if trace.how == "shape" else None for trace in traces]
    on_paper = [trace.colour for trace, ground in zip(traces, grounds, strict=True) if ground is None]

    def own(trace: Trace, ground: Colour) -> Colour:
        opaque = tuple(round(a * b / 255) for a, b in zip(trace.colour, ground, strict=True))
        if any(apart(trace.colour, other) <= SAME for other in on_paper):
            return trace.colour
        near = [other for other in on_paper if apart((opaque[0], opaque[1], opaque[2]), other) <= SAME]
        return near[0] if near else trace.colour

    return [
        trace if ground is None else replace(trace, colour=own(trace, ground))
        for trace, ground in zip(traces, grounds, strict=True)
    ]


def _ground(trace: Trace, shades: dict[Cell, Colour]) -> Colour | None:
    """The colour of the tint that most of a line's cells have; None for a line on paper."""
    under = [shades[cell] for cell in trace.nodes if cell in shades]
    if len(under) < MOSTLY * len(trace.nodes) or not under:
        return None
    red, green, blue = (round(median(channel)) for channel in zip(*under, strict=True))
    return red, green, blue
