"""A second reader of printed formulae, for tests: it goes by signs and brackets, as people do."""

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from witnessmark.maths.printing.numbers import Digits
from witnessmark.maths.printing.pieces import (
    Amount,
    Applied,
    Fenced,
    Fraction,
    Letter,
    Piece,
    Power,
    Root,
    Row,
    Sign,
    Text,
)
from witnessmark.maths.printing.symbols import Symbol, symbol_of

FUNCTIONS: dict[str, Callable[[Any], Any]] = {
    "sin": np.sin, "cos": np.cos, "tan": np.tan, "arcsin": np.arcsin, "arccos": np.arccos, "ln": np.log,
    "arctan": np.arctan, "lg": np.log10,
    "round up": lambda value: np.ceil(value - hair_of(value)),
    "round down": lambda value: np.floor(value + hair_of(value)),
}  # fmt: skip
TWO_SIDED: dict[str, Callable[[Any, Any], Any]] = {"min": np.minimum, "max": np.maximum, "atan2": np.arctan2}


def hair_of(value: Any) -> Any:
    """How far from a whole number a person still knows it for that number, as 6/0.1 for 60."""
    return 1e-9 * np.maximum(np.abs(value), 1)


def value_of_pieces(piece: Piece, values: Mapping[str, float]) -> float:
    """The value of what is printed; nan where it has none."""
    known = {symbol_of(name): value for name, value in values.items()}
    with np.errstate(all="ignore"):
        return float(_Reader(known).of(piece))


class _Reader:
    def __init__(self, known: Mapping[Symbol, float]) -> None:
        self.known = known

    def of(self, piece: Piece) -> Any:
        match piece:
            case Letter(symbol=symbol):
                return np.float64(self.known[symbol])
            case Amount(digits=digits):
                return number_of(digits)
            case Text(words="e"):
                return np.float64(math.e)
            case Row(items=items):
                return self.sum(_flat(items))
            case Fraction(over=over, under=under):
                return self.of(over) / self.of(under)
            case Root(of=of):
                return np.sqrt(self.of(of))
            case Power(base=base, exponent=exponent):
                return np.power(self.of(base), self.of(exponent))
            case Fenced(of=of, left="|"):
                return abs(self.of(of))
            case Fenced(of=of):
                return self.of(of)
            case Applied():
                return self.applied(piece)
        raise TypeError(piece)

    def sum(self, items: list[Piece]) -> Any:
        """Terms parted by + and −; a minus sign at the front changes the first."""
        terms: list[tuple[float, list[Piece]]] = [(1.0, [])]
        for index, item in enumerate(items):
            if item == Sign("−") and index == 0:
                terms = [(-1.0, [])]
            elif item in (Sign("+"), Sign("−")):
                terms.append((1.0 if item == Sign("+") else -1.0, []))
            else:
                terms[-1][1].append(item)
        return sum(sign * self.product(term) for sign, term in terms)

    def product(self, items: list[Piece]) -> Any:
        """Factors parted by × or standing side by side; what follows a stroke divides."""
        value = self.of(items[0])
        for sign, factor in zip(items[1::2], items[2::2], strict=True):
            if sign == Sign("/"):
                value /= self.of(factor)
            else:
                assert sign in (Sign("×"), Sign(""))
                value *= self.of(factor)
        return value

    def applied(self, piece: Applied) -> Any:
        argument = piece.argument
        assert isinstance(argument, Fenced)
        if piece.function in TWO_SIDED:
            assert isinstance(argument.of, Row)
            comma = argument.of.items.index(Sign(","))
            sides = [self.sum(_flat(argument.of.items[:comma])), self.sum(_flat(argument.of.items[comma + 1 :]))]
            return TWO_SIDED[piece.function](*sides)
        value = FUNCTIONS[piece.function](self.of(argument.of))
        return np.power(value, self.of(piece.raised)) if piece.raised else value


def _flat(items: tuple[Piece, ...]) -> list[Piece]:
    """Rows within rows are one line on the page."""
    return [inner for item in items for inner in (_flat(item.items) if isinstance(item, Row) else [item])]


def number_of(digits: Digits) -> Any:
    """The printed digits as a number."""
    plain = digits.text.replace("\u202f", "").replace("−", "-")
    return np.float64(f"{plain}e{digits.power or 0}")
