"""A stain that passes for one of the circles that mark cells is asked about."""

from dataclasses import replace

from recognise.doubt.darker_alone import darker_alone
from recognise.evidence import Disc
from recognise.pixels.frame import Raster

RASTER = Raster(9, 9, 64, 192)
PRINTED = [Disc((x + 0.5, 0.5), 0.34, (215 + x, 215 + x, 212), None, "shape", 1.0) for x in range(5)]
STAIN = Disc((4.5, 4.5), 0.41, (178, 178, 176), None, "shape", 1.0)


def test_a_circle_that_is_darker_than_all_others_is_asked_about() -> None:
    (where,) = darker_alone([*PRINTED, STAIN], RASTER)
    assert all(4 < x < 5 and 4 < y < 5 for x, y in where)
    assert list(darker_alone(PRINTED, RASTER)) == []


def test_two_kinds_of_circles_and_circles_on_edges_are_none() -> None:
    dark = replace(STAIN, centre=(6.5, 4.5))
    assert list(darker_alone([*PRINTED, STAIN, dark], RASTER)) == []
    assert list(darker_alone([*PRINTED, replace(STAIN, centre=(4.0, 4.5))], RASTER)) == []


def test_few_circles_tell_nothing_nor_does_another_colour() -> None:
    assert list(darker_alone([*PRINTED[:3], STAIN], RASTER)) == []
    assert list(darker_alone([*PRINTED, replace(STAIN, fill=(120, 160, 215))], RASTER)) == []
