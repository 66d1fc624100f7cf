"""A question file as a value: read, fitted, checked; and the bundle from which an issued one is rebuilt for years."""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from witnessmark.files.bank.bundle import STORED, opened_bundle, question_bundle
from witnessmark.files.bank.given_text import read_givens
from witnessmark.files.bank.part_text import LIMIT, PartReader
from witnessmark.files.bank.scope import Names, Scope
from witnessmark.files.bank.table_text import read_table
from witnessmark.files.bank.working_text import Tables
from witnessmark.files.shapes.column_shapes import MeasuredTableShape
from witnessmark.files.shapes.misfits import fitted
from witnessmark.files.shapes.placed import Placed
from witnessmark.files.shapes.problems import add_misfits
from witnessmark.files.shapes.shapes import QuestionShape
from witnessmark.files.shapes.yaml_text import Path, read_yaml
from witnessmark.maths.quantities import to_si
from witnessmark.maths.syntax import Comparison, Minus, Number, Tree, substituted
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.fingerprint import fingerprint_of
from witnessmark.questions.model.kinds import shown_by, standards_in
from witnessmark.questions.model.parts import Part
from witnessmark.questions.model.question import Misconception, Question, RowGiven, Table
from witnessmark.questions.model.table import MOST_ROWS, MeasuredTable, TableColumn, cell_name
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Problem

TABLE = "table"
KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
# what stands for a top key that does not fit, so that the rest can be read
STAND_INS = {
    "question": "x",
    "title": "x",
    "topic": "x",
    "level": Decimal(1),
    "setting": "x",
}


@dataclass(frozen=True, slots=True)
class Known:
    """What else the bank holds: misconceptions by key and figures by name (None: not checked), and tables with problems
    of their own, which raise no further ones. `issued`: a question that went out is read as it was then."""

    misconceptions: Mapping[str, Misconception] | None = None
    figures: Collection[str] | None = None
    broken_tables: Collection[str] = ()
    issued: bool = False


def question_from_text(
    text: str, file: str, tables: Mapping[str, Table], known: Known | None = None
) -> tuple[DrawableQuestion | None, tuple[Problem, ...]]:
    """The question of a file, or None with every problem of the file. `tables` are the bank's, by key."""
    known = known or Known()
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    if read.data is None:
        return None, placed.in_order()
    shape, broken = _shape(placed)
    if shape is None:
        return None, placed.in_order()
    question = _question(placed, shape, broken, tables, known)
    if placed.problems or question is None:
        return None, placed.in_order()
    source = question_bundle(text, question.tables, question.misconceptions)
    used = {key: _columns_named(text, table, question) for key, table in question.tables.items()}
    return replace(question, tables=used, fingerprint=fingerprint_of(question), source=source), ()


def _columns_named(text: str, table: Table, question: Question) -> Table:
    """A table with the columns that the file of a question names: what it names nowhere is not given to a student, and
    not searched for in wrong methods."""
    owners = "|".join(re.escape(row.name) for row in question.rows if row.table == table.key)
    named = set(re.findall(rf"\b(?:{owners})\.(\w+)", text)) if owners else set()
    named |= {part.column for part in standards_in(question.parts) if part.table == table.key}
    units = {column: unit for column, unit in table.units.items() if column in named}
    cells = {row: {c: v for c, v in cells.items() if c in named} for row, cells in table.rows.items()}
    return replace(table, units=units, rows=cells)


def _shape(placed: Placed) -> tuple[QuestionShape | None, frozenset[str]]:
    """The shape of the file; where some of it does not fit, that of the rest, and the names that it leaves out."""
    data = placed.text.data
    shape, misfits = fitted(QuestionShape, data)
    if shape is not None:
        return shape, frozenset()
    add_misfits(placed, misfits)
    if not isinstance(data, dict):
        return None, frozenset()
    unfit = {m.path[:2] for m in misfits if len(m.path) > 1 and m.path[0] in ("given", "find")}
    names = frozenset(str(path[1]) for path in unfit)
    for path in unfit:
        names |= _names_inside(data[path[0]][path[1]])
    whole = {m.path[0] for m in misfits if m.path[:2] not in unfit}
    if whole & {"given", "find"}:
        return None, frozenset()
    if TABLE in whole:
        names |= {TABLE, *_columns_inside(data[TABLE])}
    rest = {key: _without(value, {p[1] for p in unfit if p[0] == key}) for key, value in data.items()}
    rest = {key: value for key, value in rest.items() if key not in whole}
    shape, _ = fitted(QuestionShape, {**STAND_INS, **rest})
    return shape, names


def _columns_inside(table: Any) -> Iterator[str]:
    """The names of the columns and cells of an unfit table."""
    columns = table.get("columns") if isinstance(table, dict) else None
    for column in columns if isinstance(columns, dict) else ():
        yield column
        yield from (cell_name(column, row) for row in range(1, MOST_ROWS + 1))


def _without(value: Any, names: Collection[Any]) -> Any:
    return {k: v for k, v in value.items() if k not in names} if names else value


def _names_inside(find: Any) -> frozenset[str]:
    """The names that an unfit find would have given to later parts."""
    if not isinstance(find, dict):
        return frozenset()
    symbol, lines = find.get("symbol"), find.get("lines")
    named = {symbol} if isinstance(symbol, str) else set()
    return frozenset(named | (set(lines) if isinstance(lines, dict) else set()))


def _question(
    placed: Placed, shape: QuestionShape, broken: frozenset[str], tables: Mapping[str, Table], known: Known
) -> DrawableQuestion | None:
    """The question with as much as could be read; None where a table that it draws from has problems of its own."""
    scope = Scope(placed, broken=set(broken), issued=known.issued)
    for key, text in (("question", shape.question), ("topic", shape.topic)):
        check_key(placed, (key,), text)
    givens, rows = read_givens(scope, shape.given, tables, known.broken_tables)
    for key, text in (("setting", shape.setting), ("caution", shape.caution)):
        scope.placeholders((key,), text)
    sizes = Tables(tables, known.broken_tables)
    measured, columns = read_table(scope, shape.table) if shape.table else ((), ())
    rows_there = shape.table.rows if shape.table else MOST_ROWS * (TABLE in broken)
    reader = PartReader(scope, known.misconceptions, not known.issued, sizes, rows_there)
    parts = reader.read_all(shape.find)
    keep = _keep(scope, shape.keep)
    if shape.figure and known.figures is not None and shape.figure not in known.figures:
        remedy = near_or_all(shape.figure, known.figures)
        placed.add("no-figure", ("figure",), "a template of bank/figures", f"'{shape.figure}'", remedy)
    if scope.unprinted and not shape.figure:
        name = next(given.name for given in givens if given.name in scope.unprinted)
        expected, found = "the key 'figure', since a given is read from it", f"none, and {name} in figure"
        placed.add_key("missing-key", ("given", name, "in figure"), expected, found, "add figure:")
    if scope.balloons and not shape.figure:
        expected, found = "the key 'figure', since its balloons are asked for", "none"
        placed.add_key("missing-key", ("find", scope.balloons[0], "in figure"), expected, found, "add figure:")
    _cells_there(scope, rows, tables)
    if scope.broken or placed.problems:
        return None
    used = {key: tables[key] for key in (*(row.table for row in rows), *(p.table for p in standards_in(parts)))}
    return DrawableQuestion(
        shape.question, shape.title, shape.topic, shape.level, shape.setting, (*givens, *measured), rows, keep,
        parts, used, _shown_by(parts, known.misconceptions or {}), shape.figure, shape.caution,
        table=_table(shape.table, (*columns, *reader.asked_columns)),
    )  # fmt: skip


def _table(shape: MeasuredTableShape | None, columns: tuple[TableColumn, ...]) -> MeasuredTable | None:
    return MeasuredTable(shape.is_, shape.rows, columns) if shape else None


def _shown_by(parts: Collection[Part], known: Mapping[str, Misconception]) -> dict[str, Misconception]:
    """The misconceptions that a slip or an option of these parts shows."""
    keys = {key for part in parts for key in shown_by(part)}
    return {key: known[key] for key in sorted(keys) if key in known}


def check_key(placed: Placed, path: Path, key: str) -> None:
    """A problem where a key is not of small letters, digits and hyphens."""
    if not KEY.fullmatch(key):
        placed.add("key-form", path, "a key of small letters, digits and single hyphens", f"'{key}'", _as_key(key))


def _as_key(text: str) -> str:
    plain = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
    return f"type {plain}" if plain else ""


def _keep(scope: Scope, texts: list[str]) -> tuple[Tree, ...]:
    """The conditions over givens alone: lines and results in them are replaced by how they are worked."""
    names = {**scope.base, **scope.hidden, **scope.results, **scope.line_dimensions}
    found = []
    for position, text in enumerate(texts):
        path: Path = ("keep", position)
        limit = LIMIT.fullmatch(text)
        tree = _limit(scope, path, limit, names) if limit else scope.expression(path, text, names)
        if tree is None:
            continue
        if not isinstance(tree, Comparison):
            scope.placed.add("comparison", path, "a comparison with <, <=, > or >=", "an expression")
            continue
        if not limit:
            scope.dimension(path, tree, names)
        found.append(substituted(tree, scope.formulas))
    return tuple(found)


def _limit(scope: Scope, path: Path, match: re.Match[str], names: Names) -> Tree | None:
    """`expression < number unit`, the number as its SI value."""
    left, unit_name = scope.expression(path, match["left"], names), match["unit"].strip()
    if left is None or not scope.placed.unit(path, unit_name):
        return None
    scope.has_unit(path, left, names, unit_name, "a value")
    si = Decimal(f"{to_si(float(Decimal(match['number'])), unit_name):.12g}")
    number = Number(format(abs(si), "f"))
    return Comparison(match["op"], left, Minus(number) if si < 0 else number)


def _cells_there(scope: Scope, rows: Collection[RowGiven], tables: Mapping[str, Table]) -> None:
    """A problem where a row that may be drawn has no value in a column that the question uses."""
    for row in rows:
        table = tables[row.table]
        for name, path in sorted(scope.used.items()):
            owner, _, column = name.partition(".")
            drawn = [r for r in row.rows or tuple(table.rows) if r in table.rows]
            empty = [r for r in drawn if column not in table.rows[r]]
            if owner == row.name and empty and (name in scope.base or name in scope.words) and column != "name":
                expected = f"a value of {column} in every row of {table.key} that may be drawn"
                found = f"none in '{empty[0]}'" + (f" and {len(empty) - 1} more" if len(empty) > 1 else "")
                scope.placed.add("empty-cell", path, expected, found, "fill it, or name the rows to draw")


def question_from_bundle(source: str) -> DrawableQuestion:
    """The question of a bundle; raises ProblemsFound where it is not one, or not one that this version can read."""
    text, tables, misconceptions = opened_bundle(source)
    question, problems = question_from_text(text, STORED, tables, Known(misconceptions, issued=True))
    if question is None:
        raise ProblemsFound(problems)
    return question
