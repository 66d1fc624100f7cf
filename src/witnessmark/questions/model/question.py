"""A question as values: what is given, what is asked, how it is worked, which slips are known. No file knows here."""

from collections.abc import Collection
from dataclasses import dataclass, field
from decimal import Decimal

from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Tree, is_name
from witnessmark.questions.model.kinds import quantities_in
from witnessmark.questions.model.parts import Part, QuantityPart
from witnessmark.questions.model.table import MeasuredTable
from witnessmark.words.checks import expect, expect_each_once, expect_one_of, expect_text, expect_whole
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import with_hint


@dataclass(frozen=True, slots=True)
class Given:
    """A quantity that the student is told. At most one of `one_of`, `span` and `value` says where it comes from.

    Without any it can be stated, and never drawn.

    `values` of `one_of` and `span` (first, last, step) are exact decimals in `unit`; `value` is an expression of
    table cells and other givens (`material.shear_strength`), rounded to `figures` where that is set. `in_figure`: it
    is read from the figure, and printed nowhere. `in_table`: it is a cell of the table, or the scatter of one, and
    `division` the least step in which such a cell is read.
    """

    name: str
    is_: str
    unit: str
    symbol: str = ""
    one_of: tuple[Decimal, ...] = ()
    span: tuple[Decimal, Decimal, Decimal] | None = None
    value: Tree | None = None
    figures: int | None = None
    in_figure: bool = False
    in_table: bool = False
    division: Decimal | None = None

    def __post_init__(self) -> None:
        expect(is_name(self.name), "name of a given", "letters a to z, digits and _", self.name)
        unit(self.unit)
        sources = sum((bool(self.one_of), self.span is not None, self.value is not None))
        expect(sources <= 1, self.name, "one of `one_of`, `span` and `value`", f"{sources} of them")
        expect(self.division is None or self.division > 0, self.name, "a division greater than 0", self.division)
        expect(all(v.is_finite() for v in (*self.one_of, *(self.span or ()))), self.name, "finite values", self.one_of)
        expect_each_once(f"values of {self.name}", self.one_of)
        if self.span is not None:
            first, last, step = self.span
            divides = step > 0 and last > first and not (last - first) % step
            expect(divides, self.name, "a span whose step, greater than 0, divides it", tuple(map(str, self.span)))

    @property
    def is_hidden(self) -> bool:
        """True of what lies behind the readings of a table: a scatter, or a number of the law, which nobody is told."""
        return self.in_table and not self.is_


@dataclass(frozen=True, slots=True)
class RowGiven:
    """A row of a table, drawn whole (`material: {row of: sheet-metals}`); `keep_rows` limits it by row name."""

    name: str
    table: str
    rows: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        expect(is_name(self.name), "name of a row", "letters a to z, digits and _", self.name)
        expect_text("table", self.table)
        expect_each_once("rows", self.rows)


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the bank: rows by name, cells as exact decimals in the unit of their column, or as text."""

    key: str
    source: str
    units: dict[str, str]
    rows: dict[str, dict[str, Decimal | str]]

    def __post_init__(self) -> None:
        expect_text("key of a table", self.key)
        for unit_name in self.units.values():
            unit(unit_name)
        for row, cells in self.rows.items():
            for column, cell in cells.items():
                is_right = isinstance(cell, Decimal if column in self.units else str)
                expect(is_right, f"{column} of {row}", "a Decimal where the column has a unit, else text", cell)


@dataclass(frozen=True, slots=True)
class Misconception:
    """What a student believes, how it shows, what to say, what to demonstrate and which kit that needs; where it was
    found by others, in `published`."""

    key: str
    believes: str
    shows: str
    say: str
    demonstrate: str = ""
    kit: tuple[str, ...] = ()
    published: str = ""

    def __post_init__(self) -> None:
        expect_text("key of a misconception", self.key)


MOST_LEVEL = 3


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
    table: MeasuredTable | None = None

    def __post_init__(self) -> None:
        for what in ("key", "title", "topic"):
            expect_text(f"{what} of a question", getattr(self, what))
        expect_whole(f"level of {self.key}", self.level, 1, MOST_LEVEL)
        expect(bool(self.parts), f"parts of {self.key}", "at least one", self.parts)
        expect_each_once(f"parts of {self.key}", (part.key for part in self.parts))
        expect_each_once(f"givens of {self.key}", [*(g.name for g in self.givens), *(r.name for r in self.rows)])
        for row in self.rows:
            expect_one_of(f"table of {row.name}", row.table, self.tables)

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

    @property
    def cells(self) -> frozenset[str]:
        """The names of the cells of its table."""
        return self.table.cells if self.table else frozenset()

    def find_of(self, key: str) -> str:
        """The letter of the find that a part belongs to: its own key, but for cells of a column."""
        return self.table.find_of.get(key, key) if self.table else key

    @property
    def stated(self) -> tuple[str, ...]:
        """The givens from which all others that a student sees follow: what is drawn and told, and every reading."""
        return tuple(g.name for g in self.givens if (g.value is None or g.in_table) and not g.is_hidden)

    def stand_ins(self, used: Collection[str]) -> tuple[str, ...]:
        """The givens that may stand in for one another in a working which has these names alone (not as a reading of a
        mean): all but the other cells of the table."""
        return tuple(given.name for given in self.givens if not given.in_table or given.name in used)

    def quantity(self, key: str) -> QuantityPart:
        """The find with this key, which asks a number with a unit; UnknownName (a KeyError) when there is none."""
        for part in self.quantities:
            if part.key == key:
                return part
        raise self._no_part(key, self.quantities)

    def _no_part(self, key: str, parts: tuple[Part, ...]) -> UnknownName:
        keys = [part.key for part in parts]
        return UnknownName(key, f"the parts of {self.key} are {', '.join(keys)}{with_hint(key, keys)}")
