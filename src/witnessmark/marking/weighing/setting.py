"""What is known at one place of the entries that are weighed there, and what methods give of it."""

from collections.abc import Callable, Hashable, Set
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import MANY, Hypothesis
from witnessmark.marking.weighing.habits import Habits, Own, Ways, gathered
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.same_object import SameObject
from witnessmark.maths.same_rows import firsts_of
from witnessmark.maths.syntax import names_in
from witnessmark.questions.working.evaluation import number_of, span_of
from witnessmark.questions.working.methods import Method

Rows = npt.NDArray[np.intp]
T = TypeVar("T")
MOST_VARIANTS = 4  # for each entry: of more, what is known is taken for each entry, and not worked for each variant
NEARLY_ALL = 0.8  # of the entries: then those who have nothing are not left out


@dataclass(frozen=True, slots=True)
class PerVariant:
    """What is known of each variant, shape (v,): names in full and between bounds, ways of working, dimensions. What a
    method gives of it is worked once."""

    names: dict[str, Array]
    between: dict[str, Interval]
    ways: Ways
    dimensions: dict[str, Dimension]
    _worked: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)

    def __len__(self) -> int:
        return len(self.ways.rows)

    def only(self, variants: Rows, needed: Set[str] | None = None) -> "PerVariant":
        """These of the variants; with `needed` only these names between bounds, and none in full."""
        names = {k: _at(v, variants) for k, v in self.names.items() if needed is None}
        kept = {k: ends for k, ends in self.between.items() if needed is None or k in needed}
        between = {k: (_at(low, variants), _at(high, variants)) for k, (low, high) in kept.items()}
        return PerVariant(names, between, self.ways.only(variants), self.dimensions)

    def in_full(self, method: Method) -> Array:
        """What the method gives in full, shape (v,)."""
        return np.broadcast_to(number_of(method, self.names, self.dimensions), (len(self),))

    def habits(self, method: Method, taken: frozenset[str]) -> Habits:
        """The habits by which the method can be worked; names in `taken` are the student's own."""
        return self._once((SameObject(method), taken), lambda: self.ways.of(method, taken))

    def by_habits(self, method: Method) -> Array:
        """What the method gives by each of its habits, shape (H, v) or what broadcasts to it."""

        def work() -> Array:
            habits = self.habits(method, frozenset())
            return np.atleast_2d(number_of(method, habits.names, self.dimensions, {}, habits.figures))

        return self._once((SameObject(method), "by habits"), work)

    def bounds(self, method: Method, figures: int | None) -> Interval:
        """Between which values the method gives its result, rounded to the figures asked, or to `figures`."""
        return self._once(
            (SameObject(method), "bounds", figures),
            lambda: span_of(method, self.between, self.dimensions, {}, figures),
        )

    def _once(self, key: Hashable, work: Callable[[], T]) -> T:
        if key not in self._worked:
            self._worked[key] = work()
        found: T = self._worked[key]
        return found


def _at(values: Array, rows: Rows) -> Array:
    """These rows of a column; a value that is the same for all as it is."""
    return values.take(rows) if np.ndim(values) else values


@dataclass(frozen=True, slots=True)
class Setting:
    """What is known at one place of n entries: of the variants, and each entry's own earlier results.

    `which` tells the variant of each entry; None where every entry has a variant of its own, in the same order.
    """

    variants: PerVariant
    own: tuple[Own, ...] = ()
    which: Rows | None = None

    @property
    def size(self) -> int:
        """How many entries there are."""
        return len(self.variants) if self.which is None else len(self.which)

    def by_variant(self, told: Rows | None) -> "Setting":
        """The same, each variant once for all who were told the same: a number for each row tells who, from 0 on
        without gaps; None where nobody counted."""
        if told is None or not len(told):
            return self
        return replace(self, variants=self.variants.only(firsts_of(told)), which=told)

    def only(self, rows: Rows) -> "Setting":
        """These rows of it."""
        return self._rows(rows, tuple(o.only(rows) for o in self.own), None)

    def of(self, h: Hypothesis, rows: Rows) -> "Setting":
        """These rows of what the likelihood of a hypothesis needs: no names in full, and of own results that it does
        not carry on no more than how they were typed, if it uses them at all."""
        needed = h.method.names_in_trees
        own = (o.only(rows) if i in h.carried else o if needed.isdisjoint(o.names) else o.as_typed(rows)
               for i, o in enumerate(self.own))  # fmt: skip
        return self._rows(rows, tuple(own), needed)

    def _rows(self, rows: Rows, own: tuple[Own, ...], needed: Set[str] | None) -> "Setting":
        which = rows if self.which is None else self.which.take(rows)
        if self.which is None or len(self.variants) > MOST_VARIANTS * len(rows):
            return Setting(self.variants.only(which, needed), own)
        return Setting(self.variants, own, which)

    def each(self, of_variants: Array) -> Array:
        """What stands for each variant (the last axis), or is the same for all, as it stands for each entry."""
        if self.which is None or not np.ndim(of_variants) or of_variants.shape[-1] == 1:
            return of_variants
        return of_variants.take(self.which, axis=-1)

    def names_of_each(self, needed: Set[str]) -> dict[str, Array]:
        """These names in full, of each entry."""
        return {name: self.each(values) for name, values in self.variants.names.items() if name in needed}

    def bounds_of_each(self, needed: Set[str] | None = None) -> dict[str, Interval]:
        """The names between bounds, or these, of each entry."""
        between = self.variants.between.items()
        return {k: (self.each(low), self.each(high)) for k, (low, high) in between if needed is None or k in needed}


def carried_by(h: Hypothesis, setting: Setting) -> list[tuple[str, Own]]:
    """By name the own results that a hypothesis carries on; many are gathered."""
    own = [setting.own[i] for i in h.carried]
    return [(name, o) for o in (gathered(own) if len(own) >= MANY else own) for name in o.names]


def taken_by(h: Hypothesis, setting: Setting) -> dict[str, Array]:
    """The same as values, shape (n,)."""
    return {name: own.values for name, own in carried_by(h, setting)}


def works_from(h: Hypothesis, setting: Setting) -> tuple[int, ...]:
    """The own results without which a hypothesis gives no number: of those that it carries on, the ones that it uses;
    of many, which are gathered, any."""
    if not h.carried:
        return ()
    taken = frozenset(name for i in h.carried for name in setting.own[i].names)
    names = _used_beside(SameObject(h.method), taken)
    used = tuple(i for i in h.carried if not names.isdisjoint(setting.own[i].names))
    return h.carried if used and len(h.carried) >= MANY else used


@lru_cache(maxsize=10_000)
def _used_beside(method: SameObject[Method], taken: frozenset[str]) -> frozenset[str]:
    """Every name that has a say in what a method gives where these are taken as they are, lines among them."""
    used = names_in(method.it.final.tree)
    for step in reversed(method.it.steps):
        if step.name in used - taken:
            used |= names_in(step.asked.tree)
    return used


def have_own(own: tuple[int, ...], setting: Setting) -> Rows | None:
    """Who has these own results to carry on; None where there are none of them, and where nearly all have."""
    if not own:
        return None
    finite = [np.isfinite(setting.own[i].values) for i in own]
    rows = np.flatnonzero(np.any(finite, axis=0) if len(own) >= MANY else np.all(finite, axis=0))
    return rows if len(rows) < NEARLY_ALL * len(finite[0]) else None


def of_variants(h: Hypothesis, setting: Setting) -> Array:
    """What a method that carries nothing on gives in full for each variant."""
    return setting.variants.in_full(h.method)


def in_full(h: Hypothesis, setting: Setting) -> Array:
    """What the method gives in full, shape (n,)."""
    if h.carried:
        names = setting.names_of_each(h.method.names_in_trees)
        result = number_of(h.method, names, setting.variants.dimensions, taken_by(h, setting))
    else:
        result = setting.each(of_variants(h, setting))
    return np.broadcast_to(result, (setting.size,))
