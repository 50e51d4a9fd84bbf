"""Evidence and rules to a draft puzzle: marks x rules x common practice give givens and constraints."""

from recognise.interpret.cages import not_in_cages
from recognise.interpret.draft import characters_in_cells, interpret

__all__ = ["characters_in_cells", "interpret", "not_in_cages"]
