"""A second reader of printed formulae, for tests: it goes by signs and brackets, as people do."""

import math
from collections.abc import Callable, Mapping

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

FUNCTIONS = {
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "arcsin": math.asin, "arccos": math.acos, "ln": math.log,
    "arctan": math.atan,
}  # fmt: skip
TWO_SIDED: dict[str, Callable[[float, float], float]] = {"min": min, "max": max, "atan2": math.atan2}


def value_of_pieces(piece: Piece, values: Mapping[str, float]) -> float:
    """The value of what is printed; nan where it has none."""
    known = {symbol_of(name): value for name, value in values.items()}
    try:
        return _Reader(known).of(piece)
    except (ArithmeticError, ValueError):
        return math.nan


class _Reader:
    def __init__(self, known: Mapping[Symbol, float]) -> None:
        self.known = known

    def of(self, piece: Piece) -> float:
        match piece:
            case Letter(symbol=symbol):
                return self.known[symbol]
            case Amount(digits=digits):
                return number_of(digits)
            case Text(words="e"):
                return math.e
            case Row(items=items):
                return self.sum(_flat(items))
            case Fraction(over=over, under=under):
                return self.of(over) / self.of(under)
            case Root(of=of):
                return math.sqrt(self.of(of))
            case Power(base=base, exponent=exponent):
                return _real(self.of(base) ** self.of(exponent))
            case Fenced(of=of, left="|"):
                return abs(self.of(of))
            case Fenced(of=of):
                return self.of(of)
            case Applied():
                return self.applied(piece)
        raise TypeError(piece)

    def sum(self, items: list[Piece]) -> float:
        """Terms parted by + and −; a minus sign at the front changes the first."""
        terms: list[tuple[float, list[Piece]]] = [(1.0, [])]
        for index, item in enumerate(items):
            if item == Sign("−") and index == 0:
                terms = [(-1.0, [])]
            elif item in (Sign("+"), Sign("−")):
                terms.append((1.0 if item == Sign("+") else -1.0, []))
            else:
                terms[-1][1].append(item)
        return math.fsum(sign * self.product(term) for sign, term in terms)

    def product(self, items: list[Piece]) -> float:
        """Factors parted by × or standing side by side; what follows a stroke divides."""
        value = self.of(items[0])
        for sign, factor in zip(items[1::2], items[2::2], strict=True):
            if sign == Sign("/"):
                value /= self.of(factor)
            else:
                assert sign in (Sign("×"), Sign(""))
                value *= self.of(factor)
        return value

    def applied(self, piece: Applied) -> float:
        argument = piece.argument
        assert isinstance(argument, Fenced)
        if piece.function in TWO_SIDED:
            assert isinstance(argument.of, Row)
            comma = argument.of.items.index(Sign(","))
            sides = [self.sum(_flat(argument.of.items[:comma])), self.sum(_flat(argument.of.items[comma + 1 :]))]
            return float(TWO_SIDED[piece.function](*sides))
        value = FUNCTIONS[piece.function](self.of(argument.of))
        return _real(value ** self.of(piece.raised)) if piece.raised else value


def _flat(items: tuple[Piece, ...]) -> list[Piece]:
    """Rows within rows are one line on the page."""
    return [inner for item in items for inner in (_flat(item.items) if isinstance(item, Row) else [item])]


def _real(value: object) -> float:
    if isinstance(value, complex):
        raise ValueError("not real")
    return float(value)  # type: ignore[arg-type]


def number_of(digits: Digits) -> float:
    """The printed digits as a number."""
    plain = digits.text.replace("\u202f", "").replace("−", "-")
    return float(plain) * 10.0 ** (digits.power or 0)
