"""Bent habits: shares by hand, kind by kind, and what stays as it is."""

import math

import numpy as np
import pytest

from bank_fixture import BANK
from witnessmark.marking.weighing.habits import IN_FULL, Habits, habits
from witnessmark.marking.weights import CARRIED_IN_FULL
from witnessmark.trial.bending import bent, bent_shares, carried_in_full

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="5 mm", punch="oil-hardened tool steel")
PI_AND_LINES = habits(HOLE.question, HOLE.columns, 3)


def in_full(of: Habits, shares: np.ndarray) -> float:
    return float(shares[of.figures[:, 0] == IN_FULL].sum())


def pi_in_full(of: Habits, shares: np.ndarray) -> float:
    return float(shares[of.names["pi"][:, 0] == math.pi].sum())


def test_the_shares_of_all_but_the_leading_habit_grow_or_shrink_alike() -> None:
    habits_of_pi = (("full", 0.75), ("3.14", 0.15), ("3.142", 0.07), ("22/7", 0.03))
    up, down = dict(bent(habits_of_pi, 0.5)), dict(bent(habits_of_pi, -0.5))
    # 0.75 and 0.25 · 1.5 of 1.125; 0.75 and 0.25 · 0.5 of 0.875
    assert (up["full"], down["full"]) == pytest.approx((2 / 3, 6 / 7))
    assert (up["3.14"], down["3.14"]) == pytest.approx((0.2, 0.6 / 7))
    assert up["3.14"] / up["22/7"] == pytest.approx(5)
    assert sum(up.values()) == pytest.approx(1)


def test_a_bend_of_nothing_changes_nothing() -> None:
    assert bent((("a", 0.6), ("b", 0.4)), 0) == (("a", 0.6), ("b", 0.4))
    np.testing.assert_allclose(bent_shares(PI_AND_LINES, 0), PI_AND_LINES.shares, rtol=1e-12)


def test_a_bend_of_minus_one_leaves_the_leading_habits_alone() -> None:
    shares = bent_shares(PI_AND_LINES, -1)
    assert (in_full(PI_AND_LINES, shares), pi_in_full(PI_AND_LINES, shares)) == (1, 1)


def test_less_than_no_share_at_all_is_an_error() -> None:
    with pytest.raises(ValueError, match=r"-1\.5"):
        bent((("a", 0.6), ("b", 0.4)), -1.5)


@pytest.mark.parametrize("bend", [0.5, -0.5, 2.0])
def test_lines_and_pi_are_each_bent_as_if_alone(bend: float) -> None:
    shares = bent_shares(PI_AND_LINES, bend)
    lines = in_full(PI_AND_LINES, PI_AND_LINES.shares)
    assert shares.sum() == pytest.approx(1)
    assert in_full(PI_AND_LINES, shares) == pytest.approx(lines / (lines + (1 - lines) * (1 + bend)))
    assert pi_in_full(PI_AND_LINES, shares) == pytest.approx(0.75 / (0.75 + 0.25 * (1 + bend)))
    both = shares[(PI_AND_LINES.figures[:, 0] == IN_FULL) & (PI_AND_LINES.names["pi"][:, 0] == math.pi)].sum()
    assert both == pytest.approx(in_full(PI_AND_LINES, shares) * pi_in_full(PI_AND_LINES, shares))


def test_who_carries_results_on_from_the_calculator_is_bent_too() -> None:
    assert carried_in_full(0) == pytest.approx(CARRIED_IN_FULL)
    assert carried_in_full(0.5) == pytest.approx(0.6 / (0.6 + 0.4 * 1.5))
