"""Whether a mark looks as a sentence of the rules describes it."""

from __future__ import annotations

from recognise.rules import MarkHint
from schema.marks import Family, Seen

FAMILIES: dict[str, tuple[Family, ...]] = {
    "line": ("line", "ringed-line", "tube"),
    "tube": ("tube",),
    "arrow": ("arrow", "outside-diagonal"),
    "cage": ("cage",),
    "dot": ("edge", "corner", "cell"),
    "bar": ("edge",),
    "diamond": ("edge", "cell", "corner", "ringed-line"),
    "letter": ("edge", "cell"),
    "sign": ("edge",),
    "circle": ("cell", "corner", "edge", "arrow", "ringed-line"),
    "square": ("cell", "edge", "corner", "ringed-line"),
    "tint": ("cell", "area"),
    "number": ("outside", "outside-diagonal", "corner", "cage", "edge"),
    "diagonal": ("diagonal",),
}
"""Which marks a word for a shape may speak of."""
PLACES: dict[str, tuple[Family, ...]] = {
    "outside": ("outside", "outside-diagonal"),
    "edge": ("edge",),
    "corner": ("corner",),
    "ends": ("ringed-line",),
}
"""The same for a word for a place."""
_EDGE_SHAPES: dict[str, tuple[str, ...]] = {
    "dot": ("dot",),
    "circle": ("dot",),
    "bar": ("bar", "dashes"),
    "diamond": ("diamond",),
    "square": ("square",),
    "letter": ("letter", "sign", "cross"),
    "sign": ("sign", "letter"),
    "number": ("number", "dot"),
}
"""What a mark between two cells may be taken for by a reader where the rules call it so: a V is drawn as letter or as
sign, a number may stand in a dot."""
_CELL_SHAPES: dict[str, tuple[str, ...]] = {
    "circle": ("circle",),
    "dot": ("circle",),
    "square": ("square", "tint"),
    "tint": ("tint", "square"),
    "diamond": ("diamond",),
    "letter": ("letter",),
}
"""The same for marks in cells: a square may fill its cell."""


DOUBLE = "double"
"""How the rules call a line of two strokes; drawn as `outline`, where a reader tells them apart."""

RINGED, UNRINGED = "circled", "plain"
"""How the rules tell apart two kinds of numbers beside the grid; `circled` is the shape of such a clue as well."""
BEADED = "beaded"
"""The shape of a line with a disc in each of its cells."""


def fits(hint: MarkHint, seen: Seen) -> bool:
    """False when the sentence describes the mark as something that it is not. What either leaves open, fits."""
    families = FAMILIES.get(hint.shape)
    if families is not None and seen.family not in families and not _is_of_discs(hint, seen):
        return False
    if hint.place and seen.family not in PLACES[hint.place]:
        return False
    if hint.sides and seen.side is not None and seen.side not in hint.sides:
        return False
    if hint.letter and (seen.text or seen.family == "edge") and hint.letter.upper() != as_letter(seen.text):
        return False
    if hint.colour and seen.colour and hint.colour != seen.colour:
        return False
    return _shape_fits(hint, seen) and _style_fits(hint, seen)


def _is_of_discs(hint: MarkHint, seen: Seen) -> bool:
    """Whether what a sentence calls dots or circles are the discs of a line: in each of its cells, on its ends, or, as
    beads on a string, all along it."""
    if hint.shape == "dot" and seen.family == "line" and seen.shape == "dashed":
        return True
    return hint.shape in ("dot", "circle") and (seen.family == "ringed-line" or seen.shape == BEADED)


def as_letter(text: str) -> str:
    """A text as capitals; strokes that meet below are a V, strokes that cross an X, where the rules speak of one."""
    return text.upper().replace("∨", "V").replace("×", "X")


def _shape_fits(hint: MarkHint, seen: Seen) -> bool:
    shapes = {"edge": _EDGE_SHAPES, "cell": _CELL_SHAPES}.get(seen.family, {}).get(hint.shape)
    if shapes is None or not seen.shape or seen.shape == "mark":
        return True
    if hint.letter and seen.shape == "dot":
        return bool(seen.text)  # a letter in a ring
    if hint.shape == "letter" and not hint.letter and seen.family == "cell":
        return True  # letters among the digits of the sentence, and none that is printed as a mark
    if hint.shape == "number" and not seen.text.isdecimal():
        return False
    return seen.shape in shapes


def _style_fits(hint: MarkHint, seen: Seen) -> bool:
    if seen.family == "outside":
        return (seen.shape == RINGED) == (hint.style == RINGED) or hint.style not in (RINGED, UNRINGED)
    if seen.family not in ("line", "ringed-line", "tube", "arrow"):
        return True
    if hint.style in ("dashed", "dotted"):
        return seen.shape == "dashed" or (hint.style == "dotted" and seen.shape == BEADED)
    if hint.style == DOUBLE:
        return seen.shape not in ("dashed", "thick", "thin")
    return not (hint.style in ("thick", "thin") and seen.shape in ("thick", "thin") and hint.style != seen.shape)


def describes(hint: MarkHint) -> bool:
    """Whether the sentence describes a mark at all."""
    return hint != MarkHint()
