"""Trees and dimensions in words that can be typed: an expression as an author writes it, a dimension as its unit."""

from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree

_STRENGTH = {"+": 1, "-": 1, "*": 2, "/": 2, "**": 4}
_MINUS = 3
_WHOLE = 5
_KINDS = (
    ("length", "m"), ("area", "m^2"), ("volume", "m^3"), ("second moment of area", "m^4"), ("mass", "kg"),
    ("time", "s"), ("force", "N"), ("stress or pressure", "Pa"), ("moment or work", "N*m"), ("power", "W"), ("speed", "m/s"),
    ("acceleration", "m/s^2"), ("frequency", "1/s"), ("density", "kg/m^3"), ("force on a length", "N/m"),
    ("flow", "m^3/s"), ("temperature", "K"), ("current", "A"), ("voltage", "V"), ("resistance", "ohm"),
)  # fmt: skip
_BASE_UNITS = ("m", "kg", "s", "A", "K", "mol")


def written(tree: Tree) -> str:
    """The text of an expression with no more brackets than it needs; `maths.syntax.parse` reads it back unchanged."""
    match tree:
        case Number(text=text):
            return text
        case Name(name=name):
            return name
        case Minus(of=of):
            return f"-{_bracketed(of, _MINUS)}"
        case Binary(op="**", left=left, right=right):
            return f"{_bracketed(left, _WHOLE)}**{_bracketed(right, _MINUS)}"
        case Binary(op=op, left=left, right=right):
            blank = " " if op in "+-" else ""
            return f"{_bracketed(left, _STRENGTH[op])}{blank}{op}{blank}{_bracketed(right, _STRENGTH[op] + 1)}"
        case Comparison(op=op, left=left, right=right):
            return f"{written(left)} {op} {written(right)}"
        case Call(function=function, arguments=arguments):
            return f"{function}({', '.join(written(a) for a in arguments)})"


def _bracketed(tree: Tree, at_least: int) -> str:
    text = written(tree)
    return text if _strength(tree) >= at_least else f"({text})"


def _strength(tree: Tree) -> int:
    match tree:
        case Minus():
            return _MINUS
        case Binary(op=op):
            return _STRENGTH[op]
        case Comparison():
            return 0
    return _WHOLE


def described(dimension: Dimension) -> str:
    """A dimension in words: `force (N)`, `a pure number`, or in base units (`kg*m/s^3`) where it has no common name."""
    if dimension.is_number:
        return "a pure number"
    for kind, unit_name in _KINDS:
        if unit(unit_name).dimension == dimension:
            return f"{kind} ({unit_name})"
    above = [_power(u, p) for u, p in zip(_BASE_UNITS, dimension.powers, strict=True) if p > 0]
    below = [_power(u, -p) for u, p in zip(_BASE_UNITS, dimension.powers, strict=True) if p < 0]
    bottom = "/(" + "*".join(below) + ")" if len(below) > 1 else "".join(f"/{b}" for b in below)
    return ("*".join(above) or "1") + bottom


def _power(unit_name: str, power: float) -> str:
    return unit_name if power == 1 else f"{unit_name}^{power:g}"
