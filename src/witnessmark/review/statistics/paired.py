"""Before and after in the same people: who lost a habit, who took one up, and whether chance alone would do as much."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.words.checks import expect_whole

FINDING = 0.05


@dataclass(frozen=True, slots=True)
class Paired:
    """How many showed it both times, only before, only after, neither time."""

    both: int
    before_only: int
    after_only: int
    neither: int

    def __post_init__(self) -> None:
        for name in ("both", "before_only", "after_only", "neither"):
            expect_whole(name, getattr(self, name), 0)

    @property
    def people(self) -> int:
        """How many could show it both times."""
        return self.both + self.before_only + self.after_only + self.neither

    @property
    def changed(self) -> int:
        """How many did otherwise the second time."""
        return self.before_only + self.after_only

    @property
    def chance(self) -> float:
        """How often chance alone parts those who changed at least as unevenly, both ways counted (0 to 1).

        McNemar's test in its exact form: a sign test of those who changed. 1 where nobody did.
        """
        n, fewer = self.changed, min(self.before_only, self.after_only)
        tail = sum(math.comb(n, k) for k in range(fewer + 1)) / 2.0**n
        return min(1.0, 2 * tail)

    @property
    def least_chance(self) -> float:
        """The smallest that `chance` could have been with so many who changed."""
        return min(1.0, 2 / 2.0**self.changed)


def paired(pairs: Iterable[tuple[bool, bool]]) -> Paired:
    """The counts of people by whether they showed it before and after."""
    found = list(pairs)
    both, before, after = (sum(p == kind for p in found) for kind in ((True, True), (True, False), (False, True)))
    return Paired(both, before, after, len(found) - both - before - after)


def findings(chances: Sequence[float], level: float = FINDING) -> tuple[bool, ...]:
    """Which of several tests are findings when all of them are looked at: S. Holm's rule (1979), Scand. J. Stat. 6,
    65-70, by which one finding among tests of nothing comes in at most `level` of cases."""
    order = sorted(range(len(chances)), key=lambda i: chances[i])
    found = [False] * len(chances)
    for rank, i in enumerate(order):
        if chances[i] > level / (len(chances) - rank):
            break
        found[i] = True
    return tuple(found)
