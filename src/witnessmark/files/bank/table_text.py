"""The table of a question file: columns of measured data, as givens of their own in every row.

A reading is the law behind it with a scatter of the student's own, which is drawn as all givens are, to the step of the
instrument.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from witnessmark.files.bank.given_text import read_drawn
from witnessmark.files.bank.scope import Scope
from witnessmark.files.shapes.column_shapes import BehindShape, MeasuredColumnShape, MeasuredTableShape
from witnessmark.files.shapes.shapes import SpanShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Binary, Name, Tree
from witnessmark.questions.model.question import Given
from witnessmark.questions.model.table import TableColumn, cell_name

MOST_STEPS = 50
SCATTER = "{}_scatter"
DIFFERENCES = {"degC": "K", "degF": "delta_degF"}
"""In what a scatter is told where a unit has a zero of its own."""


@dataclass(frozen=True, slots=True)
class _Column:
    name: str
    shape: MeasuredColumnShape
    path: Path
    rows: int

    def cells(self) -> Iterator[tuple[int, str, str, str]]:
        """The row, the name, the words and the symbol of each cell."""
        for row in range(1, self.rows + 1):
            symbol = self.shape.symbol and cell_name(self.shape.symbol, row)
            yield row, cell_name(self.name, row), f"{self.shape.is_}, row {row}", symbol


def read_table(scope: Scope, shape: MeasuredTableShape) -> tuple[tuple[Given, ...], tuple[TableColumn, ...]]:
    """The givens and the columns of a table; a column may use those before it."""
    givens = [given for name, behind in shape.behind.items() for given in _behind(scope, name, behind)]
    columns: list[TableColumn] = []
    for name, column_shape in shape.columns.items():
        column = _Column(name, column_shape, ("table", "columns", name), shape.rows)
        found = _givens(scope, column)
        if len(found) < shape.rows:
            scope.broken |= {name, *(cell for _, cell, _, _ in column.cells())}
            continue
        givens += found
        scope.columns[name] = shape.rows
        columns.append(TableColumn(name, column_shape.is_, column_shape.symbol, column_shape.unit, shape.rows))
    scope.hidden = {given.name: scope.base.pop(given.name) for given in givens if given.is_hidden}
    return tuple(givens), tuple(columns)


def _behind(scope: Scope, name: str, shape: BehindShape) -> Iterator[Given]:
    """A number of the law, drawn and told to nobody."""
    path: Path = ("table", "behind", name)
    known = dict(scope.units)
    span = SpanShape.model_validate({"is": shape.is_, "unit": shape.unit, **_range(shape)})
    if scope.claim(path, name, "behind the readings") and (given := read_drawn(scope, path, name, span)):
        scope.units = known  # no text may print it
        yield replace(given, is_="", in_table=True)
    else:
        scope.broken.add(name)


def _range(shape: BehindShape) -> dict[str, Decimal]:
    return {"from": shape.first, "to": shape.last, "step": shape.step}


def _givens(scope: Scope, column: _Column) -> list[Given]:
    """The givens of a column; none where it has problems."""
    names = [column.name, *(cell for _, cell, _, _ in column.cells())]
    claimed = [scope.claim(column.path, name, "a column of the table") for name in names]
    sound = scope.placed.unit((*column.path, "unit"), column.shape.unit)
    if not all(claimed) or not sound or not _source_is_one(scope, column):
        return []
    if column.shape.each is not None:
        return list(_set(scope, column, column.shape.each))
    return list(_measured(scope, column)) if _is_read_in_steps(scope, column) else []


def _source_is_one(scope: Scope, column: _Column) -> bool:
    """True where a column says in one way where its numbers come from; else a problem."""
    there = [key for key in ("each", "value") if getattr(column.shape, key) is not None]
    if len(there) != 1:
        found = " and ".join(there) or "none"
        scope.placed.add_key("which-column", column.path, "one of the keys each, value", found, "keep one of them")
    return len(there) == 1


def _set(scope: Scope, column: _Column, values: list[Decimal]) -> Iterator[Given]:
    if column.shape.scatter or column.shape.step:
        key = "scatter" if column.shape.scatter else "step"
        expected = "value: beside it; numbers that are set have no scatter"
        scope.placed.add_key("scatter", (*column.path, key), expected, "each:", f"delete {key}:")
        return
    if len(values) != column.rows:
        expected = f"{column.rows} numbers, one for each row"
        scope.placed.add("each-row", (*column.path, "each"), expected, str(len(values)))
        return
    for (_, cell, words, symbol), value in zip(column.cells(), values, strict=True):
        _know(scope, cell, column.shape.unit)
        yield Given(cell, words, column.shape.unit, symbol, one_of=(value,), in_table=True)


def _is_read_in_steps(scope: Scope, column: _Column) -> bool:
    """True where a measured column says to which step it is read, and its scatter is a few of these; else a problem."""
    step, scatter = column.shape.step, column.shape.scatter
    if step is None:
        expected = "the key 'step': to what a reading is read"
        scope.placed.add_key("missing-key", column.path, expected, "none", "add step:")
        return False
    if scatter % step or scatter / step > MOST_STEPS:
        expected = f"a whole number of steps of {step}, at most {MOST_STEPS}"
        scope.placed.add("scatter", (*column.path, "scatter"), expected, str(scatter))
        return False
    return True


def _measured(scope: Scope, column: _Column) -> Iterator[Given]:
    shape, at = column.shape, (*column.path, "value")
    assert shape.step is not None
    assert shape.value is not None
    for row, cell, words, symbol in column.cells():
        scope.row = row
        law = scope.expression(at, shape.value, scope.base)
        scope.row = 0
        if law is None or not scope.has_unit(at, law, scope.base, shape.unit, shape.is_):
            return
        scatter = _scatter(scope, column, cell) if shape.scatter else None
        _know(scope, cell, shape.unit)
        reading: Tree = Binary("+", law, Name(scatter.name)) if scatter else law
        if scatter:
            yield scatter
        yield Given(
            cell, words, shape.unit, symbol, value=reading, figures=None, in_table=True, division=shape.step
        )  # fmt: skip


def _scatter(scope: Scope, column: _Column, cell: str) -> Given:
    """How far this reading lies from the law: drawn, and told to nobody."""
    shape, name = column.shape, SCATTER.format(cell)
    assert shape.step is not None
    steps, told = int(shape.scatter / shape.step), DIFFERENCES.get(shape.unit, shape.unit)
    scope.owners[name] = "the scatter of a reading"
    scope.base[name] = unit(told).dimension
    return Given(name, "", told, one_of=tuple(n * shape.step for n in range(-steps, steps + 1)), in_table=True)


def _know(scope: Scope, cell: str, unit_name: str) -> None:
    scope.units[cell] = unit_name
    scope.base[cell] = unit(unit_name).dimension
