"""Short texts read as a whole: the network on places that cutting apart cannot read, and what counts of both."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks import whole_texts
from recognise.marks.circles_alike import TOLD
from recognise.marks.hardly_seen import without_odd_ones
from recognise.marks.short_text_classes import CLASSES, HEIGHT, WIDTH
from recognise.marks.short_texts import (
    ShortTextReader,
    around,
    circle_window,
    corner_window,
    cut,
    ink_window,
    normalised,
)
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place, in_circle, on_edge
from recognise.marks.text_readings import Reading
from recognise.marks.whole_texts import weighed_at
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS

READER = ShortTextReader()


def drawn(text: str, wall: bool = True) -> np.ndarray:
    """A window with a text in its upper left part, over which the dashes of a wall run."""
    window = np.full((HEIGHT * 4, WIDTH * 4, 3), 255, np.uint8)
    cv2.line(window, (10, 0), (10, HEIGHT * 4), (0, 0, 0), 3)
    cv2.line(window, (0, 26), (WIDTH * 4, 26), (0, 0, 0), 3)
    if wall:
        for x in range(24, WIDTH * 4, 24):
            cv2.line(window, (x, 40), (x + 12, 40), (0, 0, 0), 3)
    cv2.putText(window, text, (26, 104), cv2.FONT_HERSHEY_DUPLEX, 2.2, (0, 0, 0), 3, cv2.LINE_AA)
    return np.asarray(cv2.resize(window, (WIDTH, HEIGHT), interpolation=cv2.INTER_AREA), np.uint8)


@pytest.mark.parametrize("text", ["15", "7", "23", "48"])
def test_a_total_is_read_with_a_wall_that_runs_into_it(text: str) -> None:
    (guesses,) = READER.read([drawn(text)], DIGITS)
    assert guesses[0].text == text
    assert guesses[0].probability > 0.8


def test_where_nothing_stands_nothing_is_read() -> None:
    (guesses,) = READER.read([drawn("", wall=False)], DIGITS)
    assert guesses[0].text == ""
    assert guesses[0].probability > 0.9


def test_a_window_that_was_read_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    reader, run = ShortTextReader(), []
    scores = reader._run
    monkeypatch.setattr(reader, "_run", lambda windows: [run.append(len(windows)), scores(windows)][1])
    seven, nine = drawn("7"), drawn("9")
    first = reader.read([seven, nine, seven], DIGITS)
    assert run == [2]
    assert reader.read([nine], DIGITS) == [first[1]] == ShortTextReader().read([nine], DIGITS)
    assert run == [2]
    assert first[2] == first[0]


def test_only_what_is_allowed_is_read() -> None:
    (guesses,) = READER.read([drawn("15")], "02346789")
    assert not set("".join(guess.text for guess in guesses)) & set("15")


def test_no_windows_no_guesses() -> None:
    assert READER.read([], CLASSES) == []


def test_ground_is_nothing_and_black_is_ink_whatever_the_light() -> None:
    window = np.full((HEIGHT, WIDTH, 3), 90, np.uint8)
    window[20:24, 20:30] = 0
    found = normalised([window])
    assert found.shape == (1, 3, HEIGHT, WIDTH)
    assert found[0, :, 0, 0] == pytest.approx(0)
    assert found[0, :, 21, 25] == pytest.approx(-1)
    window[30:34] = 255
    assert normalised([window]).max() == 1


def test_windows_have_one_shape_and_go_beyond_the_picture() -> None:
    picture = np.full((64, 64, 3), 200, np.uint8)
    boxes = around((0.0, 0.0), 0.36), corner_window((0.0, 0.0)), ink_window((0.2, -0.7, 0.5, -0.4))
    for box in boxes:
        assert (box[2] - box[0]) / (box[3] - box[1]) == pytest.approx(WIDTH / HEIGHT, abs=0.01)
    for box in (*boxes, circle_window((1.0, 1.0), 0.3)):
        window = cut(picture, box, 64, 0)
        assert window.shape == (HEIGHT, WIDTH, 3)
        assert (window == 200).all()


CIRCLE = in_circle((3.0, 3.0), 0.25)
EDGE = on_edge((3.0, 2.5))


def read(text: str, sure: float, x: float = 3.0) -> Glyph:
    """A reading of some characters."""
    return Glyph((x - 0.05, 2.9, x + 0.05, 3.1), (Guess(text, sure),), 0.2, (0, 0, 0), "shape")


def told(text: str, sure: float) -> list[Guess]:
    """What the network says."""
    return [Guess(text, sure), Guess("8", 1 - sure)]


def test_what_both_read_is_as_sure_as_the_surer() -> None:
    (glyph,) = weighed_at([read("17", 0.5)], CIRCLE, told("71", 0.98), hard=False)
    assert (glyph.text, glyph.confidence) == ("17", 0.98)
    (glyph,) = weighed_at([read("17", 0.5)], CIRCLE, told("17", 0.7), hard=False)
    assert glyph.confidence == 0.5


def test_a_total_of_one_figure_beside_which_more_may_stand_stays_in_doubt() -> None:
    corner = replace(EDGE, in_corner=True)
    assert [glyph.confidence for glyph in weighed_at([read("7", 0.5)], corner, told("7", 0.999), hard=False)] == [0.5]
    assert [glyph.confidence for glyph in weighed_at([read("7", 0.9)], corner, told("7", 0.999), hard=False)] == [0.999]
    assert [glyph.confidence for glyph in weighed_at([read("7-", 0.5)], corner, told("7-", 0.99), hard=False)] == [0.99]
    assert [glyph.confidence for glyph in weighed_at([read("17", 0.5)], corner, told("17", 0.99), hard=False)] == [0.99]


def test_a_sign_that_reads_as_a_letter_beside_a_total_says_nothing_against_it() -> None:
    own = [read("22", 0.5), read("V", 0.5, 3.4)]
    corner = replace(EDGE, in_corner=True)
    found = weighed_at(own, corner, told("22", 0.99), hard=False)
    assert [(glyph.text, glyph.confidence) for glyph in found] == [("22", 0.99), ("V", 0.5)]
    assert weighed_at(own, EDGE, told("22", 0.99), hard=False) == own, "on an edge it may be a numeral"


def test_a_digit_that_was_lost_is_told() -> None:
    lost = [read("3", 0.5, 2.9), read("9", 0.5, 3.1)]
    (glyph,) = weighed_at(lost, CIRCLE, told("359", 0.995), hard=True)
    assert (glyph.text, glyph.confidence) == ("359", 0.995)
    (glyph,) = weighed_at([], CIRCLE, told("12", 0.995), hard=True)
    assert glyph.text == "12"
    assert 2.7 < glyph.centre[0] < 3.3


def test_what_was_lost_is_claimed_with_what_was_read() -> None:
    corner = replace(EDGE, in_corner=True)
    one = read("1", 0.5)
    height = one.box[3] - one.box[1]
    (glyph,) = weighed_at([one], corner, told("18", 0.995), hard=True)
    assert glyph.box[0] == one.box[0]
    assert one.box[2] + 0.5 * height < glyph.box[2] < one.box[2] + height
    (glyph,) = weighed_at([one], corner, told("81", 0.995), hard=True)
    assert one.box[0] - height < glyph.box[0] < one.box[0] - 0.5 * height
    assert glyph.box[2] == one.box[2]
    (glyph,) = weighed_at([read("3", 0.5, 2.9)], CIRCLE, told("359", 0.995), hard=True)
    assert glyph.box[2] > 3.1, "all of a circle"


def test_what_was_read_otherwise_is_told_with_a_doubt() -> None:
    (glyph,) = weighed_at([read("4", 0.5)], CIRCLE, told("12", 0.995), hard=False)
    assert glyph.text == "12"
    assert glyph.confidence <= 0.8
    (glyph,) = weighed_at([read("1", 0.5)], CIRCLE, told("12", 0.98), hard=False)
    assert glyph.confidence <= 0.8


@pytest.mark.parametrize(
    ("before", "weak", "sure", "expected"),
    [
        ("50", 0.4, 0.995, 0.9),
        ("50", 0.4, 0.98, 0.8),
        ("5", 0.4, 0.995, 0.8),
        ("79", 0.4, 0.995, 0.8),
        ("125", 0.4, 0.995, 0.8),
    ],
    ids=["but one", "not so sure", "nothing the same", "neither", "two more"],
)
def test_where_both_have_all_characters_but_one_little_doubt_is_left(
    before: str, weak: float, sure: float, expected: float
) -> None:
    corner = replace(EDGE, in_corner=True)
    (glyph,) = weighed_at([read(before, weak)], corner, told("30", sure), hard=False)
    assert (glyph.text, glyph.confidence) == ("30", expected)


def test_a_total_of_which_nothing_was_read_is_told_with_a_doubt() -> None:
    corner = replace(EDGE, in_corner=True)
    (glyph,) = weighed_at([], corner, told("12", 0.995), hard=True)
    assert (glyph.text, glyph.confidence) == ("12", 0.8)
    (glyph,) = weighed_at([read("1", 0.5)], corner, told("12", 0.995), hard=True)
    assert glyph.confidence == 0.995


def test_dashes_read_as_figures_give_way_in_circles_on_corners_alone() -> None:
    dashes = [read("1", 0.3, 2.9), read("1", 0.3), read("1", 0.5, 3.1)]
    (glyph,) = weighed_at(dashes, CIRCLE, told("1", 0.88), hard=False)
    assert glyph.text == "1"
    assert glyph.confidence <= 0.8
    assert weighed_at(dashes, CIRCLE, told("", 0.99), hard=False) == dashes
    assert weighed_at(dashes, EDGE, told("1", 0.88), hard=False) == dashes


def test_a_sure_reading_is_doubted_where_the_network_sees_more() -> None:
    (glyph,) = weighed_at([read("2", 0.999)], CIRCLE, told("12", 0.98), hard=False)
    assert (glyph.text, glyph.confidence) == ("2", 0.5)
    assert glyph.guesses[1].text == "12"
    (glyph,) = weighed_at([read("2", 0.999)], CIRCLE, told("5", 0.999), hard=False)
    assert glyph.confidence == 0.999


@pytest.mark.parametrize(("x", "sure", "found"), [(2.82, 0.999, "789"), (2.82, 0.98, "189"), (2.9, 0.999, "189")])
def test_a_sure_digit_that_may_have_lost_an_end_to_the_line_of_its_circle_gives_way(
    x: float, sure: float, found: str
) -> None:
    own = [replace(read("18", 1.0, x), box=(x - 0.05, 2.9, x + 0.15, 3.0)), read("9", 1.0)]
    glyphs = weighed_at(own, CIRCLE, told("789", sure), hard=False)
    assert "".join(glyph.text for glyph in glyphs) == found
    assert found == "189" or glyphs[0].confidence <= 0.8


def test_a_figure_that_was_read_as_another_is_no_dash_of_a_wall() -> None:
    corner = replace(EDGE, in_corner=True)
    (glyph,) = weighed_at([read("35", 0.5)], corner, told("15", 0.96), hard=False)
    assert (glyph.text, glyph.confidence) == ("15", 0.8)
    (glyph,) = weighed_at([read("5", 0.5)], corner, told("15", 0.96), hard=False)
    assert glyph.text == "5", "a dash beside it may be"


def test_what_other_circles_tell_is_doubted_where_the_network_surely_reads_another() -> None:
    (glyph,) = weighed_at([read("8", TOLD)], CIRCLE, told("3", 0.999), hard=False)
    assert (glyph.text, glyph.confidence) == ("8", 0.5)


@pytest.mark.parametrize(
    ("own", "whole", "asked"),
    [("12", "12", False), ("12", "2", True), ("V", "_", True), ("12", "", True), ("1", "12", False)],
)
def test_a_place_that_was_hard_to_read_is_asked_about_unless_the_network_reads_what_counts(
    monkeypatch: pytest.MonkeyPatch, own: str, whole: str, asked: bool
) -> None:
    monkeypatch.setattr(whole_texts, "read_whole", lambda places, _: [tuple(told(whole, 0.98))] * len(places))
    seen = Print.__new__(Print)
    _, notes = whole_texts.weighed([read(own, 0.999)], [EDGE], {EDGE: "hard to read"}, {EDGE: []}, seen)
    assert notes == (["hard to read"] if asked else [])


@pytest.mark.parametrize(("twins", "found"), [(2, ("13", 0.9)), (1, ("3", 0.5))])
def test_a_part_of_a_number_that_the_page_prints_elsewhere_is_that_number(
    monkeypatch: pytest.MonkeyPatch, twins: int, found: tuple[str, float]
) -> None:
    """Of a 13 on an edge whose 1 a wall covers the 3 is surely read, wherever such a number stands."""
    monkeypatch.setattr(whole_texts, "read_whole", lambda places, _: [tuple(told("13", 0.998))] * len(places))
    places = [on_edge((x, 2.5)) for x in range(1, twins + 2)]
    glyphs = [*(read("13", 0.99) for _ in range(twins)), read("3", 1.0)]
    weighed, _ = whole_texts.weighed(glyphs, places, {}, {place: [] for place in places}, Print.__new__(Print))
    assert [glyph.text for glyph in weighed[:-1]] == ["13"] * twins
    assert (weighed[-1].text, weighed[-1].confidence) == found
    assert found[0] == "3" or weighed[-1].guesses[1].text == "3", "it may be that part alone after all"


def test_signs_are_no_characters() -> None:
    glyphs = [read("V", 0.5)]
    assert weighed_at(glyphs, EDGE, told("_", 0.999), hard=False) == glyphs


@pytest.mark.parametrize("text", ["8", ""])
def test_figures_between_cells_are_held_against_no_letters_but_numerals(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An 8 that a wall runs through is like a B as well; of a place at which nothing was read nobody knows."""
    asked: list[str] = []

    class Asked:
        def read(self, windows: list[np.ndarray], allowed: str) -> list[tuple[Guess, ...]]:
            asked.append(allowed)
            return [(Guess(text, 1.0),) for _ in windows]

    monkeypatch.setattr(whole_texts, "short_text_reader", Asked)
    page = np.ones((100, 100, 3), np.float32)
    seen = Print(page[..., 0], page[..., 0], page, None, Raster(1, 1, 50, 25), 0.05)  # type: ignore[arg-type]
    place = on_edge((0.5, 1.0))
    glyphs = [read(text, 0.95)] if text else []
    whole_texts.weighed(glyphs, [place] * len(glyphs), {}, {place: []}, seen)
    assert set(DIGITS) | {"V", "X", "I"} <= set(asked[0])
    assert ("B" in asked[0]) == (not text)


def test_a_doubtful_network_says_nothing() -> None:
    glyphs = [read("6", 0.6)]
    assert weighed_at(glyphs, CIRCLE, told("5", 0.55), hard=False) == glyphs
    assert weighed_at(glyphs, replace(CIRCLE, radius=0.2), told("", 0.999), hard=False) == glyphs


@pytest.mark.parametrize(
    ("text", "sure", "patched", "told"),
    [("7", 0.998, True, ["7"]), ("7", 0.9, True, []), ("1", 0.998, True, []), ("7", 0.998, False, [])],
    ids=["surely", "not surely", "a bit of a line", "the lattice line runs on"],
)
def test_a_number_that_perhaps_stands_on_a_patch_of_paper_is_told_where_the_network_surely_reads_it(
    monkeypatch: pytest.MonkeyPatch, text: str, sure: float, patched: bool, told: list[str]
) -> None:
    place = replace(on_edge((1.0, 0.5)), perhaps=True, patched=patched)
    monkeypatch.setattr(whole_texts, "read_whole", lambda places, _: [(Guess(text, sure),) for _ in places])
    glyphs, notes = whole_texts.weighed([], [], {}, {place: []}, None)  # type: ignore[arg-type]
    assert ([glyph.text for glyph in glyphs], notes) == (told, [])
    assert without_odd_ones([place], glyphs) == glyphs, "of what was told nobody knows how tall it is"


def at(
    places: list[Place], texts: list[str], told: list[str], monkeypatch: pytest.MonkeyPatch
) -> list[tuple[str, float]]:
    """What counts of texts that were surely read at places, where the network surely reads others."""
    asked = {place.middle: Guess(text, 0.98) for place, text in zip(places, told, strict=True)}
    monkeypatch.setattr(whole_texts, "read_whole", lambda some, _: [(asked[place.middle],) for place in some])
    glyphs, _ = whole_texts.weighed(
        [read(text, 0.999) for text in texts], places, {}, {place: [] for place in places}, Print.__new__(Print)
    )
    return [(glyph.text, glyph.confidence) for glyph in glyphs]


@pytest.mark.parametrize(("others", "text"), [(["12×", "2-"], ("4÷", 0.98)), (["12", "2"], ("4", 0.5))])
def test_a_sign_that_only_the_network_sees_counts_on_a_page_that_sets_signs(
    others: list[str], text: tuple[str, float], monkeypatch: pytest.MonkeyPatch
) -> None:
    corners = [replace(on_edge((x + 0.5, 2.5)), in_corner=True, on_lattice=False) for x in range(3)]
    assert at(corners, [*others, "4"], [*others, "4÷"], monkeypatch)[-1] == text


@pytest.mark.parametrize(("others", "text"), [(["6", "10", "7"], "6"), (["V", "X", "7"], "C")])
def test_no_letters_stand_on_edges_of_a_page_that_sets_numbers_there(
    others: list[str], text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    edges = [on_edge((x + 0.5, 2.0)) for x in range(4)]
    assert at(edges, [*others, "C"], [*others, "6"], monkeypatch)[-1][0] == text


@pytest.mark.parametrize(
    ("text", "left", "counts"),
    [("4", 0.5, ("43", 0.985)), ("4", 0.0, ("4", 0.5)), ("1", 0.9, ("43", 0.985)), ("1", 0.3, ("1", 0.999))],
)
def test_a_reading_that_leaves_ink_gives_way_to_all_that_the_network_sees(
    text: str, left: float, counts: tuple[str, float], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(whole_texts, "read_whole", lambda places, _: [(Guess("43", 0.985),)] * len(places))
    part = cast("Reading", SimpleNamespace(text=text, left=left))
    (glyph,), _ = whole_texts.weighed([read(text, 0.999)], [EDGE], {}, {EDGE: [part]}, Print.__new__(Print))
    assert (glyph.text, glyph.confidence) == counts
