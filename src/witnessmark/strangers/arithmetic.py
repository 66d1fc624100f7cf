"""Expressions of a question's text worked by our own reading of them, with nothing of the package's own formulas.

A tree is Python's own syntax tree of the text; it is walked, never run. Numbers are plain floats.
"""

import ast
import math
import statistics
from collections.abc import Callable, Iterator, Mapping, Sequence

Expression = ast.expr
Names = Mapping[str, float]
Kept = Callable[[float], float]
MOST_TRIED = 200
HALF_TURN = 180  # degrees

_OPERATIONS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: lambda a, b: float(a**b),
}
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt, "sin": math.sin, "cos": math.cos, "tan": math.tan, "asin": math.asin, "acos": math.acos,
    "atan": math.atan, "atan2": math.atan2, "exp": math.exp, "log": math.log, "log10": math.log10, "abs": abs,
    "min": min, "max": max, "round_up": lambda a: math.ceil(round(a, 6)),
    "round_down": lambda a: math.floor(round(a, 6)),
    "mean": lambda *values: statistics.fmean(values), "median": lambda *values: statistics.median(values),
    "spread": lambda *values: statistics.stdev(values), "slope": lambda *values: _slope(values),
}  # fmt: skip
OF_MANY = ("mean", "median", "spread", "slope")


def _slope(values: Sequence[float]) -> float:
    """All x first, then all y."""
    half = len(values) // 2
    return statistics.linear_regression(values[:half], values[half:]).slope


def read(text: str) -> Expression:
    """The tree of an expression; SyntaxError for text that is none."""
    return ast.parse(text.strip(), mode="eval").body


def text_of(tree: Expression) -> str:
    """The expression as text."""
    return ast.unparse(tree)


def name_of(node: ast.AST) -> str:
    """The name that a node stands for (`tau`, `material.shear_strength`), or nothing."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        return f"{node.value.id}.{node.attr}"
    return ""


def work(tree: Expression, names: Names, kept: Kept | None = None) -> float:
    """The number that an expression gives; nan where it has none (a root of less than nothing, a name not there).

    `kept` is what somebody keeps of the result of each operation who writes every one down.
    """
    try:
        return float(_work(tree, names, kept or _all))
    except (ArithmeticError, ValueError, KeyError, TypeError):
        return math.nan


def _all(number: float) -> float:
    return number


def _work(node: ast.AST, names: Names, kept: Kept) -> float:
    if name := name_of(node):
        return names[name]
    match node:
        case ast.Constant(value=int() | float() as value):
            return float(value)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_work(operand, names, kept)
        case ast.UnaryOp(op=ast.UAdd(), operand=operand):
            return _work(operand, names, kept)
        case ast.BinOp(left=left, op=op, right=right):
            return kept(_OPERATIONS[type(op)](_work(left, names, kept), _work(right, names, kept)))
        case ast.Call(func=ast.Name(id=function), args=arguments):
            return kept(_FUNCTIONS[function](*(_work(a, names, kept) for a in arguments)))
    raise ValueError(f"{ast.dump(node)} is not worked")


def names_in(tree: Expression) -> frozenset[str]:
    """Every name of an expression, cells of tables by their full name."""
    inner = {node.value for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    functions = {node.func for node in ast.walk(tree) if isinstance(node, ast.Call)}
    named = (node for node in ast.walk(tree) if node not in inner and node not in functions)
    return frozenset(name for node in named if (name := name_of(node)))


def names_alone(tree: Expression) -> frozenset[str]:
    """The names that stand elsewhere than among the readings of a mean and its like."""
    return frozenset(name for node, _ in places_in(tree) if (name := name_of(node)))


def places_in(tree: Expression) -> Iterator[tuple[Expression, Callable[[Expression], Expression]]]:
    """Every part of an expression, with what puts another one into its place (in a copy); the readings of a mean and
    its like are no parts of it."""
    for path, node in _paths(tree, ()):
        yield node, lambda other, path=path: _with(tree, path, other)  # type: ignore[misc]


Path = tuple[tuple[str, int], ...]


def _paths(node: Expression, path: Path) -> Iterator[tuple[Path, Expression]]:
    yield path, node
    match node:
        case ast.BinOp():
            yield from _paths(node.left, (*path, ("left", 0)))
            yield from _paths(node.right, (*path, ("right", 0)))
        case ast.UnaryOp():
            yield from _paths(node.operand, (*path, ("operand", 0)))
        case ast.Call(func=ast.Name(id=function)) if function not in OF_MANY:
            for i, argument in enumerate(node.args):
                yield from _paths(argument, (*path, ("args", i)))


def _with(tree: Expression, path: Path, other: Expression) -> Expression:
    if not path:
        return other
    (field, index), rest = path[0], path[1:]
    match tree:
        case ast.BinOp(left=left, op=op, right=right):
            ends = (_with(left, rest, other), right) if field == "left" else (left, _with(right, rest, other))
            return ast.BinOp(ends[0], op, ends[1])
        case ast.UnaryOp(op=sign, operand=operand):
            return ast.UnaryOp(sign, _with(operand, rest, other))
        case ast.Call(func=function, args=arguments):
            changed = [_with(a, rest, other) if i == index else a for i, a in enumerate(arguments)]
            return ast.Call(function, changed, [])
    raise ValueError(f"{ast.dump(tree)} has no place {field}")


def with_names(tree: Expression, swapped: Mapping[str, Expression]) -> Expression:
    """The expression with others in the place of some names."""
    match tree:
        case ast.BinOp(left=left, op=op, right=right):
            return ast.BinOp(with_names(left, swapped), op, with_names(right, swapped))
        case ast.UnaryOp(op=sign, operand=operand):
            return ast.UnaryOp(sign, with_names(operand, swapped))
        case ast.Call(func=function, args=arguments):
            return ast.Call(function, [with_names(a, swapped) for a in arguments], [])
    return swapped.get(name_of(tree), tree)


def keyed_angles(tree: Expression) -> Expression:
    """The expression with pi in full where it stands in one product with 180: that turns degrees into radians and back,
    which nobody works by hand."""
    if isinstance(tree, ast.BinOp) and isinstance(tree.op, (ast.Mult, ast.Div)):
        factors = list(_factors(tree))
        if any(isinstance(f, ast.Constant) and f.value == HALF_TURN for f in factors):
            tree = with_names(tree, {"pi": ast.Constant(math.pi)})
    match tree:
        case ast.BinOp(left=left, op=op, right=right):
            return ast.BinOp(keyed_angles(left), op, keyed_angles(right))
        case ast.UnaryOp(op=sign, operand=operand):
            return ast.UnaryOp(sign, keyed_angles(operand))
        case ast.Call(func=function, args=arguments):
            return ast.Call(function, [keyed_angles(a) for a in arguments], [])
    return tree


def _factors(tree: Expression) -> Iterator[Expression]:
    if isinstance(tree, ast.BinOp) and isinstance(tree.op, (ast.Mult, ast.Div)):
        yield from _factors(tree.left)
        yield from _factors(tree.right)
    else:
        yield tree


def both(left: Expression, op: ast.operator, right: Expression) -> Expression:
    """Two expressions joined."""
    return ast.BinOp(left, op, right)


def number(value: float) -> Expression:
    """A number as an expression."""
    return ast.Constant(int(value) if value == int(value) else value)


def call(function: str, argument: Expression) -> Expression:
    """A function of an expression."""
    return ast.Call(ast.Name(function), [argument], [])


def both_sides_alike(one: Expression, other: Expression, rounds: int = 3) -> bool:
    """True of two expressions that are one function of their names, but for a power of ten (and the sign).

    They are worked at numbers where both have a value: a root or an inverse sine has none at many.
    """
    names, found = sorted(names_in(one) | names_in(other)), 0
    for n in range(MOST_TRIED):
        known = {name: 0.05 + abs(math.sin(7.3 * (i + 1) + 2.9 * n * (i + 1))) for i, name in enumerate(names)}
        known |= {"pi": math.pi, "g": 9.81}
        first, second = work(one, known), work(other, known)
        if not (math.isfinite(first) and math.isfinite(second) and first and second):
            continue
        log = math.log10(abs(first / second))
        if abs(log - round(log)) > 1e-9:
            return False
        found += 1
        if found == rounds:
            return True
    return False
