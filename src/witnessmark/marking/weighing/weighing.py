"""Weighing: how likely each hypothesis is to give exactly the digits that a person wrote, against "none of these"."""

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weighing.digits import (
    Digits,
    Numbers,
    Rows,
    cut_to_digits,
    digits_of,
    gives_fewer,
    joined,
    mistypings,
    spacing_of,
)
from witnessmark.marking.weighing.habits import IN_FULL, Habits, Own, Ways
from witnessmark.marking.weighing.screening import near_entries
from witnessmark.marking.weights import (
    CARRIED_IN_FULL,
    CUT_OFF,
    EACH_ROUNDED,
    GOES_ON_AS_TYPED,
    NONE_BEYOND,
    NONE_DECADES,
    NOT_FROM_OWN,
    PRIOR_OF_KIND,
    PRIOR_OF_NONE,
    WINDOW,
)
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import half_unit
from witnessmark.maths.stepwise import each_rounded
from witnessmark.questions.working.evaluation import number_of, span_of

Truth = npt.NDArray[np.bool_]
MOST_AT_ONCE = 50_000  # entries weighed at once for one hypothesis, to bound memory
DECIDED_BY_ENVELOPE = frozenset({"right", "carried", "rounded early", "carried early", "other g"})
IN_ENOUGH_FIGURES = {"rounded early": "right", "carried early": "carried"}
UNLISTED_HABIT = 0.02  # share of roundings that no listed habit makes, spread evenly over the envelope


@dataclass(frozen=True, slots=True)
class Setting:
    """What is known at one place: names in full and between bounds, ways of working, own earlier results,
    dimensions."""

    names: dict[str, Array]
    between: dict[str, Interval]
    ways: Ways
    own: tuple[Own, ...]
    dimensions: dict[str, Dimension]

    def only(self, rows: Rows, needed: Container[str] | None = None) -> "Setting":
        """These rows of it, and only the names that are needed where those are said."""
        between = {k: ends for k, ends in self.between.items() if needed is None or k in needed}
        return Setting(
            {k: _row(v, rows) for k, v in self.names.items() if needed is None},
            {k: (_row(low, rows), _row(high, rows)) for k, (low, high) in between.items()},
            self.ways.only(rows),
            tuple(o.only(rows) for o in self.own),
            self.dimensions,
        )


@dataclass(frozen=True, slots=True)
class Fits:
    """Explanations of entries, as parallel arrays: entry, hypothesis, posterior.

    `none` is the posterior of "none of these", shape (n,).
    """

    row: Rows
    hypothesis: Rows
    posterior: Array
    none: Array


@dataclass(frozen=True, slots=True)
class Weights:
    """How well hypotheses fit entries, before they are set against each other, as parallel arrays: entry, hypothesis,
    and prior times likelihood."""

    row: Rows
    hypothesis: Rows
    weight: Array

    def of_rows(self, rows: Rows) -> "Weights":
        """Those of some entries (ascending), counted among these alone."""
        kept = np.isin(self.row, rows)
        return Weights(np.searchsorted(rows, self.row[kept]), self.hypothesis[kept], self.weight[kept])

    def beside(self, first: "Weights", count: int) -> "Weights":
        """These behind the first ones, which are of so many hypotheses."""
        return Weights(
            np.concatenate([first.row, self.row]),
            np.concatenate([first.hypothesis, self.hypothesis + count]),
            np.concatenate([first.weight, self.weight]),
        )


def weights_of(numbers: Numbers, setting: Setting, candidates: Sequence[Hypothesis]) -> Weights:
    """How well every hypothesis that fits does so, in the order of the hypotheses."""
    every = digits_of(numbers)
    found: dict[int, tuple[Rows, Array]] = {}
    with np.errstate(all="ignore"):
        for index, near in near_entries(numbers, candidates, lambda h: _in_full(h, setting)):
            h = candidates[index]
            if h.kind == "digits":
                continue
            inside, like = _likelihood(h, every.only(near), setting.only(near, h.method.names_in_trees))
            kept = np.flatnonzero(inside | (like > 0))
            prior = _prior(h, numbers.figures[near[kept]])
            found[index] = near[kept], like[kept] * prior * _from_own(h, setting, near[kept])
        for index, h in enumerate(candidates):
            if h.kind == "digits":
                like = _mistyped(h, numbers, setting)
                rows = np.flatnonzero(like > 0)
                found[index] = rows, like[rows] * h.prior * _from_own(h, setting, rows)
    order = sorted(found)
    row = np.concatenate([*(found[i][0] for i in order), np.empty(0, np.intp)]).astype(np.intp)
    which = np.repeat(np.array(order, np.intp), [found[i][0].size for i in order])
    return Weights(row, which, np.concatenate([*(found[i][1] for i in order), np.empty(0)]))


def fits_of(weights: Weights, numbers: Numbers, candidates: Sequence[Hypothesis], right: Array) -> Fits:
    """The posteriors that follow from weights: of each hypothesis, and of none of these."""
    weight = _kept_apart(weights, candidates, len(numbers.si))
    none = PRIOR_OF_NONE * likelihood_of_none(numbers, right)
    total = none.copy()
    np.add.at(total, weights.row, weight)
    with np.errstate(all="ignore"):
        posterior = weight / total[weights.row]
        none = np.where(total > 0, none / total, 1.0)
    return Fits(weights.row, weights.hypothesis, posterior, none)


def _kept_apart(weights: Weights, candidates: Sequence[Hypothesis], n: int) -> Array:
    """The weights, nothing left of a rounding of every operation where a slip gives the same digits, nor of an early
    rounding of own results where one of the right results does, or own results that nobody rounded early."""
    used = np.unique(weights.hypothesis)
    kinds = np.array([candidates[i].kind for i in used])
    slips = np.array([bool(candidates[i].method.misconceptions) for i in used], np.bool_)
    kept = weights.weight
    not_early = (kinds == "rounded early") | (kinds == "carried")
    for kind, others in (("each rounded", slips), ("carried early", not_early)):
        if (kinds == kind).any():
            explained = np.zeros(n, np.bool_)
            explained[weights.row[np.isin(weights.hypothesis, used[others])]] = True
            yields = np.isin(weights.hypothesis, used[kinds == kind]) & explained[weights.row]
            kept = np.where(yields, 0.0, kept)
    return kept


def likelihood_of_none(numbers: Numbers, right: Array) -> Array:
    """The chance of exactly these digits when no method stands behind them: log-uniform, ten times each way,
    and seldom of the other sign."""
    with np.errstate(all="ignore"):
        spacing = spacing_of(numbers)
        within = np.abs(np.log10(np.abs(numbers.si / right))) <= NONE_DECADES / 2
        within &= np.sign(numbers.si) == np.sign(right)
        density = np.where(within, 1.0, NONE_BEYOND) / (NONE_DECADES * np.log(10))
    return np.asarray(np.nan_to_num(spacing * density, nan=1e-6, posinf=1e-6) + 1e-12)


def _prior(h: Hypothesis, figures: Array) -> Array:
    """The prior for each entry of so many figures: who gives fewer than were asked need have rounded nothing but the
    result, so that early is as likely then as right is among those who give enough."""
    if h.figures is None or h.kind not in IN_ENOUGH_FIGURES:
        return np.full(figures.size, h.prior)
    enough = h.prior / PRIOR_OF_KIND[h.kind] * PRIOR_OF_KIND[IN_ENOUGH_FIGURES[h.kind]]
    return np.where(figures < h.method.final.figures, enough, h.prior)


def _from_own(h: Hypothesis, setting: Setting, rows: Rows) -> Array:
    """How far a hypothesis is held back where it passes over a student's own wrong results."""
    factor = np.ones(rows.size)
    for index, own in enumerate(setting.own):
        if index not in h.carried:
            factor = np.where(np.isfinite(own.values[rows]), factor * NOT_FROM_OWN, factor)
    return factor


def _taken(h: Hypothesis, setting: Setting) -> dict[str, Array]:
    return {name: setting.own[i].values for i in h.carried for name in setting.own[i].names}


def _taken_between(h: Hypothesis, setting: Setting) -> dict[str, Interval]:
    own = [setting.own[i] for i in h.carried]
    return {name: (o.values - o.half, o.values + o.half) for o in own for name in o.names}


def _in_full(h: Hypothesis, setting: Setting) -> Array:
    """What the method gives in full, shape (n,)."""
    result = number_of(h.method, setting.names, setting.dimensions, _taken(h, setting))
    sizes = [np.shape(v) for v in setting.names.values()] + [np.shape(o.values) for o in setting.own]
    return np.broadcast_to(result, max([*sizes, np.shape(result)], key=len))


def _by_habits(h: Hypothesis, setting: Setting, habits: Habits, taken: Mapping[str, Array]) -> Array:
    """What the hypothesis gives by each habit from these own results, shape (H, n)."""
    return number_of(h.method, habits.names, setting.dimensions, taken, habits.figures) * h.factor.value


def _likelihood(h: Hypothesis, digits: Digits, setting: Setting) -> tuple[npt.NDArray[np.bool_], Array]:
    low, high = _bounds(h, setting)
    si, step = digits.numbers.si, digits.step
    inside = (si >= low) & (si <= high)
    if h.kind == "each rounded":
        return np.zeros_like(inside), _share_of_each_rounded(h, digits, setting)
    like = _share_of_habits(h, digits, setting)
    if h.cut_off:
        return np.zeros_like(inside), like
    with np.errstate(all="ignore"):
        even = UNLISTED_HABIT * digits.share[0] * np.minimum(1.0, step / (high - low + step))
    return inside, np.where(inside, np.maximum(like, np.nan_to_num(even)), _only_if_told(h, like))


def _share_of_habits(h: Hypothesis, digits: Digits, setting: Setting) -> Array:
    """The share of habits by which the hypothesis gives exactly the digits written; in pieces, to bound memory."""
    size, names = len(digits.step), {name for i in h.carried for name in setting.own[i].names}
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
        for which, typed in _as_typed(h, setting, rows):
            from_own = {**typed, **{k: v[which] for k, v in taken.items()}}
            as_typed = _gives(h, _by_habits(h, setting, habits.only(which), from_own), some.only(which))
            gives = np.array(np.broadcast_to(gives, (kinds, len(rows))))
            gives[:, which] = GOES_ON_AS_TYPED * as_typed + (1 - GOES_ON_AS_TYPED) * gives[:, which]
        if h.carried and not h.cut_off:
            from_full = _from_full(h, setting, habits, rows, some)
            gives = CARRIED_IN_FULL * from_full + (1 - CARRIED_IN_FULL) * gives
        like[rows] = _shared(habits.shares, np.broadcast_to(gives, (kinds, len(rows))))
        if h.figures is not None:
            same = gives_fewer(value, some.numbers, h.figures)
            like[rows] += _shared(habits.shares, np.broadcast_to(same, (kinds, len(rows))))
    return like


def _gives(h: Hypothesis, value: Array, digits: Digits) -> Array:
    """The chance of the digits written where the method gave this value, (H, n)."""
    if h.cut_off:
        return cut_to_digits(value, digits.numbers, h.method.final.figures)
    rounded = digits.given_by(value)
    if h.kind in DECIDED_BY_ENVELOPE:
        return rounded
    return (1 - CUT_OFF) * rounded + CUT_OFF * cut_to_digits(value, digits.numbers, 1)


def _used_and_right(h: Hypothesis, setting: Setting) -> list[Own]:
    return [o for i, o in enumerate(setting.own) if i not in h.carried and not h.method.uses.isdisjoint(o.names)]


def _as_typed(h: Hypothesis, setting: Setting, rows: Rows) -> Iterator[tuple[Rows, dict[str, Array]]]:
    """The right earlier results that the method uses, as they were typed: for each set of these that some of the rows
    have, where these rows stand among all, and the values."""
    own = _used_and_right(h, setting)
    if not any(o.is_typed.any() for o in own):
        return
    typed = np.stack([o.is_typed[rows] for o in own], axis=1)
    for some in np.unique(typed, axis=0):
        which = np.flatnonzero((typed == some).all(axis=1))
        if some.any():
            names = [(name, o) for o, has in zip(own, some, strict=True) if has for name in o.names]
            yield which, {name: o.typed[rows[which]] for name, o in names}


def _mistyped(h: Hypothesis, numbers: Numbers, setting: Setting) -> Array:
    """The chance of the digits written where others were meant that the method gives, and two digits changed places, or
    one was typed twice."""
    value, rows, chances, some = _in_full(h, setting), [], [], []
    with np.errstate(all="ignore"):
        for meant, chance in mistypings(numbers):
            near = np.flatnonzero((chance > 0) & (np.abs(meant.si / value - 1) < WINDOW))
            rows.append(near)
            chances.append(chance[near])
            some.append(meant.only(near))
    row, like = np.concatenate([*rows, np.empty(0, np.intp)]), np.zeros(len(numbers.si))
    if row.size:
        exact = replace(h, kind="edit")
        _, given = _likelihood(exact, digits_of(joined(some)), setting.only(row, h.method.names_in_trees))
        np.add.at(like, row, np.concatenate(chances) * given)
    return like


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


def _from_full(h: Hypothesis, setting: Setting, habits: Habits, rows: Rows, digits: Digits) -> Array:
    """The chance of the digits written when own results were carried on as they were before they were rounded: any
    value that rounds to the digits written of them, each as likely."""
    own = [(name, setting.own[i]) for i in h.carried for name in setting.own[i].names]
    numbers, ends = digits.numbers, []
    for sign in (-1.0, 1.0):
        taken = {name: o.values[rows] + sign * o.written[rows] for name, o in own}
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
    ends = [end * h.factor.value for end in span_of(h.method, setting.between, setting.dimensions, taken, h.figures)]
    return np.minimum(*ends), np.maximum(*ends)


def _row(values: Array, rows: Rows) -> Array:
    return values[rows] if np.ndim(values) else values


def room_of(values: Array, unit_name: str, figures: Array, least: int) -> Array:
    """Half a unit (SI) of the last figure carried on: of the figures written, or of `least` if those are fewer."""
    u = unit(unit_name)
    return half_unit((values - u.offset) / u.scale, np.minimum(figures, least)) * abs(u.scale)
