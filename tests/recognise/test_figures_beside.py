"""Figures right beside a number: one more of it, or those of another number."""

from types import SimpleNamespace

from recognise.evidence import Guess
from recognise.marks.texts import _more_beside, _next_to
from recognise.pixels.frame import Raster

RASTER = Raster(6, 6, 64, 3 * 64)


def test_the_figures_of_another_number_beside_it_are_none_of_a_number() -> None:
    number = [SimpleNamespace(box=(1.0, 0.0, 1.1, 0.2)), SimpleNamespace(box=(1.1, 0.0, 1.2, 0.2))]
    other = [SimpleNamespace(box=(x, 0.0, x + 0.1, 0.2), guesses=(Guess("4", 0.99),)) for x in (1.22, 1.32)]
    piece = SimpleNamespace(box=lambda raster: other[0].box)
    for groups, more in (([number, other], False), ([number, other[:1]], True)):
        known = _next_to(number, groups)  # type: ignore[arg-type]
        assert _more_beside(number, [piece], RASTER, known=known) is more  # type: ignore[arg-type,list-item]
