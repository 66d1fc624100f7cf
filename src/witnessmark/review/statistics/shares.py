"""A share of a few people with the interval that so few allow: Wilson's, which stays honest at 0 and at all."""

import math
from dataclasses import dataclass

from witnessmark.maths.probability import normal_quantile
from witnessmark.words.checks import expect, expect_whole

LEVEL = 0.95
FEW = 8
"""With fewer than this nothing is said of a class; with 8 of whom 4 did so the interval is still 0.22 to 0.78."""


@dataclass(frozen=True, slots=True)
class Interval:
    """From where to where, and how often such an interval holds the true value (`level`, 0 to 1)."""

    low: float
    high: float
    level: float = LEVEL

    def holds(self, value: float) -> bool:
        """True of a value inside, or at an end."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Share:
    """So many of so many."""

    count: int
    of: int

    def __post_init__(self) -> None:
        expect_whole("of", self.of, 0)
        expect_whole("count", self.count, 0, self.of)

    @property
    def value(self) -> float | None:
        """The share, 0 to 1; None of nobody."""
        return self.count / self.of if self.of else None

    @property
    def is_of_few(self) -> bool:
        """True where too few are counted to say anything of others."""
        return self.of < FEW

    def interval(self, level: float = LEVEL) -> Interval:
        """The score interval of E. B. Wilson (1927), J. Am. Stat. Assoc. 22, 209-212, without correction for
        continuity; 0 to 1 of nobody."""
        expect(0 < level < 1, "level", "a number between 0 and 1", level)
        if not self.of:
            return Interval(0.0, 1.0, level)
        z, n, p = normal_quantile((1 + level) / 2), self.of, self.count / self.of
        middle = (p + z * z / (2 * n)) / (1 + z * z / n)
        half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
        low = 0.0 if self.count == 0 else middle - half
        return Interval(low, 1.0 if self.count == n else middle + half, level)
