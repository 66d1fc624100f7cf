"""Methods on columns: what a method gives in full or with rounded lines, and between which bounds."""

from collections.abc import Container, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import to_division, to_figures
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.question import Given, Question
from witnessmark.questions.working.methods import Method, millimetre_scale
from witnessmark.questions.working.working import ALL_CONSTANTS, CONSTANT_SPREADS, AskedNumber, Columns, widened, worked

NOTHING: Mapping[str, Any] = MappingProxyType({})


def rounded_in(values: Array, unit_name: str, figures: Array | int | None) -> Array:
    """SI values rounded to significant figures of the number in a unit; as they are when `figures` is None."""
    if figures is None:
        return values
    u = unit(unit_name)
    return to_figures((values - u.offset) / u.scale, figures) * u.scale + u.offset


def as_told(values: Array, given: Given) -> Array:
    """SI values of a given as they are printed: to the figures or to the division that it has."""
    if given.division is None:
        return rounded_in(values, given.unit, given.figures)
    u = unit(given.unit)
    return to_division((values - u.offset) / u.scale, float(given.division)) * u.scale + u.offset


def value_of(method: Method, names: Columns, taken: Columns, figures: Array | int | None = None) -> Array:
    """What the method gives, in the system that its names are in, with lines rounded to `figures`; names in `taken` are
    the student's own values."""
    own = {**names, **taken}
    for step in method.steps:
        if step.name not in taken:
            own[step.name] = rounded_in(compiled(step.asked.tree)(own), step.asked.unit, figures)
    result: Array = np.asarray(compiled(method.final.tree)(own), dtype=np.float64)
    return result


def bounds_of(
    method: Method, names: Mapping[str, Interval], taken: Mapping[str, Interval], figures: int | None = None
) -> Interval:
    """The envelope of the method, in the system that its names are in: lines and result rounded to the asked figures
    (or `figures`) or more."""
    return widened(before_rounding(method, names, taken, figures), _at(method.final, figures))


def before_rounding(
    method: Method, names: Mapping[str, Interval], taken: Mapping[str, Interval] = NOTHING, figures: int | None = None
) -> Interval:
    """The same with lines rounded and the result not yet."""
    own = {**names, **taken}
    for step in method.steps:
        if step.name not in taken:
            own[step.name] = widened(interval_of(step.asked.tree)(own), _at(step.asked, figures))
    return interval_of(method.final.tree)(own)


def _at(asked: AskedNumber, figures: int | None) -> AskedNumber:
    return asked if figures is None else asked.to_figures(figures)


def bare_factor(method: Method, known: Mapping[str, Dimension]) -> tuple[dict[str, float], float]:
    """For a method worked in bare millimetre-newton numbers: every name's divisor, and the factor of the result."""
    if not method.millimetres:
        return {}, 1.0
    divisors = {name: millimetre_scale(d) for name, d in known.items()}
    return divisors, millimetre_scale(unit(method.final.unit).dimension)


def in_millimetres(names: Columns, known: Mapping[str, Dimension]) -> dict[str, Array]:
    """SI values as numbers of the millimetre, newton, second system; `known` are the dimensions of names."""
    return {n: v / millimetre_scale(known[n]) if n in known else v for n, v in names.items()}


def number_of(
    method: Method,
    names: Columns,
    known: Mapping[str, Dimension],
    taken: Columns = NOTHING,
    figures: Array | int | None = None,
) -> Array:
    """`value_of` where all is SI; a bare method is worked in its own system. `known` are the dimensions of names."""
    divisors, factor = bare_factor(method, known)
    if not divisors:
        return value_of(method, names, taken, figures)
    names, taken = ({n: v / divisors.get(n, 1.0) for n, v in columns.items()} for columns in (names, taken))
    return value_of(method, names, taken, figures) * factor


def span_of(
    method: Method,
    names: Mapping[str, Interval],
    known: Mapping[str, Dimension],
    taken: Mapping[str, Interval] = NOTHING,
    figures: int | None = None,
) -> Interval:
    """`bounds_of` where all is SI; a bare method is worked in its own system. `known` are the dimensions of names."""
    divisors, factor = bare_factor(method, known)
    if not divisors:
        return bounds_of(method, names, taken, figures)
    names, taken = (
        {n: (a / divisors.get(n, 1.0), b / divisors.get(n, 1.0)) for n, (a, b) in ends.items()}
        for ends in (names, taken)
    )
    low, high = bounds_of(method, names, taken, figures)
    return low * factor, high * factor


def names_in_full(question: Question, givens: Columns, right: Mapping[str, Array] | None = None) -> dict[str, Array]:
    """Every name that a final expression may use, in full: constants, givens, carried results (`right` by key, worked
    here where it is not handed in)."""
    names: dict[str, Array] = {**ALL_CONSTANTS, **givens}
    results = worked(question, givens) if right is None else right
    for part in question.quantities:
        if part.key in results:
            names.update(dict.fromkeys(names_of(part), results[part.key]))
    return names


def names_between(question: Question, givens: Columns, envelopes: Mapping[str, Interval]) -> dict[str, Interval]:
    """The same names as intervals."""
    names: dict[str, Interval] = {**CONSTANT_SPREADS, **{k: (v, v) for k, v in givens.items()}}
    for part in question.quantities:
        if part.key in envelopes:
            names.update(dict.fromkeys(names_of(part), envelopes[part.key]))
    return names


def can_work(method: Method, names: Container[str]) -> bool:
    """True where every name that the method needs is known."""
    return all(name in names for name in method.names_in_trees - {s.name for s in method.steps})
