"""The class-wide search for wrong methods that the bank does not know.

Students had different numbers, so one formula that gives several answers at once names a shared method. Searched are
all workings within two changes of the right one (`variations.py`) and products of powers of the givens with small
constants (`product_forms.py`), among answers that nothing explains and those that something explains, but not surely.

A formula is ranked by its log odds: what the answers that it gives are likelier from it than from nothing, less its
description length in nats, less what it takes to say which answers share it. Each answer counts by what of it is not
explained already. A formula is reported only when at least three students fit it and the odds pass a stated level.
With it goes the expected number of accidental fits: how many findings as good as this one all formulas tried would
bring at most if nothing but chance stood behind the answers.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from witnessmark.marking.search.changes import Context
from witnessmark.marking.search.habit_fits import UNLISTED, HabitFits
from witnessmark.marking.search.near_fits import NearFits
from witnessmark.marking.search.product_fits import PI_ROOM, ProductFits
from witnessmark.marking.search.product_forms import (
    Forms,
    Powers,
    forms_near,
    logs_of_names,
    powers_of,
    product_tree,
)
from witnessmark.marking.search.samples import Sample
from witnessmark.marking.search.shared_odds import (
    LEAST_STUDENTS,
    Rows,
    shared_odds,
)
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.variations import Variations
from witnessmark.marking.weighing.habits import Habits, habits
from witnessmark.marking.weights import GOES_ON_AS_TYPED
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Binary, Number, Tree, names_alone
from witnessmark.maths.tidying import tidied
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.evaluation import can_work, names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, fits_dimension, methods_at
from witnessmark.questions.working.working import AskedNumber

LINE_ROOM = 0.0026
"""How far lines that are rounded to three figures may move a result, as common logarithms."""
NEAR_RIVAL = 3.0
"""A formula with odds at most e^3 (about 20) times smaller is named beside the one that is reported."""
MOST_RIVALS = 2
MOST_SAMPLED = 12


@dataclass(frozen=True, slots=True)
class UnknownMethod:
    """A formula that several unexplained answers share.

    `done` tells an edit of the right method in words that follow "as if", `beside` the ratio to the right method where
    both are products of powers. `answer` is what to type for a slip: the formula, with a power of ten where all who fit
    have one. `who` fits it, of so many answers. `accidental` is how many findings as good as this one are expected at
    most where no answer has a method, of all the `tried` formulas together. `rivals` are other formulas that fit
    nearly as well.
    """

    key: str
    formula: Tree
    done: tuple[str, ...]
    power: int
    who: tuple[str, ...]
    log_odds: float
    accidental: float
    answer: Tree
    beside: Tree | None
    tried: int
    answers: int
    rivals: tuple[Tree, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class _Fit:
    """A method with the answers that it fits (indices), the power of ten between, and what it gives as logarithms."""

    method: Method
    done: tuple[str, ...]
    power: int
    mine: Rows
    log_odds: float
    logs: Array
    beside: Tree | None = None


@dataclass(slots=True)
class _Looked:
    """Answers with what was worked out of them all, for when some of them are looked at again."""

    answers: Unexplained
    near: NearFits | None = None
    by_habits: dict[bool, HabitFits] = field(default_factory=dict)
    products: dict[tuple[str, ...], ProductFits] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Left:
    """Those of the answers that are looked at (indices): with their names in full, and what each gains."""

    looked: _Looked
    left: Rows
    answers: Unexplained
    full: Mapping[str, Array]
    gains: Array


class Search:
    """The search at one place, prepared once: which products and changed workings there are, and their lengths."""

    def __init__(self, question: Question, place: NumberPlace) -> None:
        self.question, self.place = question, place
        self._known = dimensions(question)
        self._methods = methods_at(place, self._known)
        self._right = self._methods[0]
        self._variations = self._varied()
        self._forms: dict[tuple[str, ...], tuple[Forms, Powers | None]] = {}

    def find_all(self, answers: Unexplained) -> tuple[UnknownMethod, ...]:
        """Every formula that the answers share, the best first; no answer is counted for two of them."""
        found: list[UnknownMethod] = []
        looked = _Looked(answers.usable())
        left = np.arange(len(looked.answers.si))
        while (best := self._find(looked, left)) is not None:
            found.append(best)
            has_found = set(best.who)
            left = np.array([n for n in left.tolist() if looked.answers.who[n] not in has_found], np.intp)
        return tuple(found)

    def find(self, answers: Unexplained) -> UnknownMethod | None:
        """The formula that explains the most of these answers beyond doubt, or None."""
        looked = _Looked(answers.usable())
        return self._find(looked, np.arange(len(looked.answers.si)))

    def _find(self, looked: "_Looked", left: Rows) -> UnknownMethod | None:
        """The same of those answers that are `left`."""
        if len(left) < LEAST_STUDENTS:
            return None
        answers = looked.answers.only(np.isin(np.arange(len(looked.answers.si)), left))
        full = self._names(answers)
        gains = answers.gains(np.broadcast_to(number_of(self._right, full, self._known), answers.si.shape))
        of = _Left(looked, left, answers, full, gains)
        fits = [*self._by_changes(of), *self._by_products(of)]
        best = max(fits, key=lambda f: f.log_odds, default=None)
        return None if best is None else self._reported(best, fits, answers, full)

    def _varied(self) -> Variations | None:
        """The changed workings, planned on a sample of variants; None where there is no sample of numbers."""
        names = names_of_sample(self.question)
        size = min(MOST_SAMPLED, max(np.size(v) for v in names.values()))
        columns = {n: np.broadcast_to(v, (max(np.size(v), size),))[:size] for n, v in names.items()}
        if not can_work(self._right, columns):
            return None
        known = [self._known_values(m, columns, size) for m in self._methods if can_work(m, columns)]
        sample = Sample(columns, {n: np.array(d.powers) for n, d in self._known.items()}, size)
        asked = np.array(unit(self.place.asked.unit).dimension.powers)
        return Variations(self._right, sample, Context(self._known, self._others(columns)), asked, known)

    def _known_values(self, method: Method, columns: Mapping[str, Array], size: int) -> Array:
        return np.broadcast_to(number_of(method, columns, self._known), (size,))

    def _others(self, columns: Mapping[str, Array]) -> tuple[str, ...]:
        """The names that may stand in for others: givens, cells that the question uses, results of earlier parts."""
        names, _ = logs_of_names(self.question, self._right, self.place, columns, len(next(iter(columns.values()))))
        earlier: list[str] = []
        for part in self.question.quantities:
            if part.key == self.place.part.key:
                break
            earlier += (name for name in names_of(part) if name not in self.question.cells)
        found = dict.fromkeys([*names, *self.question.stand_ins(names_alone(self._right.formula)), *earlier])
        return tuple(n for n in found if n in columns and n != "g")

    def _names(self, answers: Unexplained) -> dict[str, Array]:
        """Every name in full, with the students' own earlier results where those were wrong."""
        full = names_in_full(self.question, answers.givens)
        return full | {n: np.where(np.isnan(v), full[n], v) for n, v in answers.own.items() if n in full}

    def _reported(
        self, best: _Fit, fits: Sequence[_Fit], answers: Unexplained, full: Mapping[str, Array]
    ) -> UnknownMethod:
        forms, _ = self._forms_of(answers, full)
        who = tuple(answers.who[i] for i in best.mine)
        tried = forms.count + (self._variations.count if self._variations else 0)
        return UnknownMethod(
            self.place.key, tidied(best.method.formula), best.done, best.power, who, best.log_odds,
            by_accident(best.log_odds, len(best.mine)),
            self._answer(best, full), best.beside, tried, len(answers.si), _rivals(best, fits),
        )  # fmt: skip

    def _answer(self, fit: _Fit, full: Mapping[str, Array]) -> Tree:
        """What to type for a slip. One of the wrong dimension is worked as bare numbers, in metres or in millimetres;
        the system that leaves the smaller power of ten is taken."""
        power = fit.power
        if not fits_dimension(fit.method, self._known):
            in_metres, in_millimetres = (
                number_of(replace(fit.method, millimetres=mm), full, self._known) for mm in (False, True)
            )
            other = power - round(float(np.ravel(np.log10(np.abs(in_millimetres / in_metres)))[0]))
            power = min(power, other, key=abs)
        formula = tidied(fit.method.formula)
        if not power:
            return formula
        return tidied(Binary("*" if power > 0 else "/", formula, Number(str(10 ** abs(power)))))

    def _by_changes(self, of: "_Left") -> Iterator[_Fit]:
        varied = self._variations
        if varied is None:
            return
        whole, still = of.looked, of.answers.still()
        near = whole.near = whole.near or NearFits(varied, whole.answers, self._names(whole.answers), self._room())
        fitting = self._fitting(of)
        for row in near.likely_rows(of.left, of.gains, still):
            known = fitting.known(row)
            method = known[0] if known else varied.method(row)
            logs, like, powers = (a[of.left] for a in (known[1] if known else fitting.look(row, method)))
            if (scored := shared_odds(like * of.gains, powers, float(varied.costs[row]), still)) is not None:
                yield _Fit(method, tuple(c.form.done for c in varied.done(row)), *scored, logs)

    def _fitting(self, of: "_Left") -> HabitFits:
        """What was worked out of the answers by every habit; anew where none is left that has a typed result."""
        as_typed = any(np.isfinite(v).any() for v in of.answers.typed.values())
        if as_typed not in of.looked.by_habits:
            whole = of.looked.answers
            of.looked.by_habits[as_typed] = HabitFits(whole, self._ways(whole, as_typed), self._known, self._room())
        return of.looked.by_habits[as_typed]

    def _room(self) -> float:
        """How far habits of rounding on the way may move a result, as common logarithms."""
        return LINE_ROOM if self._right.steps or self.place.part.carries else 2 * PI_ROOM

    def _ways(self, answers: Unexplained, as_typed: bool) -> Habits:
        """Every habit of working, from the students' own earlier results where those were wrong; from right ones as the
        habit has them, or as they were typed."""
        ways = habits(self.question, answers.givens)
        own = {n: np.where(np.isnan(v), ways.names[n], v) for n, v in answers.own.items() if n in ways.names}
        names = ways.names | own
        typed = {n: np.where(np.isnan(v), names[n], v) for n, v in answers.typed.items() if n in names}
        if not as_typed:
            return Habits(ways.shares, ways.figures, names)
        shares = np.concatenate([(1 - GOES_ON_AS_TYPED) * ways.shares, GOES_ON_AS_TYPED * ways.shares])
        both = {n: np.concatenate([v, typed.get(n, v)]) for n, v in names.items()}
        return Habits(shares, np.concatenate([ways.figures, ways.figures]), both)

    def _by_products(self, of: "_Left") -> Iterator[_Fit]:
        if unit(self.place.asked.unit).offset:
            return
        names, logs = logs_of_names(self.question, self._right, self.place, of.full, len(of.left))
        forms, right = self._forms_of(of.answers, of.full)
        if names not in of.looked.products:
            of.looked.products[names] = self._products(of.looked.answers, names, forms)
        for row, column, scored in of.looked.products[names].shared(of.left, of.gains, of.answers.still()):
            asked = self.place.asked
            final = AskedNumber(asked.key, forms.tree(row, column), asked.unit, asked.figures)
            given = forms.exponents[row] @ logs + forms.logs[column]
            yield _Fit(Method((), final), (), *scored, given, _ratio(forms, row, column, right))

    def _products(self, answers: Unexplained, names: Sequence[str], forms: Forms) -> ProductFits:
        full = self._names(answers)
        with np.errstate(all="ignore"):
            logs = [np.broadcast_to(np.log10(np.abs(full[name])), answers.si.shape) for name in names]
        return ProductFits(forms, np.array(logs).reshape(len(names), len(answers.si)), answers)

    def _forms_of(self, answers: Unexplained, full: Mapping[str, Array]) -> tuple[Forms, Powers | None]:
        names, logs = logs_of_names(self.question, self._right, self.place, full, len(answers.si))
        if names not in self._forms:
            right = powers_of(self._right, names, full, logs)
            self._forms[names] = forms_near(names, right), right
        return self._forms[names]


def _ratio(forms: Forms, row: int, column: int, right: Powers | None) -> Tree | None:
    """A product over the right method, as a product of powers; None where that is none."""
    if right is None or right.constant is None:
        return None
    pi, two = (f - r for f, r in zip(forms.constants[column], right.constant, strict=True))
    powers = [f - r for f, r in zip(forms.exponents[row].tolist(), right.of_names, strict=True)]
    return product_tree((pi, two), powers, forms.names)


def _rivals(best: _Fit, fits: Sequence[_Fit]) -> tuple[Tree, ...]:
    """Other formulas for these answers with odds nearly as good, that are not the same number everywhere."""
    found: list[_Fit] = []
    for fit in sorted(fits, key=lambda f: -f.log_odds):
        near = fit.log_odds >= best.log_odds - NEAR_RIVAL and len(np.intersect1d(fit.mine, best.mine)) > 0
        if near and not any(_alike(fit.logs, other.logs) for other in (best, *found)):
            found.append(fit)
    return tuple(tidied(f.method.formula) for f in found[:MOST_RIVALS])


def _alike(one: Array, other: Array) -> bool:
    """True of numbers that are one power of ten apart everywhere."""
    with np.errstate(all="ignore"):
        apart = one - other
    return bool(np.allclose(apart, np.round(apart), atol=1e-6) and np.ptp(np.round(apart)) == 0)


def by_accident(log_odds: float, sharers: int) -> float:
    """How many findings of at least these log odds are expected at most of answers without a method.

    Odds against chance are a ratio of likelihoods, whose mean under chance is at most 1 over all formulas with their
    shares; so it is e^L at most once in e^L searches (Markov's inequality). Digits that lie near are a share beside
    those that fit, for each who shares.
    """
    return math.exp(-log_odds) * (1 + UNLISTED) ** sharers
