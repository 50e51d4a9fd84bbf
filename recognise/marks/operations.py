"""Signs beside the totals of cages that are no characters of one piece: minus is a bar, divided by a bar with dots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.geometry import middle
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import OPERATIONS, Character

REACH = 1.6
"""As a part of the number's height, like all that follows: so far from the number its sign ends at most."""
CLOSE, OVER = 0.8, 0.1
"""So far from the number a sign begins at most, and so far it may reach into its box."""
SHORTEST, THICKEST, LONG = 0.28, 0.35, 1.5
"""Of a bar: least length, greatest thickness, and how many times as long as thick it is at least."""
TALL_SIGN = 0.2
"""How far above and below the figures the dots of a division stand that no wall is next to."""
JOINED = 0.6
"""The height of a bar that one dot runs into, at most."""
LEVEL, IN_LINE = 0.25, 0.18
"""How far the middle of a bar lies above or below that of the number, and the middle of a dot beside that of its
bar."""
SURE = 0.999
"""How sure a sign is whose every piece is in its place."""
ALIKE = {"/": "÷", ">": "×"}
"""What signs look like that print writes otherwise, or that the lattice line behind them has taken the end of."""
MOSTLY, IN_DOUBT = 0.5, 0.9
"""Part of the totals of a page that have a sign where such a one is looked for; how sure a sign is at most that is told
by what it looks like alone."""


def sign_behind(number: Sequence[Character], near: Iterable[Blob], raster: Raster) -> tuple[str, Box | None]:
    """The sign that stands right behind a number among pieces of ink near it, `-` or `÷`, and its box; an empty text
    where there is none, or more ink than a sign has."""
    x1 = max(c.box[2] for c in number)
    return _sign_among(number, near, raster, lambda box: (box[0] - x1, box[2] - x1))


def sign_in_front(number: Sequence[Character], near: Iterable[Blob], raster: Raster) -> tuple[str, Box | None]:
    """The same of the sign right before a number."""
    x0 = min(c.box[0] for c in number)
    return _sign_among(number, near, raster, lambda box: (x0 - box[2], x0 - box[0]), TALL_SIGN)


def _sign_among(
    number: Sequence[Character],
    near: Iterable[Blob],
    raster: Raster,
    away: Callable[[Box], tuple[float, float]],
    taller: float = 0.0,
) -> tuple[str, Box | None]:
    """The sign beside a number among pieces of ink; `away` says how far from the number one begins and ends. It may be
    `taller` than the number, to both sides and as a part of that."""
    top, bottom = min(c.box[1] for c in number), max(c.box[3] for c in number)
    tall, level = bottom - top, (top + bottom) / 2
    own = {label for character in number for label in character.blob.labels}
    boxes = [blob.box(raster) for blob in near if not own.intersection(blob.labels)]
    beside = [
        box
        for box in boxes
        if -OVER * tall <= away(box)[0] <= CLOSE * tall
        and away(box)[1] <= REACH * tall
        and abs(middle(box)[1] - level) <= (0.5 + taller) * tall
        and box[3] - box[1] <= tall
    ]
    if len(beside) == 2 and (whole := _with_dot_in_bar(beside, tall, level)):
        return "÷", whole
    bars = [box for box in beside if _is_bar(box, tall) and abs(middle(box)[1] - level) <= LEVEL * tall]
    if len(bars) != 1:
        return "", None
    (bar,) = bars
    rest = [box for box in beside if box is not bar]
    if not rest:
        return "-", bar
    if len(rest) == 2 and all(_is_dot(box, bar, tall) for box in rest):
        above, below = sorted(rest, key=lambda box: box[1])
        if above[3] <= bar[1] and below[1] >= bar[3]:
            return "÷", (bar[0], above[1], bar[2], below[3])
    return "", None


def always_divided(number: Sequence[Character], looks: Sequence[Iterable[Blob]], raster: Raster) -> bool:
    """Whether every look at a number shows a division behind it: then the ink there is no other figure that something
    hides, and a quotient has but one."""
    return {sign_behind(number, near, raster)[0] for near in looks} == {"÷"}


def _with_dot_in_bar(pieces: Sequence[Box], tall: float, level: float) -> Box | None:
    """The box of a division of which one dot runs into the bar, and the other one stands as far on the other side."""
    dot, joined = sorted(pieces, key=lambda box: box[2] - box[0])
    high, low = min(dot[1], joined[1]), max(dot[3], joined[3])
    apart = dot[3] <= joined[1] or joined[3] <= dot[1]
    long = joined[2] - joined[0] >= SHORTEST * tall
    thick = THICKEST * tall < joined[3] - joined[1] <= JOINED * tall
    even = abs((high + low) / 2 - level) <= LEVEL * tall / 2
    return (
        (joined[0], high, joined[2], low) if apart and long and thick and even and _is_dot(dot, joined, tall) else None
    )


def agreed_sign(told: Sequence[str], least: int) -> str:
    """The sign that so many looks at a number show at least; an empty text where they show different ones. A look that
    loses the dots of a division shows a bar, and none makes two dots of nothing: one look is enough for them."""
    signs = Counter(sign for sign in told if sign)
    if signs["÷"]:
        del signs["-"]
    sign, times = signs.most_common(1)[0] if signs else ("", 0)
    return sign if (times >= least or sign == "÷") and set(+signs) == {sign} else ""


def with_sign(glyph: Glyph, sign: str, box: Box) -> Glyph:
    """A number with its sign."""
    x0, y0, x1, y1 = glyph.box
    guesses = tuple(Guess(guess.text + sign, guess.probability * SURE) for guess in glyph.guesses)
    return replace(glyph, guesses=guesses, box=(x0, min(y0, box[1]), max(x1, box[2]), max(y1, box[3])))


def complete_signs(glyphs: list[Glyph], figures: Mapping[int, Sequence[Character]]) -> None:
    """Take the last of the `figures` of totals (by the index of their glyph) for a sign where it looks like one more
    than like a figure, on a page whose totals mostly have signs: a slanted 1 looks like the stroke of a division."""
    signed = sum(glyphs[at].text[-1:] in OPERATIONS for at in figures if glyphs[at].text)
    if signed >= MOSTLY * len(figures):
        for at, number in figures.items():
            glyphs[at] = _with_last_as_sign(glyphs[at], number)


def _with_last_as_sign(glyph: Glyph, number: Sequence[Character]) -> Glyph:
    *others, last = sorted(number, key=lambda character: character.box[0])
    sign = ALIKE.get(last.free[0].text) if last.free else None
    before = "".join(character.guesses[0].text for character in others)
    if sign is None or not before.isdecimal() or glyph.text != before + last.guesses[0].text:
        return glyph
    chance = last.free[0].probability * IN_DOUBT
    rest = [Guess(guess.text, guess.probability * (1 - chance)) for guess in glyph.guesses if guess.text.isdecimal()]
    return replace(glyph, guesses=(Guess(before + sign, chance), *rest))


def _is_bar(box: Box, tall: float) -> bool:
    length, thickness = box[2] - box[0], box[3] - box[1]
    return length >= max(SHORTEST * tall, LONG * thickness) and thickness <= THICKEST * tall


def _is_dot(box: Box, bar: Box, tall: float) -> bool:
    in_line = abs(middle(box)[0] - middle(bar)[0]) <= IN_LINE * tall
    return in_line and max(box[2] - box[0], box[3] - box[1]) <= THICKEST * tall
