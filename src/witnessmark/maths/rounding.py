"""Rounding to significant figures, for arrays and for single values.

Ties go away from zero, as calculators and school rules do; ISO 80000-1 Annex B rule B. Half to even differs on exact
ties only, and both are accepted by the envelope (half a unit of the last figure, both ends included).
"""

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array

FLOAT_FIGURES = 15
MOST_TENS = 308
TENS = 10.0 ** np.arange(MOST_TENS + 1)
TIE = 1e-11  # relative: lifts a decimal tie that binary floats hold a hair below


def to_figures(x: Any, figures: Any) -> Array:
    """Each x rounded to that many significant figures, elementwise; zero and non-finite values stay, and so does x
    where as many figures are asked as a float holds."""
    x = np.asarray(x, dtype=np.float64)
    with np.errstate(all="ignore"):
        size = np.abs(x)
        exponent = np.floor(np.log10(size))
        counts = np.isfinite(exponent) & (np.asarray(figures) < FLOAT_FIGURES)
        place = np.where(counts, np.asarray(figures) - 1 - exponent, 0.0).astype(np.intp)
        up, down = TENS[np.clip(place, 0, MOST_TENS)], TENS[np.clip(-place, 0, MOST_TENS)]
        rounded = np.floor(size / down * up * (1 + TIE) + 0.5) / up * down
        kept: Array = np.where(counts, np.copysign(rounded, x), x)
        return kept


def half_unit(x: Any, figures: Any) -> Array:
    """Half a unit of the last of so many significant figures of x; 0 for 0."""
    x = np.abs(np.asarray(x, dtype=np.float64))
    with np.errstate(all="ignore"):
        exponent = np.floor(np.log10(x))
        counts = np.isfinite(exponent)
        place = np.where(counts, exponent + 1 - np.asarray(figures), 0.0).astype(np.intp)
        up, down = TENS[np.clip(place, 0, MOST_TENS)], TENS[np.clip(-place, 0, MOST_TENS)]
        return np.where(counts, 0.5 * up / down, 0.0)


def decimal_to_figures(x: Decimal | float, figures: int) -> Decimal:
    """One value rounded to significant figures, exactly (half up on its decimal text)."""
    exact = x if isinstance(x, Decimal) else Decimal(repr(float(x)))
    if not exact.is_finite() or exact == 0:
        return exact
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() + 1 - figures), rounding=ROUND_HALF_UP)
