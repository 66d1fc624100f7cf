"""Areas that every trade knows, in the units of their lengths squared; the next size of a list."""

import math


def circle(d: float) -> float:
    """The area of a circle of diameter d."""
    return math.pi * d * d / 4


def ring(outside: float, inside: float) -> float:
    """The area between two circles of these diameters."""
    return circle(outside) - circle(inside)


def next_up(sizes: dict[str, float], value: float) -> str:
    """The name of the smallest of these sizes that is not less than a value."""
    return min((name for name, size in sizes.items() if size >= value), key=sizes.__getitem__)


def next_down(sizes: dict[str, float], value: float) -> str:
    """The name of the largest of these sizes that is not more than a value."""
    return max((name for name, size in sizes.items() if size <= value), key=sizes.__getitem__)
