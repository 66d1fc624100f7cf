"""The expression tree of a question author: read from text by a whitelist, never evaluated as Python."""

import ast
import keyword
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import reduce
from typing import TypeGuard

from witnessmark.maths.many import OF_MANY
from witnessmark.words.errors import FormulaError

FUNCTIONS = {
    "sqrt": 1, "sin": 1, "cos": 1, "tan": 1, "asin": 1, "acos": 1, "atan": 1, "atan2": 2, "exp": 1, "log": 1, "abs": 1,
    "min": 2, "max": 2, "round_up": 1, "round_down": 1,
}  # fmt: skip
LOG10 = "log10"
WORDS_OF_FORMULAS = (*FUNCTIONS, LOG10)  # what an author may type before a bracket
TWO_AND_MORE = ("min", "max")  # these take two and more
MOST_ARGUMENTS = 12
STEPS = ("round_up", "round_down")  # these give whole numbers
INSTEAD = {
    "ceil": "type round_up(...)", "floor": "type round_down(...)",
    "ln": "type log(...), or log10(...) to the base of ten", "lg": "type log10(...)",
    "round": "whoever writes a result rounds it, to figures; of a count type round_up(...) or round_down(...)",
    "average": "type mean(...)", "sum": "write the sum with +",
}  # fmt: skip
LONGEST_EXPRESSION = 2_000
DEEPEST = 60
VALID_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")


def is_name(text: str) -> bool:
    """True of a name that expressions can use: letters a to z, digits and _, and no word of the parser."""
    return bool(VALID_NAME.fullmatch(text)) and not keyword.iskeyword(text)


@dataclass(frozen=True, slots=True)
class Number:
    """A number as the author wrote it."""

    text: str

    @property
    def value(self) -> float:
        """Its value as a float."""
        return float(Decimal(self.text))


@dataclass(frozen=True, slots=True)
class Name:
    """A given, a table cell (`material.shear_strength`), a line, a carried result or a constant."""

    name: str


@dataclass(frozen=True, slots=True)
class Minus:
    """A sign change."""

    of: "Tree"


@dataclass(frozen=True, slots=True)
class Binary:
    """One of + - * / ** between two trees."""

    op: str
    left: "Tree"
    right: "Tree"


@dataclass(frozen=True, slots=True)
class Call:
    """A function of FUNCTIONS, or one of OF_MANY over any number of values."""

    function: str
    arguments: tuple["Tree", ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """One of < <= > >= between two trees; only at the top of a `keep` or a `judge`."""

    op: str
    left: "Tree"
    right: "Tree"


Tree = Number | Name | Minus | Binary | Call | Comparison
LOG_OF_TEN: Tree = Call("log", (Number("10"),))

_BINARY = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
_COMPARE = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}


def parse(text: str) -> Tree:
    """The tree of an author's expression; raises FormulaError with the column where reading stopped."""
    if len(text) > LONGEST_EXPRESSION:
        raise FormulaError(f"an expression of at most {LONGEST_EXPRESSION} characters", LONGEST_EXPRESSION)
    try:
        body = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError) as error:
        kept = next((word for word in re.finditer(r"[^\W\d]\w*", text) if keyword.iskeyword(word[0])), None)
        if kept:
            expected = f"a name that formulas do not keep for themselves, as they do '{kept[0]}'"
            raise FormulaError(expected, kept.start() + 1, f"call it {kept[0]}_") from None
        column = (getattr(error, "offset", None) or 1) + len(text) - len(text.lstrip())
        raise FormulaError("an expression", column, "write products with * and powers with **") from None
    return _tree(body, text, 0)


def _tree(node: ast.expr, text: str, depth: int) -> Tree:
    if depth > DEEPEST:
        raise FormulaError("an expression less deeply nested", node.col_offset + 1)
    match node:
        case ast.Constant(value=int() | float()) if not isinstance(node.value, bool):
            return _number(node, text)
        case ast.Name(id=name):
            return Name(name)
        case ast.Attribute(value=ast.Name(id=owner), attr=cell):
            return Name(f"{owner}.{cell}")
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return Minus(_tree(operand, text, depth + 1))
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
            return Binary(_BINARY[type(op)], _tree(left, text, depth + 1), _tree(right, text, depth + 1))
        case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in _COMPARE and depth == 0:
            return Comparison(_COMPARE[type(op)], _tree(left, text, 1), _tree(right, text, 1))
        case ast.Call(func=ast.Name(id=function), args=arguments, keywords=[]):
            return _call(node, function, arguments, text, depth)
    expected = "names, numbers, + - * / ** and the listed functions"
    raise FormulaError(expected, node.col_offset + 1, _instead(node))


def _instead(node: ast.expr) -> str:
    """What to type for what other languages of formulas can say and this one cannot."""
    match node:
        case ast.IfExp():
            return "of two cases take the larger or smaller with max(a, b) or min(a, b), or put the values into a table"
        case ast.BoolOp() | ast.Compare(ops=[_, _, *_]):
            return "both hold where min(a/b, c/d) >= 1, one of them where max(a/b, c/d) >= 1; or ask two parts"
        case ast.Compare(ops=[ast.Eq() | ast.NotEq()]):
            return "measured numbers are never quite equal; type one of < <= > >="
        case ast.BinOp(op=ast.BitXor()):
            return "write powers with **"
        case ast.Constant(value=complex()):
            return "ask the two parts of it, or its size and its angle, as a find each"
        case ast.List() | ast.Tuple():
            return "make each number a given of its own"
    return ""


def _number(node: ast.Constant, text: str) -> Number:
    source = ast.get_source_segment(text.strip(), node) or repr(node.value)
    try:
        number = Number(source)
        finite = abs(number.value) < float("inf")
    except (ArithmeticError, ValueError):
        finite = False
    if not finite:
        raise FormulaError("a finite decimal number", node.col_offset + 1)
    return number


def _call(node: ast.Call, function: str, arguments: list[ast.expr], text: str, depth: int) -> Tree:
    if function not in WORDS_OF_FORMULAS and function not in OF_MANY:
        known = (*WORDS_OF_FORMULAS, *sorted(OF_MANY))
        raise FormulaError(f"one of {', '.join(known)}", node.col_offset + 1, INSTEAD.get(function, ""))
    if function in OF_MANY and arguments:
        return Call(function, tuple(_tree(a, text, depth + 1) for a in arguments))
    count = FUNCTIONS.get(function, 1)
    is_many = function in TWO_AND_MORE and count < len(arguments) <= MOST_ARGUMENTS
    if len(arguments) != count and not is_many:
        raise FormulaError(f"{count} argument(s) for {function}", node.col_offset + 1)
    below = [_tree(a, text, depth + 1) for a in arguments]
    if function == LOG10:
        return of_ten(below[0])
    if is_many:
        return reduce(lambda one, other: Call(function, (one, other)), below)
    return Call(function, tuple(below))


def of_ten(tree: Tree) -> Tree:
    """The logarithm of ten of a tree, as all that reads trees knows it: a ratio of two natural ones."""
    return Binary("/", Call("log", (tree,)), LOG_OF_TEN)


def is_of_ten(tree: Tree) -> bool:
    """True of what `of_ten` makes."""
    return isinstance(tree, Binary) and tree.op == "/" and _is_log(tree.left) and tree.right == LOG_OF_TEN


def _is_log(tree: Tree) -> bool:
    return isinstance(tree, Call) and tree.function == "log"


def children(tree: Tree) -> tuple[Tree, ...]:
    """The trees directly below this one."""
    match tree:
        case Minus(of=of):
            return (of,)
        case Binary(left=left, right=right) | Comparison(left=left, right=right):
            return (left, right)
        case Call(arguments=arguments):
            return arguments
    return ()


def walk(tree: Tree) -> Iterator[Tree]:
    """This tree and every tree below it, parents first, left to right."""
    yield tree
    for child in children(tree):
        yield from walk(child)


def names_in(tree: Tree) -> frozenset[str]:
    """Every name that the expression uses."""
    return frozenset(t.name for t in walk(tree) if isinstance(t, Name))


def is_call_of_many(tree: Tree) -> TypeGuard[Call]:
    """True of a mean and its like, whose values are the readings of a column."""
    return isinstance(tree, Call) and tree.function in OF_MANY


def names_alone(tree: Tree) -> frozenset[str]:
    """The names that stand elsewhere than among the readings of a mean and its like."""
    if isinstance(tree, Name):
        return frozenset({tree.name})
    if is_call_of_many(tree):
        return frozenset(n for child in children(tree) if not isinstance(child, Name) for n in names_alone(child))
    return frozenset(n for child in children(tree) for n in names_alone(child))


def rebuilt(tree: Tree, below: tuple[Tree, ...]) -> Tree:
    """The same kind of tree over other children, in the order of `children`."""
    match tree, below:
        case Minus(), (of,):
            return Minus(of)
        case Binary(op=op), (left, right):
            return Binary(op, left, right)
        case Comparison(op=op), (left, right):
            return Comparison(op, left, right)
        case Call(function=function), _:
            return Call(function, below)
    return tree


def substituted(tree: Tree, replacement: dict[str, Tree]) -> Tree:
    """The tree with names replaced by other trees."""
    if isinstance(tree, Name):
        return replacement.get(tree.name, tree)
    return rebuilt(tree, tuple(substituted(child, replacement) for child in children(tree)))


def is_count(tree: Tree) -> bool:
    """True of an expression whose value is a whole number, as it is rounded last."""
    return isinstance(tree, Call) and tree.function in STEPS


def steps_in(tree: Tree) -> Iterator[Tree]:
    """Every part of the expression that is rounded to a whole number."""
    return (t for t in walk(tree) if is_count(t))
