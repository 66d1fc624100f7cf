"""Between our trees and sympy's expressions, node by node in both directions; no text passes."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import sympy as sp

from witnessmark.maths.many import MEAN, OF_MANY
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree

MOST_DIGITS = 60
MOST_BITS = 2_000
FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": sp.sqrt, "sin": sp.sin, "cos": sp.cos, "tan": sp.tan, "asin": sp.asin, "acos": sp.acos, "atan": sp.atan,
    "atan2": sp.atan2, "exp": sp.exp, "log": sp.log, "abs": sp.Abs, "min": sp.Min, "max": sp.Max,
    "round_up": sp.ceiling, "round_down": sp.floor,
}  # fmt: skip
NAMES = {function: name for name, function in FUNCTIONS.items() if name != "sqrt"}


class OutOfReach(ArithmeticError):
    """A number, a power or a sum is larger than we work with, or is no number at all."""


def symbolic(tree: Tree) -> Any:
    """The expression of sympy with every name but `pi` a positive symbol; OutOfReach when it would grow out of hand."""
    match tree:
        case Number(text=text):
            found = _rational(text)
        case Name(name=name):
            found = sp.pi if name == "pi" else sp.Symbol(name, positive=True)
        case Minus(of=of):
            found = -symbolic(of)
        case Binary(op="**", left=left, right=right):
            found = _power(symbolic(left), symbolic(right))
        case Binary(op=op, left=left, right=right):
            found = _joined(op, symbolic(left), symbolic(right))
        case Call(function=function, arguments=arguments):
            found = _called(function, [symbolic(a) for a in arguments])
        case Comparison():
            raise OutOfReach("a comparison is not a formula")
    if found.has(sp.zoo, sp.nan, sp.oo, sp.I):
        raise OutOfReach("it has no finite real value")
    return found


def _rational(text: str) -> Any:
    number = Decimal(text)
    if len(number.as_tuple().digits) > MOST_DIGITS or abs(number.adjusted()) > MOST_DIGITS:
        raise OutOfReach(f"a number of more than {MOST_DIGITS} digits")
    exact = Fraction(number)
    return sp.Rational(exact.numerator, exact.denominator)


def _called(function: str, arguments: list[Any]) -> Any:
    if any(a.is_extended_real is False for a in arguments) or (function == "log" and arguments[0].is_nonpositive):
        raise OutOfReach("it has no real value")
    if function == MEAN:
        return sp.Add(*arguments) / len(arguments)
    if function in OF_MANY:
        raise OutOfReach(f"{function} is worked in numbers alone")
    return FUNCTIONS[function](*arguments)


def _joined(op: str, left: Any, right: Any) -> Any:
    for side in (left, right):
        if side.is_Rational and _bits(side) > MOST_BITS:
            raise OutOfReach(f"a number of more than {MOST_BITS} bits")
    if op == "/":
        return left / right
    return left + right if op == "+" else left - right if op == "-" else left * right


def _power(base: Any, exponent: Any) -> Any:
    if base.is_negative and not exponent.is_integer:
        raise OutOfReach("it has no real value")
    if exponent.is_Rational and any(_bits(n) * abs(exponent) > MOST_BITS for n in base.atoms(sp.Rational)):
        raise OutOfReach(f"a number of more than {MOST_BITS} bits")
    return base**exponent


def _bits(number: Any) -> int:
    return int(number.p).bit_length() + int(number.q).bit_length()


def tree_of(expression: Any, order: Sequence[str]) -> Tree:
    """The tree of an expression of sympy; names in a product or sum come in the order of `order`."""
    if expression.is_Rational:
        return _fraction(int(expression.p), int(expression.q))
    if expression.is_Symbol:
        return Name(expression.name)
    if expression is sp.pi:
        return Name("pi")
    if expression is sp.E:
        return Call("exp", (Number("1"),))
    if expression.is_Add:
        return _sum(expression, order)
    if expression.is_Mul:
        return _product(expression, order)
    if expression.is_Pow:
        return _power_tree(expression, order)
    if expression.func in NAMES:
        arguments = tuple(tree_of(a, order) for a in expression.args)
        return _nested(NAMES[expression.func], arguments)
    raise OutOfReach(f"{expression.func} has no place in our expressions")


def _nested(function: str, arguments: tuple[Tree, ...]) -> Tree:
    while function in ("min", "max") and len(arguments) > 2:
        arguments = (Call(function, arguments[:2]), *arguments[2:])
    return Call(function, arguments)


def _fraction(above: int, below: int) -> Tree:
    size: Tree = Number(str(abs(above)))
    if below != 1:
        size = Binary("/", size, Number(str(below)))
    return Minus(size) if above < 0 else size


def _place(expression: Any, order: Sequence[str]) -> tuple[int, int, Any]:
    """Numbers first, then pi, then by the first name; sums and functions behind the plain names."""
    names = [order.index(s.name) if s.name in order else len(order) for s in expression.free_symbols]
    plain = expression.as_base_exp()[0].is_Symbol
    return (0 if not names else 1 if plain else 2, min(names, default=0), sp.default_sort_key(expression))


def _sum(expression: Any, order: Sequence[str]) -> Tree:
    terms = sorted(expression.args, key=lambda t: (t.could_extract_minus_sign(), _place(t, order)))
    total = tree_of(terms[0], order)
    for term in terms[1:]:
        taken = term.could_extract_minus_sign()
        total = Binary("-" if taken else "+", total, tree_of(-term if taken else term, order))
    return total


def _product(expression: Any, order: Sequence[str]) -> Tree:
    if expression.could_extract_minus_sign():
        return Minus(tree_of(-expression, order))
    above, below = (_factors(part, order) for part in sp.fraction(expression))
    return Binary("/", above, below) if below != Number("1") else above


def _factors(expression: Any, order: Sequence[str]) -> Tree:
    factors = sorted(sp.Mul.make_args(expression), key=lambda f: _place(f, order))
    whole = tree_of(factors[0], order)
    for factor in factors[1:]:
        whole = Binary("*", whole, tree_of(factor, order))
    return whole


def _power_tree(expression: Any, order: Sequence[str]) -> Tree:
    base, exponent = expression.args
    if exponent.could_extract_minus_sign():
        return Binary("/", Number("1"), tree_of(base**-exponent, order))
    if exponent == sp.Rational(1, 2):
        return Call("sqrt", (tree_of(base, order),))
    return Binary("**", tree_of(base, order), tree_of(exponent, order))
