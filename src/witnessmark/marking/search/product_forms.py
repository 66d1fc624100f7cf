"""Products of powers of given names with small constants, near the right method: what the class-wide search tries."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.maths.syntax import Binary, Call, Name, Number, Tree, names_alone, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of, right_trees, wrong_trees
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.evaluation import value_of
from witnessmark.questions.working.methods import Method, NumberPlace

MOST_POWER = 2
MOST_NAMES = 5
MOST_STEPS = 4
COST_OF_STEP = 2.3
"""How much longer, in nats, one step away from the right method (a power changed by one, a constant changed) makes the
description of a product: each step is one of about ten."""
SHARE = 0.1
"""The share of all products among the formulas that are tried; description lengths are measured from it."""
Constant = tuple[int, int]
"""A constant before a product: its power of pi and its power of two."""
NONE: Constant = (0, 0)


@dataclass(frozen=True, slots=True)
class Powers:
    """A method that is a product of powers: those of the names, and the constant before it if it is one of ours."""

    of_names: tuple[float, ...]
    constant: Constant | None


@dataclass(frozen=True, slots=True)
class Forms:
    """Products of powers: exponents (m, k) of the k names with costs (m,), and constants with their logarithms (c,),
    costs, and how often pi is in them. Costs are description lengths in nats."""

    names: tuple[str, ...]
    exponents: Array
    costs: Array
    constants: tuple[Constant, ...]
    logs: Array
    constant_costs: Array
    pis: Array

    @property
    def count(self) -> int:
        """How many formulas there are."""
        return len(self.costs) * len(self.constants)

    def tree(self, row: int, column: int) -> Tree:
        """The formula of a row of exponents with one of the constants."""
        return product_tree(self.constants[column], self.exponents[row].tolist(), self.names)


def forms_near(names: Sequence[str], right: Powers | None) -> Forms:
    """Every product within a few steps of the right method's powers (of none, where it is no product), with constants
    near its own or near one."""
    base = right.of_names if right is not None else (0.0,) * len(names)
    first_pi, first_two = (right.constant if right is not None else None) or NONE
    most = max(MOST_NAMES, sum(x != 0 for x in base) + 1)
    rows = [e for e in _within(base, MOST_STEPS) if 0 < sum(x != 0 for x in e) <= most]
    exponents = np.array(rows, dtype=np.float64).reshape(len(rows), len(names))
    steps = np.abs(exponents - np.array(base)).sum(1)
    constants = tuple(itertools.product(_around(first_pi, 1), _around(first_two, 2)))
    away = [min(abs(p - first_pi) + abs(t - first_two), abs(p) + abs(t)) for p, t in constants]
    costs = COST_OF_STEP * np.array(away, dtype=np.float64)
    logs, pis = np.array([log_of(c) for c in constants]), np.array([float(abs(c[0])) for c in constants])
    far = COST_OF_STEP * steps
    every = math.log(np.exp(-far).sum() * np.exp(-costs).sum() / SHARE) if rows else 0.0
    return Forms(tuple(names), exponents, every + far, constants, logs, costs, pis)


def _around(right: int, most: int) -> range:
    """The powers of pi or of two that are tried: those near that of the right method, and those near none."""
    return range(min(right, 0) - most, max(right, 0) + most + 1)


def log_of(constant: Constant) -> float:
    """The common logarithm of a constant."""
    return constant[0] * math.log10(math.pi) + constant[1] * math.log10(2)


def _within(base: Sequence[float], steps: float) -> Iterator[tuple[float, ...]]:
    """Every row of powers whose distance from `base` adds up to at most so many steps."""
    if not base:
        yield ()
        return
    for power in _powers_near(base[0]):
        left = steps - abs(power - base[0])
        if left >= 0:
            yield from ((power, *rest) for rest in _within(base[1:], left))


def _powers_near(right: float) -> tuple[float, ...]:
    """The powers that are tried for a name: whole ones, and halves where the right method takes a root."""
    most = max(MOST_POWER, abs(right))
    halves = 1 if right == int(right) else 2
    return tuple(n / halves for n in range(-int(most * halves), int(most * halves) + 1))


def logs_of_names(question: Question, right: Method, place: NumberPlace, full: Mapping[str, Array], size: int) -> (
    tuple[tuple[str, ...], Array]
):  # fmt: skip
    """The names that a student may have used at a place, and the logarithms of their values, shape (k, size); of names
    with the same values the first. Cells of tables that nothing shows or uses are left out."""
    alone = names_alone(right.formula)
    carried = [n for key in place.part.carries for n in names_of(question.quantity(key))]
    carried = [n for n in carried if n in alone or n not in question.cells]
    constants = [n for n in CONSTANTS if n != "pi" and n in names_in(right.formula)]
    cells = [n for n in full if "." in n and n in _used(question)]
    names: list[str] = []
    logs: list[Array] = []
    for name in dict.fromkeys([*question.stand_ins(alone), *carried, *constants, *cells]):
        if name in full:
            with np.errstate(all="ignore"):
                log = np.broadcast_to(np.log10(np.abs(full[name])), (size,))
            if np.isfinite(log).all() and not any(np.allclose(log, known, atol=1e-12) for known in logs):
                names.append(name)
                logs.append(log)
    return tuple(names), np.array(logs).reshape(len(names), size)


def _used(question: Question) -> frozenset[str]:
    """Every name in an expression of the question, or between braces in its texts."""
    parts = question.parts
    trees = [tree for part in parts for tree in (*right_trees(part), *wrong_trees(part))]
    trees += [g.value for g in question.givens if g.value is not None]
    texts = " ".join([question.setting, *(p.ask for p in parts)])
    cells = {f"{r.name}.{c}" for r in question.rows for c in question.tables[r.table].units}
    return frozenset(c for c in cells if f"{{{c}}}" in texts).union(*(names_in(tree) for tree in trees))


def powers_of(method: Method, names: Sequence[str], full: Mapping[str, Array], logs: Array) -> Powers | None:
    """The powers of the names in a method that is a product of powers; None where it is not.

    Found by doubling each name in turn, so in whatever way the method is written. `logs` are those of the names.
    """
    if not names_in(method.formula) <= full.keys():
        return None
    at = value_of(method, full, {})
    with np.errstate(all="ignore"):
        doubled = [np.ravel(np.log2(value_of(method, {**full, n: full[n] * 2.0}, {}) / at)) for n in names]
    powers = tuple(round(float(d[0]) * 2) / 2 if np.isfinite(d[0]) else 0.0 for d in doubled)
    if not all(np.allclose(d, p, atol=1e-6) for d, p in zip(doubled, powers, strict=True)):
        return None
    rest = np.ravel(np.log10(np.abs(at)) - np.array(powers) @ logs)
    known = [c for c in itertools.product(range(-3, 4), range(-6, 7)) if np.allclose(rest, log_of(c), atol=1e-9)]
    return Powers(powers, known[0] if known else None)  # no two of them are one number


def product_tree(constant: Constant, exponents: Sequence[float], names: Sequence[str]) -> Tree:
    """The tree of a product of powers, what is multiplied first over what is divided by."""
    pi_power, two_power = constant
    above: list[Tree] = []
    below: list[Tree] = []
    if two_power:
        (above if two_power > 0 else below).append(Number(str(2 ** abs(two_power))))
    for name, power in (("pi", float(pi_power)), *zip(names, exponents, strict=True)):
        if power:
            (above if power > 0 else below).append(_raised(Name(name), abs(power)))
    top = _times(above) if above else Number("1")
    return Binary("/", top, _times(below)) if below else top


def _raised(name: Name, power: float) -> Tree:
    if power == 1:
        return name
    return Call("sqrt", (name,)) if power == 0.5 else Binary("**", name, Number(f"{power:g}"))


def _times(factors: Sequence[Tree]) -> Tree:
    result = factors[0]
    for factor in factors[1:]:
        result = Binary("*", result, factor)
    return result
