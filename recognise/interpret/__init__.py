"""Evidence and rules to a draft puzzle: marks x rules x common practice give givens and constraints."""

from recognise.interpret.draft import interpret
from recognise.interpret.regions import SeenBoxes

__all__ = ["SeenBoxes", "interpret"]
