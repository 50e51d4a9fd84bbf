"""The vector reader: exact evidence from what a PDF draws, independent of the pixel reader."""

from recognise.vectors.lattices import exact, lattices_from_vectors
from recognise.vectors.read import read_vectors

__all__ = ["exact", "lattices_from_vectors", "read_vectors"]
