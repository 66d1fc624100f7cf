"""How likely a changed working gives the digits of each answer, by every habit of working."""

from collections.abc import Mapping

import numpy as np

from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.weighing.habits import Habits
from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.rounding import to_figures
from witnessmark.questions.working.evaluation import number_of
from witnessmark.questions.working.methods import Method

SAME_DIGITS = 1e-9
UNLISTED = 0.15
"""How many round on the way by a habit that is not listed: at every operation, or only here and there."""
Fitting = tuple[Array, Array, Array]
"""What a method gives in full as common logarithms, the share of habits that give each answer's digits, and the power
of ten between them; shape (n,) each."""


class HabitFits:
    """What methods give by every habit for some answers: each worked once, since the search looks at the same answers
    again without those that a formula was found for. `room` is how far habits may move a result (common logarithm)."""

    def __init__(self, answers: Unexplained, ways: Habits, known: Mapping[str, Dimension], room: float) -> None:
        self._answers, self._ways, self._known, self._room = answers, ways, known, room
        self._chance = answers.chance()
        self._found: dict[int, tuple[Method, Fitting]] = {}

    def known(self, row: int) -> tuple[Method, Fitting] | None:
        """What was found of the formula of this number, None where it was not looked at."""
        return self._found.get(row)

    def look(self, row: int, method: Method) -> Fitting:
        """The formula of this number, looked at and kept."""
        value = _by_habits(method, self._ways, self._known, len(self._answers.si))
        like, powers = _digits(value, self._answers, self._ways.shares, self._room, self._chance)
        with np.errstate(all="ignore"):
            logs = np.log10(np.abs(value[0]))
        self._found[row] = method, (logs, like, powers)
        return logs, like, powers


def _by_habits(method: Method, ways: Habits, known: Mapping[str, Dimension], size: int) -> Array:
    """What a method gives by every habit, shape (habits, size), or (1, size) where no habit matters to it."""
    value = np.atleast_2d(number_of(method, ways.names, known, figures=ways.figures))
    return np.broadcast_to(value, (len(value), size))


def _digits(value: Array, answers: Unexplained, shares: Array, room: float, chance: Array) -> tuple[Array, Array]:
    """The share of habits that give each answer's digits, and the power of ten between them, shape (n,).

    It is a little where the digits lie within `room` (common logarithm) and one in the last of what working in full
    gives, as by a habit that is not listed or where digits were cut off. `chance` is that of the answers.
    """
    with np.errstate(all="ignore"):
        rounded = to_figures(value / answers.scale, answers.figures)
        apart = np.log10(np.abs(answers.si / answers.scale / rounded))
        powers = np.round(apart)
        same = np.abs(apart - powers) < SAME_DIGITS
        from_full = np.log10(np.abs(answers.si / value[0]))
        full_powers = np.round(from_full)
        near = np.abs(from_full - full_powers) <= room + chance
        by_other = np.where(near, UNLISTED * chance / (2 * room + 2 * chance), 0.0)
    shape = (len(shares), len(answers.si))
    whole, powers = np.broadcast_to(same, shape), np.broadcast_to(powers, shape)
    exact = shares @ whole
    which = np.where(exact > 0, powers[whole.argmax(0), np.arange(shape[1])], full_powers)
    return np.maximum(exact, by_other), which
