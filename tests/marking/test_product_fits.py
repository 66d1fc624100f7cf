"""Which products of powers several answers share, and what that is worth: against each product worked by itself."""

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.marking.search import product_fits
from witnessmark.marking.search import shared_odds as shared_odds_module
from witnessmark.marking.search.product_fits import ProductFits
from witnessmark.marking.search.product_forms import Forms, Powers, forms_near
from witnessmark.marking.search.shared_odds import COST_OF_POWER, COST_OF_RIGHT_SIZE, of_chosen, shared_odds
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.maths.rounding import to_figures

Floats = npt.NDArray[np.float64]
Scored = tuple[int, list[int], float]
SIZE = 12
CHANCE = np.random.default_rng(3)
D, T = np.round(CHANCE.uniform(10, 90, SIZE), 1), np.round(CHANCE.uniform(1, 9, SIZE), 2)
LOGS = np.log10(np.stack([D, T]))
NOISE = CHANCE.lognormal(3, 3, SIZE)
FORMS = forms_near(("d", "t"), Powers((1.0, 1.0), (1, 0)))


def answers(values: Floats, figures: int = 4) -> Unexplained:
    """These numbers, written to so many figures."""
    ones = np.ones(len(values))
    return Unexplained(to_figures(values, figures), figures * ones, ones, {}, tuple(f"S{n}" for n in range(len(ones))))


def fits_of(given: Unexplained) -> ProductFits:
    return ProductFits(FORMS, LOGS, given)


def shared(given: Unexplained, left: Sequence[int], gains: Floats, still: Floats) -> dict[tuple[int, int], Scored]:
    """What the answers share by row and column of the forms: the power of ten, who has it, and the log odds."""
    found = fits_of(given).shared(np.array(left, np.intp), gains, still)
    return {(row, column): (power, mine.tolist(), odds) for row, column, (power, mine, odds) in found}


def one_by_one(given: Unexplained, left: Sequence[int], gains: Floats, still: Floats) -> dict[tuple[int, int], Scored]:
    """The same by hand, each product by itself: it fits within half of the last digit, or where pi is in it also within
    half of 0.00051; who uses it writes such digits 85 times in 100, spread evenly (our assumption; common practice, no
    source)."""
    found = {}
    for row, column in np.ndindex(len(FORMS.exponents), len(FORMS.constants)):
        (d, t), (pi, two) = FORMS.exponents[row].tolist(), FORMS.constants[column]
        apart = np.log10(given.si / (D**d * T**t * math.pi**pi * 2.0**two))[left]
        room = given.chance()[left] * 1.001 + abs(pi) * 0.00051
        fits = np.abs(apart - np.round(apart)) <= room / 2
        odds = np.where(fits, 0.85 * gains * given.chance()[left] / room, 0.0)
        cost = float(FORMS.costs[row] + FORMS.constant_costs[column])
        if (scored := shared_odds(odds, np.round(apart), cost, still)) is not None:
            found[row, column] = (scored[0], scored[1].tolist(), scored[2])
    return found


def at(d: float, t: float, constant: tuple[int, int]) -> tuple[int, int]:
    """Row and column of a product."""
    return FORMS.exponents.tolist().index([d, t]), FORMS.constants.index(constant)


@pytest.mark.parametrize("at_once", [1, 500, product_fits.AT_ONCE])
@pytest.mark.parametrize(("figures", "low", "least"), [(1, -40.0, 20), (2, -40.0, 3), (4, 4.0, 2)])
def test_no_product_that_is_shared_is_passed_over_and_none_told_that_is_not(
    monkeypatch: pytest.MonkeyPatch, at_once: int, figures: int, low: float, least: int
) -> None:
    """Whatever the level of doubt, and however many are worked at once; some answers are left out, some are likelier
    without a method, and some are explained nearly."""
    for module in (product_fits, shared_odds_module):
        monkeypatch.setattr(module, "LEAST_ODDS", low)
    monkeypatch.setattr(product_fits, "AT_ONCE", at_once)
    one, other, rare = 4 * D * T, 1000 * T**2 * math.pi, D / T / 100
    given = answers(np.concatenate([one[:4], other[4:7], rare[7:9], NOISE[9:]]), figures)
    left = [0, 1, 2, 3, 4, 5, 6, 8, 9, 11]
    gains, still = 2 / given.chance()[left], np.ones(10)
    gains[[1, 7]], still[[3, 8]] = (1.7, 0.4), (0.3, 1e-9)
    found, by_hand = shared(given, left, gains, still), one_by_one(given, left, gains, still)
    assert found.keys() == by_hand.keys()
    assert {at: scored[:2] for at, scored in found.items()} == {at: scored[:2] for at, scored in by_hand.items()}
    assert [found[at][2] for at in by_hand] == pytest.approx([odds for _, _, odds in by_hand.values()])
    assert len(by_hand) >= least


def test_a_product_is_worth_its_digits_less_its_length_and_what_it_takes_to_say_who_shares_it() -> None:
    given = answers(np.where(np.arange(SIZE) < 5, D**2 / T, NOISE))
    gains = 2 / given.chance()
    power, mine, odds = shared(given, range(SIZE), gains, np.ones(SIZE))[at(2, -1, (0, 0))]
    cost = FORMS.costs[at(2, -1, (0, 0))[0]] + FORMS.constant_costs[at(2, -1, (0, 0))[1]]
    assert (power, mine) == (0, [0, 1, 2, 3, 4])
    digits = np.log(0.85 * 2 / (1.001 * given.chance()[:5])).sum()
    assert odds == pytest.approx(digits - float(of_chosen(5, 7)) - cost - COST_OF_RIGHT_SIZE)


@pytest.mark.parametrize("row", range(len(FORMS.exponents)))
def test_every_product_is_found_where_five_of_twelve_use_it(row: int) -> None:
    column = row % len(FORMS.constants)
    (d, t), (pi, two) = FORMS.exponents[row].tolist(), FORMS.constants[column]
    given = answers(np.where(np.arange(SIZE) < 5, D**d * T**t * math.pi**pi * 2.0**two / 1000, NOISE))
    power, mine, _ = shared(given, range(SIZE), 2 / given.chance(), np.ones(SIZE))[row, column]
    assert (power, mine) == (-3, [0, 1, 2, 3, 4])


@pytest.mark.parametrize(("times", "size"), [(1, COST_OF_RIGHT_SIZE), (1000, COST_OF_POWER)])
@pytest.mark.parametrize("column", [(1, 0), (0, 2)])
@pytest.mark.parametrize("count", [6, 12])
def test_a_product_is_told_from_log_odds_of_four_on(
    times: int, size: float, column: tuple[int, int], count: int
) -> None:
    """Six of six or of twelve share it; the others lie elsewhere, and would be a little likelier from what they fit."""
    row, at_column = at(2, -1, column)
    given = answers(np.where(np.arange(SIZE) < 6, times * D**2 / T * math.pi ** column[0] * 2 ** column[1], NOISE))
    room = given.chance() * 1.001 + column[0] * 0.00051
    cost = float(of_chosen(6, count - 6) + FORMS.costs[row] + FORMS.constant_costs[at_column]) + size
    for total, is_told in ((4 + 5e-7, True), (4 - 5e-7, False)):
        worth = np.where(np.arange(SIZE) < 6, math.exp((total + cost) / 6), 1.01)
        gains = (worth * room / (0.85 * given.chance()))[:count]
        assert ((row, at_column) in shared(given, range(count), gains, np.ones(count))) == is_told


def test_who_is_far_likelier_to_have_had_no_method_takes_nothing_from_those_who_share_a_product() -> None:
    given = answers(np.where(np.arange(SIZE) < 6, 2 * D, NOISE))
    gains = np.where(np.arange(SIZE) < 4, 1e6, 1e-30)
    assert shared(given, range(SIZE), gains, np.ones(SIZE))[at(1, 0, (0, 1))][:2] == (0, [0, 1, 2, 3])


def test_three_who_share_a_product_are_enough_and_two_are_not() -> None:
    some = at(1, 0, (0, 1))
    for count, are_enough in ((2, False), (3, True)):
        given = answers(np.where(np.arange(SIZE) < count, 2 * D, NOISE))
        gains = np.where(np.arange(SIZE) < count, 1e9, 0.5)
        assert (some in shared(given, range(SIZE), gains, np.ones(SIZE))) == are_enough
        left = range(SIZE - count, SIZE)
        assert some not in shared(given, left, gains[left], np.ones(count))


def test_of_powers_of_ten_the_one_that_most_share_is_taken_and_of_two_the_smaller() -> None:
    def power(*sizes: float) -> tuple[int, list[int]]:
        given = answers(
            2 * D * np.array([*sizes, *np.full(SIZE - len(sizes), 0.0)]) + NOISE * (np.arange(SIZE) >= len(sizes))
        )
        return shared(given, range(SIZE), np.full(SIZE, 1e9), np.ones(SIZE))[at(1, 0, (0, 1))][:2]

    assert power(100, 1, 1, 100, 1, 1) == (0, [1, 2, 4, 5])
    assert power(100, 1, 100, 100, 1, 100) == (2, [0, 2, 3, 5])
    assert power(1, 100, 1, 100, 1, 100) == (0, [0, 2, 4])
    assert power(1, 0.01, 1, 0.01, 1, 0.01) == (-2, [1, 3, 5])


def test_of_two_powers_of_ten_that_as_many_share_the_smaller_is_taken_though_the_other_were_likelier() -> None:
    given = answers(np.where(np.arange(SIZE) < 6, 2 * D * np.where(np.arange(SIZE) % 2, 100, 1), NOISE))
    gains = np.where(np.arange(SIZE) % 2, 1.5, 1e9)
    assert shared(given, range(SIZE), gains, np.ones(SIZE))[at(1, 0, (0, 1))][:2] == (0, [0, 2, 4])
    assert at(1, 0, (0, 1)) not in shared(given, range(SIZE), gains[::-1].copy(), np.ones(SIZE))


def test_a_power_of_ten_is_dearer_than_none() -> None:
    found = []
    for times in (1, 1000):
        given = answers(np.where(np.arange(SIZE) < 4, 2 * D * times, NOISE))
        found.append(shared(given, range(SIZE), 2e3 * np.ones(SIZE), np.ones(SIZE))[at(1, 0, (0, 1))][2])
    assert found[0] - found[1] == pytest.approx(COST_OF_POWER - COST_OF_RIGHT_SIZE)


def test_whoever_takes_3_14_or_22_over_7_for_pi_shares_a_product_with_whoever_takes_it_in_full() -> None:
    taken = np.array([3.14, 22 / 7, math.pi, 3.142, *np.full(8, 1.0)])
    given = answers(np.where(np.arange(SIZE) < 4, D * T * taken, NOISE), figures=6)
    scored = shared(given, range(SIZE), 1e9 * np.ones(SIZE), np.ones(SIZE))
    assert scored[at(1, 1, (1, 0))][1] == [0, 1, 2, 3]
    too_far = answers(np.where(np.arange(SIZE) < 4, D * T * (math.pi + 0.002), NOISE), figures=6)
    assert at(1, 1, (1, 0)) not in shared(too_far, range(SIZE), 1e9 * np.ones(SIZE), np.ones(SIZE))


def test_those_without_names_share_nothing() -> None:
    nothing: Forms = forms_near((), None)
    fits = ProductFits(nothing, np.empty((0, SIZE)), answers(NOISE))
    assert list(fits.shared(np.arange(SIZE), np.ones(SIZE), np.ones(SIZE))) == []
