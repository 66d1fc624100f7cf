"""How far two people who marked the same answers, the second not knowing the first's marks, agree."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.maths.probability import normal_quantile
from witnessmark.review.statistics.shares import LEVEL, Interval, Share
from witnessmark.words.checks import expect


@dataclass(frozen=True, slots=True)
class Agreement:
    """Of so many answers, how many got the same marks; kappa with quadratic weights (1: no difference, 0: what chance
    alone would give), and its interval. Kappa is None where either gave one and the same mark throughout."""

    same: Share
    kappa: float | None
    interval: Interval | None


def agreement(pairs: Sequence[tuple[float, float]], level: float = LEVEL) -> Agreement:
    """The agreement of pairs of marks; a difference weighs with its square.

    J. Cohen (1968), Psychological Bulletin 70, 213-220; the interval from the large-sample variance of J. L. Fleiss,
    J. Cohen and B. S. Everitt (1969), Psychological Bulletin 72, 323-327, cut at 1 and -1.
    """
    expect(0 < level < 1, "level", "a number between 0 and 1", level)
    same = Share(sum(a == b for a, b in pairs), len(pairs))
    if len({a for a, _ in pairs}) < 2 or len({b for _, b in pairs}) < 2:
        return Agreement(same, None, None)
    kappa, error = _kappa(np.array(pairs, dtype=float))
    half = normal_quantile((1 + level) / 2) * error
    return Agreement(same, kappa, Interval(max(-1.0, kappa - half), min(1.0, kappa + half), level))


def _kappa(pairs: npt.NDArray[np.float64]) -> tuple[float, float]:
    """Kappa and its standard error, of pairs in two columns."""
    values, codes = np.unique(pairs, return_inverse=True)
    table = np.zeros((len(values), len(values)))
    np.add.at(table, tuple(codes.reshape(pairs.shape).T), 1.0)
    share = table / len(pairs)
    rows, columns = share.sum(1), share.sum(0)
    weights = 1 - ((values[:, None] - values[None, :]) / (values[-1] - values[0])) ** 2
    seen, by_chance = float((weights * share).sum()), float(rows @ weights @ columns)
    kappa = (seen - by_chance) / (1 - by_chance)
    means = (weights @ columns)[:, None] + (rows @ weights)[None, :]
    spread = float((share * (weights - means * (1 - kappa)) ** 2).sum())
    variance = (spread - (kappa - by_chance * (1 - kappa)) ** 2) / (len(pairs) * (1 - by_chance) ** 2)
    return kappa, math.sqrt(max(variance, 0.0))
