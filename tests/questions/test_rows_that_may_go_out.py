"""Which numbers may be issued, condition by condition and by hand: what is kept, what meets, what is judged, chosen,
counted and offered, and what is plain by accident."""

from decimal import Decimal

import numpy as np
import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.maths.compiled import Array
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing.separation import (
    apart_on_the_sheet,
    clashes,
    clear_counts,
    clear_judgements,
    clear_sizes,
    keeps,
    names_of_sample,
    near_on_the_sheet,
    same_numbers,
    separable,
    uneven_numbers,
)
from witnessmark.questions.model.question import Table

TEXT = """
question: planks
title: Planks
topic: lengths
level: 1
setting: Planks are cut.
given:
{given}
keep: [{keep}]
find:
{find}
"""
OF_ONE = {"a": "is: length, unit: mm, from: 1, to: 90, step: 1"}
OF_TWO = {**OF_ONE, "b": "is: width, unit: mm, from: 1, to: 90, step: 1"}
SUM = "ask: A, is: sum, symbol: s, unit: mm, answer: a + b, marks: 2"
RATIO = "ask: A, is: ratio, symbol: n, unit: number, answer: a/b, marks: 1"
PEGS = Table("pegs", "invented", {"thickness": "mm"}, {f"peg {n}": {"thickness": Decimal(n)} for n in (8, 10, 12, 16)})


def question(find: dict[str, str], keep: str = "", given: dict[str, str] | None = None) -> DrawableQuestion:
    """A question of lengths with these parts."""
    told, asked = ("\n".join(f"  {k}: {{{v}}}" for k, v in d.items()) for d in (given or OF_TWO, find))
    text = TEXT.format(given=told, keep=keep, find=asked)
    found, problems = question_from_text(text, "planks.yaml", {"pegs": PEGS})
    assert problems == ()
    assert found is not None
    return found


def rows(**millimetres: list[float]) -> dict[str, Array]:
    """Givens in millimetres as columns."""
    return {name: np.array(values) / 1000 for name, values in millimetres.items()}


# What a question keeps.


def test_every_condition_is_asked_of_every_row() -> None:
    found = question({"x": SUM}, "a < b, a > 2 mm")
    givens = rows(a=[3, 2, 4, 3, 1], b=[4, 4, 4, 3, 1])
    assert keeps(found, givens, 5).tolist() == [True, False, False, False, False]


def test_a_result_of_nothing_or_without_end_is_not_kept_and_a_result_of_one_is() -> None:
    found = question({"x": "ask: A, is: ratio, unit: number, answer: (a - 3*b)/(b - 2 * a), marks: 1", "y": RATIO})
    givens = rows(a=[3, 2, 1, 4, 4], b=[1, 4, 0, 4, 1])
    assert keeps(found, givens, 5).tolist() == [False, False, False, True, True]


def test_a_condition_of_what_a_row_does_not_tell_says_nothing_of_it() -> None:
    assert keeps(question({"x": SUM}, "a > 2 mm, b > 2 mm"), rows(a=[3, 1]), 2).tolist() == [True, False]


def test_a_condition_may_name_all_that_there_is() -> None:
    """9.81 m/s^2 times pi times 50 mm is 1.54 m^2/s^2."""
    found = question({"x": "ask: A, is: B, unit: mm, answer: 2*a, marks: 1"}, "pi*g*a > 1.54 m^2/s^2", OF_ONE)
    assert keeps(found, rows(a=[49, 50]), 2).tolist() == [False, True]


# Which methods meet.


def with_slips(*answers: str) -> DrawableQuestion:
    """The sum of two lengths, and what is made of it instead."""
    slips = ", ".join(f"{{misconception: m{n}, answer: {answer}, keeps: 1}}" for n, answer in enumerate(answers))
    return question({"x": f"{SUM}, slips: [{slips}]"})


def test_methods_meet_where_what_is_rounded_to_three_figures_may_be_the_same() -> None:
    """10.1 and 10 make 20.1, and twice the first is 20.2: half of the last figure each, they touch; 20.11 and 20.22 do
    not."""
    found = with_slips("2*a")
    givens = rows(a=[10, 10.1, 10.11, 9.9, 9.89, 19.9], b=[10, 10, 10, 10, 10, 0.2])
    assert separable(found, givens, 6, 3).tolist() == [False, False, True, False, True, True]


def test_a_slip_that_is_right_in_every_variant_is_never_issued_and_two_that_are_one_slip_are() -> None:
    givens = rows(a=[10, 33], b=[25, 8])
    assert separable(with_slips("3*a/3 + b"), givens, 2, 3).tolist() == [False, False]
    assert separable(with_slips("2*a", "3*a - a"), givens, 2, 3).tolist() == [True, True]
    assert separable(with_slips("2*a", "3*a - 2*b"), rows(a=[10, 34], b=[5, 8]), 2, 3).tolist() == [False, True]


def test_a_meeting_is_told_by_the_place_and_names_of_those_that_meet_in_some_row() -> None:
    found = clashes(with_slips("2*a", "3*a - 2*b"), rows(a=[10, 34, 7], b=[5, 8, 60]), 3, 3)
    told = [(clash.key, clash.first, clash.second, clash.rows.tolist(), clash.always) for clash in found]
    assert told == [("x", "m0", "m1", [True, False, False], False)]


def test_a_part_whose_givens_are_not_there_hides_no_meeting_in_a_later_one() -> None:
    later = "ask: A, is: B, unit: mm, answer: 2*a, marks: 2, slips: [{misconception: m, answer: a*a, keeps: 1}]"
    found = question({"x": SUM, "y": later})
    assert separable(found, rows(a=[2, 3]), 2, 3).tolist() == [False, True]


def test_bare_numbers_of_one_slip_are_no_two_methods_though_they_meet() -> None:
    """A volume for a length is a number in metres and in millimetres, which meet where it is nothing."""
    found = question({"x": f"{SUM}, slips: [{{misconception: m, answer: a*a*b - a*b*b, keeps: 1}}]"})
    assert clashes(found, rows(a=[10, 11], b=[10, 10]), 2, 3) == ()


def test_columns_are_the_same_to_a_billionth_and_where_both_have_nothing() -> None:
    nan, inf, one = np.nan, np.inf, np.array([1.0, 2.0])
    assert same_numbers(one, one * (1 + 0.9e-9))
    assert not same_numbers(one, one * (1 + 1.2e-9))
    assert not same_numbers(one, -one)
    assert same_numbers(1e9 * one, 1e9 * one + 1)
    assert same_numbers(np.array([1.0, nan, inf]), np.array([1.0, inf, nan]))
    assert same_numbers(np.zeros(2), np.zeros(2))
    for other in ([1.0, nan, 3.0], [1.0, inf, 3.0], [nan, 2.0, 3.0]):
        assert not same_numbers(np.array([1.0, 2.0, 3.0]), np.array(other))
        assert not same_numbers(np.array(other), np.array([1.0, 2.0, 3.0]))
    assert not same_numbers(np.array([nan, inf]), np.array([nan, inf]))


# What they are compared on.


def test_methods_are_compared_on_what_is_kept_however_seldom_that_is_drawn() -> None:
    """One draw in 338: sixty-four draws hold none of it, and thousands some."""
    found = question({"x": SUM}, "a > 86.5 mm, b > 83.5 mm")
    names = names_of_sample(found)
    assert 5 <= len(names["a"]) <= 64
    assert names["a"].min() > 0.0865
    assert names["b"].min() > 0.0835


def test_methods_are_compared_on_sixty_four_draws_where_nothing_that_is_asked_is_ever_kept() -> None:
    names = names_of_sample(question({"x": SUM}, "a > 95 mm"))
    assert len(names["a"]) == 64
    assert names["a"].max() <= 0.090


# What is judged, chosen, counted and offered.


def test_a_judgement_is_clear_where_its_sides_do_not_even_touch() -> None:
    found = question({"x": "ask: A, judge: a < b, marks: 1", "y": SUM})
    assert clear_judgements(found, rows(a=[2, 3, 4], b=[3, 3, 3]), 3, 3).tolist() == [True, False, True]


def test_a_judgement_is_not_clear_where_rounding_a_result_may_turn_it_round() -> None:
    """To three figures 2.994 lies between 2.989 and 2.999, 3.006 between 3.001 and 3.011; the others hold 3."""
    found = question({"x": RATIO, "y": "ask: A, judge: n >= 3, carries: [x], marks: 1"})
    ratios = [2.994, 2.996, 3.0, 3.004, 3.006]
    assert clear_judgements(found, rows(a=ratios, b=[1] * 5), 5, 3).tolist() == [True, False, False, False, True]


def test_a_judgement_is_not_clear_where_either_result_may_be_the_larger_one() -> None:
    """Half a hundredth of each: 3.00 against 3.004 and 2.996, not against 3.012 and 2.988."""
    other = "ask: A, is: ratio, symbol: m, unit: number, answer: b/c, marks: 1"
    found = question(
        {"x": RATIO, "y": other, "z": "ask: A, judge: n >= m, carries: [x, y], marks: 1"},
        given={**OF_TWO, "c": "is: depth, unit: mm, from: 1, to: 90, step: 1"},
    )
    b = [3.004, 2.996, 3.012, 2.988]
    givens = rows(a=[3 * x for x in b], b=b, c=[1] * 4)
    assert clear_judgements(found, givens, 4, 3).tolist() == [False, False, True, True]


def test_a_judgement_of_what_a_row_does_not_tell_is_left_and_one_of_all_that_there_is_looked_at() -> None:
    found = question({"x": "ask: A, judge: a < b, marks: 1", "y": SUM})
    assert clear_judgements(found, rows(a=[2, 3]), 2, 3).tolist() == [True, True]
    alone = question({"x": "ask: A, judge: pi*g*a < g*a*22/7, marks: 1"}, given=OF_ONE)
    assert clear_judgements(alone, rows(a=[2]), 1, 3).tolist() == [False]


def sized(value: str, slips: str = "", choose: str = "at least") -> DrawableQuestion:
    """A peg of 8, 10, 12 or 16 mm that a value chooses; the sum of two lengths is found before."""
    carries = ", carries: [x]" if value == "s" else ""
    return question({"x": SUM, "y": f"{peg(value, choose)}{carries}{slips}"})


def peg(value: str, choose: str = "at least") -> str:
    return f"ask: A, is: peg, standard: pegs, column: thickness, choose: {choose}, value: {value}, marks: 1"


def test_a_size_is_clear_where_the_value_chooses_one_of_the_list() -> None:
    assert clear_sizes(sized("a"), rows(a=[7, 9, 16, 17], b=[1] * 4), 4, 3).tolist() == [True, True, True, False]
    assert clear_sizes(sized("a", choose="at most"), rows(a=[7, 8, 17], b=[1] * 3), 3, 3).tolist() == [
        False, True, True,
    ]  # fmt: skip


def test_a_size_is_not_clear_where_rounding_a_result_may_choose_its_neighbour() -> None:
    """9.96 to 10.06 of a sum of 10.01 have both 10 and 12; 9.94 and 10.06 have one each."""
    givens = rows(a=[5.01, 4.94, 5.06, 12], b=[5, 5, 5, 5])
    assert clear_sizes(sized("s"), givens, 4, 3).tolist() == [False, True, True, False]


def test_a_size_that_a_slip_chooses_too_is_not_clear() -> None:
    slips = ", slips: [{misconception: m, value: b}, {misconception: k, value: 2*b}]"
    givens = rows(a=[9, 9, 9, 9], b=[9.5, 7, 4.6, 3])
    assert clear_sizes(sized("a", slips), givens, 4, 3).tolist() == [False, True, False, True]
    assert clear_sizes(sized("a", slips), rows(a=[9, 20]), 2, 3).tolist() == [True, False]


def test_a_size_by_what_a_row_does_not_tell_is_left_and_one_by_all_that_there_is_looked_at() -> None:
    assert clear_sizes(sized("b"), rows(a=[90]), 1, 3).tolist() == [True]
    alone = question({"x": peg("pi*g*a/g")}, given=OF_ONE)
    assert clear_sizes(alone, rows(a=[2, 9]), 2, 3).tolist() == [True, False]


BOARDS = {"x": "ask: A, is: boards, unit: number, answer: round_up(s_1/b), marks: 1,"
               " lines: {s_1: {is: length and two, unit: mm, value: a + 2*b}}"}  # fmt: skip


def test_a_count_is_clear_where_rounding_the_line_before_it_leads_to_no_other() -> None:
    """To three figures 40.04 mm are 40.0, and four tens; 40.06 are 40.1, and five; 39.94 are 39.9, and four."""
    givens = rows(a=[20.04, 20.06, 19.94, 19.96], b=[10] * 4)
    assert clear_counts(question(BOARDS), givens, 4, 3).tolist() == [False, True, True, False]


def test_a_count_of_what_a_row_does_not_tell_is_left_and_one_of_all_that_there_is_looked_at() -> None:
    assert clear_counts(question(BOARDS), rows(a=[20.04]), 1, 3).tolist() == [True]
    pieces = "ask: A, is: pieces, unit: number, answer: round_up(pi*g*a/g/a), marks: 1"
    assert clear_counts(question({"x": pieces}, given=OF_ONE), rows(a=[2]), 1, 3).tolist() == [True]
    halves = pieces.replace("pi*g", "7*pi*g")  # from 21.98 to 22
    assert clear_counts(question({"x": halves}, given=OF_ONE), rows(a=[2]), 1, 3).tolist() == [False]


def test_what_is_offered_stays_apart_but_for_what_is_always_the_same() -> None:
    """2 a, a + b and 4 a - 2 a are offered: the first and the last are one number, which the second meets at b = a."""
    slips = "slips: [{misconception: m, answer: a + b}, {misconception: k, answer: 4*a - 2*a}]"
    found = question({"x": f"ask: A, choice: values, is: B, answer: 2*a, unit: mm, marks: 1, {slips}"})
    givens = rows(a=[10, 10, 10, 10], b=[10, 10.3, 10.5, 4])
    assert apart_on_the_sheet(found, givens, 4).tolist() == [False, False, True, True]
    assert apart_on_the_sheet(question({"x": SUM}), givens, 4).tolist() == [True] * 4


def test_two_values_are_too_near_up_to_a_fiftieth_of_the_larger_one() -> None:
    larger, smaller = np.array([100.0, 100.0, 100.0, -100.0, 0.0]), np.array([98.01, 98.0, 97.99, -98.01, 0.0])
    wanted = [True, True, False, True, True]
    assert near_on_the_sheet(larger, smaller).tolist() == near_on_the_sheet(smaller, larger).tolist() == wanted
    assert near_on_the_sheet(larger[:1], -smaller[:1]).tolist() == [False]


# What is plain by accident.


def test_a_result_that_one_figure_says_is_uneven_in_the_unit_that_is_asked() -> None:
    found = question({"x": SUM})
    assert uneven_numbers(found, rows(a=[10, 11, 200, 0.2, 9.9], b=[20, 20, 200, 0.1, 0.11]), 5).tolist() == [
        True, False, True, True, False,
    ]  # fmt: skip


def test_an_angle_is_uneven_by_its_degrees_and_a_temperature_by_those_of_its_scale() -> None:
    given = {
        "v": "is: angle, unit: degree, from: 1, to: 90, step: 1",
        "T": "is: heat, unit: degC, from: 1, to: 90, step: 1",
    }
    angle = question({"x": "ask: A, is: angle, unit: degree, answer: 2*v, marks: 1"}, given=given)
    assert uneven_numbers(angle, {"v": np.radians([15.0, 16.0])}, 2).tolist() == [True, False]
    heat = question({"x": "ask: A, is: heat, unit: degC, answer: T, marks: 1"}, given=given)
    assert uneven_numbers(heat, {"T": np.array([293.15, 294.15, 300.0])}, 3).tolist() == [True, False, False]


def test_a_count_is_even_however_plain_and_so_is_a_part_that_a_row_does_not_tell() -> None:
    counted = question(BOARDS | {"y": "ask: A, is: B, unit: mm, answer: 2*a, marks: 1"})
    assert uneven_numbers(counted, rows(a=[21, 25], b=[10, 10]), 2).tolist() == [False, True]
    assert uneven_numbers(question({"x": SUM, "y": "ask: A, is: B, unit: mm, answer: 2*a, marks: 1"}),
                          rows(a=[21, 25]), 2).tolist() == [False, True]  # fmt: skip


@pytest.mark.parametrize("first", ["30", "31"])
def test_one_plain_result_of_several_is_enough(first: str) -> None:
    parts = {"x": f"ask: A, is: B, unit: mm, answer: {first}*a, marks: 1", "y": SUM}
    assert uneven_numbers(question(parts), rows(a=[1, 1], b=[1, 30]), 2).tolist() == [True, first == "30"]
