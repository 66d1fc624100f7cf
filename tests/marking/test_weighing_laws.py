"""Weighing against the laws of chance: what digits are worth when no method stands behind them, and what right is."""

import math
from decimal import Decimal
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from witnessmark.marking.weighing.ladder import Rung, climb
from witnessmark.marking.weighing.weighing import Numbers, Setting, likelihood_of_none, room_of
from witnessmark.marking.weights import NONE_BEYOND, NONE_DECADES, PRIOR_OF_KIND, PRIOR_OF_NONE
from witnessmark.questions.sheet.task import Rules


def numbers(written: list[float], figures: int, scale: float = 1.0) -> Numbers:
    """Entries of so many figures in a unit of this scale."""
    n, column = len(written), np.array(written)
    return Numbers(column * scale, column, np.full(n, float(figures)), np.full(n, scale), np.zeros(n))


@pytest.mark.parametrize(("written", "figures", "half"), [(94.2, 3, 0.05), (700.0, 1, 50.0), (0.0123, 3, 0.00005)])
@pytest.mark.parametrize("scale", [1.0, 1000.0])
def test_digits_of_no_method_are_as_likely_as_their_share_of_the_logarithms(
    written: float, figures: int, half: float, scale: float
) -> None:
    """A number spread evenly over two decades is read as these digits between both ties: ln(high/low) / (2 ln 10)."""
    by_hand = math.log((written + half) / (written - half)) / (2 * math.log(10))
    found = likelihood_of_none(
        numbers([written, -written], figures, scale), np.array([written * scale, -written * scale])
    )
    assert NONE_DECADES == 2.0
    assert found.tolist() == pytest.approx([by_hand, by_hand], rel=3e-3)


def test_all_numbers_of_three_figures_within_two_decades_are_as_likely_as_one_of_them_is_sure() -> None:
    decade = [n / 100 for n in range(100, 1000)]
    around = [x * power for power in (10.0, 100.0) for x in decade]
    found = likelihood_of_none(numbers(around, 3), np.full(len(around), 100.0))
    assert found.sum() == pytest.approx(1.0, abs=0.01)


def test_beyond_a_decade_each_way_digits_are_a_tenth_as_likely() -> None:
    near, above, below = likelihood_of_none(numbers([5.0, 5000.0, 0.05], 3), np.full(3, 5.0)).tolist()
    assert (above / near, below / near) == pytest.approx((NONE_BEYOND, NONE_BEYOND), rel=1e-3)
    edge, beyond = likelihood_of_none(numbers([19.9, 20.1], 3), np.full(2, 2.0)).tolist()
    assert edge > 5 * beyond


def sure_of_right(written: float, figures: int, low: float, high: float, scale: float = 1.0) -> float:
    """How sure the ladder is of an entry within the envelope of what is right."""
    right = cast("Any", SimpleNamespace(marks=Decimal(3)))
    ends = np.array([low * scale]), np.array([high * scale])
    rung = Rung((right,), lambda: (), np.array([(low + high) / 2 * scale]), ends, (), Rules())
    climbed = climb(numbers([written], figures, scale), cast("Setting", None), rung)
    assert (climbed.named.tolist(), climbed.marks.tolist()) == ([0], [300])
    return float(climbed.sure[0])


@pytest.mark.parametrize("scale", [1.0, 1e-3])
@pytest.mark.parametrize(("low", "high", "others"), [(94.2, 94.2, 1), (94.15, 94.25, 2), (93.8, 94.7, 10)])
def test_right_is_as_sure_as_bayes_makes_it_among_the_numbers_of_its_envelope(
    low: float, high: float, others: int, scale: float
) -> None:
    """Of an envelope that holds so many numbers of three figures, each is as likely; none of these by its digits."""
    right = PRIOR_OF_KIND["right"] / others
    none = PRIOR_OF_NONE * math.log(94.25 / 94.15) / (2 * math.log(10))
    assert sure_of_right(94.2, 3, low, high, scale) == pytest.approx(right / (right + none), rel=1e-6)


def test_own_results_are_carried_on_with_half_a_unit_of_the_figures_that_are_kept() -> None:
    """94.2 kN written to three figures lies within 50 N; carried on to two, within 500 N. 20 °C: half a kelvin."""
    values = np.array([94_200.0, 94_200.0, 293.15])
    assert room_of(values[:1], "kN", np.array([3.0]), 3).tolist() == pytest.approx([50.0])
    assert room_of(values[1:2], "kN", np.array([5.0]), 2).tolist() == pytest.approx([500.0])
    assert room_of(values[2:], "degC", np.array([2.0]), 3).tolist() == pytest.approx([0.5])
