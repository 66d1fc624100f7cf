"""Intervals through expressions: the least and greatest value that a tree can take when its names lie in intervals.

Every interval is a pair of arrays (low, high). The result always holds the true range; it is wider than it only where
a name that is itself an interval stands at several places. Out of domain gives nan, which no answer can be inside of.
"""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, round_down, round_up
from witnessmark.maths.many import OF_MANY, of_intervals
from witnessmark.maths.same_object import remembered
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree

Interval = tuple[Any, Any]
Intervals = Mapping[str, Interval]
_Function = Callable[[Intervals], Interval]


@remembered
def interval_of(tree: Tree) -> _Function:
    """The function that gives the interval of an expression from the intervals of its names (SI)."""
    inner = _interval(tree)

    def run(values: Intervals) -> Interval:
        with np.errstate(all="ignore"):
            return inner(values)

    return run


def _interval(tree: Tree) -> _Function:
    match tree:
        case Number():
            value = np.float64(tree.value)
            return lambda values: (value, value)
        case Name(name=name):
            return lambda values: values[name]
        case Minus(of=of):
            inner = _interval(of)
            return lambda values: _negated(inner(values))
        case Binary(op="**", left=left, right=right) if _whole(right) is not None:
            base, exponent = _interval(left), _whole(right)
            return lambda values: _whole_power(base(values), exponent or 0)
        case Binary(op=op, left=left, right=right):
            first, second, rule = _interval(left), _interval(right), _BINARY[op]
            return lambda values: rule(first(values), second(values))
        case Call(function=function, arguments=arguments):
            parts, call = [_interval(a) for a in arguments], _CALLS[function]
            return lambda values: call(*(p(values) for p in parts))
        case Comparison():
            raise TypeError("a comparison has no interval")


def _whole(tree: Tree) -> int | None:
    if isinstance(tree, Minus):
        inner = _whole(tree.of)
        return None if inner is None else -inner
    return int(tree.value) if isinstance(tree, Number) and tree.value.is_integer() else None


def hull(*ends: Any) -> Interval:
    """The interval from the least to the greatest of the values (elementwise; nan spreads)."""
    low = high = np.asarray(ends[0], dtype=np.float64)
    for end in ends[1:]:
        low, high = np.minimum(low, end), np.maximum(high, end)
    return low, high


def _negated(x: Interval) -> Interval:
    return -x[1], -x[0]


def _sum(x: Interval, y: Interval) -> Interval:
    return x[0] + y[0], x[1] + y[1]


def _difference(x: Interval, y: Interval) -> Interval:
    return x[0] - y[1], x[1] - y[0]


def _product(x: Interval, y: Interval) -> Interval:
    return hull(x[0] * y[0], x[0] * y[1], x[1] * y[0], x[1] * y[1])


def _quotient(x: Interval, y: Interval) -> Interval:
    through_zero = (np.asarray(y[0]) <= 0) & (np.asarray(y[1]) >= 0)
    low, high = hull(x[0] / y[0], x[0] / y[1], x[1] / y[0], x[1] / y[1])
    return np.where(through_zero, np.nan, low), np.where(through_zero, np.nan, high)


def _whole_power(x: Interval, exponent: int) -> Interval:
    if exponent < 0:
        return _quotient((np.float64(1), np.float64(1)), _whole_power(x, -exponent))
    low, high = hull(np.asarray(x[0]) ** exponent, np.asarray(x[1]) ** exponent)
    if exponent % 2 == 0:
        low = np.where((np.asarray(x[0]) < 0) & (np.asarray(x[1]) > 0), 0.0, low)
    return low, high


def _power(x: Interval, y: Interval) -> Interval:
    return hull(x[0] ** y[0], x[0] ** y[1], x[1] ** y[0], x[1] ** y[1])


def _monotone(function: Callable[[Any], Any]) -> Callable[[Interval], Interval]:
    return lambda x: hull(function(x[0]), function(x[1]))


def _wave(function: Callable[[Any], Any], first_top: float) -> Callable[[Interval], Interval]:
    """sin and cos: the ends, and the tops and bottoms that lie between (tops every 2 pi from `first_top`)."""

    def run(x: Interval) -> Interval:
        low, high = hull(function(x[0]), function(x[1]))
        high = np.where(_meets(x, first_top), 1.0, high)
        return np.where(_meets(x, first_top + np.pi), -1.0, low), high

    return run


def _meets(x: Interval, first: float) -> Array:
    turns: Array = np.floor((x[1] - first) / (2 * np.pi)) - np.ceil((x[0] - first) / (2 * np.pi))
    return turns >= 0  # type: ignore[return-value]


def _tangent(x: Interval) -> Interval:
    low, high = hull(np.tan(x[0]), np.tan(x[1]))
    pole = np.floor((x[1] - np.pi / 2) / np.pi) >= np.ceil((x[0] - np.pi / 2) / np.pi)
    return np.where(pole, np.nan, low), np.where(pole, np.nan, high)


def _absolute(x: Interval) -> Interval:
    low, high = hull(np.abs(x[0]), np.abs(x[1]))
    return np.where((np.asarray(x[0]) < 0) & (np.asarray(x[1]) > 0), 0.0, low), high


def _angle(y: Interval, x: Interval) -> Interval:
    """atan2: its range is at the corners wherever the box keeps clear of the cut (x <= 0 with y through 0)."""
    low, high = hull(*(np.arctan2(a, b) for a in y for b in x))
    cut = (np.asarray(x[0]) <= 0) & (np.asarray(y[0]) < 0) & (np.asarray(y[1]) >= 0)
    return np.where(cut, -np.pi, low), np.where(cut, np.pi, high)


_BINARY: dict[str, Callable[[Interval, Interval], Interval]] = {
    "+": _sum, "-": _difference, "*": _product, "/": _quotient, "**": _power,
}  # fmt: skip
_CALLS: dict[str, Callable[..., Interval]] = {
    "sqrt": _monotone(np.sqrt), "exp": _monotone(np.exp), "log": _monotone(np.log), "asin": _monotone(np.arcsin),
    "acos": _monotone(np.arccos), "atan": _monotone(np.arctan), "tan": _tangent, "sin": _wave(np.sin, np.pi / 2),
    "cos": _wave(np.cos, 0.0), "abs": _absolute, "atan2": _angle,
    "round_up": _monotone(round_up), "round_down": _monotone(round_down),
    "min": lambda x, y: (np.minimum(x[0], y[0]), np.minimum(x[1], y[1])),
    "max": lambda x, y: (np.maximum(x[0], y[0]), np.maximum(x[1], y[1])),
    **{function: of_intervals(function) for function in OF_MANY},
}  # fmt: skip
