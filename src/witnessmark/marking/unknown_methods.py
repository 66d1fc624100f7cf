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

from witnessmark.maths.compiled import Array
from witnessmark.maths.rounding import half_unit
from witnessmark.maths.syntax import Binary, Name, Number, Tree
from witnessmark.questions.edited import edited_at, edited_twice
from witnessmark.questions.evaluation import bare_factor, names_in_full, value_of
from witnessmark.questions.methods import Place, dimensions, methods_at
from witnessmark.questions.question import Question
from witnessmark.questions.working import Columns, names_of, worked

LEAST_STUDENTS = 3
MOST_POWER = 2
MOST_NAMES = 4
MOST_DOUBLE_EDITS = 200
# Powers that people leave out or add; each costs that much belief (common practice, no source).
CONSTANT_POWERS = (-1, 0, 1)
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


@dataclass(frozen=True, slots=True)
class _Space:
    """Everything that is searched at one place: values as common logarithms (m, n), prior costs (m,), how to name each."""

    logs: Array
    costs: Array
    pi: npt.NDArray[np.bool_]
    trees: Sequence[Tree | tuple[int, ...]]
    done: Sequence[tuple[str, ...]]
    names: tuple[str, ...]


def search(question: Question, place: Place, answers: Unexplained) -> UnknownMethod | None:
    """The formula that explains the most unexplained answers of a place beyond doubt, or None."""
    if len(answers.si) < LEAST_STUDENTS:
        return None
    space = _space_of(question, place, answers)
    with np.errstate(all="ignore"):
        written = np.log10(np.abs(answers.si))
        room = (
            half_unit(answers.si / answers.scale, answers.figures) * answers.scale / np.abs(answers.si) / math.log(10)
        )
    apart = written[None, :] - space.logs
    powers = np.round(apart)
    fits = np.abs(apart - powers) <= room[None, :] * 1.001 + np.where(space.pi, PI_ROOM / 2, 0.0)[:, None]
    rows = np.flatnonzero(fits.sum(1) >= LEAST_STUDENTS)
    found = [f for row in rows for f in _scored(space, int(row), fits[row], powers[row], room, answers, place.key)]
    best = max(found, key=lambda f: (f.log_odds, -len(str(f.formula))), default=None)
    return best if best is not None and best.log_odds >= LEAST_ODDS else None


def _scored(
    space: _Space,
    row: int,
    fits: npt.NDArray[np.bool_],
    powers: Array,
    room: Array,
    answers: Unexplained,
    key: str,
) -> Iterator[UnknownMethod]:
    """The formula of a row for the power of ten that most of its fits share, if enough do."""
    values, counts = np.unique(powers[fits], return_counts=True)
    power = int(values[counts.argmax()])
    mine = np.flatnonzero(fits & (powers == power))
    if len(mine) < LEAST_STUDENTS:
        return
    chance = np.minimum(2 * room, 1.0)  # of a number without a method to fit by accident, its power of ten left open
    gains = np.log(FITS / chance[mine])
    odds = float(gains.sum() - space.costs[row] - (COST_OF_STEP if power else 0.0))
    accidental = len(space.costs) * _at_least(chance, len(mine))
    tree = space.trees[row]
    formula = _product(tree, space.names) if isinstance(tree, tuple) else tree
    yield UnknownMethod(
        key, formula, space.done[row], power, tuple(answers.who[i] for i in mine), odds, accidental
    )  # fmt: skip


def _at_least(chances: Array, count: int) -> float:
    """About how likely it is that so many of independent chances come true (Poisson, for small ones)."""
    mean = float(chances.sum())
    return 1.0 - sum(math.exp(-mean) * mean**k / math.factorial(k) for k in range(count))


def _space_of(question: Question, place: Place, answers: Unexplained) -> _Space:
    size = len(answers.si)
    full = names_in_full(question, answers.givens, worked(question, answers.givens))
    names, logs = _logs_of_givens(question, place, full, size)
    product_logs, product_costs, product_pi, exponents = _products(logs, _right_exponents(question, place, names, full))
    edit_logs, edit_costs, edit_pi, trees, done = _edits(question, place, full, size)
    return _Space(
        np.concatenate([product_logs, edit_logs]),
        np.concatenate([product_costs, edit_costs]),
        np.concatenate([product_pi, edit_pi]),
        [*exponents, *trees],
        [*[()] * len(exponents), *done],
        names,
    )


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


def _products(
    logs: Array, right: tuple[float, ...] | None
) -> tuple[Array, Array, npt.NDArray[np.bool_], list[tuple[int, ...]]]:
    """Every product of powers with small constants: logarithms, costs, whether pi is in it, exponents."""
    kinds = len(logs)
    rows = [
        e
        for e in itertools.product(range(-MOST_POWER, MOST_POWER + 1), repeat=kinds)
        if 0 < sum(x != 0 for x in e) <= MOST_NAMES
    ]
    exponents = np.array(rows, dtype=np.float64).reshape(len(rows), kinds)
    constants = [c for c in itertools.product(CONSTANT_POWERS, range(-3, 4)) if c[1] <= 3]
    base = exponents @ logs
    steps = np.abs(exponents - (np.array(right) if right else 0.0)).sum(1)
    all_logs, costs, pi, named = [], [], [], []
    for pi_power, two_power in constants:
        all_logs.append(base + pi_power * math.log10(math.pi) + two_power * math.log10(2))
        costs.append(COST_OF_SEARCH + COST_OF_STEP * (steps + (pi_power != 0) + min(abs(two_power), 2)))
        pi.append(np.full(len(rows), pi_power != 0))
        named += [(pi_power, two_power, *row) for row in rows]
    return np.concatenate(all_logs), np.concatenate(costs), np.concatenate(pi), named


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


def _edits(
    question: Question, place: Place, full: Mapping[str, Array], size: int
) -> tuple[Array, Array, npt.NDArray[np.bool_], list[Tree], list[tuple[str, ...]]]:
    known = dimensions(question)
    right = methods_at(place, known)[0]
    singles = edited_at(right, known, question)
    doubles = edited_twice(singles, known, question, MOST_DOUBLE_EDITS)
    logs, costs, trees, done = [], [], [], []
    for edited in (*singles, *doubles):
        divisors, factor = bare_factor(edited.method, known)
        names = {k: v / divisors.get(k, 1.0) for k, v in full.items()} if divisors else dict(full)
        with np.errstate(all="ignore"):
            log = np.broadcast_to(np.log10(np.abs(value_of(edited.method, names, {}) * factor)), (size,))
        if np.isfinite(log).all():
            logs.append(log)
            costs.append(COST_OF_STEP * len(edited.done) - math.log(edited.weight))
            trees.append(edited.method.formula)
            done.append(edited.done)
    return np.array(logs).reshape(len(logs), size), np.array(costs), np.ones(len(logs), np.bool_), trees, done


def _product(exponents: tuple[int, ...], names: Sequence[str]) -> Tree:
    """The tree of a product of powers, what is multiplied first over what is divided by."""
    pi_power, two_power, *powers = exponents
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
