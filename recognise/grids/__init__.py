"""Grids on a page: where they are, laid flat, and how thick their lines are."""

from recognise.grids.explain import explain_grids
from recognise.grids.find import find_grids, find_lattices
from recognise.grids.flatten import flatten
from recognise.grids.judge import looks_filled

__all__ = ["explain_grids", "find_grids", "find_lattices", "flatten", "looks_filled"]
