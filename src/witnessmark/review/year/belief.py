"""How likely each student holds each misconception, from the chances they had, and what another chance would tell.

A holder shows it at SHOWS of the chances, others at STRAY: assumptions, not measured on people. How common it is in the
class is worked out of the class itself, starting from about one in ten.
"""

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from witnessmark.review.year.chances import Chance

SHOWS, STRAY = 0.8, 0.01
HELD, NOT_HELD = 1.0, 9.0  # what the rate starts from, as if ten students were known; common practice, no source
ROUNDS = 12

Belief = Mapping[str, Mapping[str, float]]
"""By misconception and student: how likely the student holds it, 0 to 1."""


def belief(chances: Iterable[Chance], students: Sequence[str], known: Iterable[str]) -> Belief:
    """What is believed of every student and known misconception; where nobody had a chance, the rate that all start
    from."""
    counts: dict[str, dict[str, tuple[int, int]]] = {key: {} for key in known}
    for chance in chances:
        mine = counts.setdefault(chance.misconception, {})
        shown, of = mine.get(chance.student, (0, 0))
        mine[chance.student] = (shown + chance.shown, of + 1)
    return {key: _of_class(mine, students) for key, mine in counts.items()}


def _of_class(counts: Mapping[str, tuple[int, int]], students: Sequence[str]) -> dict[str, float]:
    """The rate and the students by turns until they agree (expectation and maximisation, with a prior)."""
    rate, alike = HELD / (HELD + NOT_HELD), Counter(counts[s] for s in students if s in counts)
    for _ in range(ROUNDS):
        seen = sum(people * after(rate, *chances) for chances, people in alike.items())
        rate = (HELD + seen) / (HELD + NOT_HELD + alike.total())
    return {s: after(rate, *counts.get(s, (0, 0))) for s in students}


def after(rate: float, shown: int, of: int) -> float:
    """How likely somebody holds what is this common, who showed it at so many of so many chances."""
    held = rate * SHOWS**shown * (1 - SHOWS) ** (of - shown)
    other = (1 - rate) * STRAY**shown * (1 - STRAY) ** (of - shown)
    return held / (held + other)


def information(held: float, chances: int) -> float:
    """What so many further chances are expected to tell of whether somebody holds it, in bits (0 to 1)."""
    return _information(round(held, 3), chances)


@lru_cache(maxsize=65536)
def _information(held: float, chances: int) -> float:
    left = 0.0
    for shown in range(chances + 1):
        ways = math.comb(chances, shown)
        of_holder = ways * SHOWS**shown * (1 - SHOWS) ** (chances - shown)
        of_other = ways * STRAY**shown * (1 - STRAY) ** (chances - shown)
        both = held * of_holder + (1 - held) * of_other
        left += both * entropy(held * of_holder / both) if both else 0.0
    return max(0.0, entropy(held) - left)


def entropy(share: float) -> float:
    """The doubt of a yes or no that is this likely, in bits."""
    if share <= 0 or share >= 1:
        return 0.0
    return -share * math.log2(share) - (1 - share) * math.log2(1 - share)
