"""Changes of a right method that people make and no question lists: our own list, by what is done to which piece."""

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from witnessmark.strangers.arithmetic import (
    Expression,
    both,
    call,
    name_of,
    number,
    places_in,
    read,
    text_of,
    with_names,
)
from witnessmark.strangers.scales import scale
from witnessmark.strangers.working import Way

CONSTANTS = (1.5, 2.0, 3.0, 4.0)
OTHERS = {"sin": ("cos", "tan"), "cos": ("sin", "tan"), "tan": ("sin", "cos"), "log": ("log10",), "exp": ("sqrt",)}


@dataclass(frozen=True, slots=True)
class Change:
    """One change: its kind, what it says for the record, and the way it leads to."""

    kind: str
    says: str
    way: Way


def changes(right: Way, units: Mapping[str, str]) -> list[Change]:
    """Every single change of a right way: in its last step, or in one of its lines."""
    found = [replace(c, way=replace(right, tree=c.way.tree)) for c in _of(right.tree, units)]
    for name, tree in right.lines.items():
        found += [replace(c, way=replace(right, lines={**right.lines, name: c.way.tree})) for c in _of(tree, units)]
    found += [Change("line given as the answer", n, replace(right, tree=ast.Name(n))) for n in right.lines]
    return found


def _of(tree: Expression, units: Mapping[str, str]) -> Iterator[Change]:
    for kind, says, changed in _whole(tree):
        yield Change(kind, says, Way({}, changed))
    for node, instead in places_in(tree):
        for kind, says, other in _piece(node, units):
            yield Change(kind, says, Way({}, instead(other)))
    yield from _swaps(tree)


def _whole(tree: Expression) -> Iterator[tuple[str, str, Expression]]:
    yield "reciprocal", "turned over", both(number(1), ast.Div(), tree)
    for c in CONSTANTS:
        yield f"constant {c:g}", f"times {c:g}", both(tree, ast.Mult(), number(c))
        yield f"constant {c:g}", f"over {c:g}", both(tree, ast.Div(), number(c))
    yield "square", "squared", both(tree, ast.Pow(), number(2))
    yield "root", "root taken", call("sqrt", tree)


def _piece(node: Expression, units: Mapping[str, str]) -> Iterator[tuple[str, str, Expression]]:
    if name := name_of(node):
        yield from _of_name(node, name, units)
    match node:
        case ast.BinOp(left=left, op=op, right=right):
            yield from _of_operation(node, left, op, right)
        case ast.Call(func=ast.Name(id=function), args=[argument]):
            for other in OTHERS.get(function, ()):
                yield "other function", f"{other} for {function}", call(other, argument)
            if function == "sqrt":
                yield "root lost", f"{text_of(node)} without its root", argument


def _of_name(node: Expression, name: str, units: Mapping[str, str]) -> Iterator[tuple[str, str, Expression]]:
    for other, unit in units.items():
        if name in units and other != name and scale(unit).powers == scale(units[name]).powers:
            yield "another given", f"{other} for {name}", read(other)
    if name == "pi":
        return
    if units.get(name) in ("", "number"):
        for op, word in ((ast.Add(), "one more"), (ast.Sub(), "one less")):
            yield "n off by one", f"{word} of {name}", both(node, op, number(1))
    yield "double", f"{name} twice", both(number(2), ast.Mult(), node)
    yield "half", f"half of {name}", both(node, ast.Div(), number(2))
    yield "square", f"{name} squared", both(node, ast.Pow(), number(2))


def _of_operation(
    node: Expression, left: Expression, op: ast.operator, right: Expression
) -> Iterator[tuple[str, str, Expression]]:
    match op:
        case ast.Add() | ast.Sub():
            other = ast.Sub() if isinstance(op, ast.Add) else ast.Add()
            yield "sign lost in a term", f"in {text_of(node)}", both(left, other, right)
            yield "average", f"of {text_of(node)}", both(both(left, ast.Add(), right), ast.Div(), number(2))
            yield "drop", f"{text_of(right)} left out", left
            yield "drop", f"{text_of(left)} left out", right
        case ast.Mult():
            yield "drop", f"{text_of(right)} left out", left
            yield "drop", f"{text_of(left)} left out", right
            yield "upside down", f"{text_of(left)} over {text_of(right)}", both(left, ast.Div(), right)
        case ast.Div():
            yield "drop", f"{text_of(right)} left out", left
            yield "upside down", f"{text_of(node)} turned over", both(right, ast.Div(), left)
            yield "multiplied", f"{text_of(left)} times {text_of(right)}", both(left, ast.Mult(), right)
        case ast.Pow():
            yield "square lost", f"{text_of(node)} without its power", left


def _swaps(tree: Expression) -> Iterator[Change]:
    names = [n for n in dict.fromkeys(name_of(node) for node, _ in places_in(tree)) if n and n != "pi"]
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            yield Change("swap", f"{one} and {other}", Way({}, with_names(tree, {one: read(other), other: read(one)})))
