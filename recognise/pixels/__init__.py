"""Reads a flattened grid from its pixels alone, layer by layer: `read_pixels(flat, edges, reader) -> Evidence`.

`ground` (tints and light), `ink` (the grid's lines taken out), `blobs` and `glyphs` (characters), `outside` (rings of
numbers), `links`, `tracing` and `tubes` (lines drawn through cells), `shapes` and `residual` (everything else).
"""

from recognise.pixels.explain import explain_pixels
from recognise.pixels.read import Stages, read_pixels, read_stages, stray_beside, with_marks, without_written

__all__ = ["Stages", "explain_pixels", "read_pixels", "read_stages", "stray_beside", "with_marks", "without_written"]
