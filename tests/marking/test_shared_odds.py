"""The odds that several answers share one formula, against sums and integrals by hand."""

import math

import numpy as np
import pytest

from witnessmark.marking.search.shared_odds import (
    COST_OF_POWER,
    COST_OF_RIGHT_SIZE,
    density_of_none,
    of_chosen,
    shared_odds,
)

FIT = math.exp(5.0)
ALL = np.ones(5)


def test_shared_odds_are_those_of_the_fits_less_what_the_choice_the_size_and_the_formula_cost() -> None:
    """By hand: of five answers three fit, each e^5 times likelier; which three costs ln(6 * 10), the formula 2."""
    odds, none = np.array([FIT, 0.0, FIT, FIT, 0.0]), np.zeros(5)
    found = shared_odds(odds, none, 2.0, ALL)
    assert found is not None
    assert (found[0], found[1].tolist()) == (0, [0, 2, 3])
    assert found[2] == pytest.approx(15 - math.log(60) - 2 - COST_OF_RIGHT_SIZE)
    shifted = shared_odds(odds, none + 3, 2.0, ALL)
    assert shifted is not None
    assert shifted[0] == 3
    assert shifted[2] == pytest.approx(15 - math.log(60) - 2 - COST_OF_POWER)


def test_a_formula_is_reported_from_odds_of_e_to_the_fourth_and_from_three_students_on() -> None:
    odds = np.array([FIT, FIT, FIT, 0.0, 0.0])  # 15 - ln(60) - 0.2 = 10.706
    assert shared_odds(odds, np.zeros(5), 6.70, ALL) is not None
    assert shared_odds(odds, np.zeros(5), 6.71, ALL) is None
    assert shared_odds(odds[1:] * FIT, np.zeros(4), 0.0, ALL[1:]) is None
    assert shared_odds(odds * FIT, np.array([0.0, 0.0, 3.0, 0.0, 0.0]), 0.0, ALL) is None


def test_of_several_powers_of_ten_the_one_that_most_fits_share_is_taken() -> None:
    odds = np.array([FIT, FIT, 0.0, FIT, FIT, 0.5])
    found = shared_odds(odds, np.array([-3.0, 0.0, 0.0, -3.0, -3.0, -3.0]), 0.0, np.ones(6))
    assert found is not None
    assert (found[0], found[1].tolist()) == (-3, [0, 3, 4])
    assert found[2] == pytest.approx(15 - math.log(7 * 20) - COST_OF_POWER)


def test_numbers_without_a_method_lie_evenly_within_a_factor_of_ten_and_thinner_beyond() -> None:
    """Evenly over two decades, one each way; beyond, 0.15 (our assumption; common practice, no source)."""
    si = np.array([7.0, -7.0, 70.0, 0.7, 71.0, 0.69])
    assert density_of_none(si, np.full(6, 7.0)).tolist() == [0.5, 0.5, 0.5, 0.5, 0.15, 0.15]


@pytest.mark.parametrize(("fitting", "beside"), [(3, 0), (3, 5), (8, 40), (1, 1)])
def test_what_it_takes_to_say_which_answers_share_a_formula_is_a_beta_integral(fitting: int, beside: int) -> None:
    """The integral of t^k (1 - t)^m from 0 to 1, as scipy's beta function gives it."""
    from scipy.special import betaln

    assert of_chosen(fitting, beside).tolist() == pytest.approx(-betaln(fitting + 1, beside + 1))
    assert of_chosen(fitting, beside - 0.3).tolist() == of_chosen(fitting, beside).tolist()


def test_an_answer_shares_a_formula_that_is_likelier_than_none_by_ever_so_little() -> None:
    odds = np.array([FIT, FIT, 1.0, FIT, 1.01])
    found = shared_odds(odds, np.zeros(5), 0.0, ALL)
    assert found is not None
    assert found[1].tolist() == [0, 1, 3, 4]
