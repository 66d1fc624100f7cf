"""How far the total of a task can be trusted: Cronbach's alpha with its interval, and the standard error of a mark."""

import math
from dataclasses import dataclass

import numpy as np

from witnessmark.maths.probability import f_quantile
from witnessmark.review.statistics.shares import LEVEL, Interval
from witnessmark.review.statistics.table import MarkTable

FEWEST_PARTS, FEWEST_STUDENTS = 2, 3


@dataclass(frozen=True, slots=True)
class Reliability:
    """Alpha of a table with so many students and parts, and its interval; `without` each part; the standard error of a
    mark, in marks. `alpha` may be less than 0."""

    students: int
    parts: int
    alpha: float
    interval: Interval
    without: tuple[float | None, ...]
    standard_error: float


def reliability(table: MarkTable, level: float = LEVEL) -> Reliability | None:
    """The reliability of the totals over the students of whom every part is marked.

    None below three students or two parts, or where all totals are alike. All variances have n - 1 below the line.
    """
    whole = table.whole
    found = alpha(whole)
    if found is None:
        return None
    without = tuple(alpha(whole.without(part)) for part in range(whole.parts))
    error = float(whole.marks.sum(axis=1).std(ddof=1)) * math.sqrt(max(0.0, 1 - found))
    return Reliability(
        whole.students, whole.parts, found, alpha_interval(found, whole.students, whole.parts, level), without, error
    )


def alpha(table: MarkTable) -> float | None:
    """L. J. Cronbach's alpha (1951), Psychometrika 16, 297-334; None where it cannot be worked out."""
    n, k = table.marks.shape
    if n < FEWEST_STUDENTS or k < FEWEST_PARTS:
        return None
    total = float(table.marks.sum(axis=1).var(ddof=1))
    return alpha_of(k, float(table.marks.var(axis=0, ddof=1).sum()), total) if total > 0 else None


def alpha_of(parts: int, sum_of_variances: float, variance_of_totals: float) -> float:
    """Alpha from the sum of the variances of the parts and the variance of the totals."""
    return parts / (parts - 1) * (1 - sum_of_variances / variance_of_totals)


def alpha_interval(value: float, students: int, parts: int, level: float = LEVEL) -> Interval:
    """L. S. Feldt's interval (1965), Psychometrika 30, 357-370: (1 - alpha) over its true value follows F."""
    above, below = students - 1, (students - 1) * (parts - 1)
    tail = (1 - level) / 2
    low = 1 - (1 - value) * f_quantile(1 - tail, above, below)
    high = 1 - (1 - value) * f_quantile(tail, above, below)
    return Interval(low, high, level)


def spread_of(numbers: tuple[float, ...]) -> float:
    """The standard deviation of a sample, n - 1 below the line; nan below two."""
    return float(np.std(numbers, ddof=1)) if len(numbers) > 1 else math.nan
