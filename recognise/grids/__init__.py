"""Grids on a page: where they are, laid flat, how thick their lines are, and which boxes these make."""

from recognise.grids.alone import without_others
from recognise.grids.boxes import Boxes, boxes_by_steps, boxes_from, thick_regions
from recognise.grids.covered import marks_on_edges
from recognise.grids.edges import measure_edges
from recognise.grids.explain import explain_grids
from recognise.grids.find import find_grids, find_lattices
from recognise.grids.flatten import closer, flatten
from recognise.grids.inked import inked
from recognise.grids.judge import looks_filled
from recognise.grids.set_apart import closed_up
from recognise.grids.straight import straightened

__all__ = [
    "Boxes",
    "boxes_by_steps",
    "boxes_from",
    "closed_up",
    "closer",
    "explain_grids",
    "find_grids",
    "find_lattices",
    "flatten",
    "inked",
    "looks_filled",
    "marks_on_edges",
    "measure_edges",
    "straightened",
    "thick_regions",
    "without_others",
]
