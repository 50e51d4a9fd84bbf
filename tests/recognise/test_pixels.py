"""The pixel reader on pictures drawn here, pixel by pixel, so that the truth is known to the pixel."""

from __future__ import annotations

import itertools
from dataclasses import replace

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recognise.evidence import Evidence, Flat, Guess, Trace
from recognise.pixels import explain_pixels, read_pixels, read_stages
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.links import find_links
from recognise.pixels.outside import begins_far, find_rings, not_in_line
from recognise.pixels.screen import descreened, patches

CELL, MARGIN = 64, 3
Path = list[tuple[int, int]]


class Drawing:
    """A flattened grid under construction; cells are (row, column) from 1."""

    def __init__(self, rows: int = 6, columns: int = 6, paper: tuple[int, int, int] = (255, 255, 255)) -> None:
        self.rows, self.columns = rows, columns
        self.image = np.empty(((rows + 2 * MARGIN) * CELL, (columns + 2 * MARGIN) * CELL, 3), np.uint8)
        self.image[:] = paper

    def at(self, cell: tuple[float, float]) -> tuple[int, int]:
        return round((cell[1] - 0.5 + MARGIN) * CELL), round((cell[0] - 0.5 + MARGIN) * CELL)

    def tube(self, path: Path, colour: int = 190, width: float = 0.3, bulb: float = 0.36) -> Drawing:
        for one, other in itertools.pairwise(path):
            cv2.line(self.image, self.at(one), self.at(other), (colour,) * 3, round(width * CELL), cv2.LINE_AA)
        if bulb:
            cv2.circle(self.image, self.at(path[0]), round(bulb * CELL), (colour,) * 3, -1, cv2.LINE_AA)
        return self

    def hollow(self, path: Path, width: float = 0.3, bulb: float = 0.36) -> Drawing:
        self.tube(path, 0, width + 0.06, bulb + 0.03)
        return self.tube(path, 255, width, bulb)

    def tint(self, cells: Path, colour: tuple[int, int, int]) -> Drawing:
        for row, column in cells:
            x, y = (column - 1 + MARGIN) * CELL, (row - 1 + MARGIN) * CELL
            self.image[y : y + CELL, x : x + CELL] = colour
        return self

    def text(self, cell: tuple[float, float], text: str, scale: float = 1.3) -> Drawing:
        (width, height), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, scale, 4)
        x, y = self.at(cell)
        spot = (x - width // 2, y + height // 2)
        cv2.putText(self.image, text, spot, cv2.FONT_HERSHEY_SIMPLEX, scale, (0, 0, 0), 4, cv2.LINE_AA)
        return self

    def flat(self) -> Flat:
        for line in range(self.rows + 1):
            y = (line + MARGIN) * CELL
            ends = (MARGIN * CELL, y), ((self.columns + MARGIN) * CELL, y)
            cv2.line(self.image, *ends, (0, 0, 0), 5 if line in (0, self.rows) else 2)
        for line in range(self.columns + 1):
            x = (line + MARGIN) * CELL
            ends = (x, MARGIN * CELL), (x, (self.rows + MARGIN) * CELL)
            cv2.line(self.image, *ends, (0, 0, 0), 5 if line in (0, self.columns) else 2)
        none = np.zeros((1, 1), np.float32)
        return Flat(self.image, self.rows, self.columns, CELL, MARGIN, none, none)

    def read(self) -> Evidence:
        return read_pixels(self.flat())


def steps(path: Path) -> set[str]:
    names = [f"r{row}c{column}" for row, column in path]
    return {"-".join(sorted(pair)) for pair in itertools.pairwise(names)}


def traced(trace: Trace) -> set[str]:
    return {"-".join(sorted((str(trace.nodes[a]), str(trace.nodes[b])))) for a, b in trace.links}


def bulbs(trace: Trace) -> list[str]:
    return [str(trace.nodes[node]) for node, _ in trace.discs]


def test_an_empty_grid_shows_nothing_but_its_edges() -> None:
    evidence = Drawing().read()
    assert (evidence.glyphs, evidence.traces, evidence.shapes, evidence.tints) == ((), (), (), ())
    assert (evidence.edges.horizontal > 0).all()
    assert evidence.edges.horizontal[0].min() > evidence.edges.horizontal[1].max()


BENT = [(2, 2), (1, 1), (2, 1), (3, 1), (3, 2), (4, 3), (5, 2)]


@pytest.mark.parametrize("hollow", [False, True])
def test_a_bent_thermometer_is_one_line_with_one_bulb(hollow: bool) -> None:
    drawing = Drawing()
    (trace,) = (drawing.hollow(BENT) if hollow else drawing.tube(BENT)).read().traces
    assert traced(trace) == steps(BENT)
    assert bulbs(trace) == ["r2c2"]
    assert trace.outlined is hollow
    assert trace.ambiguous == ()


def test_branches_from_one_bulb_are_one_line() -> None:
    one, other = [(1, 1), (2, 2), (3, 3), (3, 4)], [(2, 2), (3, 2), (4, 2)]
    (trace,) = Drawing().tube(one).tube(other, bulb=0).read().traces
    assert traced(trace) == steps(one) | steps(other)
    assert bulbs(trace) == ["r1c1"]


def test_parallel_tubes_and_ends_in_neighbouring_cells_are_not_joined() -> None:
    paths = [[(1, 1), (1, 2), (1, 3)], [(2, 1), (2, 2), (2, 3)], [(1, 6), (1, 5), (1, 4)], [(3, 3), (4, 3)]]
    drawing = Drawing()
    for path in paths:
        drawing.tube(path)
    traces = drawing.read().traces
    assert sorted(map(sorted, map(traced, traces))) == sorted(sorted(steps(path)) for path in paths)


def test_a_path_that_runs_back_beside_itself_has_no_short_cuts() -> None:
    path = [(1, 1), (1, 2), (1, 3), (2, 3), (2, 2), (2, 1), (3, 1)]
    (trace,) = Drawing().tube(path).read().traces
    assert traced(trace) == steps(path)


def test_tubes_that_cross_at_a_corner_stay_apart() -> None:
    one, other = [(2, 2), (3, 3), (4, 3)], [(2, 3), (3, 2), (4, 2)]
    traces = Drawing().tube(one).tube(other).read().traces
    assert sorted(map(sorted, map(traced, traces))) == sorted([sorted(steps(one)), sorted(steps(other))])


def test_tubes_that_cross_in_a_cell_are_taken_apart() -> None:
    one, other = [(3, 1), (3, 2), (3, 3), (3, 4)], [(1, 3), (2, 3), (3, 3), (4, 3)]
    traces = Drawing().tube(one).tube(other).read().traces
    assert sorted(map(sorted, map(traced, traces))) == sorted([sorted(steps(one)), sorted(steps(other))])


def test_digits_on_a_tube_are_read_and_do_not_break_it() -> None:
    path = [(1, 1), (2, 1), (3, 1), (4, 1)]
    evidence = Drawing().tube(path).text((1, 1), "3").text((3, 1), "8").text((2, 4), "5").read()
    assert sorted(glyph.text for glyph in evidence.glyphs) == ["3", "5", "8"]
    (trace,) = evidence.traces
    assert traced(trace) == steps(path)
    assert evidence.shapes == ()


@given(light=st.floats(0.6, 1.0), slope=st.floats(-0.25, 0.25), tint=st.integers(200, 238))
@settings(max_examples=12, deadline=None)
def test_tints_are_told_from_light(light: float, slope: float, tint: int) -> None:
    cells = [(r, c) for r in (1, 2) for c in (1, 2, 3)] + [(5, 5)]
    drawing = Drawing().tint(cells, (tint, tint, 255))
    drawing.tube([(3, 3), (4, 4), (4, 5)])
    flat = drawing.flat()
    across = np.linspace(1 - abs(slope), 1, flat.image.shape[1])[:: 1 if slope > 0 else -1]
    flat.image[:] = (flat.image * light * across[None, :, None]).astype(np.uint8)
    found = measure_ground(flat).tints
    assert sorted((t.cell.row, t.cell.column) for t in found) == sorted(cells)
    assert all(abs(t.colour[0] - tint) <= 6 for t in found)


def test_the_edge_of_a_shadow_is_no_tint() -> None:
    flat = Drawing().flat()
    y, x = np.mgrid[: flat.image.shape[0], : flat.image.shape[1]] / CELL
    shadow = 1 - 0.25 / (1 + np.exp(-4 * (x + 0.4 * y - 7.2)))
    flat.image[:] = (flat.image * shadow[..., None]).astype(np.uint8)
    assert measure_ground(flat).tints == ()


def test_more_lattice_lines_with_a_step_than_without_one_are_no_noise() -> None:
    drawing = Drawing()
    tinted = [(row, column) for row in range(1, 7) for column in (2, 4, 5, 6)]
    for row, column in tinted:
        x, y = drawing.at((row, column))
        drawing.image[y - CELL // 2 + 1 : y + CELL // 2, x - CELL // 2 + 1 : x + CELL // 2] = 240
    drawing.image[:] = np.clip(drawing.image + np.random.default_rng(5).normal(0, 4, drawing.image.shape), 0, 255)
    assert sorted((t.cell.row, t.cell.column) for t in measure_ground(drawing.flat()).tints) == tinted


def test_a_screened_tube_becomes_even_and_what_is_printed_stays_sharp() -> None:
    drawing = Drawing().tube([(2, 1), (2, 5)], colour=0).text((4, 3), "5", 1.2)
    flat = drawing.flat()
    sharp = flat.image.copy()
    rows = slice(round((1.3 + MARGIN) * CELL), round((1.7 + MARGIN) * CELL))
    y, x = np.mgrid[: sharp.shape[0], : sharp.shape[1]]
    flat.image[rows][((x + y) % 4 < 2)[rows] & (flat.image[rows, :, 0] < 128)] = 255
    smooth = descreened(flat).image
    inside = smooth[round((1.5 + MARGIN) * CELL), round((1.5 + MARGIN) * CELL) : round((3.5 + MARGIN) * CELL), 0]
    assert np.ptp(inside.astype(int)) < 30
    assert (smooth[rows.stop + CELL :] == sharp[rows.stop + CELL :]).all()
    plain = Drawing().tube([(2, 1), (2, 5)]).flat()
    assert descreened(plain) is plain


@pytest.mark.parametrize("grey", [0, 110])
def test_a_lattice_line_in_a_screened_area_stays_sharp_and_leaves_no_ink_beside_it(grey: int) -> None:
    flat = Drawing().flat()
    flat.image[:] = np.maximum(flat.image, grey)
    part = slice(round((1 + MARGIN) * CELL), round((4 + MARGIN) * CELL))
    y, x = np.mgrid[: flat.image.shape[0], : flat.image.shape[1]]
    dots = ((x + y) % 4 < 2)[part, part]
    flat.image[part, part][dots] = np.minimum(flat.image[part, part][dots], 190)
    line = round((2 + MARGIN) * CELL)
    across = descreened(flat).image[line - 12 : line + 12, line + CELL // 3 : line + CELL // 2, 0].astype(int)
    assert across[12].mean() <= grey + 5
    beside = across[[8, 9, 15, 16]].mean(axis=1)
    assert abs(beside - across[0].mean()).max() < 8


def test_a_patch_of_paper_between_parts_of_a_screen_is_none_of_it_and_dots_that_touch_are() -> None:
    between, light = np.zeros((20, 40), np.bool_), np.ones((20, 40))
    between[4:12, 2:10] = between[4:12, 20:28] = True
    light[4:12, 2:10], light[4:12, 20:28] = 0.75, 1.4
    light[6:10, 23:26] = 0.4  # a character on the patch
    found = patches(between, light)
    assert found[4:12, 20:28].all()
    assert np.count_nonzero(found) == 64


@pytest.mark.parametrize(("everywhere", "grain"), [(True, True), (False, False)])
def test_grain_that_covers_the_paper_around_a_grid_is_no_screen(everywhere: bool, grain: bool) -> None:
    flat = Drawing().flat()
    noise = cv2.GaussianBlur(np.random.default_rng(3).normal(0, 34, flat.image.shape[:2]), (0, 0), 0.7)[..., None]
    if not everywhere:
        inside = Raster.of(flat).grid_slices()
        noise[: inside[0].start] = noise[inside[0].stop :] = noise[:, : inside[1].start] = 0
        noise[:, inside[1].stop :] = 0
    flat.image[:] = np.clip(flat.image * 0.6 + noise, 0, 255)
    assert (descreened(flat) is flat) == grain


@pytest.mark.parametrize(("blur", "clues"), [(0.0, 1), (4.0, 0)])
def test_shade_beside_the_grid_that_reads_as_a_number_is_none(blur: float, clues: int) -> None:
    drawing = Drawing()
    for column in range(1, 7):
        for row in (2, 4):
            drawing.text((row, column), "5")
    flat = drawing.flat()
    shade = np.full(flat.image.shape[:2], 255, np.uint8)
    x, y = round((2.3 + MARGIN) * CELL), round((6.9 + MARGIN) * CELL)
    cv2.putText(shade, "7", (x, y), cv2.FONT_HERSHEY_SIMPLEX, 1.3, (180,), 4, cv2.LINE_AA)
    shade = cv2.GaussianBlur(shade, (0, 0), blur) if blur else shade
    flat.image[:] = np.minimum(flat.image, shade[..., None])
    outside = [glyph for glyph in read_pixels(flat, reader=Unsure()).glyphs if glyph.centre[1] > 6]
    assert len(outside) == clues


class Unsure:
    """Reads each piece as a 7, and is not sure of it."""

    def read(self, crops, allowed=None):
        return [(Guess("7", 0.6), Guess("", 0.4)) for _ in crops]


def test_walls_of_dots_on_both_sides_of_a_line_are_no_screen() -> None:
    flat = Drawing().flat()
    across, along = (slice(round((a + MARGIN) * CELL), round((b + MARGIN) * CELL)) for a, b in ((1.8, 2.2), (1.0, 5.0)))
    y, x = np.mgrid[: flat.image.shape[0], : flat.image.shape[1]]
    flat.image[along, across][((x + y) % 4 < 2)[along, across]] = 0
    assert descreened(flat) is flat
    wide = Drawing().flat()
    across = slice(across.start, across.start + 2 * (across.stop - across.start))
    wide.image[along, across][((x + y) % 4 < 2)[along, across]] = 0
    assert descreened(wide) is not wide


def test_outside_numbers_are_clues_and_a_title_is_not() -> None:
    drawing = Drawing()
    for column, text in ((1, "12"), (2, "0"), (4, "35"), (6, "7")):
        drawing.text((0, column), text, 1.0)
    for row, text in ((1, "9"), (3, "21")):
        drawing.text((row, 0), text, 1.0)
    drawing.text((-1.2, 3.2), "Harbour Lights", 1.0)
    evidence = drawing.read()
    found = {(round(g.centre[0] + 0.5), round(g.centre[1] + 0.5)): g.text for g in evidence.glyphs}
    assert found == {(1, 0): "12", (2, 0): "0", (4, 0): "35", (6, 0): "7", (0, 1): "9", (0, 3): "21"}


def test_what_the_edge_of_the_picture_cuts_off_is_no_clue() -> None:
    flat = Drawing().text((3, 0), "1", 1.0).flat()
    assert [g.text for g in read_pixels(flat).glyphs] == ["1"]
    beyond = np.zeros(flat.image.shape[:2], np.bool_)
    beyond[:, : round((MARGIN - 0.6) * CELL)] = True
    assert read_pixels(replace(flat, beyond=beyond)).glyphs == ()


def test_numbers_of_one_and_of_two_figures_stand_in_one_ring() -> None:
    raster = Raster(6, 6, CELL, MARGIN * CELL)
    left = MARGIN * CELL - 48
    figures = {0: (10,), 2: (3, 16), 4: (3, 16)}
    blobs = [
        Blob(left + x, (MARGIN + row) * CELL + 20, 4 if x == 3 else 10, 22, 120, (10 * row + x,))
        for row, places in figures.items()
        for x in places
    ]
    (ring,) = find_rings(blobs, raster)
    assert [(row, len(members)) for row, members in ring.clues] == [(1, 1), (3, 2), (5, 2)]


@pytest.mark.parametrize(("high", "figures"), [(8, 2), (26, 3)])
def test_little_arrow_heads_between_numbers_and_the_grid_are_none_of_their_figures(high: int, figures: int) -> None:
    raster = Raster(9, 9, 64, 2 * 64)
    places = [(row, x, 20) for row in (0, 6) for x in (9.3, 9.5)]
    blobs = [
        Blob(round((x + 2) * 64), round((row + 2.5) * 64) - tall // 2, wide, tall, wide * tall, (n,))
        for n, (row, x, tall, wide) in enumerate(
            [*((row, x, tall, 11) for row, x, tall in places), *((row, 9.12, high, 3) for row in (0, 6))], start=1
        )
    ]
    found = find_rings(blobs, raster)
    assert [(row, len(members)) for ring in found for row, members in ring.clues] == [(1, figures), (7, figures)]


@pytest.mark.parametrize(("tall", "others", "sides"), [(14, 3, 2), (14, 0, 0), (14, 1, 0), (11, 3, 1), (20, 0, 1)])
def test_a_low_number_alone_on_its_side_is_a_clue_where_those_of_other_sides_are_as_low(
    tall: int, others: int, sides: int
) -> None:
    raster = Raster(9, 9, 64, 2 * 64)
    places = [(2.5, 9.5, tall), *((column + 0.5, -0.4, 14) for column in range(1, 1 + others))]
    blobs = [
        Blob(round((x + 2) * 64) - 4, round((y + 2) * 64) - high // 2, 8, high, 8 * high, (n,))
        for n, (x, y, high) in enumerate(places, start=1)
    ]
    assert len({ring.side for ring in find_rings(blobs, raster)}) == sides


def test_a_number_alone_on_its_side_is_as_tall_as_its_tallest_figure() -> None:
    raster = Raster(9, 9, 64, 2 * 64)
    blobs = [Blob(660 + 9 * n, 80, 8, tall, 8 * tall, (n,)) for n, tall in ((1, 11), (2, 17))]
    assert [ring.side for ring in find_rings(blobs, raster)] == ["top"]


@pytest.mark.parametrize(("off", "sides"), [(0.4, 3), (0.8, 0)])
def test_low_numbers_alone_on_three_sides_are_clues_where_they_stand_alike(off: float, sides: int) -> None:
    raster = Raster(4, 4, 64, 2 * 64)
    places = [(2.5, -0.4), (4.4, 1.5), (1.5, 4 + off)]
    blobs = [
        Blob(round((x + 2) * 64) - 4, round((y + 2) * 64) - 7, 8, 14, 112, (n,))
        for n, (x, y) in enumerate(places, start=1)
    ]
    assert len(find_rings(blobs, raster)) == sides


def test_a_low_old_style_figure_is_of_a_number_that_is_not_as_low() -> None:
    raster = Raster(9, 9, 64, 2 * 64)
    places = [(2, 0.0, 10), (2, 0.15, 16), (3, 0.1, 16), (4, 0.0, 16), (4, 0.15, 16)]
    blobs = [
        Blob(round((x + 11.3) * 64), round((row + 2.42) * 64), 7, tall, 7 * tall, (n,))
        for n, (row, x, tall) in enumerate(places, start=1)
    ]
    (ring,) = find_rings(blobs, raster)
    assert [(row, len(members)) for row, members in ring.clues] == [(3, 2), (4, 1), (5, 2)]


@pytest.mark.parametrize(("rings", "far"), [((2.2,), [True]), ((0.4,), [False]), ((0.4, 2.2), [False, False])])
def test_a_ring_with_none_before_it_begins_near_the_grid(rings: tuple[float, ...], far: list[bool]) -> None:
    raster = Raster(9, 9, 64, 3 * 64)
    blobs = [
        Blob(round((column + 3.4) * 64), round((12 + away) * 64), 12, 24, 288, (n,))
        for n, (away, column) in enumerate(itertools.product(rings, (2, 4, 6, 8)), start=1)
    ]
    found = find_rings(blobs, raster)
    assert [begins_far(ring, found, raster) for ring in found] == far


def test_numbers_of_which_one_runs_into_its_little_arrow_are_left_to_those_who_read_arrows() -> None:
    """The arrow is lower than any clue, and no figure."""
    drawing = Drawing()
    for column in (2, 3, 4, 5):
        x, y = round((column - 0.7 + MARGIN) * CELL), round((MARGIN - 0.5) * CELL)
        cv2.putText(drawing.image, "43", (x, y), cv2.FONT_HERSHEY_SIMPLEX, 0.6, (0, 0, 0), 2, cv2.LINE_AA)
    cv2.fillPoly(drawing.image, [np.array([(x - 3, y), (x - 12, y), (x - 3, y - 9)], np.int32)], (0, 0, 0))
    seen = read_pixels(drawing.flat())
    assert not seen.glyphs
    assert seen.notes == (not_in_line("top"),)  # which these answer


def test_rows_of_a_table_beside_the_grid_are_no_ring() -> None:
    raster = Raster(6, 6, CELL, MARGIN * CELL)
    blobs = [Blob(100, MARGIN * CELL + 10 + 28 * k, 12, 18, 150, (k,)) for k in range(12)]
    assert find_rings(blobs, raster) == []


@pytest.mark.parametrize(("shape", "name"), [("dot", "dot"), ("bar", "bar"), ("square", "square"), ("cross", "mark")])
def test_what_is_no_character_and_no_line_is_never_ignored(shape: str, name: str) -> None:
    drawing = Drawing()
    x, y = drawing.at((3, 3.5 if shape in ("dot", "bar") else 3))
    if shape == "dot":
        cv2.circle(drawing.image, (x, y), 8, (0, 0, 0), -1, cv2.LINE_AA)
    elif shape == "bar":
        cv2.rectangle(drawing.image, (x - 3, y - 14), (x + 3, y + 14), (40, 40, 40), -1)
    elif shape == "square":
        cv2.rectangle(drawing.image, (x - 20, y - 20), (x + 20, y + 20), (200, 200, 200), -1)
    else:
        for sign in (1, -1):
            cv2.line(drawing.image, (x - 22, y - 22 * sign), (x + 22, y + 22 * sign), (220, 0, 0), 5, cv2.LINE_AA)
            cv2.line(drawing.image, (x - 26, y), (x + 26, y), (220, 0, 0), 5, cv2.LINE_AA)
    evidence = drawing.read()
    (found,) = evidence.shapes
    assert found.name == name or shape == "bar"
    assert found.box[0] < (x / CELL - MARGIN) < found.box[2]


def test_where_a_pdf_draws_the_grid_nobody_looks_for_what_is_left() -> None:
    drawing = Drawing()
    x, y = drawing.at((3, 3))
    cv2.rectangle(drawing.image, (x - 14, y - 14), (x + 14, y + 14), (0, 0, 0), -1)
    flat = drawing.flat()
    seen, drawn = read_stages(flat)[0], read_stages(flat, leftover=False)[0]
    assert seen.shapes and not drawn.shapes
    assert (drawn.glyphs, drawn.traces, drawn.tints) == (seen.glyphs, seen.traces, seen.tints)


def test_a_link_needs_ink_all_along() -> None:
    drawing = Drawing().tube([(1, 1), (1, 2)], bulb=0)
    mask = drawing.image[..., 0] < 250
    x, y = drawing.at((1, 1.5))
    mask[y - 20 : y + 20, x - 6 : x + 6] = False
    assert find_links(mask, Raster(6, 6, CELL, MARGIN * CELL)) == []


def test_every_stage_can_be_looked_at() -> None:
    flat = Drawing().tube(BENT).text((6, 6), "4").flat()
    pictures = explain_pixels(flat, *read_stages(flat))
    assert set(pictures) == {"ground", "ink", "characters", "lines", "rest"}
    assert all(picture.shape == flat.image.shape for picture in pictures.values())
    assert (pictures["lines"] != pictures["characters"]).any()
