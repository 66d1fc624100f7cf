"""What a class's own counts say about its wrong methods: assumed priors, sharpened by what the class was seen to do.

`Counts` are how often each wrong method was named surely at each place; `ClassPriors` are the factors that follow: the
mean of a Dirichlet distribution whose weights are the assumed priors times STRENGTH, plus the counts. Right (also cut
off, or by another g), carried forward and rounded early keep their priors, and so does "none of these": counts part
wrong methods from each other, and leave how likely any of them is together as it was. See `reweighing.py` for the two
passes.
"""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weights import CLASS_STRENGTH, LEAST_COUNTED, PRIOR_OF_KIND
from witnessmark.maths.printing.plain import plain

Identity = tuple[str, tuple[str, ...], str]
"""What makes two hypotheses one method to the class, whichever own results they start from: the kind, the
misconceptions (or the formula of an edit), the power of ten or the conversion."""

EDITS = 7  # the rung on which methods have no names
SAME_KIND = {"slip carried": "slip"}
DECIDED_BY_THE_LADDER = frozenset(
    {"right", "carried", "each rounded", "rounded early", "carried early", "coarse constant", "cut off", "other g"}
)
WRONG_KINDS = frozenset(PRIOR_OF_KIND) - DECIDED_BY_THE_LADDER - SAME_KIND.keys()
WRONG_PRIOR = sum(PRIOR_OF_KIND[kind] for kind in sorted(WRONG_KINDS))
"""The assumed prior of all wrong methods together."""


def identity(h: Hypothesis) -> Identity | None:
    """Which method a hypothesis is to the class; None where the ladder alone decides."""
    if h.kind in DECIDED_BY_THE_LADDER:
        return None
    kind = SAME_KIND.get(h.kind, h.kind)
    names = h.method.misconceptions if h.rung < EDITS else (plain(h.method.formula), str(h.method.millimetres))
    return kind, names, h.factor.conversion or str(h.factor.power)


@dataclass(frozen=True, slots=True)
class Counts:
    """How many answers of one place were named surely, by method; and the assumed prior of those methods."""

    named: Mapping[Identity, int]
    priors: Mapping[Identity, float]

    @property
    def total(self) -> int:
        """How many answers were counted."""
        return sum(self.named.values())


def priors_in(candidates: Iterable[Hypothesis], wanted: Iterable[Identity]) -> dict[Identity, float]:
    """The assumed prior of each of these methods: of all its hypotheses that start from the right results."""
    found = dict.fromkeys(wanted, 0.0)
    for h in candidates:
        if not h.carried and (method := identity(h)) in found and method is not None:
            found[method] += h.prior
    return found


@dataclass(frozen=True, slots=True)
class ClassPriors:
    """Factors on the assumed priors: by place and method, and for every wrong method at that place that was not counted
    (`others`). A place without enough counts is in neither."""

    factors: Mapping[tuple[str, Identity], float]
    others: Mapping[str, float]

    def __bool__(self) -> bool:
        return bool(self.others)

    def factor(self, place: str, h: Hypothesis) -> float:
        """The factor on the prior of a hypothesis at a place (`a`, `a.A_s`)."""
        method = identity(h) if place in self.others else None
        return 1.0 if method is None else self.factors.get((place, method), self.others[place])

    def only(self, places: Container[str]) -> "ClassPriors":
        """The same for these places alone."""
        factors = {at: factor for at, factor in self.factors.items() if at[0] in places}
        return ClassPriors(factors, {place: factor for place, factor in self.others.items() if place in places})


def class_priors(counts: Mapping[str, Counts]) -> ClassPriors:
    """The factors that follow from the counts at each place; places with fewer than LEAST_COUNTED are left out."""
    factors: dict[tuple[str, Identity], float] = {}
    others: dict[str, float] = {}
    for place, found in counts.items():
        if found.total >= LEAST_COUNTED:
            whole = CLASS_STRENGTH + found.total
            others[place] = CLASS_STRENGTH / whole
            for method, count in found.named.items():
                assumed = found.priors[method] / WRONG_PRIOR
                factors[place, method] = (CLASS_STRENGTH + count / assumed) / whole
    return ClassPriors(factors, others)


def sharpened(candidates: Sequence[Hypothesis], place: str, priors: ClassPriors | None) -> Sequence[Hypothesis]:
    """The hypotheses of a place with their priors as the class has them; the very same where it says nothing."""
    if priors is None or place not in priors.others:
        return candidates
    return tuple(replace(h, prior=h.prior * priors.factor(place, h)) for h in candidates)
