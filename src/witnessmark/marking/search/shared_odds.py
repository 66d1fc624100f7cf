"""The odds that several answers share one formula, against chance."""

import numpy as np
import numpy.typing as npt

from witnessmark.maths.compiled import Array

LEAST_STUDENTS = 3
LEAST_ODDS = 4.0
"""Natural logarithm of the odds that a formula must pass, prior included."""
COST_OF_RIGHT_SIZE, COST_OF_POWER = 0.2, 3.5
"""What it costs in log odds that all who fit have no power of ten between, or one that is the same (eight of them)."""
DENSITY_NEAR, DENSITY_BEYOND = 0.5, 0.15
"""How dense (over the common logarithm) such numbers lie within a factor of ten of what is right, and beyond."""
ROUNDING = 1e-9
Rows = npt.NDArray[np.intp]


def density_of_none(si: Array, right: Array) -> Array:
    """How dense numbers without a method lie where these answers are, over their common logarithm."""
    with np.errstate(all="ignore"):
        near = np.abs(np.log10(np.abs(si / right))) <= 1
    return np.asarray(np.where(near, DENSITY_NEAR, DENSITY_BEYOND))


def of_chosen(fitting: Rows | int, beside: Array | float) -> Array:
    """What it costs in log odds to say which answers share a formula, every share t being as likely.

    Of answers that are not explained k fit and m do not: the integral of t^k (1 - t)^m is 1 / ((k + m + 1) (k + m over
    k)). An answer that is explained but for a small part counts among the m by that part; m is rounded up.
    """
    k, m = np.asarray(fitting, np.intp), np.ceil(np.asarray(beside) - ROUNDING).astype(np.intp)
    logs = np.log(np.arange(1, int((k + m).max(initial=0)) + 2))
    factorials = np.concatenate([[0.0], np.cumsum(logs)])
    cost: Array = factorials[k + m + 1] - factorials[k] - factorials[m]
    return cost


def shared_odds(odds: Array, powers: Array, cost: float, still: Array) -> tuple[int, Rows, float] | None:
    """The power of ten that most fits share, who has it, and the log odds; None where they are too few or too small.

    `odds` are those of each answer: from this formula, against from none, and an answer fits where they are more than
    one; `still` is how far each is from being explained otherwise.
    """
    fits = odds > 1
    if fits.sum() < LEAST_STUDENTS:
        return None
    values, counts = np.unique(powers[fits], return_counts=True)
    power = int(values[counts.argmax()])
    mine = np.flatnonzero(fits & (powers == power))
    if len(mine) < LEAST_STUDENTS:
        return None
    chosen = float(of_chosen(len(mine), float(still.sum() - still[mine].sum())))
    of_size = COST_OF_POWER if power else COST_OF_RIGHT_SIZE
    total = float(np.log(odds[mine]).sum()) - chosen - cost - of_size
    return (power, mine, total) if total >= LEAST_ODDS else None
