"""How likely one hypothesis gives exactly the digits that a person wrote: over habits of rounding, and from own earlier
results as they were typed or as they stood on the calculator."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weighing.digits import Digits, Rows, gives_fewer
from witnessmark.marking.weighing.habits import IN_FULL, MOST_BEFORE, Before, Habits, Own
from witnessmark.marking.weighing.setting import Setting, carried_by
from witnessmark.marking.weights import (
    BY_ITS_METHOD,
    CARRIED_IN_FULL,
    CUT_OFF,
    EACH_ROUNDED,
    GOES_ON_AS_TYPED,
    ROUNDED_BEFORE,
)
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.stepwise import each_rounded
from witnessmark.questions.working.evaluation import number_of, span_of

Truth = npt.NDArray[np.bool_]
Likely = tuple[Truth, Array]
"""Where an entry lies within what a hypothesis gives however one rounds, and how likely its digits are, both (n,)."""
Written = Mapping[str, tuple[Array, Array]]
"""Own results by name: their values, and half of the last digit written (SI)."""
MOST_AT_ONCE = 50_000  # entries weighed at once for one hypothesis, to bound memory
DECIDED_BY_ENVELOPE = frozenset({"right", "carried", "rounded early", "carried early", "coarse constant", "other g"})
UNLISTED_HABIT = 0.008  # share of roundings that no listed habit makes, spread evenly over the envelope


def likelihood(h: Hypothesis, digits: Digits, setting: Setting) -> Likely:
    """How likely one hypothesis gives the digits written."""
    return likelihoods([h], digits, setting)[0]


def likelihoods(some: Sequence[Hypothesis], digits: Digits, setting: Setting) -> list[Likely]:
    """The same for several of one method, with the same own results and the same factor; in pieces, to bound memory."""
    size = len(digits.step)
    if size <= MOST_AT_ONCE:
        given = _Given(some[0], digits, setting)
        return [given.likelihood(h) for h in some]
    pieces = [np.arange(start, min(start + MOST_AT_ONCE, size)) for start in range(0, size, MOST_AT_ONCE)]
    found = [likelihoods(some, digits.only(rows), setting.only(rows)) for rows in pieces]
    return [
        (np.concatenate([inside for inside, _ in each]), np.concatenate([like for _, like in each]))
        for each in zip(*found, strict=True)
    ]


@dataclass(frozen=True)
class _Made:
    """Numbers (SI) that are made by several ways, (H, n) or what broadcasts to it, whose shares are (H,)."""

    value: Array
    digits: Digits
    shares: Array

    @cached_property
    def number(self) -> Array:
        """The numbers in the unit written."""
        return self.digits.in_unit_written(self.value)

    @cached_property
    def rounded(self) -> Array:
        """The chance of the digits written where the numbers are rounded, by each way."""
        return self.digits.rounded_from(self.number)

    @cached_property
    def cut(self) -> Truth:
        """Where they are what is left of the numbers without their further digits, by each way."""
        return self.digits.cut_from(self.number)

    def gives(self, h: Hypothesis) -> Array:
        """The chance of the digits written as people have them who follow a hypothesis, by each way."""
        if h.cut_off:
            return np.where(self.digits.numbers.figures >= h.method.final.figures, self.cut, 0.0)
        if h.kind in DECIDED_BY_ENVELOPE:
            return self.rounded
        return (1 - CUT_OFF) * self.rounded + CUT_OFF * self.cut

    def chance(self, h: Hypothesis) -> Array:
        """The same of all ways together, (n,)."""
        return _shared(self.shares, self.gives(h), len(self.digits.step))


class _Given:
    """What a method gives for some entries, from the own results that are carried on and by a factor: each piece of it
    worked once for all hypotheses that it stands behind (carried on, and rounded early, and with figures left out)."""

    def __init__(self, h: Hypothesis, digits: Digits, setting: Setting) -> None:
        self._method, self._factor, self._digits, self._setting = h.method, h.factor, digits, setting
        self._from = h.carried
        self._carried = carried_by(h, setting)
        self._taken = {name: own.values for name, own in self._carried}
        self._names = frozenset(self._taken)
        self._right = [
            o for i, o in enumerate(setting.own) if i not in h.carried and not h.method.uses.isdisjoint(o.names)
        ]

    def likelihood(self, h: Hypothesis) -> Likely:
        """That of a hypothesis of this method, these own results and this factor."""
        if h.kind == "each rounded":
            like = self._share_of_each_rounded()
            return np.zeros_like(like, np.bool_), like
        like = self._share_of_habits(h)
        if h.cut_off:
            return np.zeros_like(like, np.bool_), like
        low, high = self._bounds(h)
        si, step = self._digits.numbers.si, self._digits.step
        inside = (si >= low) & (si <= high)
        with np.errstate(all="ignore"):
            even = UNLISTED_HABIT * self._digits.share * np.minimum(1.0, step / (high - low + step))
        return inside, np.where(inside, np.fmax(like, even), _only_if_told(h, like))

    def likeliest_before(self, h: Hypothesis) -> Before:
        """The likeliest numbers from which entries were rounded that the hypothesis explains, by every habit that gives
        the digits written."""
        shape = (len(self._habits.shares), len(self._digits.step))
        value = np.broadcast_to(self._made.value, shape)
        share = self._habits.shares[:, None] * np.broadcast_to(self._made.gives(h), shape)
        first = np.argsort(-share, axis=0, kind="stable")[:MOST_BEFORE]
        return Before(np.take_along_axis(value, first, axis=0), np.take_along_axis(share, first, axis=0))

    @cached_property
    def _habits(self) -> Habits:
        return self._setting.variants.habits(self._method, self._names)

    @cached_property
    def _made(self) -> _Made:
        return _Made(self._by_habits(self._habits, self._taken), self._digits, self._habits.shares)

    def _by_habits(self, habits: Habits, taken: Mapping[str, Array], rows: Rows | None = None) -> Array:
        """What is given by each habit from these own results (of these rows alone), shape (H, n)."""
        setting, method = self._setting, self._method
        if not taken:
            value = setting.each(setting.variants.by_habits(method))
        else:
            which = rows if setting.which is None else setting.which if rows is None else setting.which.take(rows)
            names = habits.only(which, method.names_in_trees - taken.keys()).names
            value = np.atleast_2d(number_of(method, names, setting.variants.dimensions, taken, habits.figures))
        return self._factor.on(value, method.final.unit)

    def _share_of_habits(self, h: Hypothesis) -> Array:
        """The share of habits by which the hypothesis gives exactly the digits written."""
        like = self._made.chance(h)
        for some in self._typed:
            like[some.rows] = some.chance(h, like[some.rows])
        if h.carried and not h.cut_off:
            like = CARRIED_IN_FULL * self._carried_in_full(h) + (1 - CARRIED_IN_FULL) * like
        if h.figures is not None:
            same = gives_fewer(self._made.value, self._digits.numbers, h.figures)
            like = like + _shared(self._habits.shares, same, len(like))
        return like

    @cached_property
    def _typed(self) -> list["_FromTyped"]:
        """Those who typed right earlier results that the method uses: for each set of these that some of them have."""
        if not any(o.is_typed.any() for o in self._right):
            return []
        typed = np.stack([o.is_typed for o in self._right], axis=1)
        found = []
        for some in np.unique(typed, axis=0) if len(self._right) > 1 else np.array([[True]]):
            rows = np.flatnonzero((typed == some).all(axis=1))
            if some.any() and len(rows):
                own = [(name, o) for o, has in zip(self._right, some, strict=True) if has for name in o.names]
                typed_by = {name: (o.typed.take(rows), o.written.take(rows)) for name, o in own}
                found.append(self._from_typed(rows, typed_by))
        return found

    def _from_typed(self, rows: Rows, own: Written) -> "_FromTyped":
        habits = self._setting.variants.habits(self._method, self._names.union(own))
        beside = {name: values.take(rows) for name, values in self._taken.items()}
        digits = self._digits.only(rows)
        typed = {**{name: value for name, (value, _) in own.items()}, **beside}
        made = _Made(self._by_habits(habits, typed, rows), digits, habits.shares)
        return _FromTyped(rows, made, self._from_full(habits, digits, own, beside, rows))

    def _carried_in_full(self, h: Hypothesis) -> Array:
        """The chance of the digits written when own wrong results were carried on as they stood on the calculator: by
        the method that is known to give them, or as anything that rounds to them."""
        total = self._known.sum(axis=0)
        if not self._before:
            return self._anything
        exactly = np.zeros(len(total))
        for k, (rows, made) in self._before.items():
            exactly[rows] += self._known[k, rows] * made.chance(h)
        known = np.where(total > 0, BY_ITS_METHOD, 0.0)
        return np.asarray(known * exactly / np.where(total > 0, total, 1.0) + (1 - known) * self._anything)

    @cached_property
    def _known(self) -> Array:
        return np.asarray(np.prod([self._setting.own[i].before.known for i in self._from], axis=0))

    @cached_property
    def _before(self) -> dict[int, tuple[Rows, _Made]]:
        """What is made of the numbers that own results may have been before they were rounded, for those of whom such a
        number is known."""
        found: dict[int, tuple[Rows, _Made]] = {}
        for k in np.flatnonzero(self._known.any(axis=1)).tolist():
            rows = np.flatnonzero(self._known[k])
            taken = {name: o.before.numbers(k).take(rows) for name, o in self._carried}
            value = self._by_habits(self._habits, taken, rows)
            found[k] = rows, _Made(value, self._digits.only(rows), self._habits.shares)
        return found

    @cached_property
    def _anything(self) -> Array:
        own = {name: (o.values, o.written) for name, o in self._carried}
        return self._from_full(self._habits, self._digits, own, {})

    def _from_full(
        self, habits: Habits, digits: Digits, own: Written, beside: Mapping[str, Array], rows: Rows | None = None
    ) -> Array:
        """The chance of the digits written when own results were carried on as they were before they were rounded: any
        value that rounds to the digits written of them, each as likely. `beside` are taken as they are."""
        numbers, ends = digits.numbers, []
        for sign in (-1.0, 1.0):
            taken = {**{name: value + sign * half for name, (value, half) in own.items()}, **beside}
            ends.append(digits.in_unit_written(self._by_habits(habits, taken, rows)))
        low, high = np.minimum(*ends), np.maximum(*ends)
        with np.errstate(all="ignore"):
            half = digits.step / np.abs(numbers.scale) / 2
            shared = np.minimum(high, numbers.written + half) - np.maximum(low, numbers.written - half)
            part = np.where(high > low, np.minimum(shared / (high - low), 1.0), shared >= 0)
        return _shared(habits.shares, np.fmax(part, 0.0), len(half))

    def _share_of_each_rounded(self) -> Array:
        """The share of those who round every operation, in the order of the working, and come to the digits written;
        none where these are fewer than were asked."""
        method, digits, habits = self._method, self._digits.as_written, self._habits
        full = np.flatnonzero(habits.figures[:, 0] == IN_FULL)
        shares = habits.shares[full] / habits.shares[full].sum()
        like = np.zeros(len(digits.step))
        every = habits.only(self._setting.which, method.names_in_trees).names
        names = {k: v[full] if v.shape[0] > 1 else v for k, v in every.items()}
        typed = {name: o for o in self._right for name in o.names}
        for figures, share in EACH_ROUNDED.items():
            own = {k: _or_typed(v, typed.get(k)) for k, v in names.items()}
            for step in method.steps:
                own[step.name] = _or_typed(each_rounded(step.asked.tree, own, figures), typed.get(step.name))
            given = digits.given_by(each_rounded(method.final.tree, own, figures))
            like += share * _shared(shares, given, len(like))
        return np.where(digits.numbers.figures >= method.final.figures, like, 0.0)

    def _bounds(self, h: Hypothesis) -> Interval:
        setting, method = self._setting, self._method
        if self._carried:
            taken = {name: (o.values - o.half, o.values + o.half) for name, o in self._carried}
            between = setting.bounds_of_each(method.names_in_trees - taken.keys())
            span = span_of(method, between, setting.variants.dimensions, taken, h.figures)
        else:
            low, high = setting.variants.bounds(method, h.figures)
            span = setting.each(low), setting.each(high)
        ends = [self._factor.on(end, method.final.unit) for end in span]
        return np.minimum(*ends), np.maximum(*ends)


@dataclass(frozen=True)
class _FromTyped:
    """Some rows, which typed right results: what is made of these as they were typed, and the chance of the digits
    written where they went on as what was rounded to that."""

    rows: Rows
    made: _Made
    before: Array

    def chance(self, h: Hypothesis, as_worked: Array) -> Array:
        """The chance of the digits written: gone on with as it was typed, as what was rounded to that, or as habits
        have it (`as_worked`)."""
        gives = GOES_ON_AS_TYPED * self.made.chance(h)
        if h.cut_off:
            return gives + (1 - GOES_ON_AS_TYPED) * as_worked
        return gives + ROUNDED_BEFORE * self.before + (1 - GOES_ON_AS_TYPED - ROUNDED_BEFORE) * as_worked


def likeliest_before(h: Hypothesis, digits: Digits, setting: Setting) -> Before:
    """The likeliest numbers from which entries were rounded that the hypothesis explains, by every habit that gives the
    digits written."""
    return _Given(h, digits, setting).likeliest_before(h)


def _or_typed(worked: Array, own: Own | None) -> Array:
    """What was worked, or what the student typed of it where they did."""
    return worked if own is None else np.where(own.is_typed, own.typed, worked)


def _shared(shares: Array, gives: npt.NDArray[Any], n: int) -> Array:
    """The sum over habits of their shares times what each gives, (H, n) or what broadcasts to it, to (n,): to the last
    bit the same for an entry whichever others stand beside it, as a matrix product is not."""
    if gives.shape != (len(shares), n):
        gives = np.broadcast_to(gives, (len(shares), n))
    total = np.zeros(n)
    for share, row in zip(shares.tolist(), gives, strict=True):
        total += share * row
    return total


def _only_if_told(h: Hypothesis, like: Array) -> Array:
    """Outside its envelope the right method explains nothing: the envelope decides who is right."""
    return np.zeros_like(like) if h.kind in DECIDED_BY_ENVELOPE else like
