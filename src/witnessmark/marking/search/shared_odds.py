"""The odds that several answers share one formula, and how often chance alone would make them seem to."""

import math

import numpy as np
import numpy.typing as npt

from witnessmark.marking.search.product_forms import COST_OF_STEP
from witnessmark.maths.compiled import Array

LEAST_STUDENTS = 3
LEAST_ODDS = 6.0
"""Natural logarithm of the odds that a formula must pass, prior included."""
POWER_SHARES = (0.25, 0.5, 0.25)
"""How numbers without a method, spread evenly over their logarithm a factor of ten each way, share powers of ten."""
Rows = npt.NDArray[np.intp]


def shared_odds(odds: Array, powers: Array, cost: float) -> tuple[int, Rows, float] | None:
    """The power of ten that most fits share, who has it, and the log odds; None where they are too few or too small.

    `odds` are those of each answer: from this formula, against from none. What share of the answers comes from the
    formula is not known beforehand, so every share counts alike (a uniform prior): of n answers k then cost
    log((n + 1) * (n over k)).
    """
    fits = odds > 0
    if fits.sum() < LEAST_STUDENTS:
        return None
    values, counts = np.unique(powers[fits], return_counts=True)
    power = int(values[counts.argmax()])
    mine = np.flatnonzero(fits & (powers == power))
    if len(mine) < LEAST_STUDENTS:
        return None
    chosen = math.log((len(odds) + 1) * math.comb(len(odds), len(mine)))
    total = float(np.log(odds[mine]).sum()) - chosen - cost - (COST_OF_STEP if power else 0.0)
    return (power, mine, total) if total >= LEAST_ODDS else None


def by_accident(mean: float, count: int) -> float:
    """How likely at least `count` accidental fits, of which `mean` are expected, have the same power of ten."""
    return sum(at_least(mean * share, count) for share in POWER_SHARES)


def at_least(mean: float, count: int) -> float:
    """How likely at least so many of many rare independent things come true, of which `mean` are expected (Poisson)."""
    term = math.exp(-mean + count * math.log(mean) - math.lgamma(count + 1)) if mean > 0 else 0.0
    total, k = 0.0, count
    while term > total * 1e-12 and k < count + 500:
        total += term
        k += 1
        term *= mean / k
    return min(total, 1.0)
