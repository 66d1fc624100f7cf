"""A question as values: what is given, what is asked, how it is worked, which slips are known. No file knows here."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from witnessmark.maths.syntax import Tree
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import with_hint


class Kind(StrEnum):
    """The kinds of find."""

    QUANTITY = "quantity"
    JUDGE = "judge"
    CHOICE = "choice"
    EXPRESSION = "expression"
    ORDER = "order"
    POINTS = "points"
    HAND = "hand"


@dataclass(frozen=True, slots=True)
class Given:
    """A quantity that the student is told. Exactly one of `one_of`, `span` and `value` says where it comes from.

    `values` of `one_of` and `span` (first, last, step) are exact decimals in `unit`; `value` is an expression of
    table cells and other givens (`material.shear_strength`).
    """

    name: str
    is_: str
    unit: str
    symbol: str = ""
    one_of: tuple[Decimal, ...] = ()
    span: tuple[Decimal, Decimal, Decimal] | None = None
    value: Tree | None = None


@dataclass(frozen=True, slots=True)
class RowGiven:
    """A row of a table, drawn whole (`material: {row of: sheet-metals}`); `keep_rows` limits it by row name."""

    name: str
    table: str
    rows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A named intermediate result of the working, in `unit`."""

    name: str
    is_: str
    unit: str
    value: Tree
    marks: Decimal = Decimal(0)
    symbol: str = ""


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong method: `answer` replaces the part's answer, or the value of line `line` when that is named.

    In an order of steps it is that step `puts` stands before step `before`, which it must follow.
    """

    misconception: str
    answer: Tree | None
    keeps: Decimal = Decimal(0)
    line: str = ""
    puts: str = ""
    before: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a choice: its text, and the misconception that it shows when it is wrong."""

    text: str
    right: bool = False
    misconception: str = ""
    keeps: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Point:
    """One accepted property or reason of a `points` find, with its accepted wordings."""

    name: str
    wordings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One find. Which fields are set depends on `kind`; `carries` names earlier parts used by their symbol.

    A choice has `options`, or `answer` and `slips` where its options are values (`choice: values`).
    """

    key: str
    kind: Kind
    ask: str
    marks: Decimal
    is_: str = ""
    symbol: str = ""
    unit: str = ""
    lines: tuple[Line, ...] = ()
    carries: tuple[str, ...] = ()
    answer: Tree | None = None
    judge: Tree | None = None
    tolerance: Decimal = Decimal(0)
    slips: tuple[Slip, ...] = ()
    options: tuple[Option, ...] = ()
    steps: tuple[str, ...] = ()
    points: tuple[Point, ...] = ()
    needed: int = 0
    criteria: tuple[tuple[str, Decimal], ...] = ()
    figures: int | None = None
    yes_words: tuple[str, ...] = ()
    no_words: tuple[str, ...] = ()

    @property
    def offers_values(self) -> bool:
        """True of a choice between values: the right one (`answer`) and what each slip gives."""
        return self.kind is Kind.CHOICE and self.answer is not None


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the bank: rows by name, cells as exact decimals in the unit of their column, or as text."""

    key: str
    source: str
    units: dict[str, str]
    rows: dict[str, dict[str, Decimal | str]]


@dataclass(frozen=True, slots=True)
class Misconception:
    """What a student believes, how it shows, what to say, what to demonstrate and which kit that needs."""

    key: str
    believes: str
    shows: str
    say: str
    demonstrate: str = ""
    kit: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, repr=False)
class Question:
    """One question with the tables and misconceptions that it uses.

    `fingerprint` is the SHA-256 of all that shapes its variants; `source` the bundle that it can be made from again.
    """

    key: str
    title: str
    topic: str
    level: int
    setting: str
    givens: tuple[Given, ...]
    rows: tuple[RowGiven, ...]
    keep: tuple[Tree, ...]
    parts: tuple[Part, ...]
    tables: dict[str, Table] = field(default_factory=dict)
    misconceptions: dict[str, Misconception] = field(default_factory=dict)
    figure: str = ""
    caution: str = ""
    fingerprint: str = ""
    source: str = ""

    def __repr__(self) -> str:
        parts = ", ".join(part.key for part in self.parts)
        return f"<{type(self).__name__} {self.key}: {self.title} ({self.topic}, level {self.level}; parts {parts})>"

    def part(self, key: str) -> Part:
        """The find with this key; UnknownName (a KeyError) when there is none."""
        for part in self.parts:
            if part.key == key:
                return part
        keys = [part.key for part in self.parts]
        raise UnknownName(key, f"the parts of {self.key} are {', '.join(keys)}{with_hint(key, keys)}")
