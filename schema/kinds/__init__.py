"""Every constraint kind, one module each. A new kind is its module, a line in KINDS, and its tests."""

from schema.kinds.all_marked import AllMarked
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.box_sum_line import BoxSumLine
from schema.kinds.boxes import Boxes
from schema.kinds.cage import Cage
from schema.kinds.columns import Columns
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.diagonal import Diagonal
from schema.kinds.diagonal_sum import DiagonalSum
from schema.kinds.even import Even
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.gap_line import GapLine
from schema.kinds.greater import Greater
from schema.kinds.king_apart import KingApart
from schema.kinds.knight_apart import KnightApart
from schema.kinds.neighbours_not_consecutive import NeighboursNotConsecutive
from schema.kinds.odd import Odd
from schema.kinds.palindrome import Palindrome
from schema.kinds.ratio_pair import RatioPair
from schema.kinds.rows import Rows
from schema.kinds.run_line import RunLine
from schema.kinds.sandwich import Sandwich
from schema.kinds.skyscraper import Skyscraper
from schema.kinds.sum_line import SumLine
from schema.kinds.sum_pair import SumPair
from schema.kinds.thermometer import Thermometer
from schema.kinds.unread_mark import UnreadMark
from schema.kinds.x_sum import XSum

KINDS: tuple[type[Constraint], ...] = (
    Rows,
    Columns,
    Boxes,
    Diagonal,
    ExtraRegion,
    Thermometer,
    Arrow,
    Palindrome,
    GapLine,
    RunLine,
    BetweenLine,
    BoxSumLine,
    SumLine,
    Cage,
    ConsecutivePair,
    RatioPair,
    SumPair,
    Greater,
    CornerDigits,
    Even,
    Odd,
    Sandwich,
    Skyscraper,
    XSum,
    DiagonalSum,
    AllMarked,
    KnightApart,
    KingApart,
    NeighboursNotConsecutive,
    UnreadMark,
)
"""In the order of the contract's table."""

STRUCTURE = ("rows", "columns", "boxes")
"""Kinds that the lattice itself shows; every other kind has a mark or a sentence of its own."""

_BY_NAME = {kind.model_fields["kind"].default: kind for kind in KINDS}


def kind_named(name: str) -> type[Constraint]:
    """The kind with this tag. Raises KeyError for an unknown one."""
    return _BY_NAME[name]
