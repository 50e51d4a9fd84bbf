"""Characters of a PDF's text layer and those that the picture shows, to one reading of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from recognise.draft import Doubt, box_polygon
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds
from recognise.picture import Picture
from recognise.second_look import looks_alone, second_look

OTHER_CHARACTERS = 8
"""Two readers that err independently seldom err the same way: the characters that an error may fall on."""

PIXELS_SURE = 0.99
"""From here on, what the pixels show has the word over the PDF's text layer, which may map glyphs to wrong letters."""

ALONE = 0.9
"""How far a character of the text layer is believed where the pixels show none."""

TRUSTED = 0.9995
"""How far it is where there is ink that the network cannot read clearly, and the layer is right elsewhere on the grid:
a layer is wrong by whole fonts."""
PROVED = 5
"""So many characters on which both agree, and none on which they do not, make a layer trusted."""
RATHER = 0.5
"""From this probability on the picture shows the character that the text layer names."""


def merge_glyphs(
    pixels: Sequence[Glyph], vectors: Sequence[Glyph], picture: Picture
) -> tuple[tuple[Glyph, ...], tuple[Doubt, ...]]:
    """One glyph for each character of either reader, and a doubt where they disagree. What the pixel reader did not
    find is looked for once more where the text layer puts it."""
    merging = _Merging(picture, list(pixels))
    for glyph in vectors:
        if glyph.how == "vector":
            merging.take_text(glyph)
        else:
            merging.take_outline(glyph)
    merging.settle_unread()
    # A spot where the pixels found no character, and the text layer a clear one, is spoken of above already.
    left = [p for p in merging.left if p.text or not any(_same_place(p, glyph) for glyph in vectors)]
    return (*merging.merged, *left), tuple(merging.doubts)


@dataclass
class _Merging:
    """The characters of a PDF, taken one after the other."""

    picture: Picture
    left: list[Glyph]
    """Those of the pixel reader that no character of the PDF has taken."""
    merged: list[Glyph] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    unread: list[tuple[Glyph, Glyph | None]] = field(default_factory=list)
    """Characters of the text layer that the picture does not show clearly, and what it shows rather."""
    agreed: int = 0
    clashes: int = 0

    def take_outline(self, glyph: Glyph) -> None:
        """A character that was read from its outlines."""
        self.doubts += [_clash(p, glyph) for p in self.left if _clashes(p, glyph)]
        self.left = [p for p in self.left if not _same_place(p, glyph)]
        self.merged.append(glyph)

    def take_text(self, glyph: Glyph) -> None:
        """A character of the text layer."""
        shown = self._shown(glyph)
        if shown is None:
            self.merged.append(_believed(glyph, ALONE))
            self.doubts.append(_not_shown(glyph))
        elif not shown.text or _is_part(shown.text, glyph.text):
            self.unread.append((glyph, None))
        elif _is_guess(shown, glyph):
            self.unread.append((glyph, shown))
        else:
            self.merged.append(_joined(shown, glyph))
            self.agreed += shown.text == glyph.text
            if shown.text != glyph.text:
                self.clashes += 1
                self.doubts.append(_differ(shown, glyph))

    def _shown(self, glyph: Glyph) -> Glyph | None:
        """What the picture shows in the place of a character of the text layer, as `_looked` says it."""
        partners = (p for p in self.left if p.text and _same_place(p, glyph))
        partner = min(partners, key=lambda p: _distance(p, glyph), default=None)
        self.left = [p for p in self.left if p is not partner and not (p.text and holds(glyph.box, p.centre))]
        if partner is not None and partner.text == glyph.text:
            return partner
        again = _looked(glyph, self.picture)
        return again if partner is None or (again is not None and again.text == glyph.text) else partner

    def settle_unread(self) -> None:
        """A text layer that is right elsewhere on the grid has the word where the picture is not clear, and so it has
        where its characters by themselves are what it says."""
        if self.agreed >= PROVED and not self.clashes:
            self.merged += [replace(glyph, guesses=(Guess(glyph.text, TRUSTED),)) for glyph, _ in self.unread]
            return
        for glyph, shown in self.unread:
            if looks_alone(glyph, self.picture):
                self.merged.append(replace(glyph, guesses=(Guess(glyph.text, TRUSTED),)))
                continue
            self.merged.append(_joined(shown, glyph) if shown else _believed(glyph, ALONE))
            self.doubts.append(_differ(shown, glyph) if shown else _too_small(glyph))


def _is_part(shown: str, text: str) -> bool:
    """Whether the picture shows a number with characters lost, as to a line that runs through them."""
    rest = iter(text)
    return len(shown) < len(text) and all(character in rest for character in shown)


def _is_guess(shown: Glyph, glyph: Glyph) -> bool:
    """Whether the picture shows something else, but not clearly: a line that touches a 6 makes it look like a 0."""
    return shown.text != glyph.text and shown.confidence < PIXELS_SURE


def _clashes(pixels: Glyph, path: Glyph) -> bool:
    """Whether the picture shows other characters than those read from their own outlines, and as many: of fewer it has
    lost some among what stands around them."""
    other = len(pixels.text) == len(path.text) and pixels.text != path.text
    return other and pixels.confidence >= PIXELS_SURE and _same_place(pixels, path)


def _clash(pixels: Glyph, path: Glyph) -> Doubt:
    return _doubt(f"its outlines are read as “{path.text}”, the picture as “{pixels.text}”", path)


def _looked(glyph: Glyph, picture: Picture) -> Glyph | None:
    """What the picture shows in the place of a character of the text layer: None for no ink, a glyph without text for
    ink that cannot be read."""
    guesses = second_look(glyph, picture)
    if guesses is None:
        return None
    if guesses and guesses[0].probability >= RATHER:
        return replace(glyph, guesses=guesses, how="shape")
    others = [guess for guess in guesses[1:] if guess.probability >= PIXELS_SURE]
    return replace(glyph, guesses=tuple(others), how="shape")


def _joined(pixels: Glyph, vectors: Glyph) -> Glyph:
    if pixels.text == vectors.text:
        both_wrong = (1 - pixels.confidence) * (1 - vectors.confidence) / OTHER_CHARACTERS
        others = tuple(replace(g, probability=g.probability * (1 - vectors.confidence)) for g in pixels.guesses[1:])
        return replace(vectors, guesses=(Guess(pixels.text, 1 - both_wrong), *others))
    first, second = (pixels, vectors) if pixels.confidence >= PIXELS_SURE else (vectors, pixels)
    guesses = (Guess(first.text, 0.6), Guess(second.text, 0.4))
    return replace(vectors, guesses=guesses, how=first.how)


def _believed(glyph: Glyph, probability: float) -> Glyph:
    return replace(glyph, guesses=tuple(Guess(g.text, min(g.probability, probability)) for g in glyph.guesses))


def _differ(shown: Glyph, glyph: Glyph) -> Doubt:
    return _doubt(f"the PDF's text says “{glyph.text}”, the picture shows “{shown.text}”", glyph)


def _not_shown(glyph: Glyph) -> Doubt:
    return _doubt(f"the PDF's text says “{glyph.text}”, the picture shows no such character", glyph)


def _too_small(glyph: Glyph) -> Doubt:
    return _doubt(f"the PDF's text says “{glyph.text}”, and the picture is too small to tell", glyph)


def _doubt(why: str, glyph: Glyph) -> Doubt:
    return Doubt(why, where=box_polygon(glyph.box))


def _same_place(a: Glyph, b: Glyph) -> bool:
    return holds(b.box, a.centre) or holds(a.box, b.centre)


def _distance(a: Glyph, b: Glyph) -> float:
    return abs(a.centre[0] - b.centre[0]) + abs(a.centre[1] - b.centre[1])
