"""A formula as nodes whose numbers, changed and unchanged, are worked at once by whole-array arithmetic.

A node keeps three tables: its number, its numbers with one change at or below it, and those with two. The tables of a
node follow from those below it, so that a hundred thousand formulas cost some hundred operations. Which rows of each
table are kept is found once, on a sample of variants; `worked` then works these rows for any columns.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.search.changes import BELOW, SELF
from witnessmark.maths.compiled import Array, Function, compiled
from witnessmark.maths.many import OF_MANY, SLOPE, series_of
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, names_in

Ints = npt.NDArray[np.intp]
Columns = Mapping[str, Any]
MOST_CHANGES = 2
NO_CHANGE = -1
POWERS_OF_DIMENSION = 6


@dataclass(frozen=True, slots=True)
class Template:
    """A template over what stands below, ready to work: in numbers, and in dimensions (rows, 6; nan where unlike things
    are added)."""

    work: Function
    dimension: Callable[[Columns], Array]


def template_of(tree: Tree) -> Template:
    """A tree as a template."""
    return Template(compiled(tree), _dimension(tree))


@dataclass(slots=True)
class Node:
    """How a node joins what stands below; its changes by number, `whole` those that take it as it is; of each table the
    rows that are kept, and how many of those with one change are not of the whole."""

    joins: Template
    below: tuple["Node", ...]
    inner: tuple[tuple[int, Template], ...]
    whole: tuple[tuple[int, Template], ...]
    kept: list[Ints] = field(default_factory=list)
    inside: int = 0


@dataclass(frozen=True, slots=True)
class Piece:
    """Some rows of a table: a template over these tables of the children, and the change that it does (or none)."""

    template: Template
    levels: tuple[int, ...]
    change: int = NO_CHANGE


def pieces(node: Node, level: int) -> Iterator[Piece]:
    """The rows of a table that come from below or from changes that are not of the whole, in a fixed order."""
    children = range(len(node.below))
    none = (0,) * len(node.below)
    if level == 0:
        yield Piece(node.joins, none)
        return
    for child in children:
        yield Piece(node.joins, _with(none, child, level))
    if level == MOST_CHANGES and len(node.below) > 1:
        yield Piece(node.joins, (1, 1))
    for number, template in node.inner:
        if level == 1:
            yield Piece(template, none, number)
        else:
            yield from (Piece(template, _with(none, child, 1), number) for child in children)


def _with(levels: tuple[int, ...], child: int, level: int) -> tuple[int, ...]:
    return tuple(level if n == child else old for n, old in enumerate(levels))


def worked(node: Node, columns: Columns, size: int, most: int = MOST_CHANGES) -> list[Array]:
    """The numbers of the kept formulas by how many changes they have, up to `most`; each (rows, size)."""
    below = [worked(child, columns, size, most) for child in node.below]
    tables: list[Array] = []
    for level in range(most + 1):
        made = [work_piece(piece, below, columns, size) for piece in pieces(node, level)]
        if level:
            inside = tables[0] if level == 1 else tables[1][: node.inside]
            made += [work_whole(template, inside, columns) for _, template in node.whole]
        tables.append(np.concatenate([np.empty((0, size)), *made])[node.kept[level]])
    return tables


def work_piece(piece: Piece, below: Sequence[Sequence[Array]], columns: Columns, size: int) -> Array:
    """The rows of a piece, one for each combination of the children's rows."""
    return combined(piece.template.work, [below[n][level] for n, level in enumerate(piece.levels)], columns, size)


def work_whole(template: Template, inside: Array, columns: Columns) -> Array:
    """The rows of a change of the whole node."""
    return np.broadcast_to(np.asarray(template.work({**columns, SELF.name: inside}), dtype=np.float64), inside.shape)


def combined(run: Callable[[Columns], Any], rows: Sequence[Array], columns: Columns, size: int) -> Array:
    """A template over every combination of rows of its children, (rows, size)."""
    first = [r[:, None, :] if n == 0 and len(rows) > 1 else r for n, r in enumerate(rows)]
    value = run({**columns, **{name.name: r for name, r in zip(BELOW, first, strict=False)}})
    shape = (*(len(r) for r in rows), size) if rows else (1, size)
    return np.broadcast_to(np.asarray(value, dtype=np.float64), shape).reshape(-1, size)


def _dimension(tree: Tree) -> Callable[[Columns], Array]:
    """The dimension of a template from those of its names; nan where there is none."""
    match tree:
        case Number():
            return lambda names: np.zeros(POWERS_OF_DIMENSION)
        case Name(name=name):
            return lambda names: np.asarray(names[name], dtype=np.float64)
        case Minus(of=of) | Call(function="abs", arguments=(of,)):
            return _dimension(of)
        case Call(function="sqrt", arguments=(of,)):
            root = _dimension(of)
            return lambda names: root(names) * 0.5
        case Binary(op="**", left=left, right=exponent) if not names_in(exponent):
            base, power = _dimension(left), float(compiled(exponent)({}))
            return lambda names: base(names) * power
        case Binary(op="*" | "/" as op, left=left, right=right):
            a, b, sign = _dimension(left), _dimension(right), 1.0 if op == "*" else -1.0
            return lambda names: a(names) + sign * b(names)
        case Binary(op="+" | "-", left=left, right=right) | Call(function="min" | "max", arguments=(left, right)):
            a, b = _dimension(left), _dimension(right)
            return lambda names: _alike(a(names), b(names))
        case Call(function=function, arguments=arguments) if function in OF_MANY:
            parts = [_dimension(one) for one in arguments]
            return lambda names: _of_many(function, [part(names) for part in parts])
        case Call(function="atan2", arguments=(left, right)):
            a, b = _dimension(left), _dimension(right)
            return lambda names: _alike(a(names), b(names)) * 0.0
        case Binary(left=left, right=right) | Call(arguments=(left, right)):
            a, b = _dimension(left), _dimension(right)
            return lambda names: _alike(_alike(a(names), b(names)), np.zeros(POWERS_OF_DIMENSION))
        case Call(arguments=(of,)):
            inner = _dimension(of)
            return lambda names: _alike(inner(names), np.zeros(POWERS_OF_DIMENSION))
    raise TypeError(f"not an expression: {tree!r}")


def _of_many(function: str, found: list[Array]) -> Array:
    kinds = [reduce(_alike, column) for column in series_of(function, found)]
    return kinds[1] - kinds[0] if function == SLOPE else kinds[0]


def _alike(one: Array, other: Array) -> Array:
    one, other = np.broadcast_arrays(one, other)
    return np.where((np.abs(one - other) < 1e-6).all(-1, keepdims=True), one, np.nan)
