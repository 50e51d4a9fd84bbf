"""What looks like a sign where a line cuts a thick lattice line."""

import numpy as np

from recognise.marks.looking import Looking
from recognise.marks.no_signs import no_signs
from recognise.marks.sights import Sight
from recognise.pixels.frame import Raster
from tests.recognise.chances_maker import MARGIN, Sheet

BLACK, GREY = (0, 0, 0), (190, 190, 190)
SIGNS = [(1.5, float(row)) for row in (1, 2, 3)]
DOUBTFUL = (4.5, 3.0)


def _seen(sheet: Sheet, sure: int) -> frozenset[tuple[float, float]]:
    """Where no sign stands on a sheet of which so many signs are sure and one is not."""
    ink = 1 - sheet.image.mean(axis=2, dtype=np.float32) / 255
    raster = Raster(sheet.rows, sheet.columns, sheet.flat.cell, MARGIN * sheet.flat.cell)
    looking = Looking(ink, ink, np.repeat(1 - ink[..., None], 3, axis=2), raster, 0.05, None)  # type: ignore[arg-type]
    told = dict.fromkeys(SIGNS[:sure], 0.999) | {DOUBTFUL: 0.5}
    sights = (Sight(place, 1, {"SIGN_UP": chance, "NONE": 1 - chance}) for place, chance in told.items())
    return no_signs(sights, looking)


def _sign(sheet: Sheet, x: float, y: float, shade: tuple[int, int, int] = BLACK) -> None:
    for side in (-1, 1):
        sheet.line((x, y - 0.12), (x + side * 0.12, y + 0.12), shade, 0.03)


def test_a_pale_line_through_a_thick_one_is_no_sign() -> None:
    sheet = Sheet()
    sheet.line((3, 3), (6, 3), BLACK, 0.07)
    sheet.line((4.5, 2.2), (4.5, 4.2), GREY, 0.13)
    for place in SIGNS:
        _sign(sheet, *place)
    assert _seen(sheet, 3) == {DOUBTFUL}
    assert _seen(sheet, 2) == frozenset(), "too few to tell how dark signs are"


def test_a_sign_as_dark_as_most_may_be_one_on_a_line() -> None:
    sheet = Sheet()
    sheet.line((4.5, 2.2), (4.5, 4.2), GREY, 0.13)
    for place in (*SIGNS, DOUBTFUL):
        _sign(sheet, *place)
    assert _seen(sheet, 3) == frozenset()


def test_signs_as_pale_as_the_line_stay_in_doubt() -> None:
    sheet = Sheet()
    sheet.line((4.5, 2.2), (4.5, 4.2), GREY, 0.13)
    for place in SIGNS:
        _sign(sheet, *place, GREY)
    assert _seen(sheet, 3) == frozenset()


def test_small_signs_that_hardly_stand_out_of_a_thick_line_may_be_signs() -> None:
    sheet = Sheet()
    sheet.line((3, 3), (6, 3), BLACK, 0.16)
    shade = (90, 90, 90)
    for x, y in (*SIGNS, DOUBTFUL):
        for side in (-1, 1):
            sheet.line((x, y - 0.1), (x + side * 0.1, y + 0.1), shade, 0.03)
    assert _seen(sheet, 3) == frozenset()
