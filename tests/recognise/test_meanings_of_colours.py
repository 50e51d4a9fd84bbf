"""Tints, circles and squares, and the colours that rules name, from evidence made by hand."""

import pytest

from recognise.evidence import Disc, How, Shape, Tint
from recognise.interpret.colours import is_grey, names_for, names_in_grey, plain_name
from recognise.interpret.greyed import BY_DARKNESS
from recognise.interpret.on_tints import in_own_colour
from recognise.rules import MarkHint, Statement
from recognise.rules.reader import read_rules
from schema.cells import Cell
from tests.recognise.evidence_maker import glyph, trace
from tests.recognise.ideal_evidence import GREY
from tests.recognise.meanings import drafted, parsed, reasons, stated


def test_tints_are_regions_or_cells_by_what_the_rules_say() -> None:
    region = "r2c2 r2c3 r2c4 r3c2 r3c3 r3c4 r4c2 r4c3 r4c4"
    tints = tuple(
        Tint(cell, (200, 220, 240), 1.0) for cell in parsed(region + " r6c6 r6c7 r6c8 r7c6 r7c7 r7c8 r8c6 r8c7 r8c8")
    )
    draft = drafted(Statement("extra-region", {}, MarkHint("tint")), tints=tints)
    assert [len(c.cells) for c in stated(draft, "extra-region")] == [9, 9]
    assert reasons(draft) == []
    draft = drafted(Statement("even", {}, MarkHint("tint")), tints=tints)
    assert [len(c.cells) for c in stated(draft, "even")] == [18]
    draft = drafted(Statement("extra-region", {}, MarkHint("tint")), tints=tints[:-1])
    assert any("8 cells" in why for why in reasons(draft))


@pytest.mark.parametrize(
    ("level", "hint", "kept"),
    [(246, "circle", False), (228, "circle", True), (246, "tint", True)],
    ids=["shadow", "print", "spoken of"],
)
def test_a_faint_tint_of_which_no_rule_speaks_is_shade(level: int, hint: str, kept: bool) -> None:
    tints = tuple(Tint(cell, (level, level - 2, level - 4), 1.0, "shape") for cell in parsed("r8c8 r8c9 r9c8 r9c9"))
    draft = drafted(Statement("odd", {}, MarkHint(hint, "pink" if hint == "circle" else "")), tints=tints)
    assert bool(stated(draft, "odd") or any("a tint in" in why for why in reasons(draft))) == kept
    assert any("taken for shade" in why for why in reasons(draft)) != kept


@pytest.mark.parametrize("tone", [0, 246], ids=["a PDF's dots", "a faint tint of a picture"])
def test_cells_strewn_with_dots_are_those_that_the_rules_call_so(tone: int) -> None:
    how: How = "vector" if tone == 0 else "shape"
    tints = tuple(Tint(cell, (tone, tone, tone), 0.09, how) for cell in parsed("r1c6 r3c5 r4c5"))
    draft = drafted(Statement("even", {}, MarkHint("dot"), "Cells strewn with dots are even."), tints=tints)
    assert [c.cells for c in stated(draft, "even")] == [parsed("r1c6 r3c5 r4c5")]
    assert len(reasons(draft)) == 1, "what the sentence calls its marks is asked about"
    two = (Statement("even", {}, MarkHint("dot")), Statement("odd", {}, MarkHint("dot")))
    draft = drafted(*two, tints=tints)
    assert stated(draft, "even") == stated(draft, "odd") == [], "either of them may speak of tints"


def test_tints_of_two_colours_are_two_rules() -> None:
    tints = (Tint(Cell(1, 1), (190, 210, 250), 1.0), Tint(Cell(5, 5), (250, 230, 150), 1.0))
    two = (Statement("even", {}, MarkHint("tint", "blue")), Statement("odd", {}, MarkHint("tint", "yellow")))
    draft = drafted(*two, tints=tints)
    assert [c.cells for c in stated(draft, "even")] == [parsed("r1c1")]
    assert [c.cells for c in stated(draft, "odd")] == [parsed("r5c5")]


def test_circles_and_squares_in_cells() -> None:
    discs = (Disc((0.5, 0.5), 0.36, GREY, None, "vector"), Disc((4.5, 4.5), 0.36, GREY, None, "vector"))
    shapes = (Shape("square", (2.2, 2.2, 2.8, 2.8), GREY, "vector"),)
    two = (Statement("odd", {}, MarkHint("circle", "grey")), Statement("even", {}, MarkHint("square")))
    draft = drafted(*two, discs=discs, shapes=shapes)
    assert [c.cells for c in stated(draft, "odd")] == [parsed("r1c1 r5c5")]
    assert [c.cells for c in stated(draft, "even")] == [parsed("r3c3")]
    assert reasons(draft) == []


@pytest.mark.parametrize(
    ("tint", "others", "kept"),
    [((232, 204, 192), (), False), ((235, 240, 236), (), True), ((232, 204, 192), (MarkHint("tint"),), True)],
    ids=["a plain tint", "a faint one", "a rule for another tint"],
)
def test_a_faint_tint_beside_a_plain_one_is_shade(tint: tuple[int, int, int], others: tuple, kept: bool) -> None:
    region, corner = [Cell(row, 1) for row in range(1, 10)], [Cell(1, 8), Cell(1, 9), Cell(2, 9)]
    tints = [Tint(cell, tint, 1.0) for cell in region] + [Tint(cell, (249, 247, 244), 1.0) for cell in corner]
    rules = (Statement("extra-region", {}, MarkHint("tint")), *(Statement("even", {}, hint) for hint in others))
    draft = drafted(*rules, tints=tuple(tints))
    assert any("taken for shade" in why for why in reasons(draft)) != kept


@pytest.mark.parametrize("beside", [False, True])
def test_what_a_filled_square_leaves_bare_of_its_cell_is_no_tint(beside: bool) -> None:
    region = [Cell(row, 1) for row in range(1, 9)] + [Cell(8, 2)]
    square = Cell(2, 2) if beside else Cell(4, 7)
    grey, halo = (226, 226, 226), (236, 236, 236)
    x, y = square.centre
    shapes = (Shape("square", (x - 0.36, y - 0.36, x + 0.36, y + 0.36), (226, 226, 226), "shape", filled=True),)
    tints = tuple(Tint(cell, grey, 1.0) for cell in region)
    rules = (Statement("extra-region"), Statement("even", {}, MarkHint("square")))
    draft = drafted(*rules, tints=(*tints, Tint(square, halo, 1.0)), shapes=shapes)
    assert any(square in area.cells for area in stated(draft, "extra-region")) == beside


def test_colours_by_their_plain_words() -> None:
    named = {"#b0b0b0": "grey", "#7fb2d6": "blue", "#a98fd6": "purple", "#fdf1dc": "yellow", "#ffffff": "white"}
    for colour, word in named.items():
        assert plain_name(tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))) == word


def test_the_words_of_the_rules_decide_among_the_colours_of_the_page() -> None:
    mauve, grey = (150, 140, 190), (180, 180, 180)
    assert names_for([mauve], ["purple"])[mauve] == "purple"
    assert names_for([mauve, grey], ["purple", "grey"]) == {mauve: "purple", grey: "grey"}
    assert names_for([(60, 60, 70)], ["black", "white"]) == {(60, 60, 70): "black"}
    green, red = (80, 180, 90), (200, 60, 60)
    assert names_for([green, red], ["red"]) == {green: "green", red: "red"}


def test_shades_that_print_does_not_tell_apart_have_one_word() -> None:
    on_tint, on_paper, orange = (105, 61, 34), (86, 55, 31), (240, 150, 60)
    named = names_for([on_tint, on_paper, orange], ["black"])
    assert named == {on_tint: "black", on_paper: "black", orange: "orange"}
    assert set(names_for([on_tint, on_paper], []).values()) == {"brown"}
    tint, paler = (205, 205, 205), (235, 235, 235)
    assert names_for([tint, paler], ["grey"]) == {tint: "grey", paler: "white"}


def test_lines_that_are_nearly_alike_have_the_word_of_the_rules() -> None:
    green, nearly, yellow = (149, 204, 180), (142, 191, 180), (245, 225, 90)
    assert names_for([nearly, green], ["green"], strokes=True) == {nearly: "green", green: "green"}
    assert names_for([nearly, green], ["green", "cyan"], strokes=True)[nearly] == "cyan", "it has a word of its own"
    assert names_for([green, yellow], ["green"], strokes=True)[yellow] == "yellow", "another ink"


@pytest.mark.parametrize(("how", "named"), [("shape", 2), ("vector", 1)])
def test_an_opaque_line_on_a_tint_has_the_colour_of_the_others(how: str, named: int) -> None:
    lines = (trace("r1c1 r1c2", colour=(224, 146, 100), how=how), trace("r5c4 r5c5", colour=(224, 153, 136), how=how))
    tints = tuple(Tint(Cell(5, column), (254, 243, 187), 1.0) for column in range(1, 10))
    rule = Statement("palindrome", {}, MarkHint("line", "orange"))
    assert len(stated(drafted(rule, traces=lines, tints=tints), "palindrome")) == named


def test_thin_lines_with_circles_have_the_word_of_the_rules_for_the_plainest_of_them() -> None:
    """A photo of thin lines mixes their colour with the paper, more or less of it."""
    colours = (213, 198, 191), (214, 200, 191), (193, 170, 165)
    rows = zip((1, 4, 7), colours, strict=True)
    lines = [trace(f"r{row}c1 r{row}c2 r{row}c3", discs=(0, 2), colour=colour) for row, colour in rows]
    draft = drafted(Statement("between-line", {}, MarkHint("line", "orange")), traces=tuple(lines))
    assert len(stated(draft, "between-line")) == 3


def test_a_translucent_line_on_a_tint_keeps_the_colour_of_its_ink() -> None:
    lines = (trace("r1c1 r1c2", colour=(220, 60, 50)), trace("r5c4 r5c5", colour=(220, 60, 50)))
    tints = tuple(Tint(Cell(5, column), (254, 243, 187), 1.0) for column in range(1, 10))
    assert [line.colour for line in in_own_colour(lines, tints)] == [(220, 60, 50)] * 2


def test_in_a_grey_picture_words_of_colour_mean_shades() -> None:
    pale, dark = (219, 219, 219), (105, 105, 105)
    assert names_in_grey([pale], ["yellow"]) == ({pale: "yellow"}, True)
    assert names_in_grey([dark, pale], ["yellow", "purple"]) == ({dark: "purple", pale: "yellow"}, True)
    assert not names_in_grey([dark, pale], ["red", "purple"])[1], "these words are as dark as each other"
    assert names_in_grey([dark], ["red", "yellow"]) == ({dark: "red"}, False)
    assert not is_grey([pale, (240, 220, 120)])


def test_tinted_cells_apart_from_each_other_are_one_region() -> None:
    cells = [Cell(row, column) for row in (2, 5, 8) for column in (2, 5, 8)]
    tints = tuple(Tint(cell, GREY, 1.0, "vector") for cell in cells)
    draft = drafted(Statement("extra-region"), tints=tints)
    assert [sorted(c.cells) for c in stated(draft, "extra-region")] == [cells]


def test_a_disc_in_a_cell_is_the_circle_that_is_drawn_there() -> None:
    discs = (Disc((2.5, 3.5), 0.35, (208, 208, 208), None, "vector"),)
    draft = drafted(*read_rules("A cell with a grey disc contains an odd digit.").statements, discs=discs)
    assert [c.cells for c in stated(draft, "odd")] == [(Cell(4, 3),)]
    assert reasons(draft) == []


def test_in_a_grey_picture_a_line_is_what_its_number_and_its_ends_say() -> None:
    sums, equal = (
        Statement("sum-line", {}, MarkHint("line", "orange")),
        Statement("palindrome", {}, MarkHint("line", "grey")),
    )
    traces = (trace("r1c1 r1c2 r1c3"), trace("r3c1 r3c2 r3c3"))
    number = glyph(0.14, 0.14, ("12", 0.999), size=0.2)
    draft = drafted(sums, equal, traces=traces, glyphs=(number,))
    assert [(c.path[0], c.value) for c in stated(draft, "sum-line")] == [(Cell(1, 1), 12)]
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(3, 1)]
    assert BY_DARKNESS not in reasons(draft), "neither can be the other"
    gaps = Statement("gap-line", {"gap": 3}, MarkHint("line", "blue"))
    draft = drafted(sums, equal, gaps, traces=traces, glyphs=(number,))
    assert reasons(draft).count(BY_DARKNESS) == 1, "the line without a number may be either"
    runs, between = (
        Statement("run-line", {}, MarkHint("line", "red")),
        Statement("between-line", {}, MarkHint("line", "grey")),
    )
    draft = drafted(runs, between, traces=(traces[0], trace("r3c1 r3c2 r3c3", discs=(0, 2))))
    assert [c.path[0] for c in stated(draft, "run-line")] == [Cell(1, 1)]
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(3, 1)]


def test_in_a_grey_picture_lines_with_circles_are_what_the_rules_say_of_such_however_dark_they_seem() -> None:
    """Lines with circles at their ends seem paler than they are where they are hollow."""
    between = Statement("between-line", {}, MarkHint("line", "purple"))
    runs = Statement("run-line", {}, MarkHint("line", "green"))
    pale, dark = (213, 213, 213), (129, 129, 129)
    circled = [trace(f"r{n}c1 r{n}c2 r{n}c3", discs=(0, 2), colour=c) for n, c in ((1, dark), (3, (169, 169, 169)))]
    plain = trace("r5c1 r5c2 r5c3", colour=pale)
    draft = drafted(between, runs, traces=(*circled, plain))
    assert [c.path[0] for c in stated(draft, "between-line")] == [Cell(1, 1), Cell(3, 1)]
    assert [c.path[0] for c in stated(draft, "run-line")] == [Cell(5, 1)]
    assert BY_DARKNESS not in reasons(draft), "the page has lines of both kinds, each drawn as it usually is"
    alone = drafted(between, runs, traces=tuple(circled))
    assert len(stated(alone, "between-line")) == 2
    assert BY_DARKNESS in reasons(alone), "nothing shows how lines of the other kind are drawn"


def test_a_line_as_grey_as_the_rules_say_is_not_what_they_call_black_because_its_bulb_was_not_seen() -> None:
    tubes = Statement("thermometer", {"strict": True}, MarkHint("tube", "grey"))
    equal = Statement("palindrome", {}, MarkHint("line", "black"))
    tube = trace("r1c1 r1c2 r1c3", discs=(0,), colour=(170, 170, 170), width=0.4)
    without_bulb, black = trace("r3c1 r3c2 r3c3", colour=(170, 170, 170)), trace("r5c1 r5c2 r5c3", colour=(10, 10, 10))
    draft = drafted(tubes, equal, traces=(tube, without_bulb, black))
    assert [c.path[0] for c in stated(draft, "palindrome")] == [Cell(5, 1)]
    assert reasons(draft)


def test_in_a_grey_picture_lines_of_one_shade_are_those_of_which_the_rules_speak() -> None:
    equal = Statement("palindrome", {}, MarkHint("line", "orange"))
    tubes = Statement("thermometer", {"strict": True}, MarkHint("tube"))
    line, tube = trace("r1c1 r1c2 r1c3"), trace("r3c1 r3c2 r3c3", discs=(0,), colour=(100, 100, 100))
    draft = drafted(equal, tubes, traces=(line, tube))
    assert len(stated(draft, "palindrome")) == len(stated(draft, "thermometer")) == 1
    assert BY_DARKNESS not in reasons(draft)
    paler = trace("r5c1 r5c2 r5c3", colour=(200, 200, 200))
    assert BY_DARKNESS in reasons(drafted(equal, tubes, traces=(line, paler, tube)))


@pytest.mark.parametrize(("letter", "even"), [("", 2), ("E", 0)])
def test_letters_among_the_digits_of_a_sentence_describe_no_mark_in_a_cell(letter: str, even: int) -> None:
    """`The dotted squares are even, so they hold 2, 4, 6, 8, A, C or E` speaks of squares, whatever its letters say."""
    rule = Statement("even", {}, MarkHint("letter", letter=letter, style="dotted"))
    tints = (Tint(Cell(2, 2), GREY, 1.0), Tint(Cell(5, 7), GREY, 1.0))
    draft = drafted(rule, tints=tints)
    assert sum(len(c.cells) for c in stated(draft, "even")) == even
