"""Evidence and rules to a draft puzzle: marks x rules x common practice give givens and constraints."""

from recognise.interpret.draft import interpret

__all__ = ["interpret"]
