"""The table of a question on its sheet: measured data as it is printed, and its cells to fill in."""

from collections.abc import Mapping
from decimal import Decimal

from witnessmark.documents.kinds.dispatch import manner_of
from witnessmark.documents.page.blocks import Ask, Block, Cell, Maths, Readings, Runs, Typed, Words, words
from witnessmark.documents.page.wordings import filled, marks_words, symbols_of, total_of
from witnessmark.maths.printing.numbers import shown_number, unit_text
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.table import MeasuredTable, TableColumn
from witnessmark.questions.sheet.variant import Variant

ROW = "row"
NOTHING = "–"


def readings_block(table: MeasuredTable, variant: Variant, entered: Mapping[str, str] | None = None) -> Readings:
    """The table in the student's own numbers; with what they `entered`, by the key of a cell, where it came back."""
    header = (words(ROW), *(_heading(column) for column in table.columns))
    rows = tuple(
        (Cell(words(str(row + 1))), *(_cell(column, row, variant, entered) for column in table.columns))
        for row in range(table.rows)
    )
    return Readings(filled(table.is_, variant), header, rows)


def _heading(column: TableColumn) -> Runs:
    """What stands above a column: what it is, its symbol, its unit; before them the letter of the find that asks it."""
    unit = unit_text(column.unit)
    said = (Words(f"{column.find}: ", strong=True),) if column.find else ()
    symbol = (Words(" "), Maths(letter(column.name, {column.name: column.symbol}))) if column.symbol else ()
    return (*said, Words(column.is_), *symbol, *(words(f" in {unit}") if unit else ()))


def _cell(column: TableColumn, row: int, variant: Variant, entered: Mapping[str, str] | None) -> Cell:
    if column.find:
        key = column.keys[row]
        return Cell(key=key) if entered is None else Cell((Typed(entered.get(key, "").strip() or NOTHING),))
    shown = variant.shown.get(column.cells[row])
    return Cell(words(_as_read(shown.number) if shown else ""))


def _as_read(number: Decimal) -> str:
    """A reading with all digits that it was read to (`12.0`)."""
    return shown_number(number, len(number.as_tuple().digits))


def column_asked(column: TableColumn, variant: Variant, figures: int) -> tuple[Block, ...]:
    """What is asked for a column of cells, once for all of them; its places are in the table."""
    parts = tuple(variant.question.part(key) for key in column.keys)
    each = f"{marks_words(parts[0].marks)} a row, {marks_words(total_of(parts))}"
    symbols = {**symbols_of(variant.question), column.name: column.symbol}
    runs = (
        Words(f"{filled(column.ask, variant)} Write each into the table, into the column of "),
        Maths(letter(column.name, symbols)), Words(f".{manner_of(parts[0], figures).also}"),
    )  # fmt: skip
    return (Ask(column.find, runs, each),)
