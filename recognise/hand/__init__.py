"""What somebody has written into a printed grid, told from print."""

from recognise.hand.tell import Hand, Pencilled, tell_hand

__all__ = ["Hand", "Pencilled", "tell_hand"]
