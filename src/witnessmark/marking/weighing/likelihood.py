"""How likely one hypothesis gives exactly the digits that a person wrote: over habits of rounding, and from own earlier
results as they were typed or as they stood on the calculator."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import MANY, Hypothesis
from witnessmark.marking.weighing.digits import Digits, Rows, gives_fewer
from witnessmark.marking.weighing.habits import IN_FULL, MOST_BEFORE, Before, Habits, Own, Ways, gathered
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
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.same_object import SameObject
from witnessmark.maths.stepwise import each_rounded
from witnessmark.maths.syntax import names_in
from witnessmark.questions.working.evaluation import number_of, span_of
from witnessmark.questions.working.methods import Method

Truth = npt.NDArray[np.bool_]
Written = Mapping[str, tuple[Array, Array]]
"""Own results by name: their values, and half of the last digit written (SI)."""
MOST_AT_ONCE = 50_000  # entries weighed at once for one hypothesis, to bound memory
DECIDED_BY_ENVELOPE = frozenset({"right", "carried", "rounded early", "carried early", "coarse constant", "other g"})
NEARLY_ALL = 0.8  # of the entries: then those who have nothing are not left out
UNLISTED_HABIT = 0.008  # share of roundings that no listed habit makes, spread evenly over the envelope


@dataclass(frozen=True, slots=True)
class Setting:
    """What is known at one place: names in full and between bounds, ways of working, own earlier results,
    dimensions."""

    names: dict[str, Array]
    between: dict[str, Interval]
    ways: Ways
    own: tuple[Own, ...]
    dimensions: dict[str, Dimension]

    def only(self, rows: Rows) -> "Setting":
        """These rows of it."""
        return Setting(
            {k: _row(v, rows) for k, v in self.names.items()},
            {k: (_row(low, rows), _row(high, rows)) for k, (low, high) in self.between.items()},
            self.ways.only(rows),
            tuple(o.only(rows) for o in self.own),
            self.dimensions,
        )

    def of(self, h: Hypothesis, rows: Rows) -> "Setting":
        """These rows of what the likelihood of a hypothesis needs: no names in full, and of own results that it does
        not carry on no more than how they were typed, if it uses them at all."""
        needed = h.method.names_in_trees
        between = {k: ends for k, ends in self.between.items() if k in needed}
        return Setting(
            {},
            {k: (_row(low, rows), _row(high, rows)) for k, (low, high) in between.items()},
            self.ways.only(rows),
            tuple(o.only(rows) if i in h.carried else o if needed.isdisjoint(o.names) else o.as_typed(rows)
                  for i, o in enumerate(self.own)),
            self.dimensions,
        )  # fmt: skip


def _carried(h: Hypothesis, setting: Setting) -> list[tuple[str, Own]]:
    own = [setting.own[i] for i in h.carried]
    return [(name, o) for o in (gathered(own) if len(own) >= MANY else own) for name in o.names]


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
    return rows if len(rows) < NEARLY_ALL * len(setting.ways.rows) else None


def _taken(h: Hypothesis, setting: Setting) -> dict[str, Array]:
    return {name: own.values for name, own in _carried(h, setting)}


def _taken_between(h: Hypothesis, setting: Setting) -> dict[str, Interval]:
    return {name: (o.values - o.half, o.values + o.half) for name, o in _carried(h, setting)}


def in_full(h: Hypothesis, setting: Setting) -> Array:
    """What the method gives in full, shape (n,)."""
    result = number_of(h.method, setting.names, setting.dimensions, _taken(h, setting))
    return np.broadcast_to(result, setting.ways.rows.shape)


def _by_habits(h: Hypothesis, setting: Setting, habits: Habits, taken: Mapping[str, Array]) -> Array:
    """What the hypothesis gives by each habit from these own results, shape (H, n)."""
    value = number_of(h.method, habits.names, setting.dimensions, taken, habits.figures)
    return h.factor.on(value, h.method.final.unit)


def likelihood(h: Hypothesis, digits: Digits, setting: Setting) -> tuple[Truth, Array]:
    """Where an entry lies within what the hypothesis gives however one rounds, and the likelihood of its digits, both
    of shape (n,)."""
    if h.kind == "each rounded":
        like = _share_of_each_rounded(h, digits, setting)
        return np.zeros_like(like, np.bool_), like
    like = _share_of_habits(h, digits, setting)
    if h.cut_off:
        return np.zeros_like(like, np.bool_), like
    low, high = _bounds(h, setting)
    si, step = digits.numbers.si, digits.step
    inside = (si >= low) & (si <= high)
    with np.errstate(all="ignore"):
        even = UNLISTED_HABIT * digits.share[0] * np.minimum(1.0, step / (high - low + step))
    return inside, np.where(inside, np.maximum(like, np.nan_to_num(even)), _only_if_told(h, like))


def _share_of_habits(h: Hypothesis, digits: Digits, setting: Setting) -> Array:
    """The share of habits by which the hypothesis gives exactly the digits written; in pieces, to bound memory."""
    size, names = len(digits.step), frozenset(name for i in h.carried for name in setting.own[i].names)
    piece = MOST_AT_ONCE
    like = np.zeros(size)
    for start in range(0, size, piece):
        rows = np.arange(start, min(start + piece, size))
        habits = (setting.ways.only(rows) if size > piece else setting.ways).of(h.method, names)
        kinds = len(habits.shares)
        taken = {k: v[rows] for k, v in _taken(h, setting).items()}
        value = _by_habits(h, setting, habits, taken)
        some = digits.only(rows) if size > piece else digits
        gives = _gives(h, value, some)
        for which, own in _typed_and_right(h, setting, rows):
            beside = {k: v[which] for k, v in taken.items()}
            gives = np.array(np.broadcast_to(gives, (kinds, len(rows))))
            here = habits.only(which, h.method.names_in_trees - own.keys())
            entries = some.only(which)
            gives[:, which] = _from_typed(h, setting, here, entries, own, beside, gives.take(which, axis=1))
        if h.carried and not h.cut_off:
            from_full = _carried_in_full(h, setting, habits, rows, some)
            gives = CARRIED_IN_FULL * from_full + (1 - CARRIED_IN_FULL) * gives
        like[rows] = _shared(habits.shares, np.broadcast_to(gives, (kinds, len(rows))))
        if h.figures is not None:
            same = gives_fewer(value, some.numbers, h.figures)
            like[rows] += _shared(habits.shares, np.broadcast_to(same, (kinds, len(rows))))
    return like


def _gives(h: Hypothesis, value: Array, digits: Digits) -> Array:
    """The chance of the digits written where the method gave this value, (H, n)."""
    if h.cut_off:
        return digits.cut_from(value, h.method.final.figures)
    if h.kind in DECIDED_BY_ENVELOPE:
        return digits.given_by(value)
    return digits.given_or_cut_from(value, CUT_OFF)


def _used_and_right(h: Hypothesis, setting: Setting) -> list[Own]:
    return [o for i, o in enumerate(setting.own) if i not in h.carried and not h.method.uses.isdisjoint(o.names)]


def _typed_and_right(h: Hypothesis, setting: Setting, rows: Rows) -> Iterator[tuple[Rows, Written]]:
    """The right earlier results that the method uses, as they were typed: for each set of these that some of the rows
    have, where these rows stand among all, and by name the values with half of their last digit."""
    own = _used_and_right(h, setting)
    if not any(o.is_typed.any() for o in own):
        return
    typed = np.stack([o.is_typed[rows] for o in own], axis=1)
    for some in np.unique(typed, axis=0) if len(own) > 1 else np.array([[True]]):
        which = np.flatnonzero((typed == some).all(axis=1))
        if some.any() and len(which):
            at = rows[which]
            names = [(name, o) for o, has in zip(own, some, strict=True) if has for name in o.names]
            yield which, {name: (o.typed[at], o.written[at]) for name, o in names}


def _from_typed(
    h: Hypothesis, setting: Setting, habits: Habits, digits: Digits, own: Written, beside: Mapping[str, Array],
    as_worked: Array,
) -> Array:  # fmt: skip
    """The chance of the digits written by each habit where right results were typed: gone on with as they were typed,
    as what was rounded to that, or (`as_worked`) as the habit has them."""
    typed = {**{name: value for name, (value, _) in own.items()}, **beside}
    gives = _gives(h, _by_habits(h, setting, habits, typed), digits)
    if h.cut_off:
        return GOES_ON_AS_TYPED * gives + (1 - GOES_ON_AS_TYPED) * as_worked
    before = _from_full(h, setting, habits, digits, own, beside)
    return GOES_ON_AS_TYPED * gives + ROUNDED_BEFORE * before + (1 - GOES_ON_AS_TYPED - ROUNDED_BEFORE) * as_worked


def _share_of_each_rounded(h: Hypothesis, digits: Digits, setting: Setting) -> Array:
    """The share of those who round every operation, in the order of the working, and come to the digits written; none
    where these are fewer than were asked."""
    habits = setting.ways.of(h.method, frozenset())
    full = np.flatnonzero(habits.figures[:, 0] == IN_FULL)
    shares = habits.shares[full] / habits.shares[full].sum()
    like, as_written = np.zeros(len(digits.step)), digits.as_written
    names = {k: v[full] if v.shape[0] > 1 else v for k, v in habits.names.items()}
    typed = {name: o for o in _used_and_right(h, setting) for name in o.names}
    for figures, share in EACH_ROUNDED.items():
        own = {k: _or_typed(v, typed.get(k)) for k, v in names.items()}
        for step in h.method.steps:
            own[step.name] = _or_typed(each_rounded(step.asked.tree, own, figures), typed.get(step.name))
        given = as_written.given_by(each_rounded(h.method.final.tree, own, figures))
        like += share * _shared(shares, np.broadcast_to(given, (len(full), len(like))))
    return np.where(digits.numbers.figures >= h.method.final.figures, like, 0.0)


def _or_typed(worked: Array, own: Own | None) -> Array:
    """What was worked, or what the student typed of it where they did."""
    return worked if own is None else np.where(own.is_typed, own.typed, worked)


def _shared(shares: Array, gives: Array) -> Array:
    """The sum over habits of their shares times what each gives, (H, n) to (n,), to the last bit the same for an entry
    whichever others stand beside it, as a matrix product is not."""
    total = np.zeros(gives.shape[1])
    for share, row in zip(shares.tolist(), gives, strict=True):
        total += share * row
    return total


def _carried_in_full(h: Hypothesis, setting: Setting, habits: Habits, rows: Rows, digits: Digits) -> Array:
    """The chance of the digits written when own wrong results were carried on as they stood on the calculator: by the
    method that is known to give them, or as anything that rounds to them."""
    own = _carried(h, setting)
    any_of_it = _from_full(h, setting, habits, digits, {k: (o.values[rows], o.written[rows]) for k, o in own}, {})
    shares = np.prod([setting.own[i].before.shares.take(rows, axis=1) for i in h.carried], axis=0)
    total = shares.sum(axis=0)
    if not total.any():
        return any_of_it
    exactly = np.zeros((len(habits.shares), len(rows)))
    for k in np.flatnonzero(shares.any(axis=1)):
        value = _by_habits(h, setting, habits, {name: o.before.values[k, rows] for name, o in own})
        exactly += np.where(shares[k] > 0, shares[k] * _gives(h, value, digits), 0.0)
    known = np.where(total > 0, BY_ITS_METHOD, 0.0)
    return np.asarray(known * exactly / np.where(total > 0, total, 1.0) + (1 - known) * any_of_it)


def _from_full(
    h: Hypothesis, setting: Setting, habits: Habits, digits: Digits, own: Written, beside: Mapping[str, Array]
) -> Array:
    """The chance of the digits written when own results were carried on as they were before they were rounded: any
    value that rounds to the digits written of them, each as likely. `beside` are taken as they are."""
    numbers, ends = digits.numbers, []
    for sign in (-1.0, 1.0):
        taken = {**{name: value + sign * half for name, (value, half) in own.items()}, **beside}
        value = _by_habits(h, setting, habits, taken)
        ends.append((value - numbers.offset) / numbers.scale)
    low, high = np.minimum(*ends), np.maximum(*ends)
    with np.errstate(all="ignore"):
        half = digits.step / np.abs(numbers.scale) / 2
        shared = np.minimum(high, numbers.written + half) - np.maximum(low, numbers.written - half)
        chance = np.where(high > low, np.clip(shared / (high - low), 0.0, 1.0), shared >= 0)
    return np.asarray(np.nan_to_num(chance))


def _only_if_told(h: Hypothesis, like: Array) -> Array:
    """Outside its envelope the right method explains nothing: the envelope decides who is right."""
    return np.zeros_like(like) if h.kind in DECIDED_BY_ENVELOPE else like


def _bounds(h: Hypothesis, setting: Setting) -> Interval:
    taken = _taken_between(h, setting)
    span = span_of(h.method, setting.between, setting.dimensions, taken, h.figures)
    ends = [h.factor.on(end, h.method.final.unit) for end in span]
    return np.minimum(*ends), np.maximum(*ends)


def _row(values: Array, rows: Rows) -> Array:
    return values.take(rows) if np.ndim(values) else values


def likeliest_before(h: Hypothesis, digits: Digits, setting: Setting) -> Before:
    """The likeliest numbers from which entries were rounded that the hypothesis explains, by every habit that gives the
    digits written."""
    names = frozenset(name for name, _ in _carried(h, setting))
    habits = setting.ways.of(h.method, names)
    shape = (len(habits.shares), len(digits.step))
    value = np.broadcast_to(_by_habits(h, setting, habits, _taken(h, setting)), shape)
    share = habits.shares[:, None] * np.broadcast_to(_gives(h, value, digits), shape)
    first = np.argsort(-share, axis=0, kind="stable")[:MOST_BEFORE]
    return Before(np.take_along_axis(value, first, axis=0), np.take_along_axis(share, first, axis=0))
