"""A formula made by machine as a person would write it: numbers first and in one, equal factors as a power."""

from decimal import Decimal
from fractions import Fraction

from witnessmark.maths.syntax import Binary, Name, Number, Tree, children, rebuilt

ONE = Decimal(1)
Factors = dict[Tree, int]
"""The power of each factor, in the order in which they first stand."""


def tidied(tree: Tree) -> Tree:
    """The same formula with the products in it put in order: `tau*(4*(d*t))` as `4*tau*d*t`, `2*(d/2)*d` as `d**2`."""
    if isinstance(tree, Binary) and tree.op in ("*", "/"):
        return _product(tree)
    if isinstance(tree, Binary) and tree.op == "**" and tree.right == Number("1"):
        return tidied(tree.left)
    return rebuilt(tree, tuple(tidied(child) for child in children(tree)))


def _product(tree: Tree) -> Tree:
    factors: Factors = {}
    above, below = _collect(tree, 1, factors)
    ratio = Fraction(above) / Fraction(below)
    if 1 in (ratio.numerator, ratio.denominator):
        above, below = Decimal(ratio.numerator), Decimal(ratio.denominator)
    over = [_raised(factor, power) for factor, power in factors.items() if power > 0]
    under = [_raised(factor, -power) for factor, power in factors.items() if power < 0]
    over = over if above == ONE and over else [_number(above), *over]
    under = under if below == ONE else [_number(below), *under]
    return Binary("/", _times(over), _times(under)) if under else _times(over)


def _collect(tree: Tree, sign: int, factors: Factors) -> tuple[Decimal, Decimal]:
    """Adds the factors of a product to `factors`; the number above the line and the one below it."""
    match tree:
        case Binary(op="*" | "/" as op, left=left, right=right):
            above, below = _collect(left, sign, factors)
            more_above, more_below = _collect(right, sign if op == "*" else -sign, factors)
            return above * more_above, below * more_below
        case Number(text=text) if Decimal(text) > 0:
            return (Decimal(text), ONE) if sign > 0 else (ONE, Decimal(text))
        case Binary(op="**", left=Name(name=name), right=Number(text=text)) if text.isdigit() and int(text):
            factors[Name(name)] = factors.get(Name(name), 0) + sign * int(text)
        case _:
            inner = tidied(tree)
            if inner != tree:
                return _collect(inner, sign, factors)
            factors[tree] = factors.get(tree, 0) + sign
    return ONE, ONE


def _raised(factor: Tree, power: int) -> Tree:
    return factor if power == 1 else Binary("**", factor, Number(str(power)))


def _number(value: Decimal) -> Number:
    return Number(format(value.normalize(), "f"))


def _times(factors: list[Tree]) -> Tree:
    result = factors[0]
    for factor in factors[1:]:
        result = Binary("*", result, factor)
    return result
