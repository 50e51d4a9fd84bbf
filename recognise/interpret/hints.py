"""Whether a mark looks as a sentence of the rules describes it."""

from __future__ import annotations

from recognise.rules import MarkHint
from schema.marks import Family, Seen

_FAMILIES: dict[str, tuple[Family, ...]] = {
    "line": ("line", "ringed-line", "tube"),
    "tube": ("tube",),
    "arrow": ("arrow", "outside-diagonal"),
    "cage": ("cage",),
    "dot": ("edge", "corner"),
    "bar": ("edge",),
    "diamond": ("edge",),
    "letter": ("edge", "cell"),
    "sign": ("edge",),
    "circle": ("cell", "corner", "edge", "arrow", "ringed-line"),
    "square": ("cell",),
    "tint": ("cell", "area"),
    "number": ("outside", "outside-diagonal", "corner", "cage"),
    "diagonal": ("diagonal",),
}
_PLACES: dict[str, tuple[Family, ...]] = {
    "outside": ("outside", "outside-diagonal"),
    "edge": ("edge",),
    "corner": ("corner",),
    "ends": ("ringed-line",),
}


def fits(hint: MarkHint, seen: Seen) -> bool:
    """False when the sentence describes the mark as something that it is not. What either leaves open, fits."""
    families = _FAMILIES.get(hint.shape)
    if families is not None and seen.family not in families:
        return False
    if hint.place and seen.family not in _PLACES[hint.place]:
        return False
    if hint.letter and seen.text and hint.letter.upper() != seen.text.upper():
        return False
    if hint.colour and seen.colour and hint.colour != seen.colour:
        return False
    return not (hint.style == "dashed" and seen.shape and seen.shape != "dashed")


def describes(hint: MarkHint) -> bool:
    """Whether the sentence describes a mark at all."""
    return hint != MarkHint()
