"""Quantiles that intervals need: of the normal curve, and of F by the incomplete beta function."""

from functools import lru_cache
from statistics import NormalDist

from mpmath.ctx_mp import MPContext

from witnessmark.words.checks import expect

FIGURES = 20
HALVINGS = 50
_CONTEXT = MPContext()
_CONTEXT.dps = FIGURES


def normal_quantile(share: float) -> float:
    """The value below which this share (0 to 1, both left out) of a normal curve of mean 0 and spread 1 lies."""
    return NormalDist().inv_cdf(share)


@lru_cache(maxsize=1024)
def f_quantile(share: float, upper: float, lower: float) -> float:
    """The value below which this share of Fisher's F with so many degrees of freedom (above, below the line) lies.

    F is x·lower / (upper·(1 - x)) where x follows the beta distribution with upper/2 and lower/2; x is found by halves.
    ValueError for a share outside 0 to 1 or degrees of freedom that are not more than 0.
    """
    expect(0 < share < 1, "share", "a number between 0 and 1", share)
    expect(upper > 0 and lower > 0, "degrees of freedom", "more than 0", (upper, lower))
    low, high = _CONTEXT.mpf(0), _CONTEXT.mpf(1)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        below = _CONTEXT.betainc(upper / 2, lower / 2, 0, middle, regularized=True)
        low, high = (middle, high) if below < share else (low, middle)
    return float(low * lower / (upper * (1 - low)))
