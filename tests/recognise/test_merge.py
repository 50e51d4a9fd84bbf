"""Two readers: sure where they agree, doubtful where they do not."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc, Flat, Shape
from recognise.merge import Picture, merge
from recognise.pixels.outside import not_in_line
from recognise.support import claims
from tests.recognise.evidence_maker import evidence, given, glyph, trace


def _picture(*traces, rows: int = 9, columns: int = 9) -> Picture:
    """A flattened grid on which those lines are inked."""
    shape = (round((rows + 2 * MARGIN) * CELL), round((columns + 2 * MARGIN) * CELL))
    ink = np.zeros(shape, np.float32)
    for line in traces:
        for polygon in claims(line):
            points = (np.asarray(polygon) + MARGIN) * CELL
            cv2.fillPoly(ink, [np.rint(points).astype(np.int32)], 0.5)
    blank = np.full((*shape, 3), 255, np.uint8)
    maps = np.zeros(shape, np.float32)
    return Picture(ink, 0.05, Flat(blank, rows, columns, CELL, MARGIN, maps, maps))


CELL, MARGIN = 32, 1.0
BLANK = _picture()


def _glyphs(*glyphs):
    return evidence(glyphs=glyphs)


def test_a_page_without_vectors_is_read_by_the_pixels_alone() -> None:
    seen = _glyphs(given("r1c1", "5"))
    assert merge(seen, None, BLANK) == (seen, ())


def test_agreement_makes_sure() -> None:
    merged, doubts = merge(_glyphs(given("r1c1", "5", 0.98)), _glyphs(given("r1c1", "5", 0.99, how="vector")), BLANK)
    assert doubts == ()
    assert merged.glyphs[0].text == "5"
    assert merged.glyphs[0].confidence > 0.9999


@pytest.mark.parametrize(("seen", "taken"), [(0.999, "6"), (0.7, "5")])
def test_a_text_layer_that_says_otherwise_is_a_doubt(seen: float, taken: str) -> None:
    merged, doubts = merge(_glyphs(given("r1c1", "6", seen)), _glyphs(given("r1c1", "5", 0.99, how="vector")), BLANK)
    assert merged.glyphs[0].text == taken
    assert {g.text for g in merged.glyphs[0].guesses} == {"5", "6"}
    assert len(doubts) == 1


@pytest.mark.parametrize(("others", "doubts"), [(5, 0), (4, 1)])
def test_what_the_picture_shows_unclearly_is_no_clash_with_a_proved_layer(others: int, doubts: int) -> None:
    cells = [f"r2c{n}" for n in range(1, others + 1)]
    shown = [given("r1c1", "10", 0.7), *(given(cell, "7") for cell in cells)]
    layer = [given("r1c1", "16", 0.99, how="vector"), *(given(cell, "7", 0.99, how="vector") for cell in cells)]
    merged, found = merge(_glyphs(*shown), _glyphs(*layer), BLANK)
    assert "16" in [g.text for g in merged.glyphs]
    assert len(found) == doubts


def test_a_character_that_only_the_text_layer_has_is_a_doubt() -> None:
    merged, doubts = merge(_glyphs(), _glyphs(given("r1c1", "5", 0.99, how="vector")), BLANK)
    assert merged.glyphs[0].confidence <= 0.9
    assert len(doubts) == 1


def test_a_character_drawn_as_a_path_is_read_by_the_pixels() -> None:
    path = evidence(shapes=(Shape("glyph-path", (0.3, 0.2, 0.7, 0.8), (0, 0, 0), "vector"),))
    merged, doubts = merge(_glyphs(given("r1c1", "5")), path, BLANK)
    assert [g.text for g in merged.glyphs] == ["5"]
    assert merged.shapes == ()
    assert doubts == ()


DRAWN = trace("r1c1 r1c2", discs=(0,), how="vector")


def test_lines_on_which_the_readers_agree_are_sure() -> None:
    pixels = evidence(traces=(trace("r1c2 r1c1", discs=(1,), confidence=0.99),))
    vectors = evidence(traces=(trace("r1c1 r1c2", discs=(0,), how="vector", confidence=0.999),))
    merged, doubts = merge(pixels, vectors, BLANK)
    assert doubts == ()
    assert merged.traces[0].how == "vector"
    assert merged.traces[0].confidence > 0.9999


def test_a_line_that_the_pixels_traced_unsurely_is_confirmed_by_its_ink_all_the_same() -> None:
    drawn = trace("r1c1 r1c2 r1c3", how="vector", confidence=0.999)
    unsure = replace(drawn, how="shape", confidence=0.6)
    (sure,) = merge(evidence(traces=(unsure,)), evidence(traces=(drawn,)), _picture(drawn))[0].traces
    assert sure.confidence > 0.9999


def test_a_line_of_the_pdf_that_the_pixels_did_not_trace_is_confirmed_by_its_ink() -> None:
    merged, doubts = merge(evidence(), evidence(traces=(DRAWN,)), _picture(DRAWN))
    assert doubts == ()
    assert merged.traces[0].nodes == DRAWN.nodes


@pytest.mark.parametrize(("off", "asked"), [(0.04, False), (0.15, True)])
def test_a_line_that_is_set_off_its_place_by_half_a_lattice_line_shows(off: float, asked: bool) -> None:
    line = replace(trace("r1c3 r2c2 r3c1", how="vector"), width=0.08)
    shown = _picture()
    for points in ((2.5, 0.5, 1.5, 1.5), (1.5, 1.5, 0.5, 2.5)):
        x0, y0, x1, y1 = (round((at + MARGIN + off) * CELL) for at in points)
        cv2.line(shown.drawn, (x0, y0), (x1, y1), 0.5, 3)
    _, doubts = merge(evidence(), evidence(traces=(line,)), shown)
    assert any("does not show" in doubt.why for doubt in doubts) == asked


def test_a_line_that_runs_under_a_disc_is_confirmed_by_its_ink_elsewhere() -> None:
    diagonal = trace("r1c1 r2c2 r3c3", how="vector")
    under = Disc((1.0, 1.0), 0.3, (255, 255, 255), (0, 0, 0), "vector")
    shown = _picture(diagonal)
    cv2.circle(shown.drawn, (round((1 + MARGIN) * CELL),) * 2, round(0.3 * CELL), 0.0, -1)
    _, doubts = merge(evidence(), evidence(traces=(diagonal,)), shown)
    assert [doubt.why for doubt in doubts] == ["the PDF draws a line here that the picture does not show"]
    _, doubts = merge(evidence(), evidence(traces=(diagonal,), discs=(under,)), shown)
    assert not any("a line" in doubt.why for doubt in doubts)


def test_a_dotted_line_is_confirmed_by_its_dots() -> None:
    dotted = trace("r1c1 r1c2 r2c3", how="vector", dashed=True)
    shown = _picture()
    for start, end in (((0.5, 0.5), (1.5, 0.5)), ((1.5, 0.5), (2.5, 1.5))):
        for part in np.linspace(0, 1, 6):
            at = np.add(start, np.multiply(part, np.subtract(end, start)))
            cv2.circle(shown.drawn, tuple(np.rint((at + MARGIN) * CELL).astype(int).tolist()), 2, 0.5, -1)
    _, doubts = merge(evidence(), evidence(traces=(dotted,)), shown)
    assert doubts == ()
    _, doubts = merge(evidence(), evidence(traces=(dotted,)), BLANK)
    assert len(doubts) == 1


def test_a_line_under_the_white_of_a_character_is_confirmed_by_its_ink_elsewhere() -> None:
    across = trace("r1c1 r1c2", how="vector")
    sign = glyph(1.0, 0.5, ("X", 0.99), size=0.22, how="vector")
    shown = _picture(across)
    cv2.circle(shown.drawn, (round((1 + MARGIN) * CELL), round((0.5 + MARGIN) * CELL)), round(0.17 * CELL), 0.0, -1)
    _, doubts = merge(_glyphs(sign), evidence(traces=(across,)), shown)
    assert any("draws a line" in doubt.why for doubt in doubts)
    _, doubts = merge(_glyphs(sign), evidence(traces=(across,), glyphs=(sign,)), shown)
    assert not any("draws a line" in doubt.why for doubt in doubts)


@pytest.mark.parametrize("outlined", [False, True])
def test_a_line_of_the_pdf_without_ink_is_a_doubt(outlined: bool) -> None:
    line = trace("r1c1 r1c2", discs=(0,), how="vector", outlined=outlined)
    _, doubts = merge(evidence(), evidence(traces=(line,)), BLANK)
    assert len(doubts) == 1
    assert doubts[0].where


@pytest.mark.parametrize("other", ["r1c1 r1c2 r1c3", "r5c5 r5c6"], ids=["longer", "elsewhere"])
def test_a_line_that_only_the_picture_shows_is_a_doubt_and_kept(other: str) -> None:
    line = trace(other, discs=(0,))
    merged, doubts = merge(evidence(traces=(line,)), evidence(traces=(DRAWN,)), _picture(DRAWN, line))
    assert len(doubts) == 1
    assert line in merged.traces


def test_what_is_left_over_is_told_by_the_vectors() -> None:
    left = ((4.1, 4.1, 4.4, 4.4),)
    merged, _ = merge(evidence(), evidence(unexplained=left), BLANK)
    assert merged.unexplained == left
    merged, _ = merge(evidence(unexplained=left), evidence(glyphs=(glyph(1, 1, ("5", 0.9)),)), BLANK)
    assert merged.unexplained == ()
    merged, _ = merge(evidence(unexplained=left), None, BLANK)
    assert merged.unexplained == left


@pytest.mark.parametrize(
    ("box", "read", "asked"),
    [
        ((0.38, 2.29, 0.62, 2.66), (), True),
        ((0.38, 2.29, 0.62, 2.66), ("r3c1",), False),
        ((0.38, 2.29, 1.62, 2.66), ("r3c1",), True),
        ((0.38, 2.29, 1.62, 2.66), ("r3c1", "r3c2"), False),
        ((0.38, -1.4, 4.0, -0.9), (), False),
        ((0.06, 2.05, 0.2, 2.2), ("r3c1",), True),
        ((0.97, 1.97, 1.03, 2.03), ("r3c1",), True),
    ],
    ids=[
        "on a line, unread",
        "read",
        "two in one path, one read",
        "both read",
        "beside the grid",
        "in a corner",
        "on a corner of four cells",
    ],
)
def test_a_character_drawn_as_a_path_is_read_or_asked_for(box: tuple, read: tuple[str, ...], asked: bool) -> None:
    path = evidence(shapes=(Shape("glyph-path", box, (0, 0, 0), "vector"),))
    merged, _ = merge(_glyphs(*(given(cell, "6") for cell in read)), path, BLANK)
    assert bool(merged.shapes) == asked


@pytest.mark.parametrize(("seen", "doubts"), [("3", 0), ("", 0), ("13", 0), ("18", 1)])
def test_outlines_have_the_word_over_the_picture_but_for_as_many_other_characters(seen: str, doubts: int) -> None:
    path = glyph(1.2, 1.2, ("13", 0.99), size=0.3)
    shown = (glyph(1.25, 1.2, (seen, 0.999), size=0.3),) if seen else ()
    merged, asked = merge(_glyphs(*shown), _glyphs(path), BLANK)
    assert (merged.glyphs, len(asked)) == ((path,), doubts)


def test_a_number_of_which_the_picture_has_lost_a_part_is_too_small_to_tell_and_no_other() -> None:
    layer = glyph(1.2, 1.2, ("24", 0.99), size=0.3, how="vector")
    merged, (doubt,) = merge(_glyphs(glyph(1.25, 1.2, ("4", 0.999), size=0.3)), _glyphs(layer), BLANK)
    assert merged.glyphs[0].text == "24"
    assert "too small" in doubt.why


def test_a_line_of_the_picture_that_lies_on_a_diagonal_is_a_piece_of_it() -> None:
    diagonal = Shape("diagonal", (0.0, 0.0, 9.0, 9.0), (0, 0, 0), "vector", direction="down")
    piece = trace("r3c3 r4c4", width=0.1)
    merged, doubts = merge(evidence(traces=(piece,)), evidence(shapes=(diagonal,)), _picture(piece))
    assert (merged.traces, [d for d in doubts if "PDF does not draw" in d.why]) == ((), [])
    beside = trace("r3c4 r4c5", width=0.1)
    merged, doubts = merge(evidence(traces=(beside,)), evidence(shapes=(diagonal,)), _picture(beside))
    assert len([d for d in doubts if "PDF does not draw" in d.why]) == 1


def test_a_circle_beside_a_number_is_no_character() -> None:
    """Cut by the white around the number it looks like a figure to the pixels."""
    disc = Disc((5.5, 1.5), 0.42, (200, 200, 200), (0, 0, 0), "vector")
    picture = _picture()
    cv2.circle(picture.drawn, (round((5.5 + MARGIN) * CELL), round((1.5 + MARGIN) * CELL)), round(0.42 * CELL), 0.5, 2)
    drawn = evidence(discs=(disc,), glyphs=(glyph(5.5, 1.0, ("7", 0.99), size=0.2, how="vector"),))
    merged, _ = merge(_glyphs(glyph(5.5, 1.48, ("6", 0.999), size=0.84)), drawn, picture)
    assert [g.text for g in merged.glyphs] == ["7"]


def test_the_ring_of_another_line_may_hide_a_line() -> None:
    ring = trace("r5c5 r4c5", discs=(0,), width=0.05)
    under = trace("r5c4 r5c5 r5c6", width=0.05)
    picture = _picture(under)
    cv2.circle(picture.drawn, (round((4.5 + MARGIN) * CELL), round((4.5 + MARGIN) * CELL)), round(0.3 * CELL), 0.0, -1)
    _, doubts = merge(evidence(), evidence(traces=(under, ring)), picture)
    assert not [doubt for doubt in doubts if doubt.where and min(y for _, y in doubt.where) > 4]


def test_a_line_under_a_bit_of_white_is_confirmed_by_its_ink_elsewhere() -> None:
    across = trace("r1c1 r1c2", how="vector")
    shown = _picture(across)
    cv2.circle(shown.drawn, (round((1 + MARGIN) * CELL), round((0.5 + MARGIN) * CELL)), round(0.25 * CELL), 0.0, -1)
    _, doubts = merge(evidence(), evidence(traces=(across,)), shown)
    assert any("draws a line" in doubt.why for doubt in doubts)
    _, doubts = merge(evidence(), evidence(traces=(across,), patches=((0.75, 0.25, 1.25, 0.75),)), shown)
    assert doubts == ()


def test_a_hollow_line_parts_the_walls_of_another_that_it_crosses() -> None:
    one, other = (trace(way, how="vector", outlined=True, width=0.3) for way in ("r1c1 r2c2", "r1c2 r2c1"))
    picture = _picture()
    for start, end in (((0.5, 0.5), (1.5, 1.5)), ((1.5, 0.5), (0.5, 1.5))):
        ends = [tuple(round((v + MARGIN) * CELL) for v in point) for point in (start, end)]
        cv2.line(picture.drawn, *ends, 0.5, round(0.36 * CELL))
        cv2.line(picture.drawn, *ends, 0.0, round(0.2 * CELL))
    _, doubts = merge(evidence(), evidence(traces=(one,)), picture)
    assert any("draws a line" in doubt.why for doubt in doubts)
    _, doubts = merge(evidence(), evidence(traces=(one, other)), picture)
    assert doubts == ()


@pytest.mark.parametrize(("half", "kept"), [(0.2, 0), (0.45, 1)])
def test_a_frame_round_a_number_is_not_known_by_that(half: float, kept: int) -> None:
    number = glyph(-0.5, 2.5, ("7", 0.99), size=0.3)
    box = (-0.5 - half, 2.5 - half, -0.5 + half, 2.5 + half)
    frame = Shape("mark", box, (0, 0, 0), "vector", filled=False)
    merged, _ = merge(_glyphs(number), evidence(shapes=(frame,), glyphs=(replace(number, how="vector"),)), BLANK)
    assert len(merged.shapes) == kept


def test_a_frame_much_higher_than_its_number_is_none_of_its_figures() -> None:
    number = replace(glyph(2.5, -0.45, ("34", 0.99), size=0.3), box=(2.32, -0.56, 2.68, -0.34))
    frame = Shape("mark", (2.22, -0.7, 2.78, -0.14), (0, 0, 0), "vector", filled=False)
    merged, _ = merge(_glyphs(number), evidence(shapes=(frame,), glyphs=(replace(number, how="vector"),)), BLANK)
    assert merged.shapes


def test_the_head_of_an_arrow_whose_shaft_bends_in_a_curve_may_hide_its_end() -> None:
    arrow = replace(trace("r1c1 r1c2 r2c3", how="vector"), heads=(2,), sway=0.04)
    shown = _picture(arrow)
    cv2.circle(shown.drawn, (round((2.5 + MARGIN) * CELL), round((1.5 + MARGIN) * CELL)), round(0.28 * CELL), 0.0, -1)
    _, doubts = merge(evidence(), evidence(traces=(arrow,)), shown)
    assert doubts == ()


@pytest.mark.parametrize(("left", "kept"), [(-1.0, 0), (0.6, 1)])
def test_a_number_in_the_words_of_a_heading_is_no_clue(left: float, kept: int) -> None:
    seen = _glyphs(glyph(0.5, -0.6, ("44", 0.99)))
    vectors = replace(_glyphs(), phrases=((left, -0.9, 0.9, -0.3),))
    assert len(merge(seen, vectors, BLANK)[0].glyphs) == kept


def _hollow(tube) -> Picture:
    """A grid on which the walls of a tube are inked: those of all its pieces together."""
    shown = _picture()
    inside, around = (np.zeros(shown.drawn.shape, np.uint8) for _ in range(2))
    for a, b in tube.links:
        ends = [np.rint((np.array(tube.nodes[n].centre) + MARGIN) * CELL).astype(int).tolist() for n in (a, b)]
        for area, wider in ((inside, -3), (around, 3)):
            cv2.line(area, *ends, 1, round(tube.width * CELL) + wider)
    shown.drawn[(around > 0) & (inside == 0)] = 0.8
    return shown


def test_the_inner_wall_of_a_sharp_bend_gives_way_as_far_as_the_other_arm_reaches() -> None:
    bent = trace("r1c1 r2c2 r2c1", how="vector", outlined=True, width=0.4)
    _, doubts = merge(evidence(), evidence(traces=(bent,)), _hollow(bent))
    assert doubts == ()
    shown = _hollow(bent)
    shown.drawn[: round((0.9 + MARGIN) * CELL)] = 0.0
    _, doubts = merge(evidence(), evidence(traces=(bent,)), shown)
    assert [doubt.why for doubt in doubts] == ["the PDF draws a line here that the picture does not show"]


def test_what_stands_upon_the_wall_of_a_tube_hides_it() -> None:
    tube = trace("r1c1 r1c2", how="vector", outlined=True, width=0.4)
    shown = _hollow(tube)
    cv2.circle(shown.drawn, tuple(round((v + MARGIN) * CELL) for v in (0.85, 0.7)), round(0.2 * CELL), 0.0, -1)
    _, doubts = merge(evidence(), evidence(traces=(tube,)), shown)
    assert len(doubts) == 1
    upon = Disc((0.85, 0.7), 0.2, (255, 255, 255), (0, 0, 0), "vector")
    _, doubts = merge(evidence(), evidence(traces=(tube,), discs=(upon,)), shown)
    assert not any("a line" in doubt.why for doubt in doubts)


def test_letters_that_name_rows_answer_what_the_pixels_ask_of_that_side() -> None:
    note = not_in_line("left")
    letters = tuple(glyph(-0.4, row + 0.5, ("8", 0.9), size=0.2) for row in range(3))
    words = tuple((-0.5, row + 0.4, -0.3, row + 0.6) for row in range(3))
    seen = evidence(glyphs=letters, notes=(note,))
    merged, _ = merge(seen, evidence(phrases=words), BLANK)
    assert (merged.glyphs, merged.notes) == ((), ())
    merged, _ = merge(seen, evidence(phrases=words[:2]), BLANK)
    assert merged.notes == (note,)


def test_a_side_whose_numbers_the_text_layer_has_raises_no_question_of_the_pixels() -> None:
    note = not_in_line("left")
    numbers = tuple(glyph(-0.5, row + 0.5, ("8", 0.9), size=0.3) for row in range(3))
    seen = evidence(glyphs=numbers, notes=(note,))
    assert merge(seen, evidence(glyphs=numbers), BLANK)[0].notes == ()
    assert merge(seen, evidence(glyphs=numbers[:2]), BLANK)[0].notes == (note,)
    unread = Shape("glyph-path", (-0.6, 1.4, -0.4, 1.6), (0, 0, 0), "vector")
    assert merge(seen, evidence(glyphs=numbers, shapes=(unread,)), BLANK)[0].notes == (note,)
    frame = replace(unread, name="mark", box=(-0.8, 1.2, -0.2, 1.8))
    assert merge(seen, evidence(glyphs=numbers, shapes=(frame,)), BLANK)[0].notes == ()


@pytest.mark.parametrize(
    ("left", "top", "text", "size", "filled", "kept"),
    [
        (1.02, 0.02, "12", 0.2, True, 0),
        (1.28, 0.32, "12", 0.2, False, 1),
        (1.28, 0.32, "12", 0.2, True, 1),  # in the middle of its cell it marks that
        (1.02, 0.02, "x", 0.2, True, 1),
        (1.02, 0.02, "12", 0.4, True, 1),
    ],
)
def test_the_tile_of_a_small_number_in_a_corner_is_no_mark(left, top, text, size, filled, kept) -> None:
    box = (left, top, left + 0.44, top + 0.3)
    tile = Shape("square", box, (120, 70, 20), "vector", filled=filled)
    number = replace(
        glyph(left + 0.22, top + 0.15, (text, 0.99), size=size),
        box=(left + 0.1, top + 0.05, left + 0.34, top + 0.25),
        colour=(255, 255, 255),
    )
    merged, _ = merge(evidence(), evidence(glyphs=(number,), shapes=(tile,)), BLANK)
    assert len(merged.shapes) == kept
    dark = replace(number, colour=(100, 60, 10))
    assert len(merge(evidence(), evidence(glyphs=(dark,), shapes=(tile,)), BLANK)[0].shapes) == 1


@pytest.mark.parametrize(("cored", "asked"), [(True, False), (False, True)])
def test_a_line_with_a_core_as_light_as_paper_shows_in_its_sides(cored: bool, asked: bool) -> None:
    drawn = replace(trace("r3c3 r3c4 r3c5", width=0.2), how="vector", cored=cored)
    picture = _picture()
    for y in (2.4, 2.6):
        start, end = (tuple(round((v + MARGIN) * CELL) for v in point) for point in ((2.4, y), (4.6, y)))
        cv2.line(picture.drawn, start, end, 0.5, 2)
    _, doubts = merge(evidence(), evidence(traces=(drawn,)), picture)
    assert any("does not show" in doubt.why for doubt in doubts) == asked
