"""What the student is told: givens and table rows of a question file, as values."""

import re
from collections.abc import Collection, Mapping
from decimal import Decimal

from witnessmark.files.bank.scope import Scope
from witnessmark.files.shapes.shapes import (
    AnyGiven,
    ComputedShape,
    ListedShape,
    RowShape,
    SpanShape,
)
from witnessmark.files.shapes.values import (
    MOST_VALUES,
)
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Name, Tree
from witnessmark.questions.model.question import Given, RowGiven, Table
from witnessmark.words.nearest import near_or_all


def read_givens(
    scope: Scope, shapes: Mapping[str, AnyGiven], tables: Mapping[str, Table], broken_tables: Collection[str]
) -> tuple[tuple[Given, ...], tuple[RowGiven, ...]]:
    """Every given and row in file order. Drawn values are known to all computed givens, computed ones to later ones."""
    rows: list[RowGiven] = []
    givens: dict[str, Given] = {}
    for name, shape in shapes.items():
        path: Path = ("given", name)
        if not scope.claim(path, name, "a given"):
            scope.broken.add(name)
        elif isinstance(shape, RowShape):
            rows += _row(scope, path, name, shape, tables, broken_tables)
        elif not isinstance(shape, ComputedShape) and (given := read_drawn(scope, path, name, shape)):
            givens[name] = given
    for name, shape in shapes.items():
        if isinstance(shape, ComputedShape) and name not in scope.broken:
            _unprinted(scope, name, shape)
            if given := _computed(scope, ("given", name), name, shape):
                givens[name] = given
            else:
                scope.broken.add(name)
    return tuple(givens[name] for name in shapes if name in givens), tuple(rows)


def _row(
    scope: Scope, path: Path, name: str, shape: RowShape, tables: Mapping[str, Table], broken: Collection[str]
) -> list[RowGiven]:
    table = tables.get(shape.row_of)
    if table is None:
        scope.broken.add(name)
        if shape.row_of not in broken:
            remedy = near_or_all(shape.row_of, tables)
            scope.placed.add("unknown-table", (*path, "row of"), "a table of bank/tables", f"'{shape.row_of}'", remedy)
        return []
    for position, row in enumerate(shape.rows):
        if row not in table.rows:
            remedy = near_or_all(row, table.rows)
            scope.placed.add("unknown-row", (*path, "rows", position), f"a row of {table.key}", f"'{row}'", remedy)
        elif row in shape.rows[:position]:
            scope.placed.add("row-twice", (*path, "rows", position), "each row once", f"'{row}' again", "delete it")
    for column, unit_name in table.units.items():
        scope.units[f"{name}.{column}"] = unit_name
        scope.base[f"{name}.{column}"] = unit(unit_name).dimension
    columns = {"name"}.union(*table.rows.values())
    scope.words |= {f"{name}.{column}" for column in columns if column not in table.units}
    return [RowGiven(name, table.key, tuple(dict.fromkeys(shape.rows)))]


def _know(scope: Scope, name: str, unit_name: str) -> None:
    scope.units[name] = unit_name
    scope.base[name] = unit(unit_name).dimension


def read_drawn(scope: Scope, path: Path, name: str, shape: ListedShape | SpanShape) -> Given | None:
    """A given that is drawn from a list or in steps, or problems."""
    if not scope.placed.unit((*path, "unit"), shape.unit):
        scope.broken.add(name)
        return None
    _know(scope, name, shape.unit)
    if shape.in_figure:
        scope.unprinted.add(name)
    if isinstance(shape, ListedShape):
        for position, value in enumerate(shape.one_of):
            if value in shape.one_of[:position]:
                scope.placed.add("value-twice", (*path, "one of", position), "each value once", str(value), "delete it")
        values = tuple(dict.fromkeys(shape.one_of))
        return Given(name, shape.is_, shape.unit, shape.symbol, one_of=values, in_figure=shape.in_figure)
    span = (shape.first, shape.last, shape.step)
    if not _is_span(scope, path, *span):
        return None
    return Given(name, shape.is_, shape.unit, shape.symbol, span=span, in_figure=shape.in_figure)


def _is_span(scope: Scope, path: Path, first: Decimal, last: Decimal, step: Decimal) -> bool:
    """True where the step makes values from first to last; else a problem."""
    add = scope.placed.add
    if step <= 0:
        add("step-not-positive", (*path, "step"), "a step greater than 0", str(step))
    elif last <= first:
        add("empty-range", (*path, "to"), f"more than {first}, where the range starts", str(last))
    elif (last - first) / step > MOST_VALUES:
        add("too-many-values", (*path, "step"), f"a step that makes at most {MOST_VALUES} values", str(step))
    elif (last - first) % step:
        fits = first + (last - first) // step * step
        expected = f"a step that divides the range from {first} to {last}"
        add("step-does-not-fit", (*path, "step"), expected, str(step), f"change the step, or end at {fits}")
    else:
        return True
    return False


def _computed(scope: Scope, path: Path, name: str, shape: ComputedShape) -> Given | None:
    unit_path, value_path = (*path, "unit"), (*path, "value")
    if shape.unit is not None and not scope.placed.unit(unit_path, shape.unit):
        return None
    tree = scope.expression(value_path, shape.value, scope.base)
    if tree is None:
        return None
    unit_name = shape.unit if shape.unit is not None else _unit_of(scope, path, tree)
    if unit_name is None:
        return None
    _know(scope, name, unit_name)
    if not scope.has_unit(value_path, tree, scope.base, unit_name, shape.is_ or name):
        scope.broken.add(name)
    read = name in scope.unprinted
    return Given(name, shape.is_, unit_name, shape.symbol, value=tree, figures=shape.figures, in_figure=read)


def _unprinted(scope: Scope, name: str, shape: ComputedShape) -> None:
    """A value worked from what is read in the figure is printed as little; a problem where it has words of its own."""
    read = sorted(scope.unprinted & set(re.findall(r"\w+", str(shape.value))))
    if read and shape.is_:
        found = f"{read[0]}, which is read from the figure"
        scope.placed.add("in-figure", ("given", name, "value"), "givens that are printed", found, "delete is:")
    elif read:
        scope.unprinted.add(name)


def _unit_of(scope: Scope, path: Path, tree: Tree) -> str | None:
    """The unit of a value whose author left it out: that of the one cell or given it is, or none for a pure number."""
    if isinstance(tree, Name) and tree.name in scope.units:
        return scope.units[tree.name]
    dimension = scope.dimension((*path, "value"), tree, scope.base)
    if dimension is None:
        return None
    if not dimension.is_number:
        scope.placed.add_key("missing-key", path, "the key 'unit'", "none", "add unit:")
        return None
    return ""
