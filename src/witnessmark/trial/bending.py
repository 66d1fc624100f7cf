"""Bent habits: simulated students who round otherwise than the marker assumes, to see what its certainty is then worth.

The marker keeps its own shares (`marking/weights.py`, `questions/model/constants.py`); only the students change.
"""

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from witnessmark.marking.weighing.habits import IN_FULL, Habits
from witnessmark.marking.weights import CARRIED_IN_FULL, LINE_HABITS
from witnessmark.maths.compiled import Array
from witnessmark.questions.model.constants import CONSTANTS

T = TypeVar("T")
LEAST_BEND = -1.0
SAME = 1e-12


def bent(habits: Sequence[tuple[T, float]], bend: float) -> tuple[tuple[T, float], ...]:
    """Habits of one kind with the shares of all but the leading one times 1 + `bend`, to a sum of 1.

    Of 0.75 and 0.25 a bend of 0.5 makes 0.667 and 0.333; 0 changes nothing. ValueError for a bend under -1.
    """
    if not bend >= LEAST_BEND:
        raise ValueError(f"a bend of {bend} would leave shares under nothing")
    leading = _leading(habits)
    shares = [share if habit == leading else share * (1 + bend) for habit, share in habits]
    return tuple((habit, share / sum(shares)) for (habit, _), share in zip(habits, shares, strict=True))


def _leading(habits: Sequence[tuple[T, float]]) -> T:
    return max(habits, key=lambda h: h[1])[0]


def bent_shares(habits: Habits, bend: float) -> Array:
    """The shares of whole ways of working, shape (H,), bent in each kind: lines, pi, and every other constant."""
    lines = _leading(LINE_HABITS)
    others = (habits.figures[:, 0] != (lines or IN_FULL)).astype(np.float64)
    for name, constant in CONSTANTS.items():
        if name in habits.names:
            taken = habits.names[name][:, 0]
            others = others + (np.abs(taken / _leading(constant.habits) - 1) > SAME)
    shares = habits.shares * (1 + bend) ** others
    return np.asarray(shares / shares.sum())


def carried_in_full(bend: float) -> float:
    """The share of students who carry a wrong result on from the calculator, bent alike."""
    return dict(bent(((True, CARRIED_IN_FULL), (False, 1 - CARRIED_IN_FULL)), bend))[True]
