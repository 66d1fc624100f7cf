"""Weighing: how likely each hypothesis is to give exactly the digits that a person wrote, against "none of these"."""

import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.marking.hypotheses.hypotheses import Factor, Hypothesis
from witnessmark.marking.weighing.habits import Habits, Own, Ways
from witnessmark.marking.weights import (
    CARRIED_IN_FULL,
    NONE_BEYOND,
    NONE_DECADES,
    NOT_FROM_OWN,
    PRIOR_OF_NONE,
    WINDOW,
)
from witnessmark.maths.compiled import Array
from witnessmark.maths.intervals import Interval
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import FLOAT_ROOM, half_unit, rounding_room, to_figures
from witnessmark.questions.working.evaluation import number_of, span_of

Rows = npt.NDArray[np.intp]
MOST_AT_ONCE = 50_000  # entries weighed at once for one hypothesis, to bound memory
UNLISTED_HABIT = 0.02  # share of roundings that no listed habit makes, spread evenly over the envelope


@dataclass(frozen=True, slots=True)
class Numbers:
    """Entries of one place as numbers, all of shape (n,): SI values, the numbers as written, their figures, and the
    scale and offset of the unit they were written in (SI = number * scale + offset)."""

    si: Array
    written: Array
    figures: Array
    scale: Array
    offset: Array

    def only(self, rows: Rows) -> "Numbers":
        """These rows of it."""
        columns = (self.si, self.written, self.figures, self.scale, self.offset)
        return Numbers(*(c[rows] for c in columns))


@dataclass(frozen=True, slots=True)
class Digits:
    """Entries with what their digits allow: the step of the last digit (SI), and the ends between which a number in the
    unit written lies that is rounded to these digits; all of shape (n,)."""

    numbers: Numbers
    step: Array
    low: Array
    high: Array

    def only(self, rows: Rows) -> "Digits":
        """These rows of it."""
        return Digits(self.numbers.only(rows), self.step[rows], self.low[rows], self.high[rows])


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
            tuple(Own(o.names, o.values[rows], o.half[rows], o.written[rows]) for o in self.own),
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


def weigh(numbers: Numbers, setting: Setting, candidates: Sequence[Hypothesis], right: Array) -> Fits:
    """Every hypothesis that fits each entry, with posteriors; `right` are the right values in full (SI), shape (n,)."""
    rows: list[Rows] = []
    which: list[Rows] = []
    weights: list[Array] = []
    cache: dict[tuple[int, tuple[int, ...]], _Distances] = {}
    room = rounding_room(numbers.written, numbers.figures)
    with np.errstate(all="ignore"):
        size, sign = np.log(np.abs(numbers.si)), np.sign(numbers.si)
        step = 2 * half_unit(numbers.written, numbers.figures) * np.abs(numbers.scale)
    for index, h in enumerate(candidates):
        key = (id(h.method), h.carried)
        if key not in cache:
            cache[key] = _distances(size, sign, _in_full(h, setting))
        near = cache[key].near(h.factor)
        if near.size:
            digits = Digits(numbers.only(near), step[near], room[0][near], room[1][near])
            inside, like = _likelihood(h, digits, setting.only(near, h.method.names_in_trees))
            kept = np.flatnonzero(inside | (like > 0))
            rows.append(near[kept])
            which.append(np.full(kept.size, index))
            weights.append(like[kept] * h.prior * _from_own(h, setting, near[kept]))
    return _normalised(numbers, right, rows, which, weights)


def _normalised(numbers: Numbers, right: Array, rows: list[Rows], which: list[Rows], weights: list[Array]) -> Fits:
    row = np.concatenate([*rows, np.empty(0, np.intp)]).astype(np.intp)
    hypothesis = np.concatenate([*which, np.empty(0, np.intp)]).astype(np.intp)
    weight = np.concatenate([*weights, np.empty(0)])
    none = PRIOR_OF_NONE * likelihood_of_none(numbers, right)
    total = none.copy()
    np.add.at(total, row, weight)
    with np.errstate(all="ignore"):
        posterior = weight / total[row]
        none = np.where(total > 0, none / total, 1.0)
    return Fits(row, hypothesis, posterior, none)


def likelihood_of_none(numbers: Numbers, right: Array) -> Array:
    """The chance of exactly these digits when no method stands behind them: log-uniform, ten times each way."""
    with np.errstate(all="ignore"):
        spacing = 2 * half_unit(numbers.written, numbers.figures) / np.abs(numbers.written)
        within = np.abs(np.log10(np.abs(numbers.si / right))) <= NONE_DECADES / 2
        density = np.where(within, 1.0, NONE_BEYOND) / (NONE_DECADES * np.log(10))
    return np.asarray(np.nan_to_num(spacing * density, nan=1e-6, posinf=1e-6) + 1e-12)


def _from_own(h: Hypothesis, setting: Setting, rows: Rows) -> Array:
    """How far a hypothesis is held back where it passes over a student's own wrong results."""
    factor = np.ones(rows.size)
    for index, own in enumerate(setting.own):
        if index not in h.carried:
            factor = np.where(np.isfinite(own.values[rows]), factor * NOT_FROM_OWN, factor)
    return factor


LOG_TEN = math.log(10)


@dataclass(frozen=True, slots=True)
class _Distances:
    """How far entries lie from a method's values (natural logarithm; nan where the signs differ), and which of them lie
    within the window of a power of ten of it, with that power."""

    apart: Array
    rows: Rows
    powers: Array

    def near(self, factor: Factor) -> Rows:
        """The entries within the window of the method's value times a factor."""
        if factor.conversion:
            with np.errstate(all="ignore"):
                return np.flatnonzero(np.abs(self.apart - math.log(factor.value)) < WINDOW)
        return np.asarray(self.rows[self.powers == factor.power])


def _distances(size: Array, sign: Array, value: Array) -> _Distances:
    with np.errstate(all="ignore"):
        apart = np.where(sign == np.sign(value), size - np.log(np.abs(value)), np.nan)
        powers = np.rint(apart / LOG_TEN)
        rows = np.flatnonzero(np.abs(apart - powers * LOG_TEN) < WINDOW)
    return _Distances(apart, rows, powers[rows])


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
    like = _share_of_habits(h, digits, setting)
    if h.cut_off:
        return np.zeros_like(inside), like
    with np.errstate(all="ignore"):
        even = UNLISTED_HABIT * np.minimum(1.0, step / (high - low + step))
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
        gives = _cut_to_digits(value, some.numbers, h.method.final.figures) if h.cut_off else _gives_digits(value, some)
        if h.carried and not h.cut_off:
            from_full = _from_full(h, setting, habits, rows, some)
            gives = CARRIED_IN_FULL * from_full + (1 - CARRIED_IN_FULL) * gives
        like[rows] = _shared(habits.shares, np.broadcast_to(gives, (kinds, len(rows))))
        if h.figures is not None:
            same = _gives_fewer(value, some.numbers, h.figures)
            like[rows] += _shared(habits.shares, np.broadcast_to(same, (kinds, len(rows))))
    return like


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
    return np.zeros_like(like) if h.method.is_right else like


def _bounds(h: Hypothesis, setting: Setting) -> Interval:
    taken = _taken_between(h, setting)
    ends = [end * h.factor.value for end in span_of(h.method, setting.between, setting.dimensions, taken, h.figures)]
    return np.minimum(*ends), np.maximum(*ends)


def _gives_digits(value: Array, digits: Digits) -> Array:
    """1.0 where the value, rounded to the figures written in the unit written, is the number written."""
    with np.errstate(all="ignore"):
        number = (value - digits.numbers.offset) / digits.numbers.scale
        return np.asarray((number >= digits.low) & (number <= digits.high), dtype=np.float64)


def _cut_to_digits(value: Array, numbers: Numbers, least: int) -> Array:
    """1.0 where the value in the unit written begins with the digits written, at least as many as asked, and would be
    rounded up to other ones."""
    with np.errstate(all="ignore"):
        share = (value - numbers.offset) / numbers.scale / numbers.written - 1
        half = half_unit(numbers.written, numbers.figures) / np.abs(numbers.written)
        cut = (share >= half) & (share < 2 * half) & (numbers.figures >= least)
    return np.asarray(cut, dtype=np.float64)


def _gives_fewer(value: Array, numbers: Numbers, figures: int) -> Array:
    """1.0 where the value, rounded to so many figures in the unit written, is the number written."""
    with np.errstate(all="ignore"):
        number = (value - numbers.offset) / numbers.scale
        same = np.abs(to_figures(number, figures) / numbers.written - 1) < FLOAT_ROOM
    return np.asarray(same, dtype=np.float64)


def _row(values: Array, rows: Rows) -> Array:
    return values[rows] if np.ndim(values) else values


def room_of(values: Array, unit_name: str, figures: Array, least: int) -> Array:
    """Half a unit (SI) of the last figure carried on: of the figures written, or of `least` if those are fewer."""
    u = unit(unit_name)
    return half_unit((values - u.offset) / u.scale, np.minimum(figures, least)) * abs(u.scale)
