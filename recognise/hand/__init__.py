"""What somebody has written into a printed grid, told from print."""

from recognise.hand.pencilled import Hand, Pencilled
from recognise.hand.tell import tell_hand

__all__ = ["Hand", "Pencilled", "tell_hand"]
