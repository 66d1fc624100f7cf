"""Factors that people forget or use upside down, by the unit of the answer.

Whoever works in one unit and writes another forgets the factor between the two. A factor that is nearly 1, as between
bar and atmosphere, is no hypothesis: it would explain any number near the right one.
"""

import math
from functools import lru_cache

from witnessmark.maths.printing.units import unit_words
from witnessmark.maths.quantities import unit

# What else people work in, by a unit of the same dimension, and how often beside the others (common practice, no
# source). Sizes: SI Brochure 9th ed. (2019) and NIST SP 811 (2008) Appendix B.8, through the unit list.
_ELSEWHERE: tuple[tuple[str, tuple[tuple[str, float], ...]], ...] = (
    ("deg", (("rad", 1.0), ("gon", 0.5), ("deg", 1.0))),
    ("Pa", (("psi", 1.0), ("ksi", 0.5))),
    ("m", (("inch", 1.0), ("ft", 0.7))),
    ("kg", (("lb", 1.0),)),
    ("N", (("kgf", 1.0), ("lbf", 0.7))),
    ("s", (("s", 1.0), ("min", 1.0), ("h", 1.0), ("day", 0.5))),
    ("m/s", (("m/s", 1.0), ("m/min", 1.0), ("km/h", 1.0), ("knot", 0.5))),
    ("m^3/s", (("L/s", 1.0), ("L/min", 1.0), ("m^3/h", 0.5))),
    ("1/s", (("1/s", 1.0), ("1/min", 1.0), ("rpm", 1.0))),
    ("W", (("hp", 1.0),)),
    ("J", (("kW*h", 1.0),)),
)
# Between a mass in kilograms or tonnes and its weight in newtons or kilonewtons, 9.81 is as usual as 9.80665 (common
# practice, no source).
_OF_WEIGHT = (9.81, 9.80665)
_TONS = (("ton_us", "short ton-force"), ("ton_uk", "long ton-force"))
_SELDOM = 0.2
UPSIDE_DOWN = 0.3
"""How much seldomer a factor is used the wrong way round than forgotten."""
_NEARLY_ONE = 0.2  # natural logarithm
_WHOLE_POWER = 1e-6


@lru_cache(maxsize=256)
def factors_for(unit_name: str) -> tuple[tuple[str, float, float], ...]:
    """Name, factor and weight of each conversion that can have gone wrong in an answer asked in this unit; of equal
    factors the likelier."""
    asked = unit(unit_name)
    found: dict[str, tuple[str, float, float]] = {}
    for name, factor, weight in _between(unit_name):
        for value, share in ((factor, weight), (1 / factor, weight * UPSIDE_DOWN)):
            key = f"{value:.6g}"
            if _counts(value) and (key not in found or found[key][2] < share):
                found[key] = (name, value, share)
    if asked.dimension == unit("N").dimension:
        for g in _OF_WEIGHT:
            found |= {f"{v:.6g}": ("kilogram-force and newton", v, 1.0) for v in (g, 1 / g)}
        for ton, name in _TONS:
            weighs = unit(ton).scale * _OF_WEIGHT[1] / asked.scale
            words = f"{name} and {unit_words(unit_name, many=False)}"
            found |= {f"{v:.6g}": (words, v, _SELDOM) for v in (weighs, 1 / weighs)}
    return tuple(found.values())


def _between(unit_name: str) -> list[tuple[str, float, float]]:
    asked = unit(unit_name)
    found: list[tuple[str, float, float]] = []
    for of, others in _ELSEWHERE:
        if unit(of).dimension == asked.dimension and (not asked.dimension.is_number or unit_name in _ANGLES):
            for other, weight in others:
                name = f"{unit_words(other, many=False)} and {unit_words(unit_name, many=False)}"
                found.append((name, asked.scale / unit(other).scale, weight))
    return found


_ANGLES = ("deg", "rad", "gon", "rev")


def _counts(factor: float) -> bool:
    """True of a factor that is neither a power of ten nor nearly 1."""
    tens = math.log10(factor)
    return abs(tens - round(tens)) > _WHOLE_POWER and abs(math.log(factor)) > _NEARLY_ONE
