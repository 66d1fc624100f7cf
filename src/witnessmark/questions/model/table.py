"""The table of a question: measured data as they are printed, and cells that are to be filled in, column by column."""

from dataclasses import dataclass

from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import is_name
from witnessmark.words.checks import expect, expect_each_once, expect_text

FEWEST_ROWS, MOST_ROWS = 2, 12


@dataclass(frozen=True, slots=True)
class TableColumn:
    """One column: what it is, the letter and the unit in its heading, and the name of its cell in each row.

    `find` is the letter of the find that asks its cells; empty where they are printed. Cells that are asked are parts
    of their own, under the keys `cell_key(find, row)`; `ask` is what is asked for all of them.
    """

    name: str
    is_: str
    symbol: str
    unit: str
    rows: int
    find: str = ""
    ask: str = ""

    def __post_init__(self) -> None:
        expect(is_name(self.name), "name of a column", "letters a to z, digits and _", self.name)
        expect_text(f"what {self.name} is", self.is_)
        unit(self.unit)

    @property
    def cells(self) -> tuple[str, ...]:
        """The name of each cell, from the first row."""
        return tuple(cell_name(self.name, row) for row in range(1, self.rows + 1))

    @property
    def keys(self) -> tuple[str, ...]:
        """The key of the part that each cell is; none where they are printed."""
        return tuple(cell_key(self.find, row) for row in range(1, self.rows + 1)) if self.find else ()


@dataclass(frozen=True, slots=True)
class MeasuredTable:
    """A table that is printed with a question, with as many rows in every column."""

    is_: str
    rows: int
    columns: tuple[TableColumn, ...]

    def __post_init__(self) -> None:
        expect_text("what a table is", self.is_)
        expect(FEWEST_ROWS <= self.rows <= MOST_ROWS, "rows of a table", f"{FEWEST_ROWS} to {MOST_ROWS}", self.rows)
        expect_each_once("columns of a table", (column.name for column in self.columns))
        for column in self.columns:
            expect(column.rows == self.rows, f"rows of {column.name}", f"{self.rows}", column.rows)

    @property
    def cells(self) -> frozenset[str]:
        """The names of all cells, printed or asked."""
        return frozenset(cell for column in self.columns for cell in column.cells)

    @property
    def find_of(self) -> dict[str, str]:
        """The letter of the find that asks a cell, by the key of the cell."""
        return {key: column.find for column in self.columns for key in column.keys}


def cell_name(column: str, row: int) -> str:
    """The name of a cell in expressions: `F_3`."""
    return f"{column}_{row}"


def cell_key(find: str, row: int) -> str:
    """The key of the part that a cell is: `a3`."""
    return f"{find}{row}"
