"""The right working of a question on columns of givens: every line and result, and the envelope of right values.

Columns are arrays of SI values by name, one element a variant. Keys are `a` for a part and `a.A_s` for a line.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.intervals import Interval, Intervals, interval_of
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import half_unit
from witnessmark.maths.syntax import Tree, is_count, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import Line, QuantityPart
from witnessmark.questions.model.question import Question

Columns = Mapping[str, Array]
FIGURES_OF_COUNTS = 5  # a count is exact, however few figures are asked of what is measured
SLACK = 1e-9  # relative: what binary arithmetic may lose between two ways of working the same thing
ALL_CONSTANTS: dict[str, Any] = {name: np.float64(c.value) for name, c in CONSTANTS.items()}
CONSTANT_SPREADS: Intervals = {name: (np.float64(c.low), np.float64(c.high)) for name, c in CONSTANTS.items()}


@dataclass(frozen=True, slots=True)
class AskedNumber:
    """One number that is asked: its key, tree, unit and the figures that the envelope allows it to be rounded to.

    `tolerance` is a share of the value, `room` an amount (SI) that it may be off: a reading of a scale where it
    `is_read`, otherwise by what the question allows.
    """

    key: str
    tree: Tree
    unit: str
    figures: int
    tolerance: float = 0.0
    room: float = 0.0
    is_read: bool = True

    def to_figures(self, figures: int) -> "AskedNumber":
        """The same, asked to so many figures."""
        return replace(self, figures=figures)

    def worked_by(self, tree: Tree) -> "AskedNumber":
        """The same, worked in another way."""
        return replace(self, tree=tree)


def asked_of(part: QuantityPart, figures: int, line: Line | None = None) -> AskedNumber:
    """What the envelope needs to know of a quantity part, or of one of its lines."""
    if line is not None:
        return AskedNumber(f"{part.key}.{line.name}", line.value, line.unit, figures)
    read = float(part.division.room) if part.division else 0.0
    room = max(read, float(part.off)) * abs(unit(part.unit).scale)
    to_figures = max(figures, FIGURES_OF_COUNTS) if is_count(part.answer) else part.figures or figures
    is_read = read >= part.off
    return AskedNumber(part.key, part.answer, part.unit, to_figures, float(part.tolerance), room, is_read)


def widened(interval: Interval, asked: AskedNumber) -> Interval:
    """An interval with room for rounding to the asked figures or more, for the question's tolerance, for reading."""
    u = unit(asked.unit)
    low, high = (np.asarray(end, dtype=np.float64) for end in interval)
    with np.errstate(all="ignore"):  # a slip may leave the numbers that there are
        ends = [(low - u.offset) / u.scale, (high - u.offset) / u.scale]
        room = [half_unit(end, asked.figures) * abs(u.scale) + np.abs(end * u.scale) * SLACK for end in ends]
        wide_low, wide_high = low - room[0], high + room[1]
        if asked.tolerance:
            wide_low = np.minimum(wide_low, low - np.abs(low) * asked.tolerance)
            wide_high = np.maximum(wide_high, high + np.abs(high) * asked.tolerance)
        if asked.room:
            wide_low = np.minimum(wide_low, low - asked.room * (1 + SLACK))
            wide_high = np.maximum(wide_high, high + asked.room * (1 + SLACK))
    return wide_low, wide_high


def widened_as_written(interval: Interval, scale: Array, offset: Array, figures: Array) -> Interval:
    """An interval (SI) with room for rounding to so many figures in the unit that was written (SI = number * scale +
    offset), shape (n,)."""
    with np.errstate(all="ignore"):
        ends = [np.asarray(end, dtype=np.float64) for end in interval]
        room = [half_unit((e - offset) / scale, figures) * np.abs(scale) + np.abs(e) * SLACK for e in ends]
    return ends[0] - room[0], ends[1] + room[1]


def worked(question: Question, givens: Columns) -> dict[str, Array]:
    """Every right line and result, in full (SI), by key; parts whose givens are absent are left out."""
    found: dict[str, Array] = {}
    names: dict[str, Array] = {**ALL_CONSTANTS, **givens}
    for part in question.quantities:
        own = dict(names)
        for line in part.lines:
            if names_in(line.value) <= own.keys():
                own[line.name] = found[f"{part.key}.{line.name}"] = compiled(line.value)(own)
        if names_in(part.answer) <= own.keys():
            found[part.key] = compiled(part.answer)(own)
            names.update(dict.fromkeys(names_of(part), found[part.key]))
    return found


def envelopes(question: Question, givens: Columns, figures: int) -> dict[str, Interval]:
    """The interval of right values of every line and result (SI), by key, when each line may be rounded to `figures`.

    Constants lie anywhere in their declared spread (pi from 3.14 to 22/7), lines and earlier results in their own
    envelopes, and the result is rounded once more.
    """
    found: dict[str, Interval] = {}
    names: dict[str, Interval] = {**CONSTANT_SPREADS, **{k: (v, v) for k, v in givens.items()}}
    for part in question.quantities:
        own = dict(names)
        for line in part.lines:
            if names_in(line.value) <= own.keys():
                bounds = widened(interval_of(line.value)(own), asked_of(part, figures, line))
                own[line.name] = found[f"{part.key}.{line.name}"] = bounds
        if names_in(part.answer) <= own.keys():
            bounds = widened(interval_of(part.answer)(own), asked_of(part, figures))
            found[part.key] = bounds
            names.update(dict.fromkeys(names_of(part), bounds))
    return found


def inside(x: Array, interval: Interval) -> Array:
    """True where x lies in the interval, ends included; False where either is nan."""
    result: Array = (x >= interval[0]) & (x <= interval[1])
    return result
