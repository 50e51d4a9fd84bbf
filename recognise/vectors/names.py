"""Characters drawn as paths beside a grid that name its rows or its columns: A, or 1, to the last in order, one at
each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import beside, middle
from recognise.picture import Reader
from recognise.pixels.frame import Raster
from recognise.vectors.beside import LEAST_NAMES, RING, SAME_RING, are_names, is_centred
from recognise.vectors.characters import crops_of
from recognise.vectors.inks import Ink
from schema.grid import Side


def names_as_paths(inks: Iterable[Ink], shapes: Iterable[Shape], raster: Raster, reader: Reader | None) -> list[Box]:
    """The boxes of such characters among the glyph paths of `shapes`, which `inks` draw; what no `reader` reads names
    nothing."""
    by_box = {ink.box: ink for ink in inks}
    rings: dict[tuple[Side, int], dict[int, list[Ink]]] = {}
    for shape in shapes:
        at = beside(middle(shape.box), raster.rows, raster.columns)
        if at is None or shape.name != "glyph-path" or shape.box not in by_box:
            continue
        if at.away <= RING and is_centred(at):
            ring = rings.setdefault((at.side, round(at.away / SAME_RING)), {})
            ring.setdefault(int(at.along), []).append(by_box[shape.box])
    found = []
    for (side, _), ring in rings.items():
        length = raster.columns if side in ("top", "bottom") else raster.rows
        row = [ring[place][0] for place in sorted(ring) if len(ring[place]) == 1]
        if length == len(row) and reader is not None and _are_in_order(row, reader):
            found += [ink.box for ink in row]
    return found


def _are_in_order(row: Sequence[Ink], reader: Reader) -> bool:
    crops = [crops_of(ink) for ink in row]
    if any(len(its) != 1 for its in crops):
        return False
    texts = [guesses[0].text if guesses else "" for guesses in reader.read([crop for (crop,) in crops])]
    # No clues are 1 to the last in order.
    counted = [str(number) for number in range(1, len(texts) + 1)]
    return are_names(texts) or (len(texts) > LEAST_NAMES and texts in (counted, counted[::-1]))
