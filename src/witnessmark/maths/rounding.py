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
ABOVE = np.concatenate([np.ones(MOST_TENS), TENS])  # ten to the place, where that is positive; from place -308
BELOW = ABOVE[::-1]  # ten to less the place, where that is negative: only whole powers are exact
FLOAT_ROOM = 1e-9  # relative: nearer than this two numbers are the same
TIE = 1e-11  # relative: lifts a decimal tie that binary floats hold a hair below
MOST_LIFT = 0.005  # and at most by so much of the last figure, which is more than a hair where figures are many


def to_figures(x: Any, figures: Any) -> Array:
    """Each x rounded to that many significant figures, elementwise; zero and non-finite values stay, and so does x
    where as many figures are asked as a float holds."""
    x = np.asarray(x, dtype=np.float64)
    with np.errstate(all="ignore"):
        size = np.abs(x)
        exponent = np.floor(np.log10(size))
        counts = np.isfinite(exponent) & (np.asarray(figures) < FLOAT_FIGURES)
        up, down = _powers(np.where(counts, np.asarray(figures) - 1 - exponent, 0.0))
        units = size / down * up
        rounded = np.floor(units + np.minimum(units * TIE, MOST_LIFT) + 0.5) / up * down
        kept: Array = np.where(counts, np.copysign(rounded, x), x)
        return kept


def half_unit(x: Any, figures: Any) -> Array:
    """Half a unit of the last of so many significant figures of x; 0 for 0."""
    x = np.abs(np.asarray(x, dtype=np.float64))
    with np.errstate(all="ignore"):
        exponent = np.floor(np.log10(x))
        counts = np.isfinite(exponent)
        up, down = _powers(np.where(counts, exponent + 1 - np.asarray(figures), 0.0))
        return np.where(counts, 0.5 * up / down, 0.0)


def rounding_room(x: Any, figures: Any) -> tuple[Array, Array]:
    """Between which values, both included, a number lies that `to_figures` makes x; x itself has those figures.

    Below a power of ten the last figure is worth a tenth of what it is above.
    """
    x = np.asarray(x, dtype=np.float64)
    with np.errstate(all="ignore"):
        size, half = np.abs(x), half_unit(x, figures)
        exponent = np.floor(np.log10(size))
        up, down = _powers(np.where(np.isfinite(exponent), exponent, 0.0))
        first = np.abs(size / up * down - 1) < TIE
        least = size * FLOAT_ROOM
        inner = (size - np.maximum(np.where(first, half / 10, half), least)) * (1 - TIE)
        outer = (size + np.maximum(half, least)) * (1 - TIE)
        return np.where(x < 0, -outer, inner), np.where(x < 0, -inner, outer)


def _powers(place: Array) -> tuple[Array, Array]:
    """Ten to the place as a quotient of two whole powers, which are exact to 10^22."""
    index = np.clip(place, -MOST_TENS, MOST_TENS).astype(np.intp) + MOST_TENS
    return ABOVE[index], BELOW[index]


def decimal_to_figures(x: Decimal | float, figures: int) -> Decimal:
    """One value rounded to significant figures, exactly (half up on its decimal text)."""
    exact = x if isinstance(x, Decimal) else Decimal(repr(float(x)))
    if not exact.is_finite() or exact == 0:
        return exact
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() + 1 - figures), rounding=ROUND_HALF_UP)


def to_division(x: Any, division: float) -> Array:
    """Each x as an instrument of this division reads it: the nearest multiple, ties away from zero."""
    counts = np.asarray(x, dtype=np.float64) / division
    return np.asarray(np.copysign(np.floor(np.abs(counts) * (1 + TIE) + 0.5), counts) * division)


def decimal_to_division(x: Decimal, division: Decimal) -> Decimal:
    """The same of an exact number; it is written to the last place of the division."""
    return (x / division).quantize(Decimal(1), rounding=ROUND_HALF_UP) * division
