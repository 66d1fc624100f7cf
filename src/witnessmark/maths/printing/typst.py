"""Formulae for typst: nested lists that travel as JSON, so that no text of an author ever becomes typst source.

The template's `maths` function (documents/assets/maths.typ) builds the equation; each list starts with its kind.
"""

from typing import Any

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
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.printing.units import space_before, unit_signs

Node = list[Any]


def typst_equation(piece: Piece) -> dict[str, Any]:
    """What the template needs for one equation: its nodes and its alternative text."""
    return {"node": typst_node(piece), "alt": spoken(piece)}


def typst_node(piece: Piece) -> Node:
    """The pieces as lists: `["frac", over, under]`, `["letter", "τ", slopes, index, change]`, ..."""
    match piece:
        case Letter(symbol=symbol):
            return ["letter", symbol.letters, symbol.slopes, symbol.below, symbol.change]
        case Amount():
            return _amount(piece)
        case Sign(text=text):
            return ["sign", text]
        case Row(items=items):
            return ["row", *(typst_node(i) for i in items)]
        case Fraction(over=over, under=under):
            return ["frac", typst_node(over), typst_node(under)]
        case Root(of=of):
            return ["root", typst_node(of)]
        case Power(base=base, exponent=exponent):
            return ["power", typst_node(base), typst_node(exponent)]
        case Fenced(of=of, left=left, right=right):
            return ["fenced", left, typst_node(of), right]
        case Applied(function=function, argument=argument, raised=raised):
            return ["applied", function, typst_node(raised) if raised else [], typst_node(argument)]
        case Text(words=words):
            return ["text", words]


def _amount(piece: Amount) -> Node:
    digits, power = piece.digits.text, piece.digits.power
    exponent = "" if power is None else str(power).replace("-", "−")
    signs = [[s.text, "" if s.power == 1 else str(s.power).replace("-", "−")] for s in unit_signs(piece.unit)]
    return ["amount", digits, exponent, bool(space_before(piece.unit)), signs]
