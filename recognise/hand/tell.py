"""Print told from handwriting, by what the print of one page keeps the same.

The givens of a grid stand at one height in their cells, in one size, weight, ink and sharpness, and equal digits have
one shape. So the things in the cells that agree most closely are the print (the densest group that is tightest in
place); what lies far from it, and is like no printed digit, was written by hand. Nothing is learned from other pages.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.draft import Doubt, box_polygon
from recognise.evidence import Evidence, Guess
from recognise.geometry import holds, middle
from recognise.hand.digits import HandReader, both
from recognise.hand.groups import leaning
from recognise.hand.pencilled import Hand, Pencilled
from recognise.hand.strokes import HEIGHT, INK, PLACE, Floats, Thing, things
from recognise.hand.without import without_hand
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink
from schema.cells import Cell

Read = Callable[[Sequence[Thing]], list[tuple[Guess, ...]]]
"""Reads things as digits: for each its guesses, best first, '' for none."""
Flags = npt.NDArray[np.bool_]

USUAL = np.array([0.025, 0.025, 0.03, 0.025, 0.015, 0.06, 0.03, 0.03, 2.0])
"""How much each feature varies in print that was photographed: a pixel or two of 64, a fifth of a stroke, light."""
TIGHTEST = np.array([0.65, 0.65, 0.65, 0.65, 0.45, 0.45, 0.45, 0.45, 0.45])
LOOSEST = 1.4
"""Bounds of what a group's own variation is taken for, in USUAL: places are measured to a pixel at best."""
CAPPED = 6.0
"""Deviations count no more than this: one feature that is off by far is not everything."""
DENSE = 0.8
"""Things this near to each other are neighbours when the densest place is sought."""
MEMBER = 1.35
"""Things this near to the middle of a group belong to it."""
ROUNDS = 8
GROUPS = 4
EVENLY = 0.024
"""In cells: places and heights of print vary no more than this (a fold included), of handwriting more."""
LARGEST = 9
"""Rows or columns: larger grids hold numbers of two figures and letters."""
FEWEST = 8
"""A group of fewer is no print: puzzles have twice as many givens."""
LIKE = 0.88
"""Correlation of two printed digits of the same value, blurred as they may be; of written and printed ones, one in two
hundred reaches it."""
FARTHEST = 3.3
"""A printed digit is no farther off, even if a fold or a shadow lies on it."""
SAME, DIFFERS = 0.04, 0.15
"""How far below that of the page's printed digits the likeness of two of one shape may lie; where it ends."""
BONUS = 0.9
"""What having the shape of a printed digit is worth against distance from the print."""
WORTH, EVEN = 2.0, 0.5
"""What it costs to be less like any printed digit than that: a digit that occurs once has no like, and other digits
are as like as that."""
PRINTED, WRITTEN = 1.45, 2.8
"""Up to the first a thing is surely printed, from the last on it is surely written."""
BETWEEN = 1.0, 3.2
"""Where the border between print and handwriting is sought: in the widest gap. Blurred print varies more than sharp."""
STEADY = 0.5
"""Print goes on beyond PRINTED as long as no gap is wider than this."""
CERTAIN = 6.0
"""What leans so far to the print or to the handwriting, once both are known (logarithm of how much likelier: 400 to 1),
is surely that; less is asked about."""
AGAINST = 9.0
"""The same where distance from the print alone says otherwise."""
FAR = 2.3
"""What is surely written is this far off by place and ink alone, and by shape too where its ink is another."""
OTHER_INK = 3.0
"""Two of the features of the ink that lie this far from the print's make it another ink."""
ESTABLISHED, DIFFERENT = 4, 3
"""Somebody has written here when so many things are surely written and read as so many different digits..."""
READ = 0.8
"""... each with that probability..."""
DIGITS = 0.8
"""The part of the print that reads as digits of that probability; on 114 newspaper photos with handwriting it is never
under 0.94."""
STROKES = "17"
"""... apart from those that a bar or a corner looks like..."""
SURE_MARK = 0.9
"""Lines and circles of this confidence are no handwriting: strokes of a pen seldom run from one cell to the next."""
LEAST_CIRCLE = 0.2
"""In cells: radius of the smallest circle in a cell; smaller ones are dots between cells."""
IN_CELL = 0.1
"""In cells: so near to an edge a sign on it has ink, and a digit by itself has none."""
UNEVEN = 0.027
"""... and stand and measure as differently as print never does, in cells: small print does not."""
LEGIBLE = 0.5
"""What is written is told as a digit from this probability on."""
SMALLEST_GIVEN = 0.28
"""In cells: height of the smallest givens; totals are at most as high."""
SMALL_HAND = 0.2
"""In cells: what is lower is a dot or a dash, and not taken for handwriting without being read."""


def tell_hand(
    evidence: Evidence, ink: Ink, raster: Raster, read: Read, written_digits: HandReader | None = None
) -> tuple[Evidence, Hand]:
    """The evidence without what somebody has written into the grid, and that by itself. Unless it is plain that there
    is handwriting, everything stays as it is. `read` knows print, `written_digits` handwriting."""
    if max(raster.rows, raster.columns) > LARGEST:
        return evidence, Hand()
    seen = _without_totals(things(ink, raster))
    marked = _marked(evidence, seen, raster)
    told = _told(seen, read, marked)
    if told is not None and not _reads_as_print(told):
        # Lines and other marks stand evenly too, and digits beside them would pass for handwriting.
        seen = [thing for thing, guess in zip(seen, told.guesses, strict=True) if guess[0].text.isdecimal()]
        told = _told(seen, read, marked)
    if told is None or not _reads_as_print(told):
        return evidence, Hand()
    by_looks = told.guesses
    if written_digits is not None:
        by_looks = [both(guess, says) for guess, says in zip(told.guesses, written_digits.read(seen), strict=True)]
    pencilled = [
        _pencilled(thing, looks) for thing, looks, hand in zip(seen, by_looks, told.by_hand, strict=True) if hand
    ]
    why = "it is not plain whether this is printed in {} or written by hand"
    doubts = [Doubt(why.format(thing.cell), where=box_polygon(thing.box)) for thing in _of(seen, told.in_doubt)]
    return without_hand(evidence, pencilled), Hand(tuple(pencilled), tuple(doubts))


@dataclass(frozen=True, slots=True)
class _Told:
    """What was read of some things, which of them were written by hand, and which may be either."""

    guesses: list[tuple[Guess, ...]]
    by_hand: Flags
    in_doubt: Flags


def _marked(evidence: Evidence, seen: Sequence[Thing], raster: Raster) -> frozenset[Cell]:
    """The cells through which lines run of which there is no doubt, those in which such circles stand, and those in
    which such a sign, reaching in from an edge, is one with what stands there."""
    on_lines = {cell for trace in evidence.traces if trace.confidence >= SURE_MARK for cell in trace.nodes}
    round_ones = (disc for disc in evidence.discs if disc.confidence >= SURE_MARK and disc.radius >= LEAST_CIRCLE)
    around = {raster.cell_of(*disc.centre) for disc in round_ones}
    signs = [s for s in evidence.shapes if s.name == "sign" and s.confidence >= SURE_MARK]
    inner = [place for sign in signs for place in _beside_edge(middle(sign.box))]
    touched = {thing.cell for thing in seen if any(holds(thing.box, place) for place in inner)}
    return frozenset(on_lines | touched | {cell for cell in around if cell is not None})


def _beside_edge(place: Point) -> tuple[Point, Point]:
    """The two places right beside an edge, in the cells that it parts, where a sign on it stands."""
    x, y = place
    if abs(x - round(x)) < abs(y - round(y)):
        return (round(x) - IN_CELL, y), (round(x) + IN_CELL, y)
    return (x, round(y) - IN_CELL), (x, round(y) + IN_CELL)


def _told(seen: Sequence[Thing], read: Read, marked: Collection[Cell]) -> _Told | None:
    """Print and handwriting among some things; None where it is not plain that both are there, apart from cells that
    are `marked`: a printed digit on a line is one thing with it, and stands and measures as no other does."""
    measured = _apart_from_print(seen) if len(seen) >= FEWEST else None
    if measured is None or (measured[0] > FAR).sum() < ESTABLISHED:
        return None
    off, placed = measured
    guesses = read(seen)
    far_off = (placed >= FAR) & ((off >= WRITTEN) | ((off >= FAR) & _other_ink(seen, off)))
    old_style = np.array([far >= FAR and _old_style(one, seen, off) for far, one in zip(off, seen, strict=True)])
    alone = np.array([thing.cell not in marked for thing in seen])
    if not _established(seen, guesses, (off >= FAR) & ~old_style & alone):
        return None
    printed, border = _borders(off)
    legible = np.array([_legible(thing, guess) for thing, guess in zip(seen, guesses, strict=True)])
    # By distance from the print alone; then by both groups, where the page shows two.
    by_hand = (off > border) & ~old_style
    in_doubt = np.where(old_style, border > printed, off > printed) & ~(by_hand & far_off & legible)
    lean = leaning(np.array([thing.features for thing in seen]) / USUAL, _alike(seen), off)
    if lean.any():
        enough = np.where((lean < 0) == by_hand, CERTAIN, AGAINST)
        by_hand = (lean < 0) & ~old_style
        in_doubt = (np.abs(lean) < enough) | (by_hand & ~legible) | (old_style & (lean < enough))
    return _Told(guesses, by_hand, in_doubt)


def _reads_as_print(told: _Told) -> bool:
    """Whether nearly all that is taken for print reads as digits, as it does on every photo with handwriting."""
    print_ = [guess[0] for guess, by_hand in zip(told.guesses, told.by_hand, strict=True) if not by_hand]
    sure = sum(guess.text.isdecimal() and guess.probability >= READ for guess in print_)
    return len(print_) >= FEWEST and sure >= DIGITS * len(print_)


def _without_totals(seen: list[Thing]) -> list[Thing]:
    """Things without print that is too small for givens: beside the totals of cages, which are many and stand evenly,
    a few givens would pass for handwriting."""
    while len(seen) >= FEWEST:
        members = _print(np.array([thing.features for thing in seen]))
        if members is None or np.median([thing.features[HEIGHT] for thing in _of(seen, members)]) >= SMALLEST_GIVEN:
            break
        seen = _of(seen, ~members)
    return seen


def _of(seen: Sequence[Thing], flags: Flags) -> list[Thing]:
    return [thing for thing, flag in zip(seen, flags, strict=True) if flag]


def _apart_from_print(seen: Sequence[Thing]) -> tuple[Floats, Floats] | None:
    """How far each thing is from the print, with likeness of shape counted and without; None where no group is like
    print. The group is widened by what has the shape of one of its members: a fold moves a digit, and leaves its
    shape."""
    features = np.array([thing.features for thing in seen])
    members = _print(features)
    if members is None:
        return None
    alike = _alike(seen)
    for _ in range(ROUNDS):
        off = _off(features, members)
        like = np.where(members[None], alike, -1.0).max(axis=1)
        wider = members | ((like >= LIKE) & (off <= FARTHEST))
        if (wider == members).all():
            break
        members = wider
    usual = float(np.median(like[members]))
    same = np.clip((like - usual + DIFFERS) / (DIFFERS - SAME), 0, 1)
    return np.asarray(off - BONUS * same + WORTH * np.maximum(EVEN - like, 0), np.float64), off


def _alike(seen: Sequence[Thing]) -> Floats:
    """The correlation of each thing's shape with each other's, -1 with its own."""
    pictures = np.array([thing.picture for thing in seen])
    alike = pictures @ pictures.T
    np.fill_diagonal(alike, -1.0)
    return np.asarray(alike, np.float64)


def _borders(off: Floats) -> tuple[float, float]:
    """Up to where things are surely printed, and from where on they are taken for written."""
    low, high = BETWEEN
    ordered = np.sort(off)
    ends = np.concatenate([ordered[ordered < low][-1:], ordered[(ordered >= low) & (ordered <= high)],
                           ordered[ordered > high][:1]])  # fmt: skip
    if len(ends) < 2:
        return PRINTED, PRINTED
    widest = int(np.diff(ends).argmax())
    border = float(ends[widest] + ends[widest + 1]) / 2
    steady = PRINTED
    for value in ordered[(ordered > PRINTED) & (ordered < border)]:
        if value - max(steady, float(ordered[ordered <= PRINTED].max(initial=0.0))) > STEADY:
            break
        steady = float(value)
    return min(steady, border), border


def _print(features: Floats) -> Flags | None:
    """The things that agree most closely; None where no group is like print."""
    apart = _norm((features[:, None] - features[None]) / USUAL)
    left = np.ones(len(features), np.bool_)
    best: tuple[float, float] = (np.inf, 0.0)
    found: Flags | None = None
    for _ in range(GROUPS):
        density = ((apart < DENSE) & left[None]).sum(axis=1) * left
        seed = (apart[int(density.argmax())] < DENSE) & left
        if seed.sum() < FEWEST:
            break
        members = _grown(features, seed)
        if members.sum() >= FEWEST:
            spread = float(features[members][:, PLACE].std(axis=0).mean())
            # Print may fall apart into several even groups (a shadow lies on some): the largest of those.
            rank = (max(spread, EVENLY), -float(members.sum()))
            if rank < best:
                best, found = rank, members
        left &= ~(members | seed)
    return found


def _grown(features: Floats, members: Flags) -> Flags:
    """A group grown to all that lies near its middle."""
    for _ in range(ROUNDS):
        near = _off(features, members) < MEMBER
        if not near.any() or (near == members).all():
            break
        members = near
    return members


def _off(features: Floats, members: Flags) -> Floats:
    """How far each thing lies from the middle of a group, in the group's own variation."""
    middle = np.median(features[members], axis=0)
    deviation = 1.85 * np.median(np.abs(features[members] - middle), axis=0)
    return _norm((features - middle) / np.clip(deviation, TIGHTEST * USUAL, LOOSEST * USUAL))


def _norm(deviations: Floats) -> Floats:
    return np.asarray(np.sqrt((np.minimum(np.abs(deviations), CAPPED) ** 2).mean(axis=-1)), np.float64)


def _established(seen: Sequence[Thing], guesses: Sequence[tuple[Guess, ...]], written: Flags) -> bool:
    """Whether somebody has surely written here. Printed marks are not taken for it: they read as no digits, or all as
    one, and small print is as even as large."""
    sure = [
        (thing, g[0].text)
        for thing, g, by_hand in zip(seen, guesses, written, strict=True)
        if by_hand and g[0].text.isdecimal() and g[0].text not in STROKES and g[0].probability >= READ
    ]
    if len(sure) < ESTABLISHED or len({text for _, text in sure}) < DIFFERENT:
        return False
    places = np.array([thing.features[PLACE] for thing, _ in sure])
    return bool(places.std(axis=0).mean() >= UNEVEN)


def _other_ink(seen: Sequence[Thing], off: Floats) -> Flags:
    """Whether each thing was drawn with another ink than the print: in tone, colour, width or sharpness."""
    inks = np.array([thing.features[INK] for thing in seen])
    core = inks[off <= PRINTED] if (off <= PRINTED).any() else inks
    middle = np.median(core, axis=0)
    usual = np.clip(1.85 * np.median(np.abs(core - middle), axis=0), TIGHTEST[INK] * USUAL[INK], LOOSEST * USUAL[INK])
    return np.asarray((np.abs(inks - middle) / usual >= OTHER_INK).sum(axis=1) >= 2, np.bool_)


def _old_style(thing: Thing, seen: Sequence[Thing], off: Floats) -> bool:
    """Whether it may be print that stands otherwise than most: figures with ascenders and descenders. Another thing has
    its very shape and place, and the ink is that of the print."""
    core = np.array([other.features for other, far in zip(seen, off, strict=True) if far <= PRINTED])
    ink = np.abs(thing.features[INK] - np.median(core[:, INK], axis=0)) / USUAL[INK]
    if (ink > 3).any():
        return False
    return any(
        other is not thing
        and float(other.picture @ thing.picture) >= LIKE
        and bool((np.abs(other.features[PLACE] - thing.features[PLACE]) <= USUAL[PLACE]).all())
        for other in seen
    )


def _legible(thing: Thing, guesses: tuple[Guess, ...]) -> bool:
    """Whether it is as large as a digit, or reads as one: a dot or a dash among handwriting may be a printed mark."""
    as_digit = guesses[0].text.isdecimal() and guesses[0].probability >= READ
    return as_digit or thing.box[3] - thing.box[1] >= SMALL_HAND


def _pencilled(thing: Thing, guesses: tuple[Guess, ...]) -> Pencilled:
    best = next((g for g in guesses if g.text.isdecimal()), None)
    if best is None or best.probability < LEGIBLE or best.text == "0":
        return Pencilled(thing.cell, thing.box, None, best.probability if best else 0.0, guesses)
    return Pencilled(thing.cell, thing.box, int(best.text), best.probability, guesses)
