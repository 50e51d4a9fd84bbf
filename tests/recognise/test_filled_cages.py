"""Cages that are drawn as tinted patches."""

from __future__ import annotations

import pytest

from recognise.evidence import Fence, Glyph, Guess, Tint
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.kinds.cage import Cage
from schema.kinds.extra_region import ExtraRegion
from tests.recognise.interpreting import BASIC, cells_in, drafted, of_kind

PATCHES = {
    "r1c1 r1c2 r2c1": (200, 150, 120),
    "r4c4 r5c4 r5c5": (120, 160, 180),
    "r8c8 r8c9": (150, 180, 110),
    "r3c7 r3c8 r4c7 r4c8 r4c9": (200, 150, 120),
}
TINTS = tuple(Tint(cell, colour, 1.0) for cells, colour in PATCHES.items() for cell in cells_in(cells))
WHOLE, PARTS = ("r3c7 r3c8 r4c7 r4c8 r4c9",), ("r3c7 r3c8 r4c7 r4c8", "r4c9")
CAGE, REGION = Statement("cage", {}, MarkHint()), Statement("extra-region", {}, MarkHint(shape="tint"))


def fences(*last: str) -> tuple[Fence, ...]:
    return tuple(Fence(cells_in(cells), "solid", (0, 0, 0), "shape") for cells in (*list(PATCHES)[:3], *last))


@pytest.mark.parametrize("last", [WHOLE, PARTS], ids=["whole", "a wall seen inside of one"])
def test_patches_with_a_line_around_them_are_cages_and_no_regions(last: tuple[str, ...]) -> None:
    total = Glyph((6.12, 2.12, 6.4, 2.32), (Guess("21", 1.0),), 0.2, (0, 0, 0), "ocr")
    draft = drafted(RuleSheet((*BASIC, CAGE, REGION)), tints=TINTS, fences=fences(*last), glyphs=(total,))
    assert {(cage.cells, cage.value) for cage in of_kind(draft, Cage)} == {
        (cells_in(cells), 21 if cells == WHOLE[0] else None) for cells in PATCHES
    }
    assert of_kind(draft, ExtraRegion) == []


def test_a_patch_on_which_two_of_few_cages_stand_is_no_cage() -> None:
    some = [tint for tint in TINTS if tint.cell.row != 8]
    draft = drafted(RuleSheet((*BASIC, CAGE)), tints=tuple(some), fences=fences(*PARTS)[:2] + fences(*PARTS)[3:])
    assert {cage.cells for cage in of_kind(draft, Cage)} >= {cells_in(cells) for cells in PARTS}


def test_a_patch_in_whose_cage_digits_may_repeat_is_a_region_of_its_own() -> None:
    repeats = Statement("cage", {"repeats": True}, MarkHint())
    draft = drafted(RuleSheet((*BASIC, repeats, REGION)), tints=TINTS, fences=fences(*WHOLE))
    assert {region.cells for region in of_kind(draft, ExtraRegion)} == {cells_in(cells) for cells in PATCHES}


def test_the_line_around_a_patch_is_its_rim_where_the_rules_speak_of_patches_and_of_no_cages() -> None:
    draft = drafted(RuleSheet((*BASIC, REGION)), tints=TINTS, fences=fences(*WHOLE))
    assert of_kind(draft, Cage) == []
    assert {region.cells for region in of_kind(draft, ExtraRegion)} == {cells_in(cells) for cells in PATCHES}
    assert not any("do not speak of one" in doubt.why for doubt in draft.doubts)


def test_patches_of_one_tint_that_touch_are_parted_by_their_rims() -> None:
    two = ("r1c1 r1c2 r2c1", "r1c3 r2c2 r2c3")
    tints = tuple(Tint(cell, (250, 230, 160), 1.0) for cells in two for cell in cells_in(cells))
    rims = tuple(Fence(cells_in(cells), "solid", (180, 130, 10), "shape") for cells in two)
    for drawn, regions in ((rims, two), ((), (" ".join(two),))):
        draft = drafted(RuleSheet((*BASIC, REGION)), tints=tints, fences=drawn)
        assert {region.cells for region in of_kind(draft, ExtraRegion)} == {
            tuple(sorted(cells_in(cells))) for cells in regions
        }


def test_a_region_with_a_rim_explains_the_strokes_that_fill_it() -> None:
    stroke = ((0.1, 0.1), (0.2, 0.1), (0.9, 0.9))
    (cells, colour), *_ = PATCHES.items()
    tints = tuple(Tint(cell, colour, 1.0, strokes=(stroke,)) for cell in cells_in(cells))
    draft = drafted(RuleSheet((*BASIC, REGION)), tints=tints, fences=fences()[:1])
    (item,) = (item for item in draft.items if any(isinstance(c, ExtraRegion) for c in item.value))
    assert stroke in item.claimed


UNNUMBERED = Statement("cage", {"repeats": False}, MarkHint("cage"), "In a shaded fold, fenced, no digit is repeated.")


def test_patches_that_the_rules_call_fences_are_regions_where_none_has_a_number() -> None:
    draft = drafted(RuleSheet((*BASIC, UNNUMBERED)), tints=TINTS, fences=fences(*WHOLE))
    assert of_kind(draft, Cage) == []
    assert {region.cells for region in of_kind(draft, ExtraRegion)} == {cells_in(cells) for cells in PATCHES}
    assert [doubt.why for doubt in draft.doubts] == []


@pytest.mark.parametrize(
    ("numbered", "others", "tinted"), [(True, (), 4), (False, (REGION,), 4), (False, (), 3)], ids=str
)
def test_fences_with_a_number_or_without_a_tint_are_cages(numbered: bool, others: tuple, tinted: int) -> None:
    total = Glyph((6.12, 2.12, 6.4, 2.32), (Guess("21", 1.0),), 0.2, (0, 0, 0), "ocr")
    tints = tuple(t for t in TINTS if t.cell in {c for cells in list(PATCHES)[4 - tinted :] for c in cells_in(cells)})
    sheet = RuleSheet((*BASIC, UNNUMBERED, *others))
    draft = drafted(sheet, tints=tints, fences=fences(*WHOLE), glyphs=(total,) if numbered else ())
    assert len(of_kind(draft, Cage)) == len(PATCHES)


def totals(**by_cell: str) -> tuple[Glyph, ...]:
    """Numbers in the upper left corners of cells."""
    corners = [
        (cell.column - 1, cell.row - 1, text) for name in by_cell for cell, text in [(*cells_in(name), by_cell[name])]
    ]
    return tuple(
        Glyph((x + 0.1, y + 0.1, x + 0.4, y + 0.3), (Guess(text, 1.0),), 0.2, (0, 0, 0), "vector")
        for x, y, text in corners
    )


def test_patches_with_totals_need_no_line_to_be_cages_and_paper_between_them_is_one_of_their_colours() -> None:
    tints = (*TINTS, *(Tint(cell, (90, 200, 200), 1.0) for cell in cells_in("r9c7 r9c8")))
    glyphs = totals(r1c1="14", r4c4="11", r8c8="9", r3c7="30", r9c7="12", r9c9="5")
    draft = drafted(RuleSheet((*BASIC, CAGE)), tints=tints, glyphs=glyphs)
    cages = {" ".join(map(str, cage.cells)): cage.value for cage in of_kind(draft, Cage)}
    assert list(cages) == [
        "r1c1 r1c2 r2c1",
        "r3c7 r3c8 r4c7 r4c8 r4c9",
        "r4c4 r5c4 r5c5",
        "r8c8 r8c9",
        "r9c7 r9c8",
        "r9c9",
    ]
    assert list(cages.values()) == [14, 30, 11, 9, 12, 5]
    assert not draft.doubts


@pytest.mark.parametrize("second", [{"r4c9": "7"}, {}], ids=["two totals in one patch", "few totals"])
def test_patches_of_which_totals_do_not_tell_are_no_cages(second: dict[str, str]) -> None:
    few = {"r1c1": "14", "r4c4": "11"}
    glyphs = totals(**few, **({"r8c8": "9", "r3c7": "30"} if second else {}), **second)
    assert of_kind(drafted(RuleSheet((*BASIC, CAGE)), tints=TINTS, glyphs=glyphs), Cage) == []


OUTLINE = Fence(cells_in("r6c9 r7c7 r7c8 r7c9 r8c7 r8c9 r9c7 r9c8 r9c9"), "dashed", (40, 140, 80), "vector")


def test_a_line_around_cells_is_a_region_where_the_rules_speak_of_regions_and_of_no_cages() -> None:
    draft = drafted(RuleSheet((*BASIC, REGION)), fences=(OUTLINE,))
    assert [region.cells for region in of_kind(draft, ExtraRegion)] == [OUTLINE.cells]
    assert of_kind(draft, Cage) == [] and draft.doubts == ()


def test_a_line_around_as_many_cells_as_there_are_digits_may_be_a_region_where_no_rule_tells() -> None:
    draft = drafted(RuleSheet(BASIC), fences=(OUTLINE,))
    assert of_kind(draft, Cage) == []
    assert any("extra region" in doubt.why for doubt in draft.doubts)


def test_a_line_around_cells_is_a_cage_where_the_rules_speak_of_cages_or_it_has_a_number() -> None:
    draft = drafted(RuleSheet((*BASIC, CAGE, REGION)), fences=(OUTLINE,))
    assert [cage.cells for cage in of_kind(draft, Cage)] == [OUTLINE.cells]
    total = Glyph((8.12, 5.12, 8.4, 5.32), (Guess("45", 1.0),), 0.2, (0, 0, 0), "ocr")
    draft = drafted(RuleSheet((*BASIC, REGION)), fences=(OUTLINE,), glyphs=(total,))
    assert [cage.value for cage in of_kind(draft, Cage)] == [45]
