"""Methods on columns: what a method gives in full or with rounded lines, and between which bounds."""

from collections.abc import Container, Mapping

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.methods import Method, millimetre_scale
from witnessmark.questions.working.working import (
    ALL_CONSTANTS,
    CONSTANT_SPREADS,
    AskedNumber,
    Columns,
    names_of,
    widened,
)


def rounded_in(values: Array, unit_name: str, figures: Array | int | None) -> Array:
    """SI values rounded to significant figures of the number in a unit; as they are when `figures` is None."""
    if figures is None:
        return values
    u = unit(unit_name)
    return to_figures((values - u.offset) / u.scale, figures) * u.scale + u.offset


def value_of(method: Method, names: Columns, taken: Mapping[str, Array], figures: Array | int | None = None) -> Array:
    """What the method gives (SI), its lines rounded to `figures`; names in `taken` are the student's own values."""
    own = {**names, **taken}
    for step in method.steps:
        if step.name not in taken:
            own[step.name] = rounded_in(compiled(step.asked.tree)(own), step.asked.unit, figures)
    result: Array = np.asarray(compiled(method.final.tree)(own), dtype=np.float64)
    return result


def bounds_of(
    method: Method, names: Mapping[str, Interval], taken: Mapping[str, Interval], figures: int | None = None
) -> Interval:
    """The envelope of the method (SI): lines and result rounded to the asked figures (or `figures`) or more."""
    own = {**names, **taken}
    for step in method.steps:
        if step.name not in taken:
            own[step.name] = widened(interval_of(step.asked.tree)(own), _at(step.asked, figures))
    return widened(interval_of(method.final.tree)(own), _at(method.final, figures))


def _at(asked: AskedNumber, figures: int | None) -> AskedNumber:
    return asked if figures is None else AskedNumber(asked.key, asked.tree, asked.unit, figures, asked.tolerance)


def bare_factor(method: Method, known: Mapping[str, Dimension]) -> tuple[dict[str, float], float]:
    """For a method worked in bare millimetre-newton numbers: every name's divisor, and the factor of the result."""
    if not method.millimetres:
        return {}, 1.0
    divisors = {name: millimetre_scale(d) for name, d in known.items()}
    return divisors, millimetre_scale(unit(method.final.unit).dimension)


def number_of(method: Method, names: Columns, known: Mapping[str, Dimension]) -> Array:
    """What the method gives in full (SI), a bare one worked in its own working system."""
    divisors, factor = bare_factor(method, known)
    own = {name: value / divisors.get(name, 1.0) for name, value in names.items()} if divisors else names
    return value_of(method, own, {}) * factor


def names_in_full(question: Question, givens: Columns, worked: Mapping[str, Array]) -> dict[str, Array]:
    """Every name that a final expression may use, in full: constants, givens, carried results."""
    names: dict[str, Array] = {**ALL_CONSTANTS, **givens}
    for part in question.parts:
        if part.key in worked:
            names.update(dict.fromkeys(names_of(part), worked[part.key]))
    return names


def names_between(question: Question, givens: Columns, envelopes: Mapping[str, Interval]) -> dict[str, Interval]:
    """The same names as intervals."""
    names: dict[str, Interval] = {**CONSTANT_SPREADS, **{k: (v, v) for k, v in givens.items()}}
    for part in question.parts:
        if part.key in envelopes:
            names.update(dict.fromkeys(names_of(part), envelopes[part.key]))
    return names


def can_work(method: Method, names: Container[str]) -> bool:
    """True where every name that the method needs is known."""
    used = names_in(method.final.tree).union(*(names_in(s.asked.tree) for s in method.steps))
    return all(name in names for name in used - {s.name for s in method.steps})
