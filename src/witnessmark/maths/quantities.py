"""The only door to pint: units of our own short list, dimensions, conversion to and from SI.

What is asked of units again and again stands in `known_units.py`, as pint said it, so that pint is loaded only where
somebody wants a pint.Quantity or writes a unit that is not there.
"""

import os
import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from witnessmark.maths.known_units import KNOWN_UNITS
from witnessmark.words.errors import UnitError

if TYPE_CHECKING:
    import pint

UNITS_FILE = Path(__file__).with_name("units.txt")
# What pint raises beside its own errors over a text that is no unit; its reader of text has bare assertions (on ¼).
UNREADABLE = (AttributeError, ValueError, TypeError, KeyError, SyntaxError, AssertionError)
LETTERS = re.compile(r"[^\W\d_]+")
BASE = ("[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]")


@dataclass(frozen=True, slots=True)
class Dimension:
    """Exponents of length, mass, time, current, temperature and amount of substance."""

    powers: tuple[float, ...] = (0.0,) * len(BASE)

    def __mul__(self, other: "Dimension") -> "Dimension":
        return Dimension(tuple(_clean(a + b) for a, b in zip(self.powers, other.powers, strict=True)))

    def __truediv__(self, other: "Dimension") -> "Dimension":
        return Dimension(tuple(_clean(a - b) for a, b in zip(self.powers, other.powers, strict=True)))

    def __pow__(self, exponent: float) -> "Dimension":
        return Dimension(tuple(_clean(a * exponent) for a in self.powers))

    @property
    def is_number(self) -> bool:
        """True of a pure number, an angle, a strain or a percentage."""
        return not any(self.powers)


NUMBER = Dimension()


def _clean(power: float) -> float:
    return round(power, 9) + 0.0


@cache
def registry() -> "pint.UnitRegistry[Any]":
    """The registry of our own unit file; made once, at the first use."""
    import pint

    ureg: pint.UnitRegistry[Any] = pint.UnitRegistry(os.fspath(UNITS_FILE), autoconvert_offset_to_baseunit=True)
    ureg.formatter.default_format = "~"
    return ureg


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of ours by its pint name: SI value = number * `scale` + `offset`; its dimension."""

    name: str
    scale: float
    offset: float
    dimension: Dimension


@cache
def unit(name: str) -> Unit:
    """The unit of this text (`kN`, `N/mm^2`, `kg/m^3`, `` for a pure number); UnitError when it is not one of ours.

    Only authors' unit texts and our own reader's whitelist come here, never a student's text.
    """
    known = KNOWN_UNITS.get(name)
    if known is None:
        return unit_by_pint(name)
    scale, offset, powers = known
    return Unit(name, scale, offset, Dimension(tuple(map(float, powers))))


def unit_by_pint(name: str) -> Unit:
    """The unit of this text as pint reads it; UnitError when it is not one of ours."""
    from pint.errors import PintError

    ureg = registry()
    try:
        parsed = ureg.Unit(name) if name else ureg.dimensionless
        zero, one = (ureg.Quantity(x, parsed).to_base_units() for x in (0.0, 1.0))
        plural = next(filter(_is_plural_sign, LETTERS.findall(name)), "")
    except (PintError, *UNREADABLE) as error:
        raise UnitError(f"{name!r} is not a unit of the unit list ({error})") from None
    if plural:
        raise UnitError(f"{name!r}: a sign of a unit has no plural; pascal seconds are Pa*s")
    dimension = _dimension(parsed)
    to_kilograms = 1000.0 ** -dimension.powers[BASE.index("[mass]")]  # the base of mass in the unit file is the gram
    offset = float(zero.magnitude) * to_kilograms
    return Unit(name, float(one.magnitude) * to_kilograms - offset, offset, dimension)


def _is_plural_sign(letters: str) -> bool:
    """True of `MPas`: pint takes it for megapascals, everybody else for megapascal seconds."""
    signs = {registry().get_symbol(prefix + name) for prefix, name, _ in registry().parse_unit_name(letters)}
    return letters.endswith("s") and letters[:-1] in signs and not letters.islower()


def _dimension(parsed: Any) -> Dimension:
    powers = dict(parsed.dimensionality)
    unknown = set(powers) - set(BASE)
    if unknown:
        raise UnitError(f"the dimension {', '.join(sorted(unknown))} is not one of ours")
    return Dimension(tuple(_clean(float(powers.get(b, 0.0))) for b in BASE))


def quantity(number: float, unit_name: str) -> Any:
    """A pint.Quantity of our registry."""
    ureg = registry()
    return ureg.Quantity(number, ureg.Unit(unit_name) if unit_name else ureg.dimensionless)


def to_si(number: float, unit_name: str) -> float:
    """The SI value (metre, kilogram, second, ampere, kelvin, radian) of a number in a unit."""
    u = unit(unit_name)
    return number * u.scale + u.offset


def from_si(value: float, unit_name: str) -> float:
    """The number in a unit of an SI value; the inverse of `to_si`."""
    u = unit(unit_name)
    return (value - u.offset) / u.scale


def is_quantity(value: object) -> bool:
    """True of a pint.Quantity of any registry."""
    return hasattr(value, "magnitude") and hasattr(value, "units")


def unit_name_of(given: Any) -> str:
    """The unit of a pint.Quantity (of any registry) as text that `unit` reads, unless it is none of ours."""
    name = f"{given.units:C}"
    return "" if name == "dimensionless" else name


def read_author_quantity(text: str) -> tuple[Decimal, str]:
    """Number and unit of an author's text such as `300 MPa` or `20`; UnitError when it is not of that form."""
    number, _, unit_name = text.strip().partition(" ")
    try:
        exact = Decimal(number)
    except InvalidOperation:
        raise UnitError(f"{text!r} is not a number and a unit, such as '300 MPa'") from None
    unit_name = unit_name.strip()
    unit(unit_name)
    return exact, unit_name
