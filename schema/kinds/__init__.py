"""Every constraint kind, one module each. A new kind is its module, a line in KINDS, and its tests."""

from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.sandwich import Sandwich
from schema.kinds.thermometer import Thermometer

KINDS: tuple[type[Constraint], ...] = (
    Rows,
    Columns,
    Boxes,
    Thermometer,
    Sandwich,
)
"""In the order of the contract's table."""

_BY_NAME = {kind.model_fields["kind"].default: kind for kind in KINDS}


def kind_named(name: str) -> type[Constraint]:
    """The kind with this tag. Raises KeyError for an unknown one."""
    return _BY_NAME[name]
