"""Expressions worked with every operation rounded to so many figures, as by somebody who writes each of them down."""

from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, Values, compiled
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, children, rebuilt


def each_rounded(tree: Tree, values: Values, figures: int) -> Array:
    """The value of an expression (SI) in its own order, each operation and function rounded; names and numbers stay.

    Powers and functions count as one operation. A name that is absent is a KeyError.
    """
    match tree:
        case Number() | Name():
            return np.asarray(compiled(tree)(values), dtype=np.float64)
        case Minus(of=of):
            return -each_rounded(of, values, figures)
        case Binary() | Call():
            below = children(tree)
            inner: dict[str, Any] = {f"{i}": each_rounded(child, values, figures) for i, child in enumerate(below)}
            one_step = rebuilt(tree, tuple(Name(name) for name in inner))
            return to_figures(compiled(one_step)(inner), figures)
    raise TypeError(f"{tree} gives no number")
