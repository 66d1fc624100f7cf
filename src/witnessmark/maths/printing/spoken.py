"""Formulae as they are read aloud: the alternative text of every equation."""

import re

from witnessmark.maths.printing.numbers import NARROW_SPACE, Digits
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
from witnessmark.maths.printing.symbols import symbol_words
from witnessmark.maths.printing.units import unit_words

SIGNS = {
    "": "times", "×": "times", "+": "plus", "−": "minus", "=": "equals", "≈": "is about", "<": "is less than",
    "≤": "is at most", ">": "is greater than", "≥": "is at least", ",": "and", ";": "against", "/": "over",
}  # fmt: skip
FUNCTIONS = {
    "sin": "sine", "cos": "cosine", "tan": "tangent", "arcsin": "arc sine", "arccos": "arc cosine",
    "arctan": "arc tangent", "atan2": "arc tangent", "ln": "natural logarithm",
    "lg": "logarithm to ten", "min": "smaller", "max": "larger",
    "median": "median", "spread": "spread", "slope": "slope of least squares",
}  # fmt: skip
RAISED = {"2": "squared", "3": "cubed"}
COMMAS = re.compile(r"(?:,\s*)+")


def spoken(piece: Piece) -> str:
    """The formula in words, unambiguous by ear: `F equals tau times A sub s`."""
    return COMMAS.sub(", ", _words(piece)).strip(", ")


def _words(piece: Piece) -> str:
    match piece:
        case Letter(symbol=symbol):
            return symbol_words(symbol)
        case Amount():
            return _amount(piece)
        case Sign(text=text):
            return SIGNS.get(text, text)
        case Row(items=items):
            return " ".join(_words(i) for i in items)
        case Fraction(over=over, under=under):
            return _fraction(over, under)
        case Root(of=of):
            return f"the square root of {_words(of)}" + ("" if _simple(of) else ", end of root")
        case Power(base=base, exponent=exponent):
            return f"{_words(base)} {_raised(exponent)}"
        case Fenced(of=of, left=left):
            words = ("open bracket", "close bracket") if left == "(" else ("the size of", ", end of size")
            return f"{words[0]} {_words(of)} {words[1]}".replace(" ,", ",")
        case Applied(function=function, argument=argument, raised=raised):
            name = FUNCTIONS.get(function, function) + (f" {_raised(raised)}" if raised else "")
            return f"{name} of {_words(_bare(argument))}"
        case Text(words=words):
            return words


def _simple(piece: Piece) -> bool:
    return isinstance(piece, Letter | Amount | Text)


def _bare(argument: Piece) -> Piece:
    return argument.of if isinstance(argument, Fenced) and _simple(argument.of) else argument


def _fraction(over: Piece, under: Piece) -> str:
    if _simple(over) and _simple(under):
        return f"{_words(over)} over {_words(under)}"
    return f"the fraction {_words(over)} over {_words(under)}, end of fraction,"


def _raised(exponent: Piece) -> str:
    if isinstance(exponent, Amount) and str(exponent.digits) in RAISED and not exponent.unit:
        return RAISED[str(exponent.digits)]
    return f"to the power {_words(exponent)}" + ("" if _simple(exponent) else ", end of power,")


def _amount(piece: Amount) -> str:
    unit = unit_words(piece.unit, many=piece.digits.text != "1" or piece.digits.power is not None)
    return f"{digits_words(piece.digits)} {unit}".strip()


def digits_words(digits: Digits) -> str:
    """A number as spoken: the group spaces gone, its sign and power of ten in words."""
    plain = digits.text.replace(NARROW_SPACE, "").replace("−", "minus ")
    if digits.power is None:
        return plain
    return f"{plain} times 10 to the power {digits.power}".replace("power -", "power minus ")
