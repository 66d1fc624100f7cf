"""Units that somebody forgets to convert: in the result, in one given, or in the calculator's angles."""

import ast
import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from witnessmark.strangers.arithmetic import Expression, both, call, name_of, names_alone, number, places_in, read
from witnessmark.strangers.papers import Asked, Sheet
from witnessmark.strangers.scales import LENGTH, scale
from witnessmark.strangers.working import Way

# What else one could have worked in, by the unit asked: not a power of ten away, so that the digits differ.
ELSEWHERE: Mapping[str, tuple[str, ...]] = {
    "deg": ("rad",), "rad": ("deg",), "MPa": ("psi", "ksi"), "N/mm^2": ("psi", "ksi"), "kPa": ("psi",),
    "bar": ("psi",), "mm": ("inch",), "m": ("ft",), "s": ("min", "h"), "min": ("s", "h"), "h": ("min", "s"),
    "day": ("h",), "kN": ("tf",), "N": ("kgf", "lbf"), "kg": ("lb",), "kW": ("hp",), "W": ("hp",),
    "1/min": ("1/s", "rad/s"), "rad/s": ("1/min",), "L/min": ("L/s",), "m/min": ("m/s",), "J": ("kWh",),
    "kJ": ("kWh",),
}  # fmt: skip
# Other units that are right, by the unit asked.
AS_GOOD: Mapping[str, tuple[str, ...]] = {
    "deg": ("rad",), "rad": ("deg",), "MPa": ("kPa", "N/mm^2", "bar", "ksi", "GPa"), "N/mm^2": ("MPa", "kPa"),
    "kPa": ("MPa", "bar", "psi"), "bar": ("MPa", "kPa", "psi"), "mm": ("cm", "m", "inch"), "m": ("mm", "cm", "ft"),
    "µm": ("mm",), "s": ("min",), "min": ("s", "h"), "h": ("min", "s"), "kN": ("N", "kgf"), "N": ("kN",),
    "kg": ("g", "tonne"), "kW": ("W", "hp"), "W": ("kW",), "mm^2": ("cm^2", "m^2"), "m^2": ("mm^2", "cm^2"),
    "N*m": ("kN*m", "N*mm"), "J": ("kJ",), "kJ": ("J", "MJ"), "cm^3": ("mm^3",), "mm^3": ("cm^3",), "A": ("mA",),
    "mA": ("A",), "V": ("mV",), "percent": ("number",), "GPa": ("MPa",), "L": ("m^3",), "g": ("kg",),
}  # fmt: skip
_TURNING = ("sin", "cos", "tan")
_TURNED = ("asin", "acos", "atan")


def unconverted(asked: Asked, right: Way, sheet: Sheet) -> Iterator[tuple[str, Way, float]]:
    """Ways with one unit not converted: what happened, the way, and a factor on the number typed in the unit asked."""
    for other in ELSEWHERE.get(asked.unit, ()):
        yield f"{other} typed as {asked.unit}", right, scale(asked.unit).size / scale(other).size
    used = names_alone(right.whole)
    for name, (digits, unit) in sheet.items():
        if name in used and not _is_ten(scale(unit).size) and not scale(unit).zero:
            yield f"{name} in {unit} taken as it is", replace(right, given={name: float(digits)}), 1.0
    if (tree := _in_the_other_angle(right.tree)) is not None:
        yield "calculator in radians", replace(right, tree=tree), 1.0


def prefixes(right: Way, sheet: Sheet) -> Iterator[tuple[str, Way]]:
    """Ways with one given taken in the wrong multiple of its unit: mm as m, m as mm, MPa as Pa."""
    used = names_alone(right.whole)
    for name, (digits, unit) in sheet.items():
        size = scale(unit).size
        if name in used and _is_ten(size) and unit not in ("", "number", "percent"):
            value = float(digits)
            if size != 1:
                yield f"{name} in {unit} taken as it is", replace(right, given={name: value})
            elif scale(unit).powers == LENGTH:
                yield f"{name} in {unit} taken for mm", replace(right, given={name: value / 1000})


def _is_ten(size: float) -> bool:
    power = math.log10(size)
    return abs(power - round(power)) < 1e-9


def _in_the_other_angle(tree: Expression) -> Expression | None:
    """The last step on a calculator that is set to radians while the angles are keyed in and read in degrees."""
    degrees = both(number(180), ast.Div(), read("pi"))
    for node, instead in places_in(tree):
        match node:
            case ast.Call(func=ast.Name(id=function), args=[argument]) if function in _TURNING:
                return instead(call(function, both(argument, ast.Mult(), degrees)))
            case ast.Call(func=ast.Name(id=function)) if function in _TURNED:
                return instead(both(node, ast.Div(), degrees))
    return None


def uses(tree: Expression, name: str) -> bool:
    """True where an expression has this name."""
    return any(name_of(node) == name for node, _ in places_in(tree))
