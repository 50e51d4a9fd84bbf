"""Rings round numbers are of one size on a page: one that was measured by the hole of its 8 is measured anew."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc
from recognise.marks.discs import Round
from recognise.marks.looking import Looking
from recognise.marks.sights import Sight
from recognise.marks.sizes import arms_of_signs, in_one_size, of_one_size, uncovered
from recognise.pixels.frame import Raster

CELL, MARGIN, RADIUS = 64, 1, 0.18
RASTER = Raster(4, 4, CELL, MARGIN * CELL)
PLACES = [(1.0, 0.5), (2.0, 1.5), (0.5, 3.0), (3.0, 3.5)]


def _looking(radii: dict[tuple[float, float], float]) -> Looking:
    ink = np.zeros((6 * CELL, 6 * CELL), np.uint8)
    for (x, y), radius in radii.items():
        centre = round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)
        cv2.circle(ink, centre, round(radius * CELL), 200, 2)
        for hole in (-4, 4):
            cv2.circle(ink, (centre[0], centre[1] + hole), 3, 200, 2)
    whole = cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8)
    relative = np.repeat(1 - whole[..., None], 3, axis=2)
    return Looking(whole, whole, relative, RASTER, 0.05, None)  # type: ignore[arg-type]


def _disc(place: tuple[float, float], radius: float = RADIUS) -> Disc:
    return Disc(place, radius, (255, 255, 255), (60, 60, 60), "shape")


def test_a_ring_measured_by_the_hole_of_its_number_is_as_large_as_the_others() -> None:
    discs = [*map(_disc, PLACES[:3]), _disc(PLACES[3], 0.055)]
    found = in_one_size(discs, discs, _looking(dict.fromkeys(PLACES, RADIUS)))
    assert found[:3] == discs[:3]
    assert found[3].radius == pytest.approx(RADIUS + 1 / CELL, abs=0.02)  # to the outer side of its rim
    assert replace(found[3], radius=0.055) == discs[3]


def test_a_ring_that_is_seen_in_no_other_size_is_as_large_as_the_others() -> None:
    discs = [*map(_disc, PLACES[:3]), _disc(PLACES[3], 0.055)]
    assert in_one_size(discs, discs, _looking({}))[3].radius == RADIUS
    larger = [*discs[:3], _disc(PLACES[3], 0.3)]
    assert in_one_size(larger, larger, _looking({})) == larger


def test_a_dot_without_a_number_is_as_large_as_it_is() -> None:
    discs = [*map(_disc, PLACES[:3]), _disc(PLACES[3], 0.055)]
    looking = _looking(dict.fromkeys(PLACES, RADIUS))
    assert in_one_size(discs, discs[:3], looking) == discs
    assert in_one_size(discs[2:], discs[2:], looking) == discs[2:]


def test_dots_that_seem_smaller_than_those_of_their_look_are_as_large() -> None:
    inner, gap = _disc(PLACES[2], 0.15), _disc(PLACES[3], 0.055)
    dark = replace(_disc((2.5, 3.0), 0.1), fill=(30, 30, 30), outline=None)
    others = [_disc(place) for place in ((1.0, 0.5), (2.0, 1.5), (2.0, 0.5))]
    looking = _looking(dict.fromkeys(PLACES, RADIUS))
    found = in_one_size([*others, inner, gap, dark], [], looking)
    assert [disc.radius for disc in found] == [RADIUS] * 5 + [0.1]
    small = _looking({**dict.fromkeys(PLACES[:3], RADIUS), PLACES[3]: 0.05})
    assert in_one_size([*others, inner, gap], [], small)[-1] == gap, "a small dot"


def test_a_dark_dot_is_as_dark_as_its_rim_whatever_its_number_covers() -> None:
    plain = replace(_disc(PLACES[0], 0.13), fill=(60, 60, 60), outline=None)
    covered = replace(_disc(PLACES[1], 0.14), fill=(134, 132, 136), outline=(64, 62, 64))
    found = uncovered([plain, covered], [covered])
    assert found[0] == plain
    assert (found[1].fill, found[1].outline) == ((64, 62, 64), None)
    assert uncovered([plain, covered], []) == [plain, covered]
    rimmed = replace(covered, fill=(28, 27, 34), outline=(57, 29, 87))
    assert uncovered([plain, rimmed], [rimmed]) == [plain, rimmed], "its ground shows beside the number"
    large, ring = replace(covered, radius=0.25), replace(covered, fill=(255, 255, 255))
    assert uncovered([plain, large, ring], [large, ring]) == [plain, large, ring]
    assert uncovered([covered], [covered]) == [covered], "a grey dot with a dark outline"


def test_circles_on_corners_are_as_large_as_those_measured_about_their_corners() -> None:
    corners = [(1.0, 1.0), (2.0, 1.0), (1.0, 3.0), (3.0, 2.0)]
    looking = _looking(dict.fromkeys(corners, 0.3))
    sound = Round((0.0, 0.0), 0.3, (255, 255, 255), (60, 60, 60))
    rounds = [(place, 1.0, replace(sound, centre=place)) for place in corners[:3]]
    # What digits in bold look like, off the corner.
    rounds.append((corners[3], 1.0, replace(sound, centre=(3.08, 1.96), radius=0.22)))
    found = list(of_one_size(rounds, looking))
    assert found[:3] == rounds[:3]
    (place, _, last) = found[3]
    assert last is not None
    assert last.radius == pytest.approx(0.3, abs=0.03)
    assert last.centre == pytest.approx(place, abs=0.02)
    blank = _looking({})
    (_, _, unseen) = list(of_one_size(rounds, blank))[3]
    assert unseen == replace(sound, centre=corners[3])


@pytest.mark.parametrize("plane", [0, 1])
def test_signs_of_one_page_reach_as_far_as_their_arms(plane: int) -> None:
    """What runs into one of them makes it no longer, nor are two enough to tell."""
    places = [(1.0, 1.5), (2.0, 2.5), (3.0, 0.5)] if plane == 0 else [(1.5, 1.0), (2.5, 2.0), (0.5, 3.0)]
    ink = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for x, y in places:
        middle = np.array((x, y)) + MARGIN
        for way in (-1, 1):
            tip, end = (middle + np.array(off if plane == 0 else off[::-1]) for off in ((0.1, 0), (-0.1, way * 0.36)))
            first, last = (tuple(int(v) for v in np.rint(at * CELL)) for at in (tip, end))
            cv2.line(ink, first, last, 1.0, 2)
    x, y = places[0]
    ink[round((y + MARGIN - 0.45) * CELL) : round((y + MARGIN) * CELL), round((x + MARGIN - 0.1) * CELL)] = 1.0
    looking = Looking(ink, ink, np.repeat(1 - ink[..., None], 3, axis=2), RASTER, 0.05, None)  # type: ignore[arg-type]
    signs = [Sight(place, plane, {}) for place in places]
    assert arms_of_signs(signs, looking) == pytest.approx(0.37, abs=0.03)
    assert arms_of_signs(signs[:2], looking) == 0.0
