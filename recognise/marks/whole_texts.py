"""What the network of short texts says of places whose characters were cut apart and read one by one: what both read
counts as read, what was hard to cut apart is taken from the network, and where both are sure of something else, one
doubts."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from statistics import median
from types import MappingProxyType

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.geometry import box_at, box_of_all
from recognise.marks.hardly_seen import ON_PATCH
from recognise.marks.short_text_classes import SIGNS
from recognise.marks.short_texts import EDGE, around, circle_window, corner_window, cut, short_text_reader
from recognise.marks.text_ink import INSIDE, Print
from recognise.marks.text_looks import MOST_LEFT
from recognise.marks.text_places import Place
from recognise.marks.text_readings import Reading
from recognise.pixels.glyphs import DIGITS, LETTERS, OPERATIONS

AGREED, TOLD = 0.9, 0.97
"""How sure the network is at least of what both read, and where a note goes that a place was hard to read: of 6,655
totals and 2,522 circles in fonts that it never saw, 83 were wrong above that."""
WEAK, LIKELIER = 0.8, 0.5
"""How sure a reading is at most which gives way, and how sure the network is at least of what it gives way to."""
SURELY = 0.99
"""So sure the network is of what is told without a doubt, where other characters were lost."""
BUT_ONE = 0.9
"""How sure a text is of which a weak reading has all but one character, where the network is `SURELY` sure of it:
at such places on 20 scans, worn scans and photos of the training half it was right at all nine, and wrong at 20 of 43
where it was less sure; where a part was read (see `MORE`) it was right at more than a hundred."""
LONGER, AS_LONG, NO_MORE = 0.97, 0.995, 0.98
"""A sure reading is doubted where the network is so sure of more characters, or so sure of as many where the reading is
no surer than the last: characters that were cut apart get lost more often than they are misread."""
FIGURES, TIMES = 3, 3
"""So many numbers on bare edges at least, and so many times as many as letters, show that a page sets no letters."""
SIGNED = 2
"""So many totals with signs that both read show that a page sets signs: then one that only the network sees counts."""
MORE, HALF_LEFT = 0.98, 0.5
"""So sure the network is of all of which a part was read, where ink is left for the rest: of 85 such places on 43 pages
it was right at each; at those two where it was not so sure it was wrong, and at one where no ink was left. The part of
the ink from which on a reading that leaves it is none: at 45 such places the network was right at each as well."""
NUMERALS = "IVXLC"
"""The letters that stand between cells and mean something there: an 8 that a wall runs through is like a B as well."""
BOTH, SHARED, TIED = 0.8, 0.6, 0.05
"""In circles that walls run through, how sure the network is at least of what both read, and of what is surely read and
stays so; and where others are hardly likelier than what was read, that comes first."""
NOTHING_FREED: Mapping[Place, tuple[Guess, ...]] = MappingProxyType({})
TWINS, LIKE_TWINS = 2, 0.9
"""So many numbers between cells that both surely read say that a page prints such; and how sure it is then that one of
which only a part was read is another of them."""
NEVER = 1.1
"""More than sure."""
HALF = 0.5
"""How sure one remains of a reading that the network surely reads otherwise."""
PART = 0.7
"""As a part of a circle's radius: half the side of the box of what was not found, but is told."""
WIDEST = 0.85
"""As a part of its height: how far a figure or a sign reaches at most, with the gap before it."""
UNSEEN, INSET, FIGURE = 0.2, 0.08, (0.13, 0.22)
"""In cells: the radius of a circle that was not seen, how far from the sides of their cell totals begin, and how wide
and high a figure of theirs is."""


def weighed(
    glyphs: Sequence[Glyph],
    owners: Sequence[Place],
    hard: Mapping[Place, str],
    readings: Mapping[Place, Sequence[Reading]],
    seen: Print,
    freed: Mapping[Place, tuple[Guess, ...]] = NOTHING_FREED,
) -> tuple[list[Glyph], list[str]]:
    """The glyphs, each read at its owner among the places of the `readings`, and words on places that were `hard` to
    read, after the network has looked at all of them, at some `freed` of the walls that run through them
    (`crossed_circles.freed`)."""
    looked = [place for place in readings if _is_single(place)]
    by_place: dict[Place, list[Glyph]] = {place: [] for place in (*owners, *looked)}
    for glyph, owner in zip(glyphs, owners, strict=True):
        by_place[owner].append(glyph)
    figures = _sets_figures(by_place)
    asked = [_expected(place, by_place[place], figures=figures) for place in looked]
    told = dict(zip(looked, read_whole(asked, seen), strict=True)) | {at: freed[at] for at in looked if at in freed}
    notes = dict(hard)
    signed = sum(_is_signed(by_place[place], place, guesses[0]) for place, guesses in told.items()) >= SIGNED
    twins = Counter(g[0].text for place, g in told.items() if _is_surely_both(by_place[place], place, g[0]))
    for place, guesses in told.items():
        if place.perhaps and (guesses[0].probability < SURELY or ON_PATCH.issuperset(guesses[0].text)):
            continue
        weigh = _weighed_in_crossed if place in freed else weighed_at
        own = by_place[place]
        lost = signed and _has_lost_sign(own, place, guesses[0])
        if lost or _is_more(own, place, guesses[0], readings[place]) or (figures and _is_figures(own, place, guesses)):
            by_place[place] = [_as_seen(own, guesses)]
        elif twins[guesses[0].text] >= TWINS and _is_part_of(own, place, guesses[0]):
            by_place[place] = [_as_twin(own, place, guesses)]
        elif not place.arrows:
            by_place[place] = weigh(own, place, guesses, hard=place in hard)
        as_told = bool(by_place[place]) and _text(by_place[place], place) == _sorted(guesses[0].text, place)
        if as_told and guesses[0].probability >= TOLD:
            notes.pop(place, None)
    return [glyph for own in by_place.values() for glyph in own], list(notes.values())


def _is_surely_both(own: Sequence[Glyph], place: Place, guess: Guess) -> bool:
    """Whether both surely read one number of several figures between cells."""
    least = min((glyph.confidence for glyph in own), default=0.0)
    both = len(guess.text) > 1 and guess.text.isdecimal() and _text(own, place) == guess.text
    return both and _is_bare_edge(place) and min(least, guess.probability) >= TOLD


def _is_part_of(own: Sequence[Glyph], place: Place, guess: Guess) -> bool:
    """Whether what was read between cells is the end or the beginning of what the network surely reads."""
    text = _text(own, place)
    part = 0 < len(text) < len(guess.text) and (guess.text.startswith(text) or guess.text.endswith(text))
    return part and _is_bare_edge(place) and guess.probability >= LONGER


def _as_twin(own: Sequence[Glyph], place: Place, guesses: Sequence[Guess]) -> Glyph:
    """A number between cells of which a part was read, as its page prints it elsewhere."""
    whole = _told(own, place, guesses)
    named = Guess(_text(own, place), 1 - LIKE_TWINS)
    return replace(whole, guesses=(Guess(guesses[0].text, LIKE_TWINS), named))


def _is_signed(own: Sequence[Glyph], place: Place, guess: Guess) -> bool:
    """Whether both read one total with the same sign."""
    signed = place.in_corner and guess.text[-1:] in set(OPERATIONS) and guess.probability >= AGREED
    return signed and _text(own, place) == guess.text


def _has_lost_sign(own: Sequence[Glyph], place: Place, guess: Guess) -> bool:
    """Whether the network surely sees a sign behind a total that was read without: a bar that touches the wall, or
    whose dots run into it, is no character of its own. Of 156 totals on 43 pages in which the network saw a sign, the
    four that it misread were below 0.84."""
    seen = place.in_corner and len(own) == 1 and guess.probability >= TOLD and guess.text[-1:] in set(OPERATIONS)
    return seen and any(other.text == guess.text[:-1] for other in own[0].guesses)


def _as_seen(own: Sequence[Glyph], guesses: Sequence[Guess]) -> Glyph:
    """What was read as the network sees it, or as it was read after all."""
    before = Guess("".join(glyph.text for glyph in own), 1 - guesses[0].probability)
    return replace(own[0], guesses=(*guesses, before), box=box_of_all(glyph.box for glyph in own))


def _is_more(own: Sequence[Glyph], place: Place, guess: Guess, readings: Iterable[Reading]) -> bool:
    """Whether what was read is a part of what the network surely sees and leaves the ink of the rest, or leaves most of
    the ink, whatever it is."""
    text, whole = _text(own, place), _sorted(guess.text, place)
    if guess.probability < MORE or whole in ("", text) or not text or any(sign in whole for sign in SIGNS):
        return False
    part = len(whole) > len(text) and not Counter(text) - Counter(whole)
    left = [reading.left for reading in readings if _sorted(reading.text, place) == text]
    return bool(left) and median(left) >= (MOST_LEFT if part else HALF_LEFT)


def _sets_figures(read: Mapping[Place, Sequence[Glyph]]) -> bool:
    """Whether a page sets numbers and no letters on its edges, by what was surely read on bare ones."""
    edges = [(_text(own, place), own) for place, own in read.items() if own and _is_bare_edge(place)]
    sure = [text for text, own in edges if min(glyph.confidence for glyph in own) >= AGREED]
    numbers = sum(text.isdecimal() for text in sure)
    return numbers >= max(FIGURES, TIMES * sum(text.isalpha() for text in sure))


def _is_bare_edge(place: Place) -> bool:
    """Whether what stands at a place stands on an edge, and in nothing."""
    return place.on_lattice and not place.radius and not place.perhaps


def _is_letters(own: Sequence[Glyph], place: Place) -> bool:
    """Whether letters were read on a bare edge: a 6 that a line touches is like a C or a G."""
    return bool(own) and _is_bare_edge(place) and not _text(own, place).isdecimal()


def _is_figures(own: Sequence[Glyph], place: Place, guesses: Sequence[Guess]) -> bool:
    """Whether the network sees figures where letters were read on a bare edge."""
    return _is_letters(own, place) and bool(guesses[0].text) and guesses[0].probability >= LIKELIER


def _expected(place: Place, own: Sequence[Glyph], *, figures: bool) -> Place:
    """A place with the characters that may stand there, beside those of the page: no letters where it sets `figures`,
    and none that mean nothing beside those that were read."""
    if figures and _is_letters(own, place):
        return replace(place, allowed=DIGITS)
    return replace(place, allowed=place.allowed.replace(LETTERS, NUMERALS)) if _text(own, place).isdecimal() else place


def _is_single(place: Place) -> bool:
    """Whether one text stands at a place, or perhaps does on a patch of paper, in a window that the network knows."""
    return (not place.perhaps or place.patched) and place.numbers == 1 and place.frame is None


def read_whole(places: Sequence[Place], seen: Print) -> list[tuple[Guess, ...]]:
    """What the network reads at each place, likeliest first."""
    if not places:
        return []
    margin = seen.raster.origin / seen.raster.cell
    windows = [cut(seen.relative, _window_of(place), seen.raster.cell, margin) for place in places]
    reader = short_text_reader()
    found: dict[int, tuple[Guess, ...]] = {}
    for allowed in {place.allowed for place in places}:
        own = [at for at, place in enumerate(places) if place.allowed == allowed]
        characters = allowed if allowed == DIGITS else allowed + SIGNS
        found |= zip(own, reader.read([windows[at] for at in own], characters), strict=True)
    return [found[at] for at in range(len(places))]


def _window_of(place: Place) -> Box:
    """The window of a place."""
    if place.in_corner:
        return corner_window((place.box[0], place.box[1]))
    return circle_window(place.middle, place.radius) if place.radius else around(place.middle, EDGE)


def weighed_at(own: Sequence[Glyph], place: Place, guesses: Sequence[Guess], *, hard: bool) -> list[Glyph]:
    """What counts of what was read at a place, which was `hard` to read, and of the guesses of the network."""
    guess, sure = guesses[0], guesses[0].probability
    least = 0.0 if hard else min((glyph.confidence for glyph in own), default=0.0)
    if any(sign in guess.text for sign in SIGNS):
        return list(own)
    if own and _text(own, place) == _sorted(guess.text, place):
        lifted = sure >= AGREED and not _may_go_on(own, place, least)
        return [_as_sure(glyph, sure) for glyph in own] if lifted else list(own)
    figures = [glyph for glyph in own if glyph.text.isdecimal()]
    if place.in_corner and 0 < len(figures) < len(own) and _text(figures, place) == guess.text:
        # A sign that stands in its room reads as a letter, and is none of a total.
        others = [glyph for glyph in own if not glyph.text.isdecimal()]
        return [*weighed_at(figures, place, guesses, hard=hard), *others]
    if _gives_way(own, place, least, guess):
        return [_told(own, place, guesses)]
    if _is_put_against(_text(own, place), least, _sorted(guess.text, place), sure):
        return [_doubted(glyph, guess if len(own) == 1 else None) for glyph in own]
    return list(own)


def _weighed_in_crossed(own: Sequence[Glyph], place: Place, guesses: Sequence[Guess], *, hard: bool) -> list[Glyph]:
    """The same of a circle that walls run through: whoever reads its digits one by one may be as sure of one that a
    wall has made another as the network is in the picture as it is."""
    text, sure = guesses[0].text, guesses[0].probability
    least = 0.0 if hard else min((glyph.confidence for glyph in own), default=0.0)
    same = bool(own) and _text(own, place) == text
    if (same and sure >= BOTH) or not text:
        return [_as_sure(glyph, sure) for glyph in own] if same else list(own)
    as_read = sum(guess.probability for guess in guesses if guess.text == _text(own, place))
    if as_read >= sure - TIED:
        guesses = sorted(guesses, key=lambda guess: guess.text != _text(own, place))
    return [_told(own, place, guesses)] if least < WEAK or as_read < SHARED else list(own)


def _may_go_on(own: Sequence[Glyph], place: Place, least: float) -> bool:
    """Whether a weakly read total of one figure may have another one: where a given covers it, the network sees as
    little of it as anybody. Behind its sign nothing follows."""
    return place.in_corner and least <= HALF and len(_text(own, place)) == 1


def _is_on_corner(place: Place) -> bool:
    """Whether a place is a circle on the corner of four cells."""
    return bool(place.radius) and place.on_lattice and place.allowed == DIGITS


def _gives_way(own: Sequence[Glyph], place: Place, least: float, guess: Guess) -> bool:
    """Whether a reading, of which the least sure character is so sure, gives way to another of the network."""
    text, sure = _text(own, place), guess.probability
    if sure >= SURELY and len(guess.text) == len(text) and _reaches_rim(own, place):
        return True
    return least < min(WEAK, sure) and sure >= _needed(text, guess.text, circle=_is_on_corner(place))


def _reaches_rim(own: Sequence[Glyph], place: Place) -> bool:
    """Whether a digit in a circle on a corner ends where the circle's line was cut off: a 7 that has lost the end of
    its bar there, and runs into the line, looks surely like a 1 in all looks. The network sees it with the line."""
    if not _is_on_corner(place) or place.dark or place.frame is not None:
        return False
    corners = [(x, y) for glyph in own for x in glyph.box[::2] for y in glyph.box[1::2]]
    return any(math.dist(corner, place.middle) >= INSIDE * place.radius for corner in corners)


def _needed(text: str, whole: str, *, circle: bool) -> float:
    """How sure the network must be of what a weak reading gives way to. It loses slim strokes that touch a wall, and
    takes dashes of walls for them; but in a `circle` on a corner it sees what is a dash better than who reads digits
    one by one."""
    if circle and whole:
        return LIKELIER
    more = Counter(whole) - Counter(text)
    if not more:
        return NEVER
    return SURELY if text and set(more) == {"1"} and len(whole) > len(text) else LIKELIER


def _is_put_against(text: str, least: float, whole: str, sure: float) -> bool:
    """Whether what the network reads is put against a sure reading, of which the least sure character is so sure."""
    if len(whole) > len(text):
        return sure >= LONGER and not Counter(text) - Counter(whole)
    return len(whole) == len(text) and sure >= AS_LONG and least <= NO_MORE


def _text(own: Sequence[Glyph], place: Place) -> str:
    """What was read at a place, the digits of a circle on a corner in the order of their size: it has no other."""
    return _sorted("".join(glyph.text for glyph in sorted(own, key=lambda glyph: glyph.box[0])), place)


def _sorted(text: str, place: Place) -> str:
    return "".join(sorted(text)) if place.allowed == DIGITS and place.on_lattice else text


def _as_sure(glyph: Glyph, sure: float) -> Glyph:
    """A reading that the network shares, as sure as the surer of both."""
    first, *rest = glyph.guesses
    return replace(glyph, guesses=(Guess(first.text, max(first.probability, sure)), *rest))


def _told(own: Sequence[Glyph], place: Place, guesses: Sequence[Guess]) -> Glyph:
    """What the network reads, in the place of what was read: surely where nothing but a part of it was read. In corners
    in which nothing was, it sees a number now and then where there is none."""
    text, sure = guesses[0].text, guesses[0].probability
    lost = not Counter(_text(own, place)) - Counter(text)
    most = 1.0 if lost and sure >= SURELY and (own or not place.in_corner) else WEAK
    if not lost and sure >= SURELY and _has_all_but_one(own, place, text):
        most = BUT_ONE
    texts = {guess.text: min(most, guess.probability) for guess in guesses if guess.text}
    for other in own[0].guesses if len(own) == 1 else ():
        texts.setdefault(other.text, other.probability * (1 - sure))
    told = tuple(Guess(text, chance) for text, chance in texts.items())
    if own:
        box = box_of_all(glyph.box for glyph in own)
        return replace(own[0], guesses=told, box=_with_lost(box, _text(own, place), text, place))
    box = _usual_box(place, len(text))
    return Glyph(box, told, box[3] - box[1], (0, 0, 0), "shape")


def _has_all_but_one(own: Sequence[Glyph], place: Place, whole: str) -> bool:
    """Whether a weak reading and what the network sees are the same but for one character of each: the one was misread,
    and the others say that this is the text."""
    read, seen = Counter(_text(own, place)), Counter(whole)
    weak = min((glyph.confidence for glyph in own), default=0.0) < WEAK
    return weak and bool(read & seen) and max((read - seen).total(), (seen - read).total()) <= 1


def _with_lost(box: Box, text: str, whole: str, place: Place) -> Box:
    """The box of a text of which no more than `text` was found, and the room of what was lost of the `whole`."""
    lost = len(whole) - len(text)
    if lost <= 0:
        return box
    if place.radius:
        return box_of_all((box, box_at(place.middle, PART * place.radius)))
    before = max(whole.find(text), 0)
    wide = WIDEST * (box[3] - box[1])
    left, right = box[0] - before * wide, box[2] + (lost - before) * wide
    return max(left, min(box[0], place.box[0])), box[1], min(right, max(box[2], place.box[2])), box[3]


def _usual_box(place: Place, figures: int) -> Box:
    """Where so many figures may stand at a place at which none was found."""
    if not place.in_corner:
        return box_at(place.middle, PART * (place.radius or UNSEEN))
    x, y = place.box[0] + INSET, place.box[1] + INSET
    return x, y, x + figures * FIGURE[0], y + FIGURE[1]


def _doubted(glyph: Glyph, guess: Guess | None) -> Glyph:
    first, *rest = glyph.guesses
    named = [] if guess is None or not guess.text else [Guess(guess.text, HALF * guess.probability)]
    texts = {one.text for one in named}
    return replace(
        glyph,
        guesses=(
            Guess(first.text, min(first.probability, HALF)),
            *named,
            *(other for other in rest if other.text not in texts),
        ),
    )
