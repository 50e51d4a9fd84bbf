"""Numbers that marks carry."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field

MOST = 10**12
"""Larger than any total or product that a person prints, and small enough for a solver's 64 bits."""

Total = Annotated[int, Field(ge=0, le=MOST)]
"""A sum, product, difference or count that a mark states."""


def printed_number(text: str) -> int:
    """The number that a text prints. Raises ValueError for any other text."""
    if not re.fullmatch(r"[0-9]{1,12}", text.strip()):
        raise ValueError(f"{text!r} is no number")
    return int(text)
