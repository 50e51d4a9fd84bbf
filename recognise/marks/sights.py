"""What a mark on an edge or in a cell is, where the network sees one: by the network, by its figure, by the rules."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ingest.page import Point
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.shades import DARK, ground
from recognise.marks.silhouette import together
from recognise.marks.spoken import CELL_LOOKS, EDGE_LOOKS, Spoken
from schema.cells import Cell

DOT = (0.03, 0.26)
"""In cells: radius of a dot between cells."""
WITHIN_RIM = 0.8
"""As a part of its radius: a light dot is light within it, for its rim is seldom as thick as a quarter of that."""
SQUARE_ON_EDGE = "SQUARE"
"""A small square, which the network takes for other small marks when it is worn."""
SIZES = (0.05, 0.34)
"""In cells: how far a dot, square, diamond or bar on an edge reaches from its middle."""
FIGURES = {"white dot": "circle", "dark dot": "circle", "bar": "bar", "diamond": "diamond", "square": "square"}
"""The figure of each look; characters and signs have none."""
NO_FIGURE = 0.3
"""How well any figure goes with a mark that has none of its own."""
UNKNOWN, UNMEASURED = 0.3, 0.05
"""The part of what the network says of other classes that counts for a square where the rules speak of none of them and
of squares, where a figure was measured, and where none was."""


IN_CELL = (0.2, 0.48)
"""In cells: how far a circle, square or diamond in a cell reaches from its middle."""
CELL_FIGURES = {"CIRCLE": "circle", "SQUARE": "square", "DIAMOND": "diamond"}
"""The figure of each class of mark in cells, and of diamonds, which the network takes for marks of no kind."""


@dataclass(frozen=True, slots=True)
class Sight:
    """A place at which the network sees a mark: its middle, the plane of its edge, the chance of each class."""

    place: Point
    plane: int
    told: Mapping[str, float]

    def in_light_of(self, spoken: Spoken) -> Sight:
        """The same where rules speak of nothing on edges: something there is as rare as what no rule speaks of."""
        if not (spoken.speaks and spoken.no_edges):
            return self
        none = self.told["NONE"]
        some = (1 - none) * spoken.unspoken
        share = some / (none + some) / max(1 - none, 1e-12)
        told = {name: chance * share for name, chance in self.told.items()}
        return replace(self, told=told | {"NONE": none / (none + some)})

    @property
    def likeliest(self) -> str:
        """The class that the network holds likeliest."""
        return max(self.told, key=lambda name: self.told[name])

    @property
    def along(self) -> float:
        """The direction of the lattice line under it, in radians."""
        return math.pi / 2 if self.plane == 0 else 0.0


def named(sights: Sequence[Sight], looking: Looking, spoken: Spoken) -> list[tuple[str, float]]:
    """The class of each mark with its probability. Where the network sees what no rule speaks of, its figure is
    measured: marks that the network takes for the same are one kind, and are measured together."""
    unspoken = [s for s in sights if spoken.edges and EDGE_LOOKS[s.likeliest] not in spoken.edges]
    figures = {
        name: together([looking.figure_at(s.place, SIZES, s.along) for s in unspoken if s.likeliest == name])
        for name in dict.fromkeys(s.likeliest for s in unspoken)
    }
    called = [_named(sight, spoken, figures.get(sight.likeliest)) for sight in sights]
    for at, (name, chance) in enumerate(called):
        if name == "WHITE_DOT" and chance < MIDDLING[1] and _is_dark(sights[at].place, looking):
            called[at] = "DARK_DOT", chance
    return called


def _is_dark(place: Point, looking: Looking) -> bool:
    """Whether a dot is dark beside what stands on it: a light number covers most of a small one, which the network may
    then take for a light one. It stays in doubt."""
    found = looking.round_at(place, DOT)
    return found is not None and sum(ground(place, WITHIN_RIM * found.radius, looking)) < 3 * DARK


def _named(sight: Sight, spoken: Spoken, figure: Mapping[str, float] | None) -> tuple[str, float]:
    """The likeliest class, and its probability; how likely there is a mark at all stays."""
    if not spoken.edges:
        return sight.likeliest, sight.told[sight.likeliest]
    some = 1 - sight.told["NONE"]
    shares = {name: chance for name, chance in sight.told.items() if name != "NONE"}
    if EDGE_LOOKS[sight.likeliest] not in spoken.edges and "square" in spoken.edges:
        shares[SQUARE_ON_EDGE] = max(shares[SQUARE_ON_EDGE], (UNKNOWN if figure else UNMEASURED) * some)
    weights = {}
    for name, share in shares.items():
        look = EDGE_LOOKS[name]
        fit = figure.get(FIGURES[look], NO_FIGURE) if figure and look in FIGURES else NO_FIGURE
        weights[name] = share * fit * spoken.weight(look, spoken.edges)
    best = max(weights, key=lambda name: weights[name])
    return best, some * weights[best] / max(sum(weights.values()), 1e-12)


def written(sight: Sight, spoken: Spoken) -> float:
    """How likely characters stand there, by themselves or in a light dot: a number says the same in both."""
    weights = {
        name: chance * spoken.weight(EDGE_LOOKS[name], spoken.edges)
        for name, chance in sight.told.items()
        if name != "NONE"
    }
    some = 1 - sight.told["NONE"]
    return some * (weights["WHITE_DOT"] + weights["CHARACTERS"]) / max(sum(weights.values()), 1e-12)


def told_in_cells(
    looks: Mapping[Cell, Mapping[str, float]], looking: Looking, spoken: Spoken
) -> dict[Cell, dict[str, float]]:
    """The chance of each class of mark in cells where the network sees one that no rule speaks of, told anew by its
    figure: those that the network takes for the same are one kind, and are measured together. A worn diamond may be a
    mark of no kind to the network."""
    wanted = {name for name, figure in CELL_FIGURES.items() if figure in spoken.cells}
    if not wanted:
        return {}
    likeliest = {cell: max(look, key=lambda name: look[name]) for cell, look in looks.items()}
    unspoken = [
        cell for cell, name in likeliest.items() if looks[cell][name] > DRAWN and CELL_LOOKS[name] not in spoken.cells
    ]
    found = {}
    for name in dict.fromkeys(likeliest[cell] for cell in unspoken):
        alike = [cell for cell in unspoken if likeliest[cell] == name]
        figure = together([looking.figure_at(cell.centre, IN_CELL, on_lattice=False) for cell in alike])
        for cell in alike:
            found[cell] = _told_in_cell(looks[cell], name, wanted, figure, spoken)
    return found


def _told_in_cell(
    look: Mapping[str, float], name: str, wanted: set[str], figure: Mapping[str, float] | None, spoken: Spoken
) -> dict[str, float]:
    some = look[name]
    shares = {**look, "DIAMOND": max(look["DIAMOND"], look["UNKNOWN"])}
    weights = {
        other: share
        * (figure[CELL_FIGURES[other]] if figure and other in CELL_FIGURES else NO_FIGURE)
        * (1.0 if other in wanted else spoken.unspoken)
        for other, share in shares.items()
    }
    whole = max(sum(weights.values()), 1e-12)
    return {other: some * weight / whole for other, weight in weights.items()}
