"""The dimension of an expression, checked operation by operation, so that an author's slip shows when a bank loads."""

from collections.abc import Mapping

from witnessmark.maths.many import OF_MANY, SLOPE, series_of, takes
from witnessmark.maths.quantities import NUMBER, Dimension, unit
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree
from witnessmark.words.errors import WitnessMarkError

_KINDS = (
    ("length", "m"), ("area", "m^2"), ("volume", "m^3"), ("second moment of area", "m^4"), ("mass", "kg"),
    ("time", "s"), ("force", "N"), ("stress or pressure", "Pa"), ("moment or work", "N*m"), ("power", "W"),
    ("speed", "m/s"), ("acceleration", "m/s^2"), ("frequency", "1/s"), ("density", "kg/m^3"), ("flow", "m^3/s"),
    ("force on a length", "N/m"), ("temperature", "K"), ("current", "A"), ("voltage", "V"), ("resistance", "ohm"),
)  # fmt: skip
_BASE_UNITS = ("m", "kg", "s", "A", "K", "mol")


class DimensionError(WitnessMarkError):
    """Raised when an expression adds or compares unlike things; `tree` is the smallest expression at fault."""

    def __init__(self, message: str, tree: Tree) -> None:
        self.message, self.tree = message, tree
        super().__init__(message)


def dimension_of(tree: Tree, names: Mapping[str, Dimension]) -> Dimension:
    """The dimension of an expression whose names have these dimensions; raises DimensionError, or KeyError for a name.

    A comparison has the dimension of its sides. Angles, strains and percentages are pure numbers.
    """
    match tree:
        case Number():
            return NUMBER
        case Name(name=name):
            return names[name]
        case Minus(of=of):
            return dimension_of(of, names)
        case Binary(op="*", left=left, right=right):
            return dimension_of(left, names) * dimension_of(right, names)
        case Binary(op="/", left=left, right=right):
            return dimension_of(left, names) / dimension_of(right, names)
        case Binary(op="**", left=left, right=right):
            return _power(tree, left, right, names)
        case Binary(left=left, right=right) | Comparison(left=left, right=right):
            return _alike(tree, left, right, names)
        case Call(function="sqrt", arguments=(of,)):
            return dimension_of(of, names) ** 0.5
        case Call(function="abs", arguments=(of,)):
            return dimension_of(of, names)
        case Call(function="min" | "max", arguments=(left, right)):
            return _alike(tree, left, right, names)
        case Call(function="atan2", arguments=(left, right)):
            _alike(tree, left, right, names)
            return NUMBER
        case Call(function=function) if function in OF_MANY:
            return _of_many(tree, names)
        case Call(function=function, arguments=(of,)):
            if not dimension_of(of, names).is_number:
                raise DimensionError(f"a pure number or an angle in {function}", tree)
            return NUMBER
    raise TypeError(f"not an expression: {tree!r}")


def _alike(tree: Tree, left: Tree, right: Tree, names: Mapping[str, Dimension]) -> Dimension:
    first, second = dimension_of(left, names), dimension_of(right, names)
    if first != second:
        raise DimensionError("the same dimension on both sides", tree)
    return first


def _of_many(tree: Call, names: Mapping[str, Dimension]) -> Dimension:
    """That of the values, all alike; of a slope that of its y over that of its x."""
    if not takes(tree.function, len(tree.arguments)):
        wanted = "as many x as y, two at least," if tree.function == SLOPE else "two values at least"
        raise DimensionError(f"{wanted} in {tree.function}", tree)
    kinds = []
    for part in series_of(tree.function, tree.arguments):
        found = {dimension_of(one, names) for one in part}
        if len(found) > 1:
            raise DimensionError(f"values of one dimension in {tree.function}", tree)
        kinds.append(found.pop())
    return kinds[1] / kinds[0] if tree.function == SLOPE else kinds[0]


def _power(tree: Tree, base: Tree, exponent: Tree, names: Mapping[str, Dimension]) -> Dimension:
    if not dimension_of(exponent, names).is_number:
        raise DimensionError("a pure number as the exponent", tree)
    below = dimension_of(base, names)
    if below.is_number:
        return NUMBER
    match exponent:
        case Number():
            return below**exponent.value
        case Minus(of=Number() as number):
            return below**-number.value
        case Binary(op="/", left=Number() as top, right=Number() as bottom) if bottom.value:
            return below ** (top.value / bottom.value)
    raise DimensionError("a plain number as the exponent of a quantity with a dimension", tree)


def described(dimension: Dimension) -> str:
    """A dimension in words: `force (N)`, `a pure number`, or in base units (`kg*m/s^3`) where it has no common name."""
    if dimension.is_number:
        return "a pure number"
    for kind, unit_name in _KINDS:
        if unit(unit_name).dimension == dimension:
            return f"{kind} ({unit_name})"
    above = [_with_power(u, p) for u, p in zip(_BASE_UNITS, dimension.powers, strict=True) if p > 0]
    below = [_with_power(u, -p) for u, p in zip(_BASE_UNITS, dimension.powers, strict=True) if p < 0]
    bottom = "/(" + "*".join(below) + ")" if len(below) > 1 else "".join(f"/{b}" for b in below)
    return ("*".join(above) or "1") + bottom


def _with_power(unit_name: str, power: float) -> str:
    return unit_name if power == 1 else f"{unit_name}^{power:g}"
