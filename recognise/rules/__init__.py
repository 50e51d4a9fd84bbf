"""Rules texts: sentences to statements about kinds and marks."""

from recognise.rules.sheet import DigitRange, MarkHint, RuleSheet, Statement

__all__ = ["DigitRange", "MarkHint", "RuleSheet", "Statement"]
