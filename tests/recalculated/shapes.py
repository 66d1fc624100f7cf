"""Areas that every trade knows, in the units of their lengths squared."""

import math


def circle(d: float) -> float:
    """The area of a circle of diameter d."""
    return math.pi * d * d / 4


def ring(outside: float, inside: float) -> float:
    """The area between two circles of these diameters."""
    return circle(outside) - circle(inside)
