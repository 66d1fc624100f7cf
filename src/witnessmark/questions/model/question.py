"""A question as values: what is given, what is asked, how it is worked, which slips are known. No file knows here."""

from dataclasses import dataclass, field
from decimal import Decimal

from witnessmark.maths.syntax import Tree
from witnessmark.questions.model.kinds import quantities_in
from witnessmark.questions.model.parts import Part, QuantityPart
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import with_hint


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
        raise self._no_part(key, self.parts)

    @property
    def quantities(self) -> tuple[QuantityPart, ...]:
        """The finds that ask a number with a unit, in order."""
        return quantities_in(self.parts)

    def quantity(self, key: str) -> QuantityPart:
        """The find with this key, which asks a number with a unit; UnknownName (a KeyError) when there is none."""
        for part in self.quantities:
            if part.key == key:
                return part
        raise self._no_part(key, self.quantities)

    def _no_part(self, key: str, parts: tuple[Part, ...]) -> UnknownName:
        keys = [part.key for part in parts]
        return UnknownName(key, f"the parts of {self.key} are {', '.join(keys)}{with_hint(key, keys)}")
