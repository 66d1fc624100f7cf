"""Units by our own table: the size of each in metres, kilograms, seconds, kelvins and amperes, and its dimensions.

Sizes: SI Brochure 9th ed. (2019); NIST SP 811 (2008) Appendix B.8 for those outside the SI. The other unit list of the
package is not asked, so that a wrong factor there shows.
"""

import ast
import math
from dataclasses import dataclass
from functools import cache

Powers = tuple[float, float, float, float, float]
NONE: Powers = (0, 0, 0, 0, 0)
LENGTH: Powers = (1, 0, 0, 0, 0)
MASS: Powers = (0, 1, 0, 0, 0)
TIME: Powers = (0, 0, 1, 0, 0)
FORCE: Powers = (1, 1, -2, 0, 0)
PRESSURE: Powers = (-1, 1, -2, 0, 0)
ENERGY: Powers = (2, 1, -2, 0, 0)
POWER: Powers = (2, 1, -3, 0, 0)
CURRENT: Powers = (0, 0, 0, 0, 1)
VOLTAGE: Powers = (2, 1, -3, 0, -1)
RESISTANCE: Powers = (2, 1, -3, 0, -2)
VOLUME: Powers = (3, 0, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Scale:
    """The size of a unit in the base units, its dimensions, and what a temperature scale adds (kelvins)."""

    size: float
    powers: Powers = NONE
    zero: float = 0.0

    def times(self, other: "Scale", power: float = 1) -> "Scale":
        """The product with a power of another unit."""
        mine = zip(self.powers, other.powers, strict=True)
        length, mass, time, warmth, current = (a + power * b for a, b in mine)
        return Scale(self.size * other.size**power, (length, mass, time, warmth, current))

    @property
    def in_millimetres(self) -> float:
        """Its size where one counts in millimetres, newtons and seconds (so in tonnes)."""
        return self.size * float(1000.0 ** (self.powers[0] - self.powers[1]))


_PREFIXES = {"n": 1e-9, "µ": 1e-6, "m": 1e-3, "c": 1e-2, "d": 1e-1, "h": 1e2, "k": 1e3, "M": 1e6, "G": 1e9}
_PREFIXED = {
    "m": Scale(1, LENGTH), "g": Scale(1e-3, MASS), "s": Scale(1, TIME), "A": Scale(1, CURRENT), "N": Scale(1, FORCE),
    "Pa": Scale(1, PRESSURE), "J": Scale(1, ENERGY), "W": Scale(1, POWER), "V": Scale(1, VOLTAGE),
    "ohm": Scale(1, RESISTANCE), "L": Scale(1e-3, VOLUME),
}  # fmt: skip
_PLAIN = {
    "": Scale(1), "number": Scale(1), "percent": Scale(0.01), "rad": Scale(1), "deg": Scale(math.pi / 180),
    "gon": Scale(math.pi / 200), "rev": Scale(2 * math.pi), "K": Scale(1, (0, 0, 0, 1, 0)),
    "degC": Scale(1, (0, 0, 0, 1, 0), 273.15), "delta_degC": Scale(1, (0, 0, 0, 1, 0)), "min": Scale(60, TIME),
    "h": Scale(3600, TIME), "day": Scale(86400, TIME), "week": Scale(604800, TIME), "year": Scale(31536000, TIME),
    "bar": Scale(1e5, PRESSURE),
    "psi": Scale(6894.757293168361, PRESSURE), "ksi": Scale(6894757.293168361, PRESSURE),
    "atm": Scale(101325, PRESSURE), "inch": Scale(0.0254, LENGTH), "ft": Scale(0.3048, LENGTH),
    "kgf": Scale(9.80665, FORCE), "tf": Scale(9806.65, FORCE), "lbf": Scale(4.4482216152605, FORCE),
    "tonne": Scale(1000, MASS), "lb": Scale(0.45359237, MASS), "hp": Scale(745.6998715822702, POWER),
    "milliohm": Scale(1e-3, RESISTANCE), "kWh": Scale(3.6e6, ENERGY), "strain": Scale(1), "dB": Scale(1),
    "microstrain": Scale(1e-6),
}  # fmt: skip


@cache
def scale(text: str) -> Scale:
    """The unit that a question writes: `N/mm^2`, `µm/(m*K)`, `1/min`; KeyError for one that is not in the table."""
    if text in _PLAIN:
        return _PLAIN[text]
    return _worked(ast.parse(text.replace("^", "**").replace("μ", "µ"), mode="eval").body)


def _worked(node: ast.expr) -> Scale:
    match node:
        case ast.Name(id=name):
            return _named(name.replace("μ", "µ"))
        case ast.Constant(value=int() | float() as value):
            return Scale(float(value))
        case ast.BinOp(left=left, op=ast.Mult(), right=right):
            return _worked(left).times(_worked(right))
        case ast.BinOp(left=left, op=ast.Div(), right=right):
            return _worked(left).times(_worked(right), -1)
        case ast.BinOp(left=left, op=ast.Pow(), right=ast.Constant(value=int() as power)):
            return Scale(1).times(_worked(left), power)
    raise KeyError(ast.dump(node))


def _named(name: str) -> Scale:
    if name in _PLAIN:
        return _PLAIN[name]
    if name in _PREFIXED:
        return _PREFIXED[name]
    first, rest = name[0], name[1:]
    found = _PREFIXED[rest]
    return Scale(_PREFIXES[first] * found.size, found.powers)


def to_base(number: float, unit: str) -> float:
    """A number in a unit, in base units."""
    found = scale(unit)
    return number * found.size + found.zero


def from_base(value: float, unit: str) -> float:
    """A value in base units as a number in a unit."""
    found = scale(unit)
    return (value - found.zero) / found.size
