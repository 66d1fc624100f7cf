"""The kinds of find, one small type each, with only the fields that this kind has. `kinds.py` tells them apart.

Each checks itself: ValueError for what no question can mean. Marks are exact; tolerances are shares of the value.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import ClassVar, Literal

from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Comparison, Tree, is_name
from witnessmark.questions.model.division import Division
from witnessmark.questions.model.options import Option, Point
from witnessmark.questions.model.sizes import Choose, Size, SizeSlip
from witnessmark.questions.model.slips import JudgeSlip, OrderSlip, PairSlip, SetSlip
from witnessmark.words.checks import expect, expect_marks, expect_text

FEWEST_STEPS, FEWEST_PAIRS = 3, 2


class Kind(StrEnum):
    """The kinds of find, as files and pages call them."""

    QUANTITY = "quantity"
    LIMITS = "limits"
    JUDGE = "judge"
    STANDARD = "standard"
    CHOICE = "choice"
    SEVERAL = "several"
    MATCH = "match"
    EXPRESSION = "expression"
    ORDER = "order"
    POINTS = "points"
    HAND = "hand"


@dataclass(frozen=True, slots=True)
class Line:
    """A named intermediate result of the working, in `unit`."""

    name: str
    is_: str
    unit: str
    value: Tree
    marks: Decimal = Decimal(0)
    symbol: str = ""

    def __post_init__(self) -> None:
        expect(is_name(self.name), "name of a line", "letters a to z, digits and _", self.name)
        unit(self.unit)
        expect_marks(f"marks of {self.name}", self.marks)


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong method: `answer` replaces the part's answer, or the value of line `line` when that is named."""

    misconception: str
    answer: Tree
    keeps: Decimal = Decimal(0)
    line: str = ""

    def __post_init__(self) -> None:
        expect_text("misconception", self.misconception)
        expect_marks(f"what {self.misconception} keeps", self.keeps)


@dataclass(frozen=True, slots=True)
class Find:
    """What every kind of find has: its letter, what is asked, the marks that it earns."""

    key: str
    ask: str
    marks: Decimal


@dataclass(frozen=True, slots=True)
class QuantityPart(Find):
    """A number with a unit, worked by lines; `carries` names earlier parts whose results are used by their names.

    Beside rounding it may be off by `tolerance`, a share of it, or by `off`, an amount in its unit.
    `in_table`: a cell of the table, whose heading tells the unit.
    """

    kind: ClassVar[Literal[Kind.QUANTITY]] = Kind.QUANTITY
    is_: str
    symbol: str
    unit: str
    answer: Tree
    lines: tuple[Line, ...] = ()
    carries: tuple[str, ...] = ()
    slips: tuple[Slip, ...] = ()
    tolerance: Decimal = Decimal(0)
    figures: int | None = None
    division: Division | None = None
    off: Decimal = Decimal(0)
    in_table: bool = False

    def __post_init__(self) -> None:
        named = {line.name for line in self.lines}
        _check_marks(self)
        _check(len(named) == len(self.lines), f"part {self.key} has two lines of one name")
        _check({slip.line for slip in self.slips} <= {*named, ""}, f"part {self.key} has a slip in a line it lacks")
        is_share = self.tolerance.is_finite() and 0 <= self.tolerance < 1
        _check(is_share, f"part {self.key} has a tolerance of {self.tolerance}, which is no share")
        is_amount = self.off.is_finite() and self.off >= 0
        _check(is_amount, f"part {self.key} may be {self.off} off, which is no amount")
        _check_figures(self.key, self.figures)


@dataclass(frozen=True, slots=True)
class LimitsPart(Find):
    """Two numbers of one unit, in either order, such as the largest and the smallest size.

    Each is a quantity of its own (`a.largest`, `a.smallest`), worked, carried and marked out of the marks of the part;
    the part has half of what the two earn together.
    """

    kind: ClassVar[Literal[Kind.LIMITS]] = Kind.LIMITS
    largest: QuantityPart
    smallest: QuantityPart

    def __post_init__(self) -> None:
        _check_marks(self)
        for name, side in (("largest", self.largest), ("smallest", self.smallest)):
            _check(side.key == f"{self.key}.{name}", f"part {self.key} has its {name} under the key {side.key}")
            _check(side.marks == self.marks, f"part {self.key} has a {name} of {side.marks} marks, not {self.marks}")
            _check(is_name(side.symbol), f"part {self.key} has no symbol for its {name} that can be typed")
        _check(self.largest.unit == self.smallest.unit, f"part {self.key} has two units")

    @property
    def sides(self) -> tuple[QuantityPart, QuantityPart]:
        """Both, the largest first."""
        return self.largest, self.smallest


@dataclass(frozen=True, slots=True)
class JudgePart(Find):
    """Yes or no, judged on the student's own number: yes where the comparison holds."""

    kind: ClassVar[Literal[Kind.JUDGE]] = Kind.JUDGE
    judge: Comparison
    carries: tuple[str, ...] = ()
    slips: tuple[JudgeSlip, ...] = ()
    yes_words: tuple[str, ...] = ()
    no_words: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        _check_marks(self)
        _check(not set(self.yes_words) & set(self.no_words), f"part {self.key} has a word that means yes and no")


@dataclass(frozen=True, slots=True)
class StandardPart(Find):
    """One of the sizes that `column` of `table` lists, chosen by a value on the student's own numbers."""

    kind: ClassVar[Literal[Kind.STANDARD]] = Kind.STANDARD
    is_: str
    table: str
    column: str
    unit: str
    choose: Choose
    value: Tree
    sizes: tuple[Size, ...]
    carries: tuple[str, ...] = ()
    slips: tuple[Slip | SizeSlip, ...] = ()

    def __post_init__(self) -> None:
        _check_marks(self)
        values = [size.value for size in self.sizes]
        _check(len(values) > 1, f"part {self.key} has a table of {len(values)} sizes")
        _check(values == sorted(set(values)), f"part {self.key} has sizes that do not grow")
        _check_each_once(self.key, [size.name for size in self.sizes])


@dataclass(frozen=True, slots=True)
class ChoicePart(Find):
    """One right option among several that the question words."""

    kind: ClassVar[Literal[Kind.CHOICE]] = Kind.CHOICE
    options: tuple[Option, ...]

    def __post_init__(self) -> None:
        right = sum(option.right for option in self.options)
        _check_marks(self)
        _check(right == 1, f"part {self.key} has {right} right options, where one is needed")
        _check_each_once(self.key, [option.text for option in self.options])


@dataclass(frozen=True, slots=True)
class ValueChoicePart(Find):
    """One right value (`answer`) among those that the slips give (`choice: values`)."""

    kind: ClassVar[Literal[Kind.CHOICE]] = Kind.CHOICE
    is_: str
    unit: str
    answer: Tree
    slips: tuple[Slip, ...]
    figures: int | None = None

    def __post_init__(self) -> None:
        _check_marks(self)
        _check(bool(self.slips), f"part {self.key} offers no value but the right one")
        _check(not any(slip.line for slip in self.slips), f"part {self.key} has a slip in a line, and no lines")
        _check_figures(self.key, self.figures)


@dataclass(frozen=True, slots=True)
class SeveralPart(Find):
    """Any number of right options among several, at least one of them wrong."""

    kind: ClassVar[Literal[Kind.SEVERAL]] = Kind.SEVERAL
    options: tuple[Option, ...]
    slips: tuple[SetSlip, ...] = ()

    def __post_init__(self) -> None:
        right = {option.text for option in self.options if option.right}
        _check_marks(self)
        _check(0 < len(right) < len(self.options), f"part {self.key} has {len(right)} right options, and no wrong one")
        _check(not any(o.keeps for o in self.options), f"part {self.key} has an option that keeps marks of its own")
        _check_each_once(self.key, [option.text for option in self.options])
        for slip in self.slips:
            known = set(slip.chooses) <= {option.text for option in self.options}
            _check(known, f"part {self.key} has a slip that chooses an option it lacks")
            _check(set(slip.chooses) != right, f"part {self.key} has a slip that chooses what is right")


@dataclass(frozen=True, slots=True)
class MatchPart(Find):
    """Things that each go with one option, and `spare` options that go with none, so that the last is no gift.

    `in_figure`: the things are the balloons of the question's figure, called by the names that its template has for
    them, which are printed nowhere.
    """

    kind: ClassVar[Literal[Kind.MATCH]] = Kind.MATCH
    pairs: tuple[tuple[str, str], ...]
    spare: tuple[str, ...]
    slips: tuple[PairSlip, ...] = ()
    in_figure: bool = False

    def __post_init__(self) -> None:
        _check_marks(self)
        _check(len(self.pairs) >= FEWEST_PAIRS, f"part {self.key} has fewer than {FEWEST_PAIRS} pairs")
        _check(bool(self.spare), f"part {self.key} has no option that is left over")
        _check_each_once(self.key, self.things)
        _check_each_once(self.key, self.options)
        for slip in self.slips:
            known = slip.thing in self.things and slip.option in self.options
            _check(known, f"part {self.key} has a slip of a thing or an option it lacks")
            _check((slip.thing, slip.option) not in self.pairs, f"part {self.key} has a slip that pairs what belongs")

    @property
    def things(self) -> tuple[str, ...]:
        """What is numbered."""
        return tuple(thing for thing, _ in self.pairs)

    @property
    def options(self) -> tuple[str, ...]:
        """What has letters: those of the things in their order, then those left over."""
        return (*(option for _, option in self.pairs), *self.spare)


@dataclass(frozen=True, slots=True)
class ExpressionPart(Find):
    """A formula, equal by algebra; `unit` is `` where its dimension is not stated."""

    kind: ClassVar[Literal[Kind.EXPRESSION]] = Kind.EXPRESSION
    is_: str
    symbol: str
    unit: str
    answer: Tree
    slips: tuple[Slip, ...] = ()

    def __post_init__(self) -> None:
        _check_marks(self)
        _check(not any(slip.line for slip in self.slips), f"part {self.key} has a slip in a line, and no lines")


@dataclass(frozen=True, slots=True)
class OrderPart(Find):
    """Steps of a process in their right order.

    `shuffled`: the sheet lists them in an order of each student's own; without, by alphabet, as sheets were issued
    before there was one.
    """

    kind: ClassVar[Literal[Kind.ORDER]] = Kind.ORDER
    steps: tuple[str, ...]
    slips: tuple[OrderSlip, ...] = ()
    shuffled: bool = False

    def __post_init__(self) -> None:
        named = {step for slip in self.slips for step in (slip.puts, slip.before)}
        _check_marks(self)
        _check(len(self.steps) >= FEWEST_STEPS, f"part {self.key} has fewer than {FEWEST_STEPS} steps")
        _check(named <= set(self.steps), f"part {self.key} has a slip of a step it lacks")
        _check_each_once(self.key, self.steps)
        for slip in self.slips:
            follows = self.steps.index(slip.puts) > self.steps.index(slip.before)
            _check(follows, f"part {self.key} has a slip that puts its steps as they belong")


@dataclass(frozen=True, slots=True)
class PointsPart(Find):
    """Short text: any `needed` of the accepted points."""

    kind: ClassVar[Literal[Kind.POINTS]] = Kind.POINTS
    points: tuple[Point, ...]
    needed: int

    def __post_init__(self) -> None:
        count = len(self.points)
        _check_marks(self)
        _check(0 < self.needed <= count, f"part {self.key} needs {self.needed} points of {count}")


@dataclass(frozen=True, slots=True)
class HandPart(Find):
    """Marked by the teacher against named criteria, whose marks add up to those of the part."""

    kind: ClassVar[Literal[Kind.HAND]] = Kind.HAND
    criteria: tuple[tuple[str, Decimal], ...]

    def __post_init__(self) -> None:
        total = sum((marks for _, marks in self.criteria), Decimal(0))
        _check_marks(self)
        _check(total == self.marks, f"part {self.key} has criteria that add up to {total}, not {self.marks}")


Part = (
    QuantityPart | LimitsPart | JudgePart | StandardPart | ChoicePart | ValueChoicePart | SeveralPart | MatchPart
    | ExpressionPart | OrderPart | PointsPart | HandPart
)  # fmt: skip
"""One find, of whatever kind. Whoever asks which matches on the type, in the one module of the layer that does so."""
AnySlip = Slip | SizeSlip | JudgeSlip | OrderSlip | SetSlip | PairSlip


def _check(holds: bool, otherwise: str) -> None:
    if not holds:
        raise ValueError(otherwise)


def _check_marks(part: Find) -> None:
    expect_marks(f"marks of part {part.key}", part.marks)
    expect(part.marks > 0, f"marks of part {part.key}", "more than 0", str(part.marks))


def _check_figures(key: str, figures: int | None) -> None:
    _check(figures is None or figures > 0, f"part {key} asks {figures} significant figures")


def _check_each_once(key: str, texts: Sequence[str]) -> None:
    _check(len(set(texts)) == len(texts), f"part {key} has one text twice")
