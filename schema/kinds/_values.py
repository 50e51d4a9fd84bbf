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


_RATIO = re.compile(r"(?:1 ?[:/] ?|[x×*] ?)?([0-9]{1,12})(?: ?[:/] ?1| ?[x×])?", re.I)
"""`2`, and as print also writes it: `×2`, `2x`, `1:2`, `2:1`, `1/2`."""


def printed_ratio(text: str) -> int:
    """The ratio that a text prints. Raises ValueError for any other text."""
    found = _RATIO.fullmatch(text.strip())
    return printed_number(found[1] if found else text)
