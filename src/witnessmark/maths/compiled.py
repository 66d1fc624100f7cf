"""Expressions to numbers: a tree becomes one function over arrays, made of closures; no text is ever evaluated."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.maths.many import OF_MANY, of_columns
from witnessmark.maths.same_object import remembered
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree
from witnessmark.maths.turns import with_turns_in_full

Array = npt.NDArray[np.float64]
Values = Mapping[str, Any]
Function = Callable[[Values], Any]

WHOLE = 1e-9  # as a share, and at least: what binary arithmetic may lose of a whole number


def round_up(value: Any) -> Any:
    """The least whole number that is not less: 6/0.1 is 60, whatever binary arithmetic makes of it."""
    return np.ceil(value - WHOLE * np.maximum(np.abs(value), 1))


def round_down(value: Any) -> Any:
    """The largest whole number that is not more."""
    return np.floor(value + WHOLE * np.maximum(np.abs(value), 1))


_BINARY: dict[str, Callable[[Any, Any], Any]] = {
    "+": np.add, "-": np.subtract, "*": np.multiply, "/": np.divide, "**": np.power,
}  # fmt: skip
_COMPARE: dict[str, Callable[[Any, Any], Any]] = {
    "<": np.less, "<=": np.less_equal, ">": np.greater, ">=": np.greater_equal,
}  # fmt: skip
_CALLS: dict[str, Callable[..., Any]] = {
    "sqrt": np.sqrt, "sin": np.sin, "cos": np.cos, "tan": np.tan, "asin": np.arcsin, "acos": np.arccos,
    "atan": np.arctan, "atan2": np.arctan2, "exp": np.exp, "log": np.log, "abs": np.abs, "min": np.minimum,
    "max": np.maximum, "round_up": round_up, "round_down": round_down,
    **{function: of_columns(function) for function in OF_MANY},
}  # fmt: skip


@remembered
def compiled(tree: Tree) -> Function:
    """The function of an expression: SI values (floats or arrays) by name in, SI values (or truth) out.

    Pi over or under 180 is that of a whole turn, whatever value of pi is given. Out of domain gives nan or inf, never
    an exception; a name that is absent is a KeyError.
    """
    inner = _compiled(with_turns_in_full(tree))

    def run(values: Values) -> Any:
        with np.errstate(all="ignore"):
            return inner(values)

    return run


def _compiled(tree: Tree) -> Function:
    match tree:
        case Number():
            value = np.float64(tree.value)
            return lambda values: value
        case Name(name=name):
            return lambda values: values[name]
        case Minus(of=of):
            inner = _compiled(of)
            return lambda values: -inner(values)
        case Binary(op=op, left=left, right=right):
            return _joined(_BINARY[op], _worked(left), _compiled(right))
        case Comparison(op=op, left=left, right=right):
            return _joined(_COMPARE[op], _worked(left), _compiled(right))
        case Call(function=function, arguments=arguments):
            call, parts = _CALLS[function], [_compiled(a) for a in arguments]
            return lambda values: call(*(p(values) for p in parts))


def _joined(operation: Callable[[Any, Any], Any], left: Function, right: Function) -> Function:
    return lambda values: operation(left(values), right(values))


def _worked(tree: Tree) -> Function:
    """The same, for the left of an operation: a number of Python becomes one of numpy, which gives nan or inf where
    Python would raise."""
    inner = _compiled(tree)
    if not isinstance(tree, Name | Minus):
        return inner

    def run(values: Values) -> Any:
        value = inner(values)
        return value if isinstance(value, np.ndarray) and value.dtype == np.float64 else np.float64(1) * value

    return run
