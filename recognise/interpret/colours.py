"""Plain words for printed colours, and which colours of a page the words of its rules mean."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from functools import lru_cache
from itertools import pairwise

from ingest.page import Colour

Lab = tuple[float, float, float]

WHITE = 93.0
"""Lightness (CIELAB, 0 to 100) from which on a colour without hue is white."""
BLACK = 32.0
"""Lightness up to which a colour is called black: printers' blacks, navy and the like are as dark as that."""
COLOURLESS = 9.0
"""Chroma below which a colour is white, grey or black: print and screens tint greys by less."""
PALE_COLOURLESS = 4.0
"""The same for pale colours, in which a little chroma already shows."""
PALE = 85.0
SAME = 8.0
"""CIE76 difference up to which two prints are one colour; shades that print tells apart differ by twice as much."""
DARK = 128
"""No channel of the ink of a dark mark is lighter, 0 to 255."""
MEANT = 60.0
"""The farthest that a colour may be from the word by which the rules call it."""

APART = 10.0
"""By so much lightness two words or two shades differ that nobody takes one for the other in a grey print."""

VIVID = 60.0
"""Chroma from which on a colour is as strong as print has it."""

_HUES: tuple[tuple[float, str], ...] = (
    (5, "pink"), (48, "red"), (78, "orange"), (112, "yellow"), (175, "green"), (238, "cyan"), (304, "blue"),
    (327, "purple"), (352, "magenta"), (360, "pink"),
)  # fmt: skip
"""Where each word's hues end on the circle of CIELAB hues, in degrees."""
_RUSTY, _PUREST = 30.0, 315.0
_DULL, _FLESH = 60.0, 70.0
"""Hues in degrees, and lightness: dull orange is brown, pale red is pink."""
_TYPICAL: Mapping[str, Colour] = {
    "white": (255, 255, 255), "grey": (170, 170, 170), "black": (0, 0, 0), "red": (220, 60, 50),
    "orange": (240, 150, 60), "yellow": (245, 225, 90), "green": (110, 190, 110), "cyan": (120, 210, 220),
    "teal": (60, 150, 150), "blue": (110, 150, 220), "purple": (165, 110, 200), "magenta": (210, 80, 190),
    "pink": (240, 160, 190), "brown": (150, 100, 60),
}  # fmt: skip
"""A middling print of each word's colour: the word that the rules use is nearest to what they mean."""


@lru_cache(maxsize=1024)
def lab(colour: Colour) -> Lab:
    """CIELAB of an sRGB colour (IEC 61966-2-1, D65; CIE 15:2004)."""
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in (c / 255 for c in colour)]
    r, g, b = linear
    x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047
    y = 0.2126 * r + 0.7152 * g + 0.0722 * b
    z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883
    fx, fy, fz = (v ** (1 / 3) if v > 216 / 24389 else (24389 / 27 * v + 16) / 116 for v in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def apart(one: Colour, other: Colour) -> float:
    """How different two colours look (CIE76)."""
    return math.dist(lab(one), lab(other))


def plain_name(colour: Colour) -> str:
    """The word by which most people would call a colour."""
    light, a, b = lab(colour)
    chroma = math.hypot(a, b)
    if chroma < (PALE_COLOURLESS if light >= PALE else COLOURLESS):
        return "white" if light >= WHITE else "black" if light <= BLACK else "grey"
    if light <= BLACK / 2 or (light <= BLACK and chroma < 2 * COLOURLESS):
        return "black"
    hue = math.degrees(math.atan2(b, a)) % 360
    name = next(word for end, word in _HUES if hue <= end)
    if name in ("red", "orange", "yellow") and hue > _RUSTY and light < _DULL and chroma < VIVID:
        return "brown"
    if name == "magenta" and chroma < VIVID:
        return "pink" if light >= _DULL else "purple"
    if name == "purple" and chroma > 1.5 * VIVID:
        # CIELAB bends the purest blues of a screen towards purple.
        return "blue" if hue < _PUREST else "magenta"
    return "pink" if name == "red" and light >= _FLESH else name


def groups(colours: Iterable[Colour]) -> list[list[Colour]]:
    """Colours that look the same, together."""
    found: list[list[Colour]] = []
    for colour in dict.fromkeys(colours):
        near = next((group for group in found if apart(group[0], colour) <= SAME), None)
        if near is None:
            found.append([colour])
        else:
            near.append(colour)
    return found


def names_for(colours: Iterable[Colour], spoken: Iterable[str], strokes: bool = False) -> dict[Colour, str]:
    """A word for each colour of a page's marks. Words that the rules use (`spoken`) and that none of the colours has by
    itself go to the nearest colour that has none of them, or one that fits another shade better: what a page calls its
    purple line may look blue alone. `strokes` says that the marks are lines."""
    shades = groups(colours)
    named = {shade[0]: plain_name(shade[0]) for shade in shades}
    words = [word for word in dict.fromkeys(spoken) if word in _TYPICAL and word not in named.values()]
    pairs = sorted(
        (_off(shade, word), word, shade) for word in words for shade in named if _may_be(word, shade, named, spoken)
    )
    given: set[str] = set()
    settled: set[Colour] = set()
    for off, word, shade in pairs:
        if off <= MEANT and word not in given and shade not in settled:
            named[shade] = word
            given.add(word)
            settled.add(shade)
    named = {shade: _word_beside(shade, named, spoken, strokes) for shade in named}
    return {colour: named[shade[0]] for shade in shades for colour in shade}


def _word_beside(shade: Colour, named: Mapping[Colour, str], spoken: Iterable[str], strokes: bool) -> str:
    """The word for a shade: its own, or where the page does not speak of that, of one that is too near to it for print
    to tell them apart, as dots and `strokes` of one ink are on paper and on a tint. Pale tints that differ by so much
    are two."""
    near = [
        (apart(shade, other), name)
        for other, name in named.items()
        if name in spoken and (strokes or max(other) <= DARK)
    ]
    off, word = min(near, default=(math.inf, ""))
    return word if named[shade] not in spoken and off < 2 * SAME else named[shade]


def _may_be(word: str, shade: Colour, named: Mapping[Colour, str], spoken: Iterable[str]) -> bool:
    """Whether a shade may be what a page calls by a word that no shade has by itself: it has no name that the page
    speaks of, or shares it with one that has a better claim to it, and is nearer to the word."""
    name = named[shade]
    if name not in spoken:
        return True
    rivals = (other for other, its in named.items() if its == name and other != shade)
    own = _off(shade, name)
    return any(_off(rival, name) < own for rival in rivals) and _off(shade, word) < own


def is_grey(colours: Iterable[Colour]) -> bool:
    """Whether none of the colours has a hue: a grey scan, or grey print."""
    return all(math.hypot(*lab(colour)[1:]) < PALE_COLOURLESS for colour in colours)


def names_in_grey(colours: Iterable[Colour], spoken: Iterable[str]) -> tuple[dict[Colour, str], bool]:
    """The same for a picture in shades of grey, where words of hue say no more than how dark a colour is: the lightest
    colour spoken of is the lightest shade, and so on. With it whether that is sure: where there is one word for one
    shade, or where all words and all shades are clearly apart."""
    words = sorted(
        (word for word in dict.fromkeys(spoken) if word in _TYPICAL), key=lambda word: lab(_TYPICAL[word])[0]
    )
    shades = sorted(groups(colours), key=lambda shade: lab(shade[0])[0])
    named = {shade[0]: plain_name(shade[0]) for shade in shades}
    left = [shade[0] for shade in shades if len(shades) == len(words) or named[shade[0]] not in ("black", "white")]
    if len(left) == len(words):
        named.update(zip(left, words, strict=True))
        sure = all(
            lab(lighter)[0] - lab(darker)[0] >= APART
            for ranked in (left, [_TYPICAL[word] for word in words])
            for darker, lighter in pairwise(ranked)
        )
    else:
        named.update({shade: min(words, key=lambda word: _darker_by(shade, word)) for shade in left if words})
        sure = not left or not words
    return {colour: named[shade[0]] for shade in shades for colour in shade}, sure


def _darker_by(colour: Colour, word: str) -> float:
    return abs(lab(colour)[0] - lab(_TYPICAL[word])[0])


def has_hue(word: str) -> bool:
    """Whether a word names a colour and no shade of grey."""
    return word in _TYPICAL and word not in ("white", "grey", "black")


def _off(colour: Colour, word: str) -> float:
    """How far a colour is from what a word means: hue counts for words of hue, lightness for black, grey and white."""
    light, a, b = lab(colour)
    typical_light, typical_a, typical_b = lab(_TYPICAL[word])
    hue = math.hypot(a - typical_a, b - typical_b)
    weight = 1.0 if word in ("white", "grey", "black") else 0.5
    return math.hypot(weight * (light - typical_light), hue)
