"""Small changes of Python source, one at a time: what `scripts/mutate` tries the tests with.

A mutant turns one sign, number or condition into another, or leaves one call out. Type hints, texts, decorators and
the `strict=` of a zip are left alone: they change no result.
"""

import ast
import copy
import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

SIGNS: dict[type[ast.AST], ast.AST] = {
    ast.Lt: ast.LtE(), ast.LtE: ast.Lt(), ast.Gt: ast.GtE(), ast.GtE: ast.Gt(), ast.Eq: ast.NotEq(),
    ast.NotEq: ast.Eq(), ast.In: ast.NotIn(), ast.NotIn: ast.In(), ast.Is: ast.IsNot(), ast.IsNot: ast.Is(),
    ast.Add: ast.Sub(), ast.Sub: ast.Add(), ast.Mult: ast.Div(), ast.Div: ast.Mult(), ast.FloorDiv: ast.Mult(),
    ast.Mod: ast.Mult(), ast.Pow: ast.Mult(), ast.BitAnd: ast.BitOr(), ast.BitOr: ast.BitAnd(),
    ast.And: ast.Or(), ast.Or: ast.And(),
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "minimum": "maximum", "maximum": "minimum"}
NOT_RUN = {"annotation", "returns", "decorator_list", "type_params"}
Node = TypeVar("Node", bound=ast.AST)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: the line where it stands, its lines before and after as one, and the whole text with it."""

    line: int
    old: str
    new: str
    text: str


def mutants_of(text: str) -> list[Mutant]:
    """Every mutant of a module, from its first line to its last."""
    lines = text.encode().splitlines(keepends=True)
    starts = list(itertools.accumulate(map(len, lines), initial=0))
    found = [_mutant(text.encode(), starts, node, new) for node in _nodes(ast.parse(text)) for new in _changes(node)]
    return sorted(found, key=lambda m: m.line)


def _nodes(node: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Every node that may be changed."""
    for name, value in ast.iter_fields(node):
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and name not in NOT_RUN and not _says_nothing(child):
                if isinstance(child, ast.expr | ast.stmt):
                    yield child
                yield from _nodes(child)


def _says_nothing(node: ast.AST) -> bool:
    """True of what changes no result: texts, names for types, and what only guards a programmer."""
    match node:
        case ast.Expr(value=ast.Constant()) | ast.JoinedStr() | ast.Assert():
            return True
        case ast.keyword(arg=name):
            return name in {"strict", "slots", "frozen"}
        case ast.Assign(targets=[ast.Name(id=name)]):
            return name[0].isupper() and not name.isupper()
    return False


def _changes(node: ast.expr | ast.stmt) -> Iterator[ast.expr | ast.stmt]:
    match node:
        case ast.Compare(ops=ops):
            for index, op in enumerate(ops):
                yield _with(node, ops=[*ops[:index], SIGNS[type(op)], *ops[index + 1 :]])
        case ast.BinOp(op=op) | ast.BoolOp(op=op) | ast.AugAssign(op=op) if type(op) in SIGNS:
            yield _with(node, op=SIGNS[type(op)])
        case ast.UnaryOp(operand=operand):
            yield operand
        case ast.Constant(value=bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(value=int() | float() as value):
            yield ast.Constant(value + 1 if isinstance(value, int) or not value else value * 2)
        case ast.Name(id=name) if name in NAMES:
            yield ast.Name(NAMES[name])
        case ast.Attribute(attr=name) if name in NAMES:
            yield _with(node, attr=NAMES[name])
        case ast.IfExp(test=test):
            yield _with(node, test=ast.UnaryOp(ast.Not(), test))
        case ast.Expr(value=ast.Call()):
            yield ast.Pass()
        case ast.Continue():
            yield ast.Break()
        case ast.Break():
            yield ast.Continue()


def _with(node: Node, **fields: object) -> Node:
    changed = copy.copy(node)
    for name, value in fields.items():
        setattr(changed, name, value)
    return changed


def _mutant(text: bytes, starts: list[int], node: ast.expr | ast.stmt, new: ast.expr | ast.stmt) -> Mutant:
    assert node.end_lineno is not None
    assert node.end_col_offset is not None
    first, last = starts[node.lineno - 1] + node.col_offset, starts[node.end_lineno - 1] + node.end_col_offset
    bare = isinstance(new, ast.stmt | ast.Name | ast.Attribute | ast.Constant)
    put = (ast.unparse(new) if bare else f"({ast.unparse(new)})").encode()
    before, after = text[starts[node.lineno - 1] : first], text[last : starts[node.end_lineno]]
    old, written = (" ".join((before + s + after).decode().split()) for s in (text[first:last], put))
    return Mutant(node.lineno, old, written, (text[:first] + put + text[last:]).decode())
