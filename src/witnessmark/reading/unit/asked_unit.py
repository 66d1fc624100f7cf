"""The unit that was asked, and whether a typed one is of the same kind.

Plane angle is no dimension in the SI, but a percentage is not an answer to "what angle", nor hertz the same number as
turns a minute; so the exponent of angle is kept beside the dimension.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from witnessmark.maths.quantities import unit

Vector = tuple[float, ...]
ANGLES = frozenset({"rad", "deg", "rev", "rpm", "arcminute", "arcsecond", "gon", "degree", "radian", "revolution"})
NUMBER: Vector = unit("").dimension.powers
LENGTH: Vector = unit("m").dimension.powers
FORCE: Vector = unit("N").dimension.powers
PRESSURE: Vector = unit("Pa").dimension.powers
PER_TIME: Vector = unit("1/s").dimension.powers
TEMPERATURE: Vector = unit("K").dimension.powers
TOKEN = re.compile(r"[^\W\d_]\w*|\*\*|[\^*/()-]|\d+")


@dataclass(frozen=True, slots=True)
class Measure:
    """The scale of a unit (exact: the decimal of the unit list), its offset, its dimension, its exponent of angle."""

    scale: Fraction
    offset: Fraction
    dimension: Vector
    angle: int


@cache
def measure(name: str) -> Measure:
    """The measure of a single unit of maths/units.txt."""
    u = unit(name)
    scale = unit("delta_degF").scale if name == "degF" else u.scale
    return Measure(Fraction(repr(scale)), Fraction(repr(u.offset)), u.dimension.powers, int(is_angle(name)))


def is_angle(name: str) -> bool:
    """True of a unit of plane angle, or of turns a minute, with or without a prefix."""
    return name in ANGLES or (name[:1] in {"m", "µ"} and name[1:] in ANGLES)


@dataclass(frozen=True, slots=True)
class AskedUnit:
    """The unit that was asked, and what of it decides a reading."""

    name: str
    scale: float
    offset: float
    dimension: Vector
    angle: int

    @property
    def is_number(self) -> bool:
        """A pure number that is not an angle."""
        return self.dimension == NUMBER and not self.angle

    @property
    def takes_bare_numbers(self) -> bool:
        """True where a number without a unit lacks nothing."""
        return self.is_number and self.scale == 1

    def is_like(self, dimension: Vector, angle: int, units: frozenset[str]) -> bool:
        """True when a unit of this dimension and exponent of angle, made of `units`, is of the kind that was asked.

        Radians may be left out or put in, as the SI allows (SI Brochure, 9th ed., 2.3.3), other angles may not.
        """
        if dimension != self.dimension:
            return False
        if angle == self.angle:
            return True
        if self.angle == 0:
            return {u for u in units if is_angle(u)} == {"rad"}
        return dimension != NUMBER and angle == 0 and "rad" in self.name


@cache
def asked_unit(name: str) -> AskedUnit:
    """The asked unit by its name in maths/units.txt; UnitError when it is none."""
    u = unit(name)
    return AskedUnit(name, u.scale, u.offset, u.dimension.powers, _angle_of(name))


def _angle_of(name: str) -> int:
    """The exponent of plane angle in an author's unit text (`N*m/rad`: -1)."""
    angle, sign, depth = 0, 1, 0
    for piece in TOKEN.findall(name):
        if piece in {"(", ")"}:
            depth += 1 if piece == "(" else -1
        elif piece == "/":
            sign = -1
        elif piece == "*" and depth == 0:
            sign = 1
        elif is_angle(piece):
            angle += sign
    return angle
