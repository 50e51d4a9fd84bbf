"""What a rules text says: statements about kinds of constraint, the digits in play, and what was not understood."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class MarkHint:
    """What a sentence says the mark looks like, in the trade's words; an empty string where it does not say.

    `shape` is one of `line`, `tube`, `arrow`, `cage`, `dot`, `bar`, `diamond`, `circle`, `square`, `tint`, `number`,
    `letter`, `sign`, `diagonal`; `colour` a plain colour name (`grey`, `white`, `purple`); `place` is `outside`,
    `edge`, `corner` or `ends`; `letter` is the letter printed as the mark (`X`); `style` is `dashed`, `dotted`,
    `thick`, `thin`, `wavy` or `double`, of numbers beside the grid `circled` or `plain`. `sides`
    (`top`, `bottom`, `left`, `right`) are those where numbers beside the grid mean this, where the text has another
    meaning for those at other sides; empty where it does not tell them apart so."""

    shape: str = ""
    colour: str = ""
    place: str = ""
    letter: str = ""
    style: str = ""
    sides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Statement:
    """One thing that a sentence says about one kind of the contract.

    `fields` holds only what the sentence states, under the contract's names (`strict`, `gap`, `ratio`, `value`,
    `operation`, `repeats`, `wrap`, `direction`, `of`), and some of its own: `operation` may be `printed` (a sign beside
    the value tells), and so may `ratio` (the number in the mark tells), `pill` is True where a circle of several cells
    is read as one number, `untold` where some cages are said to have no number, `partial` where a region is said to
    hold no digit twice and not every digit, `ends` is (lowest, highest) where a sandwich names the digits that bound it
    and the grid's digits are not stated, `irregular` is True where the boxes are said not to be rectangles. `negated`
    says that the sentence denies the statement: `boxes` negated is "there are no boxes", `all-marked` negated is "not
    all are given"."""

    kind: str
    fields: Mapping[str, object] = field(default_factory=dict)
    mark: MarkHint = MarkHint()
    sentence: str = ""
    confidence: float = 1.0
    negated: bool = False


@dataclass(frozen=True, slots=True)
class DigitRange:
    """The digits that the rules name, lowest to highest, with what is printed for those that are not printed as
    themselves."""

    low: int
    high: int
    labels: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RuleSheet:
    """A rules text as understood. `not_understood` lists each sentence that looks like a rule and that nothing
    accounts for, or that contradicts another: every one is a query. `unsure` lists each sentence whose statements were
    found only by leaving words out that the reader knows (about one in twenty of such statements is wrong): a query
    too. `idle` are those of either that most likely bind nothing: talk, and notes that not all marks are there.
    `together` are the sentences of which several tell what the first of them is said to state, and that not surely."""

    statements: tuple[Statement, ...] = ()
    digits: DigitRange | None = None
    unsure: tuple[str, ...] = ()
    not_understood: tuple[str, ...] = ()
    idle: tuple[str, ...] = ()
    together: tuple[tuple[str, ...], ...] = ()
