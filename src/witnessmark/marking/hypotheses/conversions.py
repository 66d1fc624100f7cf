"""Factors that people forget or use upside down, by the dimension of the answer; each is tried both ways round."""

import math

from witnessmark.maths.quantities import Dimension, unit

# (name, factor, the unit whose dimension it touches). Sources: SI Brochure 9th ed. (2019) and NIST SP 811 (2008)
# Appendix B.8; 9.81 and 3.6 are common practice, no source.
_FACTORS: tuple[tuple[str, float, str], ...] = (
    ("kilogram-force and newton", 9.81, "N"),
    ("kilogram-force and newton", 9.80665, "N"),
    ("kilogram and kilonewton", 0.00980665, "N"),
    ("short ton-force and kilonewton", 8.896443, "N"),
    ("long ton-force and kilonewton", 9.964016, "N"),
    ("bar and atmosphere", 1.01325, "Pa"),
    ("psi and kilopascal", 6.894757, "Pa"),
    ("inch and millimetre", 25.4, "m"),
    ("foot and metre", 0.3048, "m"),
    ("degree and radian", 180 / math.pi, ""),
    ("minute and second", 60.0, "s"),
    ("hour and second", 3600.0, "s"),
    ("kilometre per hour and metre per second", 3.6, "m/s"),
    ("knot and metre per second", 0.514444, "m/s"),
    ("revolution per minute and radian per second", math.pi / 30, "1/s"),
    ("horsepower and kilowatt", 0.7457, "W"),
)


def factors_for(dimension: Dimension) -> tuple[tuple[str, float], ...]:
    """Name and factor of each conversion that can have gone wrong in an answer of this dimension, both ways round."""
    found: dict[str, tuple[str, float]] = {}
    for name, factor, of in _FACTORS:
        if _touches(dimension, of):
            found[f"{factor:.6g}"] = (name, factor)
            found[f"{1 / factor:.6g}"] = (name, 1 / factor)
    return tuple(found.values())


def _touches(dimension: Dimension, of: str) -> bool:
    if of == "s":
        return dimension in (unit("s").dimension, unit("m^3/s").dimension, unit("m/s").dimension, unit("W").dimension)
    return dimension == unit(of).dimension
