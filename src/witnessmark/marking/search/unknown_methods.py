"""The class-wide search for wrong methods that the bank does not know.

Students had different numbers, so one formula that gives several unexplained answers at once names a shared method.
Searched are products of powers of the givens with small constants, and edits of the right method, one and two deep.
A formula is reported only when at least three students fit it and its odds pass a stated level. With it goes the
expected number of accidental fits: how many of all formulas tried would fit as many of these answers if nothing but
chance stood behind them.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from witnessmark.marking.search.product_forms import (
    COST_OF_STEP,
    Forms,
    Powers,
    forms_near,
    logs_of_names,
    powers_of,
    product_tree,
)
from witnessmark.marking.search.shared_odds import LEAST_STUDENTS, Rows, by_accident, shared_odds
from witnessmark.marking.weighing.habits import Habits, habits
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import half_unit, to_figures
from witnessmark.maths.syntax import Binary, Number, Tree
from witnessmark.maths.tidying import tidied
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import Edited, edited_at, edited_twice
from witnessmark.questions.working.evaluation import can_work, names_in_full, number_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, fits_dimension, methods_at
from witnessmark.questions.working.working import AskedNumber

SAME_DIGITS = 1e-9
MOST_DOUBLE_EDITS = 200
FITS = 0.85
"""The chance that a student who used the formula wrote exactly its digits, or their neighbours by 3.14 for pi."""
PI_ROOM = 0.00051
"""How far 3.14 and 22/7 lie apart, as common logarithms."""
NEAR_RIVAL = 3.0
"""A formula with odds at most e^3 (about 20) times smaller is named beside the one that is reported."""
MOST_RIVALS = 2
AT_ONCE = 4_000_000
"""How many numbers of the search are held at once."""


@dataclass(frozen=True, slots=True)
class Unexplained:
    """Answers of one place that no known method explains: SI values, figures written, the scale of the unit, the givens
    of each and whose they are (a name that no two share).

    `own` holds wrong earlier results that a student may have worked on from, by name; nan where theirs was right.
    """

    si: Array
    figures: Array
    scale: Array
    givens: dict[str, Array]
    who: tuple[str, ...]
    own: dict[str, Array] = field(default_factory=dict)

    def only(self, kept: npt.NDArray[np.bool_]) -> "Unexplained":
        """These of the answers."""
        who = tuple(w for w, k in zip(self.who, kept, strict=True) if k)
        givens, own = ({n: v[kept] for n, v in columns.items()} for columns in (self.givens, self.own))
        return Unexplained(self.si[kept], self.figures[kept], self.scale[kept], givens, who, own)


@dataclass(frozen=True, slots=True)
class UnknownMethod:
    """A formula that several unexplained answers share.

    `done` tells an edit of the right method in words that follow "as if", `beside` the ratio to the right method where
    both are products of powers. `answer` is what to type for a slip: the formula, with a power of ten where all who fit
    have one. `who` fits it, of so many answers. `accidental` is the expected number of the `tried` formulas that would
    fit as many of these answers by accident. `rivals` are other formulas that fit nearly as well.
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


class Search:
    """The search at one place, prepared once: which products and edits there are, and what each costs in log odds."""

    def __init__(self, question: Question, place: NumberPlace) -> None:
        self.question, self.place = question, place
        self._known = dimensions(question)
        self._right = methods_at(place, self._known)[0]
        singles = edited_at(self._right, self._known, question)
        doubles = edited_twice(singles, self._known, question, MOST_DOUBLE_EDITS)
        self._edits = (*singles, *doubles)
        self._forms: dict[tuple[str, ...], tuple[Forms, Powers | None]] = {}

    def find_all(self, answers: Unexplained) -> tuple[UnknownMethod, ...]:
        """Every formula that the answers share, the best first; no answer is counted for two of them."""
        found: list[UnknownMethod] = []
        while (best := self.find(answers)) is not None:
            found.append(best)
            answers = answers.only(np.array([w not in best.who for w in answers.who]))
        return tuple(found)

    def find(self, answers: Unexplained) -> UnknownMethod | None:
        """The formula that explains the most of these answers beyond doubt, or None."""
        usable = np.isfinite(answers.si) & (answers.si != 0) & (answers.figures > 0)
        answers = answers if usable.all() else answers.only(usable)
        if len(answers.si) < LEAST_STUDENTS:
            return None
        full = names_in_full(self.question, answers.givens)
        full |= {n: np.where(np.isnan(v), full[n], v) for n, v in answers.own.items() if n in full}
        chance = chance_of_none(answers)
        fits = [*self._by_edits(answers, chance), *self._by_products(answers, full, chance)]
        best = max(fits, key=lambda f: f.log_odds, default=None)
        return None if best is None else self._reported(best, fits, answers, full, chance)

    def _reported(
        self, best: _Fit, fits: Sequence[_Fit], answers: Unexplained, full: Mapping[str, Array], chance: Array
    ) -> UnknownMethod:
        forms, _ = self._forms_of(answers, full)
        accidental = _accidental(forms, chance, len(best.mine)) + self._accidental_edits(
            answers, chance, len(best.mine)
        )
        who = tuple(answers.who[i] for i in best.mine)
        return UnknownMethod(
            self.place.key, tidied(best.method.formula), best.done, best.power, who, best.log_odds, accidental,
            self._answer(best, full), best.beside, forms.count + len(self._edits), len(answers.si), _rivals(best, fits),
        )  # fmt: skip

    def _answer(self, fit: _Fit, full: Mapping[str, Array]) -> Tree:
        """What to type for a slip. One of the wrong dimension is worked as bare numbers, in metres or in millimetres;
        the system that leaves the smaller power of ten is taken."""
        power = fit.power
        if not fit.method.bare and not fits_dimension(fit.method, self._known):
            in_metres, in_millimetres = (
                number_of(replace(fit.method, bare=True, millimetres=mm), full, self._known) for mm in (False, True)
            )
            other = power - round(float(np.ravel(np.log10(np.abs(in_millimetres / in_metres)))[0]))
            power = min(power, other, key=abs)
        formula = tidied(fit.method.formula)
        if not power:
            return formula
        return tidied(Binary("*" if power > 0 else "/", formula, Number(str(10 ** abs(power)))))

    def _by_edits(self, answers: Unexplained, chance: Array) -> Iterator[_Fit]:
        ways = self._ways(answers)
        for edited in self._workable(ways):
            value = _by_habits(edited.method, ways, self._known, len(chance))
            like, powers = _digits(value, answers, ways.shares)
            cost = COST_OF_STEP * len(edited.done) - math.log(edited.weight)
            if (scored := shared_odds(like / chance, powers, cost)) is not None:
                with np.errstate(all="ignore"):
                    logs = np.log10(np.abs(value[0]))
                yield _Fit(edited.method, edited.done, *scored, logs)

    def _workable(self, ways: Habits) -> Iterator[Edited]:
        return (e for e in self._edits if can_work(e.method, ways.names))

    def _ways(self, answers: Unexplained) -> Habits:
        """Every habit of working, from the students' own earlier results where those were wrong."""
        ways = habits(self.question, answers.givens)
        own = {n: np.where(np.isnan(v), ways.names[n], v) for n, v in answers.own.items() if n in ways.names}
        return Habits(ways.shares, ways.figures, ways.names | own)

    def _by_products(self, answers: Unexplained, full: Mapping[str, Array], chance: Array) -> Iterator[_Fit]:
        if unit(self.place.asked.unit).offset:
            return
        _, logs = logs_of_names(self.question, self._right, self.place, full, len(answers.si))
        forms, right = self._forms_of(answers, full)
        written = np.log10(np.abs(answers.si))
        room = chance * 1.001 + PI_ROOM * forms.pis[:, None]
        step = max(1, AT_ONCE // (len(forms.logs) * len(written)))
        for start in range(0, len(forms.exponents), step):
            above = forms.exponents[start : start + step] @ logs
            apart = written - above[:, None, :] - forms.logs[None, :, None]
            powers = np.round(apart)
            odds = np.where(np.abs(apart - powers) <= room / 2, FITS / room, 0.0)
            for row, column in np.argwhere((odds > 0).sum(2) >= LEAST_STUDENTS):
                cost = float(forms.costs[start + row] + forms.constant_costs[column])
                if (scored := shared_odds(odds[row, column], powers[row, column], cost)) is not None:
                    asked = self.place.asked
                    final = AskedNumber(asked.key, forms.tree(start + row, column), asked.unit, asked.figures)
                    beside = _ratio(forms, start + row, column, right)
                    yield _Fit(Method((), final), (), *scored, above[row] + forms.logs[column], beside)

    def _forms_of(self, answers: Unexplained, full: Mapping[str, Array]) -> tuple[Forms, Powers | None]:
        names, logs = logs_of_names(self.question, self._right, self.place, full, len(answers.si))
        if names not in self._forms:
            right = powers_of(self._right, names, full, logs)
            self._forms[names] = forms_near(names, right), right
        return self._forms[names]

    def _accidental_edits(self, answers: Unexplained, chance: Array, count: int) -> float:
        """The expected number of edits that so many answers fit by accident: each by as many digits as its habits
        give."""
        ways, total = self._ways(answers), 0.0
        for edited in self._workable(ways):
            with np.errstate(all="ignore"):
                value = _by_habits(edited.method, ways, self._known, len(chance))
                digits = np.sort(to_figures(value / answers.scale, answers.figures), axis=0)
                different = 1 + (np.diff(digits, axis=0) > SAME_DIGITS * np.abs(digits[1:])).sum(0)
            total += by_accident(float((chance * different).sum()), count)
        return total


def chance_of_none(answers: Unexplained) -> Array:
    """How likely a number without a method has exactly these digits, its power of ten left open; shape (n,)."""
    with np.errstate(all="ignore"):
        number = np.abs(answers.si / answers.scale)
        return np.asarray(2 * half_unit(number, answers.figures) / number / math.log(10))


def _by_habits(method: Method, ways: Habits, known: Mapping[str, Dimension], size: int) -> Array:
    """What a method gives by every habit, shape (habits, size), or (1, size) where no habit matters to it."""
    value = np.atleast_2d(number_of(method, ways.names, known, figures=ways.figures))
    return np.broadcast_to(value, (len(value), size))


def _digits(value: Array, answers: Unexplained, shares: Array) -> tuple[Array, Array]:
    """The share of habits that give each answer's digits, and the power of ten between them, shape (n,)."""
    with np.errstate(all="ignore"):
        rounded = to_figures(value / answers.scale, answers.figures)
        apart = np.log10(np.abs(answers.si / answers.scale / rounded))
        powers = np.round(apart)
        same = np.abs(apart - powers) < SAME_DIGITS
    shape = (len(shares), len(answers.si))
    whole, powers = np.broadcast_to(same, shape), np.broadcast_to(powers, shape)
    return np.asarray(shares @ whole), np.asarray(powers[whole.argmax(0), np.arange(shape[1])])


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


def _accidental(forms: Forms, chance: Array, count: int) -> float:
    """The expected number of products that so many answers fit by accident."""
    rooms = [float((chance * 1.001 + PI_ROOM * pis).sum()) for pis in forms.pis.tolist()]
    return len(forms.costs) * sum(by_accident(room, count) for room in rooms)
