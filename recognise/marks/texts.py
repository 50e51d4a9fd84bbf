"""Characters that stand with marks: on edges, in circles on corners, in the corners of cages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds, middle
from recognise.marks.circles_alike import Told, settled, told_by_others
from recognise.marks.close_numbers import close_numbers
from recognise.marks.corner_tags import look_in_tags
from recognise.marks.covering import crossing
from recognise.marks.crossed_circles import freed
from recognise.marks.dark_plates import read_on_plates
from recognise.marks.hardly_seen import is_told, texts_of_edges
from recognise.marks.operations import agreed_sign, always_divided, complete_signs, sign_behind, with_sign
from recognise.marks.run_together import as_one, expected, middles_of, numbers_of, usual_aside
from recognise.marks.several_looks import is_dash, put_together, with_strokes
from recognise.marks.signs_first import Sign, painted, signs_first, with_signs, without
from recognise.marks.text_ink import (
    OTHER_INSIDES,
    Print,
    Wall,
    cut_out,
    darker_than_lines,
    light_on_dark,
    past_walls,
    runs_through,
    without_colours,
)
from recognise.marks.text_looks import (
    MOST_LEFT,
    SHARES,
    at_shares,
    look_beside_arrows,
    look_beside_walls,
    look_beyond_cut,
    look_for_own_shade,
    look_off_lines,
    look_past_circles,
    read_all,
)
from recognise.marks.text_places import LOW_FIGURE, Place, hard_to_read, on_line_above
from recognise.marks.text_readings import (
    AGREEING,
    DASH_LIKE,
    SURE,
    Reading,
    centred,
    contradicts,
    fullest,
    in_part,
    longest,
)
from recognise.marks.total_lines import hides_more, look_in_line
from recognise.marks.totals import MOST_FIGURES, complete_totals, is_flush, usual_start
from recognise.marks.trimmed import trimmed
from recognise.marks.whole_texts import weighed
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, Character, CharacterReader, as_glyph, box_around, mean_of, side_by_side
from recognise.pixels.hues import by_colour

UNSEEN = 0.2
"""In cells: radius of a circle that was not seen as one, if there is one."""
AS_TALL, TWICE, CLOSE = 0.6, 2.2, 0.8
"""As parts of a number's height: what is level with it for so much, not much taller, and so close may be of it."""
ONE_MORE = 0.5
"""How sure a number remains beside which something like another digit was not read, or that one look alone shows."""
LIKELY, BESIDE_FIGURES = 0.7, 0.3
"""Past walls: how sure each look is at least of which one is quite sure, and the part of the ink of a circle that rests
of dashes are beside its figures at most."""
FIGURES = str.maketrans({"I": "1", "L": "1", "O": "0"})
"""Which figures letters are that stand beside figures: old-style ones look like small capitals."""
NEITHER = 0.02
"""How likely a number is neither of what several looks are sure of."""


@dataclass(frozen=True, slots=True)
class _Looked:
    """What several looks at each place of a page read, and what all places say together."""

    readings: Mapping[Place, list[Reading]]
    otherwise: Mapping[Place, list[Reading]]
    """Of each circle on a corner, what is read in it without walls and cut to the size of its digits."""
    told: Mapping[Place, Told]
    """What the digits of the page's other circles tell of those."""
    in_doubt: frozenset[Place]
    usual: float | None
    """Where totals begin (`totals.usual_start`)."""
    aside: float | None
    """How far numbers lie from the middle of their places, against their arrows (`run_together.usual_aside`)."""


def read_texts(
    places: Sequence[Place],
    seen: Print,
    reader: CharacterReader,
    walls: Sequence[Wall] = (),
    before: Sequence[tuple[Place, float]] = (),
) -> tuple[list[Glyph], list[str]]:
    """The characters that stand at each place, put together to numbers, and words on places in which something is not
    read; `walls` of cages run through some circles, `before` is where the middles of numbers with arrows are that were
    read before."""
    crossed_by = crossing(walls, places, seen)
    plated = read_on_plates([place for place in places if place.in_corner], seen, reader)
    looked = _look_at([place for place in places if place not in plated], crossed_by, before, seen, reader)
    signs = signs_first(looked.readings, seen)
    looked = _without_signs(looked, signs, seen) if signs else looked
    glyphs, owners = list(plated.values()), list(plated)
    hard: dict[Place, str] = {}
    totals: dict[int, Place] = {}
    figures: dict[int, Sequence[Character]] = {}
    known = texts_of_edges(looked.readings)
    for place, readings in looked.readings.items():
        best = centred(readings, place) if place.on_lattice else longest(readings)
        if place.perhaps and not is_told(place, best, readings, known):
            continue  # nobody else expects a number there
        unread = (not best.characters and not place.perhaps) or (place.on_lattice and best.left > MOST_LEFT)
        if unread and not (place in looked.told and looked.told[place].plain):
            hard[place] = hard_to_read(place, (seen.raster.rows, seen.raster.columns))
        if place in looked.otherwise:
            digits = settled(_in_circle(place, best, looked, crossed_by, seen), looked.told.get(place))
            glyphs += digits
            owners += [place] * len(digits)
            continue
        groups = _groups_at(place, best, walls, looked.aside, seen)
        for group in groups:
            if place.in_corner and on_line_above(place, box_around(group)):
                continue
            if place.in_corner and not place.perhaps:
                totals[len(glyphs)], figures[len(glyphs)] = place, group
            glyph = _number(group, place, best, readings, seen, looked.usual, _next_to(group, groups))
            glyphs.append(glyph.less_sure(ONE_MORE) if place in looked.in_doubt else glyph)
            owners.append(place)
    complete_signs(glyphs, figures)
    complete_totals(glyphs, totals, seen)
    glyphs, owners, hard = close_numbers(glyphs, owners, hard, looked.readings, looked.aside, seen)
    free = freed(looked.readings, looked.told, crossed_by, seen)
    bare = painted(seen, signs.values()) if signs else seen
    glyphs, notes = weighed(glyphs, owners, hard, looked.readings, bare, free)
    return with_signs(glyphs, signs), notes


def _without_signs(looked: _Looked, signs: Mapping[Place, Sign], seen: Print) -> _Looked:
    """What the looks read, on a page whose totals have `signs` before them, of their figures alone."""
    readings = without(looked.readings, signs, seen.raster)
    return replace(looked, readings=readings, usual=usual_start(readings))


def _in_circle(place: Place, best: Reading, looked: _Looked, walls: Sequence[Wall], seen: Print) -> list[Glyph]:
    """What several looks at a circle on a corner read in it."""
    readings = looked.readings[place]
    looks = with_strokes([*readings, *looked.otherwise[place]], place, seen.raster)
    if digits := put_together(place, best, looks, walls):
        return [as_glyph([one], look.pieces, seen.relative).less_sure(ONE_MORE) for one, look in digits]
    groups = _groups_at(place, best, walls, looked.aside, seen)
    glyphs = [_number(group, place, best, readings, seen, looked.usual, _next_to(group, groups)) for group in groups]
    return [glyph.less_sure(ONE_MORE) for glyph in glyphs] if place in looked.in_doubt else glyphs


def _look_at(
    places: Iterable[Place],
    walls: Sequence[Wall],
    before: Sequence[tuple[Place, float]],
    seen: Print,
    reader: CharacterReader,
) -> _Looked:
    """All looks at places that are on no plate: `walls` run through circles, `before` as `read_texts` has it."""
    found = _looks([_with_low_figures(place, walls) for place in places], seen, reader)
    circles = [place for place in found if place.radius and not place.dark]
    on_corners = [place for place in circles if place.allowed == DIGITS]
    # The first looks at a circle are those at its ink as it is.
    trims = trimmed({place: found[place][: len(SHARES)] for place in on_corners}, walls, seen, reader)
    unsettled = _look_past_walls(circles, walls, found, seen, reader)
    look_past_circles(circles, found, seen, reader)

    def read(corners: Sequence[Place], ink: Grey) -> list[list[Reading]]:
        looks = at_shares(corners, ink, seen)
        return [read_all(place, looks, seen, reader) for place in corners]

    in_doubt = frozenset({*unsettled, *look_in_line(found, seen, read)})
    pointed = {place: longest(readings).characters for place, readings in found.items() if place.arrows}
    return _Looked(
        readings=found,
        otherwise={place: [*unsettled.get(place, ()), *trims.get(place, ())] for place in on_corners},
        told=told_by_others({place: found[place] for place in on_corners}, walls, seen),
        in_doubt=in_doubt,
        usual=usual_start(found),
        aside=usual_aside([*before, *middles_of(pointed)], seen.raster.columns),
    )


def _groups_at(
    place: Place, best: Reading, walls: Sequence[Wall], aside: float | None, seen: Print
) -> list[list[Character]]:
    """The characters of the best reading of a place, number by number; dashes of `walls` are none."""
    groups = numbers_of(side_by_side(best.characters), place.numbers, expected(place, aside))
    groups = as_one(groups) if place.arrows and place.numbers == 1 else groups
    if place.arrows:
        return [part for group in groups for part in by_colour(group, best.pieces, seen.relative)]
    if place.in_corner:
        return _without_dashes(groups)
    if place.on_lattice and not place.radius:
        return [group for group in groups if not all(is_dash(character, walls) for character in group)]
    return groups


def _without_dashes(groups: Sequence[list[Character]]) -> list[list[Character]]:
    """What stands in the corner of a cell without dashes apart and behind a number: its wall goes on there."""
    starts = [box_around(group)[0] for group in groups if any(c.guesses[0].text.isdecimal() for c in group)]

    def is_dashes(group: Sequence[Character]) -> bool:
        return all(c.guesses[0].text in (*DASH_LIKE, "-") for c in group)

    return [group for group in groups if not is_dashes(group) or box_around(group)[0] <= min(starts, default=0.0)]


def _with_low_figures(place: Place, walls: Iterable[Wall]) -> Place:
    """A circle on a corner with low figures looked for as well, where no wall runs through it."""
    low = place.radius and place.allowed == DIGITS and not place.dark and not any(runs_through(w, place) for w in walls)
    return replace(place, shortest=LOW_FIGURE) if low else place


def _looks(places: Sequence[Place], seen: Print, reader: CharacterReader) -> dict[Place, list[Reading]]:
    """All readings of each place. What stands on a dark disc is lighter than it. In the corners of cells the ink of
    the place itself sets the thresholds: totals are often paler than givens, and dashes of their cage touch them."""
    corners = [place for place in places if not place.on_lattice]
    dark = [place for place in places if place.dark and place.radius]
    in_corners = [*at_shares(corners, seen.drawn, seen), (seen.drawn, seen.pieces)]
    on_dark = at_shares(dark, light_on_dark(dark, seen), seen) if dark else []
    on_lines = _looks_on_lines([place for place in places if place.on_lattice], dark, seen, reader)
    found = {
        place: on_lines[place]
        if place in on_lines
        else read_all(place, on_dark if place in dark else in_corners, seen, reader)
        for place in places
    }
    in_parts = [place for place in on_lines if in_part(fullest(found[place]), place, seen.raster)]
    _look_wider(in_parts, found, seen, reader)
    look_beyond_cut(on_lines, found, seen, reader)
    in_corner = [place for place in corners if place.in_corner]
    grey, lined = without_colours(in_corner, seen)
    on_grey = at_shares(lined, grey, seen) if lined else []
    for place in lined:
        found[place] += read_all(place, on_grey, seen, reader)
    look_for_own_shade(list(on_lines), found, seen, reader)
    look_off_lines(in_corner, found, seen, reader)
    pointed = [place for place in corners if any(right and down for right, down in place.arrows)]
    look_beside_arrows(pointed, found, seen, reader)
    look_beside_walls(in_corner, found, seen, reader)
    look_in_tags(in_corner, found, seen, reader)
    return found


def _looks_on_lines(
    on_lattice: Sequence[Place], dark: Collection[Place], seen: Print, reader: CharacterReader
) -> dict[Place, list[Reading]]:
    """All readings of places on the lattice but `dark` ones. Characters mostly stand on a patch of paper there that
    cuts its lines off, and taking the lines out harms them; where no patch is, the lines have to be taken out. Both
    are looked at, the first at several thresholds, and what reads best is taken."""
    of_cut = at_shares(on_lattice, cut_out(on_lattice, seen), seen)
    darker, clear = darker_than_lines(on_lattice, seen)
    on_clear = at_shares(list(clear), darker, seen) if clear else []
    found = {}
    for place in on_lattice:
        if place in dark:
            continue
        readings = read_all(place, on_clear, seen, reader) if place in clear else []
        # Where the line is told from what stands on it, nothing need be taken out with it; it ends at a frame.
        told = place.frame is not None or any(reading.least >= SURE for reading in readings)
        looks = of_cut if told else [*of_cut, (seen.drawn, seen.pieces)]
        found[place] = [*read_all(place, looks, seen, reader), *readings]
    return found


def _look_wider(
    askew: Sequence[Place], found: Mapping[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Put to the readings of places on the lattice in which a part of the ink was read what wider cuts show."""
    for inside in OTHER_INSIDES if askew else ():
        whole = cut_out([place if place.radius else replace(place, radius=UNSEEN) for place in askew], seen, inside)
        wider = at_shares(askew, whole, seen)
        for place in askew:
            found[place].extend(read_all(place, wider, seen, reader))


def _look_past_walls(
    circles: Sequence[Place],
    walls: Sequence[Wall],
    found: dict[Place, list[Reading]],
    seen: Print,
    reader: CharacterReader,
) -> dict[Place, list[Reading]]:
    """Put in `found` what is read in circles with the walls of cages taken out that run through them, where all looks
    agree on figures and have all those that were read with the walls, but for dashes: one makes an 8 of a 3, or looks
    like a 1. Those circles are returned in which that is in doubt, with what is read so."""
    hollow = [place for place in circles if place.frame is None]  # walls end at frames
    crossed = [place for place in hollow if any(runs_through(wall, place) for wall in walls)]
    if not crossed:
        return {}
    looks = at_shares(crossed, past_walls(cut_out(crossed, seen), walls, seen.raster), seen)
    unsettled = {}
    for place in crossed:
        alone = read_all(place, looks, seen, reader)
        text, before = alone[0].text, fullest(found[place]).text
        whole = len(text) >= len(before.replace("1", "")) and text != ""
        alike = all(reading.text == text and reading.left <= BESIDE_FIGURES for reading in alone)
        sure = [reading.least for reading in alone]
        taken = whole and alike and min(sure) >= LIKELY and max(sure) >= SURE
        if taken:
            found[place] = alone
        if not taken or min(sure) < SURE:
            unsettled[place] = alone
    return unsettled


def _number(
    group: Sequence[Character],
    place: Place,
    best: Reading,
    readings: Sequence[Reading],
    seen: Print,
    usual: float | None,
    known: Sequence[Box] = (),
) -> Glyph:
    """Characters side by side as one number, in doubt where the looks at its place do not agree or more may stand
    there; `usual` is where totals begin on this page, `known` are the figures of numbers beside it."""
    glyph = _in_figures(as_glyph(group, best.pieces, seen.relative))
    flush = is_flush(glyph.box, place, usual)
    more = any(_more_beside(group, reading.near, seen.raster, flush, known) for reading in readings)
    alone = sum(reading.text == best.text for reading in readings) < AGREEING
    unsettled = not place.on_lattice and (more or alone)
    divided = place.in_corner and always_divided(group, [reading.near for reading in readings], seen.raster)
    unsettled |= place.in_corner and not divided and hides_more(glyph.text, glyph.box, seen)
    unsettled |= in_part(best, place, seen.raster)
    sure = [] if place.on_lattice else [reading for reading in readings if reading.least >= SURE]
    others = [reading.text for reading in sure if contradicts(reading, best, seen.raster)]
    if others and not unsettled and place.in_corner and all(text.isdecimal() for text in (glyph.text, *others)):
        glyph = _contested(glyph, others)
    elif unsettled or others:
        glyph = glyph.less_sure(ONE_MORE)
    signed = place.in_corner and place.allowed != DIGITS
    return _signed(glyph, group, readings, seen.raster) if signed else glyph


def _in_figures(glyph: Glyph) -> Glyph:
    """A number of two figures, one of them read as a letter, in figures: what reads the same then counts together. Of
    longer ones such a stroke may be a bit of a line."""
    mixed = [len(g.text) == 2 and any(map(str.isdecimal, g.text)) for g in glyph.guesses]
    texts = [g.text.translate(FIGURES) if some else g.text for g, some in zip(glyph.guesses, mixed, strict=True)]
    read = [Guess(text, g.probability) for text, g in zip(texts, glyph.guesses, strict=True)]
    return replace(glyph, guesses=mean_of([tuple(read)]))


def _signed(glyph: Glyph, number: Sequence[Character], readings: Sequence[Reading], raster: Raster) -> Glyph:
    """A number of a cage with the sign behind it, where the looks at it agree on one; in doubt where one look alone
    shows it."""
    told = [sign_behind(number, reading.near, raster) for reading in readings]
    sign = agreed_sign([sign for sign, _ in told], AGREEING)
    if not sign or not glyph.text.isdecimal():
        return glyph
    glyph = glyph if sum(name == sign for name, _ in told) >= AGREEING else glyph.less_sure(ONE_MORE)
    return with_sign(glyph, sign, next(box for name, box in told if name == sign and box is not None))


def _next_to(number: Sequence[Character], groups: Sequence[Sequence[Character]]) -> list[Box]:
    """The figures of the other numbers at a place, where it is sure which figure is of which number: each has as many
    as a sum has at most."""
    if any(len(group) != MOST_FIGURES for group in groups):
        return []
    others = (character for group in groups if group is not number for character in group)
    return [character.box for character in others if character.guesses[0].probability >= SURE]


def _more_beside(
    number: Sequence[Character], near: Iterable[Blob], raster: Raster, flush: bool = False, known: Sequence[Box] = ()
) -> bool:
    """Whether ink as tall as the digits of a number stands right beside it and is none of them: perhaps one more. What
    stands before a total that is `flush` with those of its page is none, nor are the `known` figures of others."""
    x0, y0, x1, y1 = box_around(number)
    tall = y1 - y0
    for blob in near:
        left, top, right, bottom = blob.box(raster)
        if any(holds(box, middle((left, top, right, bottom))) for box in known):
            continue
        level = min(bottom, y1) - max(top, y0) >= AS_TALL * tall and bottom - top <= TWICE * tall
        # What covers the number is its own ink, and a wall that it touches at this threshold.
        aside = min(right, x1) - max(left, x0) <= (x1 - x0) / 2 and not x0 <= (left + right) / 2 <= x1
        before = left < x0 and right < x1
        if level and aside and not (flush and before) and max(left - x1, x0 - right) <= CLOSE * tall:
            return True
    return False


def _contested(glyph: Glyph, others: Sequence[str]) -> Glyph:
    """A number of which other looks are sure that it is another."""
    first, *rest = glyph.less_sure(ONE_MORE).guesses
    chance = (1 - ONE_MORE) * (1 - NEITHER) / len(others)
    named = [Guess(text, chance * count) for text, count in Counter(others).items() if text != first.text]
    return replace(glyph, guesses=(first, *named, *(guess for guess in rest if guess.text not in others)))
