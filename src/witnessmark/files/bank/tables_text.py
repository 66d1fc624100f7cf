"""A table file of the bank as a value: `bank/tables/sheet-metals.yaml` is the table `sheet-metals`."""

from decimal import Decimal
from typing import Any

from witnessmark.files.shapes.misfits import fitted
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.problems import add_misfits
from witnessmark.files.shapes.shapes import TableShape
from witnessmark.files.shapes.yaml_text import Path, read_yaml
from witnessmark.maths.syntax import is_name
from witnessmark.questions.model.question import Table
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Problem

WORDS = "text"


def table_from_text(text: str, file: str, key: str) -> tuple[Table | None, tuple[Problem, ...]]:
    """The table of a file, or None with every problem of the file."""
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    shape = None
    if read.data is not None:
        shape, misfits = fitted(TableShape, read.data)
        add_misfits(placed, misfits)
    if shape is None:
        return None, placed.in_order()
    for column, unit_name in shape.columns.items():
        _column(placed, column, unit_name)
    rows: dict[str, dict[str, Decimal | str]] = {}
    for position, cells in enumerate(shape.rows):
        _row(placed, position, cells, shape, rows)
    units = {column: unit_name for column, unit_name in shape.columns.items() if unit_name != WORDS}
    return (None if placed.problems else Table(key, shape.source, units, rows)), placed.in_order()


def _column(placed: Placed, column: str, unit_name: str) -> None:
    path: Path = ("columns", column)
    if not is_name(column) or column == "name":
        expected = "a column name of letters a to z, digits and _ (name is there already)"
        placed.add_key("not-a-name", path, expected, f"'{column}'")
    if unit_name != WORDS:
        placed.unit(path, unit_name)


def _row(
    placed: Placed, position: int, cells: dict[str, Any], shape: TableShape, rows: dict[str, dict[str, Decimal | str]]
) -> None:
    path: Path = ("rows", position)
    name = cells.get("name")
    if not isinstance(name, str) or not name.strip():
        found = shown(name) if "name" in cells else "none"
        placed.add("row-name", (*path, "name"), "a name of text for each row", found, "add name: and text")
        return
    if name in rows:
        placed.add("row-twice", (*path, "name"), "each row once", f"'{name}' again", "rename one of them")
    found_cells: dict[str, Decimal | str] = {}
    for column, value in cells.items():
        if column == "name":
            continue
        if column not in shape.columns:
            remedy = near_or_all(column, shape.columns)
            placed.add_key("unknown-column", (*path, column), "a column of this table", f"'{column}'", remedy)
        elif isinstance(value, str if shape.columns[column] == WORDS else Decimal):
            found_cells[column] = value
        else:
            expected = "text" if shape.columns[column] == WORDS else f"a number in {shape.columns[column] or 'no unit'}"
            remedy = "leave the cell out where there is no value"
            placed.add("wrong-value", (*path, column), expected, shown(value), remedy)
    rows[name] = found_cells
