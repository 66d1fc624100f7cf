"""What the assumed shares say beside each other: which habits and methods lead, and that shares of a whole make one.

The shares are our own assumptions (common practice, no source); here stands what they are meant to say.
"""

import pytest

from witnessmark.marking.weighing.class_priors import WRONG_PRIOR
from witnessmark.marking.weights import (
    BY_ITS_METHOD,
    CARRIED_IN_FULL,
    EACH_ROUNDED,
    FIGURES_MEANT,
    GOES_ON_AS_TYPED,
    LINE_HABITS,
    MOST_SURE,
    MOST_SURE_OF_EDIT,
    PI_AS_THREE,
    POWERS,
    PRIOR_OF_KIND,
    PRIOR_OF_NONE,
    ROUNDED_BEFORE,
    SHARE_OF_POWER,
    SLIP_POWERS,
    SURELY_NAMED,
)


def test_lines_are_carried_on_in_full_by_most_and_else_to_two_to_five_figures_in_shares_of_a_whole() -> None:
    shares = dict(LINE_HABITS)
    assert len(shares) == len(LINE_HABITS)
    assert shares.keys() == {None, 2, 3, 4, 5}
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares[None] > 0.5 > shares[3] > shares[4] > shares[2] == shares[5]


def test_as_many_carry_a_result_on_in_full_as_carry_lines_and_the_others_go_on_as_they_typed() -> None:
    assert dict(LINE_HABITS)[None] == CARRIED_IN_FULL
    assert pytest.approx(1.0) == CARRIED_IN_FULL + GOES_ON_AS_TYPED


def test_as_many_come_from_the_number_of_the_method_as_from_another_way_of_rounding() -> None:
    assert BY_ITS_METHOD == 1 - BY_ITS_METHOD


def test_of_a_right_result_more_go_on_from_what_they_worked_than_as_typed_and_few_from_what_rounds_to_it() -> None:
    as_worked = 1 - GOES_ON_AS_TYPED - ROUNDED_BEFORE
    assert as_worked > GOES_ON_AS_TYPED > 2 * ROUNDED_BEFORE > 0


def test_a_number_is_meant_to_three_figures_by_most_and_to_one_to_six_by_anybody() -> None:
    assert FIGURES_MEANT.keys() == {1, 2, 3, 4, 5, 6}
    assert sum(FIGURES_MEANT.values()) == pytest.approx(1.0)
    assert sorted(FIGURES_MEANT, key=lambda figures: -FIGURES_MEANT[figures]) == [3, 4, 5, 2, 6, 1]


def test_who_rounds_each_operation_rounds_to_three_or_four_figures_rather_to_three() -> None:
    assert EACH_ROUNDED.keys() == {3, 4}
    assert sum(EACH_ROUNDED.values()) == pytest.approx(1.0)
    assert EACH_ROUNDED[3] > EACH_ROUNDED[4]


def test_every_power_of_ten_up_to_twelve_is_known_up_and_down_alike() -> None:
    assert tuple(n for n in range(-12, 13) if n) == POWERS
    assert all(SHARE_OF_POWER[n] == SHARE_OF_POWER[-n] for n in POWERS)


@pytest.mark.parametrize(("power", "beside", "times"), [
    (3, 1, 1.5), (6, 3, 1.0), (2, 1, 1.0), (9, 1, 1.0), (1, 4, 4 / 3), (5, 4, 1.0), (4, 7, 6.0), (8, 7, 1.0),
    (10, 7, 1.0), (11, 7, 1.0), (12, 7, 1.0),
])  # fmt: skip
def test_prefixes_lead_then_centimetres_and_noughts_and_rare_powers_are_far_rarer(
    power: int, beside: int, times: float
) -> None:
    assert SHARE_OF_POWER[power] / SHARE_OF_POWER[beside] == pytest.approx(times)


def test_beside_a_slip_those_powers_are_met_that_are_no_rare_ones() -> None:
    assert {abs(n) for n in SLIP_POWERS} == {1, 2, 3, 4, 5, 6, 9}


def test_what_is_carried_on_is_met_as_often_as_what_is_not() -> None:
    of = PRIOR_OF_KIND
    assert (of["carried"], of["slip carried"], of["carried early"]) == (of["right"], of["slip"], of["rounded early"])


def test_half_of_all_answers_are_right_nearly_as_many_by_wrong_methods_and_few_by_none() -> None:
    assert PRIOR_OF_KIND["right"] == 50 * PRIOR_OF_NONE
    assert PRIOR_OF_KIND["right"] > WRONG_PRIOR > 0.85 * PRIOR_OF_KIND["right"]


def test_of_those_who_round_otherwise_who_rounds_each_operation_or_cuts_off_leads() -> None:
    of = PRIOR_OF_KIND
    assert of["each rounded"] == of["cut off"] > of["rounded early"] == of["other g"] == 2 * of["coarse constant"]


def test_pi_is_taken_as_three_less_than_half_as_often_as_g_as_ten() -> None:
    assert 0 < PI_AS_THREE < 0.5


def test_one_slip_is_commoner_than_all_powers_of_ten_and_these_than_two_mistakes_together() -> None:
    of = PRIOR_OF_KIND
    assert of["slip"] == 3 * of["power of ten"] == 6 * of["two slips"]
    assert of["power of ten"] == 1.5 * of["slip and power of ten"] == 4 * of["conversion"]
    assert of["sign"] == 2 * of["slip and sign"] == of["two slips, other dimension"]
    assert of["two slips"] == of["not converted"] == 3 * of["digits"]


def test_a_known_slip_is_nine_times_as_common_as_an_edit_and_two_edits_are_the_rarest() -> None:
    of = PRIOR_OF_KIND
    assert of["slip"] == pytest.approx(9 * of["edit"])
    assert of["edit"] == 2 * of["rarer edit"]
    assert min(of, key=lambda kind: of[kind]) == "two edits"
    assert of["two edits"] < of["rarer edit"] / 2


def test_no_name_is_wholly_sure_and_that_of_an_edit_is_the_least_sure() -> None:
    assert SURELY_NAMED < MOST_SURE_OF_EDIT < MOST_SURE < 1
    assert pytest.approx(6 * (1 - MOST_SURE)) == 1 - MOST_SURE_OF_EDIT
