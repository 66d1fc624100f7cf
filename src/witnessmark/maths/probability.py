"""Quantiles that intervals need: of the normal curve, and of F by the incomplete beta function."""

from functools import lru_cache
from statistics import NormalDist
from typing import Any

from mpmath.ctx_mp import MPContext

from witnessmark.words.checks import expect

FIGURES = 20
HALVINGS = 50
MOST_STEPS = 100_000
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
        low, high = (middle, high) if _beta_below(upper / 2, lower / 2, middle) < share else (low, middle)
    return float(low * lower / (upper * (1 - low)))


def _beta_below(a: float, b: float, x: Any) -> Any:
    """The share of the beta distribution of a and b below x: by its continued fraction (NIST DLMF 8.17.22), which comes
    to its end where the series of a thousand degrees of freedom does not; from the side where it is short (8.17.4)."""
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta_below(b, a, 1 - x)
    log = _CONTEXT.log
    whole = _CONTEXT.loggamma(a + b) - _CONTEXT.loggamma(a) - _CONTEXT.loggamma(b)
    return _CONTEXT.exp(whole + a * log(x) + b * log(1 - x)) * _fraction(a, b, x) / a


def _fraction(a: float, b: float, x: Any) -> Any:
    """The continued fraction 1 / (1 + d1 / (1 + d2 / ...)), worked from its front (the method of Lentz)."""
    above, below, value = _CONTEXT.mpf(1), _CONTEXT.mpf(1), _CONTEXT.mpf(1)
    for step in range(1, MOST_STEPS):
        m = step // 2
        if step % 2:
            d = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            d = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        above, below = (1 + d / above if step > 1 else above), 1 / (1 + d * below)
        value *= above * below
        if abs(above * below - 1) < _CONTEXT.eps:
            return value
    raise ArithmeticError(f"no share of the beta distribution of {a} and {b} below {x}")
