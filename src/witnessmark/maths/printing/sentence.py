"""A formula inside a sentence, in one line of text: `τ × π × d² / 4`, `√(4 × F / (π × σ))`."""

from collections.abc import Mapping

from witnessmark.maths.printing.pieces import FUNCTION_NAMES, OF_TEN
from witnessmark.maths.printing.plain import ATOM, BINDING, POWER, SIGN, binding
from witnessmark.maths.printing.symbols import symbol_for
from witnessmark.maths.printing.units import SUPERSCRIPTS
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree, is_of_ten

SIGNS = {"*": " × ", "/": " / ", "+": " + ", "-": " − "}
COMPARED = {"<": " < ", "<=": " ≤ ", ">": " > ", ">=": " ≥ "}


def in_sentence(tree: Tree, symbols: Mapping[str, str] | None = None) -> str:
    """The formula as one line of text, with the fewest brackets; `symbols` maps names to the symbols shown."""
    known = symbols or {}
    match tree:
        case Number(text=text):
            return text
        case Name(name=name):
            return str(symbol_for(name, known))
        case Minus(of=of):
            return "−" + _held(of, SIGN, known)
        case Comparison(op=op, left=left, right=right):
            return in_sentence(left, known) + COMPARED[op] + in_sentence(right, known)
        case Call(function="sqrt", arguments=(of,)):
            return f"√({in_sentence(of, known)})" if binding(of) < ATOM else "√" + in_sentence(of, known)
        case Binary(left=Call(arguments=(of,))) if is_of_ten(tree):
            return f"{OF_TEN}({in_sentence(of, known)})"
        case Call(function=function, arguments=arguments):
            return f"{FUNCTION_NAMES.get(function, function)}({', '.join(in_sentence(a, known) for a in arguments)})"
        case Binary(op="**", left=left, right=Number(text=text)) if text.isdigit():
            return _held(left, ATOM, known) + text.translate(SUPERSCRIPTS)
        case Binary(op="**", left=left, right=right):
            return f"{_held(left, ATOM, known)}^{_held(right, POWER, known)}"
        case Binary(op=op, left=left, right=right):
            own = BINDING[op]
            return _held(left, own, known) + SIGNS[op] + _held(right, own + 1, known)
    raise TypeError(f"{tree!r} is not a tree")


def _held(tree: Tree, at_least: int, symbols: Mapping[str, str]) -> str:
    text = in_sentence(tree, symbols)
    return text if binding(tree) >= at_least else f"({text})"
