"""Expressions at fixed points with 50 and 100 figures, to see whether two of them can be the same formula.

Points are made from the names by SHA-256, so they are the same on every machine. Every step costs the same: a value
that leaves the range of SMALLEST to LARGEST counts as undefined there, so `9**9**9` is never worked out.
"""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from mpmath.ctx_mp import MPContext

from witnessmark.maths.many import OF_MANY, worked
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree, names_in

FIGURES = (50, 100)
POINTS = 24
WANTED = 8
LARGEST_BITS = 3_000
LARGEST_EXPONENT = 1_000
APART = 1e-30
STEADY = 1_000
LOWS_AND_RATIOS = ((0.1, 10.0), (0.2, 50.0), (0.05, 100.0))


class Undefined(ArithmeticError):
    """The expression has no real value of ordinary size at this point."""


@dataclass(frozen=True, slots=True)
class Point:
    """A value for every name, and the values of two expressions there with an estimate of their error."""

    names: dict[str, float]
    first: Any
    second: Any
    error: Any

    @property
    def differs(self) -> bool:
        """True when the two values differ by more than their error could explain."""
        gap = abs(self.first - self.second)
        return bool(gap > STEADY * self.error and gap > APART * max(abs(self.first), abs(self.second)))

    @property
    def agrees(self) -> bool:
        """True when the two values are the same number as far as it can be worked out, and that is 30 figures."""
        return not self.differs and bool(self.error <= APART * max(abs(self.first), abs(self.second), 1))


def common_points(first: Tree, second: Tree) -> Iterator[Point]:
    """Up to WANTED points at which both expressions are defined; none for a comparison."""
    names = sorted(names_in(first) | names_in(second))
    found = 0
    for index in range(POINTS):
        try:
            yield _point(first, second, names, index)
        except Undefined:
            continue
        found += 1
        if found == WANTED:
            return


def _point(first: Tree, second: Tree, names: list[str], index: int) -> Point:
    rough, fine = (_evaluated_both(first, second, names, index, context) for context in CONTEXTS)
    error = sum((abs(r - f) for r, f in zip(rough, fine, strict=True)), FINE.mpf(0))
    shown = {name: float(coordinate(name, index, FINE)) for name in names if name != "pi"}
    return Point(shown, fine[0], fine[1], error)


def _evaluated_both(first: Tree, second: Tree, names: list[str], index: int, context: Any) -> tuple[Any, Any]:
    values = {name: coordinate(name, index, context) for name in names}
    return evaluated(first, values, context), evaluated(second, values, context)


def coordinate(name: str, index: int, context: Any) -> Any:
    """The value of a name at a point: positive, of about one, with 70 figures that nobody could have chosen."""
    if name == "pi":
        return +context.pi
    digest = hashlib.sha256(f"{name} at {index}".encode()).digest()
    share = context.mpf(int.from_bytes(digest)) / context.mpf(2) ** 256
    low, ratio = LOWS_AND_RATIOS[index % len(LOWS_AND_RATIOS)]
    return context.mpf(low) * (1 + share * share * (ratio - 1))


def evaluated(tree: Tree, values: dict[str, Any], context: Any) -> Any:
    """The value of an expression in a context of mpmath; Undefined when it is not a real number of ordinary size."""
    match tree:
        case Number(text=text):
            value = context.mpf(f"0{text}")  # mpmath cannot read `.0`
        case Name(name=name):
            value = values[name]
        case Minus(of=of):
            value = -evaluated(of, values, context)
        case Binary(op=op, left=left, right=right):
            value = _binary(op, evaluated(left, values, context), evaluated(right, values, context), context)
        case Call(function=function, arguments=arguments):
            value = _call(function, [evaluated(a, values, context) for a in arguments], context)
        case Comparison():
            raise Undefined
    if not context.isfinite(value) or (value and abs(context.mag(value)) > LARGEST_BITS):
        raise Undefined
    return value


def _binary(op: str, left: Any, right: Any, context: Any) -> Any:
    if op == "/":
        if not right:
            raise Undefined
        return left / right
    if op == "**":
        return _power(left, right, context)
    return left + right if op == "+" else left - right if op == "-" else left * right


def _power(base: Any, exponent: Any, context: Any) -> Any:
    whole = context.isint(exponent)
    if abs(exponent) > LARGEST_EXPONENT or (base < 0 and not whole) or (not base and exponent <= 0):
        raise Undefined
    return context.power(base, int(exponent) if whole else exponent)


def _call(function: str, arguments: list[Any], context: Any) -> Any:
    first = arguments[0]
    if function in OF_MANY:
        try:
            return worked(function, arguments, context.sqrt, sorted)
        except ZeroDivisionError:
            raise Undefined from None
    outside = {"sqrt": first < 0, "log": first <= 0, "asin": abs(first) > 1, "acos": abs(first) > 1}
    if outside.get(function, False) or (function == "exp" and abs(first) > LARGEST_EXPONENT):
        raise Undefined
    if function == "atan2" and not any(arguments):
        raise Undefined
    plain: dict[str, Callable[..., Any]] = {"abs": abs, "min": min, "max": max, "log": context.ln}
    plain |= {"round_up": context.ceil, "round_down": context.floor}
    return plain[function](*arguments) if function in plain else getattr(context, function)(*arguments)


def _context(figures: int) -> Any:
    context = MPContext()
    context.dps = figures
    return context


CONTEXTS = tuple(_context(figures) for figures in FIGURES)
FINE = CONTEXTS[1]
