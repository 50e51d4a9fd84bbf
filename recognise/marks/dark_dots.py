"""Numbers in the colour of paper on dark dots: small ones the network overlooks, and what is light on a dot tells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from recognise.evidence import Disc
from recognise.marks.lines import DRAWN
from recognise.marks.looking import WRITTEN, Looking
from recognise.marks.sizes import is_dark
from recognise.marks.spoken import Spoken

FAINT_TEXT = 0.002
"""Chance of characters from which a dark dot is looked at for light strokes: the network overlooks small ones."""
PLAINEST, LIGHTER = 0.15, 0.1
"""How light the lightest parts of the plainest dot of a page are at most (`Looking.written_light`) for it to have no
number, and how much lighter those of another are that has one: plain ones of one page are within 0.07 of each other,
numbers in type of 8 pixels 0.18 lighter, and larger ones 0.35."""


def on_dark(dot: Disc, text: float, looking: Looking, spoken: Spoken) -> tuple[Disc, float, bool]:
    """A dark dot, how likely characters stand on it, and whether light strokes do: then they surely stand there, and
    its colour is what these leave of it. Where its ground is all alike there are none. Of numbers in marks of which the
    rules speak the network need see nothing where they are plain. Where these speak of such dots and of no number,
    only plain strokes are any that it does not see: small blurred dots are lighter to their edges."""
    faint = text <= FAINT_TEXT
    looked_at = spoken.written or not faint
    denied = text <= DRAWN and _speak_of_none(spoken)
    light = looking.written_light(dot.centre, dot.radius, plainly=faint or denied) if looked_at else None
    if light is not None:
        return replace(dot, fill=light), max(text, 2 * DRAWN), True
    return dot, 0.0 if denied or looking.is_plain(dot.centre, dot.radius) else text, False


def beside_plain(discs: Sequence[Disc], looking: Looking, spoken: Spoken) -> Iterator[tuple[Disc, Disc]]:
    """The dark dots with light strokes on them that show beside the plain dots of their page and not by themselves,
    each with what it is: its colour is what the strokes leave of it. None where the rules speak of such dots and of no
    number."""
    dark = [disc for disc in discs if is_dark(disc)]
    if _speak_of_none(spoken) or not dark:
        return
    shades = [looking.light_on_dark(disc.centre, disc.radius) for disc in dark]
    plainest = min(shades)
    for disc, shade in zip(dark, shades, strict=True):
        if plainest <= PLAINEST and shade >= max(WRITTEN, plainest + LIGHTER):
            ground = looking.written_light(disc.centre, disc.radius)
            yield disc, disc if ground is None else replace(disc, fill=ground)


def _speak_of_none(spoken: Spoken) -> bool:
    """Whether the rules are understood to the last, and speak of dark dots and of no number in marks."""
    return spoken.whole and "dark dot" in spoken.edges and not spoken.written
