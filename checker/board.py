"""The `Board` of `schema.kinds.base` over a solver's model."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from checker.solver import Domain, Model, Variable
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Amount, Flag, Relation, Setting

_FLAG, _NOUGHT = Domain(0, 1), Domain(0, 0)


class CpBoard:
    """A model of one grid. Each cell is an integer; the 0/1 variables of a cell's digits are made only when a
    kind asks for one of them, because most rules never do and they are most of the cost of building a model."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting
        self.grid: Grid = setting.grid
        self.model = Model()
        domain = Domain.from_values(sorted(self.grid.digits))
        self.cells: dict[Cell, Variable] = {cell: self.model.variable(domain) for cell in self.grid.cells()}
        self._flags: dict[Cell, dict[int, Variable]] = {}
        self._zero: Variable | None = None

    def digit(self, cell: Cell) -> Amount:
        """The digit in a cell."""
        return self.cells[cell]

    def holds(self, cell: Cell, digit: int) -> Flag:
        """1 exactly when the cell holds that digit; a constant 0 for a digit that the grid does not have."""
        flags = self._flags.get(cell)
        if flags is None:
            flags = self._flags[cell] = self._digit_flags(cell)
        flag = flags.get(digit)
        return self._constant_zero() if flag is None else flag

    def _digit_flags(self, cell: Cell) -> dict[int, Variable]:
        flags = {digit: self.model.variable(_FLAG) for digit in self.grid.digits}
        self.model.exactly_one(flags.values())
        for digit, flag in flags.items():
            self.model.hold(self.cells[cell] == digit).only_enforce_if(flag)
        return flags

    def _constant_zero(self) -> Variable:
        if self._zero is None:
            self._zero = self.model.variable(_NOUGHT)
        return self._zero

    def fix(self, cell: Cell, digit: int) -> None:
        """The cell holds that digit."""
        self.model.hold(self.cells[cell] == digit)

    def exclude(self, digits: Mapping[Cell, int]) -> None:
        """At least one of the cells holds another digit than the one that `digits` names for it."""
        if digits:
            self.model.table([self.cells[cell] for cell in digits], [tuple(digits.values())], forbidden=True)
        else:
            self.model.any_of([])

    def different(self, cells: Sequence[Cell]) -> None:
        """No two of the cells hold the same digit."""
        if len(cells) > 1:
            self.model.different([self.cells[cell] for cell in cells])

    def table(self, amounts: Sequence[Amount], rows: Iterable[Sequence[int]]) -> None:
        """The amounts, in order, take the values of one of the rows."""
        listed = [tuple(row) for row in rows]
        if listed:
            self.model.table(list(amounts), listed)
        else:
            self.model.any_of([])  # no row is allowed: nothing obeys this rule

    def forbid(self, amounts: Sequence[Amount], rows: Sequence[Sequence[int]]) -> None:
        """The amounts, in order, take the values of none of the rows."""
        if rows:
            self.model.table(list(amounts), rows, forbidden=True)

    def require(self, relation: Relation, only_if: Sequence[Flag] = ()) -> None:
        """The relation holds (whenever every flag in `only_if` is 1)."""
        if relation is True:  # the kind compared two numbers that it knew
            return
        if relation is False:
            self.model.any_of([flag.negated() for flag in only_if])
            return
        posted = self.model.hold(relation)
        if only_if:
            posted.only_enforce_if(list(only_if))

    def flag(self) -> Flag:
        """A fresh 0/1 variable."""
        return self.model.variable(_FLAG)

    def negated(self, flag: Flag) -> Flag:
        """1 exactly when `flag` is 0."""
        return flag.negated()

    def amount(self, low: int, high: int) -> Amount:
        """A fresh integer from low to high."""
        return self.model.variable(Domain(low, high))

    def any_of(self, flags: Sequence[Flag]) -> None:
        """At least one flag is 1."""
        self.model.any_of(flags)

    def exactly_one(self, flags: Sequence[Flag]) -> None:
        """Exactly one flag is 1."""
        if flags:
            self.model.exactly_one(flags)
        else:
            self.model.any_of([])

    def maximum(self, target: Amount, amounts: Sequence[Amount]) -> None:
        """`target` is the largest of the amounts."""
        self.model.maximum(target, amounts)

    def product(self, target: Amount, amounts: Sequence[Amount]) -> None:
        """`target` is the product of the amounts."""
        self.model.product(target, amounts)
