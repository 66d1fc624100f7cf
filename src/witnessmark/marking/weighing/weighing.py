"""Weighing: how likely each hypothesis is to give exactly the digits that a person wrote, against "none of these"."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.weighing.digits import Numbers, Rows, digits_of, joined, mistypings, spacing_of
from witnessmark.marking.weighing.likelihood import likelihood, likelihoods
from witnessmark.marking.weighing.screening import near_entries
from witnessmark.marking.weighing.setting import Setting, have_own, in_full, of_variants, works_from
from witnessmark.marking.weights import (
    NONE_BEYOND,
    NONE_DECADES,
    NOT_FROM_OWN,
    PRIOR_OF_KIND,
    PRIOR_OF_NONE,
    WINDOW,
)
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import half_unit

IN_ENOUGH_FIGURES = {"rounded early": "right", "carried early": "carried"}
NOT_EARLY = ("rounded early", "coarse constant", "carried")


@dataclass(frozen=True, slots=True)
class Fits:
    """Explanations of entries, as parallel arrays: entry, hypothesis, posterior.

    `none` is the posterior of "none of these", shape (n,).
    """

    row: Rows
    hypothesis: Rows
    posterior: Array
    none: Array

    def of_rows(self, rows: Rows) -> "Fits":
        """Those of these entries, each as often as it is named."""
        order = np.argsort(rows, kind="stable")
        start, end = (np.searchsorted(rows[order], self.row, side) for side in ("left", "right"))
        times = end - start
        nth = np.arange(times.sum()) - np.repeat(np.cumsum(times) - times, times)
        row = order[np.repeat(start, times) + nth]
        return Fits(row, np.repeat(self.hypothesis, times), np.repeat(self.posterior, times), self.none[rows])


@dataclass(frozen=True, slots=True)
class Weights:
    """How well hypotheses fit entries, before they are set against each other, as parallel arrays: entry, hypothesis,
    and prior times likelihood."""

    row: Rows
    hypothesis: Rows
    weight: Array

    def of_rows(self, rows: Rows) -> "Weights":
        """Those of some entries, counted among these alone."""
        place = np.full(max(self.row.max(initial=-1), rows.max(initial=-1)) + 1, -1, np.intp)
        place[rows] = np.arange(len(rows))
        kept = np.flatnonzero(place[self.row] >= 0)
        return Weights(place[self.row[kept]], self.hypothesis[kept], self.weight[kept])

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
        for indices, near in _near(numbers, setting, candidates):
            some = [candidates[index] for index in indices]
            likely = likelihoods(some, every.only(near), setting.of(some[0], near))
            for index, h, (inside, like) in zip(indices, some, likely, strict=True):
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


def _near(numbers: Numbers, setting: Setting, candidates: Sequence[Hypothesis]) -> Iterator[tuple[Sequence[int], Rows]]:
    """For the candidates of one method, with the same own results and factor, that any entry lies near: their indices,
    and those entries; what is carried on is looked for only in those who have it."""
    by_own: dict[tuple[int, ...], list[int]] = {}
    for index, h in enumerate(candidates):
        if h.kind != "digits":
            by_own.setdefault(works_from(h, setting), []).append(index)
    for own, indices in by_own.items():
        some = [candidates[index] for index in indices]
        rows = have_own(own, setting)
        if rows is not None:
            found = near_entries(numbers.only(rows), some, partial(in_full, setting=setting.only(rows)))
        elif any(h.carried for h in some):
            found = near_entries(numbers, some, partial(in_full, setting=setting))
        else:
            found = near_entries(numbers, some, partial(of_variants, setting=setting), setting.which)
        for which, near in found:
            yield [indices[i] for i in which], near if rows is None else rows.take(near)


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
    used, _ = used_of(weights.hypothesis)
    kinds = np.array([candidates[i].kind for i in used])
    slips = np.array([bool(candidates[i].method.misconceptions) for i in used], np.bool_)
    kept = weights.weight
    not_early = np.isin(kinds, NOT_EARLY)
    for kind, others in (("each rounded", slips), ("carried early", not_early)):
        if (kinds == kind).any():
            explained = np.zeros(n, np.bool_)
            explained[weights.row[np.isin(weights.hypothesis, used[others])]] = True
            yields = np.isin(weights.hypothesis, used[kinds == kind]) & explained[weights.row]
            kept = np.where(yields, 0.0, kept)
    return kept


def used_of(hypothesis: Rows) -> tuple[Rows, Rows]:
    """Which hypotheses there are among these (ascending), and which of those each of these is."""
    used = np.flatnonzero(np.bincount(hypothesis))
    place = np.zeros(int(hypothesis.max(initial=-1)) + 1, np.intp)
    place[used] = np.arange(len(used))
    return used, place[hypothesis]


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


def _mistyped(h: Hypothesis, numbers: Numbers, setting: Setting) -> Array:
    """The chance of the digits written where others were meant that the method gives, and two digits changed places, or
    one was typed twice."""
    value, rows, chances, some = in_full(h, setting), [], [], []
    with np.errstate(all="ignore"):
        for whose, meant, chance in mistypings(numbers):
            near = np.flatnonzero(np.abs(meant.si / value[whose] - 1) < WINDOW)
            rows.append(whose[near])
            chances.append(chance[near])
            some.append(meant.only(near))
    row, like = np.concatenate([*rows, np.empty(0, np.intp)]), np.zeros(len(numbers.si))
    if row.size:
        exact = replace(h, kind="edit")
        _, given = likelihood(exact, digits_of(joined(some)), setting.of(h, row))
        np.add.at(like, row, np.concatenate(chances) * given)
    return like


def room_of(values: Array, unit_name: str, figures: Array, least: int) -> Array:
    """Half a unit (SI) of the last figure carried on: of the figures written, or of `least` if those are fewer."""
    u = unit(unit_name)
    return half_unit((values - u.offset) / u.scale, np.minimum(figures, least)) * abs(u.scale)
