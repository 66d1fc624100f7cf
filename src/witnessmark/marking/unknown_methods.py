"""The class-wide search for wrong methods that the bank does not know.

Students had different numbers, so one formula that gives several unexplained answers at once names a shared method.
Searched are products of powers of the givens with small constants, and edits of the right method, one and two deep.
A formula is reported only when at least three students fit it, the odds pass a stated level, and no fewer accidental
fits than the stated number would be expected of numbers without a method.
"""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from witnessmark.marking.habits import Habits, habits
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.rounding import half_unit, to_figures
from witnessmark.maths.syntax import Binary, Name, Number, Tree
from witnessmark.questions.edited import edited_at, edited_twice
from witnessmark.questions.evaluation import bare_factor, names_in_full, value_of
from witnessmark.questions.methods import Method, Place, dimensions, methods_at
from witnessmark.questions.question import Question
from witnessmark.questions.working import names_of, worked

LEAST_STUDENTS = 3
MOST_POWER = 2
MOST_NAMES = 5
MOST_STEPS = 4
SAME_DIGITS = 1e-9
MOST_DOUBLE_EDITS = 200
COST_OF_STEP = 1.1
"""What one step away from the right method (a power changed by one, a constant changed) costs in log odds."""
COST_OF_SEARCH = 4.0
"""What any formula that is no edit of the right method costs in log odds, before its steps."""
LEAST_ODDS = 9.0
"""Natural logarithm of the odds that a formula must pass, prior included."""
FITS = 0.85
"""The chance that a student who used the formula wrote exactly its digits, or their neighbours by 3.14 for pi."""
PI_ROOM = 0.00051


@dataclass(frozen=True, slots=True)
class Unexplained:
    """Answers of one place that no known method explains: SI values, figures written, and the givens of each."""

    si: Array
    figures: Array
    scale: Array
    givens: dict[str, Array]
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnknownMethod:
    """A formula that several unexplained answers share: the tree, who fits it, its log odds, and how many formulas of
    the search would fit as many by accident (expected number)."""

    key: str
    formula: Tree
    done: tuple[str, ...]
    power: int
    who: tuple[str, ...]
    log_odds: float
    accidental: float


class Search:
    """The search at one place, prepared once: which products and edits there are, and what each costs in log odds."""

    def __init__(self, question: Question, place: Place) -> None:
        self.question, self.place = question, place
        self._known = dimensions(question)
        right = methods_at(place, self._known)[0]
        singles = edited_at(right, self._known, question)
        doubles = edited_twice(singles, self._known, question, MOST_DOUBLE_EDITS)
        self._edits = (*singles, *doubles)
        self._forms: dict[tuple[str, ...], _Forms] = {}

    def find(self, answers: Unexplained) -> UnknownMethod | None:
        """The formula that explains the most of these answers beyond doubt, or None."""
        if len(answers.si) < LEAST_STUDENTS:
            return None
        full = names_in_full(self.question, answers.givens, worked(self.question, answers.givens))
        chance = chance_of_none(answers)
        found = [*self._by_edits(answers, chance), *self._by_products(answers, full, chance)]
        best = max(found, key=lambda f: f.log_odds, default=None)
        return best if best is not None and best.log_odds >= LEAST_ODDS else None

    def _by_edits(self, answers: Unexplained, chance: Array) -> Iterator[UnknownMethod]:
        ways = habits(self.question, answers.givens)
        for edited in self._edits:
            value = _by_habits(edited.method, ways, self._known)
            like, powers = _digits(value, answers, ways.shares)
            cost = COST_OF_STEP * len(edited.done) - math.log(edited.weight)
            yield from self._scored(edited.method.formula, edited.done, like, powers, chance, cost, answers)

    def _by_products(self, answers: Unexplained, full: Mapping[str, Array], chance: Array) -> Iterator[UnknownMethod]:
        names, logs = _logs_of_givens(self.question, self.place, full, len(answers.si))
        forms = self._forms_of(names, full)
        written = np.log10(np.abs(answers.si))
        apart = written[None, :] - (forms.exponents @ logs)[:, None, :] - forms.constants[None, :, None]
        powers = np.round(apart)
        room = chance / 2 * 1.001 + np.where(forms.has_pi, PI_ROOM / 2, 0.0)[None, :, None]
        fits = np.abs(apart - powers) <= room
        for row, column in np.argwhere(fits.sum(2) >= LEAST_STUDENTS):
            like = np.where(fits[row, column], FITS, 0.0)
            cost = float(forms.costs[row] + forms.constant_costs[column])
            tree = product_tree(forms.names_of_constants[column], forms.exponents[row], names)
            yield from self._scored(tree, (), like, powers[row, column], chance, cost, answers, forms.count)

    def _scored(
        self,
        formula: Tree,
        done: tuple[str, ...],
        like: Array,
        powers: Array,
        chance: Array,
        cost: float,
        answers: Unexplained,
        searched: int = 0,
    ) -> Iterator[UnknownMethod]:
        """The formula with the power of ten that most of its fits share, if enough do."""
        fits = like > 0
        if fits.sum() < LEAST_STUDENTS:
            return
        values, counts = np.unique(powers[fits], return_counts=True)
        power = int(values[counts.argmax()])
        mine = np.flatnonzero(fits & (powers == power))
        if len(mine) < LEAST_STUDENTS:
            return
        odds = float(np.log(like[mine] / chance[mine]).sum() - cost - (COST_OF_STEP if power else 0.0))
        accidental = max(searched, len(self._edits)) * _at_least(chance, len(mine))
        who = tuple(answers.who[i] for i in mine)
        yield UnknownMethod(self.place.key, formula, done, power, who, odds, accidental)

    def _forms_of(self, names: tuple[str, ...], full: Mapping[str, Array]) -> "_Forms":
        if names not in self._forms:
            self._forms[names] = _forms(names, _right_exponents(self.question, self.place, names, full))
        return self._forms[names]


def chance_of_none(answers: Unexplained) -> Array:
    """How likely a number without a method has exactly these digits, its power of ten left open; shape (n,)."""
    with np.errstate(all="ignore"):
        number = np.abs(answers.si / answers.scale)
        return np.asarray(2 * half_unit(number, answers.figures) / number / math.log(10))


def _by_habits(method: Method, ways: Habits, known: Mapping[str, Dimension]) -> Array:
    """What a method gives by every habit, shape (habits, n)."""
    divisors, factor = bare_factor(method, known)
    names = {k: v / divisors.get(k, 1.0) for k, v in ways.names.items()} if divisors else ways.names
    return np.asarray(value_of(method, names, {}, ways.figures) * factor)


def _digits(value: Array, answers: Unexplained, shares: Array) -> tuple[Array, Array]:
    """The share of habits that give each answer's digits, and the power of ten between them, shape (n,)."""
    with np.errstate(all="ignore"):
        rounded = to_figures(value / answers.scale, answers.figures)
        apart = np.log10(np.abs(answers.si / answers.scale / rounded))
        powers = np.round(apart)
        same = np.abs(apart - powers) < SAME_DIGITS
    whole = np.broadcast_to(same, (len(shares), len(answers.si)))
    return np.asarray(shares @ whole), np.asarray(
        np.broadcast_to(powers, whole.shape)[whole.argmax(0), np.arange(whole.shape[1])]
    )


@dataclass(frozen=True, slots=True)
class _Forms:
    """Products of powers with small constants: exponents (m, k) with costs (m,), constants as logarithms (c,) with
    costs, whether pi is in them, and how to name them (power of pi, power of two)."""

    exponents: Array
    costs: Array
    constants: Array
    constant_costs: Array
    has_pi: npt.NDArray[np.bool_]
    names_of_constants: tuple[tuple[int, int], ...]

    @property
    def count(self) -> int:
        """How many formulas there are."""
        return len(self.costs) * len(self.constants)


def _forms(names: Sequence[str], right: tuple[float, ...] | None) -> _Forms:
    powers = range(-MOST_POWER, MOST_POWER + 1)
    rows = [e for e in itertools.product(powers, repeat=len(names)) if 0 < sum(x != 0 for x in e) <= MOST_NAMES]
    exponents = np.array(rows, dtype=np.float64).reshape(len(rows), len(names))
    steps = np.abs(exponents - (np.array(right) if right else 0.0)).sum(1)
    near = steps <= MOST_STEPS
    constants = tuple(itertools.product((-1, 0, 1), (-2, -1, 0, 1, 2)))
    logs = np.array([p * math.log10(math.pi) + t * math.log10(2) for p, t in constants])
    costs = np.array([COST_OF_STEP * ((p != 0) + min(abs(t), 2)) for p, t in constants])
    has_pi = np.array([p != 0 for p, _ in constants])
    return _Forms(exponents[near], (COST_OF_SEARCH + COST_OF_STEP * steps)[near], logs, costs, has_pi, constants)


def _at_least(chances: Array, count: int) -> float:
    """About how likely it is that so many of independent chances come true (Poisson, for small ones)."""
    mean = float(chances.sum())
    return 1.0 - sum(math.exp(-mean) * mean**k / math.factorial(k) for k in range(count))


def _logs_of_givens(
    question: Question, place: Place, full: Mapping[str, Array], size: int
) -> tuple[tuple[str, ...], Array]:
    """The names that vary between students and the logarithms of their values (k, n); alike ones once."""
    carried = [n for key in place.part.carries for n in names_of(question.part(key))]
    wanted = [*(g.name for g in question.givens), *carried, *(n for n in full if "." in n)]
    names: list[str] = []
    logs: list[Array] = []
    for name in dict.fromkeys(wanted):
        if name in full:
            with np.errstate(all="ignore"):
                log = np.broadcast_to(np.log10(np.abs(full[name])), (size,))
            if np.isfinite(log).all() and not any(np.allclose(log, known, atol=1e-12) for known in logs):
                names.append(name)
                logs.append(log)
    return tuple(names), np.array(logs).reshape(len(names), size)


def _right_exponents(
    question: Question, place: Place, names: Sequence[str], full: Mapping[str, Array]
) -> tuple[float, ...] | None:
    """The powers of the names in the right method, where it is a product of powers; None where it is not."""
    method = methods_at(place, dimensions(question))[0]
    try:
        at = value_of(method, dict(full), {})
        with np.errstate(all="ignore"):
            doubled = [np.log2(value_of(method, {**full, n: full[n] * 2.0}, {}) / at) for n in names]
    except KeyError:
        return None
    powers = [float(np.ravel(d)[0]) for d in doubled]
    whole = all(np.isfinite(d).all() and np.allclose(d, np.ravel(d)[0], atol=1e-6) for d in doubled)
    return tuple(powers) if whole else None


def product_tree(constant: tuple[int, int], exponents: Array, names: Sequence[str]) -> Tree:
    """The tree of a product of powers, what is multiplied first over what is divided by."""
    pi_power, two_power = constant
    powers = [int(x) for x in exponents]
    above: list[Tree] = []
    below: list[Tree] = []
    if two_power:
        (above if two_power > 0 else below).append(Number(str(2 ** abs(two_power))))
    for name, power in (("pi", pi_power), *zip(names, powers, strict=True)):
        if power:
            factor: Tree = Name(name) if abs(power) == 1 else Binary("**", Name(name), Number(str(abs(power))))
            (above if power > 0 else below).append(factor)
    top = _times(above) if above else Number("1")
    return Binary("/", top, _times(below)) if below else top


def _times(factors: Sequence[Tree]) -> Tree:
    result = factors[0]
    for factor in factors[1:]:
        result = Binary("*", result, factor)
    return result
